/* Difference bounds held against counting: every whole point of a small box is looked at. */
#include "explore/dbm.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

/* Points (0, x, y, z) with x, y, z in 0 .. SIDE - 1. */
enum { DIM = 4, SIDE = 6, POINTS = SIDE * SIDE * SIDE, ROUNDS = 4000 };

struct zone {
    int32_t bound[DIM * DIM];
    bool empty;
    bool holds[POINTS];
};

static uint32_t draw(uint64_t *seed, uint32_t below) {
    *seed = *seed * UINT64_C(6364136223846793005) + UINT64_C(1442695040888963407); /* Knuth, MMIX */
    return (uint32_t)((*seed >> 33) % below);
}

static void point_of(size_t index, int32_t *ret_point) {
    ret_point[0] = 0;
    for (size_t k = 1; k < DIM; k++) {
        ret_point[k] = (int32_t)(index % SIDE);
        index /= SIDE;
    }
}

static bool holds(const int32_t *bound, size_t index) {
    int32_t point[DIM];
    point_of(index, point);
    for (size_t i = 0; i < DIM; i++) {
        for (size_t j = 0; j < DIM; j++) {
            if (point[i] - point[j] > bound[i * DIM + j]) {
                return false;
            }
        }
    }
    return true;
}

/* The whole box, then some constraints. */
static struct zone draw_zone(uint64_t *seed, size_t constraints) {
    struct zone zone = {0};
    for (size_t i = 0; i < DIM; i++) {
        for (size_t j = 0; j < DIM; j++) {
            zone.bound[i * DIM + j] = i == j || i == 0 ? 0 : SIDE - 1;
        }
    }
    memset(zone.holds, 1, sizeof zone.holds);
    for (size_t k = 0; k < constraints && !zone.empty; k++) {
        const size_t i = draw(seed, DIM);
        const size_t j = (i + 1 + draw(seed, DIM - 1)) % DIM;
        const int32_t most = (int32_t)draw(seed, 2 * SIDE) - SIDE;
        for (size_t at = 0; at < POINTS; at++) {
            int32_t point[DIM];
            point_of(at, point);
            zone.holds[at] = zone.holds[at] && point[i] - point[j] <= most;
        }
        zone.empty = !dbm_tighten(zone.bound, DIM, DIM, i, j, most);
    }
    return zone;
}

static bool no_point(const struct zone *zone) {
    return memchr(zone->holds, 1, sizeof zone->holds) == NULL;
}

/* Each bound is reached by a point, so none can be lowered. */
static void expect_closed(const struct zone *zone) {
    for (size_t i = 0; i < DIM; i++) {
        for (size_t j = 0; j < DIM; j++) {
            int32_t most = -SIDE;
            for (size_t at = 0; at < POINTS; at++) {
                int32_t point[DIM];
                point_of(at, point);
                if (zone->holds[at] && point[i] - point[j] > most) {
                    most = point[i] - point[j];
                }
            }
            assert_int_equal(zone->bound[i * DIM + j], most);
        }
    }
}

static void tightening_keeps_the_points_and_stays_closed(void **unused) {
    (void)unused;
    uint64_t seed = 1;
    size_t empty = 0;
    for (size_t round = 0; round < ROUNDS; round++) {
        const struct zone zone = draw_zone(&seed, 1 + draw(&seed, 5));
        assert_int_equal(zone.empty, no_point(&zone));
        empty += zone.empty;
        if (zone.empty) {
            continue;
        }
        for (size_t at = 0; at < POINTS; at++) {
            assert_int_equal(holds(zone.bound, at), zone.holds[at]);
        }
        expect_closed(&zone);
    }
    assert_in_range(empty, ROUNDS / 20, ROUNDS - ROUNDS / 20);
}

static void inclusion_is_inclusion_of_points(void **unused) {
    (void)unused;
    uint64_t seed = 2;
    size_t included = 0;
    for (size_t round = 0; round < ROUNDS; round++) {
        const struct zone a = draw_zone(&seed, 1 + draw(&seed, 3));
        const struct zone b = draw_zone(&seed, 2 + draw(&seed, 4));
        if (a.empty || b.empty) {
            continue;
        }
        bool inside = true;
        for (size_t at = 0; at < POINTS; at++) {
            inside = inside && (a.holds[at] || !b.holds[at]);
        }
        assert_int_equal(dbm_includes(a.bound, b.bound, DIM), inside);
        included += inside;
    }
    assert_true(included > ROUNDS / 50);
}

static void two_zones_fill_their_hull_or_not(void **unused) {
    (void)unused;
    uint64_t seed = 3;
    size_t filled = 0;
    for (size_t round = 0; round < 4 * ROUNDS; round++) {
        const struct zone a = draw_zone(&seed, 1 + draw(&seed, 3));
        const struct zone b = draw_zone(&seed, 1 + draw(&seed, 3));
        if (a.empty || b.empty) {
            continue;
        }
        struct zone hull = a;
        dbm_hull(hull.bound, b.bound, DIM);
        bool outside = false;
        for (size_t at = 0; at < POINTS; at++) {
            hull.holds[at] = holds(hull.bound, at);
            assert_true(hull.holds[at] || (!a.holds[at] && !b.holds[at]));
            outside = outside || (hull.holds[at] && !a.holds[at] && !b.holds[at]);
        }
        expect_closed(&hull);
        assert_int_equal(dbm_union_is_hull(a.bound, b.bound, DIM), !outside);
        filled += !outside;
    }
    assert_in_range(filled, ROUNDS / 20, 3 * ROUNDS);
}

static void many_zones_cover_or_not(void **unused) {
    (void)unused;
    enum { MANY = 5 };
    uint64_t seed = 4;
    size_t covered = 0;
    for (size_t round = 0; round < ROUNDS; round++) {
        struct zone zones[MANY];
        const int32_t *bounds[MANY];
        size_t count = 0;
        for (size_t k = 0; k < MANY; k++) {
            zones[count] = draw_zone(&seed, 1);
            bounds[count] = zones[count].bound;
            count += !zones[count].empty;
        }
        const struct zone rest = draw_zone(&seed, 2);
        if (rest.empty || count == 0) {
            continue;
        }
        bool outside = false;
        for (size_t at = 0; at < POINTS; at++) {
            bool held = !rest.holds[at];
            for (size_t k = 0; k < count; k++) {
                held = held || zones[k].holds[at];
            }
            outside = outside || !held;
        }
        int32_t scratch[2 * MANY * DIM * DIM];
        size_t effort = 1000000;
        assert_int_equal(dbm_covered(rest.bound, bounds, count, DIM, scratch, &effort), !outside);
        effort = 0;
        /* Giving up may only ever say no. */
        assert_true(!dbm_covered(rest.bound, bounds, count, DIM, scratch, &effort) || !outside);
        covered += !outside;
    }
    assert_in_range(covered, ROUNDS / 20, ROUNDS - ROUNDS / 20);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(tightening_keeps_the_points_and_stays_closed),
            cmocka_unit_test(inclusion_is_inclusion_of_points),
            cmocka_unit_test(two_zones_fill_their_hull_or_not),
            cmocka_unit_test(many_zones_cover_or_not),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
