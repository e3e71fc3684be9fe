/* Seconds that the prover claims: the entry delay of common practice, ranges, margins, stories. */
#include "tiny_house.h"

#include <stdio.h>

/* One comes home: opens the front door, closes it, keys the code so long after the opening. */
static void write_return(struct tiny *tiny, int32_t low_s, int32_t high_s) {
    if (tiny->site.zone_count == 0) {
        tiny_zone(tiny, SITE_ENTRY, tiny_door(tiny), tiny_profile(tiny, SITE_CONTACT));
        tiny_person(tiny, 1);
    }
    tiny_again(tiny);
    tiny_starts_set(tiny, 0, SITE_MODE_FULL);
    tiny_opens(tiny, 0, 0, 10, 0);
    tiny_unsets(tiny, 0, low_s, high_s);
    tiny_closes(tiny, 0, 1, 2, 0);
}

/* Common practice: with clocks within 10 % a 30 s entry delay (27..33) lets a code at 26 s through,
 * at 27..33 s it depends on the clock, at 34 s never. */
static void a_delay_of_30_s_within_ten_percent(void **state) {
    struct tiny *tiny = *state;
    for (int32_t at_s = 20; at_s <= 40; at_s++) {
        write_return(tiny, at_s, at_s);
        const struct proof_answer answer = tiny_ask(tiny, NULL);
        assert_int_equal(answer.verdict, at_s <= 26 ? PROOF_GOES_WELL : PROOF_GOES_WRONG);
        if (at_s > 26) {
            assert_int_equal(answer.promise, PROOF_SIREN);
            assert_int_equal(answer.culprit_zone, 0);
            assert_int_equal(answer.culprit_area, 0);
            assert_int_equal(answer.culprit, PANEL_WHY_ENTRY_OVER);
            /* from 30 s on it fails with a clock that is true, too: a tie */
            assert_int_equal(answer.needs_tolerance, at_s <= 29);
            assert_int_equal(answer.always, at_s >= 34);
        }
    }
}

static void a_delay_of_30_s_by_a_true_clock(void **state) {
    struct tiny *tiny = *state;
    const struct proof_options exact = {.no_tolerance = true};
    write_return(tiny, 29, 29);
    assert_int_equal(tiny_verdict(tiny, &exact), PROOF_GOES_WELL);
    write_return(tiny, 30, 30);
    const struct proof_answer tie = tiny_ask(tiny, &exact);
    assert_int_equal(tie.verdict, PROOF_GOES_WRONG);
    assert_false(tie.needs_tolerance);
    assert_false(tie.always);
    write_return(tiny, 31, 31);
    assert_int_equal(tiny_verdict(tiny, &exact), PROOF_GOES_WRONG);
    assert_true(tiny_ask(tiny, &exact).always);
    tiny->site.settings.tolerance_tenths = 0;
    write_return(tiny, 29, 29);
    assert_goes_well(tiny);
    write_return(tiny, 30, 30);
    assert_false(tiny_ask(tiny, NULL).needs_tolerance);
}

static void a_range_is_true_at_its_ends_and_false_beside_them(void **state) {
    struct tiny *tiny = *state;
    write_return(tiny, 20, 40);
    const struct proof_answer answer = tiny_ask(tiny, NULL);
    assert_int_equal(answer.verdict, PROOF_GOES_WRONG);
    assert_false(answer.always);
    assert_false(answer.needs_tolerance);
    assert_true(answer.has_range);
    assert_int_equal(answer.probed_timer, panel_timer_of(PANEL_TIMER_ENTRY, 0));
    assert_int_equal(answer.routine.steps[answer.probed_step].act, SITE_ACT_UNSET);
    assert_int_equal(answer.can.count, 1);
    assert_int_equal(answer.can.interval[0].low_s, 27);
    assert_int_equal(answer.can.interval[0].high_s, 40);
    assert_int_equal(answer.always_when.count, 1);
    assert_int_equal(answer.always_when.interval[0].low_s, 34);
    assert_int_equal(answer.always_when.interval[0].high_s, 40);
}

