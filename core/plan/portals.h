/* Where somebody could come into the building and how he could go about in it, made from the drawing as if it had been
 * written by hand: rooms, openings with the least time to force them, what notices them, the least times between
 * them, and what is worth protecting. It is searched like any other (breakin/rooms.h).
 *
 * On the safe side: he runs at PORTALS_SPEED_MM_S, climbs over what is lower than a person, counts as seen only where
 * no way of that length keeps out of the view, and is stopped by what openings are made of alone. Seconds are rounded
 * down. Out of reach of him: openings that one needs a ladder for, and walls. A detector without a place in the
 * drawing notices nothing; of more than ROOM_MOVES_VIEWS_MOST that see one room those that see the most of it do. */
#ifndef LINTEL_PLAN_PORTALS_H
#define LINTEL_PLAN_PORTALS_H

#include "plan/coverage.h"
#include "plan/way.h"

enum {
    /* The fastest walk test of EN 50131-2-2, grade 4: 3 m/s. From memory, unverified. */
    PORTALS_SPEED_MM_S = 3000,
    /* He reaches so far from where he stands. House practice. */
    PORTALS_ARM_MM = 600,
    PORTALS_MOVES_MOST = 8000,
    PORTALS_GOALS_MOST = 64,
};

/** What the parts of `said` stand for. opening, stairs: of each opening, in the building's lists, or SITE_NONE
 *  (neither: the way to a piece of ground). ways: of each move, on its storey. */
struct portals {
    struct site_break_ins said;
    int *opening;
    int *stairs;
    const struct way *ways;
};

/** Whether a place is one that somebody may come for: it says what it protects, the panel is there, or the only power
 *  or line that the panel has. */
bool portals_is_goal(const struct site_place *place);

/** Makes them. What the site says by hand of being heard, of help and of when stays; rooms, openings and what is
 *  protected are those of the drawing. A room's index is that of the drawing. ret_portals: in the arena; keeps names of
 *  the site. Fails LIMIT (more than PORTALS_MOVES_MOST ways or PORTALS_GOALS_MOST things to protect), MEMORY, SYSTEM
 *  (GEOS). */
outcome portals_make(const struct house *house, const struct coverage *coverage,
        struct arena *arena, struct portals *ret_portals, struct problem *ret_problem) MUST_CHECK;

/** What one motion detector more would be sure to notice, were it alone: of each move of portals, whether nobody goes
 *  between its ends out of this view; of each opening, whether all of it lies in view from a room; of each room,
 *  whether any of its floor does. */
struct portals_seen {
    bool *moves;    /* said.move_count */
    bool *openings; /* said.opening_count */
    bool *rooms;    /* said.room_count */
};

/** Works it out for a view on a storey. portals: of the same house. ret_seen: in the arena. Fails as portals_make. */
outcome portals_see(const struct house *house, const struct portals *portals,
        const struct sight_view *view, int storey, struct arena *arena,
        struct portals_seen *ret_seen, struct problem *ret_problem) MUST_CHECK;

#endif
