#include "plan/room_moves.h"

#include "plan/area.h"
#include "plan/walk.h"

#include <math.h>
#include <string.h>

enum { CHORD_MOST_MM = 1500, SAGITTA_MOST_MM = 100 };

static outcome no_memory(struct problem *ret_problem) {
    FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory for the ways within a room");
}

/* ---- views ------------------------------------------------------------------------------------------------------- */

/* Whether the outline turns left at the corner between two others, so little that it can go without. */
static bool is_spare(struct point before, struct point at, struct point after) {
    const struct point chord = point_step(before, after);
    const double chord_mm = point_distance_mm(before, after);
    const int64_t twice_mm2 = point_cross(point_step(before, at), point_step(at, after));
    if (chord.x_mm == 0 && chord.y_mm == 0) {
        return true; /* a spike */
    }
    return twice_mm2 >= 0 && chord_mm <= CHORD_MOST_MM &&
            (double)twice_mm2 <= SAGITTA_MOST_MM * chord_mm;
}

outcome room_moves_sure_view(const struct sight_view *view, struct arena *arena,
        struct outline *ret_outline, struct problem *ret_problem) {
    struct point *corners = ARENA_ARRAY(arena, struct point, view->count);
    size_t count = 0;
    if (corners == NULL) {
        return no_memory(ret_problem);
    }
    for (size_t i = 0; i < view->count; i++) {
        const struct point at = {
                (int32_t)lround(view->corners[i].x_mm), (int32_t)lround(view->corners[i].y_mm)};
        while (count >= 2 && is_spare(corners[count - 2], corners[count - 1], at)) {
            count--;
        }
        if (count == 0 || !point_equal(corners[count - 1], at)) {
            corners[count++] = at;
        }
    }
    *ret_outline = (struct outline){corners, count < 3 ? 0 : count};
    return outcome_good();
}

/* ---- one choice of views to keep out of -------------------------------------------------------------------------- */

/* What finding shares. outlines: of the views. shortest, found: by pair of sides, for one choice. */
struct finder {
    const struct room_floor *floor;
    struct arena *arena;
    struct arena scratch; /* of one choice */
    struct outline outlines[ROOM_MOVES_VIEWS_MOST];
    struct segment *walls;
    size_t wall_count;
    size_t wall_room;
    bool blocks_pushed;
    struct way *shortest; /* by pair; count 0: none */
    struct room_moves moves;
    size_t move_room;
};

/* Views to keep out of; and of two partners, the floor that both see (0: none). */
struct choice {
    unsigned avoided;
    size_t one;
    size_t other;
    struct area both;
};

static bool is_within(struct outline outline, struct point at) {
    return outline.count > 0 && outline_place(outline, at) == PLACE_INSIDE;
}

/* Whether he cannot stand there. */
static bool is_seen(const struct finder *finder, const struct choice *choice, struct point at) {
    for (size_t i = 0; i < finder->floor->view_count; i++) {
        if ((choice->avoided >> i & 1U) != 0 && is_within(finder->outlines[i], at)) {
            return true;
        }
    }
    return choice->one != choice->other && is_within(finder->outlines[choice->one], at) &&
            is_within(finder->outlines[choice->other], at);
}

static void add_wall(struct finder *finder, struct point from, struct point to) {
    if (!point_equal(from, to) && finder->wall_count < finder->wall_room) {
        finder->walls[finder->wall_count++] = (struct segment){from, to};
    }
}

static void add_outline(struct finder *finder, struct outline outline) {
    for (size_t i = 0; i < outline.count; i++) {
        const struct segment edge = outline_edge(outline, i);
        add_wall(finder, edge.from, edge.to);
    }
}

static size_t count_walls(const struct finder *finder, const struct choice *choice) {
    size_t count = finder->floor->outline.count + finder->floor->block_count;
    for (size_t i = 0; i < finder->floor->view_count; i++) {
        count += finder->outlines[i].count;
    }
    for (size_t i = 0; i < choice->both.ring_count; i++) {
        count += choice->both.rings[i].count;
    }
    return count;
}

static struct point rounded(struct sight_corner corner) {
    return (struct point){(int32_t)lround(corner.x_mm), (int32_t)lround(corner.y_mm)};
}

