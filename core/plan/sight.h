/* What can be seen from one place among walls and tall furniture, cut to a detector's pattern: an outline and its
 * area.
 *
 * A sweep round the viewer: at each direction in which a wall begins, ends or crosses another, the nearest wall may
 * change. The order of these directions and which of two walls is nearer are decided exactly, with crossings of walls
 * as fractions; only the corners that come out are rounded, as doubles. The answer is regularised: it is an area, and
 * needles of no width (a ray that grazes two corners) are left out.
 *
 * Complexity: with n walls in range and k crossings of walls or of walls with the arc, O((n + k) log(n + k)), and at
 * most O(n^2) to find the crossings (only those pairs are tried whose widths overlap). Sources: sweep by angle as in
 * Asano 1985 and Suri and O'Rourke 1986. Walls may touch, cross and lie on each other. */
#ifndef LINTEL_PLAN_SIGHT_H
#define LINTEL_PLAN_SIGHT_H

#include "base/arena.h"
#include "plan/pattern.h"
#include "plan/point.h"

enum {
    SIGHT_WALLS_MOST = 20000,     /* handed in */
    SIGHT_CROSSINGS_MOST = 50000, /* of walls in range */
};

/** Who looks, and where. into: a step to the side of the walls it hangs on that it looks into; {0, 0}: the side its
 *  pattern faces (an all-round one then sees every side). Does not matter away from walls. */
struct sight_viewer {
    struct point at;
    struct point into;
    struct pattern pattern;
};

/** A corner of what is seen; it need not be a whole millimetre. */
struct sight_corner {
    double x_mm;
    double y_mm;
};

/** What is seen from `at`: an outline to the left round, star-shaped about the viewer, which is one of its corners
 *  unless it sees all round. count 0: nothing (area 0). area_m2: of exactly these corners. */
struct sight_view {
    struct point at;
    const struct sight_corner *corners;
    size_t count;
    double area_m2;
};

/** What a viewer sees. walls: what stops it, in any order (borrows). ret_view: its corners in the arena; untouched on
 *  failure. Fails BAD_VALUE (the pattern; a point out of reach; a viewer that looks along the very wall it hangs on and
 *  does not say into which side), LIMIT (SIGHT_WALLS_MOST, SIGHT_CROSSINGS_MOST), MEMORY. */
outcome sight_see(const struct sight_viewer *viewer, const struct segment *walls, size_t wall_count,
        struct arena *arena, struct sight_view *ret_view, struct problem *ret_problem) MUST_CHECK;

/** Whether a point is seen; within a hundredth of a millimetre of the edge either answer may come. */
bool sight_view_holds(const struct sight_view *view, struct point at);

/** How much of a wall, a pane or a radiator's front is seen, mm: what of it lies on the edge of the view, within a
 *  millimetre. It must have been one of the walls. 0 .. its length. */
double sight_view_seen_mm(const struct sight_view *view, struct segment wall);

#endif
