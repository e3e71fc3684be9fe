/* Design page, "Faults": the path to the station. */
#include "scene.h"

enum { ABORT_S = 30, CANCEL_S = 300 };

static void loses_the_path(struct scene *s, int32_t instant_s) {
    at(s, instant_s), happens(s, PANEL_IN_PATH_LOST, ANY);
}

static void has_the_path_back(struct scene *s, int32_t instant_s) {
    at(s, instant_s), happens(s, PANEL_IN_PATH_BACK, ANY);
}

/* page: "Path down: trouble" */
static void path_down_is_trouble(struct scene *s) {
    loses_the_path(s, 10);
    expect_says(s, PANEL_SAYS_TROUBLE, ANY, 10);
    expect_tone(s, PANEL_TONE_TROUBLE, true, 10);
    has_the_path_back(s, 20);
    expect_tone(s, PANEL_TONE_TROUBLE, false, 20);
}

/* page: "signals queue": the loss of the path among them. */
static void the_loss_is_told_when_the_path_is_back(struct scene *s) {
    loses_the_path(s, 10);
    until(s, 99);
    expect_no_signal(s, EVENT_PATH);
    has_the_path_back(s, 100);
    expect_signal(s, EVENT_PATH, ANY, 100);
    expect_restore(s, EVENT_PATH, ANY, 100);
    expect_no_signal(s, EVENT_SIGNALS_LOST);
}

static void an_alarm_leaves_when_the_path_is_back(struct scene *s) {
    starts_set(s, HOME, FULL);
    loses_the_path(s, 10);
    at(s, 20), opens(s, WINDOW);
    expect_siren(s, 20, STILL);
    until(s, 150);
    expect_no_signal(s, EVENT_INTRUSION);
    has_the_path_back(s, 200);
    expect_signal(s, EVENT_INTRUSION, WINDOW, 200);
}

/* The path goes and comes back within the abort window: nothing waits for it. */
static void a_path_that_is_back_in_time(struct scene *s) {
    starts_set(s, HOME, FULL);
    at(s, 10), opens(s, WINDOW);
    loses_the_path(s, 20);
    has_the_path_back(s, 30);
    until(s, 39);
    expect_no_signal(s, EVENT_INTRUSION);
    until(s, 10 + ABORT_S);
    expect_signal(s, EVENT_INTRUSION, WINDOW, 10 + ABORT_S);
}

/* page: "Unset before its end: nothing is sent, the user is told so." */
static void unset_in_time_leaves_nothing_to_wait(struct scene *s) {
    starts_set(s, HOME, FULL);
    loses_the_path(s, 0);
    at(s, 10), opens(s, WINDOW);
    at(s, 20), closes(s, WINDOW), unsets(s, ANNA, ON_HOME);
    expect_says(s, PANEL_SAYS_NOTHING_SENT, ANY, 20);
    has_the_path_back(s, 100);
    expect_no_signal(s, EVENT_INTRUSION);
    expect_no_signal(s, EVENT_CANCEL);
    expect_signal(s, EVENT_UNSET, ANY, 100);
}

/* page: "After: sent; unset in the cancel window sends a cancel." What waits is as good as sent: both leave. */
static void a_cancel_waits_behind_its_alarm(struct scene *s) {
    static const struct sent_row order[] = {{EVENT_INTRUSION, WINDOW, true},
            {EVENT_CANCEL, ANY, true}, {EVENT_PATH, ANY, true}, {EVENT_UNSET, ANY, true},
            {EVENT_PATH, ANY, false}};
    starts_set(s, HOME, FULL);
    loses_the_path(s, 0);
    at(s, 10), opens(s, WINDOW);
    at(s, 100), unsets(s, ANNA, ON_HOME);
    expect_says(s, PANEL_SAYS_CANCEL_WAITS, ANY, 100);
    expect_never_says(s, PANEL_SAYS_CANCEL_SENT, ANY);
    expect_never_says(s, PANEL_SAYS_NOTHING_SENT, ANY);
    has_the_path_back(s, 200);
    expect_sent_in_order(s, 200, order, sizeof order / sizeof order[0]);
}

