/* The moves within one room of a break-in. */
#include "plan/portals_inside.h"

#include "plan/recall.h"

#include <math.h>

enum {
    INSET_MM = 150, /* from a jamb to the middle of somebody beside it */
    INTO_MM = 200,  /* from the wall to the middle of somebody before it */
    ROUND = 8,      /* spots round what is protected */
};
static const double SEEN_LEAST_M2 = 0.05;

/* A room being taken. sides: its openings, then what is protected in it; whose: their indexes. vague: openings that are
 * anywhere at its edge (the way over a gate). */
struct taking {
    struct portals_maker *maker;
    int room;
    struct outline outline;
    struct room_side *sides;
    int *whose;
    size_t start_count;
    size_t side_count;
    int *vague;
    size_t vague_count;
    struct sight_view views[ROOM_MOVES_VIEWS_MOST];
    int devices[ROOM_MOVES_VIEWS_MOST];
    double seen_m2[ROOM_MOVES_VIEWS_MOST];
    unsigned partners[ROOM_MOVES_VIEWS_MOST];
    size_t view_count;
};

static outcome no_memory(struct problem *ret_problem) {
    FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory for the ways within a room");
}

/* ---- where ways begin and end ------------------------------------------------------------------------------------ */

static void add_spot(const struct taking *taking, struct room_side *side, double x, double y) {
    const struct point at = {(int32_t)lround(x), (int32_t)lround(y)};
    if (side->spot_count < ROOM_MOVES_SPOTS_MOST && point_in_reach(at) &&
            outline_place(taking->outline, at) == PLACE_INSIDE) {
        side->spots[side->spot_count++] = at;
    }
}

/* Along a line from a to b, so far to its left. A line too long for all spots has them further apart. */
static void add_spots(const struct taking *taking, struct room_side *side, struct point a,
        struct point b, double left_mm) {
    const double length_mm = point_distance_mm(a, b);
    const double usable_mm = length_mm > 2 * INSET_MM ? length_mm - 2 * INSET_MM : 0;
    int steps = (int)ceil(usable_mm / ROOM_MOVES_STEP_MM);
    if (length_mm <= 0) {
        add_spot(taking, side, a.x_mm, a.y_mm);
        return;
    }
    steps = steps < ROOM_MOVES_SPOTS_MOST ? steps : ROOM_MOVES_SPOTS_MOST - 1;
    for (int i = 0; i <= steps; i++) {
        const double along_mm = usable_mm > 0 ? INSET_MM + usable_mm * i / steps : length_mm / 2;
        const double x = (b.x_mm - a.x_mm) / length_mm;
        const double y = (b.y_mm - a.y_mm) / length_mm;
        add_spot(taking, side, a.x_mm + x * along_mm - y * left_mm,
                a.y_mm + y * along_mm + x * left_mm);
    }
}

/* Before a line in the wall, on whichever side of it the room is. */
static void add_spots_before(
        const struct taking *taking, struct room_side *side, struct point a, struct point b) {
    for (int32_t into_mm = INTO_MM; side->spot_count == 0 && into_mm > 0; into_mm /= 2) {
        add_spots(taking, side, a, b, into_mm);
        add_spots(taking, side, a, b, -into_mm);
    }
}

static void set_opening_side(
        const struct taking *taking, const struct house_opening *placed, struct room_side *side) {
    const struct point *jambs = placed->room == taking->room ? placed->near : placed->far;
    if (placed->flat) {
        const struct point middle = {
                (jambs[0].x_mm + jambs[1].x_mm) / 2, (jambs[0].y_mm + jambs[1].y_mm) / 2};
        add_spots(taking, side, jambs[0], jambs[1], 0);
        add_spot(taking, side, middle.x_mm, middle.y_mm);
    } else {
        add_spots_before(taking, side, jambs[0], jambs[1]);
    }
}

