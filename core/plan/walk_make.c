/* Makes a walk: grows the walls, finds their corners and which of them a way may bend round. */
#include "plan/body.h"
#include "plan/order.h"
#include "plan/walk_inside.h"

#include <math.h>
#include <string.h>

static const double LINK_MOST_MM = 1e6;
enum {
    STAND_TURNS = 16, /* directions in which a free spot is looked for */
    STAND_STEPS = 6,  /* and distances, quarters of a body */
};

static outcome refuse_memory(struct problem *ret_problem) {
    FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory for the ways of this drawing");
}

/* Directions of walls at a point. */
struct meeting {
    const struct segment *walls;
    struct point at;
    struct point directions[WALK_MEETING_MOST];
    size_t count;
    bool full;
};

static void meet(struct meeting *meeting, struct point towards) {
    const struct point step = point_step(meeting->at, towards);
    if (step.x_mm == 0 && step.y_mm == 0) {
        return;
    }
    for (size_t i = 0; i < meeting->count; i++) {
        if (point_cross(meeting->directions[i], step) == 0 &&
                point_dot(meeting->directions[i], step) > 0) {
            return;
        }
    }
    if (meeting->count == WALK_MEETING_MOST) {
        meeting->full = true;
        return;
    }
    meeting->directions[meeting->count++] = step;
}

static bool meet_wall(void *context, uint32_t wall) {
    struct meeting *meeting = context;
    const struct segment line = meeting->walls[wall];
    if (segment_holds(line, meeting->at)) {
        meet(meeting, line.from);
        meet(meeting, line.to);
    }
    return true;
}

static outcome meet_at(const struct grid *grid, struct point at, struct meeting *ret_meeting,
        struct problem *ret_problem) {
    ret_meeting->walls = grid->walls;
    ret_meeting->at = at;
    ret_meeting->count = 0;
    ret_meeting->full = false;
    grid_in_box(grid, at, at, meet_wall, ret_meeting);
    if (ret_meeting->full) {
        FAIL(ret_problem, PROBLEM_LIMIT, "", "more than %d walls meet at (%d, %d) mm",
                WALK_MEETING_MOST, at.x_mm, at.y_mm);
    }
    return outcome_good();
}

struct inside {
    const struct segment *walls;
    int32_t body_mm;
    struct point at;
};

static bool outside_trace(void *context, uint32_t wall) {
    const struct inside *inside = context;
    return !body_trace_holds(inside->walls[wall], inside->body_mm, inside->at);
}

/* Whether the middle of the body cannot be here. */
static bool in_a_body(const struct walk *walk, const struct walk_level *level, struct point at) {
    if (walk->body_mm == 0) {
        return false;
    }
    const int32_t reach = walk->body_mm;
    struct inside inside = {level->raw.walls, walk->body_mm, at};
    return !grid_in_box(&level->raw, (struct point){at.x_mm - reach, at.y_mm - reach},
            (struct point){at.x_mm + reach, at.y_mm + reach}, outside_trace, &inside);
}

static outcome take_walls(const struct walk_storey *storey, struct arena *arena,
        struct walk_level *level, struct problem *ret_problem) {
    if (storey->wall_count > WALK_WALLS_MOST) {
        FAIL(ret_problem, PROBLEM_LIMIT, "", "%zu walls on one storey; at most %d are walked among",
                storey->wall_count, WALK_WALLS_MOST);
    }
    struct segment *walls = ARENA_ARRAY(arena, struct segment, storey->wall_count);
    if (walls == NULL) {
        return refuse_memory(ret_problem);
    }
    for (size_t i = 0; i < storey->wall_count; i++) {
        walls[i] = storey->walls[i];
        if (!point_in_reach(walls[i].from) || !point_in_reach(walls[i].to)) {
            FAIL(ret_problem, PROBLEM_BAD_VALUE, "",
                    "a wall leads to (%d, %d) mm; a drawing lies within %d m of its origin",
                    walls[i].to.x_mm, walls[i].to.y_mm, PLAN_REACH_MM / 1000);
        }
    }
    return grid_make(walls, storey->wall_count, arena, &level->raw, ret_problem);
}

