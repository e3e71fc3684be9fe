#include "proof/interval.h"

#include "proof/acts.h"

static bool is_done(const struct world_state *state, size_t step) {
    return (state->done[step / 64] >> (step % 64) & 1U) != 0;
}

bool interval_concerns(const struct world *world, const struct proof_step *step, unsigned zone) {
    const struct act_kind *kind = act_kind_of(step->act);
    if (kind->does != ACT_DOES_MOVE && kind->does != ACT_DOES_PRESS) {
        return false;
    }
    return kind->on == ACT_ON_DOOR ? panel_zones_has(&world->of_door[step->door], zone)
                                   : step->zone == (int)zone;
}

static bool same_thing(
        const struct world *world, const struct proof_step *a, const struct proof_step *b) {
    for (unsigned zone = 0; zone < world->program.zone_count; zone++) {
        if (interval_concerns(world, a, zone) && interval_concerns(world, b, zone)) {
            return true;
        }
    }
    return false;
}

void interval_moved(const struct world *world, struct world_state *state, size_t step) {
    const size_t from = world->probed.from;
    if (step != PROOF_STEP_MAX && from != PROOF_STEP_MAX &&
            same_thing(world, &world->routine->steps[step], &world->routine->steps[from])) {
        state->moved = step == from;
    }
}

/* Whether what happens now is the doing of step `from`, or the panel hears of that now. */
static bool is_doing_of(const struct world *world, const struct world_state *state, size_t from,
        size_t step, unsigned zone) {
    return from == PROOF_STEP_MAX || step == from ||
            (step == PROOF_STEP_MAX && zone != PANEL_NO_ZONE && state->moved != 0 &&
                    interval_concerns(world, &world->routine->steps[from], zone));
}

void interval_timer(const struct world *world, struct world_state *state, size_t step,
        unsigned zone, const struct panel_output *output, struct explore_effects *effects) {
    if (output->timer != world->probed.timer || output->kind == PANEL_OUT_SHORTEN) {
        return;
    }
    if (state->interval == WORLD_TIMED) {
        state->interval = WORLD_PAST; /* stopped, or loaded again: not the interval of the story */
        return;
    }
    if (output->kind == PANEL_OUT_START && state->interval == WORLD_BEFORE &&
            is_doing_of(world, state, world->probed.from, step, zone)) {
        state->starts++;
        if (state->starts == world->probed.start) {
            state->interval = WORLD_TIMED;
            effects->mark |= 1U;
        }
    }
}

bool interval_is_crossed(const struct world *world, const struct world_state *state) {
    const struct proof_step *step = &world->routine->steps[world->probed.step];
    for (unsigned zone = 0; zone < world->program.zone_count; zone++) {
        const bool under_way =
                panel_zones_has(&state->pending, zone) || panel_zones_has(&state->unseen, zone);
        if (under_way && interval_concerns(world, step, zone)) {
            return false;
        }
    }
    return is_done(state, world->probed.step);
}

/* A run that is broken while the timer's end had no part in it, or when the interval was over, is not one of those in
 * which it went wrong for this; nor does it go well. */
void interval_judge_broken(
        const struct world_state *state, bool was_crossed, struct explore_effects *effects) {
    if (state->interval != WORLD_ENDED || was_crossed) {
        effects->standing = EXPLORE_SET_ASIDE;
    } else if (state->crossed != 0) {
        effects->standing = EXPLORE_VIOLATION;
        effects->violation = state->violation;
    }
}
