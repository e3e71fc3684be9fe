/* Walls for a walker of some width: each wall grown by half the body to an eight-cornered stamp's trace, so that the
 * middle of the body may go where the grown walls are not. */
#ifndef LINTEL_PLAN_BODY_H
#define LINTEL_PLAN_BODY_H

#include "plan/point.h"

enum { BODY_CORNERS_MOST = 16, BODY_MOST_MM = 2000 };

/** The trace of a regular eight-cornered body of this width (between flat sides; 1 .. BODY_MOST_MM, halves rounded up)
 *  along the wall: a convex ring to the left round. The body's corners stick out 8 % further than a round one would.
 *  ret_corners: room for BODY_CORNERS_MOST. Answers how many. A quarter turn or mirror of the wall turns or mirrors the
 *  trace exactly. */
size_t body_trace(struct segment wall, int32_t body_mm, struct point *ret_corners);

/** Whether a point is inside of the trace, not on its edge. */
bool body_trace_holds(struct segment wall, int32_t body_mm, struct point at);

#endif
