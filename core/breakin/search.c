/* The search: from label to label, the earliest first. */
#include "breakin/bound.h"
#include "breakin/labels.h"
#include "breakin/ways.h"

enum { ASK_EVERY = 512 };

/* The best so far for one goal. late_s: from his having it to being heard (negative: heard before); BREAKIN_NEVER_S:
 * never heard. tail: the rest of the way from the label is the shortest. */
struct best {
    bool any;
    int32_t late_s;
    int32_t label;
    bool tail;
};

struct search {
    struct moments moments;
    struct ways ways;
    struct labels labels;
    struct best best[BREAKIN_GOAL_MAX];
    int32_t open_s
            [BREAKIN_GOAL_MAX]; /* how late what was not gone on from may be heard at the most */
    struct moment now;          /* gone on from */
    struct moment after;        /* one of what it leads to */
    struct moment trial;        /* played on */
    bool overflowed;
    bool stopped;
};

/* Whether a timer runs that suits him, and one that threatens him. */
static bool is_torn(const struct search *search, const struct moment *at) {
    bool suits = false;
    bool threatens = false;
    for (size_t i = 0; i < at->mode.timer_count; i++) {
        const enum devices_sway sway = devices_presses(at->mode.timers[i])
                ? devices_sway_of(search->moments.world, at->mode.timers[i])
                : DEVICES_EQUAL;
        suits = suits || sway == DEVICES_SUITS || sway == DEVICES_EITHER;
        threatens = threatens || sway == DEVICES_THREATENS || sway == DEVICES_EITHER;
    }
    return suits && threatens;
}

static void better(struct search *search, size_t goal, int32_t late_s, int32_t label, bool tail) {
    struct best *best = &search->best[goal];
    if (!best->any || late_s > best->late_s) {
        *best = (struct best){.any = true, .late_s = late_s, .label = label, .tail = tail};
    }
}

static bool is_exiting(const struct search *search, const struct moment *moment) {
    const struct panel_program *program = search->moments.world->program;
    for (unsigned area = 0; area < program->area_count; area++) {
        if (moment->mode.panel.areas[area].phase == PANEL_EXITING) {
            return true;
        }
    }
    return false;
}

/* Whether nothing that he does can delay any more when he is heard, if he is: a report is held, or an entry time runs
 * and no news is on its way that another door could still make harmless. By the European course an inside warning can
 * delay a report, and a setting that fails lets go what was held. */
static bool is_certain(const struct search *search, const struct moment *moment) {
    const struct panel_program *program = search->moments.world->program;
    const struct panel_state *panel = &moment->mode.panel;
    bool held = false;
    bool entering = false;
    if (program->settings.off_route != SITE_OFF_ROUTE_NOW ||
            search->moments.world->options->heard_by != BREAKIN_BY_SIGNAL ||
            is_exiting(search, moment)) {
        return false;
    }
    for (unsigned area = 0; area < program->area_count; area++) {
        held = held || panel->areas[area].alarm == PANEL_HELD;
        entering = entering || panel->areas[area].phase == PANEL_ENTERING;
    }
    return held ||
            (entering && !panel_zones_any(&panel->following) &&
                    !panel_zones_any(&moment->mode.bits.pending));
}

static const struct panel_zones nothing = {{0, 0}};

static void take_edge(const struct search *search, struct moment *moment,
        const struct ways_edge *edge, bool closes, bool ends_first) {
    moment_pass(&search->moments, moment, edge->takes_s);
    if (ends_first) {
        moment_settle(&search->moments, moment);
    }
    moment_notice(&search->moments, moment, edge->opens == NULL ? &nothing : edge->opens,
            edge->trips, closes);
}

/* Straight to the goal: how late it is heard then. search->trial: at the label; is played on. */
static int32_t late_straight_s(struct search *search, size_t goal, int place) {
    while (ways_next(&search->ways, goal, place) != WAYS_NO_EDGE) {
        const struct ways_edge *edge = &search->ways.edges[ways_next(&search->ways, goal, place)];
        take_edge(search, &search->trial, edge, false, false);
        place = edge->to;
    }
    const int32_t heard_s = moment_heard_in_s(&search->moments, &search->trial);
    const int32_t takes_s = search->ways.graph->goals[goal].takes_s;
    return heard_s == BREAKIN_NEVER_S ? heard_s : heard_s - takes_s;
}

/* Once it is certain when he is heard, only the clock matters: the shortest way decides (design page). Where what it
 * trips brings the report forward the label is gone on from like any other. True: there is nothing more to find. */
