#include "plan/sector.h"

static bool same_direction(struct point a, struct point b) {
    return point_cross(a, b) == 0 && point_dot(a, b) > 0;
}

unsigned sector_sides(struct sector sector, struct point direction) {
    if (sector.all) {
        return SIDE_BOTH;
    }
    const bool on_right = same_direction(sector.right, direction);
    const bool on_left = same_direction(sector.left, direction);
    if (on_right || on_left) {
        return (on_right ? SIDE_LEFT : 0u) | (on_left ? SIDE_RIGHT : 0u);
    }
    const int64_t opening = point_cross(sector.right, sector.left);
    const bool past_right = point_cross(sector.right, direction) > 0;
    const bool before_left = point_cross(direction, sector.left) > 0;
    if (opening == 0) {
        return same_direction(sector.right, sector.left) || past_right ? SIDE_BOTH : 0;
    }
    return (opening > 0 ? past_right && before_left : past_right || before_left) ? SIDE_BOTH : 0;
}

unsigned sector_turned(unsigned sides) {
    return (sides & SIDE_LEFT ? SIDE_RIGHT : 0u) | (sides & SIDE_RIGHT ? SIDE_LEFT : 0u);
}

/* Whether the half turn to the left of this wall, its end included, has no wall in it. */
static bool left_is_free(const struct point *directions, size_t count, struct point wall) {
    for (size_t i = 0; i < count; i++) {
        const int64_t cross = point_cross(wall, directions[i]);
        if (cross > 0 || (cross == 0 && point_dot(wall, directions[i]) < 0)) {
            return false;
        }
    }
    return true;
}

bool sector_wide(const struct point *directions, size_t count, struct sector *ret_sector) {
    for (size_t i = 0; i < count; i++) {
        if (!left_is_free(directions, count, directions[i])) {
            continue;
        }
        struct sector sector = {.right = directions[i], .left = directions[i]};
        for (size_t k = 0; k < count; k++) {
            /* All lie within half a turn: the one furthest to the right ends the sector. */
            if (point_cross(sector.left, directions[k]) < 0) {
                sector.left = directions[k];
            }
        }
        *ret_sector = sector;
        return true;
    }
    return false;
}

/* -1, 0, 1: turning left from the start, a comes before, with, after b. */
static int compare_turns(struct point start, struct point a, struct point b) {
    const int64_t from_a = point_cross(start, a);
    const int64_t from_b = point_cross(start, b);
    const int late_a = from_a < 0 || (from_a == 0 && point_dot(start, a) < 0);
    const int late_b = from_b < 0 || (from_b == 0 && point_dot(start, b) < 0);
    const int64_t turn = point_cross(a, b);
    return late_a != late_b ? late_a - late_b : (turn < 0) - (turn > 0);
}

struct sector sector_around(const struct point *directions, size_t count, struct point into) {
    if (count == 0 || (into.x_mm == 0 && into.y_mm == 0)) {
        return (struct sector){.all = true};
    }
    struct sector sector = {.right = directions[0], .left = directions[0]};
    for (size_t i = 0; i < count; i++) {
        /* The wall that `into` points along is the right one: it comes last to the left. */
        const bool along = same_direction(into, directions[i]);
        const bool left_along = same_direction(into, sector.left);
        const bool right_along = same_direction(into, sector.right);
        if (!along && (left_along || compare_turns(into, directions[i], sector.left) < 0)) {
            sector.left = directions[i];
        }
        if (!right_along && (along || compare_turns(into, directions[i], sector.right) > 0)) {
            sector.right = directions[i];
        }
    }
    return sector;
}

unsigned sector_passes(const struct point *directions, size_t count, struct point direction) {
    unsigned sides = SIDE_BOTH;
    for (size_t i = 0; i < count; i++) {
        const int64_t cross = point_cross(direction, directions[i]);
        sides &= cross > 0 ? SIDE_RIGHT : cross < 0 ? SIDE_LEFT : SIDE_BOTH;
    }
    return sides;
}