static bool draw_walls(struct finder *finder, const struct choice *choice) {
    finder->wall_count = 0;
    finder->wall_room = count_walls(finder, choice);
    finder->walls = ARENA_ARRAY(&finder->scratch, struct segment, finder->wall_room);
    if (finder->walls == NULL) {
        return false;
    }
    add_outline(finder, finder->floor->outline);
    for (size_t i = 0; !finder->blocks_pushed && i < finder->floor->block_count; i++) {
        add_wall(finder, finder->floor->blocks[i].from, finder->floor->blocks[i].to);
    }
    for (size_t i = 0; i < finder->floor->view_count; i++) {
        if ((choice->avoided >> i & 1U) != 0) {
            add_outline(finder, finder->outlines[i]);
        }
    }
    for (size_t i = 0; i < choice->both.ring_count; i++) {
        const struct area_ring *ring = &choice->both.rings[i];
        for (size_t k = 0; k < ring->count; k++) {
            add_wall(finder, rounded(ring->corners[k]),
                    rounded(ring->corners[(k + 1) % ring->count]));
        }
    }
    return true;
}

/* What is within an arm's length may be the face of a cupboard or the very edge of a view: it is stood at from
 * whichever side a way leads to. */
static const struct point ANY_SIDE[] = {{0, 0}, {1, 0}, {-1, 0}, {0, 1}, {0, -1}};
enum { ANY_SIDES = sizeof ANY_SIDE / sizeof ANY_SIDE[0] };

/* The spots of the sides after `from` on which he can stand, with whose they are. */
static size_t list_targets(const struct finder *finder, const struct choice *choice, size_t from,
        struct walk_place *targets, size_t *whose) {
    size_t count = 0;
    for (size_t side = from + 1; side < finder->floor->side_count; side++) {
        const struct room_side *to = &finder->floor->sides[side];
        for (size_t i = 0; i < to->spot_count; i++) {
            const bool seen = is_seen(finder, choice, to->spots[i]);
            const int ways_in = seen ? 0 : side < finder->floor->start_count ? 1 : ANY_SIDES;
            for (int k = 0; k < ways_in; k++) {
                whose[count] = side;
                targets[count++] = (struct walk_place){.at = to->spots[i], .into = ANY_SIDE[k]};
            }
        }
    }
    return count;
}

static outcome walk_from(struct finder *finder, const struct choice *choice, struct walk *walk,
        size_t from, struct problem *ret_problem) {
    const struct room_floor *floor = finder->floor;
    const size_t room = floor->side_count * ROOM_MOVES_SPOTS_MOST * ANY_SIDES;
    struct walk_place *targets = ARENA_ARRAY(&finder->scratch, struct walk_place, room);
    size_t *whose = ARENA_ARRAY(&finder->scratch, size_t, room);
    struct way *ways = ARENA_ARRAY(&finder->scratch, struct way, room);
    if (targets == NULL || whose == NULL || ways == NULL) {
        return no_memory(ret_problem);
    }
    const size_t count = list_targets(finder, choice, from, targets, whose);
    for (size_t i = 0; i < floor->sides[from].spot_count && count > 0; i++) {
        const struct walk_place begin = {.at = floor->sides[from].spots[i]};
        if (is_seen(finder, choice, begin.at)) {
            continue;
        }
        TRY(walk_find(walk, begin, targets, count, &finder->scratch, ways, ret_problem));
        for (size_t k = 0; k < count; k++) {
            struct way *best = &finder->shortest[from * floor->side_count + whose[k]];
            if (ways[k].count > 0 && (best->count == 0 || ways[k].length_mm < best->length_mm)) {
                *best = ways[k];
            }
        }
    }
    return outcome_good();
}

static outcome walk_all(
        struct finder *finder, const struct choice *choice, struct problem *ret_problem) {
    const struct room_floor *floor = finder->floor;
    struct walk *walk;
    finder->shortest =
            ARENA_ARRAY(&finder->scratch, struct way, floor->side_count * floor->side_count);
    if (finder->shortest == NULL || !draw_walls(finder, choice)) {
        return no_memory(ret_problem);
    }
    const struct walk_storey storey = {finder->walls, finder->wall_count};
    const struct walk_plan plan = {
            .storeys = &storey, .storey_count = 1, .body_mm = ROOM_MOVES_BODY_MM};
    TRY(walk_make(&plan, &finder->scratch, &walk, ret_problem));
    for (size_t from = 0; from < floor->start_count; from++) {
        TRY(walk_from(finder, choice, walk, from, ret_problem));
    }
    return outcome_good();
}

/* ---- moves ------------------------------------------------------------------------------------------------------- */

static bool add_move(
        struct finder *finder, size_t from, size_t to, unsigned seen, const struct way *way) {
    struct way_stop *stops = ARENA_ARRAY(finder->arena, struct way_stop, way->count);
    if (stops == NULL || finder->moves.count == finder->move_room) {
        return false;
    }
    memcpy(stops, way->stops, way->count * sizeof stops[0]);
    finder->moves.list[finder->moves.count++] = (struct room_move){.from = from,
            .to = to,
            .seen = seen,
            .way = {.stops = stops, .count = way->count, .length_mm = way->length_mm}};
    return true;
}

