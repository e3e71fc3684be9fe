/* Design page, "Course of an alarm". */
#include "scene.h"

static void house_set(struct scene *s) {
    starts_set(s, HOME, FULL);
}

/* page: "cross-zone: a lone trip is logged" */
static void lone_trip_is_logged(struct scene *s) {
    crosses(s, LOUNGE, PANE);
    house_set(s);
    at(s, 0), trips(s, LOUNGE);
    expect_says(s, PANEL_SAYS_LONE_TRIP, LOUNGE, 0);
    until(s, 70);
    at(s, 80), trips(s, PANE);
    expect_says(s, PANEL_SAYS_LONE_TRIP, PANE, 80);
    until(s, 600);
    expect_no_siren(s);
    expect_nothing_sent(s);
}

static void two_trips_are_an_alarm_on_both(struct scene *s) {
    crosses(s, LOUNGE, PANE);
    house_set(s);
    at(s, 0), trips(s, LOUNGE);
    at(s, 50), trips(s, PANE);
    until(s, 80);
    expect_siren(s, 50, STILL);
    expect_signal(s, EVENT_INTRUSION, LOUNGE, 80);
    expect_signal(s, EVENT_INTRUSION, PANE, 80);
}

static void unset_ends_the_cross_zone_window(struct scene *s) {
    crosses(s, PANE, WINDOW);
    house_set(s);
    at(s, 0), trips(s, PANE);
    at(s, 10), unsets(s, ANNA, ON_HOME);
    at(s, 20), sets(s, ANNA, ON_HOME, NIGHT);
    at(s, 30), trips(s, WINDOW);
    until(s, 600);
    expect_no_siren(s);
}

/* page: "option "unverified" signal" */
static void lone_trip_may_signal(struct scene *s) {
    s->settings->lone_cross_signal = true;
    crosses(s, LOUNGE, PANE);
    house_set(s);
    at(s, 10), trips(s, LOUNGE);
    until(s, 600);
    expect_signals(s, EVENT_UNVERIFIED, LOUNGE, 1);
    expect_no_signal(s, EVENT_INTRUSION);
    expect_no_siren(s);
}

/* page: "the same detector twice `does not | counts`" */
static void same_detector_twice_does_not_count(struct scene *s) {
    crosses(s, LOUNGE, PANE);
    house_set(s);
    at(s, 0), trips(s, LOUNGE);
    at(s, 20), trips(s, LOUNGE);
    until(s, 600);
    expect_no_siren(s);
}

static void same_detector_twice_counts(struct scene *s) {
    s->settings->same_cross_counts = true;
    crosses(s, LOUNGE, PANE);
    house_set(s);
    at(s, 0), trips(s, LOUNGE);
    at(s, 20), trips(s, LOUNGE);
    expect_siren(s, 20, STILL);
}

/* page: "report waits for the abort window: one timer per area from the first siren, all held zones share its end" */
static void held_zones_share_the_end(struct scene *s) {
    house_set(s);
    at(s, 0), trips(s, WINDOW);
    at(s, 20), trips(s, SKYLIGHT);
    until(s, 29);
    expect_nothing_sent(s);
    until(s, 30);
    expect_signal(s, EVENT_INTRUSION, WINDOW, 30);
    expect_signal(s, EVENT_INTRUSION, SKYLIGHT, 30);
}

static void no_abort_window_no_waiting(struct scene *s) {
    s->settings->abort_window_s = 0;
    house_set(s);
    at(s, 10), trips(s, WINDOW);
    expect_signal(s, EVENT_INTRUSION, WINDOW, 10);
}

