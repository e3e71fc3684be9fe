/* Design page, "Fine print (where two readers would differ)". */
#include "scene.h"

/* page: "The player: inputs in file order, then ends in table order." */
static void input_comes_before_an_end(struct scene *s) {
    starts_set(s, HOME, FULL);
    at(s, 0), opens(s, FRONT);
    at(s, 30), unsets(s, ANNA, ON_HOME);
    until(s, 600);
    expect_no_siren(s);
}

static void inputs_come_in_order(struct scene *s) {
    at(s, 0), sets(s, ANNA, ON_HOME, NIGHT), opens(s, WINDOW);
    expect_siren(s, 0, STILL);
    at(s, 10), unsets(s, ANNA, ON_HOME), closes(s, WINDOW), opens(s, WINDOW),
            sets(s, ANNA, ON_HOME, NIGHT);
    expect_phase(s, HOME, PANEL_UNSET);
}

/* page: "A timer of 0 s ends inside the step that starts it." */
static void zero_seconds_end_inside_the_step(struct scene *s) {
    s->settings->modes[FULL].exit_delay_s = 0;
    s->settings->delays[BY_FRONT].seconds_s = 0;
    s->settings->abort_window_s = 0;
    s->settings->drop_to_part = false;
    at(s, 10), sets(s, ANNA, ON_HOME, FULL);
    expect_mode(s, HOME, FULL);
    opens(s, FRONT);
    expect_siren(s, 10, STILL);
    expect_signal(s, EVENT_INTRUSION, FRONT, 10);
}

/* page: "Each start draws anew" and, of the inputs, "Panel timers are true within ±10 %": the same second at a clock
 * that is 10 % fast, where 30 s end at 27 s. */
static void fast_clock(struct scene *s) {
    s->percent = 90;
    starts_set(s, HOME, FULL);
    at(s, 0), opens(s, FRONT);
    at(s, 28), unsets(s, ANNA, ON_HOME);
    until(s, 100);
    expect_siren(s, 27, 28);
}

static void slow_clock(struct scene *s) {
    s->percent = 110;
    starts_set(s, HOME, FULL);
    at(s, 0), opens(s, FRONT);
    at(s, 32), unsets(s, ANNA, ON_HOME);
    until(s, 100);
    expect_no_siren(s);
}

/* page: "*Shorten* = end at min(remaining, new time)." */
static void shorten_takes_the_lesser(struct scene *s) {
    s->settings->delays[BY_BACK].seconds_s = 40;
    starts_set(s, HOME, FULL);
    at(s, 0), opens(s, BACK);
    at(s, 10), opens(s, FRONT);
    expect_runs(s, PANEL_TIMER_ENTRY, HOME, 30);
    at(s, 20), closes(s, FRONT), opens(s, FRONT);
    expect_runs(s, PANEL_TIMER_ENTRY, HOME, 20);
}

/* page: "**Pulse count** slides: each pulse starts its own timer, at most n − 1 run." */
static void pulse_window_slides(struct scene *s) {
    s->zones[PANE].pulse_count = 3;
    s->zones[PANE].pulse_window_s = 10;
    starts_set(s, HOME, FULL);
    at(s, 0), trips(s, PANE);
    at(s, 4), trips(s, PANE);
    at(s, 11), trips(s, PANE);
    until(s, 12);
    expect_no_siren(s);
    at(s, 13), trips(s, PANE);
    expect_siren(s, 13, STILL);
}

static void five_pulses(struct scene *s) {
    s->zones[PANE].pulse_count = 5;
    s->zones[PANE].pulse_window_s = 10;
    starts_set(s, HOME, FULL);
    for (int32_t i = 0; i < 40; i += 3) {
        at(s, i), trips(s, PANE);
    }
    expect_no_siren(s);
    for (int32_t i = 60; i < 65; i++) {
        at(s, i), trips(s, PANE);
    }
    expect_siren(s, 64, STILL);
}

/* page: "**Memory** is set at the area's first siren or held alarm, silenced by unset, shown until an entitled reset or
 * the area's next completed setting" */
