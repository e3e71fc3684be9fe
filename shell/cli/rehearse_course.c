#include "cli/rehearse_course.h"

#include "cli/named.h"
#include "cli/prove.h"
#include "cli/terminal.h"

#include <stdio.h>

static const char *const paces[] = {
        [PROOF_QUICK] = "everybody as quick as can be",
        [PROOF_MIDDLING] = "everybody middling quick",
        [PROOF_SLOW] = "everybody as slow as can be",
};

static outcome find_routine(struct cli_site *site, const struct check_plan *plan, size_t which,
        const struct rehearse_wanted *wanted, struct crew *crew,
        struct rehearsal_course *ret_course, struct problem *ret_problem) {
    const struct check_options options = {.no_remedy = true, .today_day = wanted->today_day};
    const struct proof_options telling = {.no_promises = true};
    struct check_report report = {0};
    struct arena *arena = &crew->arenas[0];
    terminal_catch_interrupt();
    TRY(prove_one(&site->document.site, plan, which, &options, crew, &report, ret_problem));
    struct proof_answer *answer = &report.answers[0];
    const bool wrong = answer->verdict == PROOF_GOES_WRONG && !wanted->paced;
    if (!wrong) {
        TRY(proof_tell(&site->document.site, NULL, &answer->routine, &telling, wanted->pace, arena,
                &answer->story, &answer->story_count, ret_problem));
    }
    rehearsal_of_routine(&site->document.site, answer, ret_course);
    (void)printf("%.*s: %s\n", TEXT_ARGS(answer->routine.name),
            wrong ? "the shortest course that goes wrong" : paces[wanted->pace]);
    return outcome_good();
}

static outcome find_break_in(const struct site *site, size_t which, struct arena *arena,
        struct rehearsal_course *ret_course, struct problem *ret_problem) {
    struct break_ins found;
    TRY(named_look(site, arena, &found, ret_problem));
    if (which >= found.count) {
        FAIL(ret_problem, PROBLEM_MISSING, "", "no way is computed: %s",
                found.why_not == NULL ? "it was stopped" : found.why_not);
    }
    TRY(rehearsal_of_break_in(site, &found.list[which], arena, ret_course, ret_problem));
    (void)printf("%.*s: somebody comes for it, and is noticed as late as can be\n",
            TEXT_ARGS(site->break_ins.goals[which].name));
    return outcome_good();
}

static int take_course(struct cli_site *site, const struct rehearse_wanted *wanted,
        const struct check_plan *plan, struct named named, struct crew *crew,
        struct rehearsal_course *ret_course) {
    struct problem problem = {0};
    outcome found = outcome_good();
    if (named.kind == NAMED_NOTHING) {
        return named_unknown(site, plan, "rehearse", wanted->name);
    }
    if (named.kind == NAMED_ABSENT) {
        const struct check_absent *absent = &plan->absent[named.index];
        (void)fprintf(stderr, "lintel rehearse: %.*s: %s (%.*s)\n", TEXT_ARGS(absent->name),
                absent->removed ? "removed in the file" : "not applied here",
                TEXT_ARGS(absent->reason));
        return CLI_UNREADABLE;
    }
    if (named.kind == NAMED_ROUTINE) {
        found = find_routine(site, plan, named.index, wanted, crew, ret_course, &problem);
    } else {
        found = find_break_in(
                &site->document.site, named.index, &crew->arenas[0], ret_course, &problem);
    }
    if (terminal_was_interrupted()) {
        return CHECK_EXIT_STOPPED;
    }
    return found.good ? CLI_GOOD : cli_site_refused(site, &problem);
}

int rehearse_find_course(struct cli_site *site, const struct rehearse_wanted *wanted,
        struct crew *crew, struct rehearsal_course *ret_course) {
    const struct check_options options = {.today_day = wanted->today_day};
    struct check_plan plan;
    struct named named;
    struct problem problem = {0};
    struct arena *arena = &crew->arenas[0];
    if (!prove_as_today(&site->document, wanted->today_day, &problem).good ||
            !check_plan_make(&site->document.site, &options, arena, &plan, &problem).good ||
            !named_find(&site->document.site, &plan, wanted->today_day, wanted->name, arena, &named,
                    &problem)
                     .good) {
        return cli_site_refused(site, &problem);
    }
    return take_course(site, wanted, &plan, named, crew, ret_course);
}