/* The cancel window begins when the report has left, not when it began to wait. */
static void cancel_window_begins_when_the_report_leaves(struct scene *s) {
    starts_set(s, HOME, FULL);
    loses_the_path(s, 0);
    at(s, 10), trips(s, WINDOW);
    has_the_path_back(s, 1000);
    expect_runs(s, PANEL_TIMER_CANCEL, HOME, CANCEL_S);
    at(s, 1000 + CANCEL_S - 1), unsets(s, ANNA, ON_HOME);
    expect_signal(s, EVENT_CANCEL, ANY, 1000 + CANCEL_S - 1);
    expect_says(s, PANEL_SAYS_CANCEL_SENT, ANY, 1000 + CANCEL_S - 1);
}

static void cancel_window_ends_as_ever(struct scene *s) {
    starts_set(s, HOME, FULL);
    loses_the_path(s, 0);
    at(s, 10), trips(s, WINDOW);
    has_the_path_back(s, 1000);
    at(s, 1000 + CANCEL_S + 1), unsets(s, ANNA, ON_HOME);
    expect_no_signal(s, EVENT_CANCEL);
}

/* A report that has left, and then the path goes: its cancel waits. */
static void a_cancel_alone_waits(struct scene *s) {
    starts_set(s, HOME, FULL);
    at(s, 10), trips(s, WINDOW);
    loses_the_path(s, 50);
    at(s, 60), unsets(s, ANNA, ON_HOME);
    expect_says(s, PANEL_SAYS_CANCEL_WAITS, ANY, 60);
    has_the_path_back(s, 100);
    expect_signal(s, EVENT_CANCEL, ANY, 100);
}

/* ---- the order ---- */

/* Whatever its class is, one of each of them. The safe is watched in every state. */
static void one_of_each(struct scene *s) {
    happens(s, PANEL_IN_BATTERY_LOW, ANY), happens(s, PANEL_IN_BATTERY_BACK, ANY);
    happens(s, PANEL_IN_TAMPER, LOUNGE), happens(s, PANEL_IN_TAMPER_BACK, LOUNGE);
    trips(s, SAFE);
    unsets(s, DORA, ON_HOME);
    trips(s, SMOKE);
}

static void with_every_signal_at_once(struct scene *s) {
    s->settings->abort_window_s = 0;
    s->settings->swinger_limit = 0;
    s->settings->faults = SITE_FAULT_IGNORE;
    s->settings->lone_cross_signal = true;
    s->settings->early_warning = true;
}

/* page: "signals queue in a stated order": life safety, hold-up and duress, intrusion with its cancel, tamper and
 * masking, the rest; within each in the order of making (common practice). */
static void the_urgent_leave_first(struct scene *s) {
    static const struct sent_row order[] = {{EVENT_FIRE, SMOKE, true}, {EVENT_FIRE, SMOKE, false},
            {EVENT_MEDICAL, AID, true}, {EVENT_MEDICAL, AID, false}, {EVENT_HOLD_UP, HOLD_UP, true},
            {EVENT_INTRUSION, SAFE, true}, {EVENT_INTRUSION, SAFE, false},
            {EVENT_TAMPER, LOUNGE, true}, {EVENT_MASKED, PANE, true}, {EVENT_PATH, ANY, true},
            {EVENT_FLOOD, WATER, true}, {EVENT_PANEL_BATTERY, ANY, true}, {EVENT_PATH, ANY, false}};
    with_every_signal_at_once(s);
    loses_the_path(s, 0);
    at(s, 10), opens(s, WATER), happens(s, PANEL_IN_TAMPER, LOUNGE);
    at(s, 20), trips(s, SAFE), happens(s, PANEL_IN_BATTERY_LOW, ANY);
    at(s, 30), trips(s, SMOKE), opens(s, HOLD_UP);
    at(s, 40), happens(s, PANEL_IN_MASKED, PANE), trips(s, AID);
    has_the_path_back(s, 50);
    expect_sent_in_order(s, 50, order, sizeof order / sizeof order[0]);
}

