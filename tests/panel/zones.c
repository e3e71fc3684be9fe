/* Design page, "Zones": what a zone does in each mode, and its options. */
#include "scene.h"

/* page: "a zone may be perimeter in one mode, out in another." */
static void behaviour_is_by_mode(struct scene *s) {
    s->zones[LOUNGE].in[NIGHT] = SITE_PERIMETER;
    s->zones[WINDOW].in[NIGHT] = SITE_OUT;
    starts_set(s, HOME, NIGHT);
    at(s, 10), opens(s, WINDOW);
    until(s, 100);
    expect_no_siren(s);
    at(s, 110), trips(s, LOUNGE);
    expect_siren_starts(s, 110);
}

/* A zone that is out everywhere is heard in no phase; its lid is. */
static void out_is_out(struct scene *s) {
    s->settings->completion = SITE_COMPLETE_FINAL_DOOR;
    s->settings->drop_to_part = false;
    s->zones[PANE].behaviour = SITE_OUT;
    s->zones[PANE].follows = 1U << BY_BACK;
    s->zones[PANE].chime = true;
    for (int mode = 0; mode < SITE_MODE_MAX; mode++) {
        s->zones[PANE].in[mode] = SITE_OUT;
    }
    at(s, 0), trips(s, PANE);
    at(s, 10), sets(s, ANNA, ON_HOME, FULL);
    at(s, 20), trips(s, PANE);
    at(s, 30), trips(s, FRONT);
    until(s, 35);
    expect_mode(s, HOME, FULL);
    at(s, 40), trips(s, PANE);
    at(s, 50), opens(s, FRONT);
    at(s, 60), trips(s, PANE);
    until(s, 79);
    expect_no_siren(s);
    expect_chimes(s, PANE, 0);
    expect_nothing_sent(s);
}

static void lid_of_an_out_zone_is_watched(struct scene *s) {
    s->zones[PANE].behaviour = SITE_OUT;
    s->zones[PANE].in[FULL] = SITE_OUT;
    starts_set(s, HOME, FULL);
    at(s, 10), happens(s, PANEL_IN_TAMPER, PANE);
    until(s, 40);
    expect_siren(s, 10, STILL);
    expect_signal(s, EVENT_TAMPER, PANE, 10);
    expect_signal(s, EVENT_INTRUSION, PANE, 40);
}

static void out_while_unset_watched_while_set(struct scene *s) {
    s->zones[PANE].behaviour = SITE_OUT;
    s->zones[CELLAR].in[NIGHT] = SITE_OUT;
    at(s, 0), trips(s, PANE);
    at(s, 10), sets(s, ANNA, ON_HOME, NIGHT);
    at(s, 20), trips(s, CELLAR), trips(s, HALL);
    expect_no_siren(s);
    at(s, 30), trips(s, PANE);
    expect_siren(s, 30, STILL);
}

/* page: "Modes: unset, full set, part set, night, further ones by name." */
static void further_modes_have_their_own_delay(struct scene *s) {
    s->zones[LOUNGE].in[STOCKTAKING] = SITE_OUT;
    at(s, 0), sets(s, ANNA, ON_HOME, STOCKTAKING);
    until(s, 9);
    expect_phase(s, HOME, PANEL_EXITING);
    until(s, 10);
    expect_mode(s, HOME, STOCKTAKING);
    at(s, 20), trips(s, LOUNGE);
    expect_no_siren(s);
    at(s, 30), opens(s, WINDOW);
    expect_siren_starts(s, 30);
}

/* page: "| entry | chime |" */
static void entry_unset_chimes(struct scene *s) {
    at(s, 10), opens(s, FRONT);
    until(s, 500);
    expect_chimes(s, FRONT, 1);
    expect_no_siren(s);
    expect_nothing_sent(s);
    expect_phase(s, HOME, PANEL_UNSET);
}

/* page: "| entry | ... | allowed; somebody left |" */
static void entry_in_exit_is_allowed(struct scene *s) {
    at(s, 0), sets(s, ANNA, ON_HOME, FULL);
    at(s, 10), opens(s, FRONT);
    at(s, 15), closes(s, FRONT);
    until(s, 60);
    expect_mode(s, HOME, FULL);
    expect_no_siren(s);
    expect_nothing_sent(s);
}

