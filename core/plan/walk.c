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

/* The corners of its storey that an end leads to, kept in the arena; `own` is left out. */
static outcome list_edges(struct walk *walk, uint32_t storey, const struct end *from, uint32_t own,
        const struct walk_edge **ret_edges, size_t *ret_count, struct problem *ret_problem) {
    size_t count = 0;
    for (uint32_t i = 0; i < walk->node_count; i++) {
        if (i == own || walk->nodes[i].storey != storey) {
            continue;
        }
        const struct end to = end_of_node(&walk->nodes[i]);
        if (leads(&walk->levels[storey], from, &to)) {
            walk->scratch[count++] = (struct walk_edge){i, point_distance_mm(from->at, to.at)};
        }
    }
    struct walk_edge *edges = ARENA_ARRAY(walk->arena, struct walk_edge, count);
    if (edges == NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory for the lines between %zu corners",
                walk->node_count);
    }
    memcpy(edges, walk->scratch, count * sizeof *edges);
    *ret_edges = edges;
    *ret_count = count;
    return outcome_good();
}

static struct end end_of_spot(const struct walk_spot *spot) {
    return (struct end){spot->at, spot->sector, false};
}

static bool same_place(const struct walk_place *a, const struct walk_place *b) {
    return a->storey == b->storey && point_equal(a->at, b->at) && point_equal(a->into, b->into);
}

/* Where in the table a place is, or would be. */
static size_t slot_of(const struct walk *walk, const struct walk_place *place) {
    const int32_t parts[5] = {(int32_t)place->storey, place->at.x_mm, place->at.y_mm,
            place->into.x_mm, place->into.y_mm};
    uint64_t sum = 0;
    for (size_t i = 0; i < 5; i++) {
        sum = (sum ^ (uint32_t)parts[i]) *
                UINT64_C(0x9E3779B97F4A7C15); /* 2^64 by the golden ratio */
        sum ^= sum >> 29;
    }
    size_t slot = (size_t)(sum % WALK_SLOTS);
    while (walk->known[slot] != NULL && !same_place(&walk->known[slot]->place, place)) {
        slot = (slot + 1) % WALK_SLOTS;
    }
    return slot;
}

/* A place with its lines to corners; worked out when it is first asked for. */
static outcome know_place(struct walk *walk, struct walk_place place,
        const struct walk_known **ret_known, struct problem *ret_problem) {
    const size_t slot = slot_of(walk, &place);
    if (walk->known[slot] == NULL) {
        struct walk_known *known = ARENA_NEW(walk->arena, struct walk_known);
        if (known == NULL) {
            FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory for a place that ways lead to");
        }
        known->place = place;
        TRY(walk_stand(walk, place, &known->spot, ret_problem));
        const struct end from = end_of_spot(&known->spot);
        TRY(list_edges(walk, place.storey, &from, WALK_NOBODY, &known->edges, &known->edge_count,
                ret_problem));
        if (walk->known_count == WALK_PLACES_MOST) {
            *ret_known = known; /* used this once */
            return outcome_good();
        }
        walk->known[slot] = known;
        walk->known_count++;
    }
    *ret_known = walk->known[slot];
    return outcome_good();
}

/* What a search knows of a node, of the source (after the nodes) and of each target (after it). */
struct reached {
    double length_mm;
    uint32_t from;
    uint32_t heap_at;
    bool done;
};

/* A straight from a node to a target; next: of the same node. */
struct last_leg {
    uint32_t target;
    uint32_t next;
    double length_mm;
};

