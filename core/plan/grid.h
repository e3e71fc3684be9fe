/* A grid over walls, so that those near a line or in a box are found without asking all. Knows only where walls are.
 *
 * Cells are squares; a wall is listed in each cell it has a point in, worked out in whole numbers, so that two walls
 * with a point in common share a cell. */
#ifndef LINTEL_PLAN_GRID_H
#define LINTEL_PLAN_GRID_H

#include "base/arena.h"
#include "plan/point.h"

/** Walls by cells: those of cell c are members[starts[c]] to members[starts[c + 1] - 1]. Keeps the walls. */
struct grid {
    const struct segment *walls;
    size_t wall_count;
    struct point low;
    int32_t cell_mm;
    uint32_t columns;
    uint32_t rows;
    const uint32_t *starts;
    const uint32_t *members;
};

/** Called with a wall; the same one may come more than once. False ends the visit. context: borrows. */
typedef bool grid_visit(void *context, uint32_t wall);

/** Makes a grid of about two cells a wall. walls: in reach, at most 2^20 (keeps). ret_grid: in the arena. Fails
 *  MEMORY. */
outcome grid_make(const struct segment *walls, size_t wall_count, struct arena *arena,
        struct grid *ret_grid, struct problem *ret_problem) MUST_CHECK;

/** Visits at least every wall that has a point in common with the line, from its beginning on by columns. False: the
 *  visit was ended. */
bool grid_along(const struct grid *grid, struct segment line, grid_visit *visit, void *context);

/** Visits at least every wall with a point in the box from low to high. False: the visit was ended. */
bool grid_in_box(const struct grid *grid, struct point low, struct point high, grid_visit *visit,
        void *context);

#endif