/* page: "| entry | ... | starts its named entry delay |" */
static void entry_set_starts_its_own_delay(struct scene *s) {
    starts_set(s, HOME, FULL);
    at(s, 100), opens(s, BACK);
    expect_phase(s, HOME, PANEL_ENTERING);
    expect_tone(s, PANEL_TONE_ENTRY, true, 100);
    until(s, 144);
    expect_no_siren(s);
    until(s, 145);
    expect_siren(s, 145, STILL);
}

/* page: "second one: `shorten | keep first`, never lengthens" */
static void second_entry_shortens(struct scene *s) {
    starts_set(s, HOME, FULL);
    at(s, 0), opens(s, BACK);
    at(s, 5), opens(s, FRONT);
    until(s, 35);
    expect_siren(s, 35, STILL);
}

static void second_entry_keeps_first(struct scene *s) {
    s->settings->second_entry = SITE_SECOND_KEEP;
    starts_set(s, HOME, FULL);
    at(s, 0), opens(s, BACK);
    at(s, 5), opens(s, FRONT);
    until(s, 45);
    expect_siren(s, 45, STILL);
}

static void second_entry_never_lengthens(struct scene *s) {
    starts_set(s, HOME, FULL);
    at(s, 0), opens(s, FRONT);
    at(s, 10), opens(s, BACK);
    until(s, 30);
    expect_siren(s, 30, STILL);
}

static void kept_first_never_lengthens(struct scene *s) {
    s->settings->second_entry = SITE_SECOND_KEEP;
    starts_set(s, HOME, FULL);
    at(s, 0), opens(s, FRONT);
    at(s, 10), opens(s, BACK);
    until(s, 30);
    expect_siren(s, 30, STILL);
}

/* The same door again in its own entry time changes nothing: it cannot be longer, and 30 s from now is no
 * shortening. */
static void same_door_twice(struct scene *s) {
    starts_set(s, HOME, FULL);
    at(s, 0), trips(s, FRONT);
    at(s, 20), trips(s, FRONT);
    until(s, 30);
    expect_siren(s, 30, STILL);
}

/* page: "| perimeter | chime |" */
static void perimeter_unset_chimes(struct scene *s) {
    at(s, 10), opens(s, WINDOW);
    until(s, 500);
    expect_chimes(s, WINDOW, 1);
    expect_no_siren(s);
    expect_nothing_sent(s);
}

/* page: "| perimeter | ... | alarm at once". Common practice: a perimeter door opened while the exit time
 * runs is an alarm. */
static void perimeter_in_exit_is_an_alarm(struct scene *s) {
    at(s, 0), sets(s, ANNA, ON_HOME, FULL);
    at(s, 20), opens(s, WINDOW);
    until(s, 50);
    expect_siren(s, 20, STILL);
    expect_signal(s, EVENT_INTRUSION, WINDOW, 50);
}

/* page: "`alarm | inside warning, exit stalls, then fail-to-set`" */
static void perimeter_in_exit_stalls(struct scene *s) {
    s->settings->exit_trip = SITE_EXIT_TRIP_STALLS;
    at(s, 0), sets(s, ANNA, ON_HOME, FULL);
    at(s, 20), opens(s, WINDOW);
    expect_inside(s, true, 20);
    until(s, 600);
    expect_no_siren(s);
    expect_no_signal(s, EVENT_INTRUSION);
    expect_signals(s, EVENT_FAIL_TO_SET, ANY, 1);
    expect_phase(s, HOME, PANEL_UNSET);
    at(s, 610), opens(s, FRONT);
    expect_chimes(s, FRONT, 1);
}

/* Nothing of a setting that failed is left: neither what was open inside nor what had tripped meanwhile. */
static void failed_setting_leaves_nothing(struct scene *s) {
    s->settings->exit_trip = SITE_EXIT_TRIP_STALLS;
    s->settings->modes[NIGHT].exit_delay_s = 20;
    at(s, 0), opens(s, CUPBOARD), sets(s, ANNA, ON_HOME, NIGHT);
    at(s, 5), happens(s, PANEL_IN_TAMPER, LOUNGE);
    expect_siren_starts(s, 5);
    at(s, 10), opens(s, WINDOW);
    until(s, 600);
    expect_sirens(s, 1);
    expect_signals(s, EVENT_FAIL_TO_SET, ANY, 1);
}