static bool is_decided(struct search *search, const struct moment *moment, int place, int32_t label,
        int32_t heard_s) {
    const struct breakin_graph *graph = search->ways.graph;
    bool decided = true;
    for (size_t goal = 0; goal < graph->goal_count; goal++) {
        const int32_t far_s = ways_far_s(&search->ways, goal, place);
        const struct best *best = &search->best[goal];
        if (far_s == BREAKIN_NEVER_S) {
            continue;
        }
        const int32_t late_s = heard_s - far_s - graph->goals[goal].takes_s;
        if (best->any && best->late_s >= late_s) {
            continue;
        }
        search->trial = *moment;
        if (late_straight_s(search, goal, place) == late_s) {
            better(search, goal, late_s, label, true);
        } else {
            decided = false;
        }
    }
    return decided;
}

/* Whether no goal can be reached from here with a better outcome than is known. */
static bool is_hopeless(const struct search *search, int place, int32_t heard_s) {
    const struct breakin_graph *graph = search->ways.graph;
    for (size_t goal = 0; goal < graph->goal_count; goal++) {
        const struct best *best = &search->best[goal];
        const int32_t far_s = ways_far_s(&search->ways, goal, place);
        if (far_s != BREAKIN_NEVER_S &&
                (!best->any || best->late_s < heard_s - far_s - graph->goals[goal].takes_s)) {
            return false;
        }
    }
    return true;
}

/* What is not gone on from leaves open how late it is heard; by this at the most. */
static void leave_open(struct search *search, int place, int32_t bound_s) {
    const struct breakin_graph *graph = search->ways.graph;
    for (size_t goal = 0; goal < graph->goal_count; goal++) {
        const int32_t far_s = ways_far_s(&search->ways, goal, place);
        if (far_s == BREAKIN_NEVER_S) {
            continue;
        }
        const int32_t late_s =
                bound_s == BREAKIN_NEVER_S ? bound_s : bound_s - far_s - graph->goals[goal].takes_s;
        if (late_s > search->open_s[goal]) {
            search->open_s[goal] = late_s;
        }
    }
}

/* search->after; its label, or LABELS_NONE where it need not be gone on from, or cannot. */
static int32_t keep(struct search *search, int place, struct labels_step step, int32_t bound_s) {
    const int32_t label = labels_add(
            &search->labels, &search->after, place, step, is_torn(search, &search->after));
    if (label == LABELS_NONE && search->labels.refused) {
        leave_open(search, place, bound_s);
    }
    return label;
}

static void keep_on(struct search *search, int place, struct labels_step step) {
    const int32_t label = keep(search, place, step, BREAKIN_NEVER_S);
    if (label != LABELS_NONE) {
        labels_wait(&search->labels, label, false, BREAKIN_NEVER_S);
    }
}

/* How late he is heard at the most: to the second once it is certain, within a bound by the European course. */
static int32_t bound_of(const struct search *search, const struct moment *moment, int32_t heard_s) {
    const struct devices_world *world = search->moments.world;
    if (moment->age_s >= 0 || is_certain(search, moment)) {
        return heard_s;
    }
    if (world->program->settings.off_route != SITE_OFF_ROUTE_EN ||
            world->options->heard_by != BREAKIN_BY_SIGNAL || is_exiting(search, moment)) {
        return BREAKIN_NEVER_S;
    }
    return bound_heard_s(world, moment);
}

static bool is_bounded(const struct search *search, const struct moment *moment) {
    return bound_of(search, moment, 0) != BREAKIN_NEVER_S;
}

/* Keeps what was reached (search->after). */
static void reach(struct search *search, int place, struct labels_step step) {
    const struct moment *after = &search->after;
    search->overflowed |= after->overflowed;
    const bool heard = after->age_s >= 0;
    if (!is_bounded(search, after)) {
        keep_on(search, place, step);
        return;
    }
    search->trial = *after;
    const int32_t heard_s = moment_heard_in_s(&search->moments, &search->trial);
    if (heard_s == BREAKIN_NEVER_S) {
        keep_on(search, place, step); /* what runs does not report */
        return;
    }
    const int32_t bound_s = bound_of(search, after, heard_s);
    if (is_hopeless(search, place, bound_s)) {
        return;
    }
    /* What has been heard is no mode of the search: it is kept for the way back alone. */
    const int32_t label = heard ? labels_keep(&search->labels, after, place, step)
                                : keep(search, place, step, bound_s);
    if (label == LABELS_NONE) {
        if (heard) {
            leave_open(search, place, bound_s);
        }
        return;
    }
    const bool decided = is_decided(search, after, place, label, heard_s);
    const bool exact = heard || is_certain(search, after);
    if (!heard && !(decided && exact)) {
        labels_wait(&search->labels, label, !exact, bound_s);
    }
}

