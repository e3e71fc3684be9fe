/* What a range counts, written down a second time from the words of proof.h: a machine over a world that knows of no
 * probe, told from the lines of each event alone: it keeps its own account of which doors are open, who moved them last
 * and what the panel has been told, so that an opening may be seen later than it is made. For sites whose devices are
 * wired: no message is under way. */
#ifndef LINTEL_TESTS_PROOF_PROBED_MACHINE_H
#define LINTEL_TESTS_PROOF_PROBED_MACHINE_H

#include "proof/world.h"

enum { PROBED_LINES_MOST = 512 };

/** Keeps the world, whose tape it takes; the answer's probed_* say what is probed. */
struct probed_machine {
    struct world *world;
    const struct proof_answer *answer;
    struct world_tape tape;
    struct proof_line lines[PROBED_LINES_MOST];
};

/** The machine, for enumerate_machine with probe. The world must have no_calm set and no marks. */
struct explore_machine probed_machine_over(
        struct world *world, const struct proof_answer *answer, struct probed_machine *probed);

#endif
