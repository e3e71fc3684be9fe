/* From a course that leaves out what nobody hears to one of the whole world. Not for use outside this folder. */
#ifndef LINTEL_PROOF_GUIDE_H
#define LINTEL_PROOF_GUIDE_H

#include "proof/world.h"

/** Explores the whole world along a course of the search that left out what nobody hears: every step that was done or
 *  joined in it comes at its instant and in its order; the panel's timers and the devices are as free as ever. So it
 *  takes few classes, and what it finds is a course of the whole. world: with unheard.on as in that search; off
 *  afterwards, all else as before. found: refuted, its story. how: of the exploration. ret_result: as explore_run; the
 *  story is told with the activities of the whole world. PROVEN says nothing but that the guidance did not help.
 *  pages, arena, failures: as explore_run. Scaled times (options.scale) are not followed: undecided. */
outcome guide_explore(struct world *world, const struct explore_result *found,
        const struct explore_options *how, struct pages pages, struct arena *arena,
        struct explore_result *ret_result, struct problem *ret_problem) MUST_CHECK;

/** Whether the story is a run of the world, second by second: every event comes when its activity is due and nothing is
 *  overdue, every duration is one that may be drawn, and the last event, no other, breaks that promise. */
bool guide_replays(const struct world *world, const struct explore_result *result);

#endif