/* page: "exempt classes go at once and release nothing else." */
static void exempt_class_releases_nothing(struct scene *s) {
    house_set(s);
    at(s, 0), trips(s, WINDOW);
    at(s, 10), opens(s, SMOKE), opens(s, HOLD_UP);
    expect_signal(s, EVENT_FIRE, SMOKE, 10);
    expect_signal(s, EVENT_HOLD_UP, HOLD_UP, 10);
    at(s, 20), unsets(s, ANNA, ON_HOME);
    until(s, 600);
    expect_no_signal(s, EVENT_INTRUSION);
}

/* page: "Unset before its end: nothing is sent, the user is told so." */
static void unset_in_the_abort_window(struct scene *s) {
    house_set(s);
    at(s, 0), trips(s, WINDOW);
    at(s, 29), unsets(s, ANNA, ON_HOME);
    until(s, 600);
    expect_siren(s, 0, 29);
    expect_nothing_sent(s);
    expect_says(s, PANEL_SAYS_NOTHING_SENT, ANY, 29);
}

static void nothing_sent_is_said_only_of_alarms(struct scene *s) {
    house_set(s);
    at(s, 10), unsets(s, ANNA, ON_HOME);
    expect_never_says(s, PANEL_SAYS_NOTHING_SENT, ANY);
    expect_never_says(s, PANEL_SAYS_CANCEL_SENT, ANY);
}

/* page: "After: sent; unset in the **cancel window** sends a cancel." */
static void unset_in_the_cancel_window(struct scene *s) {
    house_set(s);
    at(s, 0), trips(s, WINDOW);
    at(s, 329), unsets(s, ANNA, ON_HOME);
    until(s, 600);
    expect_signal_of(s, EVENT_CANCEL, ANY, HOME, ANNA, 329);
    expect_says(s, PANEL_SAYS_CANCEL_SENT, ANY, 329);
}

static void unset_after_the_cancel_window(struct scene *s) {
    house_set(s);
    at(s, 0), trips(s, WINDOW);
    at(s, 331), unsets(s, ANNA, ON_HOME);
    until(s, 600);
    expect_no_signal(s, EVENT_CANCEL);
}

/* page: "Further zones each signal; the same zone only after it restored." */
static void further_zones_each_signal(struct scene *s) {
    house_set(s);
    at(s, 0), opens(s, WINDOW);
    at(s, 100), opens(s, SKYLIGHT);
    at(s, 110), trips(s, PANE);
    until(s, 600);
    expect_signals(s, EVENT_INTRUSION, WINDOW, 1);
    expect_signals(s, EVENT_INTRUSION, SKYLIGHT, 1);
    expect_signals(s, EVENT_INTRUSION, PANE, 1);
}

static void same_zone_signals_after_it_restored(struct scene *s) {
    house_set(s);
    at(s, 0), opens(s, WINDOW);
    at(s, 100), opens(s, WINDOW);
    until(s, 150);
    expect_signals(s, EVENT_INTRUSION, WINDOW, 1);
    at(s, 160), closes(s, WINDOW);
    at(s, 170), opens(s, WINDOW);
    until(s, 600);
    expect_signals(s, EVENT_INTRUSION, WINDOW, 2);
}

/* The restore comes at the siren's end only: a second trip before it is of the same, unrestored alarm. */
static void same_zone_is_silent_until_its_late_restore(struct scene *s) {
    s->settings->swinger_limit = 6;
    s->settings->restore = SITE_RESTORE_SIREN_END;
    house_set(s);
    at(s, 0), trips(s, WINDOW);
    at(s, 100), trips(s, WINDOW);
    until(s, 179);
    expect_signals(s, EVENT_INTRUSION, WINDOW, 1);
    until(s, 300);
    at(s, 310), trips(s, WINDOW);
    until(s, 400);
    expect_signals(s, EVENT_INTRUSION, WINDOW, 2);
}

/* page: "Restore is sent at `closure | siren end | unset`." */
static void restore_at_closure(struct scene *s) {
    house_set(s);
    at(s, 0), opens(s, WINDOW);
    at(s, 100), closes(s, WINDOW);
    until(s, 600);
    expect_restore(s, EVENT_INTRUSION, WINDOW, 100);
    expect_restores(s, EVENT_INTRUSION, ANY, 1);
}

