/* What cannot be so in the drawing, and what is not in it. */
#include "rules/parts.h"

#include "plan/house.h"

#include <string.h>

static void look_faults(struct rules_finder *finder, const struct rules_check *check);

static struct text room_text(const struct rules_finder *finder, int room) {
    return room == HOUSE_OUTSIDE ? text_of("the outside")
                                 : rules_named(finder, finder->site->building.rooms[room].name);
}

/* The room in which a fault shows, and the name of what it is about. */
static int room_of(const struct site_building *building, const struct house_fault *fault) {
    switch (fault->kind) {
    case HOUSE_CROSSING:
    case HOUSE_UNITS:
    case HOUSE_OVERLAP:
    case HOUSE_UNREACHED:
    case HOUSE_APART:
        return (int)fault->index;
    case HOUSE_NO_WALL:
    case HOUSE_TOO_WIDE:
    case HOUSE_TOO_HIGH:
    case HOUSE_INTO_ROOM:
    case HOUSE_OPENINGS_MEET:
    case HOUSE_DOOR_OUTSIDE:
    case HOUSE_DOOR_TWICE:
        return building->openings[fault->index].room;
    case HOUSE_STAIRS_OUT:
        return building->stairs[fault->index].room;
    case HOUSE_STAIRS_NOWHERE:
        return building->stairs[fault->index].to;
    case HOUSE_BLOCK_OUT:
        return building->furniture[fault->index].room;
    case HOUSE_PLACE_OUT:
    case HOUSE_FAULT_KIND_COUNT:
        return building->places[fault->index].room;
    }
    return 0;
}

static struct text place_name(const struct rules_finder *finder, const struct site_place *place) {
    const struct site *site = finder->site;
    return place->device >= 0            ? site->devices[place->device].name
            : place->keypad >= 0         ? site->keypads[place->keypad].name
            : place->protects.length > 0 ? place->protects
                                         : text_of(site_fixture_name(place->fixture));
}

static struct text name_of(const struct rules_finder *finder, const struct house_fault *fault) {
    const struct site_building *building = &finder->site->building;
    const char *list = house_fault_list(fault->kind);
    const size_t index = fault->index;
    /* The lists differ in their first letters. */
    return list[0] == 'r'    ? building->rooms[index].name
            : list[0] == 'o' ? building->openings[index].name
            : list[0] == 's' ? building->stairs[index].name
            : list[0] == 'f' ? building->furniture[index].name
                             : place_name(finder, &building->places[index]);
}

static struct text other_of(const struct rules_finder *finder, const struct house_fault *fault) {
    const bool opening = fault->kind == HOUSE_OPENINGS_MEET || fault->kind == HOUSE_DOOR_TWICE;
    return opening ? rules_named(finder, finder->site->building.openings[fault->other].name)
                   : room_text(finder, fault->other);
}

/* ---- rooms that are cut off */

/* "; cut off with it: the bedroom, the bathroom", or nothing. */
static struct text others_of_part(const struct rules_finder *finder, int room) {
    const struct site_building *building = &finder->site->building;
    const struct house_room *rooms = finder->house->rooms;
    struct text_builder out;
    text_builder_init(&out, finder->arena);
    for (int i = 0; i < (int)building->room_count; i++) {
        if (i != room && rooms[i].inside && rooms[i].good && rooms[i].part == rooms[room].part) {
            text_add_string(&out, out.length == 0 ? "; cut off with it: " : ", ");
            text_add(&out, rules_named(finder, building->rooms[i].name));
        }
    }
    return text_built(&out);
}

/* Whether a name needs no quotes between braces. */
static bool is_plain(struct text name) {
    static const char marks[] = ",:{}[]#\"'";
    bool plain = true;
    for (size_t i = 0; i < name.length; i++) {
        plain = plain && strchr(marks, name.start[i]) == NULL;
    }
    return plain;
}