/* A restore stays behind its own alarm and before a later one: what the station reads last is so. */
static void restores_keep_their_place(struct scene *s) {
    static const struct sent_row order[] = {{EVENT_INTRUSION, SAFE, true},
            {EVENT_INTRUSION, SAFE, false}, {EVENT_INTRUSION, SAFE, true}, {EVENT_PATH, ANY, true},
            {EVENT_PATH, ANY, false}};
    with_every_signal_at_once(s);
    loses_the_path(s, 0);
    at(s, 10), trips(s, SAFE), opens(s, SAFE);
    has_the_path_back(s, 50);
    expect_sent_in_order(s, 50, order, sizeof order / sizeof order[0]);
}

static void a_cancel_stays_before_a_later_alarm(struct scene *s) {
    static const struct sent_row order[] = {{EVENT_INTRUSION, SAFE, true},
            {EVENT_INTRUSION, SAFE, false}, {EVENT_CANCEL, ANY, true},
            {EVENT_INTRUSION, SAFE, true}, {EVENT_INTRUSION, SAFE, false}, {EVENT_PATH, ANY, true},
            {EVENT_PATH, ANY, false}};
    with_every_signal_at_once(s);
    loses_the_path(s, 0);
    at(s, 10), trips(s, SAFE);
    at(s, 20), unsets(s, ANNA, ON_HOME);
    at(s, 30), trips(s, SAFE);
    has_the_path_back(s, 50);
    expect_sent_in_order(s, 50, order, sizeof order / sizeof order[0]);
}

static void life_safety_among_the_others(struct scene *s) {
    with_every_signal_at_once(s);
    loses_the_path(s, 0);
    at(s, 10), one_of_each(s);
    at(s, 20), trips(s, GAS), trips(s, CO), trips(s, AID);
    at(s, 30), one_of_each(s);
    has_the_path_back(s, 40);
    expect_first_sent(s, 40, EVENT_FIRE);
    expect_signals(s, EVENT_CO, CO, 1);
}

static void calls_for_help_among_the_others(struct scene *s) {
    with_every_signal_at_once(s);
    loses_the_path(s, 0);
    at(s, 10), one_of_each(s);
    at(s, 20), trips(s, WATER), trips(s, FROST), trips(s, HOLD_UP), unsets(s, DORA, ON_HOME);
    at(s, 30), one_of_each(s);
    has_the_path_back(s, 40);
    expect_signals(s, EVENT_DURESS, ANY, 3);
    expect_signals(s, EVENT_HOLD_UP, HOLD_UP, 1);
}

static void alarms_among_the_others(struct scene *s) {
    with_every_signal_at_once(s);
    crosses(s, LOUNGE, CUPBOARD);
    s->settings->confirm_window_s = 600;
    loses_the_path(s, 0);
    at(s, 10), one_of_each(s);
    at(s, 20), sets(s, ANNA, ON_HOME, FULL), trips(s, FRONT);
    until(s, 100);
    at(s, 110), trips(s, LOUNGE), trips(s, WINDOW), trips(s, SKYLIGHT);
    at(s, 120), trips(s, FRONT);
    at(s, 130), unsets(s, ANNA, ON_HOME);
    at(s, 140), one_of_each(s);
    has_the_path_back(s, 150);
    expect_signals(s, EVENT_UNVERIFIED, LOUNGE, 1);
    expect_signals(s, EVENT_CONFIRMED, SKYLIGHT, 1);
    expect_signals(s, EVENT_ENTRY_STARTED, FRONT, 1);
}

static void an_exit_error_among_the_others(struct scene *s) {
    with_every_signal_at_once(s);
    loses_the_path(s, 0);
    at(s, 10), one_of_each(s);
    at(s, 20), opens(s, FRONT), sets(s, ANNA, ON_HOME, FULL);
    until(s, 200);
    at(s, 210), closes(s, FRONT), unsets(s, ANNA, ON_HOME), one_of_each(s);
    has_the_path_back(s, 220);
    expect_signals(s, EVENT_EXIT_ERROR, FRONT, 1);
}

