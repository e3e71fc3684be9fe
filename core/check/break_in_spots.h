/* Where in a drawing a further motion detector could hang: the corners of its rooms, each with what is really seen from
 * there, in its own room and through what stands open in others. What is chosen of them is drawn again and searched
 * (breakin/additions.h). */
#ifndef LINTEL_CHECK_BREAK_IN_SPOTS_H
#define LINTEL_CHECK_BREAK_IN_SPOTS_H

#include "breakin/additions.h"

/** The spots of a site with the break-ins of its drawing, the rooms in their order, up to SITE_CORNER_COUNT - 1 corners
 *  each. A detector there looks out of its corner, as far and wide as the usual one (plan/coverage.h). In the arena.
 *  Fails PROBLEM_MEMORY, PROBLEM_LIMIT, PROBLEM_SYSTEM. */
outcome break_in_spots(const struct site *site, struct arena *arena,
        struct additions_drawing *ret_drawing, struct problem *ret_problem) MUST_CHECK;

#endif