/* The walls as the middle of the body meets them. */
static outcome grow_walls(const struct walk *walk, struct arena *arena, struct walk_level *level,
        struct problem *ret_problem) {
    const struct grid *raw = &level->raw;
    const size_t most = walk->body_mm > 0 ? BODY_CORNERS_MOST : 1;
    level->walls = ARENA_ARRAY(arena, struct segment, most * raw->wall_count);
    if (level->walls == NULL) {
        return refuse_memory(ret_problem);
    }
    for (size_t i = 0; i < raw->wall_count; i++) {
        const struct segment wall = raw->walls[i];
        if (walk->body_mm == 0) {
            if (!point_equal(wall.from, wall.to)) {
                level->walls[level->wall_count++] = wall;
            }
            continue;
        }
        struct point corners[BODY_CORNERS_MOST];
        const struct outline trace = {corners, body_trace(wall, walk->body_mm, corners)};
        for (size_t k = 0; k < trace.count; k++) {
            level->walls[level->wall_count++] = outline_edge(trace, k);
        }
    }
    return grid_make(level->walls, level->wall_count, arena, &level->grid, ret_problem);
}

static struct point end_of(const struct segment *walls, uint32_t end) {
    return end % 2 == 0 ? walls[end / 2].from : walls[end / 2].to;
}

static bool end_before(const void *context, uint32_t a, uint32_t b) {
    const struct point one = end_of(context, a);
    const struct point other = end_of(context, b);
    return one.x_mm != other.x_mm ? one.x_mm < other.x_mm : one.y_mm < other.y_mm;
}

/* One vertex for all ends in a place. */
static outcome find_vertices(
        struct arena *arena, struct walk_level *level, struct problem *ret_problem) {
    const size_t count = 2 * level->wall_count;
    uint32_t *order = ARENA_ARRAY(arena, uint32_t, 2 * count);
    level->ends = arena_take(arena, level->wall_count, sizeof *level->ends);
    level->vertices = ARENA_ARRAY(arena, struct walk_vertex, count);
    if (order == NULL || level->ends == NULL || level->vertices == NULL) {
        return refuse_memory(ret_problem);
    }
    for (size_t i = 0; i < count; i++) {
        order[i] = (uint32_t)i;
    }
    order_sort(order, order + count, count, end_before, level->walls);
    for (size_t i = 0; i < count; i++) {
        const struct point at = end_of(level->walls, order[i]);
        if (level->vertex_count == 0 ||
                !point_equal(level->vertices[level->vertex_count - 1].at, at)) {
            level->vertices[level->vertex_count++].at = at;
        }
        level->ends[order[i] / 2][order[i] % 2] = (uint32_t)(level->vertex_count - 1);
    }
    return outcome_good();
}

/* The directions of one vertex; makes a node of it where a way may bend. */
static outcome look_at_vertex(
        struct walk *walk, uint32_t storey, size_t vertex, struct problem *ret_problem) {
    struct walk_level *level = &walk->levels[storey];
    struct walk_vertex *corner = &level->vertices[vertex];
    if (in_a_body(walk, level, corner->at)) {
        corner->stops = true;
        return outcome_good();
    }
    struct meeting meeting;
    TRY(meet_at(&level->grid, corner->at, &meeting, ret_problem));
    struct point *directions = ARENA_ARRAY(walk->arena, struct point, meeting.count);
    if (directions == NULL) {
        return refuse_memory(ret_problem);
    }
    memcpy(directions, meeting.directions, meeting.count * sizeof *directions);
    corner->directions = directions;
    corner->direction_count = meeting.count;
    struct sector sector;
    if (!sector_wide(directions, meeting.count, &sector)) {
        return outcome_good();
    }
    corner->stops = true;
    if (walk->node_count == WALK_CORNERS_MOST) {
        FAIL(ret_problem, PROBLEM_LIMIT, "", "more than %d corners that ways may bend round",
                WALK_CORNERS_MOST);
    }
    walk->nodes[walk->node_count++] = (struct walk_node){.storey = storey,
            .at = corner->at,
            .sector = sector,
            .bends = true,
            .link_to = WALK_NOBODY};
    return outcome_good();
}