static void faults_among_the_others(struct scene *s) {
    with_every_signal_at_once(s);
    s->zones[PANE].supervised = true;
    s->settings->lockout_tries = 1;
    loses_the_path(s, 0);
    at(s, 10), one_of_each(s);
    at(s, 20), happens(s, PANEL_IN_MASKED, PANE), happens(s, PANEL_IN_LOW_BATTERY, PANE),
            happens(s, PANEL_IN_WRONG_CODE, ANY), happens(s, PANEL_IN_MAINS_LOST, ANY),
            happens(s, PANEL_IN_JAMMED, ANY), bypasses(s, ANNA, SKYLIGHT);
    until(s, 13 * 3600);
    at(s, 14 * 3600), one_of_each(s);
    has_the_path_back(s, 15 * 3600);
    expect_signals(s, EVENT_SUPERVISION, PANE, 1);
    expect_signals(s, EVENT_MAINS, ANY, 1);
    expect_signals(s, EVENT_LOCKOUT, ANY, 1);
}

static void settings_among_the_others(struct scene *s) {
    with_every_signal_at_once(s);
    loses_the_path(s, 0);
    at(s, 10), one_of_each(s);
    at(s, 20), sets(s, ANNA, ON_HOME, NIGHT), unsets(s, ANNA, ON_HOME);
    at(s, 30), opens(s, WINDOW), forces(s, ANNA, ON_HOME, NIGHT), unsets(s, ANNA, ON_HOME);
    at(s, 40), one_of_each(s);
    has_the_path_back(s, 50);
    expect_signals(s, EVENT_FORCED_SET, ANY, 1);
    expect_signals(s, EVENT_SET, ANY, 1);
}

static void a_failed_setting_among_the_others(struct scene *s) {
    with_every_signal_at_once(s);
    s->settings->exit_trip = SITE_EXIT_TRIP_STALLS;
    loses_the_path(s, 0);
    at(s, 10), one_of_each(s);
    at(s, 20), sets(s, ANNA, ON_HOME, FULL), trips(s, WINDOW);
    until(s, 100);
    at(s, 110), one_of_each(s);
    has_the_path_back(s, 120);
    expect_signals(s, EVENT_FAIL_TO_SET, ANY, 1);
}

/* ---- the bound ---- */

enum { LOSS_ITSELF = 1, FIT = PANEL_QUEUE_MAX - LOSS_ITSELF };

static void fill_the_queue(struct scene *s, size_t count) {
    for (size_t i = 0; i < count; i++) {
        bypasses(s, ANNA, SKYLIGHT);
    }
}

static void as_many_wait_as_fit(struct scene *s) {
    loses_the_path(s, 0);
    at(s, 10), fill_the_queue(s, FIT);
    has_the_path_back(s, 20);
    expect_signals(s, EVENT_BYPASS, SKYLIGHT, FIT);
    expect_no_signal(s, EVENT_SIGNALS_LOST);
}

/* What does not fit is lost, and that it was is told: once, after what waited. */
static void the_latest_of_the_least_urgent_is_lost(struct scene *s) {
    loses_the_path(s, 0);
    at(s, 10), fill_the_queue(s, FIT), bypasses(s, ANNA, PANE), bypasses(s, ANNA, PANE);
    has_the_path_back(s, 20);
    expect_signals(s, EVENT_BYPASS, SKYLIGHT, FIT);
    expect_signals(s, EVENT_BYPASS, PANE, 0);
    expect_signal(s, EVENT_SIGNALS_LOST, ANY, 20);
    loses_the_path(s, 30);
    has_the_path_back(s, 40);
    expect_signals(s, EVENT_SIGNALS_LOST, ANY, 1);
}

static void an_alarm_pushes_out_the_least_urgent(struct scene *s) {
    with_every_signal_at_once(s);
    loses_the_path(s, 0);
    at(s, 10), fill_the_queue(s, FIT - 1), bypasses(s, ANNA, PANE), opens(s, SAFE);
    has_the_path_back(s, 20);
    expect_signal(s, EVENT_INTRUSION, SAFE, 20);
    expect_signals(s, EVENT_BYPASS, SKYLIGHT, FIT - 1);
    expect_signals(s, EVENT_BYPASS, PANE, 0);
    expect_signal(s, EVENT_SIGNALS_LOST, ANY, 20);
}