/* The exit time had ended when the window was opened: the interval runs from the request to the opening. */
static void an_act_after_the_end_is_probed_too(void **state) {
    struct tiny *tiny = *state;
    const int contact = tiny_profile(tiny, SITE_CONTACT);
    const int front = tiny_door(tiny);
    tiny_zone(tiny, SITE_ENTRY, front, contact);
    const int hall = tiny_zone(tiny, SITE_INTERIOR, SITE_NONE, tiny_profile(tiny, SITE_MOTION));
    tiny_person(tiny, 1);
    tiny_person(tiny, 1);
    tiny_sets(tiny, 0, 0, 0, SITE_MODE_FULL);
    struct site_step *passes = tiny_passes(tiny, 1, 40, 80, hall);
    passes->after_step = 0;
    const struct proof_answer answer = tiny_ask(tiny, NULL);
    assert_int_equal(answer.promise, PROOF_SIREN);
    assert_true(answer.has_range);
    assert_int_equal(panel_timer_kind_of(answer.probed_timer), PANEL_TIMER_EXIT);
    assert_int_equal(answer.probed_step, 1);
    assert_int_equal(answer.can.interval[0].low_s, 54); /* a tie, and either order may be */
    assert_int_equal(answer.can.interval[0].high_s, 80);
    assert_int_equal(answer.always_when.interval[0].low_s, 67);
    for (int32_t at_s = 53; at_s <= 67; at_s++) {
        passes->in = span_of(at_s, at_s);
        const struct proof_answer fixed = tiny_ask(tiny, NULL);
        assert_int_equal(fixed.verdict, at_s < 54 ? PROOF_GOES_WELL : PROOF_GOES_WRONG);
        assert_int_equal(fixed.always, at_s >= 67);
    }
}

/* The timer may be started more than once: the interval runs from the start that the story speaks of. */
static void a_range_counts_from_the_start_that_decided(void **state) {
    struct tiny *tiny = *state;
    const int contact = tiny_profile(tiny, SITE_CONTACT);
    const int front = tiny_door(tiny);
    tiny_zone(tiny, SITE_ENTRY, front, contact);
    tiny_person(tiny, 1);
    tiny_starts_set(tiny, 0, SITE_MODE_FULL);
    tiny_opens(tiny, 0, 0, 0, front);
    tiny_unsets(tiny, 0, 10, 10);
    tiny_closes(tiny, 0, 1, 1, front);
    tiny_sets(tiny, 0, 5, 5, SITE_MODE_FULL);
    tiny_opens(tiny, 0, 100, 100, front);
    tiny_unsets(tiny, 0, 20, 40);
    const struct proof_answer answer = tiny_ask(tiny, NULL);
    assert_int_equal(answer.verdict, PROOF_GOES_WRONG);
    assert_true(answer.has_range);
    assert_int_equal(answer.probed_step, 5);
    assert_int_equal(answer.can.interval[0].low_s, 27);
    assert_int_equal(answer.can.interval[0].high_s, 40);
}

/* A code that nobody could have keyed too late, as it came before the door was opened, is no interval. */
static void a_range_needs_its_beginning(void **state) {
    struct tiny *tiny = *state;
    const int contact = tiny_profile(tiny, SITE_CONTACT);
    const int front = tiny_door(tiny);
    tiny_zone(tiny, SITE_ENTRY, front, contact);
    tiny_person(tiny, 1);
    tiny_person(tiny, 1);
    tiny_starts_set(tiny, 0, SITE_MODE_FULL);
    tiny_opens(tiny, 0, 20, 20, front);
    tiny_unsets(tiny, 1, 0, 100);
    const struct proof_answer answer = tiny_ask(tiny, NULL);
    assert_int_equal(answer.verdict, PROOF_GOES_WRONG);
    assert_true(answer.has_range);
    assert_int_equal(answer.can.count, 1);
    assert_int_equal(answer.can.interval[0].low_s, 27);
    assert_int_equal(answer.can.interval[0].high_s, 80);
    assert_int_equal(answer.always_when.interval[0].low_s, 34);
}

/* The mother opens, so it is her code that comes too late, whoever is written first. */
static void the_late_act_is_that_of_the_person_who_came_in(void **state) {
    struct tiny *tiny = *state;
    const int contact = tiny_profile(tiny, SITE_CONTACT);
    const int front = tiny_door(tiny);
    tiny_zone(tiny, SITE_ENTRY, front, contact);
    const int father = tiny_person(tiny, 1);
    const int mother = tiny_person(tiny, 1);
    tiny_starts_set(tiny, 0, SITE_MODE_FULL);
    tiny_unsets(tiny, father, 600, 700);
    tiny_opens(tiny, mother, 0, 10, front);
    tiny_unsets(tiny, mother, 20, 40);
    const struct proof_answer answer = tiny_ask(tiny, NULL);
    assert_int_equal(answer.verdict, PROOF_GOES_WRONG);
    assert_true(answer.has_range);
    assert_int_equal(answer.routine.steps[answer.probed_step].who, mother);
}