/* The edge of a flight at which one steps on it or off it in this room. */
static void set_stairs_side(const struct taking *taking, size_t index, struct room_side *side) {
    const struct site_stairs *written = &taking->maker->house->site->building.stairs[index];
    const struct house_stairs *placed = &taking->maker->house->stairs[index];
    const size_t high = (size_t)(written->up - SITE_SIDE_FRONT);
    const size_t edge = written->room == taking->room ? (high + 2) % 4 : high;
    add_spots(taking, side, placed->corners[edge], placed->corners[(edge + 1) % 4], 0);
    if (side->spot_count == 0) { /* along a wall */
        add_spots_before(taking, side, placed->corners[edge], placed->corners[(edge + 1) % 4]);
    }
}

static bool is_walled_off(const struct taking *taking, struct segment line) {
    for (size_t i = 0; i < taking->outline.count; i++) {
        if (segment_crosses(outline_edge(taking->outline, i), line)) {
            return true;
        }
    }
    return false;
}

/* He need only come within an arm's length. */
static void set_goal_side(const struct taking *taking, size_t place, struct room_side *side) {
    static const double PI = 3.14159265358979323846;
    const struct point at = taking->maker->house->places[place].at;
    add_spot(taking, side, at.x_mm, at.y_mm);
    for (int i = 0; i < ROUND; i++) {
        const double x = at.x_mm + PORTALS_ARM_MM * cos(2 * PI * i / ROUND);
        const double y = at.y_mm + PORTALS_ARM_MM * sin(2 * PI * i / ROUND);
        const struct point spot = {(int32_t)lround(x), (int32_t)lround(y)};
        if (point_in_reach(spot) && !is_walled_off(taking, (struct segment){at, spot})) {
            add_spot(taking, side, x, y);
        }
    }
}

static void list_sides(struct taking *taking) {
    const struct portals_maker *maker = taking->maker;
    for (size_t i = 0; i < maker->opening_count; i++) {
        const struct site_break_in_opening *opening = &maker->openings[i];
        struct room_side *side = &taking->sides[taking->side_count];
        if (opening->from != taking->room && opening->to != taking->room) {
            continue;
        }
        *side = (struct room_side){.spot_count = 0};
        if (maker->opening[i] != SITE_NONE) {
            set_opening_side(taking, &maker->house->openings[maker->opening[i]], side);
        } else if (maker->stairs[i] != SITE_NONE) {
            set_stairs_side(taking, (size_t)maker->stairs[i], side);
        }
        if (side->spot_count == 0) {
            taking->vague[taking->vague_count++] = (int)i;
        } else {
            taking->whose[taking->side_count++] = (int)i;
        }
    }
    taking->start_count = taking->side_count;
    for (size_t i = 0; i < maker->goal_count; i++) {
        struct room_side *side = &taking->sides[taking->side_count];
        if (maker->goals[i].room == taking->room) {
            *side = (struct room_side){.spot_count = 0};
            set_goal_side(taking, (size_t)maker->goals[i].place, side);
            taking->whose[taking->side_count++] = (int)i;
        }
    }
}

/* ---- what sees the room ------------------------------------------------------------------------------------------ */

/* Among those that see the most of it, in the order of the drawing where equal. */
static void keep_view(struct taking *taking, const struct coverage_view *view, double seen_m2) {
    size_t at = taking->view_count < ROOM_MOVES_VIEWS_MOST ? taking->view_count++
                                                           : ROOM_MOVES_VIEWS_MOST;
    for (; at > 0 && taking->seen_m2[at - 1] < seen_m2; at--) {
        if (at < ROOM_MOVES_VIEWS_MOST) {
            taking->views[at] = taking->views[at - 1];
            taking->devices[at] = taking->devices[at - 1];
            taking->seen_m2[at] = taking->seen_m2[at - 1];
        }
    }
    if (at < ROOM_MOVES_VIEWS_MOST) {
        taking->views[at] = view->view;
        taking->devices[at] = view->device;
        taking->seen_m2[at] = seen_m2;
    }
}

static bool are_partners(const struct site *site, int one, int other) {
    for (size_t i = 0; i < site->zone_count; i++) {
        const int with = site->zones[i].cross_with;
        if (with != SITE_NONE &&
                ((site->zones[i].device == one && site->zones[with].device == other) ||
                        (site->zones[i].device == other && site->zones[with].device == one))) {
            return true;
        }
    }
    return false;
}

