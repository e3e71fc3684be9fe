/* How somebody can go within one room, from each of its openings to each other and to what is in it, and which motion
 * detectors are sure to see him: for every choice of detectors out of whose view he keeps, the shortest way.
 *
 * Whoever is seen by exactly some detectors keeps out of the view of all others, so his way is at least as long as the
 * shortest one that does; the list of these is complete. Not for moves to be played to the panel: it only lists what
 * there is. Views are taken a little smaller than they are, never larger. */
#ifndef LINTEL_PLAN_ROOM_MOVES_H
#define LINTEL_PLAN_ROOM_MOVES_H

#include "plan/sight.h"
#include "plan/way.h"

enum {
    ROOM_MOVES_VIEWS_MOST = 3, /* of one room; twice as many choices for each */
    /* Who slips past a view needs so much room; common practice for somebody who goes sideways. */
    ROOM_MOVES_BODY_MM = 300,
    /* Between the spots of an opening: narrower than a body, so that no gap of a view is missed. */
    ROOM_MOVES_STEP_MM = 200,
    ROOM_MOVES_SPOTS_MOST = 32,
};

/** Where ways begin or end: at any of these spots of the room. */
struct room_side {
    struct point spots[ROOM_MOVES_SPOTS_MOST];
    size_t spot_count;
};

/** A room. blocks: what he goes round; if that keeps him from any side, it is taken as pushed aside. partners: for each
 *  view a bit for each other one with which alone it counts. Ways begin at the first start_count sides. Borrows. */
struct room_floor {
    struct outline outline;
    const struct segment *blocks;
    size_t block_count;
    const struct sight_view *views;
    const unsigned *partners;
    size_t view_count;
    const struct room_side *sides;
    size_t side_count;
    size_t start_count;
};

/** A way from one side to another; of two sides where ways begin, `from` is the lower one. seen: a bit for each view.
 *  Two detectors that count only together but can be passed one after the other are not both in it. The way is on
 *  storey 0. */
struct room_move {
    size_t from;
    size_t to;
    unsigned seen;
    struct way way;
};

struct room_moves {
    struct room_move *list;
    size_t count;
};

/** Lists them, in the arena. Fails LIMIT, MEMORY. */
outcome room_moves_find(const struct room_floor *floor, struct arena *arena,
        struct room_moves *ret_moves, struct problem *ret_problem) MUST_CHECK;

/** What is sure to be seen of a view, as an outline of whole millimetres: its arc in few pieces, all within it. In the
 *  arena; count 0: nothing. Fails MEMORY. */
outcome room_moves_sure_view(const struct sight_view *view, struct arena *arena,
        struct outline *ret_outline, struct problem *ret_problem) MUST_CHECK;

#endif