static void memory_is_shown_until_an_entitled_reset(struct scene *s) {
    s->settings->reset = SITE_RESET_INSTALLER;
    starts_set(s, HOME, FULL);
    at(s, 0), trips(s, WINDOW);
    at(s, 5), unsets(s, ANNA, ON_HOME);
    expect_siren(s, 0, 5);
    expect_says(s, PANEL_SAYS_ALARM_MEMORY, WINDOW, 5);
    at(s, 1000), resets(s, PANEL_BY_KEYPAD), unsets(s, ANNA, ON_HOME);
    expect_says(s, PANEL_SAYS_ALARM_MEMORY, WINDOW, 1000);
    at(s, 2000), resets(s, PANEL_BY_INSTALLER), unsets(s, ANNA, ON_HOME);
    expect_never_says_at(s, PANEL_SAYS_ALARM_MEMORY, 2000);
}

static void memory_ends_with_the_next_setting(struct scene *s) {
    at(s, 0), trips(s, SAFE);
    at(s, 400), sets(s, ANNA, ON_HOME, NIGHT);
    expect_mode(s, HOME, NIGHT);
    at(s, 410), trips(s, WINDOW);
    at(s, 415), unsets(s, ANNA, ON_HOME);
    expect_says(s, PANEL_SAYS_ALARM_MEMORY, WINDOW, 415);
    expect_never_says(s, PANEL_SAYS_ALARM_MEMORY, SAFE);
}

static void memory_is_of_an_alarm_while_unset_too(struct scene *s) {
    at(s, 0), trips(s, SAFE);
    at(s, 400), unsets(s, ANNA, ON_HOME);
    expect_says(s, PANEL_SAYS_ALARM_MEMORY, SAFE, 400);
}

/* page: "never cleared by time, power loss or another area." */
static void memory_outlasts_time_power_and_other_areas(struct scene *s) {
    s->settings->reset = SITE_RESET_INSTALLER;
    with_flat(s);
    starts_set(s, HOME, FULL);
    at(s, 0), trips(s, WINDOW);
    at(s, 5), unsets(s, ANNA, ON_HOME);
    at(s, 20), sets(s, CARA, ON_FLAT, NIGHT), unsets(s, CARA, ON_FLAT);
    at(s, 100), happens(s, PANEL_IN_POWER_LOST, ANY);
    at(s, 200), happens(s, PANEL_IN_POWER_BACK, ANY);
    at(s, 100000), sets(s, ANNA, ON_HOME, NIGHT);
    expect_says(s, PANEL_SAYS_RESET_NEEDED, ANY, 100000);
    expect_phase(s, HOME, PANEL_UNSET);
}

/* page: "An alarm belongs to its zone's area (a boundary door: its owning area, sent once)" */
static void boundary_door_is_sent_once(struct scene *s) {
    with_flat(s);
    starts_set(s, HOME, FULL);
    starts_set(s, FLAT, FULL);
    at(s, 10), opens(s, BETWEEN);
    until(s, 100);
    expect_signals(s, EVENT_INTRUSION, ANY, 1);
    expect_signal_of(s, EVENT_INTRUSION, BETWEEN, HOME, PANEL_NOBODY, 70);
}

/* page: "only a code that acts on that area releases it" */
static void code_for_another_area_releases_nothing(struct scene *s) {
    with_flat(s);
    starts_set(s, HOME, FULL);
    starts_set(s, FLAT, FULL);
    at(s, 0), trips(s, WINDOW);
    at(s, 10), unsets(s, CARA, ON_FLAT);
    until(s, 30);
    expect_siren(s, 0, STILL);
    expect_signal(s, EVENT_INTRUSION, WINDOW, 30);
}

/* page: "for 24-hour zones while unset any such code counts; the timer starts at the first *held* alarm." */
static void code_while_unset_releases_a_24_hour_alarm(struct scene *s) {
    at(s, 0), opens(s, SAFE);
    at(s, 20), unsets(s, ANNA, ON_HOME);
    until(s, 600);
    expect_siren(s, 0, 20);
    expect_nothing_sent(s);
    expect_says(s, PANEL_SAYS_NOTHING_SENT, ANY, 20);
}

