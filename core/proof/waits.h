/* Who waits for what never comes. Not for use outside this folder. */
#ifndef LINTEL_PROOF_WAITS_H
#define LINTEL_PROOF_WAITS_H

#include "proof/world.h"

/** Explores a world that goes well once more, to its last event, and says in the answer whether a course of it can end
 *  with somebody still waiting, or that this is not settled within PROOF_WAITS_CLASSES, and why. */
outcome waits_find(struct world *world, const struct proof_options *options, struct pages pages,
        struct arena *arena, struct proof_answer *answer, struct problem *ret_problem) MUST_CHECK;

#endif
