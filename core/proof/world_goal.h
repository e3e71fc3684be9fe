/* Looking for a goal (seek.h) in a world: when it counts, when it is met. Part of world; nobody else includes it.
 * All of it is for a world with a goal only; effects: of the firing under way. */
#ifndef LINTEL_PROOF_WORLD_GOAL_H
#define LINTEL_PROOF_WORLD_GOAL_H

#include "proof/world.h"

/** At instant 0. */
void goal_begin(
        const struct world *world, struct world_state *state, struct explore_effects *effects);
/** An output of the panel, which has answered. */
void goal_note(const struct world *world, struct world_state *state,
        struct explore_effects *effects, const struct panel_output *output);
/** The unfolded step is about to be done. Also without a goal: then nothing. */
void goal_expect(const struct world *world, struct world_state *state,
        struct explore_effects *effects, size_t step);
/** WORLD_WINDOW or WORLD_PATIENCE is over. */
void goal_fire(const struct world *world, struct world_state *state,
        struct explore_effects *effects, explore_activity activity);

/** What the panel is told of a mishap that is neither a trip nor its end. */
struct panel_input goal_mishap(const struct proof_step *step);

#endif
