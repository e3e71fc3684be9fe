/* Design page, "Faults". */
#include "scene.h"

/* page: "Tamper: set → alarm course plus tamper signal" */
static void tamper_while_set(struct scene *s) {
    starts_set(s, HOME, FULL);
    at(s, 10), happens(s, PANEL_IN_TAMPER, LOUNGE);
    expect_siren(s, 10, STILL);
    expect_signal(s, EVENT_TAMPER, LOUNGE, 10);
    until(s, 40);
    expect_signal(s, EVENT_INTRUSION, LOUNGE, 40);
}

static void tamper_alarm_unset_in_time(struct scene *s) {
    starts_set(s, HOME, FULL);
    at(s, 10), happens(s, PANEL_IN_TAMPER, LOUNGE);
    at(s, 20), unsets(s, ANNA, ON_HOME);
    until(s, 600);
    expect_siren(s, 10, 20);
    expect_no_signal(s, EVENT_INTRUSION);
}

/* page: "unset → inside warning, signal by profile, no outside siren; blocks setting." */
static void tamper_while_unset(struct scene *s) {
    at(s, 10), happens(s, PANEL_IN_TAMPER, LOUNGE);
    until(s, 600);
    expect_inside(s, true, 10);
    expect_no_siren(s);
    expect_signals(s, EVENT_TAMPER, LOUNGE, 1);
    at(s, 610), sets(s, ANNA, ON_HOME, FULL);
    expect_phase(s, HOME, PANEL_UNSET);
    at(s, 620), happens(s, PANEL_IN_TAMPER_BACK, LOUNGE);
    expect_restore(s, EVENT_TAMPER, LOUNGE, 620);
    at(s, 630), sets(s, ANNA, ON_HOME, FULL);
    expect_phase(s, HOME, PANEL_EXITING);
}

/* page: "Supervision: a supervised device silent for its whole window → trouble unset, `trouble | alarm` set". Common
 * practice: 12 h without a check-in is a supervision trouble only if supervised. */
static void silent_device_is_trouble(struct scene *s) {
    s->zones[WINDOW].supervised = true;
    until(s, 12 * 3600 - 1);
    expect_no_signal(s, EVENT_SUPERVISION);
    until(s, 12 * 3600);
    expect_signal(s, EVENT_SUPERVISION, WINDOW, 12 * 3600);
    expect_says(s, PANEL_SAYS_TROUBLE, WINDOW, 12 * 3600);
    expect_tone(s, PANEL_TONE_TROUBLE, true, 12 * 3600);
    expect_no_siren(s);
}

static void check_in_starts_the_window_again(struct scene *s) {
    s->zones[WINDOW].supervised = true;
    at(s, 10 * 3600), checks_in(s, WINDOW, false);
    until(s, 22 * 3600 - 1);
    expect_no_signal(s, EVENT_SUPERVISION);
    until(s, 22 * 3600);
    expect_signal(s, EVENT_SUPERVISION, WINDOW, 22 * 3600);
    at(s, 23 * 3600), checks_in(s, WINDOW, false);
    expect_restore(s, EVENT_SUPERVISION, WINDOW, 23 * 3600);
}

/* Any message shows that the device lives. */
static void any_message_is_a_check_in(struct scene *s) {
    s->zones[WINDOW].supervised = true;
    at(s, 10 * 3600), trips(s, WINDOW);
    until(s, 22 * 3600 - 1);
    expect_no_signal(s, EVENT_SUPERVISION);
}

static void silent_device_while_set_is_trouble(struct scene *s) {
    s->zones[WINDOW].supervised = true;
    starts_set(s, HOME, FULL);
    until(s, 12 * 3600);
    expect_signal(s, EVENT_SUPERVISION, WINDOW, 12 * 3600);
    expect_no_siren(s);
}

static void silent_device_while_set_is_an_alarm(struct scene *s) {
    s->settings->lost_while_set = SITE_LOST_ALARM;
    s->zones[WINDOW].supervised = true;
    starts_set(s, HOME, FULL);
    until(s, 12 * 3600 + 30);
    expect_siren_starts(s, 12 * 3600);
    expect_signal(s, EVENT_INTRUSION, WINDOW, 12 * 3600 + 30);
}