static void abort_window_counts_from_the_first_held_alarm(struct scene *s) {
    starts_set(s, HOME, FULL);
    at(s, 0), opens(s, SMOKE);
    at(s, 20), trips(s, WINDOW);
    at(s, 40), trips(s, SKYLIGHT);
    until(s, 49);
    expect_no_signal(s, EVENT_INTRUSION);
    until(s, 50);
    expect_signal(s, EVENT_INTRUSION, WINDOW, 50);
    expect_signal(s, EVENT_INTRUSION, SKYLIGHT, 50);
}

/* "One timer per area from the first siren": once it has ended, further zones of this alarm have nothing to wait
 * for. */
static void later_alarm_is_not_held_anew(struct scene *s) {
    starts_set(s, HOME, FULL);
    at(s, 0), trips(s, WINDOW);
    at(s, 100), trips(s, SKYLIGHT);
    expect_signal(s, EVENT_INTRUSION, SKYLIGHT, 100);
}

/* page: "**Follower hold.** Alarm, siren and swinger count at the hold's end, even if closed again" */
static void hold_ends_in_an_alarm_though_closed(struct scene *s) {
    s->zones[HALL].hold_s = 5;
    starts_set(s, HOME, FULL);
    at(s, 0), opens(s, HALL);
    at(s, 1), closes(s, HALL);
    until(s, 4);
    expect_no_siren(s);
    until(s, 5);
    expect_siren(s, 5, STILL);
}

/* page: "only its own route's door or a code clears it" */
static void another_door_does_not_clear_the_hold(struct scene *s) {
    s->zones[HALL].hold_s = 5;
    starts_set(s, HOME, FULL);
    at(s, 0), trips(s, HALL);
    at(s, 2), opens(s, BACK);
    until(s, 5);
    expect_siren(s, 5, STILL);
}

static void code_clears_the_hold(struct scene *s) {
    s->zones[HALL].hold_s = 5;
    starts_set(s, HOME, FULL);
    at(s, 0), trips(s, HALL);
    at(s, 2), unsets(s, ANNA, ON_HOME);
    until(s, 100);
    expect_no_siren(s);
}

/* page: "a second trip does not restart it." */
static void second_trip_does_not_restart_the_hold(struct scene *s) {
    s->zones[HALL].hold_s = 5;
    starts_set(s, HOME, FULL);
    at(s, 0), trips(s, HALL);
    at(s, 4), trips(s, HALL);
    until(s, 5);
    expect_siren(s, 5, STILL);
}

/* page: "**Part set.** Changing mode is refused while entry or alarm runs; a code unsets" */
static void mode_change_is_refused_in_entry(struct scene *s) {
    starts_set(s, HOME, PART);
    at(s, 0), opens(s, FRONT);
    at(s, 5), closes(s, FRONT);
    at(s, 10), sets(s, ANNA, ON_HOME, FULL);
    expect_phase(s, HOME, PANEL_ENTERING);
    expect_says(s, PANEL_SAYS_REFUSED, ANY, 10);
    at(s, 20), unsets(s, ANNA, ON_HOME);
    expect_phase(s, HOME, PANEL_UNSET);
    until(s, 600);
    expect_no_siren(s);
}

static void mode_change_is_refused_in_alarm(struct scene *s) {
    starts_set(s, HOME, PART);
    at(s, 0), trips(s, WINDOW);
    at(s, 10), sets(s, ANNA, ON_HOME, FULL);
    expect_mode(s, HOME, PART);
    expect_says(s, PANEL_SAYS_REFUSED, ANY, 10);
}

/* page: "a refused request stays part" */
static void refused_request_stays_part(struct scene *s) {
    starts_open(s, CUPBOARD);
    starts_set(s, HOME, PART);
    at(s, 10), sets(s, ANNA, ON_HOME, FULL);
    expect_mode(s, HOME, PART);
    expect_says(s, PANEL_SAYS_NOT_READY, CUPBOARD, 10);
}

/* page: "part protection holds during a part → full exit except entry zones and interior": which those are says the
 * mode that is being set, as whoever sets must be able to walk out. */
