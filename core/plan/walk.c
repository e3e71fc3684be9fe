/* Searches a walk that walk_make.c made. */
#include "plan/walk_inside.h"

#include <math.h>
#include <string.h>

/* What stands in the way of a straight line. */
struct look {
    const struct walk_level *level;
    struct segment line;
    struct point direction;
    unsigned sides;
};

/* The line comes through the end of a wall. */
static bool pass_vertex(struct look *look, uint32_t vertex) {
    const struct walk_vertex *corner = &look->level->vertices[vertex];
    if (point_equal(corner->at, look->line.from) || point_equal(corner->at, look->line.to) ||
            !segment_holds(look->line, corner->at)) {
        return true;
    }
    if (corner->stops) {
        /* Where ways may bend the line is two edges; inside of a body it is none. */
        return false;
    }
    look->sides &= sector_passes(corner->directions, corner->direction_count, look->direction);
    return look->sides != 0;
}

static bool pass_wall(void *context, uint32_t wall) {
    struct look *look = context;
    const struct segment line = look->level->walls[wall];
    const int from = point_turn(look->line.from, look->line.to, line.from);
    const int to = point_turn(look->line.from, look->line.to, line.to);
    if (from * to < 0) {
        return point_turn(line.from, line.to, look->line.from) *
                point_turn(line.from, line.to, look->line.to) >=
                0;
    }
    return (from != 0 || pass_vertex(look, look->level->ends[wall][0])) &&
            (to != 0 || pass_vertex(look, look->level->ends[wall][1]));
}

struct end {
    struct point at;
    struct sector sector;
    bool bends; /* only ways that may bend round it, or end, are of use */
};

/* Whether a straight way leads from one to the other. Lines that no way bends round at an end are left out. */
static bool leads(const struct walk_level *level, const struct end *from, const struct end *to) {
    const struct point step = point_step(from->at, to->at);
    const struct point back = {-step.x_mm, -step.y_mm};
    if (step.x_mm == 0 && step.y_mm == 0) {
        /* Stairs that begin where others end; two uses of one spot. */
        return !from->bends && !to->bends &&
                (from->sector.all || to->sector.all ||
                        (point_equal(from->sector.left, to->sector.left) &&
                                point_equal(from->sector.right, to->sector.right)));
    }
    const unsigned sides =
            sector_sides(from->sector, step) & sector_turned(sector_sides(to->sector, back));
    if (sides == 0 || (from->bends && sector_sides(from->sector, back) == 0) ||
            (to->bends && sector_sides(to->sector, step) == 0)) {
        return false;
    }
    struct look look = {level, {from->at, to->at}, step, sides};
    return grid_along(&level->grid, look.line, pass_wall, &look);
}

static struct end end_of_node(const struct walk_node *node) {
    return (struct end){node->at, node->sector, node->bends};
}

static outcome learn_edges(struct walk *walk, uint32_t own, struct problem *ret_problem) {
    struct walk_node *node = &walk->nodes[own];
    const struct end from = end_of_node(node);
    size_t count = 0;
    for (uint32_t i = 0; i < walk->node_count; i++) {
        const struct end to = end_of_node(&walk->nodes[i]);
        if (i != own && walk->nodes[i].storey == node->storey &&
                leads(&walk->levels[node->storey], &from, &to)) {
            walk->scratch[count++] = (struct walk_edge){i, point_distance_mm(from.at, to.at)};
        }
    }
    struct walk_edge *edges = ARENA_ARRAY(walk->arena, struct walk_edge, count);
    if (edges == NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory for the lines between %zu corners",
                walk->node_count);
    }
    for (size_t i = 0; i < count; i++) {
        edges[i] = walk->scratch[i];
    }
    node->edges = edges;
    node->edge_count = count;
    node->known = true;
    return outcome_good();
}

/* What a search knows of a node, of the source (after the nodes) and of each target (after it). */
struct reached {
    double length_mm;
    uint32_t from;
    uint32_t heap_at;
    bool done;
};

