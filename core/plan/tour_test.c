/* Tours held against all orders for small counts, and above against tours with known lengths and the same stops
 * doubled. */
#include "plan/tour.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

enum { ROUNDS = 150, SMALL_MOST = 7, MANY = 144 };

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

static uint32_t draw(uint64_t *seed, uint32_t below) {
    *seed = *seed * UINT64_C(6364136223846793005) + UINT64_C(1442695040888963407); /* Knuth, MMIX */
    return (uint32_t)((*seed >> 33) % below);
}

struct plane {
    double x[MANY];
    double y[MANY];
    size_t count;
    double lengths[MANY * MANY];
};

static void measure(struct plane *plane) {
    for (size_t i = 0; i < plane->count; i++) {
        for (size_t k = 0; k < plane->count; k++) {
            plane->lengths[i * plane->count + k] =
                    hypot(plane->x[i] - plane->x[k], plane->y[i] - plane->y[k]);
        }
    }
}

static void draw_plane(struct plane *plane, size_t count, uint64_t *seed) {
    plane->count = count;
    for (size_t i = 0; i < count; i++) {
        plane->x[i] = draw(seed, 20000);
        plane->y[i] = draw(seed, 12000);
    }
    measure(plane);
}

/* Finds a tour and holds it to what it says of itself: every stop once, ends right, its length that of its legs. */
static struct tour find(const struct plane *plane, size_t first, size_t last, struct arena *arena) {
    struct tour tour;
    struct problem problem = {0};
    arena_init(arena, PAGES, 0);
    if (!tour_find(plane->lengths, plane->count, first, last, arena, &tour, &problem).good) {
        fail_msg("%s", problem.text);
    }
    bool seen[MANY] = {false};
    double length = 0;
    assert_int_equal(tour.count, plane->count);
    for (size_t i = 0; i < tour.count; i++) {
        assert_false(seen[tour.stops[i]]);
        seen[tour.stops[i]] = true;
        length += i > 0 ? plane->lengths[tour.stops[i - 1] * plane->count + tour.stops[i]] : 0;
    }
    assert_int_equal(tour.stops[tour.count - 1], last);
    if (first == last) {
        length += plane->lengths[last * plane->count + tour.stops[0]];
    } else if (first != TOUR_ANYWHERE) {
        assert_int_equal(tour.stops[0], first);
    }
    assert_true(fabs(length - tour.length) < 1e-6);
    assert_true(tour.bound <= tour.length + 1e-6);
    return tour;
}

static double tour_length(const struct plane *plane, size_t first, size_t last) {
    struct arena arena;
    const struct tour tour = find(plane, first, last, &arena);
    assert_int_equal(tour.exact, plane->count <= TOUR_EXACT_MOST);
    assert_true(!tour.exact || tour.bound >= tour.length);
    arena_finish(&arena);
    return tour.length;
}

/* All orders, one after the other: the rest of the tour from `at`, over what is not seen. */
static double try_all(const struct plane *plane, bool *seen, size_t at, size_t last, size_t left) {
    if (left == 0) {
        return plane->lengths[at * plane->count + last];
    }
    double least = INFINITY;
    for (size_t i = 0; i < plane->count; i++) {
        if (!seen[i]) {
            seen[i] = true;
            least = fmin(least,
                    plane->lengths[at * plane->count + i] +
                            try_all(plane, seen, i, last, left - 1));
            seen[i] = false;
        }
    }
    return least;
}

static double brute_length(const struct plane *plane, size_t first, size_t last) {
    bool seen[MANY] = {false};
    seen[last] = true;
    if (first == last) {
        return try_all(plane, seen, last, last, plane->count - 1);
    }
    double least = plane->count == 1 ? 0 : INFINITY;
    for (size_t i = 0; i < plane->count; i++) {
        if (i != last && (first == TOUR_ANYWHERE || i == first)) {
            seen[i] = true;
            least = fmin(least, try_all(plane, seen, i, last, plane->count - 2));
            seen[i] = false;
        }
    }
    return least;
}

static void small_tours_are_the_best_of_all_orders(void **unused) {
    (void)unused;
    static struct plane plane;
    uint64_t seed = 81;
    for (size_t round = 0; round < ROUNDS; round++) {
        draw_plane(&plane, 1 + round % SMALL_MOST, &seed);
        const size_t last = draw(&seed, (uint32_t)plane.count);
        const size_t firsts[] = {TOUR_ANYWHERE, last, draw(&seed, (uint32_t)plane.count)};
        for (size_t i = 0; i < 3; i++) {
            const double wanted = brute_length(&plane, firsts[i], last);
            if (fabs(tour_length(&plane, firsts[i], last) - wanted) > 1e-6) {
                fail_msg("round %zu: %zu stops from %zu to %zu", round, plane.count, firsts[i],
                        last);
            }
        }
    }
}