static void part_protection_holds_in_the_exit(struct scene *s) {
    s->zones[PANE].in[FULL] = SITE_OUT;
    s->zones[HALL].in[PART] = SITE_PERIMETER;
    s->zones[FRONT].in[PART] = SITE_PERIMETER;
    starts_set(s, HOME, PART);
    at(s, 10), sets(s, ANNA, ON_HOME, FULL);
    at(s, 15), trips(s, LOUNGE), trips(s, HALL), trips(s, FRONT);
    expect_no_siren(s);
    at(s, 20), trips(s, PANE);
    expect_siren(s, 20, STILL);
}

static void part_protection_does_not_stall(struct scene *s) {
    s->settings->exit_trip = SITE_EXIT_TRIP_STALLS;
    starts_set(s, HOME, PART);
    at(s, 10), sets(s, ANNA, ON_HOME, FULL);
    at(s, 20), trips(s, WINDOW);
    expect_siren(s, 20, STILL);
}

static void without_part_there_is_no_protection_to_hold(struct scene *s) {
    s->zones[PANE].in[FULL] = SITE_OUT;
    at(s, 10), sets(s, ANNA, ON_HOME, FULL);
    at(s, 20), trips(s, PANE);
    expect_no_siren(s);
}

/* page: "delays belong to mode × zone." */
static void delays_belong_to_mode_and_zone(struct scene *s) {
    s->zones[FRONT].delay[PART] = BY_BACK;
    starts_set(s, HOME, PART);
    at(s, 0), opens(s, FRONT);
    expect_runs(s, PANEL_TIMER_ENTRY, HOME, 45);
    at(s, 5), unsets(s, ANNA, ON_HOME), closes(s, FRONT);
    at(s, 10), sets(s, ANNA, ON_HOME, NIGHT);
    at(s, 20), opens(s, FRONT);
    expect_runs(s, PANEL_TIMER_ENTRY, HOME, 30);
}

/* page: "**Forced.** Entry and follower zones are never bypassed at the request but read at the end of exit, other
 * zones at the request" */
static void forced_entry_door_is_read_at_the_end(struct scene *s) {
    s->settings->entry_open_allowed = false;
    at(s, 0), opens(s, FRONT);
    at(s, 10), forces(s, ANNA, ON_HOME, FULL);
    expect_phase(s, HOME, PANEL_EXITING);
    expect_bypassed(s, FRONT, false);
    until(s, 70);
    expect_siren(s, 70, STILL);
}

static void forced_entry_door_closed_in_time_is_live(struct scene *s) {
    s->settings->entry_open_allowed = false;
    at(s, 0), opens(s, FRONT);
    at(s, 10), forces(s, ANNA, ON_HOME, FULL);
    at(s, 20), closes(s, FRONT);
    until(s, 70);
    expect_mode(s, HOME, FULL);
    at(s, 80), opens(s, FRONT);
    expect_phase(s, HOME, PANEL_ENTERING);
}

static void forced_follower_is_read_at_the_end(struct scene *s) {
    s->profiles[HALL].sense = SITE_CONTACT;
    at(s, 0), opens(s, HALL);
    at(s, 10), forces(s, ANNA, ON_HOME, FULL);
    expect_bypassed(s, HALL, false);
    at(s, 20), trips(s, FRONT);
    until(s, 70);
    expect_siren(s, 70, STILL);
}

static void opened_after_a_forced_request_is_not_bypassed(struct scene *s) {
    at(s, 0), opens(s, WINDOW);
    at(s, 10), forces(s, ANNA, ON_HOME, FULL);
    at(s, 20), opens(s, SKYLIGHT);
    expect_bypassed(s, SKYLIGHT, false);
    expect_siren(s, 20, STILL);
}

/* page: "`becomes live` counts from the first closing after the end." */
static void becomes_live_after_the_end(struct scene *s) {
    s->settings->reopened = SITE_BECOMES_LIVE;
    at(s, 0), opens(s, WINDOW);
    at(s, 10), forces(s, ANNA, ON_HOME, FULL);
    at(s, 20), closes(s, WINDOW);
    at(s, 30), opens(s, WINDOW);
    at(s, 40), trips(s, FRONT);
    until(s, 71);
    expect_mode(s, HOME, FULL);
    expect_no_siren(s);
    at(s, 80), closes(s, WINDOW);
    at(s, 90), opens(s, WINDOW);
    expect_siren(s, 90, STILL);
}

