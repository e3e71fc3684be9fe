/* Putting to rest, in a state, what nobody hears (unheard.h) and what no longer matters (moot.h). */
#ifndef LINTEL_PROOF_REST_H
#define LINTEL_PROOF_REST_H

#include "explore/explore.h"
#include "proof/world.h"

/** Puts it to rest: the state's bits, and a STOP for each activity that ran of it. Does nothing where everything is
 *  heard. Uses the world's room for one step of the panel. */
void rest_all(
        const struct world *world, struct world_state *state, struct explore_effects *effects);

#endif
