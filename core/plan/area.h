/* Floor that no detector sees, as regions with their areas. The only file that speaks to GEOS (C API, its re-entrant
 * half): unions and differences of outlines are solved there; here each answer is checked, copied to the arena and
 * freed. GEOS takes memory of its own meanwhile: the core's stated exception. */
#ifndef LINTEL_PLAN_AREA_H
#define LINTEL_PLAN_AREA_H

#include "base/arena.h"
#include "plan/sight.h"

enum {
    AREA_OUTLINES_MOST = 4096, /* outlines or views in one question */
};

/** A ring of a region: an edge of it to the left round, or of a hole in it to the right round. */
struct area_ring {
    const struct sight_corner *corners;
    size_t count;
    bool is_hole;
};

/** A region: none, one or several pieces, each followed by its holes. area_m2: of exactly these rings. Pieces and holes
 *  under 1 cm2 are roundings and left out. In an order that depends on where they are alone. */
struct area {
    const struct area_ring *rings;
    size_t ring_count;
    double area_m2;
};

/** What of a room's floor is not seen. room: simple. holes: what is not floor though in the room (a pillar, a tall
 *  cupboard), each simple; they may overlap. views: what each detector sees, of this room or beyond. ret_floor: the
 *  room less the holes; ret_blind: that less the views. Both in the arena, untouched on failure. Fails LIMIT, MEMORY,
 *  SYSTEM (GEOS gave no answer; its text is in the problem's). */
outcome area_blind(struct outline room, const struct outline *holes, size_t hole_count,
        const struct sight_view *views, size_t view_count, struct arena *arena,
        struct area *ret_floor, struct area *ret_blind, struct problem *ret_problem) MUST_CHECK;

/** What two rooms have in common; neighbours that share a wall have nothing. Both simple. Fails as above. */
outcome area_common(struct outline a, struct outline b, struct arena *arena,
        struct area *ret_common, struct problem *ret_problem) MUST_CHECK;

/** Whether a point is in the region; within a hundredth of a millimetre of its edge either answer may come. */
bool area_holds(const struct area *area, struct point at);

#endif