static void restore_at_siren_end(struct scene *s) {
    s->settings->restore = SITE_RESTORE_SIREN_END;
    house_set(s);
    at(s, 0), opens(s, WINDOW);
    at(s, 100), closes(s, WINDOW);
    until(s, 600);
    expect_restore(s, EVENT_INTRUSION, WINDOW, 180);
    expect_restores(s, EVENT_INTRUSION, ANY, 1);
}

static void restore_at_unset(struct scene *s) {
    s->settings->restore = SITE_RESTORE_UNSET;
    house_set(s);
    at(s, 0), opens(s, WINDOW);
    at(s, 100), closes(s, WINDOW);
    at(s, 500), unsets(s, ANNA, ON_HOME);
    until(s, 600);
    expect_restore(s, EVENT_INTRUSION, WINDOW, 500);
    expect_restores(s, EVENT_INTRUSION, ANY, 1);
}

static void no_restore_of_what_was_not_sent(struct scene *s) {
    house_set(s);
    at(s, 0), opens(s, WINDOW);
    at(s, 10), unsets(s, ANNA, ON_HOME);
    at(s, 20), closes(s, WINDOW);
    expect_restores(s, EVENT_INTRUSION, ANY, 0);
}

/* page: "Siren time ends: a zone still open is out until it closes, then live again; other zones stay live; the siren
 * restarts only on a new trip." */
static void after_siren_time(struct scene *s) {
    house_set(s);
    at(s, 0), opens(s, WINDOW);
    until(s, 240);
    expect_siren(s, 0, 180);
    at(s, 250), trips(s, SKYLIGHT);
    expect_siren_starts(s, 250);
    until(s, 500);
    at(s, 510), closes(s, WINDOW);
    at(s, 520), opens(s, WINDOW);
    expect_siren_starts(s, 520);
    expect_sirens(s, 3);
}

/* The entry door still open after the siren starts no entry by a level that is only repeated. */
static void open_zone_is_out_after_the_siren(struct scene *s) {
    s->zones[FRONT].supervised = true;
    house_set(s);
    at(s, 0), opens(s, FRONT);
    until(s, 250);
    at(s, 260), checks_in(s, FRONT, true);
    until(s, 600);
    expect_sirens(s, 1);
    at(s, 610), closes(s, FRONT);
    at(s, 620), opens(s, FRONT);
    expect_phase(s, HOME, PANEL_ENTERING);
}

/* page: "**Swinger**: alarm trips per set period; at the limit no siren and no signal from that zone" */
static void swinger_is_silent_at_the_limit(struct scene *s) {
    house_set(s);
    at(s, 0), trips(s, LOUNGE);
    at(s, 1000), trips(s, LOUNGE);
    at(s, 2000), trips(s, LOUNGE);
    until(s, 3000);
    expect_siren_starts(s, 0);
    expect_siren_starts(s, 1000);
    expect_sirens(s, 2);
    expect_signals(s, EVENT_INTRUSION, LOUNGE, 2);
    expect_says(s, PANEL_SAYS_SWUNG_OUT, LOUNGE, 2000);
    at(s, 4000), trips(s, PANE);
    expect_siren_starts(s, 4000);
}

static void swinger_may_be_off_for_a_zone(struct scene *s) {
    s->zones[LOUNGE].swinger = false;
    house_set(s);
    at(s, 0), trips(s, LOUNGE);
    at(s, 1000), trips(s, LOUNGE);
    at(s, 2000), trips(s, LOUNGE);
    until(s, 3000);
    expect_signals(s, EVENT_INTRUSION, LOUNGE, 3);
}