/* Sirens end too, but their end hurts nobody. */
static void the_probed_timer_is_one_whose_end_hurts(void **state) {
    struct tiny *tiny = *state;
    const int contact = tiny_profile(tiny, SITE_CONTACT);
    const int front = tiny_door(tiny);
    const int window = tiny_door(tiny);
    tiny_zone(tiny, SITE_ENTRY, front, contact);
    tiny_zone(tiny, SITE_ALWAYS, window, contact);
    tiny->zones[1].reports = false;
    tiny_zone(tiny, SITE_FIRE, SITE_NONE, tiny_profile(tiny, SITE_SMOKE));
    tiny_person(tiny, 1);
    tiny_person(tiny, 1);
    tiny->site.settings.siren_time_s = 100;
    tiny->routines[0].expects = SITE_EXPECT_SIREN;
    /* a 24-hour window sounds at 0 s and falls silent at 90..110; much later somebody tampers */
    tiny_opens(tiny, 0, 0, 0, window);
    struct site_step *tampers = tiny_step(tiny, 1, 200, 300, SITE_ACT_TAMPER);
    tampers->zone = 0;
    tampers->maybe = true;
    const struct proof_answer answer = tiny_ask(tiny, NULL);
    assert_int_equal(answer.verdict, PROOF_GOES_WRONG);
    assert_int_equal(answer.promise, PROOF_TROUBLE);
    assert_false(answer.has_range);
}

/* A morning's exit time has nothing to do with the window of an evening. */
static void what_was_not_under_way_is_not_probed(void **state) {
    struct tiny *tiny = *state;
    const int contact = tiny_profile(tiny, SITE_CONTACT);
    const int front = tiny_door(tiny);
    const int window = tiny_door(tiny);
    tiny_zone(tiny, SITE_ENTRY, front, contact);
    tiny_zone(tiny, SITE_PERIMETER, window, contact);
    tiny_person(tiny, 1);
    tiny_sets(tiny, 0, 0, 0, SITE_MODE_FULL);
    tiny_opens(tiny, 0, 3600, 3600, front);
    tiny_opens(tiny, 0, 5, 5, window)->maybe = true;
    tiny_unsets(tiny, 0, 5, 5);
    const struct proof_answer answer = tiny_ask(tiny, NULL);
    assert_int_equal(answer.promise, PROOF_SIREN);
    assert_false(answer.always);
    assert_false(answer.has_range);
}

/* Whoever cannot unset the area is not the one who was late. */
static void the_late_code_is_one_that_acts_there(void **state) {
    struct tiny *tiny = *state;
    const int contact = tiny_profile(tiny, SITE_CONTACT);
    const int front = tiny_door(tiny);
    tiny->site.area_count = 2;
    tiny_zone(tiny, SITE_ENTRY, front, contact);
    const int guest = tiny_person(tiny, 0);
    const int baker = tiny_person(tiny, 2);
    const int owner = tiny_person(tiny, 3);
    const int mother = tiny_person(tiny, 1);
    tiny_starts_set(tiny, 0, SITE_MODE_FULL);
    tiny_opens(tiny, guest, 0, 0, front);
    tiny_unsets(tiny, baker, 100, 100);
    tiny_unsets(tiny, owner, 100, 100)->areas = 2;
    tiny_unsets(tiny, mother, 20, 40);
    const struct proof_answer answer = tiny_ask(tiny, NULL);
    assert_int_equal(answer.promise, PROOF_SIREN);
    assert_true(answer.has_range);
    assert_int_equal(answer.routine.steps[answer.probed_step].who, mother);
    assert_int_equal(answer.always_when.interval[0].low_s, 34);
}

/* "Whenever" is said only where nobody else could have saved it: the father may have keyed the code before. */
static void always_looks_at_every_good_end(void **state) {
    struct tiny *tiny = *state;
    const int front = tiny_door(tiny);
    tiny_zone(tiny, SITE_ENTRY, front, tiny_profile(tiny, SITE_CONTACT));
    tiny_person(tiny, 1);
    tiny_person(tiny, 1);
    tiny_starts_set(tiny, 0, SITE_MODE_FULL);
    tiny_opens(tiny, 0, 0, 0, front);
    tiny_unsets(tiny, 0, 20, 40);
    tiny_unsets(tiny, 1, 10, 600);
    const struct proof_answer answer = tiny_ask(tiny, NULL);
    assert_true(answer.has_range);
    assert_int_equal(answer.probed_step, 1);
    assert_int_equal(answer.can.interval[0].low_s, 27);
    assert_int_equal(answer.always_when.count, 0);
}

/* "Can" looks at every bad run to the end of the interval, even where the father has unset meanwhile. */
static void can_looks_at_every_bad_run(void **state) {
    struct tiny *tiny = *state;
    const int front = tiny_door(tiny);
    tiny_zone(tiny, SITE_ENTRY, front, tiny_profile(tiny, SITE_CONTACT));
    tiny_person(tiny, 1);
    tiny_person(tiny, 1);
    tiny_starts_set(tiny, 0, SITE_MODE_FULL);
    tiny_opens(tiny, 0, 0, 0, front);
    tiny_unsets(tiny, 0, 20, 40);
    tiny_unsets(tiny, 1, 28, 28);
    const struct proof_answer answer = tiny_ask(tiny, NULL);
    assert_true(answer.has_range);
    assert_int_equal(answer.probed_step, 1);
    assert_int_equal(answer.can.interval[0].low_s, 27);
    assert_int_equal(answer.can.interval[0].high_s, 40);
    assert_int_equal(answer.always_when.count, 0);
}

