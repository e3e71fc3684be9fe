/* The ways of a house that its people use: from each outside door that a typed way or a routine names to the keypads
 * that they go to, as the drawing has them, with the pace of whoever walks there. */
#ifndef LINTEL_PLAN_USED_WAYS_H
#define LINTEL_PLAN_USED_WAYS_H

#include "plan/house_ways.h"

/** A way in use. keypad: of the site, or SITE_NONE: there is none, and the way leads to the panel. pace: from the
 *  slowest to the fastest of those who walk it; people: bit per person of them, 0: nobody is known, an adult is taken.
 *  drawn: both ends are in the drawing; way.way.count 0 nevertheless: no way leads there within the building. */
struct used_way {
    int door;
    int keypad;
    uint64_t people;
    struct site_pace pace;
    bool drawn;
    struct house_way way;
};

struct used_ways {
    struct used_way *ways;
    size_t count;
};

/** Works them out, in the order of the site's ways, then of its doors. A door that a routine opens without a typed way
 *  leads to the nearest keypad. coverage: of the house, or NULL: nothing is seen. ret_ways: in the arena. Fails LIMIT,
 *  MEMORY. */
outcome used_ways_make(const struct house *house, const struct coverage *coverage,
        struct arena *arena, struct used_ways *ret_ways, struct problem *ret_problem) MUST_CHECK;

/** Seconds for all of a way at its pace. */
struct house_seconds used_way_seconds(const struct used_way *way);

/** The people that routines send along a typed way, in or out: bit per person, animals left out. */
uint64_t used_way_walkers(const struct site *site, int way);

/** The pace of these people; 0: of an adult. */
struct site_pace used_way_pace(const struct site *site, uint64_t people);

#endif
