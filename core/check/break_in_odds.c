#include "check/break_in_odds.h"

const int32_t break_in_odds_help_s[BREAK_IN_ODDS_HELP] = {0, 60, 120, 300, 600, 1200};

static const double TALK_RATIO = 0.95;
static const double DEVIATION = 0.3;

/* How likely a detector of this kind notices what it is there to notice. */
static double notices_ratio(enum site_sense sense) {
    return sense == SITE_MOTION ? 0.8 : 0.9;
}

static bool is_watched(
        const struct site *site, const struct site_break_in_start *start, unsigned zone) {
    const struct site_start *area = &start->areas[site->zones[zone].area];
    return area->set && site->zones[zone].in[area->mode] != SITE_OUT;
}

/* Adds what notices to a task: at its end, for all is known of a least time is that it is over. */
static void add_zones(const struct site *site, const struct site_break_in_start *start,
        const struct panel_zones *zones, struct interrupt_task *task) {
    for (unsigned zone = 0; zone < site->zone_count; zone++) {
        if (panel_zones_has(zones, zone) && is_watched(site, start, zone)) {
            const double ratio = notices_ratio(site_zone_sense(site, &site->zones[zone]));
            task->detect_ratio = 1 - (1 - task->detect_ratio) * (1 - ratio);
        }
    }
}

static struct interrupt_task task_of(const struct site *site, const struct break_ins *all,
        const struct break_in *it, const struct breakin_act *act) {
    const struct breakin_graph *graph = &all->rooms.graph;
    const struct site_break_in_start *start = &site->break_ins.starts[it->start];
    struct interrupt_task task = {.when = INTERRUPT_END, .time_s = act->ends_s - act->begins_s};
    if (act->portal) {
        add_zones(site, start, &graph->portals[act->index].opens, &task);
        add_zones(site, start, &graph->portals[act->index].trips, &task);
    } else {
        add_zones(site, start, &graph->moves[act->index].trips, &task);
    }
    return task;
}

/* Standing still between two acts is time as well: it is part of the later one, which is noticed at its end. */
static void list_tasks(const struct site *site, const struct break_ins *all,
        const struct break_in *it, struct interrupt_task *tasks, double *noticed) {
    const struct breakin_course *course = &it->answer.best;
    int32_t last_s = 0;
    for (size_t i = 0; i < course->act_count; i++) {
        tasks[i] = task_of(site, all, it, &course->acts[i]);
        tasks[i].time_s += course->acts[i].begins_s - last_s;
        tasks[i].deviation_s = DEVIATION * tasks[i].time_s;
        noticed[i] = tasks[i].detect_ratio;
        last_s = course->acts[i].ends_s;
    }
    const double takes_s = course->done_s - last_s;
    tasks[course->act_count] = (struct interrupt_task){
            .when = INTERRUPT_END, .time_s = takes_s, .deviation_s = DEVIATION * takes_s};
}

static struct interrupt_response response_of(double time_s) {
    return (struct interrupt_response){
            .time_s = time_s, .deviation_s = DEVIATION * time_s, .talk_ratio = TALK_RATIO};
}

outcome break_in_odds_make(const struct site *site, const struct break_ins *all,
        const struct break_in *it, struct arena *arena, struct break_in_odds *ret_odds,
        struct problem *ret_problem) {
    const struct breakin_course *course = &it->answer.best;
    const int32_t heard_s = course->heard_s;
    struct break_in_odds odds = {.critical = {.task = INTERRUPT_NEVER}};
    struct interrupt_task *tasks = ARENA_ARRAY(arena, struct interrupt_task, course->act_count + 1);
    double *noticed = ARENA_ARRAY(arena, double, course->act_count + 1);
    if (tasks == NULL || noticed == NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory for how likely he is interrupted");
    }
    *ret_odds = odds;
    if (it->told.count == 0 || heard_s == BREAKIN_NEVER_S) {
        return outcome_good();
    }
    list_tasks(site, all, it, tasks, noticed);
    odds.noticed = noticed;
    const size_t count = course->act_count + 1;
    odds.any = true;
    odds.held_s = heard_s > it->story.first_trip_s ? heard_s - it->story.first_trip_s : 0;
    const double asked_s = odds.held_s + site->break_ins.help_s;
    struct interrupt_response response = response_of(asked_s);
    TRY(interrupt_probability(tasks, count, &response, NULL, &odds.ratio, ret_problem));
    TRY(interrupt_find_critical(tasks, count, asked_s, &odds.critical, ret_problem));
    for (int i = 0; i < BREAK_IN_ODDS_POINTS; i++) {
        response = response_of(odds.held_s + i * BREAK_IN_ODDS_STEP_S);
        TRY(interrupt_probability(tasks, count, &response, NULL, &odds.curve[i], ret_problem));
    }
    for (size_t i = 0; i < BREAK_IN_ODDS_HELP; i++) {
        odds.by_help[i] = odds.curve[break_in_odds_help_s[i] / BREAK_IN_ODDS_STEP_S];
    }
    *ret_odds = odds;
    return outcome_good();
}
