/* What the report says of somebody who waits for what never comes. */
#include "check/test_bench.h"

/* "Goes well", but whether everybody gets to his last step was not seen to the end: said, and why. */
static void a_wait_that_was_not_seen_to_the_end_is_said(void **state) {
    struct bench *bench = *state;
    struct test_answer *it = add_well(bench, "delivery", 0);
    test_open(it, 0, BAKER, 0);
    it->answer.waits = PROOF_WAITS_NOT_SETTLED;
    it->answer.reason = EXPLORE_CLASS_LIMIT;
    const struct check_report *report = gather(bench);
    const struct finding *base = &report->findings[0].base;
    assert_int_equal(report->finding_count, 1);
    assert_int_equal(base->weight, FINDING_NOTE);
    assert_true(text_is(base->id, "routine.waits-not-settled"));
    assert_true(text_is(base->place, "routines[0]"));
    assert_true(text_is(base->headline,
            "\"delivery\" goes well; whether anybody in it waits for ever is not settled"));
    assert_non_null(strstr(base->why.start, "20000 classes"));
    it->answer.reason = EXPLORE_ASKED_TO_STOP;
    report = gather(bench);
    assert_true(text_is(report->findings[0].base.why, "the search for it was stopped"));
}

/* "Goes well" of a routine that nobody can do to its end: told with the step that is waited before. */
static void a_wait_in_vain_is_told_with_its_line(void **state) {
    struct bench *bench = *state;
    struct test_answer *it = add_well(bench, "delivery", 0);
    test_open(it, 0, BAKER, 0);
    struct proof_step *step = test_act(it, 0, BAKER, SITE_ACT_PASS);
    step->zone = SIDE_ZONE;
    step->written = 3;
    step->when = SITE_SIGN_CHIME;
    it->answer.waits = PROOF_WAITS_ALWAYS;
    it->answer.waiting_step = 1;
    const struct check_report *report = gather(bench);
    const struct finding *base = &report->findings[0].base;
    assert_int_equal(report->finding_count, 1);
    assert_int_equal(base->weight, FINDING_RISK);
    assert_true(text_is(base->id, "routine.waits-for-ever"));
    assert_true(text_is(base->place, "routines[0].steps[3].when"));
    assert_true(text_is(base->headline,
            "\"delivery\" stops half way every time: the baker waits until the chime was heard, "
            "and "
            "that never comes"));
    assert_non_null(strstr(base->why.start, "no timing gets to this step (the baker "));
    assert_non_null(strstr(base->remedy.start, "`chime: yes`"));
    it->answer.waits = PROOF_WAITS_SOMETIMES;
    step->when = SITE_SIGN_NONE;
    step->after = 0;
    report = gather(bench);
    base = &report->findings[0].base;
    assert_int_equal(base->weight, FINDING_NOTE);
    assert_true(text_is(base->place, "routines[0].steps[3].after"));
    assert_non_null(strstr(
            base->headline.start, "can stop half way: the baker waits until the baker opens"));
    it->answer.waits = PROOF_WAITS_NEVER;
    assert_int_equal(gather(bench)->finding_count, 0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            BENCH_TEST(a_wait_in_vain_is_told_with_its_line),
            BENCH_TEST(a_wait_that_was_not_seen_to_the_end_is_said),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
