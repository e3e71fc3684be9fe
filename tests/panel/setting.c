/* Design page, "Setting", but for the exit itself: exit.c. */
#include "scene.h"

static void refuses_for(struct scene *s, int zone) {
    sets(s, ANNA, ON_HOME, FULL);
    expect_phase(s, HOME, PANEL_UNSET);
    expect_says(s, PANEL_SAYS_REFUSED, ANY, s->player.now_s);
    expect_says(s, PANEL_SAYS_NOT_READY, zone, s->player.now_s);
}

/* page: "An open contact, shock, glass-break, tamper or hold-up refuses setting and names the zones ("not ready")" */
static void open_contact_refuses(struct scene *s) {
    at(s, 10), opens(s, WINDOW), opens(s, CUPBOARD);
    at(s, 20), refuses_for(s, WINDOW);
    expect_says(s, PANEL_SAYS_NOT_READY, CUPBOARD, 20);
    expect_never_says(s, PANEL_SAYS_NOT_READY, SKYLIGHT);
}

static void open_shock_refuses(struct scene *s) {
    s->profiles[SKYLIGHT].sense = SITE_SHOCK;
    at(s, 10), opens(s, SKYLIGHT);
    at(s, 20), refuses_for(s, SKYLIGHT);
}

static void open_glass_break_refuses(struct scene *s) {
    at(s, 10), opens(s, PANE);
    at(s, 20), refuses_for(s, PANE);
}

static void tamper_refuses(struct scene *s) {
    at(s, 10), happens(s, PANEL_IN_TAMPER, LOUNGE);
    at(s, 20), refuses_for(s, LOUNGE);
}

static void active_hold_up_refuses(struct scene *s) {
    at(s, 10), opens(s, HOLD_UP);
    at(s, 20), refuses_for(s, HOLD_UP);
}

/* So does anything else that is open and not motion [P]. */
static void other_open_zones_refuse(struct scene *s) {
    at(s, 10), opens(s, GAS), opens(s, WATER), opens(s, AID), opens(s, SMOKE);
    at(s, 20), refuses_for(s, GAS);
    expect_says(s, PANEL_SAYS_NOT_READY, WATER, 20);
    expect_says(s, PANEL_SAYS_NOT_READY, AID, 20);
    expect_says(s, PANEL_SAYS_NOT_READY, SMOKE, 20);
}

/* What is out in the mode asked for is not in its way. */
static void open_zone_that_is_out_does_not_refuse(struct scene *s) {
    at(s, 10), opens(s, CUPBOARD);
    at(s, 20), sets(s, ANNA, ON_HOME, PART);
    expect_mode(s, HOME, PART);
}

/* Common practice: an open door makes the area not ready and its closing makes it ready again. */
static void open_then_closed_is_ready(struct scene *s) {
    s->settings->entry_open_allowed = false;
    at(s, 10), opens(s, FRONT);
    expect_ready(s, HOME, FULL, false);
    expect_in_the_way(s, HOME, FULL, FRONT);
    at(s, 20), closes(s, FRONT);
    expect_ready(s, HOME, FULL, true);
    at(s, 30), sets(s, ANNA, ON_HOME, FULL);
    expect_phase(s, HOME, PANEL_EXITING);
}

/* page: "motion does not block a timed exit unless `motion_blocks`" */
static void motion_does_not_block(struct scene *s) {
    at(s, 10), opens(s, LOUNGE), opens(s, HALL);
    at(s, 20), sets(s, ANNA, ON_HOME, FULL);
    expect_phase(s, HOME, PANEL_EXITING);
}

static void motion_blocks_where_keyed_in(struct scene *s) {
    s->settings->motion_blocks = true;
    at(s, 10), opens(s, LOUNGE);
    at(s, 20), refuses_for(s, LOUNGE);
}

/* page: "entry doors by `entry_open_allowed`" */
static void entry_door_open_allowed(struct scene *s) {
    at(s, 10), opens(s, FRONT);
    at(s, 20), sets(s, ANNA, ON_HOME, FULL);
    expect_phase(s, HOME, PANEL_EXITING);
}

