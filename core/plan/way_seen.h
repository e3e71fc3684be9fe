/* Which stretches of a way a detector sees. */
#ifndef LINTEL_PLAN_WAY_SEEN_H
#define LINTEL_PLAN_WAY_SEEN_H

#include "base/arena.h"
#include "plan/sight.h"
#include "plan/way.h"

enum { WAY_SEEN_LEAST_MM = 1 }; /* shorter is rounding, seen or hidden */

/** From where to where on a way, mm: 0 <= from_mm < to_mm <= its length. */
struct way_stretch {
    double from_mm;
    double to_mm;
};

/** The stretches of the way that lie in the view, in their order; stairs are in none. storey: of the view.
 *  ret_stretches: in the arena. Exact but for the rounding of doubles; a way along the view's very edge may count as
 *  either. Fails MEMORY alone. */
outcome way_seen(const struct way *way, uint32_t storey, const struct sight_view *view,
        struct arena *arena, const struct way_stretch **ret_stretches, size_t *ret_count,
        struct problem *ret_problem) MUST_CHECK;

#endif