static void swinger_may_be_off(struct scene *s) {
    s->settings->swinger_limit = 0;
    house_set(s);
    for (int32_t i = 0; i < 8; i++) {
        at(s, i * 1000), trips(s, LOUNGE);
    }
    until(s, 9000);
    expect_signals(s, EVENT_INTRUSION, LOUNGE, 8);
}

/* Back after 8 h it is heard like any other; the restore that the limit kept back (CP-01 4.3.2 [S7]) goes first. */
static void swinger_back_on_duty_is_heard(struct scene *s) {
    house_set(s);
    at(s, 0), trips(s, LOUNGE);
    at(s, 1000), trips(s, LOUNGE);
    until(s, 1001 + 8 * 3600);
    expect_restore(s, EVENT_INTRUSION, LOUNGE, 1000 + 8 * 3600);
    at(s, 40000), trips(s, LOUNGE);
    until(s, 50000);
    expect_signals(s, EVENT_INTRUSION, LOUNGE, 3);
}

static void recent_closing_ends_with_the_mode(struct scene *s) {
    at(s, 0), sets(s, ANNA, ON_HOME, PART);
    at(s, 100), sets(s, ANNA, ON_HOME, FULL);
    at(s, 110), trips(s, FRONT);
    at(s, 130), trips(s, WINDOW);
    until(s, 400);
    expect_recent(s, WINDOW, false);
}

/* page: "**Confirmation**: the first trip → unconfirmed, the window starts; a second *independent* detector →
 * confirmed" */
static void confirmed(struct scene *s) {
    s->settings->confirm_window_s = 1800;
    house_set(s);
    at(s, 0), trips(s, WINDOW);
    until(s, 500);
    expect_signals(s, EVENT_INTRUSION, WINDOW, 1);
    expect_no_signal(s, EVENT_CONFIRMED);
    at(s, 600), trips(s, LOUNGE);
    until(s, 700);
    expect_signals(s, EVENT_CONFIRMED, ANY, 1);
}

/* Confirmed while the first alarm is still held: both leave together, or neither. */
static void confirmed_while_held(struct scene *s) {
    s->settings->confirm_window_s = 1800;
    house_set(s);
    at(s, 0), trips(s, WINDOW);
    at(s, 10), trips(s, LOUNGE);
    expect_no_signal(s, EVENT_CONFIRMED);
    until(s, 30);
    expect_signals(s, EVENT_INTRUSION, ANY, 2);
    expect_signal(s, EVENT_CONFIRMED, ANY, 30);
}

static void confirmed_and_unset_in_time(struct scene *s) {
    s->settings->confirm_window_s = 1800;
    house_set(s);
    at(s, 0), trips(s, WINDOW);
    at(s, 10), trips(s, LOUNGE);
    at(s, 20), unsets(s, ANNA, ON_HOME);
    at(s, 30), sets(s, ANNA, ON_HOME, NIGHT);
    at(s, 40), trips(s, PANE);
    until(s, 600);
    expect_no_signal(s, EVENT_CONFIRMED);
}

static void same_device_does_not_confirm(struct scene *s) {
    s->settings->confirm_window_s = 1800;
    s->zones[PANE].device = WINDOW;
    house_set(s);
    at(s, 0), trips(s, WINDOW);
    at(s, 600), trips(s, PANE);
    at(s, 700), trips(s, WINDOW);
    until(s, 1000);
    expect_no_signal(s, EVENT_CONFIRMED);
}

static void too_late_to_confirm(struct scene *s) {
    s->settings->confirm_window_s = 1800;
    house_set(s);
    at(s, 0), trips(s, WINDOW);
    at(s, 1801), trips(s, LOUNGE);
    until(s, 1900);
    expect_no_signal(s, EVENT_CONFIRMED);
    at(s, 2000), trips(s, PANE);
    until(s, 2100);
    expect_signals(s, EVENT_CONFIRMED, ANY, 1);
}

/* page: zone option "confirmation group". How one acts is common practice: zones of one group confirm each other, a
 * zone of another group or of none does not. Each group has its own window. */
