#include "proof/seek.h"

#include "proof/tell.h"

/* One seeking: the joined world and what serves it. */
struct seeking {
    struct world *world;
    struct proof_options options;
    struct pages pages;
    struct arena scratch;
    size_t classes;
};

static outcome explore_for(struct seeking *seeking, const struct span *window, bool probe,
        struct explore_result *ret_result, struct problem *ret_problem) {
    const struct explore_options how = {.class_limit = seeking->options.class_limit,
            .probe = probe,
            .keep_going = seeking->options.keep_going,
            .keep_going_context = seeking->options.keep_going_context};
    seeking->world->has_window = window != NULL;
    seeking->world->window = window == NULL ? span_of(0, 0) : *window;
    seeking->world->probe = probe;
    const struct explore_machine machine = world_machine(seeking->world);
    TRY(explore_run(&machine, &how, seeking->pages, &seeking->scratch, ret_result, ret_problem));
    seeking->classes += ret_result->classes_expanded;
    return outcome_good();
}

static const struct panel_output *output_of_goal(const struct proof_answer *answer) {
    for (size_t i = 0; i < answer->story_count; i++) {
        if (answer->story[i].bad) {
            return &answer->story[i].output;
        }
    }
    return NULL;
}

/* The window of the world is still that of the search that found the story. */
static outcome tell_found(struct seeking *seeking, const struct explore_result *result,
        struct arena *arena, struct proof_answer *answer, struct problem *ret_problem) {
    TRY(tell_course(seeking->world, result->story, result->story_count, seeking->pages, arena,
            &answer->story, &answer->story_count, ret_problem));
    const struct panel_output *output = output_of_goal(answer);
    answer->verdict = PROOF_GOES_WRONG;
    answer->promise =
            output == NULL ? PROOF_KEPT : world_promise_broken(&seeking->world->program, output, 0);
    answer->culprit = output == NULL ? PANEL_WHY_NONE : output->why;
    answer->culprit_zone = output == NULL ? PANEL_NO_ZONE : output->zone;
    answer->culprit_area = output == NULL ? 0 : output->area;
    return outcome_good();
}

static outcome find_when(
        struct seeking *seeking, struct proof_sought *sought, struct problem *ret_problem) {
    struct explore_result result;
    TRY(explore_for(seeking, NULL, true, &result, ret_problem));
    if (result.reason == EXPLORE_ENDED && !result.bad.overflowed) {
        sought->has_when = true;
        sought->when = result.bad;
        sought->always = !result.good_ends;
    }
    return outcome_good();
}

/* A story by clocks that are true where there is one: the fewer oddities, the easier to follow. */
static outcome tell_best(struct seeking *seeking, const struct explore_result *result,
        const struct span *window, struct arena *arena, struct proof_answer *answer,
        struct problem *ret_problem) {
    struct explore_result nominal;
    if (!seeking->options.no_tolerance) {
        seeking->world->options.no_tolerance = true;
        const outcome done = explore_for(seeking, window, false, &nominal, ret_problem);
        seeking->world->options.no_tolerance = false;
        TRY(done);
        if (nominal.verdict == EXPLORE_REFUTED) {
            return tell_found(seeking, &nominal, arena, answer, ret_problem);
        }
        answer->needs_tolerance = nominal.verdict == EXPLORE_PROVEN;
    }
    seeking->world->has_window = window != NULL;
    return tell_found(seeking, result, arena, answer, ret_problem);
}

/* Whether it happens at all is asked first: most hypotheses end there. */
static outcome seek(struct seeking *seeking, const struct span *window, struct arena *arena,
        struct proof_sought *sought, struct problem *ret_problem) {
    struct explore_result anywhen;
    struct explore_result within;
    TRY(explore_for(seeking, NULL, false, &anywhen, ret_problem));
    sought->settled = anywhen.verdict != EXPLORE_UNDECIDED;
    sought->found = anywhen.verdict == EXPLORE_REFUTED;
    if (!sought->found) {
        return outcome_good();
    }
    if (window != NULL) {
        TRY(explore_for(seeking, window, false, &within, ret_problem));
        sought->settled = within.verdict != EXPLORE_UNDECIDED;
        sought->in_window = within.verdict == EXPLORE_REFUTED;
    }
    const bool inside = sought->in_window;
    TRY(tell_best(seeking, inside ? &within : &anywhen, inside ? window : NULL, arena,
            &sought->answer, ret_problem));
    return find_when(seeking, sought, ret_problem);
}

static outcome join_and_seek(struct seeking *seeking, const struct site *site,
        const struct proof_routine *routine, const struct span *window, struct arena *arena,
        struct proof_sought *sought, struct problem *ret_problem) {
    void *world = NULL;
    void *outputs = NULL;
    TRY(arena_get(&seeking->scratch, 1, sizeof(struct world), &world, ret_problem));
    TRY(arena_get(&seeking->scratch, 1, sizeof(struct panel_outputs), &outputs, ret_problem));
    seeking->world = world;
    TRY(world_make(site, NULL, routine, &seeking->options, outputs, seeking->world, ret_problem));
    return seek(seeking, window, arena, sought, ret_problem);
}

outcome proof_seek(const struct site *site, const struct proof_routine *routine,
        const struct proof_goal *goal, const struct span *window,
        const struct proof_options *options, struct pages pages, struct arena *arena,
        struct proof_sought *ret_sought, struct problem *ret_problem) {
    struct seeking seeking = {.pages = pages};
    if (options != NULL) {
        seeking.options = *options;
    }
    seeking.options.goal = goal;
    *ret_sought = (struct proof_sought){.answer = {.routine = *routine}};
    arena_init(&seeking.scratch, pages, 0);
    const outcome done =
            join_and_seek(&seeking, site, routine, window, arena, ret_sought, ret_problem);
    arena_finish(&seeking.scratch);
    ret_sought->answer.classes = seeking.classes;
    return done;
}
