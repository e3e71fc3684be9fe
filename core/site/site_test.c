#include "site/site.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

struct counted {
    int left; /* pages until one is refused; -1: never */
    int out;
};

static void *get_page(void *context, size_t size) {
    struct counted *counted = context;
    if (counted->left == 0) {
        return NULL;
    }
    counted->left -= counted->left > 0;
    counted->out++;
    return malloc(size);
}

static void give_page(void *context, void *block, size_t size) {
    struct counted *counted = context;
    (void)size;
    counted->out--;
    free(block);
}

/* Source: CP-01-2019 as the rules dossier 1.2 tells it; which of the figures are from memory stands there. */
static void delivered_settings_are_those_of_cp01(void **state) {
    (void)state;
    const struct site_settings usual = site_settings_usual();
    assert_int_equal(usual.modes[SITE_MODE_FULL].exit_delay_s, 60);
    assert_int_equal(usual.abort_window_s, 30);
    assert_int_equal(usual.cancel_window_s, 300);
    assert_int_equal(usual.recent_closing_s, 120);
    assert_int_equal(usual.swinger_limit, 2);
    assert_int_equal(usual.swinger_reset_s, 8 * 3600);
    assert_int_equal(usual.power_mask_s, 60);
    assert_int_equal(usual.tolerance_tenths, 1);
    assert_true(usual.exit_restart);
    assert_true(usual.drop_to_part);
}

static void three_modes_always_stand(void **state) {
    (void)state;
    const struct site_settings usual = site_settings_usual();
    assert_int_equal(usual.mode_count, 3);
    assert_true(text_is(usual.modes[SITE_MODE_FULL].name, "full"));
    assert_true(text_is(usual.modes[SITE_MODE_PART].name, "part"));
    assert_true(text_is(usual.modes[SITE_MODE_NIGHT].name, "night"));
    assert_int_equal(usual.delay_count, 0);
    assert_int_equal(usual.auto_set_at_s, -1);
    assert_int_equal(usual.auto_set_area, SITE_NONE);
}

/* Common practice: whoever is in at night walks about; the shell stays guarded. */
static void part_and_night_leave_the_inside_out(void **state) {
    (void)state;
    assert_int_equal(site_usual_in(SITE_INTERIOR, SITE_MODE_FULL), SITE_INTERIOR);
    assert_int_equal(site_usual_in(SITE_INTERIOR, SITE_MODE_PART), SITE_OUT);
    assert_int_equal(site_usual_in(SITE_INTERIOR, SITE_MODE_NIGHT), SITE_OUT);
    assert_int_equal(site_usual_in(SITE_FOLLOWER, SITE_MODE_PART), SITE_OUT);
    assert_int_equal(site_usual_in(SITE_FOLLOWER, SITE_MODE_NIGHT), SITE_OUT);
    assert_int_equal(site_usual_in(SITE_FOLLOWER, SITE_MODE_FULL), SITE_FOLLOWER);
    /* A further mode says what it leaves out; nothing is left out silently. */
    assert_int_equal(site_usual_in(SITE_INTERIOR, SITE_MODE_NIGHT + 1), SITE_INTERIOR);
    for (int mode = 0; mode < SITE_MODE_MAX; mode++) {
        assert_int_equal(site_usual_in(SITE_ENTRY, mode), SITE_ENTRY);
        assert_int_equal(site_usual_in(SITE_PERIMETER, mode), SITE_PERIMETER);
        assert_int_equal(site_usual_in(SITE_FIRE, mode), SITE_FIRE);
        assert_int_equal(site_usual_in(SITE_HOLD_UP, mode), SITE_HOLD_UP);
        assert_int_equal(site_usual_in(SITE_OUT, mode), SITE_OUT);
    }
}

