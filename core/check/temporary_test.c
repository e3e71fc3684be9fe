/* Temporary changes: what they change in the site's values on which day, and what is said of them. */
#include "check/holidays.h"
#include "check/temporary.h"

#include "check/test_site.h"

#include <stdlib.h>

struct bench {
    struct arena arena;
    struct test_site house;
    struct site_temporary changes[3];
    struct site_step step;
};

/* Not cmocka's: a test that fails would free it under the arena. */
static void *get(void *context, size_t size) {
    (void)context;
    return malloc(size);
}

static void give(void *context, void *block, size_t size) {
    (void)context;
    (void)size;
    free(block);
}

enum { FROM = 20000, UNTIL = 20010 };

static int set_up(void **state) {
    struct bench *bench = malloc(sizeof *bench);
    assert_non_null(bench);
    memset(bench, 0, sizeof *bench);
    arena_init(&bench->arena, (struct pages){.get = get, .give = give}, 0);
    test_site_fill(&bench->house, SITE_WORDS_UK);
    for (size_t i = 0; i < 3; i++) {
        bench->changes[i] = (struct site_temporary){.bypass = i == 0 ? SIDE_ZONE : SITE_NONE,
                .soak = i == 1 ? PASSAGE_ZONE : SITE_NONE,
                .guest = i == 2 ? APPRENTICE : SITE_NONE,
                .from_day = FROM,
                .until_day = UNTIL,
                .by = text_of("us"),
                .why = text_of("builders")};
    }
    bench->step = (struct site_step){.who = APPRENTICE};
    bench->house.routine.steps = &bench->step;
    bench->house.routine.step_count = 1;
    bench->house.zones[SIDE_ZONE].chime = true;
    bench->house.site.temporaries = bench->changes;
    bench->house.site.temporary_count = 3;
    *state = bench;
    return 0;
}

static int tear_down(void **state) {
    struct bench *bench = *state;
    arena_finish(&bench->arena);
    free(bench);
    return 0;
}

static bool is_out(const struct site_zone *zone) {
    bool out = zone->behaviour == SITE_OUT && !zone->chime;
    for (int mode = 0; mode < SITE_MODE_MAX; mode++) {
        out = out && zone->in[mode] == SITE_OUT && zone->delay[mode] == SITE_NONE;
    }
    return out;
}

static void they_hold_on_both_days_and_between(void **state) {
    struct bench *bench = *state;
    static const struct {
        int32_t day;
        bool in_force;
    } rows[] = {{FROM - 1, false}, {FROM, true}, {UNTIL, true}, {UNTIL + 1, false}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct site today;
        assert_true(
                temporary_apply(&bench->house.site, rows[i].day, &bench->arena, &today, NULL).good);
        assert_int_equal(is_out(&today.zones[SIDE_ZONE]), rows[i].in_force);
        assert_int_equal(is_out(&today.zones[PASSAGE_ZONE]), rows[i].in_force);
        assert_false(is_out(&today.zones[YARD_ZONE]));
        assert_int_equal(today.people[APPRENTICE].has_code, rows[i].in_force);
        assert_int_equal(today.people[APPRENTICE].away, !rows[i].in_force);
        assert_true(today.people[BAKER].has_code);
        assert_int_equal(today.routines[0].rests, !rows[i].in_force);
    }
    assert_int_equal(bench->house.zones[SIDE_ZONE].behaviour, SITE_PERIMETER);
    assert_true(bench->house.people[APPRENTICE].has_code);
}

static void without_a_day_the_site_is_as_written(void **state) {
    struct bench *bench = *state;
    struct check_finding said[3];
    struct site today;
    size_t count = 7;
    assert_true(temporary_apply(&bench->house.site, DATE_NONE, &bench->arena, &today, NULL).good);
    assert_ptr_equal(today.zones, bench->house.site.zones);
    temporary_say(&bench->house.site, DATE_NONE, &bench->arena, said, &count);
    assert_int_equal(count, 0);
}

static void a_guest_with_two_spells_is_there_in_both(void **state) {
    struct bench *bench = *state;
    struct site today;
    bench->changes[1] = bench->changes[2];
    bench->changes[1].from_day = bench->changes[1].until_day = UNTIL + 5;
    for (int32_t day = UNTIL; day <= UNTIL + 6; day++) {
        assert_true(temporary_apply(&bench->house.site, day, &bench->arena, &today, NULL).good);
        assert_int_equal(today.people[APPRENTICE].has_code, day == UNTIL || day == UNTIL + 5);
    }
}

static void who_left_has_left_for_good(void **state) {
    struct bench *bench = *state;
    struct site today;
    /* A guest has left when the last visit is over, not between two. */
    bench->changes[1] = bench->changes[2];
    bench->changes[1].from_day = bench->changes[1].until_day = UNTIL + 5;
    for (int32_t day = FROM - 1; day <= UNTIL + 6; day++) {
        assert_true(temporary_apply(&bench->house.site, day, &bench->arena, &today, NULL).good);
        assert_int_equal(today.people[APPRENTICE].left, day > UNTIL + 5);
    }
    /* With a last day, and nothing temporary in the file. */
    bench->house.site.temporary_count = 0;
    bench->house.people[APPRENTICE].left_day = UNTIL;
    for (int32_t day = UNTIL - 1; day <= UNTIL + 2; day++) {
        assert_true(temporary_apply(&bench->house.site, day, &bench->arena, &today, NULL).good);
        assert_int_equal(today.people[APPRENTICE].left, day > UNTIL);
        assert_int_equal(today.people[APPRENTICE].has_code, day <= UNTIL);
        assert_int_equal(today.routines[0].rests, day > UNTIL);
        assert_false(today.people[BAKER].left);
    }
    assert_true(temporary_apply(&bench->house.site, DATE_NONE, &bench->arena, &today, NULL).good);
    assert_false(today.people[APPRENTICE].left);
}

