/* Free sectors round corners held against angles in doubles, on a board so small that angles differ or are the same. */
#include "plan/sector.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

enum { ROUNDS = 20000, WALLS_MOST = 5, SIDE = 7 };
static const double NEAR = 1e-9;

static uint32_t draw(uint64_t *seed, uint32_t below) {
    *seed = *seed * UINT64_C(6364136223846793005) + UINT64_C(1442695040888963407); /* Knuth, MMIX */
    return (uint32_t)((*seed >> 33) % below);
}

static struct point draw_direction(uint64_t *seed) {
    struct point at = {0, 0};
    while (at.x_mm == 0 && at.y_mm == 0) {
        at.x_mm = (int32_t)draw(seed, SIDE) - SIDE / 2;
        at.y_mm = (int32_t)draw(seed, SIDE) - SIDE / 2;
    }
    return at;
}

/* From a, turning left, to b: 0 up to a full turn. */
static double turn_to(struct point a, struct point b) {
    const double pi = acos(-1);
    const double turn = atan2(b.y_mm, b.x_mm) - atan2(a.y_mm, a.x_mm);
    const double left = fmod(turn + 4 * pi, 2 * pi);
    return left > 2 * pi - NEAR ? 0 : left;
}

static void sides_are_those_of_angles(void **unused) {
    (void)unused;
    uint64_t seed = 31;
    size_t counts[4] = {0};
    for (size_t round = 0; round < ROUNDS; round++) {
        const struct sector sector = {draw_direction(&seed), draw_direction(&seed), false};
        const struct point direction = draw_direction(&seed);
        double opening = turn_to(sector.right, sector.left);
        opening = opening < NEAR ? 2 * acos(-1) : opening;
        const double at = turn_to(sector.right, direction);
        const bool on_right = at < NEAR;
        const bool on_left = turn_to(sector.left, direction) < NEAR;
        unsigned wanted = at < opening ? SIDE_BOTH : 0;
        if (on_right || on_left) {
            wanted = (on_right ? SIDE_LEFT : 0u) | (on_left ? SIDE_RIGHT : 0u);
        }
        const unsigned sides = sector_sides(sector, direction);
        assert_int_equal(sides, wanted);
        assert_int_equal(sector_turned(sector_turned(sides)), sides);
        counts[sides]++;
    }
    for (size_t i = 0; i < 4; i++) {
        assert_true(counts[i] > ROUNDS / 100);
    }
    assert_int_equal(sector_turned(SIDE_LEFT), SIDE_RIGHT);
    assert_int_equal(sector_sides((struct sector){.all = true}, (struct point){1, 0}), SIDE_BOTH);
}

/* The widest gap between neighbours by angle. */
static double widest(const struct point *walls, size_t count) {
    double best = 0;
    for (size_t i = 0; i < count; i++) {
        double gap = 2 * acos(-1);
        for (size_t k = 0; k < count; k++) {
            const double turn = turn_to(walls[i], walls[k]);
            gap = turn > NEAR && turn < gap ? turn : gap;
        }
        best = gap > best ? gap : best;
    }
    return best;
}

static void wide_sectors_are_over_half_a_turn(void **unused) {
    (void)unused;
    uint64_t seed = 32;
    size_t wide = 0;
    for (size_t round = 0; round < ROUNDS; round++) {
        struct point walls[WALLS_MOST];
        const size_t count = 1 + draw(&seed, WALLS_MOST);
        for (size_t i = 0; i < count; i++) {
            walls[i] = draw_direction(&seed);
        }
        struct sector sector;
        const double gap = widest(walls, count);
        const bool found = sector_wide(walls, count, &sector);
        assert_int_equal(found, gap > acos(-1) + NEAR);
        if (found) {
            double opening = turn_to(sector.right, sector.left);
            opening = opening < NEAR ? 2 * acos(-1) : opening;
            assert_true(fabs(opening - gap) < NEAR);
        }
        wide += found;
    }
    assert_in_range(wide, ROUNDS / 5, ROUNDS);
    struct sector none;
    assert_false(sector_wide(NULL, 0, &none));
}

static void the_sector_round_a_direction_has_no_wall_in_it(void **unused) {
    (void)unused;
    uint64_t seed = 33;
    for (size_t round = 0; round < ROUNDS; round++) {
        struct point walls[WALLS_MOST];
        const size_t count = 1 + draw(&seed, WALLS_MOST);
        for (size_t i = 0; i < count; i++) {
            walls[i] = draw_direction(&seed);
        }
        const struct point into = draw_direction(&seed);
        const struct sector sector = sector_around(walls, count, into);
        double left = 2 * acos(-1);
        double right = 2 * acos(-1);
        for (size_t i = 0; i < count; i++) {
            const double turn = turn_to(into, walls[i]);
            left = turn > NEAR && turn < left ? turn : left;
            /* A wall along `into` is the right end. */
            const double back = turn > NEAR ? 2 * acos(-1) - turn : 0;
            right = back < right ? back : right;
        }
        const double to_left = turn_to(into, sector.left);
        const double to_right = turn_to(sector.right, into);
        assert_true(fabs((to_left < NEAR ? 2 * acos(-1) : to_left) - left) < NEAR);
        assert_true(fabs(to_right - right) < NEAR);
    }
    assert_true(sector_around(NULL, 0, (struct point){1, 0}).all);
    const struct point wall = {1, 0};
    assert_true(sector_around(&wall, 1, (struct point){0, 0}).all);
}

static void a_line_passes_where_no_wall_is_on_its_side(void **unused) {
    (void)unused;
    uint64_t seed = 34;
    for (size_t round = 0; round < ROUNDS; round++) {
        struct point walls[WALLS_MOST];
        const size_t count = draw(&seed, WALLS_MOST + 1);
        const struct point direction = draw_direction(&seed);
        unsigned wanted = SIDE_BOTH;
        for (size_t i = 0; i < count; i++) {
            walls[i] = draw_direction(&seed);
            const double turn = turn_to(direction, walls[i]);
            if (turn > NEAR && fabs(turn - acos(-1)) > NEAR) {
                wanted &= turn < acos(-1) ? SIDE_RIGHT : SIDE_LEFT;
            }
        }
        assert_int_equal(sector_passes(walls, count, direction), wanted);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(sides_are_those_of_angles),
            cmocka_unit_test(wide_sectors_are_over_half_a_turn),
            cmocka_unit_test(the_sector_round_a_direction_has_no_wall_in_it),
            cmocka_unit_test(a_line_passes_where_no_wall_is_on_its_side),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