static void closing_in_the_exit_does_not_count(struct scene *s) {
    s->settings->reopened = SITE_BECOMES_LIVE;
    at(s, 0), opens(s, WINDOW);
    at(s, 10), forces(s, ANNA, ON_HOME, FULL);
    at(s, 20), closes(s, WINDOW), trips(s, FRONT);
    until(s, 71);
    at(s, 80), opens(s, WINDOW);
    until(s, 89);
    expect_no_siren(s);
    at(s, 90), closes(s, WINDOW);
    at(s, 100), opens(s, WINDOW);
    expect_siren(s, 100, STILL);
}

/* page: "**Common area** takes over the last member's exit timer" */
static void common_area_takes_over_the_exit(struct scene *s) {
    with_stairs(s);
    starts_set(s, FLAT, FULL);
    at(s, 0), sets(s, ANNA, ON_HOME, FULL);
    at(s, 20), trips(s, FRONT);
    at(s, 40), trips(s, STREET_DOOR);
    until(s, 59);
    expect_not_set(s, STAIRS);
    until(s, 60);
    expect_mode(s, HOME, FULL);
    expect_phase(s, STAIRS, PANEL_SET);
    expect_no_siren(s);
}

/* page: "its door starts one entry of its own" */
static void common_door_starts_its_own_entry(struct scene *s) {
    with_stairs(s);
    starts_set(s, HOME, FULL);
    starts_set(s, FLAT, FULL);
    starts_set(s, STAIRS, FULL);
    at(s, 0), opens(s, STREET_DOOR);
    expect_phase(s, STAIRS, PANEL_ENTERING);
    expect_mode(s, HOME, FULL);
    expect_mode(s, FLAT, FULL);
    until(s, 30);
    expect_sound(s, PANEL_SIREN, STAIRS, 30);
}

/* page: "a member's code unsets that member and the common area" */
static void members_code_unsets_the_common_area(struct scene *s) {
    with_stairs(s);
    starts_set(s, HOME, FULL);
    starts_set(s, FLAT, FULL);
    starts_set(s, STAIRS, FULL);
    at(s, 0), opens(s, STREET_DOOR);
    at(s, 20), unsets(s, CARA, ON_FLAT);
    until(s, 100);
    expect_phase(s, STAIRS, PANEL_UNSET);
    expect_phase(s, FLAT, PANEL_UNSET);
    expect_mode(s, HOME, FULL);
    expect_no_siren(s);
}

/* page: "a member's failed exit leaves it unset." */
static void members_failed_exit_leaves_it_unset(struct scene *s) {
    s->settings->exit_trip = SITE_EXIT_TRIP_STALLS;
    with_stairs(s);
    starts_set(s, FLAT, FULL);
    at(s, 0), sets(s, ANNA, ON_HOME, FULL);
    at(s, 20), opens(s, WINDOW);
    until(s, 600);
    expect_phase(s, HOME, PANEL_UNSET);
    expect_phase(s, STAIRS, PANEL_UNSET);
}

/* page: "**Swinger** counts at the alarm (aborted ones too, lone cross-zone trips not)" */
static void swinger_counts_an_aborted_alarm(struct scene *s) {
    at(s, 0), trips(s, SAFE);
    at(s, 10), unsets(s, ANNA, ON_HOME);
    at(s, 1000), trips(s, SAFE);
    at(s, 1010), unsets(s, ANNA, ON_HOME);
    at(s, 2000), trips(s, SAFE);
    until(s, 3000);
    expect_sirens(s, 2);
    expect_nothing_sent(s);
}