/* page: "its last level is kept (a lost "closed" message → not ready" */
static void lost_closing_leaves_it_not_ready(struct scene *s) {
    s->settings->faults = SITE_FAULT_IGNORE;
    s->zones[WINDOW].supervised = true;
    at(s, 10), opens(s, WINDOW);
    until(s, 13 * 3600);
    expect_signals(s, EVENT_SUPERVISION, WINDOW, 1);
    expect_in_the_way(s, HOME, FULL, WINDOW);
    at(s, 14 * 3600), checks_in(s, WINDOW, false);
    expect_ready(s, HOME, FULL, true);
}

/* page: "a lost "open" → unheard until the next check-in, whose level counts as an edge)" */
static void check_in_brings_a_lost_opening(struct scene *s) {
    s->zones[WINDOW].supervised = true;
    starts_set(s, HOME, FULL);
    at(s, 3600), checks_in(s, WINDOW, true);
    expect_siren(s, 3600, STILL);
}

static void check_in_brings_a_lost_opening_of_the_door(struct scene *s) {
    s->zones[FRONT].supervised = true;
    starts_set(s, HOME, FULL);
    at(s, 3600), checks_in(s, FRONT, true);
    expect_phase(s, HOME, PANEL_ENTERING);
}

/* page: "an unsupervised one is never noticed, nor is its low battery: a finding." */
static void unsupervised_device_is_never_noticed(struct scene *s) {
    at(s, 10), happens(s, PANEL_IN_LOW_BATTERY, WINDOW);
    until(s, 100 * 3600);
    expect_nothing_sent(s);
    expect_never_says(s, PANEL_SAYS_TROUBLE, ANY);
}

static void low_battery_of_a_supervised_device(struct scene *s) {
    s->zones[WINDOW].supervised = true;
    at(s, 10), happens(s, PANEL_IN_LOW_BATTERY, WINDOW);
    expect_signal(s, EVENT_LOW_BATTERY, WINDOW, 10);
    expect_says(s, PANEL_SAYS_TROUBLE, WINDOW, 10);
}

static void lost_device_is_a_fault(struct scene *s) {
    s->zones[LOUNGE].supervised = true;
    until(s, 12 * 3600);
    at(s, 13 * 3600), sets(s, ANNA, ON_HOME, FULL);
    expect_phase(s, HOME, PANEL_UNSET);
    expect_says(s, PANEL_SAYS_REFUSED, ANY, 13 * 3600);
    at(s, 14 * 3600), checks_in(s, LOUNGE, false);
    sets(s, ANNA, ON_HOME, FULL);
    expect_phase(s, HOME, PANEL_EXITING);
}

static void masked_device(struct scene *s) {
    at(s, 10), happens(s, PANEL_IN_MASKED, LOUNGE);
    expect_signal(s, EVENT_MASKED, LOUNGE, 10);
    at(s, 20), sets(s, ANNA, ON_HOME, FULL);
    expect_phase(s, HOME, PANEL_UNSET);
    at(s, 30), happens(s, PANEL_IN_MASKED_BACK, LOUNGE);
    expect_restore(s, EVENT_MASKED, LOUNGE, 30);
    at(s, 40), sets(s, ANNA, ON_HOME, FULL);
    expect_phase(s, HOME, PANEL_EXITING);
}

/* page: "Jamming is separate." Its own trouble and signal: no device is missed and no path is lost by it. */
static void jamming_is_its_own_trouble(struct scene *s) {
    s->zones[WINDOW].supervised = true;
    at(s, 10), happens(s, PANEL_IN_JAMMED, ANY);
    expect_says(s, PANEL_SAYS_TROUBLE, ANY, 10);
    expect_tone(s, PANEL_TONE_TROUBLE, true, 10);
    expect_signal(s, EVENT_JAMMING, ANY, 10);
    at(s, 15), happens(s, PANEL_IN_JAMMED, ANY);
    expect_signals(s, EVENT_JAMMING, ANY, 1);
    at(s, 20), happens(s, PANEL_IN_JAM_OVER, ANY), happens(s, PANEL_IN_JAM_OVER, ANY);
    expect_restore(s, EVENT_JAMMING, ANY, 20);
    expect_restores(s, EVENT_JAMMING, ANY, 1);
    expect_tone(s, PANEL_TONE_TROUBLE, false, 20);
    expect_no_signal(s, EVENT_SUPERVISION);
    expect_no_signal(s, EVENT_PATH);
}

