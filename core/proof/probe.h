/* Which interval of a story decided: what a range is claimed of. Not for use outside this folder. */
#ifndef LINTEL_PROOF_PROBE_H
#define LINTEL_PROOF_PROBE_H

#include "proof/world.h"

/** From the start of a panel timer, its `start`th of the routine (from 1), to the unfolded step that came too late. */
struct probe {
    panel_timer timer;
    uint8_t start;
    size_t step;
};

/** The interval that decided in the answer's story. False where there is none: no timer's end hurt, or no act
 * was to come that would have stopped it. */
bool probe_choose(
        const struct world *world, const struct proof_answer *answer, struct probe *ret_probe);

#endif
