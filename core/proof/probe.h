/* Which interval of a story decided: what a range is claimed of. Not for use outside this folder. */
#ifndef LINTEL_PROOF_PROBE_H
#define LINTEL_PROOF_PROBE_H

#include "proof/world.h"

/** The interval that decided in the answer's story. False where there is none: no timer's end hurt, or no act
 * was to come that would have stopped it. */
bool probe_choose(const struct world *world, const struct proof_answer *answer,
        struct world_probe *ret_probe);

#endif