/* Two people, a shop and a kiosk that is an area of its own. Whoever is late there has nothing to do with how late
 * the code of the shop may be: 27 s by the hand, were it not for the runs in which the kiosk had sounded before. */
static void what_broke_before_is_no_part_of_a_range(void **state) {
    struct tiny *tiny = *state;
    const int contact = tiny_profile(tiny, SITE_CONTACT);
    const int front = tiny_door(tiny);
    const int hatch = tiny_door(tiny);
    tiny->site.area_count = 2;
    tiny_zone(tiny, SITE_ENTRY, front, contact);
    tiny_zone(tiny, SITE_ENTRY, hatch, contact);
    tiny->zones[1].area = 1;
    const int baker = tiny_person(tiny, 1);
    const int vendor = tiny_person(tiny, 2);
    tiny_starts_set(tiny, 0, SITE_MODE_FULL);
    tiny_starts_set(tiny, 1, SITE_MODE_FULL);
    tiny_opens(tiny, baker, 0, 90, front);
    tiny_unsets(tiny, baker, 17, 33);
    tiny_opens(tiny, vendor, 0, 90, hatch);
    tiny_unsets(tiny, vendor, 17, 36);
    const struct proof_answer answer = tiny_ask(tiny, NULL);
    assert_true(answer.has_range);
    assert_int_equal(answer.can.count, 1);
    assert_int_equal(answer.can.interval[0].low_s, 27);
    assert_int_equal(answer.can.interval[0].high_s,
            answer.routine.steps[answer.probed_step].who == baker ? 33 : 36);
}

/* The same door for both: the entry time that the other one's opening started is another one. Where the vendor came
 * first, the baker's code may be any time after that start; by hand it is late 27 to 33 s after his own door. */
static void a_range_counts_from_the_same_persons_start(void **state) {
    struct tiny *tiny = *state;
    const int front = tiny_door(tiny);
    const int gate = tiny_door(tiny);
    tiny_zone(tiny, SITE_ENTRY, front, tiny_profile(tiny, SITE_CONTACT));
    const int baker = tiny_person(tiny, 1);
    const int vendor = tiny_person(tiny, 1);
    tiny->doors[gate].outside = true;
    tiny_starts_set(tiny, 0, SITE_MODE_FULL);
    tiny_opens(tiny, baker, 0, 90, front);
    tiny_unsets(tiny, baker, 17, 33);
    tiny_opens(tiny, vendor, 0, 50, gate); /* so that hers is the longer story */
    tiny_opens(tiny, vendor, 0, 90, front);
    tiny_unsets(tiny, vendor, 100, 200);
    const struct proof_answer answer = tiny_ask(tiny, NULL);
    assert_true(answer.has_range);
    assert_int_equal(answer.routine.steps[answer.probed_step].who, baker);
    assert_int_equal(answer.can.count, 1);
    assert_int_equal(answer.can.interval[0].low_s, 27);
    assert_int_equal(answer.can.interval[0].high_s, 33);
    assert_int_equal(answer.always_when.count, 0);
}

/* What breaks after the code was keyed in time, by another cause, does not make the code a late one. */
static void what_breaks_after_is_no_part_of_a_range(void **state) {
    struct tiny *tiny = *state;
    const int contact = tiny_profile(tiny, SITE_CONTACT);
    const int front = tiny_door(tiny);
    const int cellar = tiny_door(tiny);
    tiny_zone(tiny, SITE_ENTRY, front, contact);
    tiny_zone(tiny, SITE_ALWAYS, cellar, contact);
    tiny_person(tiny, 1);
    tiny_starts_set(tiny, 0, SITE_MODE_FULL);
    tiny_opens(tiny, 0, 0, 0, front);
    tiny_unsets(tiny, 0, 20, 40);
    tiny_opens(tiny, 0, 5, 5, cellar)->maybe = true;
    const struct proof_answer answer = tiny_ask(tiny, NULL);
    assert_true(answer.has_range);
    assert_int_equal(answer.can.count, 1);
    assert_int_equal(answer.can.interval[0].low_s, 27);
    assert_int_equal(answer.can.interval[0].high_s, 40);
    assert_int_equal(answer.always_when.count, 1);
    assert_int_equal(answer.always_when.interval[0].low_s, 34);
}