static void a_copy_may_be_changed(void **state) {
    (void)state;
    struct counted counted = {.left = -1};
    struct arena arena;
    arena_init(&arena, (struct pages){get_page, give_page, &counted}, 0);
    struct site_zone zones[2] = {
            {.number = 1, .behaviour = SITE_ENTRY}, {.number = 2, .behaviour = SITE_FOLLOWER}};
    struct site_person people[1] = {{.name = text_of("baker"), .has_code = true}};
    struct site site = {.name = text_of("bakery"),
            .zones = zones,
            .zone_count = 2,
            .people = people,
            .person_count = 1};
    struct site copy;
    struct problem problem = {0};
    assert_true(site_copy(&site, &arena, &copy, &problem).good);
    copy.zones[1].behaviour = SITE_INTERIOR;
    copy.people[0].has_code = false;
    copy.settings.abort_window_s = 15;
    assert_int_equal(zones[1].behaviour, SITE_FOLLOWER);
    assert_true(people[0].has_code);
    assert_int_equal(copy.zones[0].number, 1);
    assert_int_equal(copy.zone_count, 2);
    assert_int_equal(copy.area_count, 0);
    arena_finish(&arena);
    assert_int_equal(counted.out, 0);
}

static void a_refused_page_is_a_problem(void **state) {
    (void)state;
    struct site_zone zones[SITE_ZONE_MAX] = {{0}};
    struct site_routine routines[4];
    memset(routines, 0, sizeof routines);
    struct site site = {
            .zones = zones, .zone_count = SITE_ZONE_MAX, .routines = routines, .routine_count = 4};
    bool good = false;
    int refused = 0;
    for (int left = 0; !good; left++) {
        struct counted counted = {.left = left};
        struct arena arena;
        struct site copy = {.zone_count = 77};
        struct problem problem = {0};
        arena_init(&arena, (struct pages){get_page, give_page, &counted}, 0);
        good = site_copy(&site, &arena, &copy, &problem).good;
        if (!good) {
            refused++;
            assert_int_equal(problem.kind, PROBLEM_MEMORY);
            assert_int_equal(copy.zone_count, 77);
        }
        arena_finish(&arena);
        assert_int_equal(counted.out, 0);
    }
    assert_true(refused >= 1);
}

static void names_are_all_there_and_differ(void **state) {
    (void)state;
    for (int i = 0; i < SITE_BEHAVIOUR_COUNT; i++) {
        for (int j = 0; j < i; j++) {
            assert_string_not_equal(site_behaviour_name((enum site_behaviour)i),
                    site_behaviour_name((enum site_behaviour)j));
        }
    }
    for (int i = 0; i < SITE_SENSE_COUNT; i++) {
        for (int j = 0; j < i; j++) {
            assert_string_not_equal(
                    site_sense_name((enum site_sense)i), site_sense_name((enum site_sense)j));
        }
    }
    for (int i = 0; i < SITE_SIGN_COUNT; i++) {
        for (int j = 0; j < i; j++) {
            assert_string_not_equal(
                    site_sign_name((enum site_sign)i), site_sign_name((enum site_sign)j));
        }
    }
    for (int i = 0; i < SITE_ACT_COUNT; i++) {
        for (int j = 0; j < i; j++) {
            assert_string_not_equal(
                    site_act_name((enum site_act)i), site_act_name((enum site_act)j));
        }
    }
    assert_string_equal(site_behaviour_name(SITE_ALWAYS), "24-hour");
    assert_string_equal(site_sign_name(SITE_SIGN_ENTRY_TONE), "entry tone");
}

/* The first four senses are levels, as the header says; a motion detector trips. */
static void levels_and_trips(void **state) {
    (void)state;
    for (int i = 0; i < SITE_SENSE_COUNT; i++) {
        assert_int_equal(site_sense_is_level((enum site_sense)i), i <= SITE_WATER);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(delivered_settings_are_those_of_cp01),
            cmocka_unit_test(three_modes_always_stand),
            cmocka_unit_test(part_and_night_leave_the_inside_out),
            cmocka_unit_test(a_copy_may_be_changed),
            cmocka_unit_test(a_refused_page_is_a_problem),
            cmocka_unit_test(names_are_all_there_and_differ),
            cmocka_unit_test(levels_and_trips),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
