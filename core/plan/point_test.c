/* Exact geometry held against a theorem (Pick), against solving for the crossing, and against summing angles. */
#include "plan/point.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>

#include <cmocka.h>

enum { ROUNDS = 3000, SIDE = 9, CORNERS_MOST = 9 };

static uint32_t draw(uint64_t *seed, uint32_t below) {
    *seed = *seed * UINT64_C(6364136223846793005) + UINT64_C(1442695040888963407); /* Knuth, MMIX */
    return (uint32_t)((*seed >> 33) % below);
}

static struct point draw_point(uint64_t *seed, uint32_t side) {
    const int32_t x = (int32_t)draw(seed, side);
    return (struct point){x, (int32_t)draw(seed, side)};
}

static struct segment draw_segment(uint64_t *seed) {
    const struct point from = draw_point(seed, SIDE);
    return (struct segment){from, draw_point(seed, SIDE)};
}

/* An outline of few corners on a small board, simple or not. */
static struct outline draw_outline(uint64_t *seed, struct point *room) {
    const struct outline outline = {room, 3 + draw(seed, CORNERS_MOST - 2)};
    for (size_t i = 0; i < outline.count; i++) {
        room[i] = draw_point(seed, SIDE);
    }
    return outline;
}

static struct outline draw_simple(uint64_t *seed, struct point *room) {
    size_t edges[2];
    struct outline outline = draw_outline(seed, room);
    while (!outline_is_simple(outline, edges)) {
        outline = draw_outline(seed, room);
    }
    return outline;
}

static void turns_are_exact_at_the_reach(void **unused) {
    (void)unused;
    const int32_t far = PLAN_REACH_MM;
    const struct point a = {-far, -far};
    const struct point b = {far, far};
    assert_int_equal(point_turn(a, b, (struct point){far - 1, far}), 1);
    assert_int_equal(point_turn(a, b, (struct point){far, far - 1}), -1);
    assert_int_equal(point_turn(a, b, (struct point){0, 0}), 0);
    /* (2f)(2f) - (2f)(2f - 1) = 2f */
    assert_int_equal(point_cross(point_step(a, b), point_step(a, (struct point){far - 1, far})),
            2 * (int64_t)far);
    assert_false(point_in_reach((struct point){far + 1, 0}));
    assert_false(point_in_reach((struct point){0, -far - 1}));
    assert_true(point_in_reach(a));
}

static void order_quarter_turn_and_mirror_move_signs_only(void **unused) {
    (void)unused;
    uint64_t seed = 1;
    for (size_t round = 0; round < ROUNDS; round++) {
        const struct point a = draw_point(&seed, 50);
        const struct point b = draw_point(&seed, 50);
        const struct point c = draw_point(&seed, 50);
        const int turn = point_turn(a, b, c);
        assert_int_equal(point_turn(b, c, a), turn);
        assert_int_equal(point_turn(b, a, c), -turn);
        assert_int_equal(
                point_turn(point_quarter_turn(a), point_quarter_turn(b), point_quarter_turn(c)),
                turn);
        assert_int_equal(point_turn(point_mirror(a), point_mirror(b), point_mirror(c)), -turn);
    }
}

/* Solves a.from + t r = b.from + u s. */
static bool crosses_by_solving(struct segment a, struct segment b) {
    const double rx = a.to.x_mm - a.from.x_mm;
    const double ry = a.to.y_mm - a.from.y_mm;
    const double sx = b.to.x_mm - b.from.x_mm;
    const double sy = b.to.y_mm - b.from.y_mm;
    const double qx = b.from.x_mm - a.from.x_mm;
    const double qy = b.from.y_mm - a.from.y_mm;
    const double below = rx * sy - ry * sx; /* small whole numbers: exact */
    const double t = (qx * sy - qy * sx) * (below < 0 ? -1 : 1);
    const double u = (qx * ry - qy * rx) * (below < 0 ? -1 : 1);
    return below != 0 && t > 0 && t < fabs(below) && u > 0 && u < fabs(below);
}

