/* The free directions round a corner of walls, and which side of a wall a way is on that runs along it.
 *
 * Walls have no thickness here, so a way may run along either side of one and not change sides; a corner where walls
 * meet has a free sector between each two neighbours. Exact. */
#ifndef LINTEL_PLAN_SECTOR_H
#define LINTEL_PLAN_SECTOR_H

#include "plan/point.h"

/** Sides of a way, as bits. */
enum { SIDE_LEFT = 1, SIDE_RIGHT = 2, SIDE_BOTH = 3 };

/** The directions from `right`, turning left, to `left`, both included; no wall strictly between. all: every direction,
 *  the two mean nothing. Equal ones: all the way round a single wall. */
struct sector {
    struct point right;
    struct point left;
    bool all;
};

/** On which sides a way that leaves in this direction, not {0, 0}, stays in the sector: both inside of it, one along a
 *  wall that bounds it, 0 outside. */
unsigned sector_sides(struct sector sector, struct point direction);

/** The same sides seen from a way that runs the other way. */
unsigned sector_turned(unsigned sides);

/** The sector of more than half a turn between these walls' directions (steps away from the corner, not {0, 0}), if
 *  there is one: only round such a corner may a shortest way bend. None for count 0. */
bool sector_wide(const struct point *directions, size_t count, struct sector *ret_sector);

/** The sector that `into` points into; all of it for count 0 or `into` {0, 0}. If `into` points along a wall, the
 *  sector to the left of it. */
struct sector sector_around(const struct point *directions, size_t count, struct point into);

/** Sides on which a straight way passes this corner in this direction: those with no wall strictly on them. */
unsigned sector_passes(const struct point *directions, size_t count, struct point direction);

#endif
