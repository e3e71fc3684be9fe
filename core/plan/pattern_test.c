/* Patterns held against the area of a sector, and turned and mirrored. */
#include "plan/pattern.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

static const double PI = 3.14159265358979323846;

/* The area of the outline: the corners with the detector itself, or the ring of a round pattern. */
static double outline_m2(const struct pattern *pattern) {
    struct point corners[PATTERN_CORNERS_MOST + 1];
    const size_t count = pattern_arc(pattern, corners);
    if (pattern_is_round(pattern)) {
        return outline_area_m2((struct outline){corners, count});
    }
    corners[count] = (struct point){0, 0};
    return outline_area_m2((struct outline){corners, count + 1});
}

/* pi r2 a / 360 in m2; the figures are those of generic shapes: 90 degrees, 110 degrees at 12 m, 85 degrees at 15 m. */
static void sectors_have_their_areas(void **unused) {
    (void)unused;
    static const struct {
        double facing_deg, opening_deg;
        int32_t range_mm;
        double area_m2;
    } SECTORS[] = {
            {45, 90, 12000, 113.097},
            {-30, 110, 12000, 138.230},
            {200, 85, 15000, 166.897},
            {0, 360, 6000, 113.097},
            {17, 7, 12000, 8.796},
            {90, 270, 10000, 235.619},
            {0, 0.5, 12000, 0.628319},
    };
    for (size_t i = 0; i < sizeof SECTORS / sizeof *SECTORS; i++) {
        const struct pattern pattern = {
                SECTORS[i].facing_deg, SECTORS[i].opening_deg, SECTORS[i].range_mm};
        assert_true(fabs(pattern_area_m2(&pattern) - SECTORS[i].area_m2) < 0.001);
        /* Corners are rounded to whole millimetres: half a one along the sides and the arc. */
        const double range_m = pattern.range_mm / 1e3;
        const double edge_m = 2 * range_m + range_m * pattern.opening_deg * PI / 180;
        assert_true(fabs(outline_m2(&pattern) - SECTORS[i].area_m2) < 0.0006 * edge_m);
    }
}

static void the_arc_stays_within_its_error(void **unused) {
    (void)unused;
    const struct pattern pattern = {33.3, 117.5, 12000};
    struct point arc[PATTERN_CORNERS_MOST];
    const size_t count = pattern_arc(&pattern, arc);
    assert_int_equal(count, 119);
    const struct point origin = {0, 0};
    for (size_t i = 0; i < count; i++) {
        assert_true(fabs(point_distance_mm(origin, arc[i]) - 12000) < 1.2 + 0.8);
        const double angle_deg = atan2(arc[i].y_mm, arc[i].x_mm) * 180 / PI;
        const double wanted_deg = 33.3 - 117.5 / 2 + 117.5 * (double)i / 118;
        assert_true(fabs(angle_deg - wanted_deg) < 0.005);
        if (i > 0) {
            const struct point middle = {
                    (arc[i].x_mm + arc[i - 1].x_mm) / 2, (arc[i].y_mm + arc[i - 1].y_mm) / 2};
            assert_true(fabs(point_distance_mm(origin, middle) - 12000) < 1.2 + 1.5);
            assert_true(point_cross(arc[i - 1], arc[i]) > 0);
        }
    }
}

static void turned_and_mirrored_patterns_are_the_same(void **unused) {
    (void)unused;
    static const double FACINGS_DEG[] = {0, 10.1, 45, 77.7, 90, 123.456789, -200.5, 333};
    static const double OPENINGS_DEG[] = {7, 90, 110.25, 200, 359.9, 360};
    for (size_t i = 0; i < 8 * 6; i++) {
        const struct pattern pattern = {FACINGS_DEG[i % 8], OPENINGS_DEG[i / 8], 11987};
        struct pattern turned = pattern;
        struct pattern mirrored = pattern;
        turned.facing_deg += 90;
        mirrored.facing_deg = 180 - pattern.facing_deg;
        struct point arc[PATTERN_CORNERS_MOST];
        struct point other[PATTERN_CORNERS_MOST];
        const size_t count = pattern_arc(&pattern, arc);
        assert_int_equal(pattern_arc(&turned, other), count);
        for (size_t k = 0; k < count; k++) {
            assert_true(point_equal(point_quarter_turn(arc[k]), other[k]));
        }
        assert_int_equal(pattern_arc(&mirrored, other), count);
        const size_t last = pattern_is_round(&pattern) ? count : count - 1;
        for (size_t k = 0; k < count; k++) {
            assert_true(point_equal(point_mirror(arc[k]), other[(last - k) % count]));
        }
        const struct point axis = pattern_axis(&turned);
        assert_true(point_equal(point_quarter_turn(pattern_axis(&pattern)), axis));
    }
}

static void what_no_detector_has_is_refused(void **unused) {
    (void)unused;
    static const struct {
        struct pattern pattern;
        const char *word;
    } WRONG[] = {
            {{0, 0, 12000}, "opening"},
            {{0, -1, 12000}, "opening"},
            {{0, 360.1, 12000}, "opening"},
            {{0, NAN, 12000}, "opening"},
            {{INFINITY, 90, 12000}, "faces"},
            {{NAN, 90, 12000}, "faces"},
            {{0, 90, 0}, "range"},
            {{0, 90, PATTERN_RANGE_MOST_MM + 1}, "range"},
    };
    for (size_t i = 0; i < sizeof WRONG / sizeof *WRONG; i++) {
        struct problem problem = {0};
        assert_false(pattern_check(&WRONG[i].pattern, &problem).good);
        assert_int_equal(problem.kind, PROBLEM_BAD_VALUE);
        assert_non_null(strstr(problem.text, WRONG[i].word));
    }
    const struct pattern fine = {-3600, 360, PATTERN_RANGE_MOST_MM};
    assert_true(pattern_check(&fine, NULL).good);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(sectors_have_their_areas),
            cmocka_unit_test(the_arc_stays_within_its_error),
            cmocka_unit_test(turned_and_mirrored_patterns_are_the_same),
            cmocka_unit_test(what_no_detector_has_is_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
