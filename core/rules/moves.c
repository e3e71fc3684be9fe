/* What could be done about a radio link by a change of the file: the device or the panel out of what surrounds it, the
 * panel to the best place of the drawing (radio/best.h), or both. Each is worked out for every link of the site before
 * it is told: the link has what is wanted, and none that had it loses it. Of radio alone; what else changes, the next
 * check says. */
#include "base/yaml_name.h"
#include "radio/best.h"
#include "rules/parts.h"

#include <math.h>
#include <string.h>

enum move { MOVE_FREE, MOVE_PLACE, MOVE_BOTH, MOVE_COUNT };

/** Each move that is possible, with every link of the finder as it would be. place: of the building, the panel's. */
struct rules_moves {
    struct radio_site_link *links[MOVE_COUNT]; /* NULL: not possible */
    struct radio_spot spot;
    size_t place;
};

static struct radio_world world_of(const struct rules_finder *finder) {
    struct radio_world world = radio_world_usual();
    world.shift_db = finder->shift_db;
    return world;
}

/* As computed, less what is missing of it now where that was measured: whatever is in the way may stay there. False: it
 * cannot be worked out. */
static bool work_out(const struct rules_finder *finder, const struct site *site,
        const struct radio_spot *panel, const struct radio_site_link *now,
        struct radio_site_link *ret_link) {
    const struct radio_world world = world_of(finder);
    struct radio_stretched stretched = {.count = 0};
    enum radio_lack lack = RADIO_LACKS_NOTHING;
    if (!radio_site_link(site, finder->house, panel, now->device, &world, finder->arena, &stretched,
                ret_link, &lack, NULL)
                    .good ||
            lack != RADIO_LACKS_NOTHING) {
        return false;
    }
    ret_link->low_db = ret_link->computed_low_dbm - ret_link->sensitivity_dbm -
            (now->measured ? fmax(0, now->computed_low_dbm - now->low_dbm) : 0);
    return true;
}

/* Every link of the finder with another site or another place of the panel; NULL: not all can be worked out. */
static struct radio_site_link *work_out_all(const struct rules_finder *finder,
        const struct site *site, const struct radio_spot *panel) {
    struct radio_site_link *links =
            ARENA_ARRAY(finder->arena, struct radio_site_link, finder->link_count + 1);
    for (size_t i = 0; i < finder->link_count && links != NULL; i++) {
        if (finder->links[i].refused.length == 0 &&
                !work_out(finder, site, panel, &finder->links[i].it, &links[i])) {
            return NULL;
        }
    }
    return links;
}

static bool find_place(const struct site_building *building, size_t *ret_place) {
    for (size_t i = 0; i < building->place_count; i++) {
        if (building->places[i].fixture == SITE_FIXTURE_PANEL) {
            *ret_place = i;
            return true;
        }
    }
    return false;
}

/* To the centimetre, as it is going to be written. */
static struct radio_spot written_spot(const struct house *house, const struct radio_spot *spot) {
    static const double GRAIN_MM = 10;
    const struct point corner = house->rooms[spot->room].low;
    struct radio_spot written = *spot;
    written.x_mm = corner.x_mm + round((spot->x_mm - corner.x_mm) / GRAIN_MM) * GRAIN_MM;
    written.y_mm = corner.y_mm + round((spot->y_mm - corner.y_mm) / GRAIN_MM) * GRAIN_MM;
    return written;
}

