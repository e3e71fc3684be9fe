/* The fewest further detectors against the minimum cut of a general-purpose library (igraph), on random rooms and
 * openings whose detectors have no delay.
 *
 * A further detector notices whoever passes its opening or comes into its room, so the fewest that notice every way are
 * a smallest cut of openings and rooms (Ford and Fulkerson 1956; each opening and room is a vertex that lets one unit
 * through). In time: what is tripped nearer to what he is after than alarm and help take is of no use, as he then goes
 * the quickest way on; such places are joined to the goal. The graph is that of rooms.h; times and flow are igraph's,
 * and nothing is searched.
 *
 * cut_test FIRST COUNT: the buildings of these seeds. */
#include "breakin/additions.h"
#include "host/host.h"
#include "support/random_site.h"

#include <igraph.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum {
    ROOMS = 7,
    OPENINGS = 14,
    ZONES = 4,
    ABORT_S = 10,
    ALARM_S = 11, /* a tenth later at the most */
    NODES = 2 + 3 * OPENINGS + 2 * (ROOMS + OPENINGS) + 8,
    ARCS = 800,
};

enum claim { CLAIM_IN_TIME, CLAIM_AT_ALL, CLAIM_APPLIED, CLAIMS };

static const char *const CLAIM_NAMES[CLAIMS] = {
        "as many detectors as igraph's minimum cut, to be heard in time",
        "as many detectors as igraph's minimum cut, to be heard at all",
        "with them applied nothing flows any more",
};

struct tally {
    size_t held[CLAIMS];
    size_t broken[CLAIMS];
    size_t by_count[ADDITIONS_MOST + 2]; /* the last: more than are offered, or none helps */
};

/* A random building: openings from the street and between rooms, a few watched, one thing in a room. */
struct plan {
    struct site site;
    struct site_area area;
    struct site_zone zones[ZONES];
    struct site_device devices[ZONES];
    struct site_device_profile profiles[ZONES];
    struct site_break_in_room rooms[ROOMS];
    struct site_break_in_opening openings[OPENINGS];
    struct site_break_in_notice notices[ZONES];
    struct site_break_in_goal goal;
    struct site_break_in_start start;
    bool walked
            [ROOMS]; /* people go about there: a follower sees it, which is off while it is set */
};

/* ---- random buildings -------------------------------------------------------------------------------------------- */

static int32_t draw(uint64_t *state, int32_t low, int32_t high) {
    return low + (int32_t)(random_next(state) % ((uint64_t)(high - low) + 1));
}

static bool chance(uint64_t *state, int32_t percent) {
    return draw(state, 0, 99) < percent;
}

static void draw_openings(uint64_t *state, struct plan *plan) {
    struct site_break_ins *said = &plan->site.break_ins;
    said->room_count = (size_t)draw(state, 2, ROOMS);
    said->opening_count = (size_t)draw(state, (int32_t)said->room_count, OPENINGS);
    for (size_t i = 0; i < said->room_count; i++) {
        plan->rooms[i] =
                (struct site_break_in_room){.name = text_of("room"), .across_s = draw(state, 1, 4)};
    }
    for (size_t i = 0; i < said->opening_count; i++) {
        struct site_break_in_opening *opening = &plan->openings[i];
        const int rooms = (int)said->room_count;
        const int to = i < said->room_count ? (int)i : draw(state, 0, rooms - 1);
        int from = chance(state, 35) ? SITE_NONE : draw(state, 0, rooms - 1);
        from = from == to ? SITE_NONE : from;
        *opening = (struct site_break_in_opening){.name = text_of("opening"),
                .door = SITE_NONE,
                .from = from,
                .to = to,
                .material = SITE_NONE,
                .force_s = chance(state, 60) ? draw(state, 1, 12) : 0,
                .cross_s = draw(state, 0, 2)};
        opening->bare = opening->force_s == 0 && chance(state, 25);
        opening->pane = opening->force_s > 0 && chance(state, 30);
    }
    plan->goal = (struct site_break_in_goal){.name = text_of("safe"),
            .room = draw(state, 0, (int32_t)said->room_count - 1),
            .reach_s = draw(state, 0, 3),
            .takes_s = draw(state, 0, 14)};
    said->help_s = chance(state, 50) ? draw(state, 1, 8) : 0;
}

