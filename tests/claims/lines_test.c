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

/* ---- loop response ---- */

/* Set, and a window that is opened and closed again; ret_closes: the closing, so long after the opening. */
static struct site_step *open_and_close_a_window(struct tiny *tiny, int32_t response_ms) {
    tiny_zone(tiny, SITE_PERIMETER, tiny_door(tiny), tiny_profile(tiny, SITE_CONTACT));
    tiny->zones[0].loop_response_ms = response_ms;
    tiny_person(tiny, 1);
    tiny_again(tiny);
    tiny_starts_set(tiny, 0, SITE_MODE_FULL);
    tiny_opens(tiny, 0, 5, 9, 0);
    return tiny_closes(tiny, 0, 0, 0, 0);
}

enum sight { NEVER_SEEN, MAYBE_SEEN, ALWAYS_SEEN };

static enum sight sight_of(struct tiny *tiny, struct site_step *closes, int32_t open_s) {
    closes->in = span_of(open_s, open_s);
    const struct proof_answer answer = tiny_ask(tiny, NULL);
    assert_int_not_equal(answer.verdict, PROOF_NOT_SETTLED);
    return answer.verdict == PROOF_GOES_WELL ? NEVER_SEEN
            : answer.always                  ? ALWAYS_SEEN
                                             : MAYBE_SEEN;
}

/* page: "loop response": whatever lasts less is not seen. In whole seconds, and on one second either order. */
static void an_opening_must_last(void **state) {
    struct tiny *tiny = *state;
    struct site_step *closes = open_and_close_a_window(tiny, 2000);
    assert_int_equal(sight_of(tiny, closes, 1), NEVER_SEEN);
    assert_int_equal(sight_of(tiny, closes, 2), MAYBE_SEEN);
    assert_int_equal(sight_of(tiny, closes, 3), ALWAYS_SEEN);
    tiny->zones[0].loop_response_ms = 2500; /* 2..3 s */
    assert_int_equal(sight_of(tiny, closes, 1), NEVER_SEEN);
    assert_int_equal(sight_of(tiny, closes, 2), MAYBE_SEEN);
    assert_int_equal(sight_of(tiny, closes, 3), MAYBE_SEEN);
    assert_int_equal(sight_of(tiny, closes, 4), ALWAYS_SEEN);
}

/* Less than a second cannot be told from none: such an opening may be seen or not, and both are explored. */
static void a_response_below_a_second(void **state) {
    struct tiny *tiny = *state;
    struct site_step *closes = open_and_close_a_window(tiny, 300);
    assert_int_equal(sight_of(tiny, closes, 0), MAYBE_SEEN);
    assert_int_equal(sight_of(tiny, closes, 1), MAYBE_SEEN);
    assert_int_equal(sight_of(tiny, closes, 2), ALWAYS_SEEN);
    tiny->zones[0].loop_response_ms = 0;
    assert_int_equal(sight_of(tiny, closes, 0), ALWAYS_SEEN);
}

/* A long opening is seen late, not less. */
static void an_opening_is_seen_after_its_response(void **state) {
    struct tiny *tiny = *state;
    const struct proof_options exact = {.no_tolerance = true};
    tiny_zone(tiny, SITE_ENTRY, tiny_door(tiny), tiny_profile(tiny, SITE_CONTACT));
    tiny->zones[0].loop_response_ms = 2000;
    tiny_person(tiny, 1);
    tiny_again(tiny);
    tiny_starts_set(tiny, 0, SITE_MODE_FULL);
    tiny_opens(tiny, 0, 5, 5, 0);
    tiny_unsets(tiny, 0, TINY_ENTRY_S + 1, TINY_ENTRY_S + 1);
    assert_int_equal(tiny_verdict(tiny, &exact), PROOF_GOES_WELL);
    tiny->steps[0][1].in = span_of(TINY_ENTRY_S + 2, TINY_ENTRY_S + 2);
    assert_int_equal(tiny_verdict(tiny, &exact), PROOF_GOES_WRONG);
}

/* How long a trip lasts is the detector's hold; where none is stated it lasts long enough. */
static void a_trip_lasts_as_long_as_its_hold(void **state) {
    struct tiny *tiny = *state;
    const int motion = tiny_profile(tiny, SITE_MOTION);
    tiny_zone(tiny, SITE_INTERIOR, SITE_NONE, motion);
    tiny->zones[0].loop_response_ms = 2000;
    tiny_person(tiny, 1);
    tiny_again(tiny);
    tiny_starts_set(tiny, 0, SITE_MODE_FULL);
    tiny_passes(tiny, 0, 5, 5, 0);
    assert_breaks(tiny, PROOF_SIREN);
    tiny->profiles[motion].hold = span_of(1, 1);
    assert_goes_well(tiny);
    tiny->profiles[motion].hold = span_of(1, 3);
    assert_breaks(tiny, PROOF_SIREN);
}

/* An opening that will be seen is not over with the last step of a routine. */
static void an_opening_still_to_be_seen_is_not_calm(void **state) {
    struct tiny *tiny = *state;
    tiny_zone(tiny, SITE_ALWAYS, tiny_door(tiny), tiny_profile(tiny, SITE_CONTACT));
    tiny->zones[0].loop_response_ms = 5000;
    tiny_person(tiny, 1);
    tiny_again(tiny);
    tiny_opens(tiny, 0, 0, 0, 0);
    assert_breaks(tiny, PROOF_SIREN);
    tiny_closes(tiny, 0, 4, 4, 0);
    assert_goes_well(tiny);
}

/* A radio message still under way tells of what the input sees, not of what has just moved. */
static void a_late_message_tells_what_is_seen(void **state) {
    struct tiny *tiny = *state;
    struct site_step *closes = open_and_close_a_window(tiny, 5000);
    tiny->profiles[0].latency = span_of(3, 3);
    tiny->routines[0].starts[0].set = false;
    tiny->routines[0].doors_open = 1;
    tiny->steps[0][0].act = SITE_ACT_CLOSE;
    closes->act = SITE_ACT_OPEN;
    closes->in = span_of(1, 1);
    tiny_closes(tiny, 0, 3, 3,
            0); /* open for 3 s: not seen, though the first closing was told meanwhile */
    tiny_sets(tiny, 0, 0, 0, SITE_MODE_FULL);
    assert_goes_well(tiny);
    tiny->zones[0].loop_response_ms = 0;
    assert_breaks(tiny, PROOF_REFUSED);
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
            WITH_A_HOUSE(an_opening_must_last),
            WITH_A_HOUSE(a_response_below_a_second),
            WITH_A_HOUSE(an_opening_is_seen_after_its_response),
            WITH_A_HOUSE(a_trip_lasts_as_long_as_its_hold),
            WITH_A_HOUSE(an_opening_still_to_be_seen_is_not_calm),
            WITH_A_HOUSE(a_late_message_tells_what_is_seen),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
