/* Grown walls held against the nearest distance in the body's own measure, and against their area. */
#include "plan/body.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

enum { ROUNDS = 3000 };

static uint32_t draw(uint64_t *seed, uint32_t below) {
    *seed = *seed * UINT64_C(6364136223846793005) + UINT64_C(1442695040888963407); /* Knuth, MMIX */
    return (uint32_t)((*seed >> 33) % below);
}

static struct point draw_point(uint64_t *seed, uint32_t side) {
    const int32_t x = (int32_t)draw(seed, side) - (int32_t)side / 2;
    return (struct point){x, (int32_t)draw(seed, side) - (int32_t)side / 2};
}

/* How many bodies of half width 1 must grow about (x, y) to reach the origin: flat sides and cut corners. */
static double size_of(double x, double y) {
    return fmax(fmax(fabs(x), fabs(y)), (fabs(x) + fabs(y)) / sqrt(2));
}

/* The least of a convex function along the wall. */
static double off_wall(struct segment wall, struct point at) {
    double low = 0;
    double high = 1;
    double best = INFINITY;
    for (int i = 0; i < 200; i++) {
        double values[2];
        for (int k = 0; k < 2; k++) {
            const double t = low + (high - low) * (k + 1) / 3;
            values[k] = size_of(wall.from.x_mm + t * (wall.to.x_mm - wall.from.x_mm) - at.x_mm,
                    wall.from.y_mm + t * (wall.to.y_mm - wall.from.y_mm) - at.y_mm);
            best = fmin(best, values[k]);
        }
        if (values[0] < values[1]) {
            high = low + (high - low) * 2 / 3;
        } else {
            low += (high - low) / 3;
        }
    }
    return best;
}

static void the_trace_holds_what_is_near(void **unused) {
    (void)unused;
    uint64_t seed = 51;
    size_t held = 0;
    for (size_t round = 0; round < ROUNDS; round++) {
        const struct segment wall = {draw_point(&seed, 3000), draw_point(&seed, 3000)};
        const int32_t body_mm = 2 * (100 + (int32_t)draw(&seed, 400));
        const struct point at = draw_point(&seed, 4000);
        const double off = off_wall(wall, at);
        if (fabs(off - body_mm / 2.0) < 1) {
            continue; /* corners are whole millimetres */
        }
        assert_int_equal(body_trace_holds(wall, body_mm, at), off < body_mm / 2.0);
        held += off < body_mm / 2.0;
    }
    assert_in_range(held, ROUNDS / 20, ROUNDS / 2);
}

static void the_trace_is_a_convex_ring(void **unused) {
    (void)unused;
    uint64_t seed = 52;
    for (size_t round = 0; round < ROUNDS; round++) {
        const struct segment wall = {draw_point(&seed, 3000),
                round % 3 == 0 ? (struct point){0, 0} : draw_point(&seed, 300)};
        struct point corners[BODY_CORNERS_MOST];
        struct point turned[BODY_CORNERS_MOST];
        const size_t count = body_trace(wall, 1 + (int32_t)draw(&seed, BODY_MOST_MM), corners);
        assert_in_range(count, 4, 10);
        size_t edges[2];
        assert_true(outline_is_simple((struct outline){corners, count}, edges));
        for (size_t i = 0; i < count; i++) {
            assert_int_equal(
                    point_turn(corners[i], corners[(i + 1) % count], corners[(i + 2) % count]), 1);
        }
        const struct segment other = {point_quarter_turn(wall.from), point_quarter_turn(wall.to)};
        assert_int_equal(body_trace(other, 600, turned), body_trace(wall, 600, corners));
        assert_int_equal(
                outline_twice_area_mm2((struct outline){turned, body_trace(other, 600, turned)}),
                outline_twice_area_mm2((struct outline){corners, body_trace(wall, 600, corners)}));
    }
}

/* A post, and a straight wall: an octagon of width 600 has 600^2 times 2 (sqrt(2) - 1), and 600 mm for each of
 * length. */
static void areas_are_those_of_octagons(void **unused) {
    (void)unused;
    struct point corners[BODY_CORNERS_MOST];
    const double octagon_m2 = 0.36 * 2 * (sqrt(2) - 1);
    const struct segment post = {{10, 20}, {10, 20}};
    const struct segment wall = {{10, 20}, {2010, 20}};
    const size_t of_post = body_trace(post, 600, corners);
    assert_int_equal(of_post, 8);
    assert_true(fabs(outline_area_m2((struct outline){corners, of_post}) - octagon_m2) < 0.001);
    const size_t of_wall = body_trace(wall, 600, corners);
    assert_true(
            fabs(outline_area_m2((struct outline){corners, of_wall}) - octagon_m2 - 1.2) < 0.001);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(the_trace_holds_what_is_near),
            cmocka_unit_test(the_trace_is_a_convex_ring),
            cmocka_unit_test(areas_are_those_of_octagons),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
