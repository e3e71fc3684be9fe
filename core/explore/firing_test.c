/* Random chains of firings: each zone they give must be closed. What a firing means is tested against full enumeration
 * in tests/explore, and one by hand here. */
#include "explore/firing.h"

#include "explore/classes.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

enum { ACTIVITIES = 6, CHAINS = 3000, LENGTH = 8 };

static uint32_t draw(uint64_t *seed, uint32_t below) {
    *seed = *seed * UINT64_C(6364136223846793005) + UINT64_C(1442695040888963407); /* Knuth, MMIX */
    return (uint32_t)((*seed >> 33) % below);
}

static void draw_effects(uint64_t *seed, struct explore_effects *ret_effects) {
    *ret_effects = (struct explore_effects){.count = draw(seed, 5)};
    for (size_t k = 0; k < ret_effects->count; k++) {
        const int32_t low_s = (int32_t)draw(seed, 10);
        const uint32_t kind = draw(seed, 6);
        ret_effects->effects[k] = (struct explore_effect){.kind = kind < 3 ? EXPLORE_START
                        : kind < 4                                         ? EXPLORE_STOP
                                                                           : EXPLORE_SHORTEN,
                .activity = (explore_activity)draw(seed, ACTIVITIES),
                .span = span_of(low_s, low_s + (int32_t)draw(seed, 10))};
    }
    ret_effects->mark = (uint8_t)(draw(seed, 4) == 0 ? draw(seed, 4) : 0);
}

/* A class with the memory it needs. */
struct held {
    struct class_key key;
    explore_activity activity[EXPLORE_ACTIVE_MAX];
    struct explore_class *class;
    _Alignas(max_align_t) unsigned char memory[sizeof(struct explore_class) +
            DBM_DIM_MAX * DBM_DIM_MAX * sizeof(int32_t)];
};

static void hold(struct held *held, const struct firing *firing) {
    memcpy(held->activity, firing->activity, sizeof held->activity);
    held->key = (struct class_key){.activity = held->activity,
            .count = (uint8_t)firing->count,
            .dim = (uint8_t)firing_dim(firing),
            .marks = (uint8_t)((firing->mark_row[0] != FIRING_NO_ROW ? 1 : 0) |
                    (firing->mark_row[1] != FIRING_NO_ROW ? 2 : 0))};
    held->class = (struct explore_class *)(void *)held->memory;
    held->class->key = &held->key;
    firing_give_zone(firing, held->class->bound);
}

static void expect_closed(const struct held *held) {
    const size_t dim = held->key.dim;
    const int32_t *bound = held->class->bound;
    for (size_t i = 0; i < dim; i++) {
        assert_int_equal(bound[i * dim + i], 0);
        for (size_t j = 0; j < dim; j++) {
            for (size_t k = 0; k < dim; k++) {
                assert_true(bound[i * dim + j] <= bound[i * dim + k] + bound[k * dim + j]);
            }
        }
    }
    for (size_t i = 1; i <= held->key.count; i++) {
        assert_true(bound[i] <= 0); /* no deadline lies before now */
        assert_true(i == 1 || held->key.activity[i - 2] < held->key.activity[i - 1]);
    }
}

/* Takes one of the ways the SHORTENs can go, by chance. */
static void take_a_way(uint64_t *seed, struct firing_choices *choices) {
    const uint32_t times = draw(seed, 3);
    for (uint32_t k = 0; k < times; k++) {
        const struct firing_choices before = *choices;
        if (!firing_next(choices)) {
            *choices = before;
            return;
        }
    }
}

static void fire_somebody(uint64_t *seed, struct held *held, int32_t *rows) {
    int32_t least[DBM_DIM_MAX];
    firing_least(held->class, least);
    size_t fired = draw(seed, held->key.count);
    while (least[fired + 1] != 0) { /* somebody can always be first */
        fired = (fired + 1) % held->key.count;
    }
    struct explore_effects effects;
    draw_effects(seed, &effects);
    struct firing firing;
    struct firing_choices choices = {0};
    firing_fire(&firing, held->class, least, fired, rows, DBM_DIM_MAX, false);
    assert_true(firing_apply(&firing, &effects, &choices));
    take_a_way(seed, &choices);
    firing_fire(&firing, held->class, least, fired, rows, DBM_DIM_MAX, false);
    assert_true(firing_apply(&firing, &effects, &choices));
    firing_mark(&firing, effects.mark);
    hold(held, &firing);
}