/* What to write for the door or the stairs that may be missing. */
static struct text missing_way(const struct rules_finder *finder, const struct house_fault *fault) {
    const struct site_building *building = &finder->site->building;
    const struct house_room *rooms = finder->house->rooms;
    const int room = (int)fault->index;
    if (fault->other == HOUSE_OUTSIDE) {
        return text_of("a door to the outside or to another room, or the stairs to it");
    }
    const bool beside = rooms[room].storey == rooms[fault->other].storey;
    const bool climbs = rooms[room].storey < rooms[fault->other].storey;
    const struct text from = building->rooms[beside || climbs ? room : fault->other].name;
    const struct text to = building->rooms[beside || climbs ? fault->other : room].name;
    const char *mark = is_plain(from) && is_plain(to) ? "" : "\"";
    return text_print(finder->arena, "under %s: {room: %s%.*s%s, to: %s%.*s%s}%s",
            beside ? "openings" : "stairs", mark, TEXT_ARGS(from), mark, mark, TEXT_ARGS(to), mark,
            beside ? "" : ", and their at, size and up");
}

/* ---- what is not in it */

static bool door_is_drawn(const struct site_building *building, int door) {
    for (size_t i = 0; i < building->opening_count; i++) {
        if (building->openings[i].door == door) {
            return true;
        }
    }
    return false;
}

static bool device_is_placed(const struct site *site, int device) {
    const struct site_building *building = &site->building;
    const enum site_kind kind = site->device_profiles[site->devices[device].profile].kind;
    if (site->devices[device].door >= 0 || kind == SITE_FOB || kind == SITE_KEYPAD_DEVICE) {
        return true; /* where its door or keypad is, or in a pocket */
    }
    for (size_t i = 0; i < building->place_count; i++) {
        if (building->places[i].device == device) {
            return true;
        }
    }
    return false;
}

static bool keypad_is_placed(const struct site_building *building, int keypad) {
    for (size_t i = 0; i < building->place_count; i++) {
        if (building->places[i].keypad == keypad) {
            return true;
        }
    }
    return false;
}

static void add_missing(struct text_builder *out, struct text name) {
    text_add_string(out, out->length == 0 ? "" : ", ");
    text_add(out, name);
}

static void look_missing(struct rules_finder *finder, const struct rules_check *check) {
    const struct site *site = finder->site;
    struct text_builder out;
    struct words_about about = words_about_nothing();
    text_builder_init(&out, finder->arena);
    for (size_t i = 0; site->building.said && i < site->door_count; i++) {
        if (!door_is_drawn(&site->building, (int)i)) {
            add_missing(&out, site->doors[i].name);
        }
    }
    for (size_t i = 0; site->building.said && i < site->keypad_count; i++) {
        if (!keypad_is_placed(&site->building, (int)i)) {
            add_missing(&out, site->keypads[i].name);
        }
    }
    for (size_t i = 0; site->building.said && i < site->device_count; i++) {
        if (!device_is_placed(site, (int)i)) {
            add_missing(&out, site->devices[i].name);
        }
    }
    if (out.length > 0) {
        about.named = text_built(&out);
        rules_add(finder, check, &about, "building");
    }
}

#define AS_FAR_AS_DRAWN "until then break-ins count only as far as the drawing goes"

#define DRAWING(tag, heavy, says, because, mend)                                                   \
    {                                                                                              \
        .id = "drawing." tag, .weight = (heavy), .headline = (says), .why = (because),             \
        .remedy = (mend), .source = "geometry", .look = look_faults                                \
    }

