#include "proof/settle.h"

#include "proof/guide.h"

/* As many as take some hundredths of a second: most routines are over by then, story and all. */
enum { WHOLE_CLASSES = 2000 };

static struct explore_options how_to(const struct world *world, size_t class_limit, bool probe) {
    const struct proof_options *options = &world->options;
    return (struct explore_options){.class_limit = class_limit,
            .no_merge = options->no_merge,
            .no_inclusion = options->no_inclusion,
            .probe = probe,
            .keep_going = options->keep_going,
            .keep_going_context = options->keep_going_context};
}

static void add_effort(const struct explore_result *before, struct explore_result *result) {
    result->classes_expanded += before->classes_expanded;
    if (result->bytes_peak < before->bytes_peak) {
        result->bytes_peak = before->bytes_peak;
    }
}

/* Adds to what ret_result says it took. */
static outcome explore(struct world *world, size_t class_limit, bool probe, struct pages pages,
        struct arena *arena, struct explore_result *ret_result, struct problem *ret_problem) {
    const struct explore_result before = *ret_result;
    const struct explore_options how = how_to(world, class_limit, probe);
    const struct explore_machine machine = world_machine(world);
    TRY(explore_run(&machine, &how, pages, arena, ret_result, ret_problem));
    add_effort(&before, ret_result);
    return outcome_good();
}

/* The whole grew past its bound before it came to what is known to go wrong: that course is looked for in it. Where it
 * is not found, or is no run of the whole, nothing is settled. */
static outcome explore_along(struct world *world, const struct explore_result *found,
        struct pages pages, struct arena *arena, struct explore_result *ret_result,
        struct problem *ret_problem) {
    const struct explore_options how = how_to(world, world->options.class_limit, false);
    struct explore_result guided;
    world->unheard.on = true;
    TRY(guide_explore(world, found, &how, pages, arena, &guided, ret_problem));
    add_effort(ret_result, &guided);
    if (guide_replays(world, &guided)) {
        guided.reason = ret_result->reason;
        *ret_result = guided;
    } else {
        ret_result->classes_expanded = guided.classes_expanded;
    }
    return outcome_good();
}

static bool met_limit(const struct explore_result *result, size_t class_limit) {
    return result->verdict == EXPLORE_UNDECIDED && result->reason == EXPLORE_CLASS_LIMIT &&
            result->classes_expanded == class_limit;
}

static bool met_bound(const struct explore_result *result) {
    return result->verdict == EXPLORE_UNDECIDED &&
            (result->reason == EXPLORE_CLASS_LIMIT || result->reason == EXPLORE_BYTE_LIMIT);
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
    if (!world->unheard.on) {
        return explore(world, limit, probe, pages, arena, ret_result, ret_problem);
    }
    const outcome done = explore(world, limit, probe, pages, arena, ret_result, ret_problem);
    world->unheard.on = false;
    TRY(done);
    if (ret_result->verdict != EXPLORE_REFUTED) {
        return outcome_good();
    }
    const struct explore_result found = *ret_result;
    TRY(explore(world, limit, probe, pages, arena, ret_result, ret_problem));
    return met_bound(ret_result)
            ? explore_along(world, &found, pages, arena, ret_result, ret_problem)
            : outcome_good();
}
