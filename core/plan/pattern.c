#include "plan/pattern.h"

#include <math.h>

enum {
    UDEG = 1000000, /* angles are whole millionths of a degree, so that quarter turns are exact */
    QUARTER_UDEG = 90 * UDEG,
    ROUND_UDEG = 360 * UDEG,
    FACING_MOST_DEG = 3600,
};
static const double PI = 3.14159265358979323846;

outcome pattern_check(const struct pattern *pattern, struct problem *ret_problem) {
    if (!(fabs(pattern->facing_deg) <= FACING_MOST_DEG)) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "a detector faces between -%d and %d degrees",
                FACING_MOST_DEG, FACING_MOST_DEG);
    }
    if (!(pattern->opening_deg * UDEG >= 1 && pattern->opening_deg <= 360)) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "",
                "the opening of a pattern is over 0 and at most 360 degrees");
    }
    if (pattern->range_mm < 1 || pattern->range_mm > PATTERN_RANGE_MOST_MM) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "the range of a pattern is 1 mm to %d m",
                PATTERN_RANGE_MOST_MM / 1000);
    }
    return outcome_good();
}

static int64_t opening_udeg(const struct pattern *pattern) {
    return llround(pattern->opening_deg * UDEG);
}

bool pattern_is_round(const struct pattern *pattern) {
    return opening_udeg(pattern) == ROUND_UDEG;
}

/* The point at this angle and radius. Angles of all quarters are led back to the first eighth, where one rounding
 * serves all. */
static struct point at_angle(int64_t angle_udeg, double radius_mm) {
    const int64_t positive = (angle_udeg % ROUND_UDEG + ROUND_UDEG) % ROUND_UDEG;
    const int64_t rest = positive % QUARTER_UDEG;
    const bool steep = rest > QUARTER_UDEG / 2;
    const double angle = (double)(steep ? QUARTER_UDEG - rest : rest) / UDEG * PI / 180;
    const int32_t along = (int32_t)lround(radius_mm * cos(angle));
    const int32_t across = (int32_t)lround(radius_mm * sin(angle));
    struct point at = steep ? (struct point){across, along} : (struct point){along, across};
    for (int64_t quarter = positive / QUARTER_UDEG; quarter > 0; quarter--) {
        at = point_quarter_turn(at);
    }
    return at;
}

size_t pattern_arc(const struct pattern *pattern, struct point *ret_corners) {
    const int64_t facing = llround(pattern->facing_deg * UDEG);
    const int64_t opening = opening_udeg(pattern);
    const int64_t pieces = (opening + UDEG - 1) / UDEG;
    /* Triangles of this radius have the area of the arc's slices: r2 sin(a) / 2 = range2 a / 2. */
    const double piece = (double)opening / (double)pieces / UDEG * PI / 180;
    const double radius_mm = pattern->range_mm * sqrt(piece / sin(piece));
    const int64_t count = opening == ROUND_UDEG ? pieces : pieces + 1;
    for (int64_t i = 0; i < count; i++) {
        /* Both sides of the middle alike, so that a mirror changes nothing. */
        const int64_t off = 2 * i - pieces;
        const int64_t size = (off < 0 ? -off : off) * opening / (2 * pieces);
        ret_corners[i] = at_angle(facing + (off < 0 ? -size : size), radius_mm);
    }
    return (size_t)count;
}

struct point pattern_axis(const struct pattern *pattern) {
    return at_angle(llround(pattern->facing_deg * UDEG), pattern->range_mm);
}

double pattern_area_m2(const struct pattern *pattern) {
    const double range_m = pattern->range_mm / 1e3;
    return PI * range_m * range_m * (double)opening_udeg(pattern) / ROUND_UDEG;
}