static void swinger_does_not_count_lone_trips(struct scene *s) {
    crosses(s, LOUNGE, PANE);
    starts_set(s, HOME, FULL);
    for (int32_t i = 0; i < 5; i++) {
        at(s, i * 1000), trips(s, LOUNGE);
    }
    at(s, 5000), trips(s, LOUNGE);
    at(s, 5010), trips(s, PANE);
    expect_siren(s, 5010, STILL);
    until(s, 5100);
    expect_signals(s, EVENT_INTRUSION, LOUNGE, 1);
}

/* page: "clears at the area's next setting" */
static void swinger_clears_at_the_next_setting(struct scene *s) {
    starts_set(s, HOME, FULL);
    at(s, 0), trips(s, LOUNGE);
    at(s, 1000), trips(s, LOUNGE);
    at(s, 2000), unsets(s, ANNA, ON_HOME);
    at(s, 3000), sets(s, ANNA, ON_HOME, FULL);
    at(s, 3010), trips(s, FRONT);
    at(s, 4000), trips(s, LOUNGE);
    expect_siren_starts(s, 4000);
}

/* page: "or 8 h after the last trip, suppressed ones restarting it" */
static void swinger_clears_eight_hours_after_the_last_trip(struct scene *s) {
    starts_set(s, HOME, FULL);
    at(s, 0), trips(s, LOUNGE);
    at(s, 1000), trips(s, LOUNGE);
    at(s, 20000), trips(s, LOUNGE);
    at(s, 20000 + 28799), trips(s, LOUNGE);
    until(s, 60000);
    expect_sirens(s, 2);
    at(s, 20000 + 28799 + 28801), trips(s, LOUNGE);
    expect_sirens(s, 3);
}

/* page: "24-hour zones: only the 8 h." */
static void swinger_of_a_24_hour_zone_outlasts_a_setting(struct scene *s) {
    at(s, 0), trips(s, SAFE);
    at(s, 10), unsets(s, ANNA, ON_HOME);
    at(s, 1000), trips(s, SAFE);
    at(s, 1010), unsets(s, ANNA, ON_HOME);
    at(s, 2000), sets(s, ANNA, ON_HOME, NIGHT);
    at(s, 3000), trips(s, SAFE);
    until(s, 4000);
    expect_sirens(s, 2);
    at(s, 3000 + 28801), trips(s, SAFE);
    expect_sirens(s, 3);
}

/* page: "**Cross-zone** partner acts alone when its partner cannot trip now (bypassed, swung out, out in this mode,
 * supervision lost, masked, out after the siren)" */
static void partner_swung_out(struct scene *s) {
    s->settings->swinger_limit = 1;
    crosses(s, LOUNGE, PANE);
    s->zones[LOUNGE].swinger = false;
    starts_set(s, HOME, FULL);
    at(s, 0), trips(s, PANE), trips(s, LOUNGE);
    expect_siren_starts(s, 0);
    at(s, 1000), trips(s, LOUNGE);
    expect_siren_starts(s, 1000);
}

static void partner_out_in_this_mode(struct scene *s) {
    crosses(s, LOUNGE, PANE);
    starts_set(s, HOME, PART);
    at(s, 10), trips(s, PANE);
    expect_siren(s, 10, STILL);
}

static void partner_lost(struct scene *s) {
    crosses(s, WINDOW, SKYLIGHT);
    s->zones[SKYLIGHT].supervised = true;
    starts_set(s, HOME, FULL);
    until(s, 12 * 3600);
    at(s, 12 * 3600 + 10), trips(s, WINDOW);
    expect_siren(s, 12 * 3600 + 10, STILL);
}

static void partner_masked(struct scene *s) {
    crosses(s, LOUNGE, PANE);
    starts_set(s, HOME, FULL);
    at(s, 10), happens(s, PANEL_IN_MASKED, LOUNGE);
    at(s, 20), trips(s, PANE);
    expect_siren_starts(s, 20);
}

static void partner_out_after_the_siren(struct scene *s) {
    crosses(s, WINDOW, SKYLIGHT);
    starts_set(s, HOME, FULL);
    at(s, 0), opens(s, WINDOW), trips(s, SKYLIGHT);
    until(s, 200);
    at(s, 300), trips(s, SKYLIGHT);
    expect_siren_starts(s, 300);
}