static outcome measure_seen(const struct portals_maker *maker, struct outline room,
        const struct sight_view *view, double *ret_seen_m2, struct problem *ret_problem) {
    struct area floor_area;
    struct area blind;
    TRY(recall_blind(maker->house->site->building.recall, room, NULL, 0, view, 1, maker->arena,
            &floor_area, &blind, ret_problem));
    *ret_seen_m2 = floor_area.area_m2 - blind.area_m2;
    return outcome_good();
}

static outcome list_views(struct taking *taking, struct problem *ret_problem) {
    const struct portals_maker *maker = taking->maker;
    const struct house_room *room = &maker->house->rooms[taking->room];
    for (size_t i = 0; i < maker->coverage->view_count && room->inside; i++) {
        const struct coverage_view *view = &maker->coverage->views[i];
        double seen_m2 = 0;
        if (view->sense != SITE_MOTION || view->storey != room->storey || view->view.count == 0) {
            continue;
        }
        TRY(measure_seen(maker, room->outline, &view->view, &seen_m2, ret_problem));
        if (seen_m2 > SEEN_LEAST_M2) {
            keep_view(taking, view, seen_m2);
        }
    }
    for (size_t i = 0; i < taking->view_count; i++) {
        for (size_t k = 0; k < taking->view_count; k++) {
            if (i != k &&
                    are_partners(maker->house->site, taking->devices[i], taking->devices[k])) {
                taking->partners[i] |= 1U << k;
            }
        }
    }
    return outcome_good();
}

static bool is_all_within(const struct room_side *side, struct outline outline) {
    bool all = outline.count > 0;
    for (size_t i = 0; i < side->spot_count; i++) {
        all = all && outline_place(outline, side->spots[i]) == PLACE_INSIDE;
    }
    return all;
}

/* Whoever passes an opening all of which lies in view is seen. */
static outcome notice_openings(const struct taking *taking, struct problem *ret_problem) {
    for (size_t k = 0; k < taking->view_count; k++) {
        struct outline outline;
        TRY(room_moves_sure_view(&taking->views[k], taking->maker->arena, &outline, ret_problem));
        for (size_t side = 0; side < taking->start_count; side++) {
            if (is_all_within(&taking->sides[side], outline)) {
                portals_notice(taking->maker, taking->devices[k], taking->whose[side]);
            }
        }
    }
    return outcome_good();
}

/* ---- moves ------------------------------------------------------------------------------------------------------- */

static void add_zones(const struct site *site, int device, uint64_t seen[2]) {
    for (size_t i = 0; i < site->zone_count; i++) {
        if (site->zones[i].device == device) {
            seen[i / 64] |= (uint64_t)1 << (i % 64);
        }
    }
}

static bool is_same_pair(const struct site_break_in_move *a, const struct site_break_in_move *b) {
    return a->from == b->from && a->to == b->to && a->reaches == b->reaches;
}

/* Whether whoever takes b might as well take a. By the European course a trip off the route can serve him, so that
 * there only ways that are seen by the same are compared. */
static bool serves(const struct taking *taking, const struct site_break_in_move *a,
        const struct site_break_in_move *b) {
    bool fewer = true;
    bool same = true;
    for (size_t i = 0; i < 2; i++) {
        fewer = fewer && (a->seen[i] & ~b->seen[i]) == 0;
        same = same && a->seen[i] == b->seen[i];
    }
    const bool en = taking->maker->house->site->settings.off_route == SITE_OFF_ROUTE_EN;
    return is_same_pair(a, b) && a->takes_s <= b->takes_s && (en ? same : fewer);
}

static outcome add_move(struct taking *taking, size_t first, struct site_break_in_move move,
        struct way way, struct problem *ret_problem) {
    struct portals_maker *maker = taking->maker;
    for (size_t i = first; i < maker->move_count; i++) {
        if (serves(taking, &maker->moves[i], &move)) {
            return outcome_good();
        }
    }
    size_t count = first;
    for (size_t i = first; i < maker->move_count; i++) {
        if (!serves(taking, &move, &maker->moves[i])) {
            maker->moves[count] = maker->moves[i];
            maker->ways[count++] = maker->ways[i];
        }
    }
    if (count == PORTALS_MOVES_MOST) {
        FAIL(ret_problem, PROBLEM_LIMIT, "building.openings",
                "break-ins: more than %d ways within rooms; the drawing has too many openings",
                PORTALS_MOVES_MOST);
    }
    maker->moves[count] = move;
    maker->ways[count] = way;
    maker->move_count = count + 1;
    return outcome_good();
}

