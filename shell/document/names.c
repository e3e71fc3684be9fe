/* Names and what they refer to. */
#include "document/reader.h"

#include <stdio.h>
#include <string.h>

/* How one finds things of a kind. at: offset of the array, or of the pointer to it, in struct site. */
struct thing_row {
    const char *noun;
    const char *path; /* of the list in the site file */
    bool is_inline;
    size_t at;
    size_t count_at;
    size_t size;
    size_t name_at;
};

/* clang-format off */
#define ROW(noun, path, field, counter, type) \
    {noun, path, false, offsetof(struct site, field), offsetof(struct site, counter), sizeof(struct type), offsetof(struct type, name)}
static const struct thing_row rows[THING_COUNT] = {
    [THING_AREA]    = ROW("area", "areas", areas, area_count, site_area),
    [THING_DOOR]    = ROW("door", "doors", doors, door_count, site_door),
    [THING_KEYPAD]  = ROW("keypad", "keypads", keypads, keypad_count, site_keypad),
    [THING_DEVICE]  = ROW("device", "devices", devices, device_count, site_device),
    [THING_ZONE]    = ROW("zone", "zones", zones, zone_count, site_zone),
    [THING_PERSON]  = ROW("person", "people", people, person_count, site_person),
    [THING_WAY]     = ROW("way", "ways", ways, way_count, site_way),
    [THING_ROUTINE] = ROW("routine", "routines", routines, routine_count, site_routine),
    [THING_STOREY]  = ROW("storey", "building.storeys", building.storeys, building.storey_count, site_storey),
    [THING_ROOM]    = ROW("room", "building.rooms", building.rooms, building.room_count, site_room),
    [THING_MATERIAL] = ROW("material", "building.materials", building.materials.rows, building.materials.row_count, site_material),
    [THING_BREAK_IN_MATERIAL] = ROW("material", "break-ins.materials", break_ins.materials.rows, break_ins.materials.row_count, site_material),
    [THING_BREAK_IN_ROOM]    = ROW("room", "break-ins.rooms", break_ins.rooms, break_ins.room_count, site_break_in_room),
    [THING_BREAK_IN_OPENING] = ROW("opening", "break-ins.openings", break_ins.openings, break_ins.opening_count, site_break_in_opening),
    [THING_BREAK_IN_GOAL]    = ROW("protected thing", "break-ins.protect", break_ins.goals, break_ins.goal_count, site_break_in_goal),
    [THING_MODE]    = {"mode", "panel.modes", true, offsetof(struct site, settings.modes), offsetof(struct site, settings.mode_count),
                       sizeof(struct site_mode), offsetof(struct site_mode, name)},
    [THING_DELAY]   = {"entry delay", "panel.entry-delays", true, offsetof(struct site, settings.delays), offsetof(struct site, settings.delay_count),
                       sizeof(struct site_delay), offsetof(struct site_delay, name)},
    [THING_STEP]    = {"step", NULL, false, 0, 0, 0, 0},
};
#undef ROW
/* clang-format on */

const char *thing_noun(enum thing thing) {
    return rows[thing].noun;
}

const char *thing_path(enum thing thing) {
    return rows[thing].path;
}

size_t thing_count(const struct reader *reader, enum thing thing) {
    size_t count;
    if (thing == THING_STEP) {
        return reader->routine == NULL ? 0 : reader->routine->step_count;
    }
    memcpy(&count, (const char *)&reader->document->site + rows[thing].count_at, sizeof count);
    return count;
}

struct text thing_name(const struct reader *reader, enum thing thing, size_t index) {
    const struct thing_row *row = &rows[thing];
    const char *array = (const char *)&reader->document->site + row->at;
    struct text name;
    if (thing == THING_STEP) {
        return reader->routine->steps[index].name;
    }
    if (!row->is_inline) {
        void *pointer;
        memcpy(&pointer, array, sizeof pointer);
        array = pointer;
    }
    memcpy(&name, array + index * row->size + row->name_at, sizeof name);
    if (thing == THING_BREAK_IN_OPENING && name.length == 0) {
        const struct site *site = &reader->document->site; /* called as its door */
        const int door = site->break_ins.openings[index].door;
        return door == SITE_NONE ? name : site->doors[door].name;
    }
    return name;
}

/* A zone may also be meant by its number or by its device. */
static bool is_called(
        const struct reader *reader, enum thing thing, size_t index, struct text wanted) {
    const struct text name = thing_name(reader, thing, index);
    if (name.length > 0 && text_equal(name, wanted)) {
        return true;
    }
    if (thing != THING_ZONE) {
        return false;
    }
    char number[16];
    const struct site_zone *zone = &reader->document->site.zones[index];
    (void)snprintf(number, sizeof number, "%d", zone->number);
    if (text_is(wanted, number)) {
        return true;
    }
    return zone->device >= 0 &&
            text_equal(reader->document->site.devices[zone->device].name, wanted);
}

/* "zone 3", "Z3", "#3": the number that is meant. */
static struct text number_at_end(struct text wanted) {
    size_t digits = 0;
    while (digits < wanted.length && wanted.start[wanted.length - digits - 1] >= '0' &&
            wanted.start[wanted.length - digits - 1] <= '9') {
        digits++;
    }
    return (struct text){.start = wanted.start + wanted.length - digits, .length = digits};
}

static struct text number_of(struct reader *reader, size_t zone) {
    return text_print(&reader->document->arena, "%d", reader->document->site.zones[zone].number);
}

