/* What a way crosses and where it has come after a while, on ways drawn by hand. */
#include "plan/way.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

/* 3 m along x, 2 m up, a stair of 4 m to the next storey, 1 m along x. */
static const struct way_stop STOPS[] = {
        {0, {0, 0}, 0},
        {0, {3000, 0}, 3000},
        {0, {3000, 2000}, 5000},
        {1, {3000, 5000}, 9000},
        {1, {4000, 5000}, 10000},
};
static const struct way WAY = {STOPS, 5, 10000};

static void a_walker_is_where_he_has_come(void **unused) {
    (void)unused;
    static const struct {
        double at_mm;
        uint32_t storey;
        double x_mm, y_mm;
    } PLACES[] = {
            {-5, 0, 0, 0},
            {0, 0, 0, 0},
            {1500, 0, 1500, 0},
            {3000, 0, 3000, 0},
            {4000, 0, 3000, 1000},
            {6000, 0, 3000, 2000},
            {8000, 1, 3000, 5000},
            {9250, 1, 3250, 5000},
            {10000, 1, 4000, 5000},
            {99999, 1, 4000, 5000},
    };
    for (size_t i = 0; i < sizeof PLACES / sizeof *PLACES; i++) {
        uint32_t storey;
        double x_mm;
        double y_mm;
        way_place_at(&WAY, PLACES[i].at_mm, &storey, &x_mm, &y_mm);
        assert_int_equal(storey, PLACES[i].storey);
        assert_true(fabs(x_mm - PLACES[i].x_mm) < 1e-9 && fabs(y_mm - PLACES[i].y_mm) < 1e-9);
    }
    const struct way single = {STOPS, 1, 0};
    uint32_t storey;
    double x_mm;
    double y_mm;
    way_place_at(&single, 5, &storey, &x_mm, &y_mm);
    assert_true(storey == 0 && x_mm < 1e-9 && y_mm < 1e-9);
}

static const struct way_stop ZIGZAG[] = {
        {0, {0, 0}, 0},
        {0, {4000, 0}, 4000},  /* a corner on the second line, then back */
        {0, {0, 0}, 8000},     /* on to the third line */
        {0, {0, 3000}, 11000}, /* along it, and off on the other side */
        {0, {-4000, 0}, 16000},
};
static const struct way ZIGZAG_WAY = {ZIGZAG, 5, 16000};

static void lines_are_crossed_from_side_to_side(void **unused) {
    (void)unused;
    static const struct {
        const struct way *way;
        uint32_t storey;
        struct segment line;
        size_t count;
        double first_mm;
    } LINES[] = {
            {&WAY, 0, {{1000, -500}, {1000, 500}}, 1, 1000},
            {&WAY, 1, {{1000, -500}, {1000, 500}}, 0, 0},
            {&WAY, 0, {{1000, 0}, {1000, 500}}, 1, 1000}, {&WAY, 0, {{1000, 1}, {1000, 500}}, 0, 0},
            {&WAY, 0, {{2000, 1000}, {3000, 1000}}, 1, 4000},
            {&WAY, 0, {{2000, 1000}, {4000, -1000}}, 1, 3000},
            {&WAY, 0, {{2000, -1000}, {4000, 1000}}, 0, 0}, /* it turned back on it */
            {&WAY, 0, {{2000, 0}, {4000, 0}}, 0, 0},        /* it began on it */
            {&WAY, 1, {{3500, 0}, {3500, 9000}}, 1, 9500},
            {&ZIGZAG_WAY, 0, {{2000, -500}, {2000, 500}}, 2, 2000},
            {&ZIGZAG_WAY, 0, {{4000, -500}, {4000, 500}}, 0, 0},
            {&ZIGZAG_WAY, 0, {{0, -1000}, {0, 9000}}, 1, 11000},
            {&ZIGZAG_WAY, 0, {{0, 1000}, {0, 2000}}, 0, 0}, /* it went round the end */
    };
    for (size_t i = 0; i < sizeof LINES / sizeof *LINES; i++) {
        double at_mm[2] = {0};
        const size_t count = way_crossings(LINES[i].way, LINES[i].storey, LINES[i].line, at_mm, 2);
        if (count != LINES[i].count || fabs(at_mm[0] - LINES[i].first_mm) > 1e-9) {
            fail_msg("line %zu: crossed %zu times, first at %.3f mm", i, count, at_mm[0]);
        }
    }
    double at_mm = -1;
    assert_int_equal(way_crossings(&ZIGZAG_WAY, 0, LINES[9].line, &at_mm, 0), 2);
    assert_true(at_mm < 0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(a_walker_is_where_he_has_come),
            cmocka_unit_test(lines_are_crossed_from_side_to_side),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