static void entry_door_open_refused(struct scene *s) {
    s->settings->entry_open_allowed = false;
    at(s, 10), opens(s, FRONT);
    at(s, 20), refuses_for(s, FRONT);
}

/* page: "each fault `refuse | user acknowledges | ignore`, logged" */
static void fault_refuses(struct scene *s) {
    at(s, 10), happens(s, PANEL_IN_MAINS_LOST, ANY);
    at(s, 20), sets(s, ANNA, ON_HOME, FULL);
    expect_says(s, PANEL_SAYS_REFUSED, ANY, 20);
    at(s, 30), sets_knowing(s, ANNA, ON_HOME, FULL);
    expect_phase(s, HOME, PANEL_UNSET);
    at(s, 40), happens(s, PANEL_IN_MAINS_BACK, ANY);
    at(s, 50), sets(s, ANNA, ON_HOME, FULL);
    expect_phase(s, HOME, PANEL_EXITING);
    expect_nothing_logged(s);
}

static void fault_to_be_acknowledged(struct scene *s) {
    s->settings->faults = SITE_FAULT_ACKNOWLEDGE;
    at(s, 10), happens(s, PANEL_IN_PATH_LOST, ANY);
    at(s, 20), sets(s, ANNA, ON_HOME, FULL);
    expect_phase(s, HOME, PANEL_UNSET);
    expect_nothing_logged(s);
    at(s, 30), sets_knowing(s, ANNA, ON_HOME, FULL);
    expect_phase(s, HOME, PANEL_EXITING);
    expect_logged(s, EVENT_PATH, ANY, ANNA, PANEL_WHY_ACKNOWLEDGED, 30);
}

/* Every fault that stands is a line of its own; a device lost is one of its area alone. */
static void every_acknowledged_fault_is_logged(struct scene *s) {
    with_flat(s);
    s->settings->faults = SITE_FAULT_ACKNOWLEDGE;
    s->zones[WINDOW].supervised = true;
    until(s, 12 * 3600);
    at(s, 50000), happens(s, PANEL_IN_MAINS_LOST, ANY), happens(s, PANEL_IN_BATTERY_LOW, ANY);
    at(s, 50010), sets_knowing(s, CARA, ON_FLAT, FULL);
    expect_logged(s, EVENT_MAINS, ANY, CARA, PANEL_WHY_ACKNOWLEDGED, 50010);
    expect_logged(s, EVENT_PANEL_BATTERY, ANY, CARA, PANEL_WHY_ACKNOWLEDGED, 50010);
    at(s, 50020), sets_knowing(s, BEN, ON_HOME, FULL);
    expect_logged(s, EVENT_SUPERVISION, WINDOW, BEN, PANEL_WHY_ACKNOWLEDGED, 50020);
    expect_no_signal(s, EVENT_PATH);
}

/* What stood in the way did: nothing was set in spite of the fault. */
static void refused_request_logs_no_fault(struct scene *s) {
    s->settings->faults = SITE_FAULT_IGNORE;
    at(s, 10), happens(s, PANEL_IN_PATH_LOST, ANY), opens(s, WINDOW);
    at(s, 20), sets(s, ANNA, ON_HOME, FULL);
    expect_says(s, PANEL_SAYS_REFUSED, WINDOW, 20);
    expect_nothing_logged(s);
}

static void fault_ignored(struct scene *s) {
    s->settings->faults = SITE_FAULT_IGNORE;
    at(s, 10), happens(s, PANEL_IN_BATTERY_LOW, ANY);
    at(s, 20), sets(s, ANNA, ON_HOME, FULL);
    expect_phase(s, HOME, PANEL_EXITING);
    expect_logged(s, EVENT_PANEL_BATTERY, ANY, ANNA, PANEL_WHY_IGNORED, 20);
}

