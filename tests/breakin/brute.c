#include "brute.h"

#include "breakin/moment.h"

#include <stdlib.h>
#include <string.h>

enum { FAR = 1000000 };

struct state {
    struct moment moment;
    int place;
};

/* Reached states are told apart by two independent 64-bit sums; the states themselves wait on a stack. */
struct seen {
    uint64_t a;
    uint64_t b;
};

struct brute {
    struct moments moments;
    const struct building *building;
    struct seen *seen;
    size_t slot_count;
    size_t count;
    size_t limit;
    struct state *stack;
    size_t stacked;
    size_t stack_room;
    int32_t far_s[BUILDING_PLACES][BUILDING_PLACES];
    struct brute_answer *answers;
    bool too_many;
};

static uint64_t sum(const void *bytes, size_t size, uint64_t seed) {
    const unsigned char *at = bytes;
    uint64_t hash = seed;
    for (size_t i = 0; i < size; i += sizeof hash) {
        uint64_t word = 0;
        memcpy(&word, at + i, sizeof word);
        hash = (hash ^ word) * 0x100000001B3ULL;
        hash ^= hash >> 29;
    }
    return hash;
}

static struct seen seen_of(const struct state *state) {
    struct seen seen = {0xCBF29CE484222325ULL + (unsigned)state->place,
            0x84222325CBF29CE4ULL + 7 * (unsigned)state->place};
    seen.a = sum(&state->moment.mode, sizeof state->moment.mode, seen.a);
    seen.a = sum(state->moment.left_s, sizeof state->moment.left_s, seen.a) | 1U;
    seen.b = sum(state->moment.left_s, sizeof state->moment.left_s, seen.b);
    seen.b = sum(&state->moment.mode, sizeof state->moment.mode, seen.b);
    return seen;
}

static bool is_new(struct brute *brute, const struct state *state) {
    const struct seen seen = seen_of(state);
    size_t slot = (size_t)(seen.a ^ seen.b >> 7) & (brute->slot_count - 1);
    while (brute->seen[slot].a != 0) {
        if (brute->seen[slot].a == seen.a && brute->seen[slot].b == seen.b) {
            return false;
        }
        slot = (slot + 1) & (brute->slot_count - 1);
    }
    brute->seen[slot] = seen;
    brute->count++;
    return true;
}

static void found(struct brute *brute, size_t goal, int32_t late_s) {
    struct brute_answer *answer = &brute->answers[goal];
    if (!answer->any || late_s > answer->late_s) {
        *answer = (struct brute_answer){.any = true, .late_s = late_s};
    }
}

static void reach(struct brute *brute, const struct state *state) {
    const struct breakin_graph *graph = &brute->building->graph;
    if (state->moment.age_s >= 0) {
        for (size_t goal = 0; goal < graph->goal_count; goal++) {
            const int32_t far_s = brute->far_s[state->place][graph->goals[goal].place];
            if (far_s < FAR) {
                found(brute, goal, -state->moment.age_s - far_s - graph->goals[goal].takes_s);
            }
        }
        return;
    }
    if (brute->count >= brute->limit) {
        brute->too_many = true;
        return;
    }
    if (!is_new(brute, state)) {
        return;
    }
    if (brute->stacked == brute->stack_room) {
        brute->stack_room = brute->stack_room == 0 ? 256 : 2 * brute->stack_room;
        brute->stack = realloc(brute->stack, brute->stack_room * sizeof brute->stack[0]);
        if (brute->stack == NULL) {
            abort();
        }
    }
    brute->stack[brute->stacked++] = *state;
}

static void go(struct brute *brute, const struct state *state, int to, int32_t takes_s,
        const struct panel_zones *opens, const struct panel_zones *trips) {
    static const struct panel_zones none = {{0, 0}};
    struct state after = *state;
    after.place = to;
    moment_pass(&brute->moments, &after.moment, takes_s);
    const struct state arrived = after;
    for (int variant = 0; variant < 4; variant++) {
        after = arrived;
        if ((variant & 1) != 0) {
            moment_settle(&brute->moments, &after.moment);
        }
        moment_notice(&brute->moments, &after.moment, opens == NULL ? &none : opens, trips,
                (variant & 2) != 0);
        reach(brute, &after);
    }
}