/* A window of somebody else, opened while the entry time ran, does not make the code a late one. */
static void what_breaks_within_by_another_cause_is_no_part_of_a_range(void **state) {
    struct tiny *tiny = *state;
    const int contact = tiny_profile(tiny, SITE_CONTACT);
    const int front = tiny_door(tiny);
    const int window = tiny_door(tiny);
    tiny_zone(tiny, SITE_ENTRY, front, contact);
    tiny_zone(tiny, SITE_PERIMETER, window, contact);
    tiny_person(tiny, 1);
    tiny_person(tiny, 1);
    tiny_starts_set(tiny, 0, SITE_MODE_FULL);
    tiny_opens(tiny, 0, 0, 0, front);
    tiny_unsets(tiny, 0, 10, 40);
    struct site_step *opens = tiny_opens(tiny, 1, 5, 5, window);
    opens->after_step = 0;
    opens->if_sign = SITE_SIGN_SIREN;
    opens->if_not = true;
    opens->maybe = true;
    const struct proof_answer answer = tiny_ask(tiny, NULL);
    if (answer.has_range) {
        assert_int_equal(answer.can.interval[0].low_s, 27);
        assert_int_equal(answer.can.interval[0].high_s, 40);
    }
}

/* The panel hears of the hall a while after it was walked: the act lies in the range, though the siren is later. */
static void a_range_lasts_until_the_panel_has_heard(void **state) {
    struct tiny *tiny = *state;
    const int motion = tiny_profile(tiny, SITE_MOTION);
    tiny_zone(tiny, SITE_ENTRY, tiny_door(tiny), tiny_profile(tiny, SITE_CONTACT));
    const int hall = tiny_zone(tiny, SITE_INTERIOR, SITE_NONE, motion);
    tiny->profiles[motion].latency = span_of(0, 2);
    tiny_person(tiny, 1);
    tiny_person(tiny, 1);
    tiny_sets(tiny, 0, 0, 0, SITE_MODE_FULL);
    tiny_passes(tiny, 1, 40, 80, hall)->after_step = 0;
    const struct proof_answer answer = tiny_ask(tiny, NULL);
    assert_int_equal(answer.promise, PROOF_SIREN);
    assert_true(answer.has_range);
    assert_int_equal(answer.probed_step, 1);
    assert_int_equal(answer.can.interval[0].low_s, 52); /* heard 2 s later, at 54 s */
    assert_int_equal(answer.can.interval[0].high_s, 80);
    assert_int_equal(answer.always_when.interval[0].low_s, 67);
}

/* Nobody was seen leaving in time: from the request to the door that somebody leaves by, not to one that tells
 * the panel nothing of that. Where nobody leaves at all, there is no interval. */
static void whoever_leaves_too_late_has_a_range(void **state) {
    struct tiny *tiny = *state;
    const int contact = tiny_profile(tiny, SITE_CONTACT);
    const int front = tiny_door(tiny);
    const int window = tiny_door(tiny);
    tiny_zone(tiny, SITE_ENTRY, front, contact);
    tiny_zone(tiny, SITE_PERIMETER, window, contact);
    tiny->zones[1].in[SITE_MODE_FULL] = SITE_OUT;
    tiny->zones[1].in[SITE_MODE_PART] = SITE_OUT;
    tiny->site.settings.drop_to_part = true;
    tiny_person(tiny, 1);
    tiny_sets(tiny, 0, 0, 0, SITE_MODE_FULL);
    tiny_opens(tiny, 0, 40, 80, window);
    tiny_opens(tiny, 0, 0, 0, front);
    tiny_unsets(tiny, 0, 0, 0);
    const struct proof_answer answer = tiny_ask(tiny, NULL);
    assert_int_equal(answer.promise, PROOF_DROPPED);
    assert_true(answer.has_range);
    assert_int_equal(panel_timer_kind_of(answer.probed_timer), PANEL_TIMER_EXIT);
    assert_int_equal(answer.probed_step, 2);
    assert_int_equal(answer.can.interval[0].low_s, 54);
    assert_int_equal(answer.can.interval[0].high_s, 80);
    assert_int_equal(answer.always_when.interval[0].low_s, 67);
    tiny_again(tiny);
    tiny_sets(tiny, 0, 0, 0, SITE_MODE_FULL);
    tiny_opens(tiny, 0, 40, 80, window);
    const struct proof_answer nobody = tiny_ask(tiny, NULL);
    assert_int_equal(nobody.promise, PROOF_DROPPED);
    assert_false(nobody.has_range);
}

/* An act before the timer was started ends no interval. */
static void no_interval_runs_backward(void **state) {
    struct tiny *tiny = *state;
    tiny_zone(tiny, SITE_ENTRY, tiny_door(tiny), tiny_profile(tiny, SITE_CONTACT));
    const int hall = tiny_zone(tiny, SITE_INTERIOR, SITE_NONE, tiny_profile(tiny, SITE_MOTION));
    for (int i = 0; i < 3; i++) {
        tiny_person(tiny, 1);
    }
    tiny_sets(tiny, 0, 30, 30, SITE_MODE_FULL);
    tiny_passes(tiny, 1, 0, 120, hall);
    tiny_passes(tiny, 2, 300, 300, hall)->maybe = true;
    const struct proof_answer answer = tiny_ask(tiny, NULL);
    assert_true(answer.has_range);
    assert_int_equal(answer.probed_step, 1);
    assert_true(answer.can.interval[0].low_s >= 0);
}