/* Two meet if they cross or if one of a thousand points of one, its ends among them, is on the other; ends and the
 * board's points are all that can be shared without crossing. */
static bool meets_by_looking(struct segment a, struct segment b) {
    bool shared = crosses_by_solving(a, b);
    for (int32_t x = 0; x < SIDE; x++) {
        for (int32_t y = 0; y < SIDE; y++) {
            shared = shared ||
                    (segment_holds(a, (struct point){x, y}) &&
                            segment_holds(b, (struct point){x, y}));
        }
    }
    return shared;
}

static void crossing_is_what_solving_says(void **unused) {
    (void)unused;
    uint64_t seed = 2;
    size_t crossing = 0;
    size_t touching = 0;
    for (size_t round = 0; round < 10 * ROUNDS; round++) {
        const struct segment a = draw_segment(&seed);
        const struct segment b = draw_segment(&seed);
        const bool crosses = crosses_by_solving(a, b);
        const bool meets = meets_by_looking(a, b);
        assert_int_equal(segment_crosses(a, b), crosses);
        assert_int_equal(segment_crosses(b, a), crosses);
        assert_int_equal(segment_meets(a, b), meets);
        crossing += crosses;
        touching += meets && !crosses;
    }
    assert_true(crossing > ROUNDS && touching > ROUNDS / 10);
}

static void a_segment_holds_what_is_in_line_and_no_longer(void **unused) {
    (void)unused;
    uint64_t seed = 3;
    size_t held = 0;
    for (size_t round = 0; round < 10 * ROUNDS; round++) {
        const struct segment wall = draw_segment(&seed);
        const struct point at = draw_point(&seed, SIDE);
        /* On it exactly if the way over it is no longer; lengths of this board differ by more than 1e-3 otherwise. */
        const double over = point_distance_mm(wall.from, at) + point_distance_mm(at, wall.to);
        const bool on = over - point_distance_mm(wall.from, wall.to) < 1e-9;
        assert_int_equal(segment_holds(wall, at), on);
        held += on;
    }
    assert_true(held > ROUNDS / 10);
}

/* Pick 1899: twice the area of a simple outline of whole corners is 2 I + B - 2, I and B the whole points inside and on
 * the edge. */
static void area_and_place_agree_with_picks_theorem(void **unused) {
    (void)unused;
    uint64_t seed = 4;
    for (size_t round = 0; round < ROUNDS; round++) {
        struct point room[CORNERS_MOST];
        const struct outline outline = draw_simple(&seed, room);
        int64_t inside = 0;
        int64_t edge = 0;
        for (int32_t x = -1; x <= SIDE; x++) {
            for (int32_t y = -1; y <= SIDE; y++) {
                const enum place place = outline_place(outline, (struct point){x, y});
                inside += place == PLACE_INSIDE;
                edge += place == PLACE_ON_EDGE;
            }
        }
        assert_int_equal(llabs(outline_twice_area_mm2(outline)), 2 * inside + edge - 2);
    }
}

/* The winding number by summed angles: 0 outside, one turn inside. */
static bool inside_by_angles(struct outline outline, struct point at) {
    double sum = 0;
    for (size_t i = 0; i < outline.count; i++) {
        const struct segment edge = outline_edge(outline, i);
        const struct point a = point_step(at, edge.from);
        const struct point b = point_step(at, edge.to);
        sum += atan2((double)point_cross(a, b), (double)point_dot(a, b));
    }
    return fabs(sum) > 3;
}

static void place_is_what_summed_angles_say(void **unused) {
    (void)unused;
    uint64_t seed = 5;
    size_t inside = 0;
    for (size_t round = 0; round < ROUNDS; round++) {
        struct point room[CORNERS_MOST];
        const struct outline outline = draw_simple(&seed, room);
        const struct point at = draw_point(&seed, SIDE);
        const enum place place = outline_place(outline, at);
        if (place != PLACE_ON_EDGE) {
            assert_int_equal(place == PLACE_INSIDE, inside_by_angles(outline, at));
            inside += place == PLACE_INSIDE;
        }
    }
    assert_in_range(inside, ROUNDS / 20, ROUNDS);
}

