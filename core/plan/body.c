#include "plan/body.h"

#include <math.h>

enum { STAMP_CORNERS = 8 };

static bool before(struct point a, struct point b) {
    return a.x_mm != b.x_mm ? a.x_mm < b.x_mm : a.y_mm < b.y_mm;
}

/* The stamp's corners at both ends of the wall, from left to right. */
static void stamp(struct segment wall, int32_t body_mm, struct point *ret_points) {
    const int32_t flat = (body_mm + 1) / 2;
    const int32_t half_side = (int32_t)lround(flat * (sqrt(2) - 1));
    const struct point ends[2] = {wall.from, wall.to};
    for (size_t i = 0; i < 2 * STAMP_CORNERS; i++) {
        const struct point size =
                i & 1 ? (struct point){flat, half_side} : (struct point){half_side, flat};
        const struct point end = ends[i / STAMP_CORNERS];
        const struct point next = {end.x_mm + (i & 2 ? -size.x_mm : size.x_mm),
                end.y_mm + (i & 4 ? -size.y_mm : size.y_mm)};
        size_t place = i;
        for (; place > 0 && before(next, ret_points[place - 1]); place--) {
            ret_points[place] = ret_points[place - 1];
        }
        ret_points[place] = next;
    }
}

/* One chain of the convex hull (Andrew 1979), added to count corners; straight corners are left out. */
static size_t add_chain(
        const struct point *points, bool backward, struct point *corners, size_t count) {
    const size_t first = count;
    for (size_t i = 0; i < 2 * STAMP_CORNERS; i++) {
        const struct point next = points[backward ? 2 * STAMP_CORNERS - 1 - i : i];
        while (count >= first + 2 &&
                point_turn(corners[count - 2], corners[count - 1], next) <= 0) {
            count--;
        }
        if (count == first || !point_equal(corners[count - 1], next)) {
            corners[count++] = next;
        }
    }
    return count - 1; /* the last begins the other chain */
}

size_t body_trace(struct segment wall, int32_t body_mm, struct point *ret_corners) {
    struct point points[2 * STAMP_CORNERS];
    struct point corners[2 * (2 * STAMP_CORNERS + 1)];
    stamp(wall, body_mm, points);
    const size_t below = add_chain(points, false, corners, 0);
    const size_t count = add_chain(points, true, corners, below);
    for (size_t i = 0; i < count; i++) {
        ret_corners[i] = corners[i];
    }
    return count;
}

bool body_trace_holds(struct segment wall, int32_t body_mm, struct point at) {
    struct point corners[BODY_CORNERS_MOST];
    const struct outline trace = {corners, body_trace(wall, body_mm, corners)};
    for (size_t i = 0; i < trace.count; i++) {
        const struct segment edge = outline_edge(trace, i);
        if (point_turn(edge.from, edge.to, at) <= 0) {
            return false;
        }
    }
    return true;
}