/* Rooms and openings that are watched already, without delay; and rooms where a follower sees people go about. */
static void draw_zones(uint64_t *state, struct plan *plan) {
    struct site_break_ins *said = &plan->site.break_ins;
    plan->site.zone_count = (size_t)draw(state, 1, ZONES);
    for (size_t i = 0; i < plan->site.zone_count; i++) {
        const bool follower = chance(state, 50);
        const bool at_opening = !follower && chance(state, 50);
        const int which = at_opening ? draw(state, 0, (int32_t)said->opening_count - 1)
                                     : draw(state, 0, (int32_t)said->room_count - 1);
        plan->profiles[i] = (struct site_device_profile){.name = text_of("device"),
                .sense = !at_opening                        ? SITE_MOTION
                        : plan->openings[which].force_s > 0 ? SITE_SHOCK
                                                            : SITE_CONTACT};
        plan->devices[i] = (struct site_device){.name = text_of("device"),
                .profile = (int)i,
                .door = SITE_NONE,
                .keypad = SITE_NONE,
                .person = SITE_NONE};
        plan->zones[i] = (struct site_zone){.number = (int32_t)i + 1,
                .name = text_of("zone"),
                .device = (int)i,
                .door = SITE_NONE,
                .behaviour = follower ? SITE_FOLLOWER : SITE_PERIMETER,
                .reports = true,
                .pulse_count = 1,
                .cross_with = SITE_NONE};
        for (int mode = 0; mode < SITE_MODE_MAX; mode++) {
            plan->zones[i].in[mode] = follower ? SITE_OUT : SITE_PERIMETER;
            plan->zones[i].delay[mode] = SITE_NONE;
        }
        plan->walked[at_opening ? 0 : which] |= follower;
        if (!at_opening || !plan->openings[which].bare) {
            plan->notices[said->notice_count++] = (struct site_break_in_notice){.zone = (int)i,
                    .room = at_opening ? SITE_NONE : which,
                    .opening = at_opening ? which : SITE_NONE};
        }
    }
}

static void draw_plan(uint64_t seed, struct plan *plan) {
    uint64_t state = seed * 0x9E3779B97F4A7C15ULL + 1;
    (void)random_next(&state);
    *plan = (struct plan){.site = {.areas = &plan->area,
                                  .area_count = 1,
                                  .zones = plan->zones,
                                  .devices = plan->devices,
                                  .device_count = ZONES,
                                  .device_profiles = plan->profiles,
                                  .device_profile_count = ZONES,
                                  .settings = site_settings_usual()}};
    plan->site.settings.abort_window_s = ABORT_S;
    plan->site.settings.tolerance_tenths = 1;
    plan->start.areas[0] = (struct site_start){.set = true, .mode = SITE_MODE_FULL};
    plan->site.break_ins = (struct site_break_ins){.said = true,
            .rooms = plan->rooms,
            .openings = plan->openings,
            .notices = plan->notices,
            .goals = &plan->goal,
            .goal_count = 1,
            .starts = &plan->start,
            .start_count = 1};
    draw_openings(&state, plan);
    draw_zones(&state, plan);
}

/* ---- igraph's opinion -------------------------------------------------------------------------------------------- */

/* Nodes: the graph's places, then two for each room and each opening, then the end. */
struct net {
    const struct plan *plan;
    const struct rooms *rooms;
    const struct additions *added;
    bool at_all;
    igraph_vector_int_t ends;
    igraph_vector_t capacities;
    double ahead_s[NODES]; /* from a place until he has it; infinite: he never does */
};

static const double FREE = 1000;

static void must(igraph_error_t error) {
    if (error != IGRAPH_SUCCESS) {
        printf("Bail out! igraph: %s\n", igraph_strerror(error));
        exit(1);
    }
}

static void add_arc(struct net *net, size_t from, size_t to, double capacity) {
    must(igraph_vector_int_push_back(&net->ends, (igraph_integer_t)from));
    must(igraph_vector_int_push_back(&net->ends, (igraph_integer_t)to));
    must(igraph_vector_push_back(&net->capacities, capacity));
}

