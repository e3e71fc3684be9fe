#include "plan/point.h"

#include <math.h>

_Static_assert(PLAN_REACH_MM <= 1 << 18, "sums of products of steps stay far inside 64 bits");

bool point_equal(struct point a, struct point b) {
    return a.x_mm == b.x_mm && a.y_mm == b.y_mm;
}

struct point point_step(struct point a, struct point b) {
    return (struct point){b.x_mm - a.x_mm, b.y_mm - a.y_mm};
}

bool point_in_reach(struct point a) {
    return a.x_mm >= -PLAN_REACH_MM && a.x_mm <= PLAN_REACH_MM && a.y_mm >= -PLAN_REACH_MM &&
            a.y_mm <= PLAN_REACH_MM;
}

int64_t point_cross(struct point a, struct point b) {
    return (int64_t)a.x_mm * b.y_mm - (int64_t)a.y_mm * b.x_mm;
}

int64_t point_dot(struct point a, struct point b) {
    return (int64_t)a.x_mm * b.x_mm + (int64_t)a.y_mm * b.y_mm;
}

int point_turn(struct point a, struct point b, struct point c) {
    const int64_t cross = point_cross(point_step(a, b), point_step(a, c));
    return (cross > 0) - (cross < 0);
}

double point_distance_mm(struct point a, struct point b) {
    const struct point step = point_step(a, b);
    return sqrt((double)point_dot(step, step));
}

struct point point_quarter_turn(struct point a) {
    return (struct point){-a.y_mm, a.x_mm};
}

struct point point_mirror(struct point a) {
    return (struct point){-a.x_mm, a.y_mm};
}

static bool between(int32_t a, int32_t b, int32_t at) {
    return a < b ? a <= at && at <= b : b <= at && at <= a;
}

bool segment_holds(struct segment wall, struct point at) {
    return between(wall.from.x_mm, wall.to.x_mm, at.x_mm) &&
            between(wall.from.y_mm, wall.to.y_mm, at.y_mm) &&
            point_turn(wall.from, wall.to, at) == 0;
}

bool segment_crosses(struct segment a, struct segment b) {
    return point_turn(a.from, a.to, b.from) * point_turn(a.from, a.to, b.to) < 0 &&
            point_turn(b.from, b.to, a.from) * point_turn(b.from, b.to, a.to) < 0;
}

bool segment_meets(struct segment a, struct segment b) {
    return segment_crosses(a, b) || segment_holds(a, b.from) || segment_holds(a, b.to) ||
            segment_holds(b, a.from) || segment_holds(b, a.to);
}

int64_t outline_twice_area_mm2(struct outline outline) {
    int64_t twice = 0;
    for (size_t i = 1; i + 1 < outline.count; i++) {
        twice += point_cross(point_step(outline.corners[0], outline.corners[i]),
                point_step(outline.corners[0], outline.corners[i + 1]));
    }
    return twice;
}

double outline_area_m2(struct outline outline) {
    return fabs((double)outline_twice_area_mm2(outline)) / 2e6;
}

struct segment outline_edge(struct outline outline, size_t index) {
    return (struct segment){
            outline.corners[index], outline.corners[index + 1 < outline.count ? index + 1 : 0]};
}

/* Counts the edges that a ray to the right crosses; an edge holds its lower end and not its upper one, so that a ray
 * through a corner counts right. */
enum place outline_place(struct outline outline, struct point at) {
    bool inside = false;
    for (size_t i = 0; i < outline.count; i++) {
        const struct segment edge = outline_edge(outline, i);
        if (segment_holds(edge, at)) {
            return PLACE_ON_EDGE;
        }
        const bool up = edge.from.y_mm <= at.y_mm && edge.to.y_mm > at.y_mm;
        const bool down = edge.to.y_mm <= at.y_mm && edge.from.y_mm > at.y_mm;
        const int turn = point_turn(edge.from, edge.to, at);
        if ((up && turn > 0) || (down && turn < 0)) {
            inside = !inside;
        }
    }
    return inside ? PLACE_INSIDE : PLACE_OUTSIDE;
}

/* A corner that no room can have: out of reach, on its neighbour, or the tip of a spike. */
static bool corner_is_bad(struct outline outline, size_t index) {
    const struct segment edge = outline_edge(outline, index);
    const struct point before = outline.corners[index > 0 ? index - 1 : outline.count - 1];
    if (!point_in_reach(before) || !point_in_reach(edge.from) || !point_in_reach(edge.to)) {
        return true;
    }
    return point_equal(edge.from, edge.to) ||
            (point_turn(before, edge.from, edge.to) == 0 &&
                    point_dot(point_step(edge.from, before), point_step(edge.from, edge.to)) > 0);
}

bool outline_is_simple(struct outline outline, size_t ret_edges[2]) {
    if (outline.count < 3 || outline.count > OUTLINE_CORNERS_MOST) {
        ret_edges[0] = ret_edges[1] = 0;
        return false;
    }
    for (size_t i = 0; i < outline.count; i++) {
        if (corner_is_bad(outline, i)) {
            ret_edges[0] = ret_edges[1] = i;
            return false;
        }
    }
    for (size_t i = 0; i < outline.count; i++) {
        for (size_t j = i + 2; j < outline.count; j++) {
            const bool neighbours = i == 0 && j + 1 == outline.count;
            if (!neighbours && segment_meets(outline_edge(outline, i), outline_edge(outline, j))) {
                ret_edges[0] = i;
                ret_edges[1] = j;
                return false;
            }
        }
    }
    return true;
}
