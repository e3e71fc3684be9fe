/* The graph as edges, and the shortest times to each goal whatever notices it. Not for use outside this folder. */
#ifndef LINTEL_BREAKIN_WAYS_H
#define LINTEL_BREAKIN_WAYS_H

#include "breakin/breakin.h"

enum { WAYS_NO_EDGE = -1 };

/** A portal or a move. */
struct ways_edge {
    int from;
    int to;
    int32_t takes_s;
    const struct panel_zones *opens; /* NULL: none */
    const struct panel_zones *trips;
    bool portal;
    size_t index;
};

/** edges: by the place they lead from; first[place] .. first[place + 1] are its own. far_s, next: per goal and place,
 *  goal * place_count + place: seconds to the goal's place (BREAKIN_NEVER_S: no way) and the edge to take. */
struct ways {
    const struct breakin_graph *graph;
    struct ways_edge *edges;
    size_t edge_count;
    int32_t *first;
    int32_t *far_s;
    int32_t *next;
};

/** Makes the ways of a graph, in the arena; the graph is kept. Fails PROBLEM_BAD_VALUE, PROBLEM_MEMORY. */
outcome ways_make(const struct breakin_graph *graph, struct arena *arena, struct ways *ret_ways,
        struct problem *ret_problem) MUST_CHECK;

static inline int32_t ways_far_s(const struct ways *ways, size_t goal, int place) {
    return ways->far_s[goal * ways->graph->place_count + (size_t)place];
}
static inline int32_t ways_next(const struct ways *ways, size_t goal, int place) {
    return ways->next[goal * ways->graph->place_count + (size_t)place];
}

#endif
