/* What breaks which promise, what excuses it, and the ways a panel sets and unsets besides the code: fob,
 * calendar, common area, duress, mains. Common practice throughout. */
#include "tiny_house.h"

enum { NOON_S = 43200, SIX_S = 64800, MINUTE_S = 60 };

/* Breaks `promise` as it is, and goes well once `expects` is announced. */
static void assert_excused_by(struct tiny *tiny, enum proof_promise promise, uint32_t expects) {
    const uint32_t already = tiny->routines[0].expects;
    assert_breaks(tiny, promise);
    tiny->routines[0].expects = already | expects;
    const enum proof_promise then = tiny_promise(tiny);
    tiny->routines[0].expects = already;
    assert_int_not_equal(then, promise);
}

static void build(struct tiny *tiny) {
    const int contact = tiny_profile(tiny, SITE_CONTACT);
    const int front = tiny_door(tiny);
    const int window = tiny_door(tiny);
    tiny_zone(tiny, SITE_ENTRY, front, contact);
    tiny_zone(tiny, SITE_PERIMETER, window, contact);
    tiny_person(tiny, 1);
    tiny_person(tiny, 1);
}

static void a_siren_then_an_alarm(void **state) {
    struct tiny *tiny = *state;
    build(tiny);
    tiny_starts_set(tiny, 0, SITE_MODE_FULL);
    tiny_opens(tiny, 0, 0, 0, 1);
    assert_excused_by(tiny, PROOF_SIREN, SITE_EXPECT_SIREN);
    tiny->routines[0].expects = SITE_EXPECT_SIREN;
    assert_excused_by(tiny, PROOF_ALARM, SITE_EXPECT_ALARM);
    tiny->routines[0].expects = SITE_EXPECT_SIREN | SITE_EXPECT_ALARM;
    assert_goes_well(tiny);
    /* a zone that does not report sounds all the same */
    tiny->routines[0].expects = SITE_EXPECT_SIREN;
    tiny->zones[1].reports = false;
    assert_goes_well(tiny);
    tiny->routines[0].expects = SITE_EXPECT_ALARM;
    assert_breaks(tiny, PROOF_SIREN);
}

/* A 24-hour zone alarms while all is unset; its report waits for the abort window, longer than the siren here. */
static void an_alarm_while_unset_takes_its_course(void **state) {
    struct tiny *tiny = *state;
    build(tiny);
    const int window = tiny_door(tiny);
    tiny_zone(tiny, SITE_ALWAYS, window, 0);
    tiny->site.settings.siren_time_s = 10;
    tiny->site.settings.abort_window_s = 30;
    tiny_opens(tiny, 0, 0, 10, window);
    assert_breaks(tiny, PROOF_SIREN);
    tiny->routines[0].expects = SITE_EXPECT_SIREN;
    assert_breaks(tiny, PROOF_ALARM);
    tiny_unsets(tiny, 0, 15, 26);
    assert_goes_well(tiny);
}

static void a_hold_up_and_a_medical_button(void **state) {
    struct tiny *tiny = *state;
    build(tiny);
    const int button = tiny_profile(tiny, SITE_BUTTON);
    const int till = tiny_zone(tiny, SITE_HOLD_UP, SITE_NONE, button);
    const int bed = tiny_zone(tiny, SITE_MEDICAL, SITE_NONE, button);
    struct site_step *presses = tiny_step(tiny, 0, 0, 10, SITE_ACT_PRESS);
    presses->zone = till;
    tiny->site.settings.silent_hold_up = true;
    assert_excused_by(tiny, PROOF_HOLD_UP, SITE_EXPECT_HOLD_UP);
    tiny->routines[0].expects = SITE_EXPECT_HOLD_UP;
    assert_goes_well(tiny);
    /* its own siren belongs to it; that of another button does not */
    tiny->site.settings.silent_hold_up = false;
    assert_goes_well(tiny);
    tiny->routines[0].expects = SITE_EXPECT_HOLD_UP | SITE_EXPECT_ALARM;
    tiny->zones[till].behaviour = SITE_FIRE;
    for (size_t mode = 0; mode < SITE_MODE_MAX; mode++) {
        tiny->zones[till].in[mode] = SITE_FIRE;
    }
    assert_breaks(tiny, PROOF_SIREN);
    tiny->zones[till].behaviour = SITE_HOLD_UP;
    for (size_t mode = 0; mode < SITE_MODE_MAX; mode++) {
        tiny->zones[till].in[mode] = SITE_HOLD_UP;
    }
    tiny->routines[0].expects = 0;
    presses->zone = bed;
    assert_excused_by(tiny, PROOF_ALARM, SITE_EXPECT_ALARM);
    /* a hold-up is to be reset before setting */
    presses->zone = till;
    tiny->site.settings.silent_hold_up = true;
    tiny->routines[0].expects = SITE_EXPECT_HOLD_UP;
    tiny_sets(tiny, 0, 5, 5, SITE_MODE_FULL);
    assert_excused_by(tiny, PROOF_REFUSED, SITE_EXPECT_REFUSED);
}