static void published_outlines_have_their_areas(void **unused) {
    (void)unused;
    /* Outlines of the visibility examples in the manual of the Computational Geometry Algorithms Library, areas by
     * hand. */
    const struct point simple[] = {{0, 4}, {0, 0}, {3, 2}, {4, 0}, {4, 4}, {1, 2}};
    const struct point outer[] = {{1, 2}, {12, 3}, {19, -2}, {12, 6}, {14, 14}, {9, 5}};
    const struct point holes[][3] = {{{8, 3}, {10, 3}, {8, 4}}, {{10, 6}, {11, 6}, {11, 7}}};
    assert_int_equal(outline_twice_area_mm2((struct outline){simple, 6}), 16);
    assert_int_equal(outline_twice_area_mm2((struct outline){outer, 6}) -
                    llabs(outline_twice_area_mm2((struct outline){holes[0], 3})) -
                    llabs(outline_twice_area_mm2((struct outline){holes[1], 3})),
            74);
    const struct point room[] = {{0, 0}, {0, 4000}, {6000, 4000}, {6000, 0}};
    assert_true(fabs(outline_area_m2((struct outline){room, 4}) - 24) < 1e-12);
}

static void what_is_no_room_is_refused_with_its_edges(void **unused) {
    (void)unused;
    static const struct {
        struct point corners[6];
        size_t count;
        size_t edges[2];
    } WRONG[] = {
            {{{0, 0}, {4, 4}, {4, 0}, {0, 4}}, 4, {0, 2}},         /* a bow */
            {{{0, 0}, {4, 0}, {8, 0}, {4, 0}, {4, 4}}, 5, {2, 2}}, /* a spike */
            {{{0, 0}, {4, 0}, {4, 0}, {4, 4}}, 4, {1, 1}},         /* the same corner twice */
            {{{0, 0}, {4, 0}}, 2, {0, 0}},                         /* no area */
            {{{0, 0}, {8, 0}, {8, 4}, {4, 0}, {0, 4}}, 5, {0, 2}}, /* a corner on a wall */
            {{{0, 0}, {PLAN_REACH_MM + 1, 0}, {4, 4}}, 3, {0, 0}}, /* out of reach */
            {{{0, 0}, {4, 4}, {8, 0}, {8, 8}, {4, 4}, {0, 8}}, 6, {0, 3}}, /* two in a corner */
    };
    for (size_t i = 0; i < sizeof WRONG / sizeof *WRONG; i++) {
        size_t edges[2] = {99, 99};
        assert_false(outline_is_simple((struct outline){WRONG[i].corners, WRONG[i].count}, edges));
        assert_int_equal(edges[0], WRONG[i].edges[0]);
        assert_int_equal(edges[1], WRONG[i].edges[1]);
    }
    const struct point fine[] = {{0, 0}, {4, 0}, {8, 0}, {8, 8}, {0, 8}};
    size_t edges[2] = {99, 99};
    assert_true(outline_is_simple((struct outline){fine, 5}, edges));
    assert_int_equal(edges[0], 99);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(turns_are_exact_at_the_reach),
            cmocka_unit_test(order_quarter_turn_and_mirror_move_signs_only),
            cmocka_unit_test(crossing_is_what_solving_says),
            cmocka_unit_test(a_segment_holds_what_is_in_line_and_no_longer),
            cmocka_unit_test(area_and_place_agree_with_picks_theorem),
            cmocka_unit_test(place_is_what_summed_angles_say),
            cmocka_unit_test(published_outlines_have_their_areas),
            cmocka_unit_test(what_is_no_room_is_refused_with_its_edges),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