static struct rules_moves *make_moves(struct rules_finder *finder) {
    const struct site *site = finder->site;
    struct rules_moves *moves = ARENA_NEW(finder->arena, struct rules_moves);
    const struct radio_world world = world_of(finder);
    struct radio_spot panel;
    struct radio_best best = {.found = false};
    struct site free = *site;
    if (moves == NULL) {
        return NULL;
    }
    *moves = (struct rules_moves){.place = 0};
    const bool placed = radio_panel_spot(finder->house, &panel);
    free.supply.behind = SITE_BEHIND_NOTHING;
    if (site->supply.behind != SITE_BEHIND_NOTHING) {
        moves->links[MOVE_FREE] = work_out_all(finder, &free, placed ? &panel : NULL);
    }
    if (placed && find_place(&site->building, &moves->place) &&
            radio_best_place(
                    site, finder->house, &world, RADIO_SEEK_PANEL, finder->arena, &best, NULL)
                    .good &&
            best.found) {
        moves->spot = written_spot(finder->house, &best.spot);
        moves->links[MOVE_PLACE] = work_out_all(finder, site, &moves->spot);
        moves->links[MOVE_BOTH] =
                moves->links[MOVE_FREE] == NULL ? NULL : work_out_all(finder, &free, &moves->spot);
    }
    return moves;
}

static bool is_enough(const struct radio_site_link *link, double wanted_db) {
    return link->low_db >= wanted_db && (!link->back || link->back_low_db >= 0);
}

/* The link has what is wanted, and none that has it now is without it then. */
static bool helps(const struct rules_finder *finder, const struct radio_site_link *links,
        size_t which, double wanted_db) {
    bool good = links != NULL && is_enough(&links[which], wanted_db);
    for (size_t i = 0; i < finder->link_count && good; i++) {
        good = finder->links[i].refused.length > 0 || is_enough(&links[i], wanted_db) ||
                !is_enough(&finder->links[i].it, wanted_db);
    }
    return good;
}

static size_t weakest_of(const struct rules_finder *finder, const struct radio_site_link *links) {
    size_t weakest = 0;
    for (size_t i = 0; i < finder->link_count; i++) {
        if (finder->links[i].refused.length == 0 &&
                (finder->links[weakest].refused.length > 0 ||
                        links[i].low_db < links[weakest].low_db)) {
            weakest = i;
        }
    }
    return weakest;
}

/* "then 21.2 dB are left over at the careful end, and 18.9 dB at the weakest, "stair contact"". */
static struct text outcome_text(
        const struct rules_finder *finder, const struct radio_site_link *links, size_t which) {
    const size_t weakest = weakest_of(finder, links);
    const struct text name = finder->site->devices[finder->links[weakest].it.device].name;
    return weakest == which
            ? text_print(finder->arena, "then %.1f dB are left over at the careful end",
                      links[which].low_db)
            : text_print(finder->arena,
                      "then %.1f dB are left over at the careful end, and %.1f dB at the weakest, "
                      "\"%.*s\"",
                      links[which].low_db, links[weakest].low_db, TEXT_ARGS(name));
}

struct written {
    struct finding_edit edits[8];
    size_t count;
};

static void write(struct written *written, struct text path, struct text value) {
    written->edits[written->count++] = (struct finding_edit){path, value};
}

static struct text room_value(const struct rules_finder *finder, struct text name) {
    struct text_builder out;
    text_builder_init(&out, finder->arena);
    yaml_name_add(&out, name);
    return text_built(&out);
}

/* The panel's place as one would write it: the room, and the point from its front left corner. */
static void write_place(
        const struct rules_finder *finder, const struct rules_moves *moves, struct written *out) {
    const struct site_building *building = &finder->site->building;
    const struct site_place *place = &building->places[moves->place];
    const struct point corner = finder->house->rooms[moves->spot.room].low;
    struct arena *arena = finder->arena;
    const size_t index = moves->place;
    write(out, text_print(arena, "building.places[%zu].room", index),
            room_value(finder, building->rooms[moves->spot.room].name));
    write(out, text_print(arena, "building.places[%zu].at", index),
            text_print(arena, "%.2f x %.2f m", (moves->spot.x_mm - corner.x_mm) / 1000,
                    (moves->spot.y_mm - corner.y_mm) / 1000));
    write(out, text_print(arena, "building.places[%zu].height", index),
            text_print(arena, "%.1f m", RADIO_BEST_HEIGHT_MM / 1000));
    if (place->corner != SITE_CORNER_UNSAID) {
        write(out, text_print(arena, "building.places[%zu].corner", index), text_of(""));
    }
    if (place->wall != SITE_SIDE_UNSAID) {
        write(out, text_print(arena, "building.places[%zu].wall", index), text_of(""));
    }
    if (place->from_left_said) {
        write(out, text_print(arena, "building.places[%zu].from-left", index), text_of(""));
    }
}