/* Duress unsets normally and signals silently. */
static void duress_at_opening(void **state) {
    struct tiny *tiny = *state;
    build(tiny);
    tiny->people[1].duress = true;
    tiny_starts_set(tiny, 0, SITE_MODE_FULL);
    tiny_opens(tiny, 1, 0, 0, 0);
    tiny_unsets(tiny, 1, 5, 15);
    assert_excused_by(tiny, PROOF_DURESS, SITE_EXPECT_DURESS);
    tiny->routines[0].expects = SITE_EXPECT_DURESS;
    assert_goes_well(tiny);
    tiny->steps[0][1].in = span_of(5, 27);
    assert_breaks(tiny, PROOF_SIREN);
    /* the code is no harmless step of an unset house either */
    tiny_again(tiny);
    tiny_unsets(tiny, 1, 5, 15);
    assert_breaks(tiny, PROOF_DURESS);
}

static void troubles(void **state) {
    struct tiny *tiny = *state;
    build(tiny);
    const int window = tiny_door(tiny);
    const int day = tiny_zone(tiny, SITE_DAY, window, 0);
    tiny_opens(tiny, 0, 0, 10, window);
    assert_excused_by(tiny, PROOF_TROUBLE, SITE_EXPECT_TROUBLE);
    (void)day;
    tiny_again(tiny);
    struct site_step *tampers = tiny_step(tiny, 0, 0, 10, SITE_ACT_TAMPER);
    tampers->zone = 1;
    assert_excused_by(tiny, PROOF_TROUBLE, SITE_EXPECT_TROUBLE);
    tiny->routines[0].expects = SITE_EXPECT_TROUBLE;
    assert_goes_well(tiny);
    tiny_again(tiny);
    tiny->site.settings.lockout_tries = 2;
    for (int i = 0; i < 2; i++) {
        tiny_step(tiny, 0, 1, 2, SITE_ACT_MISTYPE);
    }
    assert_excused_by(tiny, PROOF_TROUBLE, SITE_EXPECT_TROUBLE);
    tiny->routines[0].expects = SITE_EXPECT_TROUBLE;
    tiny_unsets(tiny, 0, 1, 200); /* the keypad is locked for 81..99 s */
    const struct proof_answer locked = tiny_ask(tiny, NULL);
    assert_int_equal(locked.promise, PROOF_TURNED_AWAY);
    assert_false(locked.always);
    tiny->steps[0][2].in = span_of(100, 200);
    assert_goes_well(tiny);
    tiny->steps[0][2].in = span_of(1, 80);
    assert_true(tiny_ask(tiny, NULL).always);
}