/* A probe that could not look at every run says neither "can" nor "always". */
static void a_probe_that_is_cut_short_claims_nothing(void **state) {
    struct tiny *tiny = *state;
    size_t settled = 0;
    write_return(tiny, 20, 40);
    /* it goes well only a while later: sets again and leaves */
    tiny_sets(tiny, 0, 5, 10, SITE_MODE_FULL);
    tiny_opens(tiny, 0, 5, 10, 0);
    tiny_closes(tiny, 0, 5, 10, 0);
    for (size_t limit = 1; limit < 20; limit++) {
        const struct proof_options scarce = {.class_limit = limit};
        const struct proof_answer answer = tiny_ask(tiny, &scarce);
        settled += answer.verdict == PROOF_GOES_WRONG;
        assert_false(answer.always);
        if (answer.has_range) {
            assert_int_equal(answer.can.interval[0].low_s, 27);
            assert_int_equal(answer.can.interval[0].high_s, 40);
            assert_int_equal(answer.always_when.interval[0].low_s, 34);
        }
    }
    assert_true(settled > 0);
}

static void assert_margin(
        struct tiny *tiny, enum panel_timer_kind kind, int32_t margin_s, int32_t deadline_s) {
    const struct proof_answer answer = tiny_ask(tiny, NULL);
    assert_int_equal(answer.verdict, PROOF_GOES_WELL);
    assert_true(answer.has_margin);
    assert_int_equal(panel_timer_kind_of(answer.margin_timer), kind);
    assert_int_equal(answer.margin_s, margin_s);
    assert_int_equal(answer.margin_deadline_s, deadline_s);
    for (int32_t less_s = 0; less_s <= margin_s; less_s++) {
        struct proof_options shorter = {.no_margin = true, .no_range = true};
        shorter.shift_s[kind] = less_s;
        assert_int_equal(tiny_verdict(tiny, &shorter),
                less_s < margin_s ? PROOF_GOES_WELL : PROOF_GOES_WRONG);
    }
}

static void a_margin_holds_less_one_and_fails_at_a_tie(void **state) {
    struct tiny *tiny = *state;
    write_return(tiny, 10, 22);
    assert_margin(tiny, PANEL_TIMER_ENTRY, 5, 27); /* 27 - 22: a tie is a failure */
    write_return(tiny, 26, 26);
    assert_margin(tiny, PANEL_TIMER_ENTRY, 1, 27);
    tiny->site.settings.tolerance_tenths = 0;
    assert_margin(tiny, PANEL_TIMER_ENTRY, 4, 30);
}

/* Leaving by the front door: it must be closed when the exit time ends. */
static void the_margin_is_the_least_of_several_timers(void **state) {
    struct tiny *tiny = *state;
    tiny_zone(tiny, SITE_ENTRY, tiny_door(tiny), tiny_profile(tiny, SITE_CONTACT));
    tiny_person(tiny, 1);
    tiny_sets(tiny, 0, 0, 0, SITE_MODE_FULL);
    tiny_opens(tiny, 0, 10, 30, 0);
    tiny_closes(tiny, 0, 1, 15, 0);
    assert_margin(tiny, PANEL_TIMER_EXIT, 9, 54); /* 54 - 45 */
    tiny_opens(tiny, 0, 3600, 3600, 0);
    tiny_unsets(tiny, 0, 10, 20);
    assert_margin(tiny, PANEL_TIMER_ENTRY, 7, 27);
    tiny->steps[0][4].in = span_of(10, 16);
    assert_margin(tiny, PANEL_TIMER_EXIT, 9, 54);
}

/* Two areas with delays of their own: the deadline is that of the timer that is too short. */
static void the_margin_names_the_deadline_that_is_tight(void **state) {
    struct tiny *tiny = *state;
    const int contact = tiny_profile(tiny, SITE_CONTACT);
    const int front = tiny_door(tiny);
    const int shop = tiny_door(tiny);
    tiny->site.area_count = 2;
    tiny->site.settings.delays[1] = (struct site_delay){.name = text_of("shop"), .seconds_s = 100};
    tiny->site.settings.delay_count = 2;
    tiny_zone(tiny, SITE_ENTRY, front, contact);
    tiny_zone(tiny, SITE_ENTRY, shop, contact);
    tiny->zones[1].area = 1;
    tiny->zones[1].delay[0] = 1;
    tiny_person(tiny, 3);
    tiny_starts_set(tiny, 0, SITE_MODE_FULL);
    tiny_starts_set(tiny, 1, SITE_MODE_FULL);
    tiny_opens(tiny, 0, 0, 0, front);
    tiny_opens(tiny, 0, 5, 5, shop);
    tiny_unsets(tiny, 0, 10, 15); /* 20 s after the front door: 27 - 20 */
    assert_margin(tiny, PANEL_TIMER_ENTRY, 7, 27);
}