static outcome make_level(const struct walk_plan *plan, struct walk *walk, uint32_t storey,
        struct problem *ret_problem) {
    struct walk_level *level = &walk->levels[storey];
    TRY(take_walls(&plan->storeys[storey], walk->arena, level, ret_problem));
    TRY(grow_walls(walk, walk->arena, level, ret_problem));
    return find_vertices(walk->arena, level, ret_problem);
}

/* Whether nothing that is drawn stands between a place and the spot from which it is reached. */
struct reach {
    const struct segment *walls;
    struct segment line;
};

static bool leaves_free(void *context, uint32_t wall) {
    const struct reach *reach = context;
    const struct segment line = reach->walls[wall];
    return segment_holds(line, reach->line.from) || !segment_meets(line, reach->line);
}

static struct point step_round(struct point from, double far_mm, int turn) {
    const double angle = turn * 2 * acos(-1) / STAND_TURNS;
    return (struct point){from.x_mm + (int32_t)lround(far_mm * cos(angle)),
            from.y_mm + (int32_t)lround(far_mm * sin(angle))};
}

static bool is_free_spot(const struct walk *walk, const struct walk_place *place, struct point at) {
    const struct walk_level *level = &walk->levels[place->storey];
    const bool sided = place->into.x_mm != 0 || place->into.y_mm != 0;
    struct reach reach = {level->raw.walls, {place->at, at}};
    return (!sided || point_dot(place->into, point_step(place->at, at)) > 0) &&
            !in_a_body(walk, level, at) && grid_along(&level->raw, reach.line, leaves_free, &reach);
}

/* A free spot near a place where the body does not fit: of the nearest of a few steps all round the one amid the
 * others, so that a house in a mirror has the mirror's spot (the first by angle made ways longer or shorter there). */
static bool find_spot(const struct walk *walk, struct walk_place place, struct walk_spot *spot) {
    for (int step = 1; step <= STAND_STEPS; step++) {
        const double far_mm = walk->body_mm * step / 4.0;
        struct point free_spots[STAND_TURNS];
        struct point amid = {0, 0};
        size_t count = 0;
        for (int turn = 0; turn < STAND_TURNS; turn++) {
            const struct point at = step_round(place.at, far_mm, turn);
            if (is_free_spot(walk, &place, at)) {
                free_spots[count++] = at;
                amid.x_mm += at.x_mm - place.at.x_mm;
                amid.y_mm += at.y_mm - place.at.y_mm;
            }
        }
        size_t best = 0;
        for (size_t i = 1; i < count; i++) {
            if (point_dot(amid, point_step(place.at, free_spots[i])) >
                    point_dot(amid, point_step(place.at, free_spots[best]))) {
                best = i;
            }
        }
        if (count > 0) {
            spot->at = free_spots[best];
            spot->reach_mm = point_distance_mm(place.at, spot->at);
            return true;
        }
    }
    return false;
}

outcome walk_stand(const struct walk *walk, struct walk_place place, struct walk_spot *ret_spot,
        struct problem *ret_problem) {
    if (place.storey >= walk->level_count) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "storey %u is not there; there are %zu",
                place.storey, walk->level_count);
    }
    if (!point_in_reach(place.at) || !point_in_reach(place.into)) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "",
                "a way leads to (%d, %d) mm; a drawing lies within %d m of its origin",
                place.at.x_mm, place.at.y_mm, PLAN_REACH_MM / 1000);
    }
    const struct walk_level *level = &walk->levels[place.storey];
    struct walk_spot spot = {.storey = place.storey, .at = place.at};
    struct point into = place.into;
    if (in_a_body(walk, level, place.at) && find_spot(walk, place, &spot)) {
        into = (struct point){0, 0};
    }
    struct meeting meeting;
    TRY(meet_at(&level->grid, spot.at, &meeting, ret_problem));
    spot.sector = sector_around(meeting.directions, meeting.count, into);
    *ret_spot = spot;
    return outcome_good();
}