static void a_mains_outage(void **state) {
    struct tiny *tiny = *state;
    build(tiny);
    tiny->site.settings.mains_delay_s = 600;
    tiny_step(tiny, 0, 0, 0, SITE_ACT_MAINS_LOST);
    tiny_step(tiny, 0, 100, 200, SITE_ACT_MAINS_BACK);
    assert_excused_by(tiny, PROOF_TROUBLE, SITE_EXPECT_TROUBLE);
    tiny->routines[0].expects = SITE_EXPECT_TROUBLE;
    assert_goes_well(tiny);
    /* setting with the mains lost: refused unless the panel ignores faults */
    tiny_again(tiny);
    tiny->routines[0].expects = SITE_EXPECT_TROUBLE;
    tiny_step(tiny, 0, 0, 0, SITE_ACT_MAINS_LOST);
    tiny_sets(tiny, 0, 5, 5, SITE_MODE_FULL);
    assert_breaks(tiny, PROOF_REFUSED);
    tiny->site.settings.faults = SITE_FAULT_IGNORE;
    assert_goes_well(tiny);
    tiny->site.settings.faults =
            SITE_FAULT_ACKNOWLEDGE; /* people acknowledge what the display shows, */
    assert_goes_well(tiny);
    tiny->people[0].stops_at_faults = true; /* unless they are known to stop at it */
    assert_breaks(tiny, PROOF_REFUSED);
}

static void an_exit_error_is_excused_as_such(void **state) {
    struct tiny *tiny = *state;
    build(tiny);
    tiny_sets(tiny, 0, 0, 0, SITE_MODE_FULL);
    tiny_opens(tiny, 0, 10, 10, 0);
    tiny_unsets(tiny, 0, 60, 70); /* comes back within the entry delay */
    assert_excused_by(tiny, PROOF_EXIT_ERROR, SITE_EXPECT_EXIT_ERROR);
    tiny->routines[0].expects = SITE_EXPECT_EXIT_ERROR;
    assert_goes_well(tiny);
    tiny->steps[0][2].in = span_of(200, 200);
    assert_breaks(tiny, PROOF_ALARM);
}

/* Off-route, en: an inside warning first, the outside siren and the report 30 s later. */
static void an_inside_warning(void **state) {
    struct tiny *tiny = *state;
    build(tiny);
    tiny->site.settings.off_route = SITE_OFF_ROUTE_EN;
    tiny_starts_set(tiny, 0, SITE_MODE_FULL);
    tiny_opens(tiny, 0, 0, 0, 0);
    tiny_opens(tiny, 0, 2, 2, 1);
    tiny_unsets(tiny, 0, 10, 10);
    assert_excused_by(tiny, PROOF_WARNING, SITE_EXPECT_SIREN);
    tiny->routines[0].expects = SITE_EXPECT_TROUBLE;
    assert_goes_well(tiny);
    tiny->steps[0][2].in = span_of(40, 40);
    assert_breaks(tiny, PROOF_SIREN);
}

/* ---- the calendar ------------------------------------------------------------------------------------------------ */

static struct site_step *stays(struct tiny *tiny, int32_t from_s, int32_t for_s) {
    struct site_step *comes = tiny_opens(tiny, 0, 0, 0, 0);
    comes->has_in = false;
    comes->has_at = true;
    comes->at = span_of(from_s, from_s);
    return tiny_opens(tiny, 0, for_s, for_s, 1);
}