struct search {
    struct walk *walk;
    struct walk_spot source;
    const struct walk_spot *targets;
    size_t target_count;
    size_t open_count; /* targets not yet done */
    struct reached *reached;
    uint32_t *heap;
    size_t heap_count;
};

static bool sooner(const struct search *search, uint32_t a, uint32_t b) {
    return search->reached[a].length_mm < search->reached[b].length_mm;
}

static void put(struct search *search, size_t at, uint32_t own) {
    search->heap[at] = own;
    search->reached[own].heap_at = (uint32_t)at;
}

static void rise(struct search *search, size_t at, uint32_t own) {
    for (; at > 0 && sooner(search, own, search->heap[(at - 1) / 2]); at = (at - 1) / 2) {
        put(search, at, search->heap[(at - 1) / 2]);
    }
    put(search, at, own);
}

static uint32_t take_first(struct search *search) {
    const uint32_t first = search->heap[0];
    const uint32_t last = search->heap[--search->heap_count];
    size_t at = 0;
    for (size_t child = 1; child < search->heap_count; child = 2 * at + 1) {
        if (child + 1 < search->heap_count &&
                sooner(search, search->heap[child + 1], search->heap[child])) {
            child++;
        }
        if (!sooner(search, search->heap[child], last)) {
            break;
        }
        put(search, at, search->heap[child]);
        at = child;
    }
    if (search->heap_count > 0) {
        put(search, at, last);
    }
    return first;
}

/* A way of this length to `own`, the last straight of it from `from`. */
static void reach(struct search *search, uint32_t own, uint32_t from, double length_mm) {
    struct reached *reached = &search->reached[own];
    if (reached->done || !(length_mm < reached->length_mm)) {
        return;
    }
    const bool fresh = isinf(reached->length_mm);
    reached->length_mm = length_mm;
    reached->from = from;
    rise(search, fresh ? search->heap_count++ : reached->heap_at, own);
}

/* Straight on to the targets, asked only where that would be a gain. */
static void reach_targets(
        struct search *search, uint32_t own, uint32_t storey, const struct end *from) {
    const uint32_t first = (uint32_t)search->walk->node_count + 1;
    for (uint32_t i = 0; i < search->target_count; i++) {
        const struct walk_spot *target = &search->targets[i];
        const double length_mm = search->reached[own].length_mm +
                point_distance_mm(from->at, target->at) + target->reach_mm;
        const struct end to = {target->at, target->sector, false};
        if (target->storey == storey && length_mm < search->reached[first + i].length_mm &&
                leads(&search->walk->levels[storey], from, &to)) {
            reach(search, first + i, own, length_mm);
        }
    }
}

static void leave_source(struct search *search, uint32_t own) {
    struct walk *walk = search->walk;
    const struct walk_spot *source = &search->source;
    const struct end from = {source->at, source->sector, false};
    for (uint32_t i = 0; i < walk->node_count; i++) {
        const struct end to = end_of_node(&walk->nodes[i]);
        if (walk->nodes[i].storey == source->storey &&
                leads(&walk->levels[source->storey], &from, &to)) {
            reach(search, i, own, source->reach_mm + point_distance_mm(from.at, to.at));
        }
    }
    reach_targets(search, own, source->storey, &from);
}

static outcome leave_node(struct search *search, uint32_t own, struct problem *ret_problem) {
    struct walk *walk = search->walk;
    const struct walk_node *node = &walk->nodes[own];
    if (!node->known) {
        TRY(learn_edges(walk, own, ret_problem));
    }
    const double length_mm = search->reached[own].length_mm;
    for (size_t i = 0; i < node->edge_count; i++) {
        reach(search, node->edges[i].to, own, length_mm + node->edges[i].length_mm);
    }
    if (node->link_to != WALK_NOBODY) {
        reach(search, node->link_to, own, length_mm + node->link_mm);
    }
    const struct end from = end_of_node(node);
    reach_targets(search, own, node->storey, &from);
    return outcome_good();
}