static void jamming_while_set_is_no_alarm(struct scene *s) {
    s->settings->lost_while_set = SITE_LOST_ALARM;
    starts_set(s, HOME, FULL);
    at(s, 10), happens(s, PANEL_IN_JAMMED, ANY);
    until(s, 600);
    expect_signal(s, EVENT_JAMMING, ANY, 10);
    expect_no_siren(s);
    expect_mode(s, HOME, FULL);
}

/* page: "each fault `refuse | user acknowledges | ignore`, logged" */
static void jamming_stands_in_the_way_of_setting(struct scene *s) {
    at(s, 10), happens(s, PANEL_IN_JAMMED, ANY);
    at(s, 20), sets(s, ANNA, ON_HOME, FULL);
    expect_says(s, PANEL_SAYS_REFUSED, ANY, 20);
    expect_phase(s, HOME, PANEL_UNSET);
    at(s, 30), happens(s, PANEL_IN_JAM_OVER, ANY);
    at(s, 40), sets(s, ANNA, ON_HOME, FULL);
    expect_phase(s, HOME, PANEL_EXITING);
}

/* Whether a receiver listens for jamming at all is the panel's: common practice. */
static void jamming_that_nobody_notices_is_no_fault(struct scene *s) {
    s->settings->jamming_noticed = false;
    at(s, 10), happens(s, PANEL_IN_JAMMED, ANY);
    expect_never_says(s, PANEL_SAYS_TROUBLE, ANY);
    expect_no_tone(s, PANEL_TONE_TROUBLE);
    at(s, 20), sets(s, ANNA, ON_HOME, FULL);
    expect_phase(s, HOME, PANEL_EXITING);
    at(s, 30), happens(s, PANEL_IN_JAM_OVER, ANY);
    until(s, 600);
    expect_no_signal(s, EVENT_JAMMING);
    expect_nothing_logged(s);
}

static void jamming_acknowledged_is_logged(struct scene *s) {
    s->settings->faults = SITE_FAULT_ACKNOWLEDGE;
    at(s, 10), happens(s, PANEL_IN_JAMMED, ANY);
    at(s, 20), sets_knowing(s, ANNA, ON_HOME, FULL);
    expect_phase(s, HOME, PANEL_EXITING);
    expect_logged(s, EVENT_JAMMING, ANY, ANNA, PANEL_WHY_ACKNOWLEDGED, 20);
}

/* page: "Mains: trouble at once, report after delay ... restore only if the loss was sent." */
static void mains_lost_for_long(struct scene *s) {
    at(s, 10), happens(s, PANEL_IN_MAINS_LOST, ANY);
    expect_says(s, PANEL_SAYS_TROUBLE, ANY, 10);
    until(s, 3609);
    expect_nothing_sent(s);
    until(s, 3610);
    expect_signal(s, EVENT_MAINS, ANY, 3610);
    at(s, 5000), happens(s, PANEL_IN_MAINS_BACK, ANY);
    expect_restore(s, EVENT_MAINS, ANY, 5000);
}

/* page: "Each output names its cause": the trouble of lost mains is the power, not a fault in the way of setting. */
static void lost_mains_are_the_reason(struct scene *s) {
    at(s, 10), happens(s, PANEL_IN_MAINS_LOST, ANY);
    size_t count = 0;
    for (size_t i = 0; i < s->heard_count; i++) {
        const struct panel_output *output = &s->heard[i].output;
        count += output->kind == PANEL_OUT_SAYS && output->why == PANEL_WHY_POWER;
    }
    if (s->checks && count != 1) {
        scene_fail(s, "the trouble names the power, but %zu do", count);
    }
}