/* page: "Bypasses what is open and may be bypassed; on closing `stays out | becomes live`; a forced-set signal." */
static void forced_leaves_the_open_out(struct scene *s) {
    at(s, 10), opens(s, WINDOW);
    at(s, 20), forces(s, ANNA, ON_HOME, NIGHT);
    expect_mode(s, HOME, NIGHT);
    expect_says(s, PANEL_SAYS_BYPASSED, WINDOW, 20);
    expect_signals(s, EVENT_FORCED_SET, ANY, 1);
    at(s, 100), closes(s, WINDOW);
    at(s, 110), opens(s, WINDOW);
    until(s, 200);
    expect_no_siren(s);
}

static void forced_becomes_live_on_closing(struct scene *s) {
    s->settings->reopened = SITE_BECOMES_LIVE;
    at(s, 10), opens(s, WINDOW);
    at(s, 20), forces(s, ANNA, ON_HOME, NIGHT);
    at(s, 100), closes(s, WINDOW);
    at(s, 110), opens(s, WINDOW);
    expect_siren(s, 110, STILL);
}

static void forced_bypasses_only_what_may_be(struct scene *s) {
    s->zones[WINDOW].bypassable = false;
    at(s, 10), opens(s, WINDOW), opens(s, SKYLIGHT);
    at(s, 20), forces(s, ANNA, ON_HOME, NIGHT);
    expect_phase(s, HOME, PANEL_UNSET);
    expect_says(s, PANEL_SAYS_NOT_READY, WINDOW, 20);
    expect_bypassed(s, SKYLIGHT, false);
}

/* A request that is called forced, but finds nothing open, is not. */
static void nothing_to_force_is_no_forced_set(struct scene *s) {
    at(s, 20), forces(s, ANNA, ON_HOME, NIGHT);
    expect_mode(s, HOME, NIGHT);
    expect_no_signal(s, EVENT_FORCED_SET);
}

/* page: "Never tamper, hold-up, life safety." */
static void tamper_is_never_forced(struct scene *s) {
    at(s, 10), happens(s, PANEL_IN_TAMPER, LOUNGE);
    at(s, 20), forces(s, ANNA, ON_HOME, FULL);
    expect_phase(s, HOME, PANEL_UNSET);
    expect_bypassed(s, LOUNGE, false);
}

static void hold_up_is_never_forced(struct scene *s) {
    at(s, 10), opens(s, HOLD_UP);
    at(s, 20), forces(s, ANNA, ON_HOME, FULL);
    expect_phase(s, HOME, PANEL_UNSET);
    expect_bypassed(s, HOLD_UP, false);
}

static void life_safety_is_never_forced(struct scene *s) {
    at(s, 10), opens(s, SMOKE);
    at(s, 20), forces(s, ANNA, ON_HOME, NIGHT);
    at(s, 30), closes(s, SMOKE);
    expect_bypassed(s, SMOKE, false);
    at(s, 1000), opens(s, SMOKE);
    expect_signal(s, EVENT_FIRE, SMOKE, 1000);
}

/* page: "Bypass ends at unset unless `lasting`" */
static void bypass_ends_at_unset(struct scene *s) {
    at(s, 0), bypasses(s, ANNA, WINDOW);
    expect_signal(s, EVENT_BYPASS, WINDOW, 0);
    at(s, 10), sets(s, ANNA, ON_HOME, NIGHT);
    at(s, 20), trips(s, WINDOW);
    until(s, 100);
    expect_no_siren(s);
    at(s, 110), unsets(s, ANNA, ON_HOME);
    expect_bypassed(s, WINDOW, false);
    at(s, 120), sets(s, ANNA, ON_HOME, NIGHT);
    at(s, 130), trips(s, WINDOW);
    expect_siren(s, 130, STILL);
}

static void lasting_bypass_lasts(struct scene *s) {
    at(s, 0), bypasses_lastingly(s, ANNA, WINDOW);
    at(s, 10), sets(s, ANNA, ON_HOME, NIGHT);
    at(s, 110), unsets(s, ANNA, ON_HOME);
    expect_bypassed(s, WINDOW, true);
    at(s, 120), sets(s, ANNA, ON_HOME, NIGHT);
    at(s, 130), trips(s, WINDOW);
    until(s, 500);
    expect_no_siren(s);
}