/* page: "| perimeter | ... | alarm at once | off-route: see Entry |" */
static void perimeter_set_is_an_alarm(struct scene *s) {
    starts_set(s, HOME, FULL);
    at(s, 10), opens(s, WINDOW);
    until(s, 40);
    expect_siren(s, 10, STILL);
    expect_signal(s, EVENT_INTRUSION, WINDOW, 40);
}

static void perimeter_in_entry_is_off_route(struct scene *s) {
    starts_set(s, HOME, FULL);
    at(s, 0), opens(s, FRONT);
    at(s, 10), opens(s, WINDOW);
    until(s, 40);
    expect_siren(s, 10, STILL);
    expect_signal(s, EVENT_INTRUSION, WINDOW, 40);
}

/* page: "| follower (between that door and the keypad) | - | ignored |" */
static void follower_unset_and_in_exit_is_ignored(struct scene *s) {
    s->zones[HALL].chime = true;
    at(s, 0), trips(s, HALL);
    at(s, 10), sets(s, ANNA, ON_HOME, FULL);
    at(s, 20), trips(s, HALL);
    at(s, 30), trips(s, FRONT);
    until(s, 600);
    expect_mode(s, HOME, FULL);
    expect_no_siren(s);
    expect_nothing_sent(s);
    expect_chimes(s, HALL, 0);
}

/* page: "| follower | ... | alarm;" */
static void follower_set_is_an_alarm(struct scene *s) {
    starts_set(s, HOME, FULL);
    at(s, 10), trips(s, HALL);
    until(s, 40);
    expect_siren(s, 10, STILL);
    expect_signal(s, EVENT_INTRUSION, HALL, 40);
}

/* page: "`hold 0..5 s` for its door first (radio followers overtake contacts)" */
static void follower_waits_for_its_door(struct scene *s) {
    s->zones[HALL].hold_s = 3;
    starts_set(s, HOME, FULL);
    at(s, 0), trips(s, HALL);
    at(s, 2), opens(s, FRONT);
    at(s, 20), unsets(s, ANNA, ON_HOME);
    until(s, 100);
    expect_no_siren(s);
    expect_nothing_sent(s);
}

static void follower_waits_in_vain(struct scene *s) {
    s->zones[HALL].hold_s = 3;
    starts_set(s, HOME, FULL);
    at(s, 10), trips(s, HALL);
    until(s, 100);
    expect_siren(s, 13, STILL);
    expect_signal(s, EVENT_INTRUSION, HALL, 43);
}

/* page: "ignored only while *its* route's entry runs" */
static void follower_on_its_route_is_ignored(struct scene *s) {
    starts_set(s, HOME, FULL);
    at(s, 0), opens(s, FRONT);
    at(s, 3), trips(s, HALL);
    at(s, 20), unsets(s, ANNA, ON_HOME);
    until(s, 100);
    expect_no_siren(s);
    expect_nothing_sent(s);
}

static void follower_of_another_route_is_not(struct scene *s) {
    starts_set(s, HOME, FULL);
    at(s, 0), opens(s, FRONT);
    at(s, 3), trips(s, PASSAGE);
    until(s, 33);
    expect_siren(s, 3, STILL);
    expect_signal(s, EVENT_INTRUSION, PASSAGE, 33);
}

static void follower_of_every_route(struct scene *s) {
    s->zones[HALL].follows = 0;
    starts_set(s, HOME, FULL);
    at(s, 0), opens(s, BACK);
    at(s, 3), trips(s, HALL);
    until(s, 40);
    expect_no_siren(s);
}

/* page: "| interior | - | ignored | alarm | off-route |" */
static void interior_unset_and_in_exit_is_ignored(struct scene *s) {
    s->zones[LOUNGE].chime = true;
    at(s, 0), trips(s, LOUNGE);
    at(s, 10), sets(s, ANNA, ON_HOME, FULL);
    at(s, 20), trips(s, LOUNGE), trips(s, CUPBOARD);
    at(s, 30), trips(s, FRONT);
    until(s, 600);
    expect_mode(s, HOME, FULL);
    expect_no_siren(s);
    expect_nothing_sent(s);
    expect_chimes(s, LOUNGE, 0);
}