static void mains_lost_briefly(struct scene *s) {
    at(s, 10), happens(s, PANEL_IN_MAINS_LOST, ANY);
    at(s, 3000), happens(s, PANEL_IN_MAINS_BACK, ANY);
    until(s, 10000);
    expect_no_signal(s, EVENT_MAINS);
}

/* page: "report after delay ± jitter" */
static void mains_report_spread_early(struct scene *s) {
    s->settings->mains_jitter_s = 600;
    s->spread = -1;
    at(s, 10), happens(s, PANEL_IN_MAINS_LOST, ANY);
    expect_says(s, PANEL_SAYS_TROUBLE, ANY, 10);
    until(s, 3009);
    expect_no_signal(s, EVENT_MAINS);
    until(s, 3010);
    expect_signal(s, EVENT_MAINS, ANY, 3010);
    at(s, 3020), happens(s, PANEL_IN_MAINS_BACK, ANY);
    expect_restore(s, EVENT_MAINS, ANY, 3020);
}

static void mains_report_spread_late(struct scene *s) {
    s->settings->mains_jitter_s = 600;
    s->spread = 1;
    at(s, 10), happens(s, PANEL_IN_MAINS_LOST, ANY);
    at(s, 4209), happens(s, PANEL_IN_MAINS_BACK, ANY);
    until(s, 9000);
    expect_no_signal(s, EVENT_MAINS); /* page: "restore only if the loss was sent" */
    at(s, 10000), happens(s, PANEL_IN_MAINS_LOST, ANY);
    until(s, 14200);
    expect_signal(s, EVENT_MAINS, ANY, 14200);
}

/* Nothing else is spread: whoever draws a spread for every timer draws none here. */
static void nothing_else_is_spread(struct scene *s) {
    s->settings->mains_jitter_s = 600;
    s->spread = 1;
    starts_set(s, HOME, FULL);
    at(s, 0), opens(s, FRONT);
    until(s, 60);
    expect_siren(s, 30, STILL);
    expect_signal(s, EVENT_INTRUSION, FRONT, 60);
}

static void panel_battery_low(struct scene *s) {
    at(s, 10), happens(s, PANEL_IN_BATTERY_LOW, ANY);
    expect_says(s, PANEL_SAYS_TROUBLE, ANY, 10);
    expect_signal(s, EVENT_PANEL_BATTERY, ANY, 10);
    at(s, 20), happens(s, PANEL_IN_BATTERY_BACK, ANY);
    expect_restore(s, EVENT_PANEL_BATTERY, ANY, 20);
}

/* page: "Total loss: same set state and bypasses on return" */
static void total_loss_keeps_state_and_bypasses(struct scene *s) {
    at(s, 0), bypasses(s, ANNA, WINDOW);
    at(s, 10), sets(s, ANNA, ON_HOME, NIGHT);
    at(s, 100), happens(s, PANEL_IN_POWER_LOST, ANY);
    at(s, 200), happens(s, PANEL_IN_POWER_BACK, ANY);
    until(s, 261);
    expect_mode(s, HOME, NIGHT);
    expect_bypassed(s, WINDOW, true);
    at(s, 270), opens(s, WINDOW);
    expect_no_siren(s);
    at(s, 280), opens(s, SKYLIGHT);
    expect_siren_starts(s, 280);
}

static void nothing_is_heard_without_power(struct scene *s) {
    starts_set(s, HOME, FULL);
    at(s, 100), happens(s, PANEL_IN_POWER_LOST, ANY);
    at(s, 110), trips(s, WINDOW), happens(s, PANEL_IN_TAMPER, PANE),
            happens(s, PANEL_IN_TAMPER_BACK, PANE);
    at(s, 200), happens(s, PANEL_IN_POWER_BACK, ANY);
    until(s, 600);
    expect_no_siren(s);
    expect_no_signal(s, EVENT_INTRUSION);
}