static struct text place_text(const struct rules_finder *finder, const struct rules_moves *moves) {
    const struct point at = {(int32_t)round(moves->spot.x_mm), (int32_t)round(moves->spot.y_mm)};
    return text_print(finder->arena, "the panel to the %.*s, %.*s, %.1f m high",
            TEXT_ARGS(finder->site->building.rooms[moves->spot.room].name),
            TEXT_ARGS(rules_where(finder, moves->spot.room, at)), RADIO_BEST_HEIGHT_MM / 1000);
}

static const char AWAY[] = "out of what surrounds it";
static const char OF_RADIO_ALONE[] = "worked out for radio alone; measure";

/* The device out of what it is behind, where that is its own. */
static bool mend_device(struct rules_finder *finder, size_t which, double wanted_db) {
    const struct site *site = finder->site;
    const size_t device = finder->links[which].it.device;
    struct site free = *site;
    struct radio_spot panel;
    struct radio_site_link link;
    const bool placed = radio_panel_spot(finder->house, &panel);
    if (site->devices[device].behind == SITE_BEHIND_NOTHING) {
        return false;
    }
    free.devices = ARENA_ARRAY(finder->arena, struct site_device, site->device_count);
    if (free.devices == NULL) {
        return false;
    }
    memcpy(free.devices, site->devices, site->device_count * sizeof *free.devices);
    free.devices[device].behind = SITE_BEHIND_NOTHING;
    if (!work_out(finder, &free, placed ? &panel : NULL, &finder->links[which].it, &link) ||
            !is_enough(&link, wanted_db)) {
        return false;
    }
    const struct finding_edit edit = {
            text_print(finder->arena, "devices[%zu].behind", device), text_of("nothing")};
    rules_mend(finder,
            text_print(finder->arena,
                    "the device %s; then %.1f dB are left over at the careful end (%s)", AWAY,
                    link.low_db, OF_RADIO_ALONE),
            text_of(""), &edit, 1);
    return true;
}

void rules_mend_link(struct rules_finder *finder, const struct rules_link *link, double wanted_db) {
    static const char FOUND[] = "a panel that hangs free is found sooner by whoever breaks in";
    const size_t which = (size_t)(link - finder->links);
    finder->moves = finder->moves == NULL ? make_moves(finder) : finder->moves;
    const struct rules_moves *moves = finder->moves;
    if (moves == NULL || mend_device(finder, which, wanted_db)) {
        return;
    }
    for (enum move move = 0; move < MOVE_COUNT; move++) {
        struct written written = {.count = 0};
        if (!helps(finder, moves->links[move], which, wanted_db)) {
            continue;
        }
        if (move != MOVE_PLACE) {
            write(&written, text_of("panel.behind"), text_of("nothing"));
        }
        if (move != MOVE_FREE) {
            write_place(finder, moves, &written);
        }
        const struct text how = move == MOVE_FREE
                ? text_print(finder->arena, "the panel %s", AWAY)
                : text_print(finder->arena, "%.*s%s%s", TEXT_ARGS(place_text(finder, moves)),
                          move == MOVE_BOTH ? ", " : "", move == MOVE_BOTH ? AWAY : "");
        const struct text then = outcome_text(finder, moves->links[move], which);
        rules_mend(finder,
                text_print(finder->arena, "%.*s; %.*s (%s)", TEXT_ARGS(how), TEXT_ARGS(then),
                        OF_RADIO_ALONE),
                text_of(move == MOVE_PLACE ? "a cable to the new place" : FOUND), written.edits,
                written.count);
        return;
    }
}