/* page: "tamper stays live" */
static void tamper_of_a_bypassed_zone_is_live(struct scene *s) {
    at(s, 0), bypasses(s, ANNA, LOUNGE);
    at(s, 10), sets(s, ANNA, ON_HOME, NIGHT);
    at(s, 20), happens(s, PANEL_IN_TAMPER, LOUNGE);
    expect_siren_starts(s, 20);
    expect_signal(s, EVENT_TAMPER, LOUNGE, 20);
}

/* page: "a cross-zone partner of a bypassed zone acts alone." */
static void partner_of_a_bypassed_zone_acts_alone(struct scene *s) {
    crosses(s, WINDOW, SKYLIGHT);
    at(s, 0), bypasses(s, ANNA, SKYLIGHT);
    at(s, 10), sets(s, ANNA, ON_HOME, NIGHT);
    at(s, 20), trips(s, WINDOW);
    expect_siren(s, 20, STILL);
}

/* page: "Part, night: own exit time (0 allowed), own entry delay or instant." */
static void part_has_its_own_exit_time(struct scene *s) {
    s->settings->modes[NIGHT].exit_delay_s = 20;
    at(s, 0), sets(s, ANNA, ON_HOME, PART);
    expect_mode(s, HOME, PART);
    at(s, 10), unsets(s, ANNA, ON_HOME);
    at(s, 100), sets(s, ANNA, ON_HOME, NIGHT);
    until(s, 119);
    expect_phase(s, HOME, PANEL_EXITING);
    until(s, 120);
    expect_mode(s, HOME, NIGHT);
}

static void night_has_its_own_entry_delay(struct scene *s) {
    s->zones[FRONT].delay[NIGHT] = BY_BACK;
    starts_set(s, HOME, NIGHT);
    at(s, 0), opens(s, FRONT);
    until(s, 44);
    expect_no_siren(s);
    until(s, 45);
    expect_siren(s, 45, STILL);
}

static void night_may_be_instant(struct scene *s) {
    s->zones[FRONT].in[NIGHT] = SITE_PERIMETER;
    s->zones[BACK].delay[NIGHT] = SITE_NONE;
    starts_set(s, HOME, NIGHT);
    at(s, 10), opens(s, BACK);
    expect_siren(s, 10, STILL);
    at(s, 20), unsets(s, ANNA, ON_HOME), closes(s, BACK);
    at(s, 30), sets(s, ANNA, ON_HOME, NIGHT);
    at(s, 40), opens(s, FRONT);
    expect_siren_starts(s, 40);
}

static void instant_door_ends_a_running_entry(struct scene *s) {
    s->zones[BACK].delay[NIGHT] = SITE_NONE;
    starts_set(s, HOME, NIGHT);
    at(s, 0), opens(s, FRONT);
    at(s, 10), opens(s, BACK);
    expect_siren(s, 10, STILL);
}

/* page: "Part → full starts an exit; full → part needs a code." */
static void part_to_full_starts_an_exit(struct scene *s) {
    starts_set(s, HOME, PART);
    at(s, 10), sets(s, ANNA, ON_HOME, FULL);
    expect_phase(s, HOME, PANEL_EXITING);
    at(s, 20), trips(s, FRONT);
    until(s, 69);
    expect_phase(s, HOME, PANEL_EXITING);
    until(s, 70);
    expect_mode(s, HOME, FULL);
}

/* Inside doors may stand open while part set, and an unset does not mind them, whatever runs. */
static void unset_does_not_mind_open_inside_doors(struct scene *s) {
    s->settings->modes[NIGHT].exit_delay_s = 20;
    starts_set(s, HOME, PART);
    at(s, 10), opens(s, CUPBOARD);
    at(s, 20), unsets(s, ANNA, ON_HOME);
    at(s, 30), unsets(s, ANNA, ON_HOME);
    at(s, 40), sets(s, ANNA, ON_HOME, NIGHT);
    at(s, 50), unsets(s, ANNA, ON_HOME);
    at(s, 60), sets(s, ANNA, ON_HOME, PART);
    at(s, 70), opens(s, FRONT);
    at(s, 80), unsets(s, ANNA, ON_HOME);
    until(s, 600);
    expect_phase(s, HOME, PANEL_UNSET);
    expect_no_siren(s);
}