static void supervision_begins_anew_with_the_power(struct scene *s) {
    s->zones[WINDOW].supervised = true;
    at(s, 100), happens(s, PANEL_IN_POWER_LOST, ANY);
    until(s, 20 * 3600);
    expect_no_signal(s, EVENT_SUPERVISION);
    at(s, 21 * 3600), happens(s, PANEL_IN_POWER_BACK, ANY);
    until(s, 33 * 3600);
    expect_signal(s, EVENT_SUPERVISION, WINDOW, 33 * 3600);
}

/* page: "every input ignored for 60 s, then levels count." */
static void levels_count_after_the_mask(struct scene *s) {
    starts_set(s, HOME, FULL);
    at(s, 100), happens(s, PANEL_IN_POWER_LOST, ANY);
    at(s, 200), happens(s, PANEL_IN_POWER_BACK, ANY);
    at(s, 230), opens(s, WINDOW);
    until(s, 259);
    expect_no_siren(s);
    until(s, 290);
    expect_siren(s, 260, STILL);
    expect_signal(s, EVENT_INTRUSION, WINDOW, 290);
}

/* A zone that was out after the siren and closes unheard is live when the power is back. */
static void zone_closed_without_power_is_live(struct scene *s) {
    starts_set(s, HOME, FULL);
    at(s, 0), opens(s, WINDOW);
    until(s, 200);
    at(s, 300), happens(s, PANEL_IN_POWER_LOST, ANY);
    at(s, 310), closes(s, WINDOW);
    at(s, 320), happens(s, PANEL_IN_POWER_BACK, ANY);
    at(s, 400), opens(s, WINDOW);
    expect_siren_starts(s, 400);
}

/* What was open before the loss and is open after it has not newly opened. */
static void level_as_before_is_no_trip(struct scene *s) {
    at(s, 0), opens(s, WINDOW);
    at(s, 5), bypasses(s, ANNA, WINDOW);
    at(s, 10), sets(s, ANNA, ON_HOME, NIGHT);
    at(s, 100), happens(s, PANEL_IN_POWER_LOST, ANY);
    at(s, 200), happens(s, PANEL_IN_POWER_BACK, ANY);
    until(s, 600);
    expect_no_siren(s);
}

static const struct scenario rows[] = {
        SCENARIO(tamper_while_set),
        SCENARIO(tamper_alarm_unset_in_time),
        SCENARIO(tamper_while_unset),
        SCENARIO(silent_device_is_trouble),
        SCENARIO(check_in_starts_the_window_again),
        SCENARIO(any_message_is_a_check_in),
        SCENARIO(silent_device_while_set_is_trouble),
        SCENARIO(silent_device_while_set_is_an_alarm),
        SCENARIO(lost_closing_leaves_it_not_ready),
        SCENARIO(check_in_brings_a_lost_opening),
        SCENARIO(check_in_brings_a_lost_opening_of_the_door),
        SCENARIO(unsupervised_device_is_never_noticed),
        SCENARIO(low_battery_of_a_supervised_device),
        SCENARIO(lost_device_is_a_fault),
        SCENARIO(masked_device),
        SCENARIO(jamming_is_its_own_trouble),
        SCENARIO(jamming_while_set_is_no_alarm),
        SCENARIO(jamming_stands_in_the_way_of_setting),
        SCENARIO(jamming_that_nobody_notices_is_no_fault),
        SCENARIO(jamming_acknowledged_is_logged),
        SCENARIO(mains_lost_for_long),
        SCENARIO(lost_mains_are_the_reason),
        SCENARIO(mains_lost_briefly),
        SCENARIO(mains_report_spread_early),
        SCENARIO(mains_report_spread_late),
        SCENARIO(nothing_else_is_spread),
        SCENARIO(panel_battery_low),
        SCENARIO(total_loss_keeps_state_and_bypasses),
        SCENARIO(nothing_is_heard_without_power),
        SCENARIO(supervision_begins_anew_with_the_power),
        SCENARIO(levels_count_after_the_mask),
        SCENARIO(zone_closed_without_power_is_live),
        SCENARIO(level_as_before_is_no_trip),
};
SCENARIO_LIST(faults, rows);