static outcome add_link(
        struct walk *walk, const struct walk_link *link, struct problem *ret_problem) {
    if (!(link->length_mm >= 0 && link->length_mm <= LINK_MOST_MM)) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "a stair is 0 to %d m long",
                (int)(LINK_MOST_MM / 1000));
    }
    const struct walk_place places[2] = {link->from, link->to};
    double length_mm = link->length_mm;
    for (uint32_t i = 0; i < 2; i++) {
        struct walk_spot spot;
        TRY(walk_stand(walk, places[i], &spot, ret_problem));
        length_mm += spot.reach_mm;
        const uint32_t own = (uint32_t)walk->node_count++;
        walk->nodes[own] = (struct walk_node){.storey = spot.storey,
                .at = spot.at,
                .sector = spot.sector,
                .link_to = i == 0 ? own + 1 : own - 1};
    }
    walk->nodes[walk->node_count - 2].link_mm = length_mm;
    walk->nodes[walk->node_count - 1].link_mm = length_mm;
    return outcome_good();
}

static outcome check_plan(const struct walk_plan *plan, struct problem *ret_problem) {
    if (plan->body_mm < 0 || plan->body_mm > BODY_MOST_MM) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "a walker is 0 to %d mm wide", BODY_MOST_MM);
    }
    if (plan->storey_count > WALK_STOREYS_MOST || plan->link_count > WALK_LINKS_MOST) {
        FAIL(ret_problem, PROBLEM_LIMIT, "", "%zu storeys and %zu stairs; at most %d and %d",
                plan->storey_count, plan->link_count, WALK_STOREYS_MOST, WALK_LINKS_MOST);
    }
    return outcome_good();
}

static outcome make_nodes(
        const struct walk_plan *plan, struct walk *walk, struct problem *ret_problem) {
    size_t most = 2 * plan->link_count;
    for (size_t i = 0; i < walk->level_count; i++) {
        most += walk->levels[i].vertex_count;
    }
    walk->nodes = ARENA_ARRAY(walk->arena, struct walk_node, most);
    if (walk->nodes == NULL) {
        return refuse_memory(ret_problem);
    }
    for (uint32_t storey = 0; storey < walk->level_count; storey++) {
        for (size_t i = 0; i < walk->levels[storey].vertex_count; i++) {
            TRY(look_at_vertex(walk, storey, i, ret_problem));
        }
    }
    for (size_t i = 0; i < plan->link_count; i++) {
        TRY(add_link(walk, &plan->links[i], ret_problem));
    }
    walk->scratch = ARENA_ARRAY(walk->arena, struct walk_edge, walk->node_count);
    walk->known = ARENA_ARRAY(walk->arena, const struct walk_known *, WALK_SLOTS);
    return walk->scratch != NULL && walk->known != NULL ? outcome_good()
                                                        : refuse_memory(ret_problem);
}

outcome walk_make(const struct walk_plan *plan, struct arena *arena, struct walk **ret_walk,
        struct problem *ret_problem) {
    TRY(check_plan(plan, ret_problem));
    struct walk *walk = ARENA_NEW(arena, struct walk);
    if (walk == NULL) {
        return refuse_memory(ret_problem);
    }
    walk->arena = arena;
    walk->body_mm = plan->body_mm;
    walk->level_count = plan->storey_count;
    walk->levels = ARENA_ARRAY(arena, struct walk_level, plan->storey_count);
    if (walk->levels == NULL) {
        return refuse_memory(ret_problem);
    }
    for (uint32_t storey = 0; storey < plan->storey_count; storey++) {
        TRY(make_level(plan, walk, storey, ret_problem));
    }
    TRY(make_nodes(plan, walk, ret_problem));
    *ret_walk = walk;
    return outcome_good();
}

size_t walk_corner_count(const struct walk *walk) {
    return walk->node_count;
}
