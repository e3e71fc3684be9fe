/* The probed interval of a run: when it begins, when its timer has ended, when it is over. Not for use outside this
 * folder. */
#ifndef LINTEL_PROOF_INTERVAL_H
#define LINTEL_PROOF_INTERVAL_H

#include "proof/world.h"

/** Whether the doing of the step changes the level of the zone, or may. */
bool interval_concerns(const struct world *world, const struct proof_step *step, unsigned zone);

/** The step has moved a door or tripped a detector, before the panel answers. */
void interval_moved(const struct world *world, struct world_state *state, size_t step);

/** Takes a START or STOP of the panel. step: being done now, or PROOF_STEP_MAX; zone: whose level changes or arrives by
 *  itself now, or PANEL_NO_ZONE. Marks the beginning. */
void interval_timer(const struct world *world, struct world_state *state, size_t step,
        unsigned zone, const struct panel_output *output, struct explore_effects *effects);

/** The panel has learned of the act that crosses, or nobody will do it any more. */
bool interval_is_crossed(const struct world *world, const struct world_state *state);

/** What a broken run is to the probe. was_crossed: the interval was over before this event. */
void interval_judge_broken(
        const struct world_state *state, bool was_crossed, struct explore_effects *effects);

#endif
