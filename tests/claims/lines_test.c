/* What the prover claims about the lines in and out of the panel: mains, the path to the station, the inputs. */
#include "tiny_house.h"

#include "proof/world.h"

/* One person, who loses the mains at once. */
static void lose_the_mains(struct tiny *tiny) {
    tiny_zone(tiny, SITE_ENTRY, tiny_door(tiny), tiny_profile(tiny, SITE_CONTACT));
    tiny_person(tiny, 1);
    tiny_again(tiny);
    tiny->routines[0].expects = SITE_EXPECT_TROUBLE;
    tiny_step(tiny, 0, 0, 0, SITE_ACT_MAINS_LOST);
}

/* How long the explorer lets the mains report wait. */
static struct span wait_of_mains(struct tiny *tiny, const struct proof_options *options) {
    struct world *world = ARENA_NEW(&tiny->arena, struct world);
    struct world_state *state = ARENA_NEW(&tiny->arena, struct world_state);
    struct panel_outputs *outputs = ARENA_NEW(&tiny->arena, struct panel_outputs);
    struct explore_effects effects = {.count = 0};
    assert_true(world != NULL && state != NULL && outputs != NULL);
    assert_true(proof_unfold(&tiny->site, &tiny->routines[0], &tiny->routine, &tiny->problem).good);
    assert_true(
            world_make(&tiny->site, NULL, &tiny->routine, options, outputs, world, &tiny->problem)
                    .good);
    const struct explore_machine machine = world_machine(world);
    machine.begin(world, state, &effects);
    effects = (struct explore_effects){.count = 0};
    machine.fire(world, state, WORLD_ACTOR, 0, &effects);
    for (size_t i = 0; i < effects.count; i++) {
        if (effects.effects[i].kind == EXPLORE_START &&
                effects.effects[i].activity == panel_timer_of(PANEL_TIMER_MAINS, 0)) {
            return effects.effects[i].span;
        }
    }
    fail_msg("the wait before the report does not start");
    return span_of(0, 0);
}

static void assert_span(struct span span, int32_t low_s, int32_t high_s) {
    assert_int_equal(span.low_s, low_s);
    assert_int_equal(span.high_s, high_s);
}

/* page: "Mains: trouble at once, report after delay ± jitter": whatever is drawn is timed by a clock within 10 %. */
static void the_mains_report_is_spread(void **state) {
    struct tiny *tiny = *state;
    const struct proof_options exact = {.no_tolerance = true};
    const struct proof_options tenfold = {.no_tolerance = true, .scale = 10};
    lose_the_mains(tiny);
    tiny->site.settings.mains_delay_s = 600;
    assert_span(wait_of_mains(tiny, NULL), 540, 660);
    tiny->site.settings.mains_jitter_s = 100;
    assert_span(wait_of_mains(tiny, &exact), 500, 700);
    assert_span(wait_of_mains(tiny, NULL), 450, 770);
    assert_span(wait_of_mains(tiny, &tenfold), 5000, 7000);
    tiny->site.settings.mains_jitter_s = 600;
    assert_span(wait_of_mains(tiny, &exact), 0, 1200);
}

/* ---- the path ---- */

enum { WINDOW_OPENS_S = 10, ABORT_S = 30 };

/* Set, and the path goes at once; a window is opened by mistake and found by nobody; the siren is known of. */
static void open_a_window_with_the_path_down(struct tiny *tiny) {
    const int contact = tiny_profile(tiny, SITE_CONTACT);
    tiny_zone(tiny, SITE_ENTRY, tiny_door(tiny), contact);
    tiny_zone(tiny, SITE_PERIMETER, tiny_door(tiny), contact);
    tiny_person(tiny, 1);
    tiny_again(tiny);
    tiny_starts_set(tiny, 0, SITE_MODE_FULL);
    tiny->site.settings.abort_window_s = ABORT_S;
    tiny->routines[0].expects = SITE_EXPECT_SIREN | SITE_EXPECT_TROUBLE;
    tiny_step(tiny, 0, 0, 0, SITE_ACT_PATH_LOST);
    tiny_opens(tiny, 0, WINDOW_OPENS_S, WINDOW_OPENS_S, 1);
}