static void fob_goes_from_part_to_full(struct scene *s) {
    starts_set(s, HOME, PART);
    at(s, 0), trips(s, WINDOW);
    at(s, 5), unsets(s, ANNA, ON_HOME);
    at(s, 10), sets_by(s, PANEL_BY_FOB, ANNA, ON_HOME, PART);
    at(s, 20), happens(s, PANEL_IN_TAMPER, LOUNGE), happens(s, PANEL_IN_TAMPER_BACK, LOUNGE);
    at(s, 25), unsets(s, ANNA, ON_HOME);
    at(s, 30), sets_by(s, PANEL_BY_FOB, ANNA, ON_HOME, PART);
    at(s, 40), sets_by(s, PANEL_BY_FOB, ANNA, ON_HOME, FULL);
    expect_mode(s, HOME, FULL);
    expect_signal_of(s, EVENT_SET, ANY, HOME, ANNA, 40);
    at(s, 50), trips(s, LOUNGE);
    expect_siren_starts(s, 50);
}

/* A set period begins with each setting, at once or not: the swinger count of the one before is gone. */
static void fob_setting_begins_a_period(struct scene *s) {
    starts_set(s, HOME, FULL);
    at(s, 0), trips(s, LOUNGE);
    at(s, 500), trips(s, LOUNGE);
    at(s, 1000), unsets_by(s, PANEL_BY_FOB, ANNA, ON_HOME);
    at(s, 1010), sets_by(s, PANEL_BY_FOB, ANNA, ON_HOME, FULL);
    at(s, 1020), trips(s, LOUNGE);
    expect_siren_starts(s, 1020);
}

static void mode_change_at_once_begins_a_period(struct scene *s) {
    s->settings->swinger_limit = 1;
    s->settings->siren_time_s = 5;
    s->settings->abort_window_s = 0;
    s->zones[WINDOW].reports = false;
    starts_set(s, HOME, PART);
    at(s, 0), trips(s, WINDOW);
    at(s, 500), sets_by(s, PANEL_BY_FOB, ANNA, ON_HOME, FULL);
    expect_mode(s, HOME, FULL);
    at(s, 510), trips(s, WINDOW);
    expect_siren_starts(s, 510);
}

static void full_to_part_needs_a_code(struct scene *s) {
    starts_set(s, HOME, FULL);
    at(s, 10), sets(s, PANEL_NOBODY, ON_HOME, PART);
    expect_mode(s, HOME, FULL);
    at(s, 20), sets(s, ANNA, ON_HOME, PART);
    expect_mode(s, HOME, PART);
}

/* page: "Fob, remote: at once or timed; open zones `refuse | force`." */
static void fob_sets_at_once(struct scene *s) {
    at(s, 10), sets_by(s, PANEL_BY_FOB, ANNA, ON_HOME, FULL);
    expect_mode(s, HOME, FULL);
    at(s, 20), unsets_by(s, PANEL_BY_FOB, ANNA, ON_HOME);
    expect_phase(s, HOME, PANEL_UNSET);
    at(s, 30), sets_by(s, PANEL_BY_REMOTE, ANNA, ON_HOME, FULL);
    expect_mode(s, HOME, FULL);
}

static void fob_sets_timed(struct scene *s) {
    s->settings->fob_way = SITE_FOB_TIMED;
    at(s, 10), sets_by(s, PANEL_BY_FOB, ANNA, ON_HOME, FULL);
    until(s, 69);
    expect_phase(s, HOME, PANEL_EXITING);
    until(s, 70);
    expect_mode(s, HOME, FULL);
}

static void fob_is_refused_for_open_zones(struct scene *s) {
    at(s, 0), opens(s, WINDOW);
    at(s, 10), sets_by(s, PANEL_BY_FOB, ANNA, ON_HOME, FULL);
    expect_phase(s, HOME, PANEL_UNSET);
    expect_says(s, PANEL_SAYS_NOT_READY, WINDOW, 10);
}

