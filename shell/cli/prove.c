#include "cli/prove.h"

#include "check/temporary.h"
#include "cli/terminal.h"
#include "host/host.h"

/* What the tasks share: all of it is only read, but for each task's own answer or finding. */
struct job {
    const struct site *site;
    const struct check_plan *plan;
    struct check_options options;
    struct proof_answer *answers;
    struct check_report *report;
    struct terminal_progress progress;
    size_t count;
};

bool prove_keeps_going(void *context, size_t classes_done, size_t classes_waiting) {
    (void)context;
    (void)classes_done;
    (void)classes_waiting;
    return !terminal_was_interrupted();
}

static outcome prove_routine(
        void *context, size_t task, struct arena *arena, struct problem *ret_problem) {
    struct job *job = context;
    return check_prove(job->site, job->plan, task, &job->options, host_pages(), arena,
            &job->answers[task], ret_problem);
}

static outcome find_remedy(
        void *context, size_t task, struct arena *arena, struct problem *ret_problem) {
    struct job *job = context;
    return check_remedy(
            job->site, job->report, task, &job->options, host_pages(), arena, ret_problem);
}

static void watch_proofs(void *context, size_t done) {
    struct job *job = context;
    terminal_progress_show(
            &job->progress, "proving: %zu of %zu routines settled; Ctrl-C stops", done, job->count);
}

static void watch_remedies(void *context, size_t done) {
    struct job *job = context;
    terminal_progress_show(&job->progress,
            "trying remedies: %zu of %zu findings done; Ctrl-C stops", done, job->count);
}

static outcome prove_plan(const struct site *site, const struct check_plan *plan,
        const struct check_options *options, struct crew *crew, struct check_report *ret_report,
        struct problem *ret_problem) {
    void *answers = NULL;
    struct job job = {.site = site, .plan = plan, .options = *options, .report = ret_report};
    job.options.proof.keep_going = prove_keeps_going;
    TRY(arena_get(&crew->arenas[0], plan->routine_count, sizeof(struct proof_answer), &answers,
            ret_problem));
    job.answers = answers;
    terminal_progress_begin(&job.progress);
    job.count = plan->routine_count;
    outcome done = crew_do(crew,
            &(struct crew_work){.count = job.count,
                    .do_task = prove_routine,
                    .watch = watch_proofs,
                    .context = &job},
            ret_problem);
    if (done.good) {
        done = check_gather(site, plan, job.answers, &crew->arenas[0], ret_report, ret_problem);
    }
    if (done.good) {
        job.count = ret_report->finding_count;
        done = crew_do(crew,
                &(struct crew_work){.count = job.count,
                        .do_task = find_remedy,
                        .watch = watch_remedies,
                        .context = &job},
                ret_problem);
        ret_report->stopped |= terminal_was_interrupted();
    }
    terminal_progress_end(&job.progress);
    return done;
}

outcome prove_as_today(struct document *document, int32_t today_day, struct problem *ret_problem) {
    struct site today;
    TRY(temporary_apply(&document->site, today_day, &document->arena, &today, ret_problem));
    return break_ins_from_drawing(&today, &document->arena, &document->site, ret_problem);
}

outcome prove_site(const struct site *site, const struct check_options *options, struct crew *crew,
        struct check_report *ret_report, struct problem *ret_problem) {
    struct check_plan plan;
    struct check_options may_stop = *options;
    may_stop.proof.keep_going = prove_keeps_going;
    TRY(check_plan_make(site, options, &crew->arenas[0], &plan, ret_problem));
    TRY(check_break_ins(site, &may_stop, host_pages(), &crew->arenas[0], &plan, ret_problem));
    return prove_plan(site, &plan, options, crew, ret_report, ret_problem);
}

outcome prove_one(const struct site *site, const struct check_plan *plan, size_t which,
        const struct check_options *options, struct crew *crew, struct check_report *ret_report,
        struct problem *ret_problem) {
    const struct check_plan one = {
            .routines = &plan->routines[which], .routine_count = 1, .today_day = plan->today_day};
    return prove_plan(site, &one, options, crew, ret_report, ret_problem);
}
