#include "proof/waits.h"

#include "proof/settle.h"

static bool anybody_waits(const struct proof_routine *routine) {
    for (size_t i = 0; i < routine->step_count; i++) {
        if (routine->steps[i].when != SITE_SIGN_NONE || routine->steps[i].after != SITE_NONE) {
            return true;
        }
    }
    return false;
}

/* Without the calm rule: what nobody need look at for a promise may be what somebody waits for. */
static outcome watch(struct world *world, enum world_watch what,
        const struct proof_options *options, struct pages pages, struct arena *arena,
        struct explore_result *ret_result, struct problem *ret_problem) {
    struct proof_options whole = *options;
    whole.no_calm = true;
    if (whole.class_limit == 0 || whole.class_limit > PROOF_WAITS_CLASSES) {
        whole.class_limit = PROOF_WAITS_CLASSES;
    }
    world->watch = what;
    const outcome done = settle(
            world, &whole, what == WORLD_WATCHES_WAITING, pages, arena, ret_result, ret_problem);
    world->watch = WORLD_WATCHES_PROMISES;
    return done;
}

outcome waits_find(struct world *world, const struct proof_options *options, struct pages pages,
        struct arena *arena, struct proof_answer *answer, struct problem *ret_problem) {
    struct explore_result result;
    if (!anybody_waits(world->routine)) {
        return outcome_good();
    }
    TRY(watch(world, WORLD_WATCHES_WAITING, options, pages, arena, &result, ret_problem));
    if (result.verdict == EXPLORE_UNDECIDED) {
        answer->waits = PROOF_WAITS_NOT_SETTLED;
        answer->reason = result.reason;
    }
    if (result.verdict != EXPLORE_REFUTED || result.violation == 0) {
        return outcome_good();
    }
    const size_t step = result.violation - 1;
    world->watched_step = step;
    TRY(watch(world, WORLD_WATCHES_STEP, options, pages, arena, &result, ret_problem));
    answer->waits = result.verdict == EXPLORE_PROVEN ? PROOF_WAITS_ALWAYS : PROOF_WAITS_SOMETIMES;
    answer->waiting_step = step;
    return outcome_good();
}