/* A panel that keeps fewer loses sooner. Which number it can be is the panel's: common practice, some tens. */
static void fewer_wait_where_fewer_are_kept(struct scene *s) {
    s->settings->signals_kept = 3;
    loses_the_path(s, 0);
    at(s, 10), fill_the_queue(s, 2), bypasses(s, ANNA, PANE);
    has_the_path_back(s, 20);
    expect_signals(s, EVENT_BYPASS, SKYLIGHT, 2);
    expect_signals(s, EVENT_BYPASS, PANE, 0);
    expect_signals(s, EVENT_SIGNALS_LOST, ANY, 1);
}

static void none_waits_where_none_is_kept(struct scene *s) {
    s->settings->signals_kept = 0;
    with_every_signal_at_once(s);
    loses_the_path(s, 0);
    at(s, 10), opens(s, SAFE);
    has_the_path_back(s, 20);
    expect_signals(s, EVENT_INTRUSION, SAFE, 0);
    expect_signals(s, EVENT_PATH, ANY, 0);
    expect_signal(s, EVENT_SIGNALS_LOST, ANY, 20);
}

static void among_alarms_the_latest_is_lost(struct scene *s) {
    with_every_signal_at_once(s);
    loses_the_path(s, 0);
    for (int i = 0; i < PANEL_QUEUE_MAX / 2; i++) {
        at(s, 10 + i), trips(s, SAFE);
    }
    at(s, 100), opens(s, SAFE);
    has_the_path_back(s, 200);
    expect_signals(s, EVENT_INTRUSION, SAFE, PANEL_QUEUE_MAX / 2);
    expect_restores(s, EVENT_INTRUSION, SAFE, PANEL_QUEUE_MAX / 2);
    expect_signals(s, EVENT_PATH, ANY, 0);
    expect_signal(s, EVENT_SIGNALS_LOST, ANY, 200);
}

/* ---- with the power ---- */

/* What waits is not kept without power; that it was lost is. */
static void what_waits_is_lost_with_the_power(struct scene *s) {
    starts_set(s, HOME, FULL);
    loses_the_path(s, 0);
    at(s, 10), trips(s, WINDOW);
    at(s, 100), happens(s, PANEL_IN_POWER_LOST, ANY);
    at(s, 200), happens(s, PANEL_IN_POWER_BACK, ANY);
    has_the_path_back(s, 400);
    expect_no_signal(s, EVENT_INTRUSION);
    expect_signal(s, EVENT_SIGNALS_LOST, ANY, 400);
    expect_signals(s, EVENT_SIGNALS_LOST, ANY, 1);
}

static void a_path_that_is_back_before_the_power(struct scene *s) {
    loses_the_path(s, 0);
    at(s, 100), happens(s, PANEL_IN_POWER_LOST, ANY);
    has_the_path_back(s, 150);
    expect_no_signal(s, EVENT_SIGNALS_LOST);
    at(s, 200), happens(s, PANEL_IN_POWER_BACK, ANY);
    expect_signal(s, EVENT_SIGNALS_LOST, ANY, 200);
    at(s, 300), happens(s, PANEL_IN_BATTERY_LOW, ANY);
    expect_signal(s, EVENT_PANEL_BATTERY, ANY, 300);
}

static void a_path_that_goes_without_power(struct scene *s) {
    at(s, 100), happens(s, PANEL_IN_POWER_LOST, ANY);
    loses_the_path(s, 150);
    at(s, 200), happens(s, PANEL_IN_POWER_BACK, ANY);
    at(s, 300), happens(s, PANEL_IN_BATTERY_LOW, ANY);
    expect_no_signal(s, EVENT_PANEL_BATTERY);
    has_the_path_back(s, 400);
    expect_signal(s, EVENT_PANEL_BATTERY, ANY, 400);
    expect_no_signal(s, EVENT_SIGNALS_LOST);
}

/* ---- the siren's hold-back ---- */

enum { HOLD_BACK_S = 120, SIREN_S = 180 };

static void holds_the_siren_back(struct scene *s) {
    s->settings->siren_hold_back_s = HOLD_BACK_S;
    starts_set(s, HOME, FULL);
}