/* A round over a board of even size is as long as it has fields; along a line to its end the tour is the line. */
static void known_tours_are_found(void **unused) {
    (void)unused;
    static struct plane plane;
    plane.count = MANY;
    for (size_t i = 0; i < MANY; i++) {
        plane.x[i] = (double)(i % 12);
        plane.y[i] = (double)(i / 12);
    }
    measure(&plane);
    const double round = tour_length(&plane, 0, 0);
    assert_true(round >= MANY - 1e-6 && round <= MANY * 1.05);
    uint64_t seed = 82;
    plane.count = 60;
    for (size_t i = 0; i < plane.count; i++) {
        plane.x[i] = i == 7 ? 5000 : draw(&seed, 5000);
        plane.y[i] = 0;
    }
    plane.x[3] = 0;
    measure(&plane);
    assert_true(fabs(tour_length(&plane, TOUR_ANYWHERE, 7) - 5000) < 1e-6);
    assert_true(fabs(tour_length(&plane, 7, 7) - 10000) < 1e-6);
}

/* Twelve places with two stops each make as short a tour as with one, which is proven. */
static void large_tours_are_near_the_proven_ones(void **unused) {
    (void)unused;
    static struct plane once;
    static struct plane twice;
    uint64_t seed = 83;
    double worst = 1;
    for (size_t round = 0; round < ROUNDS / 6; round++) {
        draw_plane(&once, 12, &seed);
        twice.count = 24;
        for (size_t i = 0; i < 24; i++) {
            twice.x[i] = once.x[i % 12];
            twice.y[i] = once.y[i % 12];
        }
        measure(&twice);
        const double proven = tour_length(&once, TOUR_ANYWHERE, 11);
        struct arena arena;
        const struct tour tour = find(&twice, TOUR_ANYWHERE, 11, &arena);
        assert_false(tour.exact);
        assert_true(tour.bound <= proven + 1e-6);
        assert_true(tour.length >= proven - 1e-6);
        worst = fmax(worst, tour.length / proven);
        arena_finish(&arena);
    }
    if (worst > 1.01) {
        fail_msg("%.4f times as long as proven", worst);
    }
}

static void the_bound_is_near_on_many_stops(void **unused) {
    (void)unused;
    static struct plane plane;
    uint64_t seed = 84;
    for (size_t round = 0; round < 5; round++) {
        draw_plane(&plane, 60 + 15 * round, &seed);
        struct arena arena;
        const struct tour tour = find(&plane, 0, 1, &arena);
        if (tour.length > 1.06 * tour.bound) {
            fail_msg("round %zu: %.0f, no shorter than %.0f", round, tour.length, tour.bound);
        }
        arena_finish(&arena);
    }
}

static void what_it_cannot_do_it_says(void **unused) {
    (void)unused;
    static struct plane plane;
    uint64_t seed = 85;
    draw_plane(&plane, 4, &seed);
    struct arena arena;
    struct tour tour;
    arena_init(&arena, PAGES, 0);
    struct problem problem = {0};
    assert_false(tour_find(plane.lengths, 4, TOUR_ANYWHERE, 4, &arena, &tour, &problem).good);
    assert_int_equal(problem.kind, PROBLEM_BAD_VALUE);
    problem = (struct problem){0};
    assert_false(tour_find(plane.lengths, TOUR_STOPS_MOST + 1, 0, 0, &arena, &tour, &problem).good);
    assert_int_equal(problem.kind, PROBLEM_LIMIT);
    problem = (struct problem){0};
    plane.lengths[1 * 4 + 2] = INFINITY;
    assert_false(tour_find(plane.lengths, 4, 0, 1, &arena, &tour, &problem).good);
    assert_int_equal(problem.kind, PROBLEM_BAD_VALUE);
    assert_non_null(strstr(problem.text, "stop 2 to stop 3"));
    arena_finish(&arena);
}

static void memory_may_end_anywhere(void **unused) {
    (void)unused;
    static struct plane plane;
    uint64_t seed = 86;
    draw_plane(&plane, 6, &seed);
    size_t refused = 0;
    bool good = false;
    for (size_t limit = 1; !good; limit += 128) {
        struct arena arena;
        struct tour tour;
        struct problem problem = {0};
        arena_init(&arena, PAGES, limit);
        good = tour_find(plane.lengths, 6, TOUR_ANYWHERE, 0, &arena, &tour, &problem).good;
        assert_true(good || problem.kind == PROBLEM_MEMORY);
        arena_finish(&arena);
        refused += !good;
    }
    assert_in_range(refused, 3, 10000);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(small_tours_are_the_best_of_all_orders),
            cmocka_unit_test(known_tours_are_found),
            cmocka_unit_test(large_tours_are_near_the_proven_ones),
            cmocka_unit_test(the_bound_is_near_on_many_stops),
            cmocka_unit_test(what_it_cannot_do_it_says),
            cmocka_unit_test(memory_may_end_anywhere),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
