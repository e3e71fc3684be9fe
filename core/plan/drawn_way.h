/* A way of the site file out of the drawing: what is passed on it and how long each leg takes, for those who walk it.
 * */
#ifndef LINTEL_PLAN_DRAWN_WAY_H
#define LINTEL_PLAN_DRAWN_WAY_H

#include "plan/house_ways.h"

/** The legs of a typed way, worked out from a way of the drawing: an inner door where it is passed, a detector where it
 *  first sees the walker (outward that is where it sees him last). Each leg's seconds are its length over the pace,
 *  rounded outward to whole seconds, so that what is proven of them holds for every walker of that pace. coverage: that
 *  of the way. What is more than SITE_LEG_MAX is left out, and the answer is false; the last leg still ends at the
 *  keypad. ret_way: legs, leg_count, last; the rest is untouched. */
bool drawn_way_legs(const struct site *site, const struct coverage *coverage,
        const struct house_way *way, struct site_pace pace, struct site_way *ret_way);

#endif
