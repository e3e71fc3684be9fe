#include "proof/world_goal.h"

static void meet(struct world_state *state, struct explore_effects *effects, uint32_t violation) {
    state->violation = violation;
    effects->violation = violation;
    effects->standing = EXPLORE_VIOLATION;
    effects->mark |= 2U;
}

static void add(struct explore_effects *effects, enum explore_effect_kind kind, unsigned activity,
        int32_t seconds_s) {
    effects->overflowed = effects->overflowed || effects->count == EXPLORE_EFFECT_MAX;
    if (!effects->overflowed) {
        effects->effects[effects->count] = (struct explore_effect){.kind = kind,
                .activity = (explore_activity)activity,
                .span = span_of(seconds_s, seconds_s)};
        effects->count++;
    }
}

/* The time begins in which the goal counts, or it ends and with it the search. */
static void turn_window(
        const struct world *world, struct world_state *state, struct explore_effects *effects) {
    if (state->search == WORLD_SEARCH_COUNTS) {
        effects->standing = EXPLORE_GOOD_END;
        return;
    }
    state->search = WORLD_SEARCH_COUNTS;
    add(effects, EXPLORE_START, WORLD_WINDOW, world->window.high_s - world->window.low_s);
}

void goal_begin(
        const struct world *world, struct world_state *state, struct explore_effects *effects) {
    if (world->goal == NULL) {
        return;
    }
    effects->mark |= 1U;
    if (!world->has_window) {
        state->search = WORLD_SEARCH_COUNTS;
    } else if (world->window.low_s <= 0) {
        turn_window(world, state, effects);
    } else {
        add(effects, EXPLORE_START, WORLD_WINDOW, world->window.low_s);
    }
}

/* A goal that is to stay away ends the run well when it comes after all. */
void goal_note(const struct world *world, struct world_state *state,
        struct explore_effects *effects, const struct panel_output *output) {
    const struct proof_goal *goal = world->goal;
    if (effects->standing != EXPLORE_GOES_ON) {
        return;
    }
    if (goal->is_first != NULL && goal->is_first(goal->context, output, &state->panel)) {
        state->primed = 1;
    }
    if ((goal->is_first != NULL && state->primed == 0) ||
            !goal->is_met(goal->context, output, &state->panel)) {
        return;
    }
    if (goal->stays_away) {
        if (state->search == WORLD_SEARCH_AWAY) {
            effects->standing = EXPLORE_GOOD_END;
        }
    } else if (state->search == WORLD_SEARCH_COUNTS) {
        meet(state, effects, world_violation(PROOF_SIREN, output));
    }
}

void goal_expect(const struct world *world, struct world_state *state,
        struct explore_effects *effects, size_t step) {
    const struct proof_goal *goal = world->goal;
    if (goal == NULL || !goal->stays_away || step != goal->after_step ||
            state->search != WORLD_SEARCH_COUNTS ||
            (goal->counts != NULL && !goal->counts(goal->context, &state->panel))) {
        return;
    }
    state->search = WORLD_SEARCH_AWAY;
    add(effects, EXPLORE_STOP, WORLD_WINDOW, 0);
    add(effects, EXPLORE_START, WORLD_PATIENCE, goal->patience_s);
}

void goal_fire(const struct world *world, struct world_state *state,
        struct explore_effects *effects, explore_activity activity) {
    if (activity == WORLD_WINDOW) {
        turn_window(world, state, effects);
    } else {
        meet(state, effects, PROOF_SIREN);
    }
}

struct panel_input goal_mishap(const struct proof_step *step) {
    const uint8_t zone = (uint8_t)step->zone;
    if (step->mishap == PROOF_MISHAP_BATTERY) {
        return (struct panel_input){
                .kind = PANEL_IN_LOW_BATTERY, .zone = zone, .user = PANEL_NOBODY};
    }
    return (struct panel_input){.kind = PANEL_IN_TIMER,
            .zone = zone,
            .user = PANEL_NOBODY,
            .timer = panel_timer_of(PANEL_TIMER_SUPERVISION, zone)};
}