static outcome run_search(struct search *search, struct problem *ret_problem) {
    const uint32_t source = (uint32_t)search->walk->node_count;
    search->reached[source].length_mm = search->source.reach_mm;
    search->reached[source].done = true;
    leave_source(search, source);
    while (search->heap_count > 0 && search->open_count > 0) {
        const uint32_t own = take_first(search);
        search->reached[own].done = true;
        if (own > source) {
            search->open_count--;
        } else {
            TRY(leave_node(search, own, ret_problem));
        }
    }
    return outcome_good();
}

static struct way_stop stop_at(const struct search *search, uint32_t own) {
    const uint32_t source = (uint32_t)search->walk->node_count;
    struct way_stop stop = {.after_mm = search->reached[own].length_mm};
    if (own < source) {
        stop.storey = search->walk->nodes[own].storey;
        stop.at = search->walk->nodes[own].at;
    } else {
        const struct walk_spot *spot =
                own == source ? &search->source : &search->targets[own - source - 1];
        stop.storey = spot->storey;
        stop.at = spot->at;
    }
    return stop;
}

/* Whether the middle one of three stops is no corner. */
static bool is_straight(struct way_stop a, struct way_stop b, struct way_stop c) {
    return a.storey == b.storey && b.storey == c.storey && point_turn(a.at, b.at, c.at) == 0 &&
            point_dot(point_step(a.at, b.at), point_step(b.at, c.at)) >= 0;
}

static outcome tell_way(const struct search *search, uint32_t target, struct arena *arena,
        struct way *ret_way, struct problem *ret_problem) {
    const uint32_t source = (uint32_t)search->walk->node_count;
    *ret_way = (struct way){0};
    if (!search->reached[target].done) {
        return outcome_good();
    }
    size_t count = 1;
    for (uint32_t own = target; own != source; own = search->reached[own].from) {
        count++;
    }
    struct way_stop *stops = ARENA_ARRAY(arena, struct way_stop, count);
    if (stops == NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory for a way of %zu corners", count);
    }
    size_t at = count;
    for (uint32_t own = target; own != source; own = search->reached[own].from) {
        stops[--at] = stop_at(search, own);
    }
    stops[0] = stop_at(search, source);
    size_t kept = 1;
    for (size_t i = 1; i < count; i++) {
        if (i + 1 == count || !is_straight(stops[kept - 1], stops[i], stops[i + 1])) {
            stops[kept++] = stops[i];
        }
    }
    *ret_way = (struct way){stops, kept, search->reached[target].length_mm};
    return outcome_good();
}

outcome walk_find(struct walk *walk, struct walk_place from, const struct walk_place *targets,
        size_t target_count, struct arena *arena, struct way *ret_ways,
        struct problem *ret_problem) {
    if (target_count > WALK_TARGETS_MOST) {
        FAIL(ret_problem, PROBLEM_LIMIT, "", "ways to %zu places at once; at most %d", target_count,
                WALK_TARGETS_MOST);
    }
    const size_t most = walk->node_count + 1 + target_count;
    struct search search = {.walk = walk, .target_count = target_count, .open_count = target_count};
    struct walk_spot *spots = ARENA_ARRAY(arena, struct walk_spot, target_count);
    struct way *ways = ARENA_ARRAY(arena, struct way, target_count);
    search.reached = ARENA_ARRAY(arena, struct reached, most);
    search.heap = ARENA_ARRAY(arena, uint32_t, most);
    if (spots == NULL || ways == NULL || search.reached == NULL || search.heap == NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory for a search over %zu corners", most);
    }
    TRY(walk_stand(walk, from, &search.source, ret_problem));
    for (size_t i = 0; i < target_count; i++) {
        TRY(walk_stand(walk, targets[i], &spots[i], ret_problem));
    }
    search.targets = spots;
    for (size_t i = 0; i < most; i++) {
        search.reached[i].length_mm = INFINITY;
    }
    TRY(run_search(&search, ret_problem));
    for (size_t i = 0; i < target_count; i++) {
        TRY(tell_way(&search, (uint32_t)(walk->node_count + 1 + i), arena, &ways[i], ret_problem));
    }
    memcpy(ret_ways, ways, target_count * sizeof *ways);
    return outcome_good();
}