struct search {
    struct walk *walk;
    const struct walk_known *source;
    const struct walk_known **targets;
    size_t target_count;
    size_t open_count; /* targets not yet done */
    struct reached *reached;
    uint32_t *heap;
    size_t heap_count;
    struct last_leg *legs;
    uint32_t *first_legs; /* of each node */
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

/* To the corners it sees, and straight to the targets it sees. */
static void leave_source(struct search *search, uint32_t own) {
    const struct walk_known *source = search->source;
    const struct walk_spot *spot = &source->spot;
    const struct end from = end_of_spot(spot);
    for (size_t i = 0; i < source->edge_count; i++) {
        reach(search, source->edges[i].to, own, spot->reach_mm + source->edges[i].length_mm);
    }
    for (uint32_t i = 0; i < search->target_count; i++) {
        const struct walk_spot *target = &search->targets[i]->spot;
        const struct end to = end_of_spot(target);
        if (target->storey == spot->storey &&
                leads(&search->walk->levels[spot->storey], &from, &to)) {
            reach(search, own + 1 + i, own,
                    spot->reach_mm + point_distance_mm(from.at, to.at) + target->reach_mm);
        }
    }
}

static outcome leave_node(struct search *search, uint32_t own, struct problem *ret_problem) {
    struct walk *walk = search->walk;
    struct walk_node *node = &walk->nodes[own];
    if (!node->known) {
        const struct end from = end_of_node(node);
        TRY(list_edges(
                walk, node->storey, &from, own, &node->edges, &node->edge_count, ret_problem));
        node->known = true;
    }
    const double length_mm = search->reached[own].length_mm;
    for (size_t i = 0; i < node->edge_count; i++) {
        reach(search, node->edges[i].to, own, length_mm + node->edges[i].length_mm);
    }
    if (node->link_to != WALK_NOBODY) {
        reach(search, node->link_to, own, length_mm + node->link_mm);
    }
    for (uint32_t leg = search->first_legs[own]; leg != WALK_NOBODY; leg = search->legs[leg].next) {
        reach(search, search->legs[leg].target, own, length_mm + search->legs[leg].length_mm);
    }
    return outcome_good();
}

static outcome run_search(struct search *search, struct problem *ret_problem) {
    const uint32_t source = (uint32_t)search->walk->node_count;
    search->reached[source].length_mm = search->source->spot.reach_mm;
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
        const struct walk_known *known =
                own == source ? search->source : search->targets[own - source - 1];
        const struct walk_spot *spot = &known->spot;
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

/* Hangs each target's lines on the corners that it sees. */
static outcome hang_legs(struct search *search, struct arena *arena, struct problem *ret_problem) {
    const size_t node_count = search->walk->node_count;
    size_t count = 0;
    for (size_t i = 0; i < search->target_count; i++) {
        count += search->targets[i]->edge_count;
    }
    search->legs = ARENA_ARRAY(arena, struct last_leg, count);
    search->first_legs = ARENA_ARRAY(arena, uint32_t, node_count);
    if (search->legs == NULL || search->first_legs == NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory for %zu lines to places", count);
    }
    for (size_t i = 0; i < node_count; i++) {
        search->first_legs[i] = WALK_NOBODY;
    }
    uint32_t next = 0;
    for (size_t i = 0; i < search->target_count; i++) {
        const struct walk_known *target = search->targets[i];
        for (size_t k = 0; k < target->edge_count; k++) {
            uint32_t *first = &search->first_legs[target->edges[k].to];
            search->legs[next] = (struct last_leg){(uint32_t)(node_count + 1 + i), *first,
                    target->edges[k].length_mm + target->spot.reach_mm};
            *first = next++;
        }
    }
    return outcome_good();
}

/* What a search needs before it sets out: its places known, room for what it finds. */
static outcome prepare(struct search *search, struct walk_place from,
        const struct walk_place *targets, struct arena *arena, struct problem *ret_problem) {
    const size_t most = search->walk->node_count + 1 + search->target_count;
    search->targets = ARENA_ARRAY(arena, const struct walk_known *, search->target_count);
    search->reached = ARENA_ARRAY(arena, struct reached, most);
    search->heap = ARENA_ARRAY(arena, uint32_t, most);
    if (search->targets == NULL || search->reached == NULL || search->heap == NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory for a search over %zu corners", most);
    }
    TRY(know_place(search->walk, from, &search->source, ret_problem));
    for (size_t i = 0; i < search->target_count; i++) {
        TRY(know_place(search->walk, targets[i], &search->targets[i], ret_problem));
    }
    for (size_t i = 0; i < most; i++) {
        search->reached[i].length_mm = INFINITY;
    }
    return hang_legs(search, arena, ret_problem);
}

outcome walk_find(struct walk *walk, struct walk_place from, const struct walk_place *targets,
        size_t target_count, struct arena *arena, struct way *ret_ways,
        struct problem *ret_problem) {
    if (target_count > WALK_TARGETS_MOST) {
        FAIL(ret_problem, PROBLEM_LIMIT, "", "ways to %zu places at once; at most %d", target_count,
                WALK_TARGETS_MOST);
    }
    struct search search = {.walk = walk, .target_count = target_count, .open_count = target_count};
    TRY(prepare(&search, from, targets, arena, ret_problem));
    TRY(run_search(&search, ret_problem));
    struct way *ways = ARENA_ARRAY(arena, struct way, target_count);
    if (ways == NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory for %zu ways", target_count);
    }
    for (size_t i = 0; i < target_count; i++) {
        TRY(tell_way(&search, (uint32_t)(walk->node_count + 1 + i), arena, &ways[i], ret_problem));
    }
    memcpy(ret_ways, ways, target_count * sizeof *ways);
    return outcome_good();
}
