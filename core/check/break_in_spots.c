#include "check/break_in_spots.h"

#include "check/break_in_layer.h"
#include "plan/house_walls.h"

#include <string.h>

enum { CORNERS = SITE_CORNER_COUNT - 1 };

_Static_assert(SITE_CORNER_UNSAID == 0, "corners are counted from 1");

static outcome no_memory(struct problem *ret_problem) {
    FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory to find where a further detector hangs");
}

/* ---- a drawing with further detectors ---------------------------------------------------------------------------- */

/* With a place for each of the additions that is in a room. more: with their devices, which are its last. */
static outcome place_them(struct site *more, const struct addition *list, size_t count,
        struct arena *arena, struct problem *ret_problem) {
    struct site_building *building = &more->building;
    struct site_place *places =
            ARENA_ARRAY(arena, struct site_place, building->place_count + count);
    if (places == NULL) {
        return no_memory(ret_problem);
    }
    if (building->place_count > 0) {
        memcpy(places, building->places, building->place_count * sizeof places[0]);
    }
    building->places = places;
    for (size_t i = 0; i < count; i++) {
        if (!list[i].opening) {
            places[building->place_count++] =
                    (struct site_place){.device = (int)(more->device_count - count + i),
                            .keypad = SITE_NONE,
                            .room = (int)list[i].index,
                            .corner = list[i].corner};
        }
    }
    return outcome_good();
}

/* What the drawing says of break-ins, and the detectors on openings, which it cannot know of. */
static outcome redraw(const struct site *more, const struct addition *list, size_t count,
        struct arena *arena, struct site *ret_drawn, struct problem *ret_problem) {
    struct site placed = *more;
    struct house house;
    struct portals portals;
    TRY(place_them(&placed, list, count, arena, ret_problem));
    TRY(house_make(&placed, arena, &house, ret_problem));
    TRY(break_ins_draw(&house, arena, ret_drawn, &portals, ret_problem));
    struct site_break_ins *said = &ret_drawn->break_ins;
    struct site_break_in_notice *notices =
            ARENA_ARRAY(arena, struct site_break_in_notice, said->notice_count + count);
    if (notices == NULL) {
        return no_memory(ret_problem);
    }
    if (said->notice_count > 0) {
        memcpy(notices, said->notices, said->notice_count * sizeof notices[0]);
    }
    said->notices = notices;
    for (size_t i = 0; i < count; i++) {
        if (list[i].opening) {
            notices[said->notice_count++] =
                    (struct site_break_in_notice){.zone = (int)(more->zone_count - count + i),
                            .room = SITE_NONE,
                            .opening = (int)list[i].index};
        }
    }
    return outcome_good();
}

/* ---- the spots --------------------------------------------------------------------------------------------------- */

/* A house with a usual motion detector in each corner of each of its rooms; they are the last of its places. */
static outcome hang_everywhere(const struct site *site, struct arena *arena, struct site *more,
        struct house *ret_house, struct problem *ret_problem) {
    const size_t rooms = site->building.room_count;
    const struct addition usual = {.index = 0};
    struct addition *list = ARENA_ARRAY(arena, struct addition, rooms * CORNERS);
    if (list == NULL) {
        return no_memory(ret_problem);
    }
    for (size_t i = 0; i < rooms * CORNERS; i++) {
        list[i] = (struct addition){
                .index = i / CORNERS, .corner = (enum site_corner)(1 + i % CORNERS)};
    }
    TRY(additions_apply(site, &usual, 1, arena, more, ret_problem));
    const size_t first = more->building.place_count;
    TRY(place_them(more, list, rooms * CORNERS, arena, ret_problem));
    for (size_t i = first; i < more->building.place_count; i++) {
        more->building.places[i].device = (int)more->device_count - 1;
    }
    return house_make(more, arena, ret_house, ret_problem);
}

/* The walls of each storey, for eyes. */
struct walls {
    const struct segment **lines;
    size_t *counts;
};

static outcome list_walls(const struct house *house, struct arena *arena, struct walls *ret_walls,
        struct problem *ret_problem) {
    const size_t storeys = house->site->building.storey_count;
    const struct house_walls_wish tall = house_walls_for_eyes(COVERAGE_TALL_MM);
    struct walls walls = {.lines = ARENA_ARRAY(arena, const struct segment *, storeys),
            .counts = ARENA_ARRAY(arena, size_t, storeys)};
    if (walls.lines == NULL || walls.counts == NULL) {
        return no_memory(ret_problem);
    }
    for (size_t i = 0; i < storeys; i++) {
        TRY(house_walls(
                house, (int)i, &tall, arena, &walls.lines[i], &walls.counts[i], ret_problem));
    }
    *ret_walls = walls;
    return outcome_good();
}

outcome break_in_spots(const struct site *site, struct arena *arena,
        struct additions_drawing *ret_drawing, struct problem *ret_problem) {
    const size_t count = site->building.room_count * CORNERS;
    struct additions_spot *spots = ARENA_ARRAY(arena, struct additions_spot, count);
    struct site drawn;
    struct site more;
    struct house bare;
    struct house house;
    struct portals portals;
    struct walls walls = {.lines = NULL};
    size_t kept = 0;
    if (spots == NULL) {
        return no_memory(ret_problem);
    }
    TRY(hang_everywhere(site, arena, &more, &house, ret_problem));
    TRY(house_make(site, arena, &bare, ret_problem));
    TRY(break_ins_draw(&bare, arena, &drawn, &portals, ret_problem));
    TRY(list_walls(&house, arena, &walls, ret_problem));
    for (size_t i = 0; i < count; i++) {
        const size_t place = house.site->building.place_count - count + i;
        const int storey = house.rooms[i / CORNERS].storey;
        struct coverage_view view;
        struct portals_seen seen;
        if (!house.rooms[i / CORNERS].inside || !house.places[place].good) {
            continue;
        }
        TRY(coverage_look(&house, place, walls.lines[storey], walls.counts[storey], arena, &view,
                ret_problem));
        TRY(portals_see(&house, &portals, &view.view, storey, arena, &seen, ret_problem));
        spots[kept++] = (struct additions_spot){.room = i / CORNERS,
                .corner = house.site->building.places[place].corner,
                .moves = seen.moves,
                .openings = seen.openings,
                .rooms = seen.rooms};
    }
    *ret_drawing = (struct additions_drawing){.spots = spots, .spot_count = kept, .redraw = redraw};
    return outcome_good();
}