static void expand(struct brute *brute, const struct state *state) {
    const struct breakin_graph *graph = &brute->building->graph;
    for (size_t goal = 0; goal < graph->goal_count; goal++) {
        if (graph->goals[goal].place == state->place) {
            struct moment trial = state->moment;
            const int32_t heard_s = moment_heard_in_s(&brute->moments, &trial);
            found(brute, goal,
                    heard_s == BREAKIN_NEVER_S ? heard_s : heard_s - graph->goals[goal].takes_s);
        }
    }
    for (size_t i = 0; i < graph->portal_count; i++) {
        const struct breakin_portal *portal = &graph->portals[i];
        if (portal->from == state->place) {
            go(brute, state, portal->to, portal->force_s + portal->cross_s, &portal->opens,
                    &portal->trips);
        }
    }
    for (size_t i = 0; i < graph->move_count; i++) {
        const struct breakin_move *move = &graph->moves[i];
        if (move->from == state->place) {
            go(brute, state, move->to, move->least_s, NULL, &move->trips);
        }
    }
    struct state after = *state; /* a second more */
    moment_pass(&brute->moments, &after.moment, 1);
    reach(brute, &after);
    after = *state; /* what is due comes first */
    moment_settle(&brute->moments, &after.moment);
    reach(brute, &after);
}

/* Floyd 1962, Warshall 1962. */
static void measure(struct brute *brute) {
    const struct breakin_graph *graph = &brute->building->graph;
    for (size_t a = 0; a < BUILDING_PLACES; a++) {
        for (size_t b = 0; b < BUILDING_PLACES; b++) {
            brute->far_s[a][b] = a == b ? 0 : FAR;
        }
    }
    for (size_t i = 0; i < graph->portal_count + graph->move_count; i++) {
        const bool portal = i < graph->portal_count;
        const struct breakin_portal *p = &graph->portals[portal ? i : 0];
        const struct breakin_move *m = &graph->moves[portal ? 0 : i - graph->portal_count];
        int32_t *at = portal ? &brute->far_s[p->from][p->to] : &brute->far_s[m->from][m->to];
        const int32_t takes_s = portal ? p->force_s + p->cross_s : m->least_s;
        *at = takes_s < *at ? takes_s : *at;
    }
    for (size_t by = 0; by < BUILDING_PLACES; by++) {
        for (size_t a = 0; a < BUILDING_PLACES; a++) {
            for (size_t b = 0; b < BUILDING_PLACES; b++) {
                const int32_t over_s = brute->far_s[a][by] + brute->far_s[by][b];
                brute->far_s[a][b] = over_s < brute->far_s[a][b] ? over_s : brute->far_s[a][b];
            }
        }
    }
}

bool brute_search(const struct building *building, size_t state_limit,
        struct brute_answer *ret_answers, size_t *ret_states) {
    const struct devices_world world = devices_world_of(&building->site, &building->program,
            &building->graph, &building->start, &building->options);
    static struct panel_outputs outputs;
    struct brute brute = {.moments = {.world = &world, .outputs = &outputs},
            .building = building,
            .slot_count = 1,
            .limit = state_limit,
            .answers = ret_answers};
    while (brute.slot_count < 2 * state_limit) {
        brute.slot_count *= 2;
    }
    brute.seen = calloc(brute.slot_count, sizeof brute.seen[0]);
    if (brute.seen == NULL) {
        abort();
    }
    memset(ret_answers, 0, building->graph.goal_count * sizeof ret_answers[0]);
    measure(&brute);
    struct state begin = {.place = building->graph.begins[0]};
    moment_begin(&brute.moments, &begin.moment);
    reach(&brute, &begin);
    while (brute.stacked > 0 && !brute.too_many) {
        const struct state state = brute.stack[--brute.stacked];
        expand(&brute, &state);
    }
    free(brute.seen);
    free(brute.stack);
    *ret_states = brute.count;
    return !brute.too_many;
}