static void fob_forces_open_zones(struct scene *s) {
    s->settings->fob_open = SITE_OPEN_FORCE;
    at(s, 0), opens(s, WINDOW);
    at(s, 10), sets_by(s, PANEL_BY_FOB, ANNA, ON_HOME, FULL);
    expect_mode(s, HOME, FULL);
    expect_bypassed(s, WINDOW, true);
    expect_signals(s, EVENT_FORCED_SET, ANY, 1);
}

/* page: "Auto-set: warn w min → postpone p min up to n times → full" */
static void auto_set_warns_first(struct scene *s) {
    at(s, 0), calendar(s, ON_HOME);
    expect_tone(s, PANEL_TONE_WARNING, true, 0);
    until(s, 599);
    expect_phase(s, HOME, PANEL_UNSET);
    until(s, 600);
    expect_tone(s, PANEL_TONE_WARNING, false, 600);
    until(s, 660);
    expect_mode(s, HOME, FULL);
}

static void auto_set_is_postponed(struct scene *s) {
    at(s, 0), calendar(s, ON_HOME);
    at(s, 100), postpones(s, ANNA, ON_HOME);
    expect_tone(s, PANEL_TONE_WARNING, false, 100);
    expect_never_says(s, PANEL_SAYS_NOTHING_TO_POSTPONE, ANY);
    expect_never_says(s, PANEL_SAYS_NO_MORE_POSTPONING, ANY);
    until(s, 1899);
    expect_phase(s, HOME, PANEL_UNSET);
    until(s, 1900 + 600 + 60);
    expect_mode(s, HOME, FULL);
}

static void auto_set_is_postponed_n_times(struct scene *s) {
    at(s, 0), calendar(s, ON_HOME);
    at(s, 100), postpones(s, ANNA, ON_HOME);
    at(s, 2000), postpones(s, ANNA, ON_HOME);
    until(s, 3700);
    expect_phase(s, HOME, PANEL_UNSET);
    expect_never_says(s, PANEL_SAYS_NO_MORE_POSTPONING, ANY);
    at(s, 3900), postpones(s, ANNA, ON_HOME);
    expect_says(s, PANEL_SAYS_NO_MORE_POSTPONING, ANY, 3900);
    expect_never_says(s, PANEL_SAYS_NOTHING_TO_POSTPONE, ANY);
    until(s, 3800 + 600 + 60);
    expect_mode(s, HOME, FULL);
}

/* page: "Auto-set: warn w min → postpone p min up to n times → full": what does not warn is not put off */
static void nothing_to_put_off(struct scene *s) {
    at(s, 10), postpones(s, ANNA, ON_HOME);
    expect_says(s, PANEL_SAYS_NOTHING_TO_POSTPONE, ANY, 10);
    at(s, 20), calendar(s, ON_HOME);
    at(s, 30), postpones(s, ANNA, ON_HOME);
    expect_never_says_at(s, PANEL_SAYS_NOTHING_TO_POSTPONE, 30);
    at(s, 40), postpones(s, ANNA, ON_HOME); /* put off already */
    expect_says(s, PANEL_SAYS_NOTHING_TO_POSTPONE, ANY, 40);
    expect_never_says(s, PANEL_SAYS_NO_MORE_POSTPONING, ANY);
}

/* page: "open zones `force | fail-to-set signal`." */
static void auto_set_forces(struct scene *s) {
    at(s, 0), opens(s, WINDOW);
    at(s, 10), calendar(s, ON_HOME);
    until(s, 1000);
    expect_mode(s, HOME, FULL);
    expect_bypassed(s, WINDOW, true);
    expect_signals(s, EVENT_FORCED_SET, ANY, 1);
}

static void auto_set_fails(struct scene *s) {
    s->settings->auto_open = SITE_AUTO_FAIL;
    at(s, 0), opens(s, WINDOW);
    at(s, 10), calendar(s, ON_HOME);
    until(s, 1000);
    expect_phase(s, HOME, PANEL_UNSET);
    expect_signals(s, EVENT_FAIL_TO_SET, ANY, 1);
}