/* Seconds ahead of each place, by igraph's Dijkstra. */
static void measure(struct net *net) {
    const struct breakin_graph *graph = &net->rooms->graph;
    igraph_vector_int_t ends;
    igraph_vector_t weights;
    igraph_matrix_t lengths;
    igraph_t times;
    must(igraph_vector_int_init(&ends, 0));
    must(igraph_vector_init(&weights, 0));
    must(igraph_matrix_init(&lengths, 0, 0));
    for (size_t i = 0; i < graph->portal_count; i++) {
        must(igraph_vector_int_push_back(&ends, graph->portals[i].from));
        must(igraph_vector_int_push_back(&ends, graph->portals[i].to));
        must(igraph_vector_push_back(
                &weights, graph->portals[i].force_s + graph->portals[i].cross_s));
    }
    for (size_t i = 0; i < graph->move_count; i++) {
        must(igraph_vector_int_push_back(&ends, graph->moves[i].from));
        must(igraph_vector_int_push_back(&ends, graph->moves[i].to));
        must(igraph_vector_push_back(&weights, graph->moves[i].least_s));
    }
    must(igraph_create(&times, &ends, (igraph_integer_t)graph->place_count, IGRAPH_DIRECTED));
    must(igraph_distances_dijkstra(&times, &lengths, igraph_vss_all(),
            igraph_vss_1(graph->goals[0].place), &weights, IGRAPH_OUT));
    for (size_t place = 0; place < graph->place_count; place++) {
        net->ahead_s[place] = MATRIX(lengths, (igraph_integer_t)place, 0) + graph->goals[0].takes_s;
    }
    igraph_destroy(&times);
    igraph_matrix_destroy(&lengths);
    igraph_vector_destroy(&weights);
    igraph_vector_int_destroy(&ends);
}

static bool is_added(const struct net *net, bool opening, size_t index) {
    for (size_t i = 0; net->added != NULL && i < net->added->count; i++) {
        if (net->added->list[i].opening == opening && net->added->list[i].index == index) {
            return true;
        }
    }
    return false;
}

/* What a room or an opening lets through: nothing where it is watched, one where a detector may be added. */
static double capacity_of(const struct net *net, bool opening, size_t index) {
    const struct plan *plan = net->plan;
    const struct site_break_ins *said = &plan->site.break_ins;
    for (size_t i = 0; i < said->notice_count; i++) {
        const int at = opening ? said->notices[i].opening : said->notices[i].room;
        if (at == (int)index && plan->zones[said->notices[i].zone].behaviour == SITE_PERIMETER) {
            return 0;
        }
    }
    return is_added(net, opening, index) ? 0
            : opening                    ? (plan->openings[index].bare ? FREE : 1)
                                         : (plan->walked[index] ? FREE : 1);
}

static double flow_of(struct net *net) {
    const struct breakin_graph *graph = &net->rooms->graph;
    const struct site_break_ins *said = &net->plan->site.break_ins;
    const size_t room_at = graph->place_count;
    const size_t opening_at = room_at + 2 * said->room_count;
    const size_t end = opening_at + 2 * said->opening_count;
    igraph_t net_graph;
    igraph_real_t value = 0;
    must(igraph_vector_int_init(&net->ends, 0));
    must(igraph_vector_init(&net->capacities, 0));
    measure(net);
    for (size_t i = 0; i < said->room_count; i++) {
        add_arc(net, room_at + 2 * i, room_at + 2 * i + 1, capacity_of(net, false, i));
    }
    for (size_t i = 0; i < said->opening_count; i++) {
        add_arc(net, opening_at + 2 * i, opening_at + 2 * i + 1, capacity_of(net, true, i));
    }
    for (size_t i = 0; i < graph->portal_count; i++) {
        const struct breakin_portal *portal = &graph->portals[i];
        const size_t opening = opening_at + 2 * (size_t)net->rooms->opening[i];
        const int room = net->rooms->room[portal->to];
        if (!net->at_all && net->ahead_s[portal->to] <= ALARM_S + said->help_s) {
            add_arc(net, (size_t)portal->from, end, FREE); /* whatever notices it is too late */
            continue;
        }
        add_arc(net, (size_t)portal->from, opening, FREE);
        if (room == SITE_NONE) {
            add_arc(net, opening + 1, (size_t)portal->to, FREE);
        } else {
            add_arc(net, opening + 1, room_at + 2 * (size_t)room, FREE);
            add_arc(net, room_at + 2 * (size_t)room + 1, (size_t)portal->to, FREE);
        }
    }
    for (size_t i = 0; i < graph->move_count; i++) {
        add_arc(net, (size_t)graph->moves[i].from, (size_t)graph->moves[i].to, FREE);
    }
    add_arc(net, (size_t)graph->goals[0].place, end, FREE);
    must(igraph_create(&net_graph, &net->ends, (igraph_integer_t)end + 1, IGRAPH_DIRECTED));
    must(igraph_maxflow_value(
            &net_graph, &value, graph->begins[0], (igraph_integer_t)end, &net->capacities, NULL));
    igraph_destroy(&net_graph);
    igraph_vector_destroy(&net->capacities);
    igraph_vector_int_destroy(&net->ends);
    return value;
}

