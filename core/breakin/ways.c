#include "breakin/ways.h"

static bool is_place(const struct breakin_graph *graph, int place) {
    return place >= 0 && (size_t)place < graph->place_count;
}

static bool is_time(int32_t seconds_s) {
    return seconds_s >= 0 && seconds_s <= BREAKIN_SECONDS_MAX;
}

static outcome look_over(const struct breakin_graph *graph, struct problem *ret_problem) {
    if (graph->place_count > BREAKIN_PLACE_MAX || graph->goal_count > BREAKIN_GOAL_MAX ||
            graph->portal_count > BREAKIN_STEP_MAX || graph->move_count > BREAKIN_STEP_MAX) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "the building has too many places or openings");
    }
    bool good = true;
    for (size_t i = 0; i < graph->portal_count; i++) {
        const struct breakin_portal *portal = &graph->portals[i];
        good = good && is_place(graph, portal->from) && is_place(graph, portal->to) &&
                is_time(portal->force_s) && is_time(portal->cross_s);
    }
    for (size_t i = 0; i < graph->move_count; i++) {
        const struct breakin_move *move = &graph->moves[i];
        good = good && is_place(graph, move->from) && is_place(graph, move->to) &&
                is_time(move->least_s);
    }
    for (size_t i = 0; i < graph->goal_count; i++) {
        good = good && is_place(graph, graph->goals[i].place) && is_time(graph->goals[i].takes_s);
    }
    for (size_t i = 0; i < graph->begin_count; i++) {
        good = good && is_place(graph, graph->begins[i]);
    }
    if (!good) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "",
                "a way of the break-in leads nowhere, or takes longer than a day");
    }
    return outcome_good();
}

static struct ways_edge edge_of(const struct breakin_graph *graph, size_t which) {
    if (which < graph->portal_count) {
        const struct breakin_portal *portal = &graph->portals[which];
        return (struct ways_edge){.from = portal->from,
                .to = portal->to,
                .takes_s = portal->force_s + portal->cross_s,
                .opens = &portal->opens,
                .trips = &portal->trips,
                .portal = true,
                .index = which};
    }
    const struct breakin_move *move = &graph->moves[which - graph->portal_count];
    return (struct ways_edge){.from = move->from,
            .to = move->to,
            .takes_s = move->least_s,
            .trips = &move->trips,
            .index = which - graph->portal_count};
}

/* The quickest first, so that of two ways which are alike the sooner is found first; else as they were. */
static void sort_by_time(struct ways_edge *edges, size_t count) {
    for (size_t i = 1; i < count; i++) {
        const struct ways_edge edge = edges[i];
        size_t at = i;
        for (; at > 0 && edge.takes_s < edges[at - 1].takes_s; at--) {
            edges[at] = edges[at - 1];
        }
        edges[at] = edge;
    }
}

/* By the place they lead from, each place's by their time, then in the order of the graph. */
static void sort_edges(struct ways *ways) {
    const struct breakin_graph *graph = ways->graph;
    for (size_t i = 0; i < ways->edge_count; i++) {
        ways->first[edge_of(graph, i).from + 1]++;
    }
    for (size_t place = 0; place < graph->place_count; place++) {
        ways->first[place + 1] += ways->first[place];
    }
    for (size_t i = ways->edge_count; i-- > 0;) {
        const struct ways_edge edge = edge_of(graph, i);
        ways->first[edge.from + 1]--;
        ways->edges[ways->first[edge.from + 1]] = edge;
    }
    /* first[place + 1] now stands where place begins: move down by one. */
    for (size_t place = 0; place < graph->place_count; place++) {
        ways->first[place] = ways->first[place + 1];
    }
    ways->first[graph->place_count] = (int32_t)ways->edge_count;
    for (size_t place = 0; place < graph->place_count; place++) {
        sort_by_time(&ways->edges[ways->first[place]],
                (size_t)(ways->first[place + 1] - ways->first[place]));
    }
}

/* Backward from the goal (Bellman 1958, Ford 1956, with a queue): the graph is small, and this runs once. */
static void measure(struct ways *ways, size_t goal, const int32_t *into, const int32_t *by_end,
        int32_t *queue, bool *waiting) {
    const size_t count = ways->graph->place_count;
    int32_t *far_s = &ways->far_s[goal * count];
    int32_t *next = &ways->next[goal * count];
    for (size_t place = 0; place < count; place++) {
        far_s[place] = BREAKIN_NEVER_S;
        next[place] = WAYS_NO_EDGE;
        waiting[place] = false;
    }
    size_t head = 0;
    size_t waits = 1;
    queue[0] = ways->graph->goals[goal].place;
    far_s[queue[0]] = 0;
    while (waits > 0) {
        const int32_t place = queue[head];
        head = (head + 1) % count;
        waits--;
        waiting[place] = false;
        for (int32_t i = into[place]; i < into[place + 1]; i++) {
            const struct ways_edge *edge = &ways->edges[by_end[i]];
            if (far_s[place] + edge->takes_s < far_s[edge->from]) {
                far_s[edge->from] = far_s[place] + edge->takes_s;
                next[edge->from] = by_end[i];
                if (!waiting[edge->from]) {
                    waiting[edge->from] = true;
                    queue[(head + waits) % count] = edge->from;
                    waits++;
                }
            }
        }
    }
}

/* The edges by the place they lead to. */
static void turn_round(const struct ways *ways, int32_t *into, int32_t *by_end) {
    const size_t count = ways->graph->place_count;
    for (size_t i = 0; i < ways->edge_count; i++) {
        into[ways->edges[i].to + 1]++;
    }
    for (size_t place = 0; place < count; place++) {
        into[place + 1] += into[place];
    }
    for (size_t i = ways->edge_count; i-- > 0;) {
        const int to = ways->edges[i].to;
        into[to + 1]--;
        by_end[into[to + 1]] = (int32_t)i;
    }
    for (size_t place = 0; place < count; place++) {
        into[place] = into[place + 1];
    }
    into[count] = (int32_t)ways->edge_count;
}

outcome ways_make(const struct breakin_graph *graph, struct arena *arena, struct ways *ret_ways,
        struct problem *ret_problem) {
    TRY(look_over(graph, ret_problem));
    const size_t places = graph->place_count;
    struct ways ways = {.graph = graph, .edge_count = graph->portal_count + graph->move_count};
    ways.edges = ARENA_ARRAY(arena, struct ways_edge, ways.edge_count + 1);
    ways.first = ARENA_ARRAY(arena, int32_t, places + 2);
    ways.far_s = ARENA_ARRAY(arena, int32_t, places * graph->goal_count + 1);
    ways.next = ARENA_ARRAY(arena, int32_t, places * graph->goal_count + 1);
    int32_t *into = ARENA_ARRAY(arena, int32_t, places + 2);
    int32_t *by_end = ARENA_ARRAY(arena, int32_t, ways.edge_count + 1);
    int32_t *queue = ARENA_ARRAY(arena, int32_t, places + 1);
    bool *waiting = ARENA_ARRAY(arena, bool, places + 1);
    if (ways.edges == NULL || ways.first == NULL || ways.far_s == NULL || ways.next == NULL ||
            into == NULL || by_end == NULL || queue == NULL || waiting == NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory for the ways of a break-in");
    }
    sort_edges(&ways);
    turn_round(&ways, into, by_end);
    for (size_t goal = 0; goal < graph->goal_count; goal++) {
        measure(&ways, goal, into, by_end, queue, waiting);
    }
    *ret_ways = ways;
    return outcome_good();
}
