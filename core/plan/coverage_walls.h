/* What of a house stops an eye, as lines for sight.h: the insides of rooms without the openings that have no leaf, the
 * jambs of those, and tall furniture. Ground outside has no walls of its own. */
#ifndef LINTEL_PLAN_COVERAGE_WALLS_H
#define LINTEL_PLAN_COVERAGE_WALLS_H

#include "plan/house.h"

/** The lines of one storey. lowest_mm: furniture at least so high. Rooms, openings and furniture that are not good are
 *  left out. ret_walls: in the arena. Fails MEMORY alone. */
outcome coverage_walls(const struct house *house, int storey, int32_t lowest_mm,
        struct arena *arena, const struct segment **ret_walls, size_t *ret_count,
        struct problem *ret_problem) MUST_CHECK;

#endif