static struct site_break_in_move move_between(const struct taking *taking, size_t from, size_t to) {
    const bool reaches = to >= taking->start_count;
    return (struct site_break_in_move){.room = taking->room,
            .from = taking->whose[from],
            .to = reaches ? SITE_NONE : taking->whose[to],
            .reaches = reaches ? taking->whose[to] : SITE_NONE};
}

/* Between spots he may stand half a step nearer at either end. */
static int32_t seconds_of(double length_mm) {
    const double least_mm = length_mm - ROOM_MOVES_STEP_MM;
    return least_mm > 0 ? (int32_t)(least_mm / PORTALS_SPEED_MM_S) : 0;
}

static outcome add_room_move(struct taking *taking, size_t first, const struct room_move *found,
        struct problem *ret_problem) {
    const struct portals_maker *maker = taking->maker;
    struct site_break_in_move move = move_between(taking, found->from, found->to);
    move.takes_s = seconds_of(found->way.length_mm);
    for (size_t k = 0; k < taking->view_count; k++) {
        if ((found->seen >> k & 1U) != 0) {
            add_zones(maker->house->site, taking->devices[k], move.seen);
        }
    }
    struct way_stop *stops = ARENA_ARRAY(maker->arena, struct way_stop, found->way.count);
    if (stops == NULL) {
        return no_memory(ret_problem);
    }
    for (size_t i = 0; i < found->way.count; i++) {
        stops[i] = found->way.stops[i];
        stops[i].storey = (uint32_t)maker->house->rooms[taking->room].storey;
    }
    const struct way way = {
            .stops = stops, .count = found->way.count, .length_mm = found->way.length_mm};
    return add_move(taking, first, move, way, ret_problem);
}

/* What the drawing does not say, or nobody could squeeze through, is taken as no distance and in nobody's view. */
static outcome add_vague_moves(struct taking *taking, size_t first, struct problem *ret_problem) {
    struct portals_maker *maker = taking->maker;
    for (size_t from = 0; from < taking->start_count; from++) {
        for (size_t to = from + 1; to < taking->side_count; to++) {
            const struct site_break_in_move move = move_between(taking, from, to);
            bool any = false;
            for (size_t i = first; i < maker->move_count; i++) {
                any = any || is_same_pair(&maker->moves[i], &move);
            }
            if (!any) {
                TRY(add_move(taking, first, move, (struct way){0}, ret_problem));
            }
        }
    }
    for (size_t i = 0; i < taking->vague_count; i++) {
        for (size_t to = 0; to < taking->side_count; to++) {
            struct site_break_in_move move = move_between(taking, 0, to);
            move.from = taking->vague[i];
            TRY(add_move(taking, first, move, (struct way){0}, ret_problem));
        }
        for (size_t k = i + 1; k < taking->vague_count; k++) {
            const struct site_break_in_move move = {.room = taking->room,
                    .from = taking->vague[i],
                    .to = taking->vague[k],
                    .reaches = SITE_NONE};
            TRY(add_move(taking, first, move, (struct way){0}, ret_problem));
        }
    }
    return outcome_good();
}

/* The sides of tall furniture. */
static outcome list_blocks(
        const struct taking *taking, struct room_floor *floor, struct problem *ret_problem) {
    const struct house *house = taking->maker->house;
    const struct site_building *building = &house->site->building;
    struct segment *blocks =
            ARENA_ARRAY(taking->maker->arena, struct segment, 4 * building->furniture_count);
    if (blocks == NULL) {
        return no_memory(ret_problem);
    }
    for (size_t i = 0; i < building->furniture_count; i++) {
        const struct site_furniture *written = &building->furniture[i];
        for (size_t k = 0; k < 4 && house->furniture[i].good && written->room == taking->room &&
                written->height_mm >= COVERAGE_TALL_MM;
                k++) {
            blocks[floor->block_count++] = (struct segment){
                    house->furniture[i].corners[k], house->furniture[i].corners[(k + 1) % 4]};
        }
    }
    floor->blocks = blocks;
    return outcome_good();
}