static const struct rules_check rows[] = {
        [HOUSE_CROSSING] = DRAWING("crossing", FINDING_FAULT,
                "the outline of {named} crosses itself {detail}", "its walls are no room",
                "the corners one after the other, as one walks along the walls"),
        [HOUSE_UNITS] = DRAWING("units", FINDING_FAULT,
                "{named} has a side of {other} {detail}: are the units mixed up?",
                "a room is 0.4 to 150 m wide and lies within 262 m of the drawing's origin",
                "m for metres, mm for millimetres"),
        [HOUSE_OVERLAP] = DRAWING("overlap", FINDING_FAULT,
                "{named} and {other} share floor {detail}", "nobody stands in two rooms at once",
                "their sizes, or where they stand: rooms are measured clear inside, with a wall "
                "between"),
        [HOUSE_UNREACHED] =
                DRAWING("unreached", FINDING_FAULT, "no way leads into {named} {detail}",
                        "no door, gap or stairs joins it to the outside{other}; " AS_FAR_AS_DRAWN,
                        "{advice}"),
        [HOUSE_APART] = DRAWING("apart", FINDING_NOTE,
                "indoors no way leads from {named} to the rest of the house: is a door missing "
                "{detail}?",
                "one goes in from outside alone{other}; " AS_FAR_AS_DRAWN,
                "{advice}; or write apart: yes for {named}, if none is missing"),
        [HOUSE_NO_WALL] = DRAWING("no-wall", FINDING_FAULT, "{named} is in no wall {detail}",
                "there is no such wall, or its rooms have none in common (1 m thick at most)",
                "wall: and to: as the rooms stand"),
        [HOUSE_TOO_WIDE] = DRAWING("too-wide", FINDING_FAULT,
                "{named} does not fit its wall {detail}", "there are {other} of wall",
                "its width, or from-left: from the left corner, seen from within the room"),
        [HOUSE_TOO_HIGH] = DRAWING("too-high", FINDING_FAULT,
                "{named} ends {other} above the ceiling {detail}",
                "it would reach into the floor above",
                "its height or sill, or the storey's ceiling"),
        [HOUSE_INTO_ROOM] = DRAWING("into-room", FINDING_FAULT,
                "{named} is to lead outside, and leads into {other} {detail}",
                "that room stands behind the wall", "to: the room on its other side"),
        [HOUSE_OPENINGS_MEET] = DRAWING("openings-meet", FINDING_FAULT,
                "{named} and {other} are in one place {detail}",
                "a wall has one opening at one place", "from-left: of one of them"),
        [HOUSE_STAIRS_OUT] = DRAWING("stairs-out", FINDING_FAULT,
                "{named} reach out of the room where they begin {detail}",
                "a part of them would stand in a wall", "at: and size: of the stairs"),
        [HOUSE_STAIRS_NOWHERE] = DRAWING("stairs-nowhere", FINDING_FAULT,
                "{named} end nowhere {detail}", "there is no {other} one storey up at that point",
                "up: towards the other side, or where the room above stands"),
        [HOUSE_BLOCK_OUT] = DRAWING("furniture-out", FINDING_RISK,
                "{named} stands outside its room {detail}", "it would stand in a wall",
                "at: is its front left corner, counted from the room's"),
        [HOUSE_PLACE_OUT] = DRAWING("place-out", FINDING_FAULT,
                "{named} is outside its room {detail}", "nothing hangs where no room is",
                "at: from the room's front left corner, or a corner or wall of it"),
        [HOUSE_DOOR_OUTSIDE] = DRAWING("door-outside", FINDING_FAULT,
                "{named} leads outside by the drawing or by doors, not by both {detail}",
                "one of the two is wrong, and what is proven of that door with it",
                "outside: of the door, or to: of the opening"),
        [HOUSE_DOOR_TWICE] =
                DRAWING("door-twice", FINDING_FAULT, "{named} and {other} are one door {detail}",
                        "a door is in one place", "door: in the one that it is"),
        {
                .id = "drawing.missing",
                .weight = FINDING_NOTE,
                .headline = "not in the drawing: {named}",
                .why = "what needs their place is not computed",
                .remedy = "an opening with door:, a line in places:",
                .source = "common practice",
                .look = look_missing,
        },
};

/* The rows stand in the order of the kinds of faults. */
static void look_faults(struct rules_finder *finder, const struct rules_check *check) {
    const struct house *house = finder->house;
    for (size_t i = 0; house != NULL && i < house->fault_count; i++) {
        const struct house_fault *fault = &house->faults[i];
        if (&rows[fault->kind] != check) {
            continue;
        }
        struct words_about about = words_about_nothing();
        about.named = rules_named(finder, name_of(finder, fault));
        about.other = fault->kind == HOUSE_UNITS || fault->kind == HOUSE_TOO_WIDE ||
                        fault->kind == HOUSE_TOO_HIGH
                ? rules_length(finder, fault->amount_mm)
                : other_of(finder, fault);
        about.detail = rules_where(finder, room_of(&finder->site->building, fault), fault->at);
        if (fault->kind == HOUSE_UNREACHED || fault->kind == HOUSE_APART) {
            about.other = others_of_part(finder, (int)fault->index);
            about.advice = missing_way(finder, fault);
        }
        rules_add(finder, check, &about, "building.%s[%zu]", house_fault_list(fault->kind),
                fault->index);
    }
}

const struct rules_checks rules_drawing = RULES_ROWS(rows);