static void auto_set_warns_and_sets(void **state) {
    struct tiny *tiny = *state;
    build(tiny);
    tiny->site.settings.auto_set_at_s = SIX_S;
    tiny->site.settings.auto_set_area = 0;
    tiny->site.settings.auto_warn_s = 600;
    tiny->site.settings.auto_postpone_s = 1800;
    tiny->site.settings.auto_postpone_count = 1;
    tiny->zones[0].in[SITE_MODE_FULL] = SITE_OUT;
    /* opens the window at 18:09:59, 18:10:00, 18:10:01; the calendar is exact */
    stays(tiny, NOON_S, SIX_S - NOON_S + 599);
    assert_goes_well(tiny);
    stays(tiny, NOON_S, 0);
    tiny_again(tiny);
    stays(tiny, NOON_S, SIX_S - NOON_S + 601);
    assert_breaks(tiny, PROOF_SIREN);
    assert_true(tiny_ask(tiny, NULL).always);
    tiny_again(tiny);
    stays(tiny, NOON_S, SIX_S - NOON_S + 600);
    assert_breaks(tiny, PROOF_SIREN); /* a tie */
    assert_false(tiny_ask(tiny, NULL).always);
    /* who hears the warning puts it off: warned again at 18:30 + what he took, set 10 min later */
    tiny_again(tiny);
    stays(tiny, NOON_S, 1)->act = SITE_ACT_WAIT;
    struct site_step *postpones = tiny_step(tiny, 0, 10, 60, SITE_ACT_POSTPONE);
    postpones->when = SITE_SIGN_WARNING;
    tiny_opens(tiny, 0, 2000, 2300, 1);
    const struct proof_answer postponed = tiny_ask(tiny, NULL);
    assert_int_equal(postponed.verdict, PROOF_GOES_WELL);
    tiny->steps[0][3].in = span_of(2000, 2400);
    assert_breaks(tiny, PROOF_SIREN);
    /* over before the calendar comes, it says nothing of it */
    tiny_again(tiny);
    stays(tiny, NOON_S, 10);
    assert_goes_well(tiny);
    /* a routine without a clock has no calendar */
    tiny_again(tiny);
    tiny_opens(tiny, 0, 90000, 90000, 1);
    assert_goes_well(tiny);
}

/* Who begins while the warning runs hears what is left of it: 18:00 and 600 s, begun at 18:04:00, sets at 18:10:00. */
static void the_auto_set_warning_may_run_already(void **state) {
    struct tiny *tiny = *state;
    build(tiny);
    tiny->site.settings.auto_set_at_s = SIX_S;
    tiny->site.settings.auto_set_area = 0;
    tiny->site.settings.auto_warn_s = 600;
    tiny->site.settings.auto_postpone_s = 1800;
    tiny->site.settings.auto_postpone_count = 1;
    tiny->zones[0].in[SITE_MODE_FULL] = SITE_OUT;
    stays(tiny, SIX_S + 240, 359);
    assert_goes_well(tiny);
    tiny_again(tiny);
    stays(tiny, SIX_S + 240, 361);
    assert_breaks(tiny, PROOF_SIREN);
    assert_true(tiny_ask(tiny, NULL).always);
    /* not before it and not at its end: set for long, or not asked yet */
    tiny_again(tiny);
    stays(tiny, SIX_S + 600, 3600);
    assert_goes_well(tiny);
    /* it is seen, and can be put off */
    tiny_again(tiny);
    stays(tiny, SIX_S + 240, 1)->act = SITE_ACT_WAIT;
    tiny_step(tiny, 0, 10, 60, SITE_ACT_POSTPONE)->when = SITE_SIGN_WARNING;
    tiny_opens(tiny, 0, 1000, 1500, 1);
    assert_goes_well(tiny);
}

/* The margin of a postponement is against the end of the warning. */
static void postponing_has_a_margin(void **state) {
    struct tiny *tiny = *state;
    build(tiny);
    tiny->site.settings.auto_set_at_s = SIX_S;
    tiny->site.settings.auto_set_area = 0;
    tiny->site.settings.auto_warn_s = 100;
    tiny->site.settings.auto_postpone_count = 1;
    stays(tiny, NOON_S, 1)->act = SITE_ACT_WAIT;
    tiny_step(tiny, 0, 10, 60, SITE_ACT_POSTPONE)->when = SITE_SIGN_WARNING;
    tiny_opens(tiny, 0, 60, 60, 1);
    tiny_closes(tiny, 0, 5, 5, 1);
    const struct proof_answer answer = tiny_ask(tiny, NULL);
    assert_int_equal(answer.verdict, PROOF_GOES_WELL);
    assert_true(answer.has_margin);
    assert_int_equal(panel_timer_kind_of(answer.margin_timer), PANEL_TIMER_AUTO_WARN);
    assert_int_equal(answer.margin_s, 40);
    assert_int_equal(answer.margin_deadline_s, 100); /* the calendar is exact */
}

