#include "check/check.h"

#include "check/carried.h"
#include "check/findings.h"

static outcome no_memory(struct problem *ret_problem) {
    FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory to check the site");
}

static outcome plan_usual(const struct site *site, struct arena *arena, struct check_plan *plan,
        struct problem *ret_problem) {
    struct proof_usual *usual = NULL;
    size_t count = 0;
    TRY(proof_usual_routines(site, arena, &usual, &count, ret_problem));
    struct check_routine *routines =
            ARENA_ARRAY(arena, struct check_routine, plan->routine_count + count);
    struct check_absent *absent =
            ARENA_ARRAY(arena, struct check_absent, plan->absent_count + count);
    if (routines == NULL || absent == NULL) {
        return no_memory(ret_problem);
    }
    for (size_t i = 0; i < plan->absent_count; i++) {
        absent[i] = plan->absent[i];
    }
    plan->absent = absent;
    for (size_t i = 0; i < plan->routine_count; i++) {
        routines[i] = plan->routines[i];
    }
    plan->routines = routines;
    for (size_t i = 0; i < count; i++) {
        const bool removed = usual[i].removed.length > 0;
        if (removed || usual[i].needs.length > 0) {
            plan->absent[plan->absent_count++] =
                    (struct check_absent){.name = usual[i].routine.name,
                            .reason = removed ? usual[i].removed : usual[i].needs,
                            .removed_as = usual[i].removed_as,
                            .removed = removed};
        } else {
            plan->routines[plan->routine_count++] =
                    (struct check_routine){.source = &usual[i].routine, .usual = true, .index = i};
        }
    }
    return outcome_good();
}

outcome check_plan_make(const struct site *site, const struct check_options *options,
        struct arena *arena, struct check_plan *ret_plan, struct problem *ret_problem) {
    struct check_plan plan = {0};
    plan.routines = ARENA_ARRAY(arena, struct check_routine, site->routine_count);
    plan.absent = ARENA_ARRAY(arena, struct check_absent, site->routine_count);
    if (plan.routines == NULL || plan.absent == NULL) {
        return no_memory(ret_problem);
    }
    for (size_t i = 0; i < site->routine_count; i++) {
        const struct site_routine *routine = &site->routines[i];
        if (routine->rests) {
            plan.absent[plan.absent_count++] = (struct check_absent){.name = routine->name,
                    .reason = text_of("somebody in it is not there today"),
                    .rests = true};
        } else {
            plan.routines[plan.routine_count++] =
                    (struct check_routine){.source = routine, .index = i};
        }
    }
    plan.today_day = options->today_day;
    plan.complete = !options->no_usual && plan.absent_count == 0; /* so far only those that rest */
    if (!options->no_usual) {
        TRY(plan_usual(site, arena, &plan, ret_problem));
    }
    *ret_plan = plan;
    return outcome_good();
}

static bool goes_on(const struct check_options *options) {
    return options->proof.keep_going == NULL ||
            options->proof.keep_going(options->proof.keep_going_context, 0, 0);
}

outcome check_prove(const struct site *site, const struct check_plan *plan, size_t which,
        const struct check_options *options, struct pages pages, struct arena *arena,
        struct proof_answer *ret_answer, struct problem *ret_problem) {
    /* Unfolded where it will stay: it is too large for a stack. */
    struct proof_routine *routine = ARENA_NEW(arena, struct proof_routine);
    if (routine == NULL) {
        return no_memory(ret_problem);
    }
    TRY(proof_unfold(site, plan->routines[which].source, routine, ret_problem));
    if (!goes_on(options)) {
        *ret_answer = (struct proof_answer){
                .routine = *routine, .verdict = PROOF_NOT_SETTLED, .reason = EXPLORE_ASKED_TO_STOP};
        return outcome_good();
    }
    return proof_run(site, NULL, routine, &options->proof, pages, arena, ret_answer, ret_problem);
}

static struct break_ins_options wanted_of_break_ins(const struct check_options *options) {
    return (struct break_ins_options){.keep_going = options->proof.keep_going,
            .keep_going_context = options->proof.keep_going_context,
            .no_remedy = options->no_remedy};
}

outcome check_break_ins(const struct site *site, const struct check_options *options,
        struct pages pages, struct arena *arena, struct check_plan *plan,
        struct problem *ret_problem) {
    const struct break_ins_options wanted = wanted_of_break_ins(options);
    return break_ins_look(site, &wanted, pages, arena, &plan->break_ins, ret_problem);
}