static void zones_stay_closed(void **unused) {
    (void)unused;
    uint64_t seed = 1;
    size_t firings = 0;
    static int32_t rows[DBM_DIM_MAX * DBM_DIM_MAX];
    for (size_t chain = 0; chain < CHAINS; chain++) {
        struct firing firing;
        struct held held;
        firing_begin(&firing, rows, DBM_DIM_MAX, false);
        struct explore_effects effects = {.count = ACTIVITIES};
        for (size_t k = 0; k < ACTIVITIES; k++) {
            const int32_t low_s = (int32_t)draw(&seed, 10);
            effects.effects[k] = (struct explore_effect){EXPLORE_START, (explore_activity)k,
                    span_of(low_s, low_s + (int32_t)draw(&seed, 10))};
        }
        struct firing_choices choices = {0};
        assert_true(firing_apply(&firing, &effects, &choices));
        hold(&held, &firing);
        for (size_t k = 0; k < LENGTH && held.key.count > 0; k++) {
            expect_closed(&held);
            fire_somebody(&seed, &held, rows);
            firings++;
        }
        expect_closed(&held);
    }
    assert_true(firings > CHAINS * LENGTH / 2);
}

/* By hand. A and B are drawn together, 0 .. 4 s before C fires: A 5 s, B 7 s after that. C shortens A to 3 s. If
 * the new one holds, A had 3 s left at least, so B has 5 s at least, and exactly 2 s more than A had. */
static void shortening_tells_about_the_others(void **unused) {
    (void)unused;
    enum { A, B, C };
    static int32_t rows[DBM_DIM_MAX * DBM_DIM_MAX];
    struct held held = {.key = {.count = 3, .dim = 4}, .activity = {A, B, C}};
    /* Now is when A and B were drawn; C is to fire 0 .. 4 s later. */
    /* clang-format off */
    static const int32_t zone[] = {
            0, -5, -7, 0,
            5, 0, -2, 5,
            7, 2, 0, 7,
            4, -1, -3, 0,
    };
    /* clang-format on */
    held.key.activity = held.activity;
    held.class = (struct explore_class *)(void *)held.memory;
    held.class->key = &held.key;
    memcpy(held.class->bound, zone, sizeof zone);
    int32_t least[DBM_DIM_MAX];
    firing_least(held.class, least);
    const struct explore_effects effects = {
            .count = 1, .effects = {{EXPLORE_SHORTEN, A, span_of(3, 3)}}};
    struct firing firing;
    struct firing_choices choices = {0};
    firing_fire(&firing, held.class, least, C, rows, DBM_DIM_MAX, false);
    assert_true(firing_apply(&firing, &effects, &choices));
    int32_t kept[9];
    firing_give_zone(&firing, kept);
    /* clang-format off */
    static const int32_t expected_kept[] = {
            0, -1, -3, /* now: A is 1 .. 3 s off, B 3 .. 5 */
            3, 0, -2,
            5, 2, 0,
    };
    /* clang-format on */
    assert_memory_equal(kept, expected_kept, sizeof kept);
    assert_true(firing_next(&choices));
    firing_fire(&firing, held.class, least, C, rows, DBM_DIM_MAX, false);
    assert_true(firing_apply(&firing, &effects, &choices));
    int32_t replaced[9];
    firing_give_zone(&firing, replaced);
    /* clang-format off */
    static const int32_t expected_replaced[] = {
            0, -3, -5, /* now: A is 3 s off, B 5 .. 7 */
            3, 0, -2,
            7, 4, 0,
    };
    /* clang-format on */
    assert_memory_equal(replaced, expected_replaced, sizeof replaced);
    assert_false(firing_next(&choices));
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(zones_stay_closed),
            cmocka_unit_test(shortening_tells_about_the_others),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