/* The siren is announced, an alarm signal is not: the abort window is what is raced against. */
static void the_abort_window_has_a_margin(void **state) {
    struct tiny *tiny = *state;
    tiny_zone(tiny, SITE_INTERIOR, SITE_NONE, tiny_profile(tiny, SITE_MOTION));
    tiny_person(tiny, 1);
    tiny->routines[0].expects = SITE_EXPECT_SIREN;
    tiny_starts_set(tiny, 0, SITE_MODE_FULL);
    tiny_passes(tiny, 0, 0, 5, 0);
    tiny_unsets(tiny, 0, 10, 17);
    assert_margin(tiny, PANEL_TIMER_ABORT, 10, 27);
    tiny->steps[0][1].in = span_of(10, 27);
    assert_breaks(tiny, PROOF_ALARM);
}

static void no_margin_where_no_timer_hurts(void **state) {
    struct tiny *tiny = *state;
    tiny_zone(tiny, SITE_ENTRY, tiny_door(tiny), tiny_profile(tiny, SITE_CONTACT));
    tiny_person(tiny, 1);
    tiny_opens(tiny, 0, 0, 100, 0);
    tiny_closes(tiny, 0, 0, 100, 0);
    const struct proof_answer answer = tiny_ask(tiny, NULL);
    assert_int_equal(answer.verdict, PROOF_GOES_WELL);
    assert_false(answer.has_margin);
}

static void a_story_is_short_and_its_last_event_bad(void **state) {
    struct tiny *tiny = *state;
    write_return(tiny, 20, 40);
    const struct proof_answer answer = tiny_ask(tiny, NULL);
    size_t bad = 0;
    size_t acts = 0;
    int32_t bad_at_s = -1;
    for (size_t i = 0; i < answer.story_count; i++) {
        const struct proof_line *line = &answer.story[i];
        assert_true(i == 0 || line->at_s >= answer.story[i - 1].at_s);
        bad += line->bad;
        acts += line->kind == PROOF_LINE_ACT;
        bad_at_s = line->bad ? line->at_s : bad_at_s;
    }
    assert_int_equal(bad, 1);
    assert_int_equal(acts, 1);      /* the opening; the siren does not wait for the code */
    assert_int_equal(bad_at_s, 30); /* opened at 0 s, a true clock */
    assert_int_equal(answer.story[answer.story_count - 1].at_s, bad_at_s);
}

/* Supervision runs for hours; a story does not begin with it. */
static void a_story_leaves_out_timers_that_no_promise_reads(void **state) {
    struct tiny *tiny = *state;
    write_return(tiny, 20, 40);
    tiny->zones[0].supervised = true;
    const struct proof_answer answer = tiny_ask(tiny, NULL);
    for (size_t i = 0; i < answer.story_count; i++) {
        const struct proof_line *line = &answer.story[i];
        if (line->kind == PROOF_LINE_OUTPUT && line->output.kind == PANEL_OUT_START) {
            assert_int_not_equal(panel_timer_kind_of(line->output.timer), PANEL_TIMER_SUPERVISION);
        }
    }
    assert_int_equal(answer.story[0].kind, PROOF_LINE_ACT);
}

/* A hundred contacts on one door: a story of tens of thousands of lines is told to its end. */
static void a_long_story_is_told_whole(void **state) {
    enum { CONTACTS = 100, TIMES = 30 };
    struct tiny *tiny = *state;
    const int contact = tiny_profile(tiny, SITE_CONTACT);
    const int front = tiny_door(tiny);
    const int window = tiny_door(tiny);
    const int first = tiny_zone(tiny, SITE_ENTRY, front, contact);
    const int last = tiny_zone(tiny, SITE_ALWAYS, window, contact);
    struct site_device devices[CONTACTS];
    struct site_zone zones[CONTACTS];
    tiny_person(tiny, 1);
    for (int i = 0; i < CONTACTS; i++) {
        devices[i] = tiny->devices[i == 0 ? last : first];
        zones[i] = tiny->zones[i == 0 ? last : first];
        zones[i].device = i;
    }
    tiny->site.devices = devices;
    tiny->site.zones = zones;
    tiny->site.device_count = CONTACTS;
    tiny->site.zone_count = CONTACTS;
    for (int i = 0; i < TIMES; i++) {
        tiny_opens(tiny, 0, 1, 1, front);
        tiny_closes(tiny, 0, 1, 1, front);
    }
    tiny_opens(tiny, 0, 1, 1, window);
    const struct proof_options no_range = {.no_range = true};
    const struct proof_answer answer = tiny_ask(tiny, &no_range);
    assert_int_equal(answer.verdict, PROOF_GOES_WRONG);
    assert_true(answer.story_count > (size_t)CONTACTS * TIMES * 2);
    assert_int_equal(answer.story[answer.story_count - 1].at_s, 2 * TIMES + 1);
}