static void grouped(struct scene *s) {
    s->settings->confirm_window_s = 1800;
    confirms_in(s, WINDOW, "rear");
    confirms_in(s, LOUNGE, "rear");
    confirms_in(s, SKYLIGHT, "roof");
    confirms_in(s, PANE, "roof");
    house_set(s);
}

static void a_group_confirms_within_itself(struct scene *s) {
    grouped(s);
    at(s, 0), trips(s, WINDOW);
    at(s, 100), trips(s, SKYLIGHT);
    until(s, 200);
    expect_no_signal(s, EVENT_CONFIRMED);
    at(s, 300), trips(s, LOUNGE);
    expect_signal(s, EVENT_CONFIRMED, LOUNGE, 300);
    expect_signals(s, EVENT_CONFIRMED, ANY, 1);
    at(s, 400), trips(s, PANE); /* the window that the skylight began runs beside the other */
    expect_signal(s, EVENT_CONFIRMED, PANE, 400);
    expect_signals(s, EVENT_CONFIRMED, ANY, 2);
}

static void each_group_has_its_own_window(struct scene *s) {
    grouped(s);
    at(s, 0), trips(s, WINDOW);
    at(s, 1000), trips(s, SKYLIGHT);
    expect_runs(s, PANEL_TIMER_CONFIRM, WINDOW, 800);
    expect_runs(s, PANEL_TIMER_CONFIRM, SKYLIGHT, 1800);
    at(s, 1900), trips(s, LOUNGE); /* the rear's window is over: this one begins another */
    expect_no_signal(s, EVENT_CONFIRMED);
    at(s, 2700), trips(s, PANE);
    expect_signals(s, EVENT_CONFIRMED, PANE, 1);
    at(s, 2750), unsets(s, ANNA, ON_HOME);
    expect_runs(s, PANEL_TIMER_CONFIRM, LOUNGE, -1);
    expect_runs(s, PANEL_TIMER_CONFIRM, SKYLIGHT, -1);
}

static void a_zone_without_a_group_confirms_nothing(struct scene *s) {
    grouped(s);
    s->zones[PANE].group = text_of("");
    at(s, 0), trips(s, PANE);
    expect_runs(s, PANEL_TIMER_CONFIRM, PANE, -1);
    at(s, 100), trips(s, CUPBOARD);
    at(s, 200), trips(s, SKYLIGHT);
    at(s, 300), trips(s, PANE);
    until(s, 1000);
    expect_no_signal(s, EVENT_CONFIRMED);
    expect_signals(s, EVENT_INTRUSION, ANY, 4);
}

/* A group does not reach into another area; a boundary door is of each that it serves. */
static void a_group_confirms_within_an_area(struct scene *s) {
    with_flat(s);
    s->settings->confirm_window_s = 1800;
    confirms_in(s, WINDOW, "rear");
    confirms_in(s, FLAT_WINDOW, "rear");
    confirms_in(s, FLAT_ROOM, "rear");
    confirms_in(s, BETWEEN, "rear");
    starts_set(s, HOME, FULL);
    starts_set(s, FLAT, FULL);
    at(s, 0), trips(s, WINDOW);
    at(s, 100), trips(s, FLAT_WINDOW);
    until(s, 200);
    expect_no_signal(s, EVENT_CONFIRMED);
    at(s, 300), trips(s, FLAT_ROOM);
    expect_signal(s, EVENT_CONFIRMED, FLAT_ROOM, 300);
}

static void no_confirmation_where_not_keyed_in(struct scene *s) {
    house_set(s);
    at(s, 0), trips(s, WINDOW);
    at(s, 100), trips(s, LOUNGE);
    until(s, 500);
    expect_no_signal(s, EVENT_CONFIRMED);
}

