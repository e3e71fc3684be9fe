/* Where a motion detector would see most of its room: the corners of the room tried one after the other, by what
 * stands there now. For what to change; corner by corner, so not for each detector of each house at every turn. */
#ifndef LINTEL_PLAN_COVERAGE_CORNER_H
#define LINTEL_PLAN_COVERAGE_CORNER_H

#include "plan/coverage.h"

/** A corner, and how much of the room's floor is seen from there. floor_m2: of the room. */
struct coverage_corner {
    struct point at;
    double seen_m2;
    double floor_m2;
};

/** The best corner for the detector of a view, which looks out of it along its middle. ret_corner: seen_m2 0: the room
 *  has none that sees anything. Fails as coverage_make. */
outcome coverage_best_corner(const struct house *house, const struct coverage_view *view,
        struct arena *arena, struct coverage_corner *ret_corner, struct problem *ret_problem)
        MUST_CHECK;

#endif