/* page: "an open partner is no second trip" */
static void open_partner_is_no_second_trip(struct scene *s) {
    crosses(s, WINDOW, SKYLIGHT);
    starts_set(s, HOME, FULL);
    at(s, 0), opens(s, WINDOW);
    at(s, 100), trips(s, SKYLIGHT);
    until(s, 200);
    expect_no_siren(s);
    expect_says(s, PANEL_SAYS_LONE_TRIP, SKYLIGHT, 100);
}

/* page: "pulse count comes first" */
static void pulse_count_comes_before_cross_zone(struct scene *s) {
    crosses(s, LOUNGE, PANE);
    s->zones[PANE].pulse_count = 2;
    s->zones[PANE].pulse_window_s = 10;
    starts_set(s, HOME, FULL);
    at(s, 0), trips(s, LOUNGE);
    at(s, 10), trips(s, PANE);
    until(s, 14);
    expect_no_siren(s);
    at(s, 15), trips(s, PANE);
    expect_siren(s, 15, STILL);
}

/* page: "losing the partner mid-window makes the lone trip an alarm only on its next trip." */
static void partner_lost_in_the_window(struct scene *s) {
    crosses(s, LOUNGE, PANE);
    starts_set(s, HOME, FULL);
    at(s, 0), trips(s, PANE);
    at(s, 10), happens(s, PANEL_IN_MASKED, LOUNGE);
    until(s, 19);
    expect_no_siren(s);
    at(s, 20), trips(s, PANE);
    expect_siren_starts(s, 20);
}

/* page: "**Tamper while entry runs** = an off-route trip: entry keeps running, its alarm is held, its tamper signal
 * never" */
static void tamper_in_entry(struct scene *s) {
    starts_set(s, HOME, FULL);
    at(s, 0), opens(s, FRONT);
    at(s, 10), happens(s, PANEL_IN_TAMPER, LOUNGE);
    expect_siren(s, 10, STILL);
    expect_runs(s, PANEL_TIMER_ENTRY, HOME, 20);
    expect_signal(s, EVENT_TAMPER, LOUNGE, 10);
    expect_no_signal(s, EVENT_INTRUSION);
    at(s, 20), unsets(s, ANNA, ON_HOME);
    until(s, 600);
    expect_no_signal(s, EVENT_INTRUSION);
}

static void tamper_in_entry_by_en(struct scene *s) {
    s->settings->off_route = SITE_OFF_ROUTE_EN;
    starts_set(s, HOME, FULL);
    at(s, 0), opens(s, BACK);
    at(s, 10), happens(s, PANEL_IN_TAMPER, LOUNGE);
    expect_inside(s, true, 10);
    expect_no_siren(s);
    expect_signal(s, EVENT_TAMPER, LOUNGE, 10);
    until(s, 45);
    expect_signal(s, EVENT_INTRUSION, LOUNGE, 45);
}

/* page: "a device of no area concerns every set area." */
static void panel_tamper_concerns_every_set_area(struct scene *s) {
    with_flat(s);
    starts_set(s, FLAT, FULL);
    at(s, 10), happens(s, PANEL_IN_TAMPER, ANY);
    expect_sound(s, PANEL_SIREN, FLAT, 10);
    expect_signals(s, EVENT_TAMPER, ANY, 1);
    at(s, 20), unsets(s, ANNA, ON_FLAT);
    at(s, 30), sets(s, ANNA, ON_FLAT, NIGHT);
    expect_phase(s, FLAT, PANEL_UNSET);
    at(s, 40), happens(s, PANEL_IN_TAMPER_BACK, ANY);
    expect_restore(s, EVENT_TAMPER, ANY, 40);
    at(s, 50), sets(s, ANNA, ON_FLAT, NIGHT);
    expect_mode(s, FLAT, NIGHT);
}

static void panel_tamper_while_unset_stays_inside(struct scene *s) {
    at(s, 10), happens(s, PANEL_IN_TAMPER, ANY);
    expect_inside(s, true, 10);
    expect_no_siren(s);
    at(s, 20), unsets(s, ANNA, ON_HOME);
    expect_inside(s, false, 20);
}