static void auto_set_into_an_open_window(void **state) {
    struct tiny *tiny = *state;
    build(tiny);
    tiny->site.settings.auto_set_at_s = SIX_S;
    tiny->site.settings.auto_set_area = 0;
    tiny->site.settings.auto_warn_s = 60;
    tiny->site.settings.auto_open = SITE_AUTO_FAIL;
    stays(tiny, NOON_S, 10);
    tiny_step(tiny, 0, SIX_S, SIX_S, SITE_ACT_WAIT);
    assert_excused_by(tiny, PROOF_REFUSED, SITE_EXPECT_REFUSED);
    tiny->site.settings.auto_open = SITE_AUTO_FORCE;
    assert_goes_well(tiny);
    /* over before the calendar, though another area stays set for the night */
    tiny->site.settings.auto_open = SITE_AUTO_FAIL;
    tiny->site.area_count = 2;
    tiny_starts_set(tiny, 1, SITE_MODE_FULL);
    tiny->routines[0].starts[0].set = false;
    assert_breaks(tiny, PROOF_REFUSED);
    tiny->steps[0][2].in = span_of(10, 20);
    assert_goes_well(tiny);
}

/* ---- fob, areas ---- */

static void a_fob_sets_at_once_or_timed(void **state) {
    struct tiny *tiny = *state;
    build(tiny);
    struct site_step *sets = tiny_sets(tiny, 0, 0, 0, SITE_MODE_FULL);
    sets->use = SITE_USE_FOB;
    tiny_opens(tiny, 0, 10, 10, 0);
    tiny_closes(tiny, 0, 2, 2, 0);
    assert_breaks(tiny, PROOF_SIREN); /* entry starts, nobody unsets */
    tiny->site.settings.fob_way = SITE_FOB_TIMED;
    assert_goes_well(tiny);
    /* open windows: refused, or left out */
    tiny->routines[0].doors_open = 1U << 1;
    assert_breaks(tiny, PROOF_REFUSED);
    tiny->site.settings.fob_open = SITE_OPEN_FORCE;
    assert_goes_well(tiny);
}

static void two_areas(struct tiny *tiny) {
    build(tiny);
    tiny->site.area_count = 2;
    tiny->site.keypad_count = 2;
    tiny->zones[1].area = 1;
    tiny->people[0].areas = 3;
    tiny_starts_set(tiny, 0, SITE_MODE_FULL);
    tiny_starts_set(tiny, 1, SITE_MODE_FULL);
}

static void a_code_acts_where_it_is_keyed(void **state) {
    struct tiny *tiny = *state;
    two_areas(tiny);
    struct site_step *unsets = tiny_unsets(tiny, 0, 0, 5);
    unsets->keypad = 0;
    tiny_opens(tiny, 0, 1, 1, 1);
    assert_breaks(tiny, PROOF_SIREN); /* only the keypad's area */
    tiny->site.settings.code_acts = SITE_CODE_USER;
    assert_goes_well(tiny);
    unsets->areas = 1;
    assert_breaks(tiny, PROOF_SIREN);
    unsets->areas = 0;
    unsets->who = 1; /* his code is for the house alone */
    assert_breaks(tiny, PROOF_SIREN);
    unsets->areas = 2;
    assert_breaks(tiny, PROOF_TURNED_AWAY);
    /* nor is a code that is not taken harmless while all is unset */
    tiny_again(tiny);
    tiny->site.settings.code_acts = SITE_CODE_KEYPAD;
    tiny_unsets(tiny, 1, 0, 5)->keypad = 1;
    assert_breaks(tiny, PROOF_TURNED_AWAY);
    tiny->steps[0][0].keypad = 0;
    assert_goes_well(tiny);
}

