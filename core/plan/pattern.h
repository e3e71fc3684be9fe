/* What a detector sees where nothing stands in its way, as an outline: a sector of a circle with its arc in straight
 * pieces. A curtain is a narrow sector. Height is not looked at.
 *
 * Error of the arc: the pieces are at most 1 degree and the outline has the sector's own area, so that its edge lies
 * within 1e-4 of the range of the arc (1.2 mm at 12 m); corners are whole millimetres. */
#ifndef LINTEL_PLAN_PATTERN_H
#define LINTEL_PLAN_PATTERN_H

#include "plan/point.h"

enum {
    PATTERN_RANGE_MOST_MM = 100000,
    PATTERN_CORNERS_MOST = 361,
};

/** facing_deg: the middle of the sector, 0 along x, 90 along y; within 3600 either way. opening_deg: the whole angle,
 *  over 0 up to 360 (all round). range_mm: 1 .. PATTERN_RANGE_MOST_MM. Angles count in millionths of a degree. */
struct pattern {
    double facing_deg;
    double opening_deg;
    int32_t range_mm;
};

/** Fails BAD_VALUE for what is outside the ranges above; the text names it and what is allowed. */
outcome pattern_check(const struct pattern *pattern, struct problem *ret_problem) MUST_CHECK;

/** Whether the pattern goes all the way round, so that it has no sides. */
bool pattern_is_round(const struct pattern *pattern);

/** The corners of the arc, seen from the detector, to the left round it. ret_corners: room for PATTERN_CORNERS_MOST.
 *  Answers how many: at least 2; of a round pattern the last one joins the first. The pattern is one that was checked.
 *  A quarter turn or a mirror of the pattern turns or mirrors the corners exactly. */
size_t pattern_arc(const struct pattern *pattern, struct point *ret_corners);

/** The step along the middle of the sector, range_mm long. */
struct point pattern_axis(const struct pattern *pattern);

/** The area of the sector in m2: pi r2 times its share of the circle. */
double pattern_area_m2(const struct pattern *pattern);

#endif