/* ---- the claims -------------------------------------------------------------------------------------------------- */

static void claim(struct tally *tally, uint64_t seed, enum claim which, bool holds, double flow,
        const struct additions *found) {
    tally->held[which] += holds;
    if (holds) {
        return;
    }
    tally->broken[which]++;
    printf("# building %llu: not so: %s: cut %g, %zu added, %zu searches\n",
            (unsigned long long)seed, CLAIM_NAMES[which], flow, found->count, found->searches);
}

static void try_plan(uint64_t seed, struct plan *plan, struct tally *tally) {
    for (int at_all = 0; at_all < 2; at_all++) {
        struct arena arena;
        struct rooms rooms;
        struct additions found = {.count = 0};
        struct problem problem = {0};
        const struct additions_wish wish = {
                .site = &plan->site, .at_all = at_all != 0, .options = rooms_options(&plan->site)};
        arena_init(&arena, host_pages(), 0);
        if (!rooms_graph(&plan->site, &arena, &rooms, &problem).good ||
                !additions_find(&wish, host_pages(), &arena, &found, &problem).good) {
            printf("# building %llu: %s\n", (unsigned long long)seed, problem.text);
            tally->broken[at_all]++;
            arena_finish(&arena);
            continue;
        }
        struct net net = {.plan = plan, .rooms = &rooms, .at_all = at_all != 0};
        const double flow = flow_of(&net);
        const bool can = flow <= ADDITIONS_MOST;
        tally->by_count[can ? (size_t)flow : ADDITIONS_MOST + 1]++;
        claim(tally, seed, at_all != 0 ? CLAIM_AT_ALL : CLAIM_IN_TIME,
                (double)found.count == (can ? flow : 0), flow, &found);
        if (found.count > 0) {
            net.added = &found;
            claim(tally, seed, CLAIM_APPLIED, flow_of(&net) == 0, flow, &found);
        }
        arena_finish(&arena);
    }
}

int main(int count, char **words) {
    static struct tally tally;
    static struct plan plan;
    const uint64_t first = count > 1 ? strtoull(words[1], NULL, 10) : 0;
    const uint64_t many = count > 2 ? strtoull(words[2], NULL, 10) : 100;
    igraph_set_error_handler(igraph_error_handler_ignore);
    for (uint64_t seed = first; seed < first + many; seed++) {
        draw_plan(seed, &plan);
        try_plan(seed, &plan, &tally);
    }
    int failed = 0;
    printf("# %llu buildings from %llu, cut of", (unsigned long long)many,
            (unsigned long long)first);
    for (size_t i = 0; i <= ADDITIONS_MOST; i++) {
        printf(" %zu: %zu,", i, tally.by_count[i]);
    }
    printf(" more: %zu\n1..%d\n", tally.by_count[ADDITIONS_MOST + 1], CLAIMS);
    for (int which = 0; which < CLAIMS; which++) {
        const bool good = tally.broken[which] == 0 && tally.held[which] > 0;
        failed += !good;
        printf("%s %d - %s (%zu)\n", good ? "ok" : "not ok", which + 1, CLAIM_NAMES[which],
                tally.held[which]);
    }
    return failed == 0 ? 0 : 1;
}