/* A boundary door starts entry in every set area it serves. */
static void a_boundary_door_serves_both(void **state) {
    struct tiny *tiny = *state;
    two_areas(tiny);
    tiny->zones[0].serves = 2;
    tiny_opens(tiny, 0, 0, 0, 0);
    struct site_step *unsets = tiny_unsets(tiny, 0, 5, 10);
    unsets->keypad = 0;
    const struct proof_answer answer = tiny_ask(tiny, NULL);
    assert_int_equal(answer.promise, PROOF_SIREN);
    assert_int_equal(answer.culprit_zone, 0);
    assert_int_equal(answer.culprit_area, 1);
    struct site_step *second = tiny_unsets(tiny, 0, 5, 10);
    second->keypad = 1;
    assert_goes_well(tiny);
}

/* A common area sets when its last member has set and unsets with the first. */
static void a_common_area_follows_its_members(void **state) {
    struct tiny *tiny = *state;
    two_areas(tiny);
    tiny->site.area_count = 3;
    tiny->areas[2].common = true;
    const int stairs = tiny_zone(tiny, SITE_INTERIOR, SITE_NONE, tiny_profile(tiny, SITE_MOTION));
    tiny->zones[stairs].area = 2;
    tiny_starts_set(tiny, 2, SITE_MODE_FULL);
    tiny_passes(tiny, 1, 100, 100, stairs);
    assert_breaks(tiny, PROOF_SIREN);
    tiny_unsets(tiny, 0, 10, 20)->keypad = 0;
    assert_goes_well(tiny);
    /* one member sets again: the stairs stay unset; both: they set with the last one */
    struct site_step *sets = tiny_sets(tiny, 0, 5, 5, SITE_MODE_FULL);
    sets->use = SITE_USE_FOB;
    sets->areas = 1;
    assert_breaks(tiny, PROOF_SIREN); /* the shop was set all along */
    tiny->routines[0].starts[1].set = false;
    assert_goes_well(tiny);
}

static void too_many_people_are_refused(void **state) {
    struct tiny *tiny = *state;
    build(tiny);
    tiny->site.person_count = PROOF_ACTOR_MAX + 1;
    struct site_person people[PROOF_ACTOR_MAX + 1] = {0};
    struct proof_answer answer = {0};
    tiny->site.people = people;
    for (int who = 0; who < PROOF_ACTOR_MAX; who++) {
        tiny_step(tiny, who, 0, 0, SITE_ACT_WAIT);
    }
    assert_goes_well(tiny);
    tiny_step(tiny, PROOF_ACTOR_MAX, 0, 0, SITE_ACT_WAIT);
    assert_true(proof_unfold(&tiny->site, &tiny->routines[0], &tiny->routine, &tiny->problem).good);
    assert_false(proof_run(&tiny->site, NULL, &tiny->routine, NULL, tiny->arena.pages, &tiny->arena,
            &answer, &tiny->problem)
                         .good);
    assert_int_equal(tiny->problem.kind, PROBLEM_LIMIT);
    assert_non_null(strstr(tiny->problem.text, "16 people"));
}

#define WITH_A_HOUSE(test) cmocka_unit_test_setup_teardown(test, tiny_setup, tiny_teardown)

int main(void) {
    const struct CMUnitTest tests[] = {
            WITH_A_HOUSE(a_siren_then_an_alarm),
            WITH_A_HOUSE(an_alarm_while_unset_takes_its_course),
            WITH_A_HOUSE(a_hold_up_and_a_medical_button),
            WITH_A_HOUSE(duress_at_opening),
            WITH_A_HOUSE(troubles),
            WITH_A_HOUSE(a_mains_outage),
            WITH_A_HOUSE(an_exit_error_is_excused_as_such),
            WITH_A_HOUSE(an_inside_warning),
            WITH_A_HOUSE(auto_set_warns_and_sets),
            WITH_A_HOUSE(the_auto_set_warning_may_run_already),
            WITH_A_HOUSE(postponing_has_a_margin),
            WITH_A_HOUSE(auto_set_into_an_open_window),
            WITH_A_HOUSE(a_fob_sets_at_once_or_timed),
            WITH_A_HOUSE(a_code_acts_where_it_is_keyed),
            WITH_A_HOUSE(a_boundary_door_serves_both),
            WITH_A_HOUSE(a_common_area_follows_its_members),
            WITH_A_HOUSE(too_many_people_are_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