/* Also where the final door, and not the time, completes the setting: no inside zone is a door. */
static void inside_zones_are_no_final_door(struct scene *s) {
    s->settings->completion = SITE_COMPLETE_FINAL_DOOR;
    at(s, 0), trips(s, HALL), trips(s, LOUNGE);
    at(s, 10), sets(s, ANNA, ON_HOME, FULL);
    at(s, 20), trips(s, FRONT);
    at(s, 22), trips(s, HALL), trips(s, LOUNGE);
    until(s, 24);
    expect_phase(s, HOME, PANEL_EXITING);
    until(s, 25);
    expect_mode(s, HOME, FULL);
}

static void interior_set_is_an_alarm(struct scene *s) {
    starts_set(s, HOME, FULL);
    at(s, 10), trips(s, LOUNGE);
    until(s, 40);
    expect_siren(s, 10, STILL);
    expect_signal(s, EVENT_INTRUSION, LOUNGE, 40);
}

static void interior_in_entry_is_off_route(struct scene *s) {
    starts_set(s, HOME, FULL);
    at(s, 0), opens(s, FRONT);
    at(s, 10), trips(s, LOUNGE);
    until(s, 40);
    expect_siren(s, 10, STILL);
    expect_signal(s, EVENT_INTRUSION, LOUNGE, 40);
}

/* page: "| 24-hour | alarm (EN, unset: inside sounder only) | same | same | same |" */
static void always_unset_is_an_alarm(struct scene *s) {
    at(s, 10), opens(s, SAFE);
    until(s, 40);
    expect_siren(s, 10, STILL);
    expect_signal(s, EVENT_INTRUSION, SAFE, 40);
}

/* EN 50131-1: an outside sounder is not sounded by the control while unset (dossier 2.4) [S16]. */
static void always_unset_by_en_stays_inside(struct scene *s) {
    s->settings->off_route = SITE_OFF_ROUTE_EN;
    at(s, 10), opens(s, SAFE);
    until(s, 600);
    expect_no_siren(s);
    expect_inside(s, true, 10);
    expect_signals(s, EVENT_INTRUSION, SAFE, 1);
}

static void always_in_exit_is_an_alarm(struct scene *s) {
    at(s, 0), sets(s, ANNA, ON_HOME, FULL);
    at(s, 10), opens(s, SAFE);
    until(s, 40);
    expect_siren(s, 10, STILL);
    expect_signal(s, EVENT_INTRUSION, SAFE, 40);
}

static void always_set_is_an_alarm(struct scene *s) {
    starts_set(s, HOME, NIGHT);
    at(s, 10), opens(s, SAFE);
    until(s, 40);
    expect_siren(s, 10, STILL);
    expect_signal(s, EVENT_INTRUSION, SAFE, 40);
}

static void always_in_entry_is_an_alarm(struct scene *s) {
    starts_set(s, HOME, FULL);
    at(s, 0), opens(s, FRONT);
    at(s, 10), opens(s, SAFE);
    until(s, 40);
    expect_siren(s, 10, STILL);
    expect_signal(s, EVENT_INTRUSION, SAFE, 40);
}

/* page: "| day zone | trouble, no siren |" */
static void day_zone_unset_is_trouble(struct scene *s) {
    at(s, 10), opens(s, CELLAR);
    until(s, 600);
    expect_says(s, PANEL_SAYS_TROUBLE, CELLAR, 10);
    expect_tone(s, PANEL_TONE_TROUBLE, true, 10);
    expect_no_siren(s);
    expect_no_signal(s, EVENT_INTRUSION);
}

/* page: "| day zone | ... | perimeter | perimeter | off-route |" */
static void day_zone_in_exit_is_perimeter(struct scene *s) {
    at(s, 0), sets(s, ANNA, ON_HOME, FULL);
    at(s, 20), opens(s, CELLAR);
    until(s, 50);
    expect_siren(s, 20, STILL);
    expect_signal(s, EVENT_INTRUSION, CELLAR, 50);
}

