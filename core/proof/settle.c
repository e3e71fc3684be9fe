#include "proof/settle.h"

/* As many as take some hundredths of a second: most routines are over by then, story and all. */
enum { WHOLE_CLASSES = 2000 };

/* Adds to what ret_result says it took. */
static outcome explore(struct world *world, size_t class_limit, bool probe, struct pages pages,
        struct arena *arena, struct explore_result *ret_result, struct problem *ret_problem) {
    const struct explore_result before = *ret_result;
    const struct proof_options *options = &world->options;
    const struct explore_options how = {.class_limit = class_limit,
            .no_merge = options->no_merge,
            .no_inclusion = options->no_inclusion,
            .probe = probe,
            .keep_going = options->keep_going,
            .keep_going_context = options->keep_going_context};
    const struct explore_machine machine = world_machine(world);
    TRY(explore_run(&machine, &how, pages, arena, ret_result, ret_problem));
    ret_result->classes_expanded += before.classes_expanded;
    if (ret_result->bytes_peak < before.bytes_peak) {
        ret_result->bytes_peak = before.bytes_peak;
    }
    return outcome_good();
}

static bool met_limit(const struct explore_result *result, size_t class_limit) {
    return result->verdict == EXPLORE_UNDECIDED && result->reason == EXPLORE_CLASS_LIMIT &&
            result->classes_expanded == class_limit;
}

outcome settle(struct world *world, const struct proof_options *options, bool probe,
        struct pages pages, struct arena *arena, struct explore_result *ret_result,
        struct problem *ret_problem) {
    const size_t limit = options->class_limit;
    const size_t first = options->whole_classes == 0 ? WHOLE_CLASSES : options->whole_classes;
    world->options = *options;
    world->probe = probe;
    *ret_result = (struct explore_result){0};
    if (probe || options->no_calm || (limit != 0 && first >= limit)) {
        return explore(world, limit, probe, pages, arena, ret_result, ret_problem);
    }
    TRY(explore(world, first, probe, pages, arena, ret_result, ret_problem));
    if (!met_limit(ret_result, first)) {
        return outcome_good();
    }
    unheard_find(world, &world->unheard);
    const bool leaves_out = world->unheard.on;
    outcome done = outcome_good();
    if (leaves_out) {
        done = explore(world, limit, probe, pages, arena, ret_result, ret_problem);
        world->unheard.on = false;
    }
    TRY(done);
    if (leaves_out && ret_result->verdict != EXPLORE_REFUTED) {
        return outcome_good();
    }
    return explore(world, limit, probe, pages, arena, ret_result, ret_problem);
}
