#include "site/pace.h"

#include "base/arena.h"

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

static void every_kind_is_named_sourced_and_walks(void **state) {
    (void)state;
    for (int i = 0; i < SITE_WALKER_COUNT; i++) {
        const enum site_walker walker = (enum site_walker)i;
        const struct site_pace pace = site_walker_pace(walker);
        assert_non_null(site_walker_name(walker));
        assert_non_null(site_walker_source(walker));
        assert_in_range(pace.level.slow_mm_s, SITE_PACE_LEAST_MM_S, pace.level.fast_mm_s - 1);
        assert_in_range(pace.stairs.slow_mm_s, SITE_PACE_LEAST_MM_S, pace.stairs.fast_mm_s - 1);
        assert_in_range(pace.level.fast_mm_s, pace.stairs.fast_mm_s, SITE_PACE_MOST_MM_S);
    }
}

/* The figures that were published: 3.0 ft/s for slow walkers (MUTCD), 3.03 ft/s the 15th percentile of walkers over 60,
 * 1 ft/s the frail; stairs with impaired mobility 0.31 m/s, deviation 0.16 (NIST). A foot is 304.8 mm. */
static void published_figures_are_in_the_table(void **state) {
    (void)state;
    const struct site_pace adult = site_walker_pace(SITE_WALKER_ADULT);
    const struct site_pace stick = site_walker_pace(SITE_WALKER_STICK);
    assert_in_range(adult.level.slow_mm_s, 880, 923); /* 3.03 ft/s */
    assert_in_range(stick.level.slow_mm_s, 290, 305); /* 1 ft/s */
    assert_in_range(stick.level.fast_mm_s, 890, 915); /* 3 ft/s */
    assert_int_equal(stick.stairs.slow_mm_s, 310 - 160);
    assert_int_equal(stick.stairs.fast_mm_s, 310 + 160);
}

static void a_measured_pace_takes_stairs_as_an_adult_does(void **state) {
    (void)state;
    const struct site_walking own = {SITE_WALKER_OWN, {450, 700}};
    const struct site_pace pace = site_walking_pace(own);
    assert_int_equal(pace.level.slow_mm_s, 450);
    assert_int_equal(pace.stairs.slow_mm_s, 400); /* 0.8 of 0.9 */
    assert_int_equal(pace.stairs.fast_mm_s, 500); /* 1.0 of 1.4 */
    const struct site_walking nothing_said = {0};
    assert_int_equal(site_walking_pace(nothing_said).level.slow_mm_s,
            site_walker_pace(SITE_WALKER_ADULT).level.slow_mm_s);
}

static void either_of_two_is_from_the_slowest_to_the_fastest(void **state) {
    (void)state;
    const struct site_pace both = site_pace_either(
            site_walker_pace(SITE_WALKER_ADULT), site_walker_pace(SITE_WALKER_STICK));
    assert_int_equal(both.level.slow_mm_s, 300);
    assert_int_equal(both.level.fast_mm_s, 1400);
    assert_int_equal(both.stairs.slow_mm_s, 150);
    assert_int_equal(both.stairs.fast_mm_s, 1000);
}

static void speeds_are_written_as_they_are_read(void **state) {
    (void)state;
    static const struct {
        struct site_speed speed;
        const char *written;
    } cases[] = {{{900, 1400}, "0.9..1.4 m/s"}, {{1000, 1000}, "1 m/s"},
            {{50, 2000}, "0.05..2 m/s"}, {{1005, 1050}, "1.005..1.05 m/s"}};
    struct arena arena;
    arena_init(&arena, PAGES, 0);
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct text_builder out;
        text_builder_init(&out, &arena);
        site_speed_add(&out, cases[i].speed);
        assert_true(text_is(text_built(&out), cases[i].written));
    }
    arena_finish(&arena);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(every_kind_is_named_sourced_and_walks),
            cmocka_unit_test(published_figures_are_in_the_table),
            cmocka_unit_test(a_measured_pace_takes_stairs_as_an_adult_does),
            cmocka_unit_test(either_of_two_is_from_the_slowest_to_the_fastest),
            cmocka_unit_test(speeds_are_written_as_they_are_read),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