static void day_zone_in_exit_stalls(struct scene *s) {
    s->settings->exit_trip = SITE_EXIT_TRIP_STALLS;
    at(s, 0), sets(s, ANNA, ON_HOME, FULL);
    at(s, 20), opens(s, CELLAR);
    until(s, 600);
    expect_no_siren(s);
    expect_signals(s, EVENT_FAIL_TO_SET, ANY, 1);
}

static void day_zone_set_is_perimeter(struct scene *s) {
    starts_set(s, HOME, FULL);
    at(s, 10), opens(s, CELLAR);
    until(s, 40);
    expect_siren(s, 10, STILL);
    expect_signal(s, EVENT_INTRUSION, CELLAR, 40);
}

static void day_zone_in_entry_is_off_route(struct scene *s) {
    starts_set(s, HOME, FULL);
    at(s, 0), opens(s, FRONT);
    at(s, 10), opens(s, CELLAR);
    until(s, 40);
    expect_siren(s, 10, STILL);
    expect_signal(s, EVENT_INTRUSION, CELLAR, 40);
}

/* page: "| hold-up, medical | own signal;" */
static void buttons_send_their_own_signal(struct scene *s) {
    at(s, 10), opens(s, HOLD_UP);
    at(s, 20), opens(s, AID);
    until(s, 600);
    expect_signal(s, EVENT_HOLD_UP, HOLD_UP, 10);
    expect_signal(s, EVENT_MEDICAL, AID, 20);
    expect_no_signal(s, EVENT_INTRUSION);
}

/* page: "silent hold-up: no display, tone or siren in any state" */
static void silent_hold_up_unset(struct scene *s) {
    s->settings->silent_hold_up = true;
    at(s, 10), opens(s, HOLD_UP);
    expect_signal(s, EVENT_HOLD_UP, HOLD_UP, 10);
    expect_only_signals_from(s, 10, HOLD_UP);
}

static void silent_hold_up_in_exit(struct scene *s) {
    s->settings->silent_hold_up = true;
    at(s, 0), sets(s, ANNA, ON_HOME, FULL);
    at(s, 10), opens(s, HOLD_UP);
    expect_signal(s, EVENT_HOLD_UP, HOLD_UP, 10);
    expect_only_signals_from(s, 10, HOLD_UP);
    expect_phase(s, HOME, PANEL_EXITING);
}

static void silent_hold_up_set(struct scene *s) {
    s->settings->silent_hold_up = true;
    starts_set(s, HOME, FULL);
    at(s, 10), opens(s, HOLD_UP);
    expect_signal(s, EVENT_HOLD_UP, HOLD_UP, 10);
    expect_only_signals_from(s, 10, HOLD_UP);
}

static void silent_hold_up_in_entry(struct scene *s) {
    s->settings->silent_hold_up = true;
    starts_set(s, HOME, FULL);
    at(s, 0), opens(s, FRONT);
    at(s, 10), opens(s, HOLD_UP);
    expect_signal(s, EVENT_HOLD_UP, HOLD_UP, 10);
    expect_only_signals_from(s, 10, HOLD_UP);
    expect_runs(s, PANEL_TIMER_ENTRY, HOME, 20);
}

/* page: "unset does not cancel it" */
static void unset_does_not_cancel_a_hold_up(struct scene *s) {
    s->settings->silent_hold_up = true;
    starts_set(s, HOME, FULL);
    at(s, 10), opens(s, HOLD_UP);
    at(s, 20), unsets(s, ANNA, ON_HOME);
    until(s, 600);
    expect_signals(s, EVENT_HOLD_UP, HOLD_UP, 1);
    expect_no_signal(s, EVENT_CANCEL);
    expect_never_says(s, PANEL_SAYS_NOTHING_SENT, ANY);
    expect_never_says(s, PANEL_SAYS_ALARM_MEMORY, HOLD_UP);
}

/* page: "a latching device must be reset before setting" */
static void latched_hold_up_blocks_setting(struct scene *s) {
    at(s, 10), trips(s, HOLD_UP);
    at(s, 20), unsets(s, ANNA, ON_HOME);
    at(s, 400), sets(s, ANNA, ON_HOME, NIGHT);
    expect_phase(s, HOME, PANEL_UNSET);
    expect_says(s, PANEL_SAYS_NOT_READY, HOLD_UP, 400);
    at(s, 410), resets(s, PANEL_BY_KEYPAD);
    at(s, 420), sets(s, ANNA, ON_HOME, NIGHT);
    expect_mode(s, HOME, NIGHT);
}