static bool is_due(const struct moment *moment) {
    return moment_next_s(moment) == 0;
}

/* What stands open cannot trip again. It may be better to close it only while an exit time runs, where a further trip
 * delays the report (the European course), and where one may begin an entry time: a message that comes while it runs
 * is taken for one of somebody who may be there (found by brute force). */
static bool may_suit_closed(const struct search *search, const struct moment *arrived,
        const struct panel_zones *opens) {
    const struct panel_program *program = search->moments.world->program;
    bool enters = false;
    for (unsigned zone = 0; zone < program->zone_count; zone++) {
        for (int mode = 0; panel_zones_has(opens, zone) && mode < PANEL_MODE_MAX; mode++) {
            enters = enters || program->zones[zone].behaviour[mode] == SITE_ENTRY;
        }
    }
    return enters || program->settings.off_route == SITE_OFF_ROUTE_EN ||
            is_exiting(search, arrived);
}

static void go_by(struct search *search, int32_t label, const struct ways_edge *edge) {
    const int32_t begins_s = search->labels.list[label].step.elapsed_s;
    struct moment arrived = search->now;
    moment_pass(&search->moments, &arrived, edge->takes_s);
    const bool due = is_due(&arrived);
    const bool opens = edge->opens != NULL && panel_zones_any(edge->opens);
    const bool may_close = opens && may_suit_closed(search, &arrived, edge->opens);
    for (int variant = 0; variant < 4; variant++) {
        const bool closes = (variant & 1) != 0;
        const bool ends_first = (variant & 2) != 0;
        if ((closes && !may_close) || (ends_first && !due)) {
            continue;
        }
        search->after = arrived;
        if (ends_first) {
            moment_settle(&search->moments, &search->after);
        }
        moment_notice(&search->moments, &search->after, opens ? edge->opens : &nothing, edge->trips,
                closes);
        reach(search, edge->to,
                (struct labels_step){.parent = label,
                        .edge = (int32_t)(edge - search->ways.edges),
                        .begins_s = begins_s,
                        .elapsed_s = begins_s + edge->takes_s,
                        .closes = closes,
                        .ends_first = ends_first});
    }
}

static void wait_for(struct search *search, int32_t label, int32_t seconds_s, bool settles) {
    const struct label *from = &search->labels.list[label];
    const int32_t begins_s = from->step.elapsed_s;
    search->after = search->now;
    moment_pass(&search->moments, &search->after, seconds_s);
    if (settles) {
        moment_settle(&search->moments, &search->after);
    }
    reach(search, from->place,
            (struct labels_step){.parent = label,
                    .edge = LABELS_NONE,
                    .begins_s = begins_s,
                    .elapsed_s = begins_s + seconds_s,
                    .settled = settles});
}

/* Waiting for less than the next timer's end is dominated (design page), unless what suits him and what threatens him
 * run down together: then a later start may be the better one, and every second is tried. */
static void wait_here(struct search *search, int32_t label) {
    const int32_t next_s = moment_next_s(&search->now);
    if (next_s < 0) {
        return;
    }
    wait_for(search, label, next_s, true);
    if (is_torn(search, &search->now)) {
        for (int32_t seconds_s = 1; seconds_s <= next_s; seconds_s++) {
            wait_for(search, label, seconds_s, false);
        }
    }
}

static void arrive(struct search *search, int32_t label) {
    const struct breakin_graph *graph = search->ways.graph;
    const int place = search->labels.list[label].place;
    for (size_t goal = 0; goal < graph->goal_count; goal++) {
        if (graph->goals[goal].place == place) {
            search->trial = search->now;
            const int32_t heard_s = moment_heard_in_s(&search->moments, &search->trial);
            better(search, goal,
                    heard_s == BREAKIN_NEVER_S ? heard_s : heard_s - graph->goals[goal].takes_s,
                    label, false);
        }
    }
}

static void go_on(struct search *search, int32_t label) {
    const int place = search->labels.list[label].place;
    labels_moment(&search->labels, label, &search->now);
    arrive(search, label);
    for (int32_t i = search->ways.first[place]; i < search->ways.first[place + 1]; i++) {
        go_by(search, label, &search->ways.edges[i]);
    }
    wait_here(search, label);
}

static bool all_unheard(const struct search *search) {
    for (size_t goal = 0; goal < search->ways.graph->goal_count; goal++) {
        if (!search->best[goal].any || search->best[goal].late_s != BREAKIN_NEVER_S) {
            return false;
        }
    }
    return true;
}

