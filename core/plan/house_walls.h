/* What of a house stops an eye or a walker, as lines for sight.h and walk.h: the insides of rooms without the openings
 * that let through, the jambs of those, furniture, flights of stairs. Ground outside has no walls of its own. */
#ifndef LINTEL_PLAN_HOUSE_WALLS_H
#define LINTEL_PLAN_HOUSE_WALLS_H

#include "plan/house.h"

/** What stops. open: bit per site_opening_kind that lets through; stays_in: none of those that lead outside does.
 *  lowest_mm: furniture at least so high stops. stairs: a flight's rectangle stops on its own storey and, as the hole
 *  in the floor, on the next. */
struct house_walls_wish {
    uint32_t open;
    bool stays_in;
    int32_t lowest_mm;
    bool stairs;
};

/** What stops an eye: all but openings without a leaf, and furniture at least so high. */
static inline struct house_walls_wish house_walls_for_eyes(int32_t lowest_mm) {
    return (struct house_walls_wish){.open = 1U << SITE_OPENING_GAP, .lowest_mm = lowest_mm};
}

/** The lines of one storey. Rooms, openings, furniture and stairs that are not good are left out. ret_walls: in the
 *  arena. Fails MEMORY alone. */
outcome house_walls(const struct house *house, int storey, const struct house_walls_wish *wish,
        struct arena *arena, const struct segment **ret_walls, size_t *ret_count,
        struct problem *ret_problem) MUST_CHECK;

/** Whether an opening leads out of the building. */
bool house_leads_outside(const struct house *house, const struct house_opening *opening);

#endif