/* The promise "no alarm signal leaves" is broken when it leaves, not when it is made. */
static void an_alarm_leaves_when_the_path_is_back(void **state) {
    struct tiny *tiny = *state;
    open_a_window_with_the_path_down(tiny);
    tiny_step(tiny, 0, 100, 100, SITE_ACT_PATH_BACK);
    const struct proof_answer answer = tiny_ask(tiny, NULL);
    assert_int_equal(answer.verdict, PROOF_GOES_WRONG);
    assert_int_equal(answer.promise, PROOF_ALARM);
    assert_int_equal(answer.culprit, PANEL_WHY_ABORT_OVER);
    assert_int_equal(answer.culprit_zone, 1);
    assert_true(answer.always);
    assert_int_equal(answer.story[answer.story_count - 1].at_s, WINDOW_OPENS_S + 100);
}

static void an_alarm_that_waits_has_not_left(void **state) {
    struct tiny *tiny = *state;
    open_a_window_with_the_path_down(tiny);
    assert_goes_well(tiny); /* the path does not come back */
}

/* Unset within the abort window nothing waits; after it the alarm has been handed over, and leaves. */
static void a_code_while_the_path_is_down(void **state) {
    struct tiny *tiny = *state;
    open_a_window_with_the_path_down(tiny);
    tiny_unsets(tiny, 0, 5, 26);
    tiny_step(tiny, 0, 100, 200, SITE_ACT_PATH_BACK);
    assert_goes_well(tiny);
    tiny->steps[0][2].in = span_of(5, 27); /* the window ends at 27..33 s */
    const struct proof_answer tie = tiny_ask(tiny, NULL);
    assert_int_equal(tie.promise, PROOF_ALARM);
    assert_false(tie.always);
    tiny->steps[0][2].in = span_of(34, 40);
    assert_true(tiny_ask(tiny, NULL).always);
}

/* A path that is back within the abort window changes nothing. */
static void a_short_outage_of_the_path(void **state) {
    struct tiny *tiny = *state;
    open_a_window_with_the_path_down(tiny);
    tiny_step(tiny, 0, 5, 10, SITE_ACT_PATH_BACK);
    tiny_unsets(tiny, 0, 5, 16);
    assert_goes_well(tiny);
    tiny->steps[0][3].in = span_of(24, 24);
    assert_breaks(tiny, PROOF_ALARM);
}

static void a_lost_path_is_a_trouble(void **state) {
    struct tiny *tiny = *state;
    lose_the_mains(tiny);
    tiny->steps[0][0].act = SITE_ACT_PATH_LOST;
    assert_goes_well(tiny);
    tiny->routines[0].expects = 0;
    assert_breaks(tiny, PROOF_TROUBLE);
}

/* Common practice: a path that is down stands in the way of setting, and people acknowledge what is shown. */
static void a_lost_path_stands_in_the_way(void **state) {
    struct tiny *tiny = *state;
    lose_the_mains(tiny);
    tiny->steps[0][0].act = SITE_ACT_PATH_LOST;
    tiny_sets(tiny, 0, 5, 5, SITE_MODE_FULL);
    assert_breaks(tiny, PROOF_REFUSED);
    tiny->site.settings.faults = SITE_FAULT_ACKNOWLEDGE;
    assert_goes_well(tiny);
}

/* ---- the siren's hold-back ---- */

enum { HOLD_BACK_S = 60 };

/* The same window, the path standing; an alarm is announced, a siren is not. */
static void open_a_window_before_the_siren(struct tiny *tiny) {
    open_a_window_with_the_path_down(tiny);
    tiny->steps[0][0].act = SITE_ACT_WAIT;
    tiny->site.settings.siren_hold_back_s = HOLD_BACK_S;
    tiny->routines[0].expects = SITE_EXPECT_ALARM;
}

static void a_code_before_the_siren(void **state) {
    struct tiny *tiny = *state;
    open_a_window_before_the_siren(tiny);
    tiny_unsets(tiny, 0, 5, 53);
    assert_goes_well(tiny);
    tiny->steps[0][2].in = span_of(5, 54); /* 60 s: 54..66 */
    const struct proof_answer tie = tiny_ask(tiny, NULL);
    assert_int_equal(tie.promise, PROOF_SIREN);
    assert_int_equal(tie.culprit, PANEL_WHY_HOLD_BACK);
    assert_int_equal(tie.culprit_zone, 1);
    assert_true(tie.needs_tolerance);
    assert_true(tie.has_range);
    assert_int_equal(tie.can.interval[0].low_s, 54);
    tiny->site.settings.siren_hold_back_s = 0;
    assert_true(tiny_ask(tiny, NULL).always);
}