/* page: "start of entry disables it (`rules.md` 2.5)" [S30] */
static void entry_disables_confirmation(struct scene *s) {
    s->settings->confirm_window_s = 1800;
    house_set(s);
    at(s, 0), opens(s, FRONT);
    at(s, 40), trips(s, LOUNGE);
    at(s, 50), trips(s, WINDOW);
    until(s, 1000);
    expect_no_signal(s, EVENT_CONFIRMED);
    expect_signals(s, EVENT_INTRUSION, LOUNGE, 1);
}

/* page: "window over with the zone still active → that zone is out." So its level, read again after a power loss, is no
 * trip; before the window's end it is. Other zones are live. */
static void window_over_and_power_lost(struct scene *s, int32_t lost_s) {
    s->settings->confirm_window_s = 1800;
    s->settings->siren_time_s = 3600;
    house_set(s);
    at(s, 0), opens(s, WINDOW);
    until(s, lost_s);
    happens(s, PANEL_IN_POWER_LOST, ANY);
    at(s, lost_s + 10), happens(s, PANEL_IN_POWER_BACK, ANY);
    until(s, lost_s + 100);
}

static void zone_active_at_the_end_of_the_window_is_out(struct scene *s) {
    window_over_and_power_lost(s, 1801);
    expect_sirens(s, 1);
    at(s, 2010), trips(s, LOUNGE);
    until(s, 2100);
    expect_siren_starts(s, 2010);
    expect_no_signal(s, EVENT_CONFIRMED);
}

static void zone_active_within_the_window_is_not_out(struct scene *s) {
    window_over_and_power_lost(s, 1799);
    expect_siren_starts(s, 1799 + 70);
}

/* page: "**Recent closing** within the window after setting." V10 and V11 hold the figures; a code ends it. */
static void recent_closing_is_of_this_setting(struct scene *s) {
    at(s, 0), sets(s, ANNA, ON_HOME, NIGHT);
    at(s, 10), unsets(s, ANNA, ON_HOME);
    at(s, 20), sets(s, ANNA, ON_HOME, NIGHT);
    at(s, 139), trips(s, WINDOW);
    until(s, 300);
    expect_recent(s, WINDOW, true);
}

/* page: "**Early warning** option: "entry started" goes at once, unset cancels, else the station alarms." */
static void early_warning(struct scene *s) {
    s->settings->early_warning = true;
    house_set(s);
    at(s, 10), opens(s, FRONT);
    expect_signal(s, EVENT_ENTRY_STARTED, FRONT, 10);
    at(s, 30), unsets(s, ANNA, ON_HOME);
    expect_restore(s, EVENT_ENTRY_STARTED, ANY, 30);
    expect_no_signal(s, EVENT_INTRUSION);
}

static void no_early_warning_where_not_keyed_in(struct scene *s) {
    house_set(s);
    at(s, 10), opens(s, FRONT);
    until(s, 20);
    expect_no_signal(s, EVENT_ENTRY_STARTED);
}

/* page: "**After**: memory shown" */
static void memory_is_shown(struct scene *s) {
    house_set(s);
    at(s, 0), trips(s, WINDOW);
    at(s, 100), unsets(s, ANNA, ON_HOME);
    expect_says(s, PANEL_SAYS_ALARM_MEMORY, WINDOW, 100);
    expect_never_says(s, PANEL_SAYS_ALARM_MEMORY, SKYLIGHT);
}

/* page: "reset by `user | installer | station`. `user`: the unset is the reset and blocks nothing" */
static void unset_is_the_users_reset(struct scene *s) {
    house_set(s);
    at(s, 0), trips(s, WINDOW);
    at(s, 100), unsets(s, ANNA, ON_HOME);
    at(s, 110), sets(s, ANNA, ON_HOME, NIGHT);
    expect_mode(s, HOME, NIGHT);
    expect_never_says(s, PANEL_SAYS_RESET_NEEDED, ANY);
}