/* The ways first, so that who waits for verdicts is told of them; then what hangs on them. */
static outcome look_at_break_ins(const struct site *site, const struct check_options *options,
        struct pages pages, struct arena *arena, struct check_plan *plan,
        struct proof_answer *answers, struct problem *ret_problem) {
    struct break_ins_options wanted = wanted_of_break_ins(options);
    struct check_report verdicts;
    wanted.ways_only = true;
    TRY(break_ins_look(site, &wanted, pages, arena, &plan->break_ins, ret_problem));
    TRY(check_gather(site, plan, answers, arena, &verdicts, ret_problem));
    plan->by_rules = verdicts.by_rules;
    plan->by_rules_count = verdicts.by_rules_count;
    plan->carried = verdicts.carried;
    if (plan->break_ins.count > 0 || verdicts.wrong > 0) {
        options->verdicts(options->verdicts_context, &verdicts);
    }
    return break_ins_look_further(site, &wanted, pages, arena, &plan->break_ins, ret_problem);
}

static void count_answers(struct check_report *report) {
    report->tightest = FINDING_NO_ANSWER;
    for (size_t i = 0; i < report->answer_count; i++) {
        const struct proof_answer *answer = &report->answers[i];
        report->usual += report->routines[i].usual;
        report->written += !report->routines[i].usual;
        report->well += answer->verdict == PROOF_GOES_WELL;
        report->wrong += answer->verdict == PROOF_GOES_WRONG;
        report->unsettled += answer->verdict == PROOF_NOT_SETTLED;
        report->stopped |=
                answer->verdict == PROOF_NOT_SETTLED && answer->reason == EXPLORE_ASKED_TO_STOP;
        if (answer->verdict == PROOF_GOES_WELL && answer->has_margin &&
                (report->tightest == FINDING_NO_ANSWER ||
                        answer->margin_s < report->answers[report->tightest].margin_s)) {
            report->tightest = i;
        }
    }
}

outcome check_gather(const struct site *site, const struct check_plan *plan,
        struct proof_answer *answers, struct arena *arena, struct check_report *ret_report,
        struct problem *ret_problem) {
    struct check_report report = {.routines = plan->routines,
            .answers = answers,
            .answer_count = plan->routine_count,
            .absent = plan->absent,
            .absent_count = plan->absent_count,
            .today_day = plan->today_day,
            .complete = plan->complete,
            .break_ins = plan->break_ins,
            .by_rules = plan->by_rules,
            .by_rules_count = plan->by_rules_count,
            .carried = plan->carried};
    count_answers(&report);
    if (report.carried == NULL) {
        struct carried *carried = ARENA_NEW(arena, struct carried);
        if (carried == NULL) {
            return no_memory(ret_problem);
        }
        TRY(carried_make(site, arena, carried, ret_problem));
        report.carried = carried;
    }
    TRY(findings_make(site, arena, &report, ret_problem));
    *ret_report = report;
    return outcome_good();
}

static void tell_progress(const struct check_options *options, size_t done, size_t of) {
    if (options->progress != NULL) {
        options->progress(options->progress_context, done, of);
    }
}

outcome check_site(const struct site *site, const struct check_options *options, struct pages pages,
        struct arena *arena, struct check_report *ret_report, struct problem *ret_problem) {
    const struct check_options usual = {0};
    struct check_plan plan;
    if (options == NULL) {
        options = &usual;
    }
    TRY(check_plan_make(site, options, arena, &plan, ret_problem));
    struct proof_answer *answers = ARENA_ARRAY(arena, struct proof_answer, plan.routine_count);
    if (answers == NULL) {
        return no_memory(ret_problem);
    }
    tell_progress(options, 0, plan.routine_count);
    for (size_t i = 0; i < plan.routine_count; i++) {
        TRY(check_prove(site, &plan, i, options, pages, arena, &answers[i], ret_problem));
        tell_progress(options, i + 1, plan.routine_count);
    }
    if (options->verdicts == NULL) {
        TRY(check_break_ins(site, options, pages, arena, &plan, ret_problem));
    } else {
        TRY(look_at_break_ins(site, options, pages, arena, &plan, answers, ret_problem));
    }
    TRY(check_gather(site, &plan, answers, arena, ret_report, ret_problem));
    for (size_t i = 0; i < ret_report->finding_count; i++) {
        TRY(check_remedy(site, ret_report, i, options, pages, arena, ret_problem));
    }
    return outcome_good();
}

int check_exit_status(const struct check_report *report) {
    if (report->stopped) {
        return CHECK_EXIT_STOPPED;
    }
    if (report->weights[FINDING_FAULT] > 0) {
        return 1;
    }
    return report->unsettled > 0 || break_ins_unsettled(&report->break_ins) > 0 ? 3 : 0;
}