static void run(struct search *search) {
    const struct breakin_graph *graph = search->ways.graph;
    const struct breakin_options *options = search->moments.world->options;
    for (size_t goal = 0; goal < graph->goal_count; goal++) {
        search->open_s[goal] = INT32_MIN;
    }
    for (size_t i = 0; i < graph->begin_count; i++) {
        moment_begin(&search->moments, &search->after);
        reach(search, graph->begins[i],
                (struct labels_step){.parent = LABELS_NONE, .edge = LABELS_NONE});
    }
    size_t done = 0;
    for (int32_t label = labels_take(&search->labels); label != LABELS_NONE && !all_unheard(search);
            label = labels_take(&search->labels)) {
        go_on(search, label);
        if (++done % ASK_EVERY == 0 && options->keep_going != NULL &&
                !options->keep_going(options->keep_going_context, search->labels.count)) {
            search->stopped = true;
            break;
        }
    }
    for (int32_t label = labels_take(&search->labels); label != LABELS_NONE && search->stopped;
            label = labels_take(&search->labels)) {
        leave_open(search, search->labels.list[label].place, search->labels.list[label].bound_s);
    }
}

/* ---- answers ----------------------------------------------------------------------------------------------------- */

static outcome no_memory(struct problem *ret_problem) {
    FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory for the search of break-ins");
}

static struct breakin_act act_of(const struct ways_edge *edge, struct labels_step step) {
    return (struct breakin_act){.portal = edge->portal,
            .closes = step.closes,
            .ends_first = step.ends_first,
            .index = edge->index,
            .begins_s = step.begins_s,
            .ends_s = step.elapsed_s};
}

/* From the beginning to the label, then straight on if the rest of the way is the shortest. */
static outcome course_to(const struct search *search, size_t goal, int32_t label, bool tail,
        struct arena *arena, struct breakin_course *ret_course, struct problem *ret_problem) {
    const struct ways *ways = &search->ways;
    struct breakin_act *acts = ARENA_ARRAY(arena, struct breakin_act, BREAKIN_ACT_MAX);
    if (acts == NULL) {
        return no_memory(ret_problem);
    }
    const struct label *end = &search->labels.list[label];
    size_t from = BREAKIN_ACT_MAX;
    int begins = end->place;
    for (int32_t i = label; i != LABELS_NONE && from > 0;) {
        const struct label *at = &search->labels.list[i];
        begins = at->place;
        if (at->step.edge != LABELS_NONE) {
            acts[--from] = act_of(&ways->edges[at->step.edge], at->step);
            /* After a wait that ended what was due, an act that takes no time comes second. */
            const struct labels_step *parent = &search->labels.list[at->step.parent].step;
            acts[from].ends_first |= acts[from].begins_s == acts[from].ends_s && parent->settled;
        }
        i = at->step.parent;
    }
    size_t count = BREAKIN_ACT_MAX - from;
    for (size_t i = 0; i < count; i++) {
        acts[i] = acts[from + i];
    }
    int32_t now_s = end->step.elapsed_s;
    int place = end->place;
    bool settled = end->step.edge == LABELS_NONE && end->step.settled;
    while (tail && count < BREAKIN_ACT_MAX && ways_next(ways, goal, place) != WAYS_NO_EDGE) {
        const struct ways_edge *edge = &ways->edges[ways_next(ways, goal, place)];
        settled = settled && edge->takes_s == 0;
        acts[count++] = act_of(edge,
                (struct labels_step){.begins_s = now_s,
                        .elapsed_s = now_s + edge->takes_s,
                        .ends_first = settled});
        now_s += edge->takes_s;
        place = edge->to;
    }
    if (from == 0 || count == BREAKIN_ACT_MAX) {
        FAIL(ret_problem, PROBLEM_LIMIT, "", "a break-in takes more than %d steps",
                BREAKIN_ACT_MAX);
    }
    *ret_course = (struct breakin_course){.begins = begins,
            .acts = acts,
            .act_count = count,
            .done_s = now_s + ways->graph->goals[goal].takes_s,
            .heard_s = BREAKIN_NEVER_S};
    return outcome_good();
}