/* page: "the others block the next setting." */
static void needs_reset_by(struct scene *s, enum site_reset reset, enum panel_source by) {
    s->settings->reset = reset;
    house_set(s);
    at(s, 0), trips(s, WINDOW);
    at(s, 100), unsets(s, ANNA, ON_HOME);
    at(s, 110), resets(s, PANEL_BY_KEYPAD);
    at(s, 115), resets(s, by == PANEL_BY_STATION ? PANEL_BY_INSTALLER : PANEL_BY_STATION);
    at(s, 120), sets(s, ANNA, ON_HOME, NIGHT);
    expect_phase(s, HOME, PANEL_UNSET);
    expect_says(s, PANEL_SAYS_RESET_NEEDED, ANY, 120);
    at(s, 130), resets(s, by);
    at(s, 140), sets(s, ANNA, ON_HOME, NIGHT);
    expect_mode(s, HOME, NIGHT);
}

static void installer_must_reset(struct scene *s) {
    needs_reset_by(s, SITE_RESET_INSTALLER, PANEL_BY_INSTALLER);
}

static void station_must_reset(struct scene *s) {
    needs_reset_by(s, SITE_RESET_STATION, PANEL_BY_STATION);
}

static const struct scenario rows[] = {
        SCENARIO(lone_trip_is_logged),
        SCENARIO(two_trips_are_an_alarm_on_both),
        SCENARIO(unset_ends_the_cross_zone_window),
        SCENARIO(lone_trip_may_signal),
        SCENARIO(same_detector_twice_does_not_count),
        SCENARIO(same_detector_twice_counts),
        SCENARIO(held_zones_share_the_end),
        SCENARIO(no_abort_window_no_waiting),
        SCENARIO(exempt_class_releases_nothing),
        SCENARIO(unset_in_the_abort_window),
        SCENARIO(nothing_sent_is_said_only_of_alarms),
        SCENARIO(unset_in_the_cancel_window),
        SCENARIO(unset_after_the_cancel_window),
        SCENARIO(further_zones_each_signal),
        SCENARIO(same_zone_signals_after_it_restored),
        SCENARIO(same_zone_is_silent_until_its_late_restore),
        SCENARIO(restore_at_closure),
        SCENARIO(restore_at_siren_end),
        SCENARIO(restore_at_unset),
        SCENARIO(no_restore_of_what_was_not_sent),
        SCENARIO(after_siren_time),
        SCENARIO(open_zone_is_out_after_the_siren),
        SCENARIO(swinger_is_silent_at_the_limit),
        SCENARIO(swinger_may_be_off_for_a_zone),
        SCENARIO(swinger_may_be_off),
        SCENARIO(swinger_back_on_duty_is_heard),
        SCENARIO(confirmed),
        SCENARIO(confirmed_while_held),
        SCENARIO(confirmed_and_unset_in_time),
        SCENARIO(same_device_does_not_confirm),
        SCENARIO(too_late_to_confirm),
        SCENARIO(a_group_confirms_within_itself),
        SCENARIO(each_group_has_its_own_window),
        SCENARIO(a_zone_without_a_group_confirms_nothing),
        SCENARIO(a_group_confirms_within_an_area),
        SCENARIO(no_confirmation_where_not_keyed_in),
        SCENARIO(entry_disables_confirmation),
        SCENARIO(zone_active_at_the_end_of_the_window_is_out),
        SCENARIO(zone_active_within_the_window_is_not_out),
        SCENARIO(recent_closing_is_of_this_setting),
        SCENARIO(recent_closing_ends_with_the_mode),
        SCENARIO(early_warning),
        SCENARIO(no_early_warning_where_not_keyed_in),
        SCENARIO(memory_is_shown),
        SCENARIO(unset_is_the_users_reset),
        SCENARIO(installer_must_reset),
        SCENARIO(station_must_reset),
};
SCENARIO_LIST(alarms, rows);
