/* Ways round the house, over the ground before it: from one outside door to another, on foot.
 *
 * Only where the ground is level with the floor, OUTSIDE_STEP_MM at the most above or below it. In the way stand the
 * house itself with its outer walls, on a party side the neighbour's, and furniture that is drawn on ground outside.
 * Fences, hedges and what else is not drawn do not; gates open. So it is as long as the drawing knows, and not longer.
 * Not for an intruder: portals.h. */
#ifndef LINTEL_PLAN_OUTSIDE_WAYS_H
#define LINTEL_PLAN_OUTSIDE_WAYS_H

#include "plan/used_ways.h"

enum {
    OUTSIDE_STEP_MM = 500, /* a few steps before a door; house practice */
    OUTSIDE_PARTY_MM =
            60000, /* nobody walks round a row of houses for the back door; house practice */
};

struct outside_ways;

/** Makes ready for ways. house: keeps. arena: of the answer, which keeps it and takes more from it. Fails LIMIT,
 *  MEMORY. */
outcome outside_ways_make(const struct house *house, struct arena *arena,
        struct outside_ways **ret_ways, struct problem *ret_problem) MUST_CHECK;

/** The shortest way from before one door to before another. ret_way: in the arena; count 0: there is none. Fails LIMIT,
 *  MEMORY. */
outcome outside_ways_find(struct outside_ways *ways, int from, int to, struct arena *arena,
        struct way *ret_way, struct problem *ret_problem) MUST_CHECK;

/** A way between two doors that people use. people: bit per person of those who use either; pace: theirs. way: count
 *  0: there is none. */
struct outside_way {
    int from;
    int to;
    uint64_t people;
    struct site_pace pace;
    struct way way;
};

/** The ways between each two of the doors of the ways in use that have ground before them. ret_list: in the arena.
 *  Fails LIMIT, MEMORY. */
outcome outside_ways_between(const struct house *house, const struct used_ways *used,
        struct arena *arena, const struct outside_way **ret_list, size_t *ret_count,
        struct problem *ret_problem) MUST_CHECK;

/** Seconds for all of it. */
struct house_seconds outside_way_seconds(const struct outside_way *way);

#endif
