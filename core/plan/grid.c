#include "plan/grid.h"

#include <math.h>

enum { CELLS_A_WALL = 2 };

static int32_t least(int32_t a, int32_t b) {
    return a < b ? a : b;
}

static int32_t most(int32_t a, int32_t b) {
    return a > b ? a : b;
}

/* Below zero and beyond the last cell lead to the outermost ones: no wall is out there. */
static uint32_t cell_of(int64_t offset_mm, int32_t cell_mm, uint32_t count) {
    const int64_t cell = offset_mm < 0 ? 0 : offset_mm / cell_mm;
    return cell < count ? (uint32_t)cell : count - 1;
}

static int64_t divide_down(int64_t a, int64_t b) {
    return a / b - (a % b != 0 && (a < 0) != (b < 0));
}

struct rows {
    uint32_t first;
    uint32_t last;
};

/* The rows in which the line has points within one column. Heights are rounded down: rows begin at whole ones. */
static struct rows rows_in_column(const struct grid *grid, struct segment line, uint32_t column) {
    int64_t low = least(line.from.y_mm, line.to.y_mm);
    int64_t high = most(line.from.y_mm, line.to.y_mm);
    const int64_t dx = line.to.x_mm - line.from.x_mm;
    const int64_t dy = line.to.y_mm - line.from.y_mm;
    if (dx != 0 && dy != 0) {
        const int64_t left = grid->low.x_mm + (int64_t)column * grid->cell_mm - line.from.x_mm;
        const int64_t right = left + grid->cell_mm;
        const int64_t at_left = divide_down(left * dy, dx);
        const int64_t at_right = divide_down(right * dy, dx);
        const int64_t lower = line.from.y_mm + (at_left < at_right ? at_left : at_right);
        const int64_t upper = line.from.y_mm + (at_left < at_right ? at_right : at_left);
        low = lower > low ? lower : low;
        high = upper < high ? upper : high;
    }
    return (struct rows){cell_of(low - grid->low.y_mm, grid->cell_mm, grid->rows),
            cell_of(high - grid->low.y_mm, grid->cell_mm, grid->rows)};
}

static uint32_t column_of(const struct grid *grid, int32_t x_mm) {
    return cell_of((int64_t)x_mm - grid->low.x_mm, grid->cell_mm, grid->columns);
}

/* Counts a wall in its cells, or lists it there: starts are then moved up to the cells' ends. */
static void enter_wall(
        const struct grid *grid, uint32_t wall, uint32_t *counts, uint32_t *members) {
    const struct segment line = grid->walls[wall];
    const uint32_t last = column_of(grid, most(line.from.x_mm, line.to.x_mm));
    for (uint32_t column = column_of(grid, least(line.from.x_mm, line.to.x_mm)); column <= last;
            column++) {
        const struct rows rows = rows_in_column(grid, line, column);
        for (uint32_t row = rows.first; row <= rows.last; row++) {
            uint32_t *count = &counts[column * grid->rows + row];
            if (members != NULL) {
                members[*count] = wall;
            }
            ++*count;
        }
    }
}

static void lay_out(struct grid *grid) {
    struct point low = {0, 0};
    struct point high = {0, 0};
    for (size_t i = 0; i < grid->wall_count; i++) {
        const struct segment wall = grid->walls[i];
        const struct point wall_low = {
                least(wall.from.x_mm, wall.to.x_mm), least(wall.from.y_mm, wall.to.y_mm)};
        const struct point wall_high = {
                most(wall.from.x_mm, wall.to.x_mm), most(wall.from.y_mm, wall.to.y_mm)};
        low = i == 0
                ? wall_low
                : (struct point){least(low.x_mm, wall_low.x_mm), least(low.y_mm, wall_low.y_mm)};
        high = i == 0
                ? wall_high
                : (struct point){most(high.x_mm, wall_high.x_mm), most(high.y_mm, wall_high.y_mm)};
    }
    const double width_mm = high.x_mm - low.x_mm + 1;
    const double depth_mm = high.y_mm - low.y_mm + 1;
    const double cells = (double)(CELLS_A_WALL * grid->wall_count + 1);
    const double longest_mm = width_mm > depth_mm ? width_mm : depth_mm;
    /* A long narrow drawing gets no more than a cell a wall along its length. */
    const double by_area_mm = sqrt(width_mm * depth_mm / cells);
    const double by_length_mm = longest_mm / cells;
    grid->low = low;
    grid->cell_mm = (int32_t)ceil(by_area_mm > by_length_mm ? by_area_mm : by_length_mm);
    grid->columns = (uint32_t)((int32_t)width_mm / grid->cell_mm) + 1;
    grid->rows = (uint32_t)((int32_t)depth_mm / grid->cell_mm) + 1;
}

outcome grid_make(const struct segment *walls, size_t wall_count, struct arena *arena,
        struct grid *ret_grid, struct problem *ret_problem) {
    struct grid grid = {.walls = walls, .wall_count = wall_count};
    lay_out(&grid);
    const size_t cells = (size_t)grid.columns * grid.rows;
    uint32_t *starts = ARENA_ARRAY(arena, uint32_t, cells + 2);
    if (starts == NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory for a grid of %zu cells", cells);
    }
    /* Counted two places up, summed, filled one place up: then each cell's start is in its own place. */
    for (uint32_t i = 0; i < wall_count; i++) {
        enter_wall(&grid, i, starts + 2, NULL);
    }
    for (size_t i = 2; i < cells + 2; i++) {
        starts[i] += starts[i - 1];
    }
    uint32_t *members = ARENA_ARRAY(arena, uint32_t, starts[cells + 1]);
    if (members == NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory for a grid over %zu walls", wall_count);
    }
    for (uint32_t i = 0; i < wall_count; i++) {
        enter_wall(&grid, i, starts + 1, members);
    }
    grid.starts = starts;
    grid.members = members;
    *ret_grid = grid;
    return outcome_good();
}

static bool visit_column(const struct grid *grid, uint32_t column, struct rows rows,
        grid_visit *visit, void *context) {
    const size_t first = (size_t)column * grid->rows + rows.first;
    const size_t last = (size_t)column * grid->rows + rows.last;
    /* A column's cells follow each other, and so do their members. */
    for (uint32_t i = grid->starts[first]; i < grid->starts[last + 1]; i++) {
        if (!visit(context, grid->members[i])) {
            return false;
        }
    }
    return true;
}

bool grid_along(const struct grid *grid, struct segment line, grid_visit *visit, void *context) {
    const uint32_t first = column_of(grid, line.from.x_mm);
    const uint32_t last = column_of(grid, line.to.x_mm);
    const uint32_t count = first < last ? last - first : first - last;
    for (uint32_t i = 0; i <= count; i++) {
        const uint32_t column = first < last ? first + i : first - i;
        if (!visit_column(grid, column, rows_in_column(grid, line, column), visit, context)) {
            return false;
        }
    }
    return true;
}

bool grid_in_box(const struct grid *grid, struct point low, struct point high, grid_visit *visit,
        void *context) {
    const struct rows rows = {
            cell_of((int64_t)low.y_mm - grid->low.y_mm, grid->cell_mm, grid->rows),
            cell_of((int64_t)high.y_mm - grid->low.y_mm, grid->cell_mm, grid->rows)};
    const uint32_t last = column_of(grid, high.x_mm);
    for (uint32_t column = column_of(grid, low.x_mm); column <= last; column++) {
        if (!visit_column(grid, column, rows, visit, context)) {
            return false;
        }
    }
    return true;
}
