/* A square view of 4 x 4 m and a view of two lobes, and ways across them, with stretches worked out by hand. */
#include "plan/way_seen.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>

#include <cmocka.h>

static void *get_page(void *context, size_t size) {
    (void)context;
    return malloc(size);
}

static void give_page(void *context, void *block, size_t size) {
    (void)context;
    (void)size;
    free(block);
}

static const struct pages PAGES = {get_page, give_page, NULL};

static void assert_near(double is, double wanted, double within) {
    if (!(fabs(is - wanted) <= within)) {
        print_error("%.9f, not %.9f\n", is, wanted);
        fail();
    }
}

static const double CLOSE_MM = 1e-6;

static const struct sight_corner SQUARE[] = {{0, 0}, {4000, 0}, {4000, 4000}, {0, 4000}};
/* As a hand with two fingers: what stands between them hides the rest. */
static const struct sight_corner FORK[] = {{0, 0}, {6000, 0}, {6000, 1000}, {1000, 1000},
        {1000, 3000}, {6000, 3000}, {6000, 4000}, {0, 4000}};

struct seen {
    struct arena arena;
    const struct way_stretch *stretches;
    size_t count;
};

static void see(struct seen *seen, const struct sight_corner *corners, size_t corner_count,
        const struct way_stop *stops, size_t stop_count) {
    struct problem problem = {0};
    const struct sight_view view = {.corners = corners, .count = corner_count};
    const struct way way = {stops, stop_count, stops[stop_count - 1].after_mm};
    arena_init(&seen->arena, PAGES, 0);
    assert_true(
            way_seen(&way, 1, &view, &seen->arena, &seen->stretches, &seen->count, &problem).good);
}

static void assert_stretch(const struct seen *seen, size_t index, double from_mm, double to_mm) {
    assert_true(index < seen->count);
    assert_near(seen->stretches[index].from_mm, from_mm, CLOSE_MM);
    assert_near(seen->stretches[index].to_mm, to_mm, CLOSE_MM);
}

static void a_way_across_is_seen_from_edge_to_edge(void **state) {
    (void)state;
    static const struct way_stop stops[] = {{1, {-1000, 2000}, 0}, {1, {9000, 2000}, 10000}};
    struct seen seen;
    see(&seen, SQUARE, 4, stops, 2);
    assert_int_equal(seen.count, 1);
    assert_stretch(&seen, 0, 1000, 5000);
    arena_finish(&seen.arena);
}

static void a_bend_within_does_not_part_a_stretch(void **state) {
    (void)state;
    static const struct way_stop stops[] = {
            {1, {2000, -500}, 0}, {1, {2000, 2000}, 2500}, {1, {6000, 2000}, 6500}};
    struct seen seen;
    see(&seen, SQUARE, 4, stops, 3);
    assert_int_equal(seen.count, 1);
    assert_stretch(&seen, 0, 500, 4500);
    arena_finish(&seen.arena);
}

static void a_hidden_middle_parts_it(void **state) {
    (void)state;
    static const struct way_stop stops[] = {{1, {5000, -1000}, 0}, {1, {5000, 5000}, 6000}};
    struct seen seen;
    see(&seen, FORK, 8, stops, 2);
    assert_int_equal(seen.count, 2);
    assert_stretch(&seen, 0, 1000, 2000);
    assert_stretch(&seen, 1, 4000, 5000);
    arena_finish(&seen.arena);
}

static void other_storeys_and_stairs_are_not_seen(void **state) {
    (void)state;
    static const struct way_stop stops[] = {{0, {1000, 1000}, 0}, {0, {2000, 1000}, 1000},
            {1, {3000, 1000}, 5000}, {1, {3500, 1000}, 5500}};
    struct seen seen;
    see(&seen, SQUARE, 4, stops, 4);
    assert_int_equal(seen.count, 1);
    assert_stretch(&seen, 0, 5000, 5500);
    arena_finish(&seen.arena);
}

static void an_empty_view_sees_nothing(void **state) {
    (void)state;
    static const struct way_stop stops[] = {{1, {0, 0}, 0}, {1, {5000, 0}, 5000}};
    struct seen seen;
    see(&seen, SQUARE, 0, stops, 2);
    assert_int_equal(seen.count, 0);
    arena_finish(&seen.arena);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(a_way_across_is_seen_from_edge_to_edge),
            cmocka_unit_test(a_bend_within_does_not_part_a_stretch),
            cmocka_unit_test(a_hidden_middle_parts_it),
            cmocka_unit_test(other_storeys_and_stairs_are_not_seen),
            cmocka_unit_test(an_empty_view_sees_nothing),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
