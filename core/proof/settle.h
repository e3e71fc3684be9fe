/* One exploration of a world: whole while it is small, else without what nobody hears. */
#ifndef LINTEL_PROOF_SETTLE_H
#define LINTEL_PROOF_SETTLE_H

#include "proof/world.h"

/** Explores the world with these options. A search that is not over after options->whole_classes goes on without what
 *  nobody hears (unheard.h, moot.h). Where that one finds that all goes well, all does; where it finds that something
 *  goes wrong, the whole world is explored for the shortest course; and where that meets a bound first, along the
 *  course that is known (guide.h). Such a result is refuted, with the bound as its reason: its story is a run of the
 *  whole, but not the one of fewest events. Classes are those of all searches. probe: as in explore_options; always
 *  the whole world. pages, arena, failures: as explore_run. */
outcome settle(struct world *world, const struct proof_options *options, bool probe,
        struct pages pages, struct arena *arena, struct explore_result *ret_result,
        struct problem *ret_problem) MUST_CHECK;

#endif