static void a_bound_that_is_hit_claims_nothing(void **state) {
    struct tiny *tiny = *state;
    write_return(tiny, 10, 20);
    const struct proof_options one = {.class_limit = 1};
    const struct proof_answer answer = tiny_ask(tiny, &one);
    assert_int_equal(answer.verdict, PROOF_NOT_SETTLED);
    assert_int_equal(answer.reason, EXPLORE_CLASS_LIMIT);
    assert_false(answer.has_margin);
    assert_false(answer.has_range);
    assert_false(answer.always);
}

/* Four people with eight steps each and windows an hour wide: settled at once. */
static void four_people_with_hour_wide_windows(void **state) {
    struct tiny *tiny = *state;
    const int contact = tiny_profile(tiny, SITE_CONTACT);
    const int motion = tiny_profile(tiny, SITE_MOTION);
    const int front = tiny_door(tiny);
    const int side = tiny_door(tiny);
    tiny_zone(tiny, SITE_ENTRY, front, contact);
    tiny_zone(tiny, SITE_ENTRY, side, contact);
    tiny_zone(tiny, SITE_FOLLOWER, SITE_NONE, motion);
    tiny_starts_set(tiny, 0, SITE_MODE_FULL);
    for (int who = 0; who < 4; who++) {
        const int door = who % 2 == 0 ? front : side;
        tiny_person(tiny, 1);
        tiny_opens(tiny, who, 0, 3600, door);
        tiny_closes(tiny, who, 1, 3, door);
        tiny_passes(tiny, who, 1, 3, 2);
        tiny_unsets(tiny, who, 2, 9);
        tiny_passes(tiny, who, 0, 3600, 2);
        tiny_opens(tiny, who, 0, 3600, door);
        tiny_closes(tiny, who, 1, 3600, door);
        tiny_passes(tiny, who, 0, 3600, 2);
    }
    const struct proof_answer answer = tiny_ask(tiny, NULL);
    assert_int_equal(answer.verdict, PROOF_GOES_WELL);
    print_message("# %zu classes, margin %d s\n", answer.classes, answer.margin_s);
    tiny->steps[0][3].in = span_of(2, 27);
    assert_breaks(tiny, PROOF_SIREN);
}

#define WITH_A_HOUSE(test) cmocka_unit_test_setup_teardown(test, tiny_setup, tiny_teardown)

int main(void) {
    const struct CMUnitTest tests[] = {
            WITH_A_HOUSE(a_delay_of_30_s_within_ten_percent),
            WITH_A_HOUSE(a_delay_of_30_s_by_a_true_clock),
            WITH_A_HOUSE(a_range_is_true_at_its_ends_and_false_beside_them),
            WITH_A_HOUSE(an_act_after_the_end_is_probed_too),
            WITH_A_HOUSE(a_range_counts_from_the_start_that_decided),
            WITH_A_HOUSE(a_range_needs_its_beginning),
            WITH_A_HOUSE(the_late_act_is_that_of_the_person_who_came_in),
            WITH_A_HOUSE(what_broke_before_is_no_part_of_a_range),
            WITH_A_HOUSE(a_range_counts_from_the_same_persons_start),
            WITH_A_HOUSE(what_breaks_after_is_no_part_of_a_range),
            WITH_A_HOUSE(what_breaks_within_by_another_cause_is_no_part_of_a_range),
            WITH_A_HOUSE(a_range_lasts_until_the_panel_has_heard),
            WITH_A_HOUSE(whoever_leaves_too_late_has_a_range),
            WITH_A_HOUSE(the_probed_timer_is_one_whose_end_hurts),
            WITH_A_HOUSE(what_was_not_under_way_is_not_probed),
            WITH_A_HOUSE(the_late_code_is_one_that_acts_there),
            WITH_A_HOUSE(always_looks_at_every_good_end),
            WITH_A_HOUSE(can_looks_at_every_bad_run),
            WITH_A_HOUSE(no_interval_runs_backward),
            WITH_A_HOUSE(a_probe_that_is_cut_short_claims_nothing),
            WITH_A_HOUSE(a_margin_holds_less_one_and_fails_at_a_tie),
            WITH_A_HOUSE(the_margin_is_the_least_of_several_timers),
            WITH_A_HOUSE(the_margin_names_the_deadline_that_is_tight),
            WITH_A_HOUSE(the_abort_window_has_a_margin),
            WITH_A_HOUSE(no_margin_where_no_timer_hurts),
            WITH_A_HOUSE(a_story_is_short_and_its_last_event_bad),
            WITH_A_HOUSE(a_story_leaves_out_timers_that_no_promise_reads),
            WITH_A_HOUSE(a_long_story_is_told_whole),
            WITH_A_HOUSE(a_bound_that_is_hit_claims_nothing),
            WITH_A_HOUSE(four_people_with_hour_wide_windows),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