static void auto_set_leaves_a_set_area_alone(struct scene *s) {
    starts_set(s, HOME, FULL);
    at(s, 10), calendar(s, ON_HOME);
    until(s, 1000);
    expect_mode(s, HOME, FULL);
    expect_no_tone(s, PANEL_TONE_WARNING);
}

/* page: "An alarm during exit does not stop the exit timer; a code ends both." */
static void alarm_does_not_stop_the_exit(struct scene *s) {
    at(s, 0), sets(s, ANNA, ON_HOME, FULL);
    at(s, 20), trips(s, WINDOW);
    expect_siren_starts(s, 20);
    expect_runs(s, PANEL_TIMER_EXIT, HOME, 40);
    at(s, 30), trips(s, FRONT);
    until(s, 60);
    expect_mode(s, HOME, FULL);
}

static void code_ends_alarm_and_exit(struct scene *s) {
    at(s, 0), sets(s, ANNA, ON_HOME, FULL);
    at(s, 20), trips(s, WINDOW);
    at(s, 30), unsets(s, ANNA, ON_HOME);
    until(s, 600);
    expect_siren(s, 20, 30);
    expect_phase(s, HOME, PANEL_UNSET);
    expect_nothing_sent(s);
    expect_tone(s, PANEL_TONE_EXIT, false, 30);
}

static const struct scenario rows[] = {
        SCENARIO(open_contact_refuses),
        SCENARIO(open_shock_refuses),
        SCENARIO(open_glass_break_refuses),
        SCENARIO(tamper_refuses),
        SCENARIO(active_hold_up_refuses),
        SCENARIO(other_open_zones_refuse),
        SCENARIO(open_zone_that_is_out_does_not_refuse),
        SCENARIO(open_then_closed_is_ready),
        SCENARIO(motion_does_not_block),
        SCENARIO(motion_blocks_where_keyed_in),
        SCENARIO(entry_door_open_allowed),
        SCENARIO(entry_door_open_refused),
        SCENARIO(fault_refuses),
        SCENARIO(fault_to_be_acknowledged),
        SCENARIO(every_acknowledged_fault_is_logged),
        SCENARIO(fault_ignored),
        SCENARIO(refused_request_logs_no_fault),
        SCENARIO(forced_leaves_the_open_out),
        SCENARIO(forced_becomes_live_on_closing),
        SCENARIO(forced_bypasses_only_what_may_be),
        SCENARIO(nothing_to_force_is_no_forced_set),
        SCENARIO(tamper_is_never_forced),
        SCENARIO(hold_up_is_never_forced),
        SCENARIO(life_safety_is_never_forced),
        SCENARIO(bypass_ends_at_unset),
        SCENARIO(lasting_bypass_lasts),
        SCENARIO(tamper_of_a_bypassed_zone_is_live),
        SCENARIO(partner_of_a_bypassed_zone_acts_alone),
        SCENARIO(part_has_its_own_exit_time),
        SCENARIO(night_has_its_own_entry_delay),
        SCENARIO(night_may_be_instant),
        SCENARIO(instant_door_ends_a_running_entry),
        SCENARIO(part_to_full_starts_an_exit),
        SCENARIO(unset_does_not_mind_open_inside_doors),
        SCENARIO(fob_goes_from_part_to_full),
        SCENARIO(fob_setting_begins_a_period),
        SCENARIO(mode_change_at_once_begins_a_period),
        SCENARIO(full_to_part_needs_a_code),
        SCENARIO(fob_sets_at_once),
        SCENARIO(fob_sets_timed),
        SCENARIO(fob_is_refused_for_open_zones),
        SCENARIO(fob_forces_open_zones),
        SCENARIO(auto_set_warns_first),
        SCENARIO(auto_set_is_postponed),
        SCENARIO(auto_set_is_postponed_n_times),
        SCENARIO(nothing_to_put_off),
        SCENARIO(auto_set_forces),
        SCENARIO(auto_set_fails),
        SCENARIO(auto_set_leaves_a_set_area_alone),
        SCENARIO(alarm_does_not_stop_the_exit),
        SCENARIO(code_ends_alarm_and_exit),
};
SCENARIO_LIST(setting, rows);
