#include "plan/coverage_corner.h"

#include "plan/house_walls.h"

#include <math.h>

/* The step into the room along the middle of the angle at a corner, as long as a hundred; {0, 0}: the walls turn away
 * there, so that it is no corner to hang a thing in. */
static struct point out_of_corner(struct outline outline, size_t corner) {
    enum { LONG = 100 };
    const struct segment before =
            outline_edge(outline, (corner + outline.count - 1) % outline.count);
    const struct segment after = outline_edge(outline, corner);
    const struct point back = point_step(before.to, before.from);
    const struct point on = point_step(after.from, after.to);
    const double back_mm = point_distance_mm(before.from, before.to);
    const double on_mm = point_distance_mm(after.from, after.to);
    /* Outlines run to the left round: at a corner that bulges out the next wall turns left of the last. */
    if (back_mm <= 0 || on_mm <= 0 || point_cross(on, back) <= 0) {
        return (struct point){0, 0};
    }
    return (struct point){(int32_t)lround(LONG * (back.x_mm / back_mm + on.x_mm / on_mm)),
            (int32_t)lround(LONG * (back.y_mm / back_mm + on.y_mm / on_mm))};
}

outcome coverage_best_corner(const struct house *house, const struct coverage_view *view,
        struct arena *arena, struct coverage_corner *ret_corner, struct problem *ret_problem) {
    const double degrees = 180 / 3.14159265358979323846;
    const int room = house->places[view->place].room;
    const struct outline outline = house->rooms[room].outline;
    const struct segment *walls = NULL;
    size_t wall_count = 0;
    const struct house_walls_wish tall = house_walls_for_eyes(COVERAGE_TALL_MM);
    TRY(house_walls(house, view->storey, &tall, arena, &walls, &wall_count, ret_problem));
    *ret_corner = (struct coverage_corner){.at = view->viewer.at};
    for (size_t i = 0; i < outline.count; i++) {
        const struct point into = out_of_corner(outline, i);
        struct sight_viewer viewer = view->viewer;
        struct sight_view seen = {.count = 0};
        struct coverage_corner corner = {.at = outline.corners[i]};
        struct problem problem = {.kind = PROBLEM_NONE};
        if (into.x_mm == 0 && into.y_mm == 0) {
            continue;
        }
        viewer.at = corner.at;
        viewer.into = into;
        viewer.pattern.facing_deg = atan2(into.y_mm, into.x_mm) * degrees;
        if (!sight_see(&viewer, walls, wall_count, arena, &seen, &problem).good) {
            if (problem.kind == PROBLEM_BAD_VALUE) {
                continue;
            }
            FAIL(ret_problem, problem.kind, "", "%s", problem.text);
        }
        TRY(coverage_floor(
                house, room, &seen, arena, &corner.seen_m2, &corner.floor_m2, ret_problem));
        if (corner.seen_m2 > ret_corner->seen_m2) {
            *ret_corner = corner;
        }
    }
    return outcome_good();
}
