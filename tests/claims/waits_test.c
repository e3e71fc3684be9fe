/* Who waits for what never comes: in every course, in some, in none. */
#include "tiny_house.h"

enum { FRONT_ZONE, WINDOW_ZONE };

/* One opens the front door of an unset house; another waits for its chime, then opens a window. */
static void write_delivery(struct tiny *tiny) {
    const int contact = tiny_profile(tiny, SITE_CONTACT);
    const int front = tiny_door(tiny);
    const int window = tiny_door(tiny);
    tiny_zone(tiny, SITE_ENTRY, front, contact);
    tiny_zone(tiny, SITE_PERIMETER, window, contact);
    tiny->zones[FRONT_ZONE].chime = true;
    tiny_person(tiny, 1);
    tiny_person(tiny, 1);
    tiny_opens(tiny, 0, 5, 60, front);
    tiny_opens(tiny, 1, 5, 10, window)->when = SITE_SIGN_CHIME;
}

static void assert_waits(struct tiny *tiny, enum proof_waits waits, size_t step) {
    const struct proof_answer answer = tiny_ask(tiny, NULL);
    assert_int_equal(answer.verdict, PROOF_GOES_WELL);
    assert_int_equal(answer.waits, waits);
    if (waits != PROOF_WAITS_NEVER) {
        assert_int_equal(answer.waiting_step, step);
    }
}

static void what_comes_is_not_waited_for_in_vain(void **state) {
    struct tiny *tiny = *state;
    write_delivery(tiny);
    assert_waits(tiny, PROOF_WAITS_NEVER, 0);
}

/* Nothing that follows could break a promise, so the search for one ends at once; this one may not. */
static void what_comes_in_no_run_is_said(void **state) {
    struct tiny *tiny = *state;
    write_delivery(tiny);
    tiny->zones[FRONT_ZONE].chime = false;
    assert_waits(tiny, PROOF_WAITS_ALWAYS, 1);
    tiny->steps[0][1].when = SITE_SIGN_SIREN;
    assert_waits(tiny, PROOF_WAITS_ALWAYS, 1);
}

static void what_comes_in_some_runs_is_said(void **state) {
    struct tiny *tiny = *state;
    write_delivery(tiny);
    tiny->steps[0][0].maybe = true;
    assert_waits(tiny, PROOF_WAITS_SOMETIMES, 1);
}

/* The tone is there only while it sounds: who is still busy then waits for the next one, and there is none. */
static void a_sign_that_has_passed_may_be_missed(void **state) {
    struct tiny *tiny = *state;
    tiny_zone(tiny, SITE_ENTRY, tiny_door(tiny), tiny_profile(tiny, SITE_CONTACT));
    tiny_person(tiny, 1);
    tiny_person(tiny, 1);
    tiny_sets(tiny, 0, 0, 0, SITE_MODE_FULL);
    tiny_step(tiny, 1, 10, 10, SITE_ACT_WAIT);
    tiny_unsets(tiny, 1, 0, 0)->when = SITE_SIGN_EXIT_TONE;
    assert_waits(tiny, PROOF_WAITS_NEVER, 0);
    tiny->steps[0][1].in = span_of(50, 70); /* the exit time ends after 54 to 66 s */
    assert_waits(tiny, PROOF_WAITS_SOMETIMES, 2);
    tiny->steps[0][1].in = span_of(67, 70);
    assert_waits(tiny, PROOF_WAITS_ALWAYS, 2);
}

/* Who waits for somebody that waits for a sign waits for that sign. Two who wait for each other: the first is named. */
static void the_sign_at_the_root_is_named(void **state) {
    struct tiny *tiny = *state;
    write_delivery(tiny);
    tiny_person(tiny, 1);
    tiny->zones[FRONT_ZONE].chime = false;
    tiny->steps[0][0].after_step = 2;
    tiny_closes(tiny, 2, 1, 1, 1)->when = SITE_SIGN_SIREN;
    assert_waits(tiny, PROOF_WAITS_ALWAYS, 1);
    tiny->steps[0][1].when = SITE_SIGN_NONE;
    assert_waits(tiny, PROOF_WAITS_ALWAYS, 2);
    tiny->steps[0][2].when = SITE_SIGN_NONE;
    tiny->steps[0][2].after_step = 0;
    assert_waits(tiny, PROOF_WAITS_ALWAYS, 0);
}

/* A search that was cut short says so. */
static void within_a_bound_nothing_is_claimed(void **state) {
    struct tiny *tiny = *state;
    write_delivery(tiny);
    tiny->steps[0][0].maybe = true;
    const struct proof_options scarce = {.class_limit = 1};
    const struct proof_answer answer = tiny_ask(tiny, &scarce);
    assert_int_equal(answer.waits, PROOF_WAITS_NOT_SETTLED);
    assert_int_equal(answer.reason, EXPLORE_CLASS_LIMIT);
}

#define WITH_A_HOUSE(test) cmocka_unit_test_setup_teardown(test, tiny_setup, tiny_teardown)

int main(void) {
    const struct CMUnitTest tests[] = {
            WITH_A_HOUSE(what_comes_is_not_waited_for_in_vain),
            WITH_A_HOUSE(what_comes_in_no_run_is_said),
            WITH_A_HOUSE(what_comes_in_some_runs_is_said),
            WITH_A_HOUSE(a_sign_that_has_passed_may_be_missed),
            WITH_A_HOUSE(the_sign_at_the_root_is_named),
            WITH_A_HOUSE(within_a_bound_nothing_is_claimed),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