/* page: "**Supervision lost while set**, `alarm` = a held alarm in the zone's area; an entry in progress goes on." */
static void lost_in_entry_is_held(struct scene *s) {
    s->settings->lost_while_set = SITE_LOST_ALARM;
    s->zones[WINDOW].supervised = true;
    starts_set(s, HOME, FULL);
    at(s, 12 * 3600 - 10), opens(s, FRONT);
    until(s, 12 * 3600);
    expect_siren_starts(s, 12 * 3600);
    expect_runs(s, PANEL_TIMER_ENTRY, HOME, 20);
    at(s, 12 * 3600 + 15), unsets(s, ANNA, ON_HOME);
    until(s, 13 * 3600);
    expect_no_signal(s, EVENT_INTRUSION);
}

static const struct scenario rows[] = {
        SCENARIO(input_comes_before_an_end),
        SCENARIO(inputs_come_in_order),
        SCENARIO(zero_seconds_end_inside_the_step),
        SCENARIO(fast_clock),
        SCENARIO(slow_clock),
        SCENARIO(shorten_takes_the_lesser),
        SCENARIO(pulse_window_slides),
        SCENARIO(five_pulses),
        SCENARIO(memory_is_shown_until_an_entitled_reset),
        SCENARIO(memory_is_of_an_alarm_while_unset_too),
        SCENARIO(memory_ends_with_the_next_setting),
        SCENARIO(memory_outlasts_time_power_and_other_areas),
        SCENARIO(boundary_door_is_sent_once),
        SCENARIO(code_for_another_area_releases_nothing),
        SCENARIO(code_while_unset_releases_a_24_hour_alarm),
        SCENARIO(abort_window_counts_from_the_first_held_alarm),
        SCENARIO(later_alarm_is_not_held_anew),
        SCENARIO(hold_ends_in_an_alarm_though_closed),
        SCENARIO(another_door_does_not_clear_the_hold),
        SCENARIO(code_clears_the_hold),
        SCENARIO(second_trip_does_not_restart_the_hold),
        SCENARIO(mode_change_is_refused_in_entry),
        SCENARIO(mode_change_is_refused_in_alarm),
        SCENARIO(refused_request_stays_part),
        SCENARIO(part_protection_holds_in_the_exit),
        SCENARIO(part_protection_does_not_stall),
        SCENARIO(without_part_there_is_no_protection_to_hold),
        SCENARIO(delays_belong_to_mode_and_zone),
        SCENARIO(forced_entry_door_is_read_at_the_end),
        SCENARIO(forced_entry_door_closed_in_time_is_live),
        SCENARIO(forced_follower_is_read_at_the_end),
        SCENARIO(opened_after_a_forced_request_is_not_bypassed),
        SCENARIO(becomes_live_after_the_end),
        SCENARIO(closing_in_the_exit_does_not_count),
        SCENARIO(common_area_takes_over_the_exit),
        SCENARIO(common_door_starts_its_own_entry),
        SCENARIO(members_code_unsets_the_common_area),
        SCENARIO(members_failed_exit_leaves_it_unset),
        SCENARIO(swinger_counts_an_aborted_alarm),
        SCENARIO(swinger_does_not_count_lone_trips),
        SCENARIO(swinger_clears_at_the_next_setting),
        SCENARIO(swinger_clears_eight_hours_after_the_last_trip),
        SCENARIO(swinger_of_a_24_hour_zone_outlasts_a_setting),
        SCENARIO(partner_swung_out),
        SCENARIO(partner_out_in_this_mode),
        SCENARIO(partner_lost),
        SCENARIO(partner_masked),
        SCENARIO(partner_out_after_the_siren),
        SCENARIO(open_partner_is_no_second_trip),
        SCENARIO(pulse_count_comes_before_cross_zone),
        SCENARIO(partner_lost_in_the_window),
        SCENARIO(tamper_in_entry),
        SCENARIO(tamper_in_entry_by_en),
        SCENARIO(panel_tamper_concerns_every_set_area),
        SCENARIO(panel_tamper_while_unset_stays_inside),
        SCENARIO(lost_in_entry_is_held),
};
SCENARIO_LIST(fine_print, rows);
