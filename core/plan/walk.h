/* Shortest ways on foot among walls and furniture, through doorways and over stairs: any angle, not along a grid.
 *
 * A shortest way bends only at corners that walls leave more than half a turn free round. The graph of such corners
 * that see each other is searched from the nearest on (Dijkstra 1959); a corner's edges are worked out when the
 * search first comes there, and kept. An edge is kept only if a way can bend round both its ends. A grid over the
 * walls answers what stands between. What is blocked is decided in whole numbers; lengths are doubles. Sources:
 * visibility graphs, Lozano-Perez and Wesley 1979; edges that touch both ends, Rohnert 1986.
 *
 * Walls have no thickness and may touch, cross and lie on each other; a way may touch a wall and run along it, but
 * not change sides where walls meet, so it cannot slip past a wall's foot. A walker without width (body_mm 0) comes
 * through any gap, of a millimetre too. With a width, walls are grown by half of it (body.h): gaps no wider than the
 * body are closed, up to 8 % wider ones at a slant, and ways round corners are as much longer as the body asks. A
 * place nearer to a wall than that is walked to from the nearest free spot within one and a half bodies that nothing
 * stands before, and the reach counts as way.
 *
 * Complexity: c corners on a storey; a place and a corner ask O(c) lines of the grid when they are first come to, and
 * keep what they see; a search is O(e log c), e the edges kept. Memory: the edges, of the first few thousand places
 * too. */
#ifndef LINTEL_PLAN_WALK_H
#define LINTEL_PLAN_WALK_H

#include "base/arena.h"
#include "plan/way.h"

enum {
    WALK_STOREYS_MOST = 64,
    WALK_WALLS_MOST = 20000, /* of one storey */
    WALK_CORNERS_MOST = 60000,
    WALK_LINKS_MOST = 256,
    WALK_TARGETS_MOST = 4096,
};

/** What stands in the way on one storey: walls without their doorways, furniture. Borrows. */
struct walk_storey {
    const struct segment *walls;
    size_t wall_count;
};

/** A stair, a lift, a ladder: from one place to another, both ways. length_mm: what it counts as way, >= 0. */
struct walk_link {
    struct walk_place from;
    struct walk_place to;
    double length_mm;
};

/** body_mm: the walker's width, 0 (a point) .. BODY_MOST_MM. */
struct walk_plan {
    const struct walk_storey *storeys;
    size_t storey_count;
    const struct walk_link *links;
    size_t link_count;
    int32_t body_mm;
};

struct walk;

/** Makes ready for searches. plan: borrows. arena: of the answer, which keeps it and takes more from it during
 *  searches. Fails BAD_VALUE (out of reach, a storey that is not there, a body or length outside its range), LIMIT,
 *  MEMORY; the texts name what. */
outcome walk_make(const struct walk_plan *plan, struct arena *arena, struct walk **ret_walk,
        struct problem *ret_problem) MUST_CHECK;

/** How many corners ways may bend round, ends of stairs included. */
size_t walk_corner_count(const struct walk *walk);

/** The shortest way from a place to each of the targets. arena: of the answers. ret_ways: target_count of them, one
 *  with count 0 where there is no way. Fails BAD_VALUE, LIMIT, MEMORY. The walk is changed by it, its answers are
 *  not: what it has worked out is kept. */
outcome walk_find(struct walk *walk, struct walk_place from, const struct walk_place *targets,
        size_t target_count, struct arena *arena, struct way *ret_ways, struct problem *ret_problem)
        MUST_CHECK;

#endif