/* The beginning nearest to the goal, and straight on. */
static outcome quickest(struct search *search, size_t goal, struct arena *arena,
        struct breakin_course *ret_course, struct problem *ret_problem) {
    const struct breakin_graph *graph = search->ways.graph;
    int begins = graph->begins[0];
    for (size_t i = 1; i < graph->begin_count; i++) {
        if (ways_far_s(&search->ways, goal, graph->begins[i]) <
                ways_far_s(&search->ways, goal, begins)) {
            begins = graph->begins[i];
        }
    }
    struct moment begun;
    moment_begin(&search->moments, &begun);
    const int32_t label = labels_keep(&search->labels, &begun, begins,
            (struct labels_step){.parent = LABELS_NONE, .edge = LABELS_NONE});
    if (label == LABELS_NONE) {
        return no_memory(ret_problem);
    }
    TRY(course_to(search, goal, label, true, arena, ret_course, ret_problem));
    search->trial = begun;
    const int32_t late_s = late_straight_s(search, goal, begins);
    ret_course->heard_s = late_s == BREAKIN_NEVER_S ? late_s : ret_course->done_s + late_s;
    return outcome_good();
}

/* A smashed panel has told before or not at all: nobody needs to be there. */
static int32_t response_of(const struct search *search, size_t goal) {
    return search->ways.graph->goals[goal].kind == BREAKIN_THING
            ? search->moments.world->options->response_s
            : 0;
}

static bool is_cut(const struct search *search) {
    return search->overflowed || search->stopped || search->labels.full;
}

/* Whether what was not gone on from may still be heard later than the best that was found. */
static bool is_open(const struct search *search, size_t goal) {
    const struct best *best = &search->best[goal];
    return search->overflowed ||
            (is_cut(search) && (!best->any || search->open_s[goal] > best->late_s));
}

static enum breakin_verdict verdict_of(const struct search *search, size_t goal) {
    const struct best *best = &search->best[goal];
    const int32_t response_s = response_of(search, goal);
    if (best->any && best->late_s == BREAKIN_NEVER_S) {
        return BREAKIN_UNHEARD; /* found is found */
    }
    if (best->any && best->late_s + response_s >= 0) {
        return BREAKIN_LATE;
    }
    /* Whatever was left open is heard early enough as well. */
    if (is_open(search, goal) &&
            (search->overflowed || !best->any || search->open_s[goal] == BREAKIN_NEVER_S ||
                    search->open_s[goal] + response_s >= 0)) {
        return BREAKIN_NOT_SETTLED;
    }
    return best->any ? BREAKIN_IN_TIME : BREAKIN_NO_WAY;
}

static outcome answer(struct search *search, size_t goal, struct arena *arena,
        struct breakin_answer *ret_answer, struct problem *ret_problem) {
    const struct best *best = &search->best[goal];
    *ret_answer = (struct breakin_answer){
            .verdict = verdict_of(search, goal), .spare_s = BREAKIN_NEVER_S};
    if (!best->any) {
        return outcome_good();
    }
    TRY(course_to(search, goal, best->label, best->tail, arena, &ret_answer->best, ret_problem));
    if (best->late_s != BREAKIN_NEVER_S) {
        ret_answer->best.heard_s = ret_answer->best.done_s + best->late_s;
        ret_answer->open = is_open(search, goal);
        const int32_t late_s = ret_answer->open && ret_answer->verdict == BREAKIN_IN_TIME
                ? search->open_s[goal]
                : best->late_s;
        ret_answer->spare_s = -late_s - response_of(search, goal);
    }
    return quickest(search, goal, arena, &ret_answer->quickest, ret_problem);
}

outcome breakin_search(const struct site *site, const struct panel_program *program,
        const struct breakin_graph *graph, const struct breakin_start *start,
        const struct breakin_options *options, struct pages pages, struct arena *arena,
        struct breakin_answer *ret_answers, size_t *ret_labels, struct problem *ret_problem) {
    const struct devices_world world = devices_world_of(site, program, graph, start, options);
    struct arena own;
    arena_init(&own, pages, 0);
    struct search *search = ARENA_NEW(&own, struct search);
    struct panel_outputs *outputs = ARENA_NEW(&own, struct panel_outputs);
    if (search == NULL || outputs == NULL) {
        arena_finish(&own);
        return no_memory(ret_problem);
    }
    search->moments = (struct moments){.world = &world, .outputs = outputs};
    labels_init(&search->labels, &world, &own,
            options->label_limit > 0 ? options->label_limit : BREAKIN_LABEL_LIMIT);
    outcome done = ways_make(graph, &own, &search->ways, ret_problem);
    if (done.good) {
        run(search);
        if (search->labels.failed) {
            done = no_memory(ret_problem);
        }
    }
    if (ret_labels != NULL) {
        *ret_labels = search->labels.count;
    }
    for (size_t goal = 0; done.good && goal < graph->goal_count; goal++) {
        search->labels.limit = search->labels.count + 1; /* room for the quickest way's beginning */
        done = answer(search, goal, arena, &ret_answers[goal], ret_problem);
    }
    arena_finish(&own);
    return done;
}