static void the_siren_is_held_back(struct scene *s) {
    holds_the_siren_back(s);
    at(s, 10), opens(s, WINDOW);
    expect_inside(s, true, 10);
    expect_runs(s, PANEL_TIMER_HOLD_BACK, HOME, HOLD_BACK_S);
    until(s, 129);
    expect_no_siren(s);
    expect_signal(s, EVENT_INTRUSION, WINDOW, 10 + ABORT_S); /* the report does not wait for it */
    until(s, 600);
    expect_siren(s, 10 + HOLD_BACK_S, 10 + HOLD_BACK_S + SIREN_S);
    expect_inside(s, false, 10 + HOLD_BACK_S + SIREN_S);
}

static void unset_before_the_siren(struct scene *s) {
    holds_the_siren_back(s);
    at(s, 10), opens(s, WINDOW);
    at(s, 20), closes(s, WINDOW), unsets(s, ANNA, ON_HOME);
    expect_inside(s, false, 20);
    expect_says(s, PANEL_SAYS_NOTHING_SENT, ANY, 20);
    until(s, 600);
    expect_no_siren(s);
}

/* page: "Path down: ... siren hold-back cancelled": one that waits sounds, and none begins to wait. */
static void path_down_cancels_the_wait(struct scene *s) {
    holds_the_siren_back(s);
    at(s, 10), opens(s, WINDOW);
    until(s, 49);
    expect_no_siren(s);
    loses_the_path(s, 50);
    until(s, 200);
    expect_siren(s, 50, STILL);
}

static void with_the_path_down_no_siren_waits(struct scene *s) {
    holds_the_siren_back(s);
    loses_the_path(s, 0);
    at(s, 10), opens(s, WINDOW);
    expect_siren(s, 10, STILL);
    expect_no_inside(s);
    has_the_path_back(s, 20);
    until(s, 100);
    expect_siren(s, 10, STILL);
}

static void with_the_path_back_it_waits_again(struct scene *s) {
    holds_the_siren_back(s);
    loses_the_path(s, 0);
    has_the_path_back(s, 5);
    at(s, 10), opens(s, WINDOW);
    until(s, 200);
    expect_siren(s, 10 + HOLD_BACK_S, STILL);
}

static void a_further_alarm_does_not_begin_the_wait_again(struct scene *s) {
    holds_the_siren_back(s);
    at(s, 10), opens(s, WINDOW);
    at(s, 100), opens(s, SKYLIGHT);
    until(s, 200);
    expect_siren(s, 10 + HOLD_BACK_S, STILL);
}

/* page: "the siren restarts only on a new trip", and that one waits too. */
static void the_next_siren_waits_too(struct scene *s) {
    holds_the_siren_back(s);
    at(s, 10), opens(s, WINDOW);
    at(s, 400), opens(s, SKYLIGHT);
    until(s, 600);
    expect_siren_starts(s, 400 + HOLD_BACK_S);
    expect_sirens(s, 2);
}

static void the_fire_pattern_does_not_wait(struct scene *s) {
    holds_the_siren_back(s);
    at(s, 10), opens(s, WINDOW);
    at(s, 20), opens(s, SMOKE);
    expect_sound(s, PANEL_FIRE_SOUND, HOME, 20);
    until(s, 600);
    expect_siren(s, 20, 20 + SIREN_S);
    expect_inside(s, false, 20 + SIREN_S);
}

static void a_hold_up_does_not_wait(struct scene *s) {
    holds_the_siren_back(s);
    at(s, 10), opens(s, HOLD_UP);
    expect_siren(s, 10, STILL);
}

/* page: "exit error (siren and its entry delay at once" */
static void an_exit_error_does_not_wait(struct scene *s) {
    s->settings->siren_hold_back_s = HOLD_BACK_S;
    at(s, 0), opens(s, FRONT), sets(s, ANNA, ON_HOME, FULL);
    until(s, 60);
    expect_siren(s, 60, STILL);
}