static void the_hold_back_has_a_margin(void **state) {
    struct tiny *tiny = *state;
    open_a_window_before_the_siren(tiny);
    tiny_unsets(tiny, 0, 5, 40);
    const struct proof_answer answer = tiny_ask(tiny, NULL);
    assert_int_equal(answer.verdict, PROOF_GOES_WELL);
    assert_true(answer.has_margin);
    assert_int_equal(panel_timer_kind_of(answer.margin_timer), PANEL_TIMER_HOLD_BACK);
    assert_int_equal(answer.margin_s, 54 - 40);
    assert_int_equal(answer.margin_deadline_s, 54);
}

/* Where the siren waits, the abort window can end before it: who announces neither signal nor siren races against
 * both. */
static void the_abort_window_ends_before_the_siren(void **state) {
    struct tiny *tiny = *state;
    open_a_window_before_the_siren(tiny);
    tiny->routines[0].expects = SITE_EXPECT_TROUBLE;
    tiny_unsets(tiny, 0, 5, 20);
    const struct proof_answer answer = tiny_ask(tiny, NULL);
    assert_int_equal(answer.verdict, PROOF_GOES_WELL);
    assert_int_equal(panel_timer_kind_of(answer.margin_timer), PANEL_TIMER_ABORT);
    assert_int_equal(answer.margin_s, 27 - 20);
}

static void inside_it_sounds_at_once(void **state) {
    struct tiny *tiny = *state;
    open_a_window_before_the_siren(tiny);
    tiny_unsets(tiny, 0, 5, 20);
    tiny->routines[0].expects = 0;
    assert_breaks(tiny, PROOF_WARNING);
}

static void a_lost_path_ends_the_wait(void **state) {
    struct tiny *tiny = *state;
    open_a_window_before_the_siren(tiny);
    tiny->routines[0].expects = SITE_EXPECT_ALARM | SITE_EXPECT_TROUBLE;
    tiny_person(tiny, 1);
    tiny_unsets(tiny, 0, 5, 20);
    struct site_step *loses = tiny_step(tiny, 1, 31, 90, SITE_ACT_PATH_LOST);
    assert_goes_well(tiny);
    loses->in = span_of(0, 90);
    const struct proof_answer answer = tiny_ask(tiny, NULL);
    assert_int_equal(answer.promise, PROOF_SIREN);
    assert_false(answer.always);
}

/* A siren that waits is heard later, however unset everything looks: a 24-hour window that reports nothing. */
static void a_waiting_siren_is_not_calm(void **state) {
    struct tiny *tiny = *state;
    const int contact = tiny_profile(tiny, SITE_CONTACT);
    tiny_zone(tiny, SITE_ALWAYS, tiny_door(tiny), contact);
    tiny->zones[0].reports = false;
    tiny_person(tiny, 1);
    tiny_again(tiny);
    tiny->site.settings.siren_hold_back_s = HOLD_BACK_S;
    tiny->routines[0].expects = SITE_EXPECT_ALARM;
    tiny_opens(tiny, 0, 0, 0, 0);
    assert_breaks(tiny, PROOF_SIREN);
}

#define WITH_A_HOUSE(test) cmocka_unit_test_setup_teardown(test, tiny_setup, tiny_teardown)

int main(void) {
    const struct CMUnitTest tests[] = {
            WITH_A_HOUSE(the_mains_report_is_spread),
            WITH_A_HOUSE(an_alarm_leaves_when_the_path_is_back),
            WITH_A_HOUSE(an_alarm_that_waits_has_not_left),
            WITH_A_HOUSE(a_code_while_the_path_is_down),
            WITH_A_HOUSE(a_short_outage_of_the_path),
            WITH_A_HOUSE(a_lost_path_is_a_trouble),
            WITH_A_HOUSE(a_lost_path_stands_in_the_way),
            WITH_A_HOUSE(a_code_before_the_siren),
            WITH_A_HOUSE(the_hold_back_has_a_margin),
            WITH_A_HOUSE(the_abort_window_ends_before_the_siren),
            WITH_A_HOUSE(inside_it_sounds_at_once),
            WITH_A_HOUSE(a_lost_path_ends_the_wait),
            WITH_A_HOUSE(a_waiting_siren_is_not_calm),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