static void each_is_said_by_its_day(void **state) {
    struct bench *bench = *state;
    static const struct {
        int32_t day;
        const char *id;
        enum finding_weight weight;
    } rows[] = {{FROM - 1, "temporary.planned", FINDING_NOTE},
            {FROM, "temporary.in-force", FINDING_NOTE}, {UNTIL, "temporary.in-force", FINDING_NOTE},
            {UNTIL + 1, "temporary.over", FINDING_RISK}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct check_finding said[3];
        size_t count = 0;
        temporary_say(&bench->house.site, rows[i].day, &bench->arena, said, &count);
        assert_int_equal(count, 3);
        for (size_t k = 0; k < count; k++) {
            assert_true(text_is(said[k].base.id, rows[i].id));
            assert_int_equal(said[k].base.weight, rows[i].weight);
        }
        assert_true(text_is(said[0].about, "zone 3 bypass"));
        assert_true(text_is(said[1].about, "zone 2 soak"));
        assert_true(text_is(said[2].about, "person apprentice guest"));
        assert_true(text_is(said[2].base.place, "temporary[2]"));
    }
}

static void what_lasts_is_a_risk_and_says_since_when(void **state) {
    struct bench *bench = *state;
    struct check_finding said[3];
    struct site today;
    size_t count = 0;
    for (size_t i = 0; i < 2; i++) {
        bench->changes[i].lasting = true;
        bench->changes[i].until_day = DATE_NONE;
    }
    assert_true(temporary_apply(&bench->house.site, FROM - 1, &bench->arena, &today, NULL).good);
    assert_false(is_out(&today.zones[SIDE_ZONE]));
    temporary_say(&bench->house.site, FROM - 1, &bench->arena, said, &count);
    assert_true(text_is(said[0].base.id, "temporary.planned"));
    assert_true(text_is(said[0].base.headline,
            "zone 3 \"side door\" is to be left out from 2024-10-04: not yet"));
    for (int32_t day = FROM; day <= FROM + 4000; day += 1000) {
        assert_true(temporary_apply(&bench->house.site, day, &bench->arena, &today, NULL).good);
        assert_true(is_out(&today.zones[SIDE_ZONE]) && is_out(&today.zones[PASSAGE_ZONE]));
        temporary_say(&bench->house.site, day, &bench->arena, said, &count);
        for (size_t i = 0; i < 2; i++) {
            assert_true(text_is(said[i].base.id, "temporary.lasting"));
            assert_int_equal(said[i].base.weight, FINDING_RISK);
        }
        assert_true(text_is(said[0].base.headline,
                "zone 3 \"side door\" has been left out since 2024-10-04: nothing there is heard"));
    }
}

static void life_safety_out_of_service_is_a_risk(void **state) {
    struct bench *bench = *state;
    struct check_finding said[3];
    size_t count = 0;
    bench->house.profiles[0].sense = SITE_SMOKE; /* that of the side door's device */
    temporary_say(&bench->house.site, FROM, &bench->arena, said, &count);
    assert_int_equal(said[0].base.weight, FINDING_RISK);
    assert_int_equal(said[1].base.weight, FINDING_NOTE);
    assert_true(said[0].base.source.length > 0);
}

static void holidays_are_over_after_the_last_of_them(void **state) {
    struct bench *bench = *state;
    struct site *site = &bench->house.site;
    struct site_holiday holidays[] = {{.from_day = FROM, .until_day = UNTIL},
            {.from_day = FROM - 20, .until_day = FROM - 19}};
    struct check_finding said;
    assert_false(holidays_are_over(site, UNTIL + 1, &bench->arena, &said));
    site->holidays = holidays;
    site->holiday_count = 2;
    assert_false(holidays_are_over(site, UNTIL, &bench->arena, &said));
    assert_false(holidays_are_over(site, DATE_NONE, &bench->arena, &said));
    assert_true(holidays_are_over(site, UNTIL + 1, &bench->arena, &said));
    assert_true(text_is(said.base.place, "holidays[0].until"));
    holidays[1].yearly = true;
    assert_false(holidays_are_over(site, UNTIL + 1, &bench->arena, &said));
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test_setup_teardown(they_hold_on_both_days_and_between, set_up, tear_down),
            cmocka_unit_test_setup_teardown(
                    without_a_day_the_site_is_as_written, set_up, tear_down),
            cmocka_unit_test_setup_teardown(
                    a_guest_with_two_spells_is_there_in_both, set_up, tear_down),
            cmocka_unit_test_setup_teardown(who_left_has_left_for_good, set_up, tear_down),
            cmocka_unit_test_setup_teardown(each_is_said_by_its_day, set_up, tear_down),
            cmocka_unit_test_setup_teardown(
                    what_lasts_is_a_risk_and_says_since_when, set_up, tear_down),
            cmocka_unit_test_setup_teardown(
                    life_safety_out_of_service_is_a_risk, set_up, tear_down),
            cmocka_unit_test_setup_teardown(
                    holidays_are_over_after_the_last_of_them, set_up, tear_down),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