static void a_siren_for_the_panels_lid_waits(struct scene *s) {
    holds_the_siren_back(s);
    at(s, 10), happens(s, PANEL_IN_TAMPER, ANY);
    expect_inside(s, true, 10);
    until(s, 200);
    expect_siren(s, 10 + HOLD_BACK_S, STILL);
}

/* page: "en: warning, report 30 s later": the wait begins where the siren would have. */
static void the_european_course_waits_after_its_warning(struct scene *s) {
    holds_the_siren_back(s);
    s->settings->off_route = SITE_OFF_ROUTE_EN;
    at(s, 0), opens(s, FRONT);
    at(s, 10), opens(s, WINDOW);
    until(s, 300);
    expect_siren(s, 40 + HOLD_BACK_S, STILL);
}

/* page: "Changing mode is refused while entry or alarm runs" */
static void no_change_of_mode_while_a_siren_waits(struct scene *s) {
    s->settings->siren_hold_back_s = HOLD_BACK_S;
    s->zones[WINDOW].reports = false;
    starts_set(s, HOME, PART);
    at(s, 10), trips(s, WINDOW);
    at(s, 20), sets(s, ANNA, ON_HOME, FULL);
    expect_says(s, PANEL_SAYS_REFUSED, ANY, 20);
    expect_mode(s, HOME, PART);
}

static void no_siren_waits_without_power(struct scene *s) {
    holds_the_siren_back(s);
    at(s, 10), trips(s, WINDOW);
    at(s, 50), happens(s, PANEL_IN_POWER_LOST, ANY);
    at(s, 60), happens(s, PANEL_IN_POWER_BACK, ANY);
    until(s, 600);
    expect_no_siren(s);
}

static const struct scenario rows[] = {
        SCENARIO(path_down_is_trouble),
        SCENARIO(the_loss_is_told_when_the_path_is_back),
        SCENARIO(an_alarm_leaves_when_the_path_is_back),
        SCENARIO(a_path_that_is_back_in_time),
        SCENARIO(unset_in_time_leaves_nothing_to_wait),
        SCENARIO(a_cancel_waits_behind_its_alarm),
        SCENARIO(cancel_window_begins_when_the_report_leaves),
        SCENARIO(cancel_window_ends_as_ever),
        SCENARIO(a_cancel_alone_waits),
        SCENARIO(the_urgent_leave_first),
        SCENARIO(restores_keep_their_place),
        SCENARIO(a_cancel_stays_before_a_later_alarm),
        SCENARIO(life_safety_among_the_others),
        SCENARIO(calls_for_help_among_the_others),
        SCENARIO(alarms_among_the_others),
        SCENARIO(an_exit_error_among_the_others),
        SCENARIO(faults_among_the_others),
        SCENARIO(settings_among_the_others),
        SCENARIO(a_failed_setting_among_the_others),
        SCENARIO(as_many_wait_as_fit),
        SCENARIO(the_latest_of_the_least_urgent_is_lost),
        SCENARIO(an_alarm_pushes_out_the_least_urgent),
        SCENARIO(fewer_wait_where_fewer_are_kept),
        SCENARIO(none_waits_where_none_is_kept),
        SCENARIO(among_alarms_the_latest_is_lost),
        SCENARIO(what_waits_is_lost_with_the_power),
        SCENARIO(a_path_that_is_back_before_the_power),
        SCENARIO(a_path_that_goes_without_power),
        SCENARIO(the_siren_is_held_back),
        SCENARIO(unset_before_the_siren),
        SCENARIO(path_down_cancels_the_wait),
        SCENARIO(with_the_path_down_no_siren_waits),
        SCENARIO(with_the_path_back_it_waits_again),
        SCENARIO(a_further_alarm_does_not_begin_the_wait_again),
        SCENARIO(the_next_siren_waits_too),
        SCENARIO(the_fire_pattern_does_not_wait),
        SCENARIO(a_hold_up_does_not_wait),
        SCENARIO(an_exit_error_does_not_wait),
        SCENARIO(a_siren_for_the_panels_lid_waits),
        SCENARIO(the_european_course_waits_after_its_warning),
        SCENARIO(no_change_of_mode_while_a_siren_waits),
        SCENARIO(no_siren_waits_without_power),
};
SCENARIO_LIST(paths, rows);