/* What is told of a room, before anything is seen in it. */
static outcome begin(struct taking *taking, struct problem *ret_problem) {
    const struct portals_maker *maker = taking->maker;
    const size_t most = maker->opening_count + maker->goal_count;
    taking->outline = maker->house->rooms[taking->room].outline;
    taking->sides = ARENA_ARRAY(maker->arena, struct room_side, most + 1);
    taking->whose = ARENA_ARRAY(maker->arena, int, most + 1);
    taking->vague = ARENA_ARRAY(maker->arena, int, most + 1);
    if (taking->sides == NULL || taking->whose == NULL || taking->vague == NULL) {
        return no_memory(ret_problem);
    }
    list_sides(taking);
    return outcome_good();
}

static outcome find_moves(
        const struct taking *taking, struct room_moves *ret_moves, struct problem *ret_problem) {
    struct room_floor floor = {.outline = taking->outline,
            .views = taking->views,
            .partners = taking->partners,
            .view_count = taking->view_count,
            .sides = taking->sides,
            .side_count = taking->side_count,
            .start_count = taking->start_count};
    TRY(list_blocks(taking, &floor, ret_problem));
    return recall_moves(taking->maker->house->site->building.recall, &floor, taking->maker->arena,
            ret_moves, ret_problem);
}

outcome portals_take_room(struct portals_maker *maker, int room, struct problem *ret_problem) {
    struct taking taking = {.maker = maker, .room = room};
    struct room_moves moves;
    const size_t first = maker->move_count;
    if (!maker->house->rooms[room].good) {
        return outcome_good();
    }
    TRY(begin(&taking, ret_problem));
    TRY(list_views(&taking, ret_problem));
    TRY(notice_openings(&taking, ret_problem));
    TRY(find_moves(&taking, &moves, ret_problem));
    for (size_t i = 0; i < moves.count; i++) {
        TRY(add_room_move(&taking, first, &moves.list[i], ret_problem));
    }
    return add_vague_moves(&taking, first, ret_problem);
}

/* ---- one detector more ------------------------------------------------------------------------------------------- */

/* Of the moves between the same two ends. found: none keeps out of the view, and there is one at all. */
static bool is_sure(const struct taking *taking, const struct room_moves *found,
        const struct site_break_in_move *move) {
    bool any = false;
    bool sure = true;
    for (size_t i = 0; i < found->count; i++) {
        const struct site_break_in_move it =
                move_between(taking, found->list[i].from, found->list[i].to);
        if (is_same_pair(&it, move)) {
            any = true;
            sure = sure && found->list[i].seen != 0;
        }
    }
    return any && sure;
}

outcome portals_see_room(struct portals_maker *maker, int room, const struct sight_view *view,
        struct portals_seen *seen, struct problem *ret_problem) {
    struct taking taking = {.maker = maker, .room = room, .views = {*view}, .view_count = 1};
    struct room_moves found;
    struct outline outline;
    double seen_m2 = 0;
    TRY(begin(&taking, ret_problem));
    TRY(measure_seen(maker, taking.outline, view, &seen_m2, ret_problem));
    if (seen_m2 <= SEEN_LEAST_M2) {
        return outcome_good();
    }
    seen->rooms[room] = true;
    TRY(room_moves_sure_view(view, maker->arena, &outline, ret_problem));
    for (size_t side = 0; side < taking.start_count; side++) {
        seen->openings[taking.whose[side]] |= is_all_within(&taking.sides[side], outline);
    }
    TRY(find_moves(&taking, &found, ret_problem));
    for (size_t i = 0; i < maker->move_count; i++) {
        if (maker->moves[i].room == room) {
            seen->moves[i] = is_sure(&taking, &found, &maker->moves[i]);
        }
    }
    return outcome_good();
}