/* page: "| fire, gas, CO, flood, cold | own signal and sound pattern, never behind an abort window" */
static void every_own_signal(struct scene *s, int32_t at_s) {
    at(s, at_s), opens(s, WATER), opens(s, FROST), opens(s, AID), opens(s, GAS), opens(s, CO),
            opens(s, SMOKE);
    opens(s, HOLD_UP);
    expect_signal(s, EVENT_FLOOD, WATER, at_s);
    expect_signal(s, EVENT_COLD, FROST, at_s);
    expect_signal(s, EVENT_MEDICAL, AID, at_s);
    expect_signal(s, EVENT_GAS, GAS, at_s);
    expect_signal(s, EVENT_CO, CO, at_s);
    expect_signal(s, EVENT_FIRE, SMOKE, at_s);
    expect_signal(s, EVENT_HOLD_UP, HOLD_UP, at_s);
    until(s, at_s + 200);
    expect_no_signal(s, EVENT_INTRUSION);
}

static void own_signals_while_set(struct scene *s) {
    starts_set(s, HOME, FULL);
    every_own_signal(s, 10);
}

static void own_signals_in_exit(struct scene *s) {
    at(s, 0), sets(s, ANNA, ON_HOME, FULL), trips(s, FRONT);
    every_own_signal(s, 10);
}

static void own_signals_in_entry(struct scene *s) {
    starts_set(s, HOME, FULL);
    s->zones[FRONT].reports = false;
    at(s, 0), opens(s, FRONT);
    every_own_signal(s, 10);
}

/* Whatever the modes say of it. */
static void own_signals_where_the_mode_says_out(struct scene *s) {
    for (int zone = HOLD_UP; zone <= FROST; zone++) {
        s->zones[zone].in[FULL] = SITE_OUT;
    }
    s->zones[SAFE].in[FULL] = SITE_OUT;
    starts_set(s, HOME, FULL);
    every_own_signal(s, 10);
    at(s, 300), opens(s, SAFE);
    until(s, 330);
    expect_signal(s, EVENT_INTRUSION, SAFE, 330);
}

static void gas_alone(struct scene *s) {
    at(s, 10), opens(s, GAS);
    expect_sound(s, PANEL_FIRE_SOUND, HOME, 10);
}

static void co_alone(struct scene *s) {
    at(s, 10), opens(s, CO);
    expect_sound(s, PANEL_FIRE_SOUND, HOME, 10);
}

/* Water and frost are no reason to leave the house: signal and display, no siren [P]. */
static void water_and_frost_are_quiet(struct scene *s) {
    at(s, 10), opens(s, WATER);
    at(s, 20), opens(s, FROST);
    expect_no_siren(s);
    expect_signal(s, EVENT_FLOOD, WATER, 10);
    expect_signal(s, EVENT_COLD, FROST, 20);
}

/* The lid of such a device is a tamper, not a fire: siren and tamper signal, and no signal of its class. */
static void lid_of_a_life_safety_device(struct scene *s) {
    starts_set(s, HOME, FULL);
    for (int zone = HOLD_UP; zone <= FROST; zone++) {
        at(s, 10 * zone), happens(s, PANEL_IN_TAMPER, zone);
        expect_signal(s, EVENT_TAMPER, zone, 10 * zone);
    }
    until(s, 600);
    expect_sound(s, PANEL_SIREN, HOME, 10 * HOLD_UP);
    expect_signals(s, EVENT_TAMPER, ANY, FROST - HOLD_UP + 1);
    expect_no_signal(s, EVENT_FIRE);
    expect_no_signal(s, EVENT_HOLD_UP);
    expect_no_signal(s, EVENT_MEDICAL);
    expect_no_signal(s, EVENT_INTRUSION);
}

static void life_safety_while_unset(struct scene *s) {
    at(s, 10), opens(s, SMOKE);
    at(s, 20), opens(s, GAS);
    at(s, 30), opens(s, CO);
    at(s, 40), opens(s, WATER);
    at(s, 50), opens(s, FROST);
    until(s, 60);
    expect_sound(s, PANEL_FIRE_SOUND, HOME, 10);
    expect_signal(s, EVENT_FIRE, SMOKE, 10);
    expect_signal(s, EVENT_GAS, GAS, 20);
    expect_signal(s, EVENT_CO, CO, 30);
    expect_signal(s, EVENT_FLOOD, WATER, 40);
    expect_signal(s, EVENT_COLD, FROST, 50);
}