/* A zone is also meant by its device or its number. */
static void offer_zone(struct reader *reader, size_t index, struct gather_nearest *nearest) {
    const struct site *site = &reader->document->site;
    const int device = site->zones[index].device;
    const struct text meant = number_at_end(nearest->wanted);
    const struct text number = number_of(reader, index);
    if (device >= 0) {
        gather_offer(nearest, site->devices[device].name);
    }
    if (meant.length > 0 && text_equal(meant, number)) {
        nearest->best = number;
        nearest->distance = 0;
    }
}

static struct gather_nearest nearest_thing(
        struct reader *reader, enum thing thing, struct text wanted) {
    struct gather_nearest nearest = {.wanted = wanted};
    const size_t count = thing_count(reader, thing);
    for (size_t i = 0; i < count; i++) {
        const struct text name = thing_name(reader, thing, i);
        if (name.length > 0) {
            gather_offer(&nearest, name);
        }
        if (thing == THING_ZONE) {
            offer_zone(reader, i, &nearest);
        }
    }
    return nearest;
}

/* "; known: ..." of the first few; of zones by number where a number is wanted. */
static struct text list_known(struct reader *reader, enum thing thing, bool by_number) {
    enum { TOLD = 8 };
    char quoted[GATHER_QUOTE_MAX * 4];
    struct text_builder builder;
    const size_t count = thing_count(reader, thing);
    size_t told = 0;
    text_builder_init(&builder, &reader->document->arena);
    for (size_t i = 0; i < count; i++) {
        const struct text name = by_number ? number_of(reader, i) : thing_name(reader, thing, i);
        if (name.length == 0) {
            continue;
        }
        if (told < TOLD) {
            text_add_string(&builder, told == 0 ? "; known: " : ", ");
            text_add_string(&builder, by_number ? name.start : gather_quote(name, quoted));
        }
        told++;
    }
    if (told > TOLD) {
        text_add_format(&builder, " and %zu more", told - TOLD);
    }
    return text_built(&builder);
}

/* How other panels call the modes that ours have from the start. Common practice. */
static const char *mode_called(struct text wanted) {
    static const struct {
        const char *said;
        const char *ours;
    } words[] = {
            {"away", "full"},
            {"armed", "full"},
            {"total", "full"},
            {"stay", "part"},
            {"home", "part"},
            {"partial", "part"},
            {"sleep", "night"},
    };
    for (size_t i = 0; i < sizeof words / sizeof words[0]; i++) {
        if (text_distance(wanted, text_of(words[i].said), 0) == 0) {
            return words[i].ours;
        }
    }
    return NULL;
}

static void tell_nobody(
        struct reader *reader, enum thing thing, struct text wanted, const struct node *at) {
    char quoted[GATHER_QUOTE_MAX * 4];
    char hint[GATHER_QUOTE_MAX * 4 + 32];
    if (reader->document->more_problems || reader_told_of_name(reader, thing, wanted)) {
        return;
    }
    const char *mode = thing == THING_MODE ? mode_called(wanted) : NULL;
    if (mode != NULL) {
        reader_tell(reader, PROBLEM_MISSING, at, "%s is called %s here",
                gather_quote(wanted, quoted), mode);
        return;
    }
    /* Of two numbers neither is nearer: 12 and 13 are other zones. */
    const bool by_number = thing == THING_ZONE && value_is_digits(wanted);
    const struct gather_nearest nearest =
            by_number ? (struct gather_nearest){0} : nearest_thing(reader, thing, wanted);
    const bool near = nearest.best.start != NULL;
    const struct text known =
            near ? text_of(gather_hint(&nearest, hint)) : list_known(reader, thing, by_number);
    reader_tell(reader, PROBLEM_MISSING, at, "there is no %s called %s%.*s", rows[thing].noun,
            gather_quote(wanted, quoted), TEXT_ARGS(known));
}

int thing_find_text(
        struct reader *reader, enum thing thing, struct text wanted, const struct node *at) {
    const size_t count = thing_count(reader, thing);
    char quoted[GATHER_QUOTE_MAX * 4];
    int found = SITE_NONE;
    for (size_t i = 0; i < count; i++) {
        if (!is_called(reader, thing, i, wanted)) {
            continue;
        }
        if (found == SITE_NONE) {
            found = (int)i;
        } else if (thing == THING_ZONE) {
            reader_tell(reader, PROBLEM_BAD_VALUE, at,
                    "zones %d and %d are both called %s; write the number",
                    reader->document->site.zones[found].number,
                    reader->document->site.zones[i].number, gather_quote(wanted, quoted));
            break;
        }
    }
    if (found == SITE_NONE) {
        tell_nobody(reader, thing, wanted, at);
    }
    return found;
}

int thing_find(struct reader *reader, enum thing thing, const struct node *node) {
    char expected[40];
    (void)snprintf(expected, sizeof expected, "the name of one %s", rows[thing].noun);
    if (!value_is_text(reader, node, expected)) {
        return SITE_NONE;
    }
    return thing_find_text(reader, thing, node->text, node);
}

int thing_index(const struct reader *reader, enum thing thing, struct text wanted) {
    const size_t count = thing_count(reader, thing);
    for (size_t i = 0; i < count; i++) {
        if (is_called(reader, thing, i, wanted)) {
            return (int)i;
        }
    }
    return SITE_NONE;
}