static outcome add_moves(
        struct finder *finder, const struct choice *choice, struct problem *ret_problem) {
    const struct room_floor *floor = finder->floor;
    const unsigned seen = ((1U << floor->view_count) - 1) & ~choice->avoided;
    for (size_t pair = 0; pair < floor->start_count * floor->side_count; pair++) {
        const struct way *way = &finder->shortest[pair];
        const size_t from = pair / floor->side_count;
        const size_t to = pair % floor->side_count;
        bool good = true;
        if (way->count == 0) {
            continue;
        }
        if (choice->one == choice->other) {
            good = add_move(finder, from, to, seen, way);
        } else {
            good = add_move(finder, from, to, seen & ~(1U << choice->one), way) &&
                    add_move(finder, from, to, seen & ~(1U << choice->other), way);
        }
        if (!good) {
            return no_memory(ret_problem);
        }
    }
    return outcome_good();
}

/* Whether a side cannot be come to from the first one, whoever sees it. */
static bool is_cut_off(const struct finder *finder) {
    for (size_t to = 1; to < finder->floor->side_count; to++) {
        if (finder->shortest[to].count == 0) {
            return true;
        }
    }
    return false;
}

static outcome try_choice(
        struct finder *finder, const struct choice *choice, struct problem *ret_problem) {
    arena_init(&finder->scratch, finder->arena->pages, 0);
    outcome result = walk_all(finder, choice, ret_problem);
    if (result.good && choice->avoided == 0 && choice->one == choice->other &&
            !finder->blocks_pushed && is_cut_off(finder)) {
        finder->blocks_pushed = true;
        result = walk_all(finder, choice, ret_problem);
    }
    if (result.good) {
        result = add_moves(finder, choice, ret_problem);
    }
    arena_finish(&finder->scratch);
    return result;
}

/* Two that count only together: is there a way on which no step is seen by both? */
static outcome try_partners(struct finder *finder, unsigned avoided, struct problem *ret_problem) {
    const struct room_floor *floor = finder->floor;
    for (size_t one = 0; one < floor->view_count; one++) {
        for (size_t other = one + 1; other < floor->view_count; other++) {
            struct choice choice = {.avoided = avoided, .one = one, .other = other};
            struct problem unclear = {0};
            const unsigned both = 1U << one | 1U << other;
            if ((floor->partners[one] >> other & 1U) == 0 || (avoided & both) != 0 ||
                    finder->outlines[one].count == 0 || finder->outlines[other].count == 0) {
                continue;
            }
            const bool clear = area_common(finder->outlines[one], finder->outlines[other],
                    finder->arena, &choice.both, &unclear)
                                       .good;
            if (!clear && unclear.kind == PROBLEM_MEMORY) {
                return no_memory(ret_problem);
            }
            if (!clear) { /* then he is taken to pass one after the other */
                choice.both = (struct area){0};
            }
            TRY(try_choice(finder, &choice, ret_problem));
        }
    }
    return outcome_good();
}

/* Of a pair of sides each choice gives one move at most, and two more for each pair of partners. */
static size_t count_most(const struct room_floor *floor) {
    size_t pairs = 0;
    for (size_t i = 0; i < floor->view_count; i++) {
        for (size_t k = i + 1; k < floor->view_count; k++) {
            pairs += floor->partners[i] >> k & 1U;
        }
    }
    return floor->start_count * floor->side_count * ((size_t)1 << floor->view_count) *
            (1 + 2 * pairs);
}

outcome room_moves_find(const struct room_floor *floor, struct arena *arena,
        struct room_moves *ret_moves, struct problem *ret_problem) {
    struct finder finder = {.floor = floor, .arena = arena};
    if (floor->view_count > ROOM_MOVES_VIEWS_MOST) {
        FAIL(ret_problem, PROBLEM_LIMIT, "", "more than %d detectors see one room",
                ROOM_MOVES_VIEWS_MOST);
    }
    finder.move_room = count_most(floor);
    finder.moves.list = ARENA_ARRAY(arena, struct room_move, finder.move_room);
    if (finder.moves.list == NULL) {
        return no_memory(ret_problem);
    }
    for (size_t i = 0; i < floor->view_count; i++) {
        TRY(room_moves_sure_view(&floor->views[i], arena, &finder.outlines[i], ret_problem));
    }
    for (unsigned avoided = 0; avoided < 1U << floor->view_count; avoided++) {
        TRY(try_choice(&finder, &(struct choice){.avoided = avoided}, ret_problem));
        TRY(try_partners(&finder, avoided, ret_problem));
    }
    *ret_moves = finder.moves;
    return outcome_good();
}