/* page: "never bypassable." Also when the site says that it may be. */
static void life_safety_is_never_bypassed(struct scene *s) {
    for (int zone = HOLD_UP; zone <= FROST; zone++) {
        at(s, zone), bypasses(s, ANNA, zone);
        expect_says(s, PANEL_SAYS_NO_BYPASS, zone, zone);
    }
    at(s, 20), opens(s, SMOKE);
    expect_signal(s, EVENT_FIRE, SMOKE, 20);
}

static void everything_else_may_be_bypassed(struct scene *s) {
    s->zones[PANE].behaviour = SITE_OUT;
    for (int zone = FRONT; zone < HOLD_UP; zone++) {
        at(s, zone), bypasses(s, ANNA, zone);
        expect_says(s, PANEL_SAYS_BYPASSED, zone, zone);
    }
}

/* page: "chime (opening edge, only while all its areas are unset, not bypassed)" */
static void chime_is_of_the_opening_edge(struct scene *s) {
    at(s, 10), opens(s, FRONT), opens(s, FRONT);
    at(s, 20), closes(s, FRONT);
    until(s, 30);
    expect_chimes(s, FRONT, 1);
}

static void chime_only_where_asked(struct scene *s) {
    at(s, 10), opens(s, SKYLIGHT);
    expect_chimes(s, SKYLIGHT, 0);
}

/* Common practice: chime only while unset. */
static void no_chime_while_set(struct scene *s) {
    at(s, 0), sets(s, ANNA, ON_HOME, FULL);
    at(s, 10), trips(s, FRONT);
    until(s, 100);
    at(s, 110), trips(s, FRONT);
    at(s, 115), trips(s, WINDOW);
    until(s, 200);
    expect_chimes(s, FRONT, 0);
    expect_chimes(s, WINDOW, 0);
}

static void no_chime_while_another_of_its_areas_is_set(struct scene *s) {
    with_flat(s);
    starts_set(s, FLAT, FULL);
    at(s, 10), trips(s, FRONT);
    at(s, 20), trips(s, BETWEEN);
    expect_chimes(s, FRONT, 1);
    expect_chimes(s, BETWEEN, 0);
    at(s, 30), unsets(s, CARA, ON_FLAT);
    at(s, 40), trips(s, BETWEEN);
    expect_chimes(s, BETWEEN, 1);
}

static void no_chime_while_bypassed(struct scene *s) {
    at(s, 10), bypasses(s, ANNA, WINDOW);
    at(s, 20), opens(s, WINDOW);
    expect_chimes(s, WINDOW, 0);
}

/* page: "reports". Common practice: a zone that does not report sends nothing while the siren still
 * sounds. */
static void zone_that_does_not_report(struct scene *s) {
    s->zones[WINDOW].reports = false;
    starts_set(s, HOME, FULL);
    at(s, 10), trips(s, WINDOW);
    at(s, 400), unsets(s, ANNA, ON_HOME);
    until(s, 1000);
    expect_siren(s, 10, 190);
    expect_nothing_sent(s);
}

/* page: "bypassable" */
static void zone_that_may_not_be_bypassed(struct scene *s) {
    s->zones[WINDOW].bypassable = false;
    at(s, 10), bypasses(s, ANNA, WINDOW), bypasses(s, ANNA, SKYLIGHT);
    expect_says(s, PANEL_SAYS_NO_BYPASS, WINDOW, 10);
    expect_bypassed(s, WINDOW, false);
    expect_says(s, PANEL_SAYS_BYPASSED, SKYLIGHT, 10);
    expect_bypassed(s, SKYLIGHT, true);
}

/* page: "pulse count (n in w s, or one gross blow)" */
static void pulses_add_up(struct scene *s) {
    s->zones[PANE].pulse_count = 3;
    s->zones[PANE].pulse_window_s = 10;
    starts_set(s, HOME, FULL);
    at(s, 0), trips(s, PANE);
    at(s, 4), trips(s, PANE);
    until(s, 7);
    expect_no_siren(s);
    at(s, 8), trips(s, PANE);
    expect_siren(s, 8, STILL);
}

