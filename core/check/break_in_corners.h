/* Where in a drawn room a further motion detector has to hang. A remedy says "in this room" (breakin/additions.h), as
 * if it saw all of it; here each corner is tried with what a detector there really sees, and the drawing searched
 * again. */
#ifndef LINTEL_CHECK_BREAK_IN_CORNERS_H
#define LINTEL_CHECK_BREAK_IN_CORNERS_H

#include "breakin/additions.h"

/** Sets the corner of each room among the additions, and what they then leave to spare, such that with all of them it
 *  is still heard in time (or heard, where more was not promised); left as they are where no corners that were tried
 *  do. A detector looks out of its corner, as far and wide as the usual one (plan/coverage.h). site: with the break-ins
 *  of its drawing; others are left as they are. Fails PROBLEM_MEMORY, PROBLEM_LIMIT, PROBLEM_SYSTEM. */
outcome break_in_corners_find(const struct site *site, size_t goal, struct pages pages,
        struct arena *arena, struct additions *additions, struct problem *ret_problem) MUST_CHECK;

#endif