static void gross_blow_counts_at_once(struct scene *s) {
    s->zones[PANE].pulse_count = 3;
    s->zones[PANE].pulse_window_s = 10;
    starts_set(s, HOME, FULL);
    at(s, 5), gross_blow(s, PANE);
    expect_siren(s, 5, STILL);
}

static const struct scenario rows[] = {
        SCENARIO(behaviour_is_by_mode),
        SCENARIO(out_is_out),
        SCENARIO(lid_of_an_out_zone_is_watched),
        SCENARIO(out_while_unset_watched_while_set),
        SCENARIO(further_modes_have_their_own_delay),
        SCENARIO(entry_unset_chimes),
        SCENARIO(entry_in_exit_is_allowed),
        SCENARIO(entry_set_starts_its_own_delay),
        SCENARIO(second_entry_shortens),
        SCENARIO(second_entry_keeps_first),
        SCENARIO(second_entry_never_lengthens),
        SCENARIO(kept_first_never_lengthens),
        SCENARIO(same_door_twice),
        SCENARIO(perimeter_unset_chimes),
        SCENARIO(perimeter_in_exit_is_an_alarm),
        SCENARIO(perimeter_in_exit_stalls),
        SCENARIO(failed_setting_leaves_nothing),
        SCENARIO(perimeter_set_is_an_alarm),
        SCENARIO(perimeter_in_entry_is_off_route),
        SCENARIO(follower_unset_and_in_exit_is_ignored),
        SCENARIO(follower_set_is_an_alarm),
        SCENARIO(follower_waits_for_its_door),
        SCENARIO(follower_waits_in_vain),
        SCENARIO(follower_on_its_route_is_ignored),
        SCENARIO(follower_of_another_route_is_not),
        SCENARIO(follower_of_every_route),
        SCENARIO(interior_unset_and_in_exit_is_ignored),
        SCENARIO(inside_zones_are_no_final_door),
        SCENARIO(interior_set_is_an_alarm),
        SCENARIO(interior_in_entry_is_off_route),
        SCENARIO(always_unset_is_an_alarm),
        SCENARIO(always_unset_by_en_stays_inside),
        SCENARIO(always_in_exit_is_an_alarm),
        SCENARIO(always_set_is_an_alarm),
        SCENARIO(always_in_entry_is_an_alarm),
        SCENARIO(day_zone_unset_is_trouble),
        SCENARIO(day_zone_in_exit_is_perimeter),
        SCENARIO(day_zone_in_exit_stalls),
        SCENARIO(day_zone_set_is_perimeter),
        SCENARIO(day_zone_in_entry_is_off_route),
        SCENARIO(buttons_send_their_own_signal),
        SCENARIO(silent_hold_up_unset),
        SCENARIO(silent_hold_up_in_exit),
        SCENARIO(silent_hold_up_set),
        SCENARIO(silent_hold_up_in_entry),
        SCENARIO(unset_does_not_cancel_a_hold_up),
        SCENARIO(latched_hold_up_blocks_setting),
        SCENARIO(own_signals_while_set),
        SCENARIO(own_signals_in_exit),
        SCENARIO(own_signals_in_entry),
        SCENARIO(own_signals_where_the_mode_says_out),
        SCENARIO(gas_alone),
        SCENARIO(co_alone),
        SCENARIO(water_and_frost_are_quiet),
        SCENARIO(lid_of_a_life_safety_device),
        SCENARIO(everything_else_may_be_bypassed),
        SCENARIO(life_safety_while_unset),
        SCENARIO(life_safety_is_never_bypassed),
        SCENARIO(chime_is_of_the_opening_edge),
        SCENARIO(chime_only_where_asked),
        SCENARIO(no_chime_while_set),
        SCENARIO(no_chime_while_another_of_its_areas_is_set),
        SCENARIO(no_chime_while_bypassed),
        SCENARIO(zone_that_does_not_report),
        SCENARIO(zone_that_may_not_be_bypassed),
        SCENARIO(pulses_add_up),
        SCENARIO(gross_blow_counts_at_once),
};
SCENARIO_LIST(zones, rows);
