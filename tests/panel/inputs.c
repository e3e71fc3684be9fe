/* Design page, "Inputs" and "Outputs". */
#include "scene.h"

/* page: "zone level changes (open/closed, tamper, masked)" */
static void level_changes_are_heard(struct scene *s) {
    at(s, 10), opens(s, WINDOW);
    expect_ready(s, HOME, FULL, false);
    at(s, 20), closes(s, WINDOW);
    expect_ready(s, HOME, FULL, true);
    at(s, 30), happens(s, PANEL_IN_TAMPER, LOUNGE);
    expect_signal(s, EVENT_TAMPER, LOUNGE, 30);
    at(s, 40), happens(s, PANEL_IN_TAMPER_BACK, LOUNGE);
    expect_restore(s, EVENT_TAMPER, LOUNGE, 40);
    at(s, 50), happens(s, PANEL_IN_MASKED, LOUNGE);
    expect_signal(s, EVENT_MASKED, LOUNGE, 50);
    at(s, 60), happens(s, PANEL_IN_MASKED_BACK, LOUNGE);
    expect_restore(s, EVENT_MASKED, LOUNGE, 60);
}

/* page: "code at a keypad (user, right or mistyped); fob press (may be lost or accidental)" */
static void codes_and_fobs_are_heard(struct scene *s) {
    at(s, 10), sets(s, BEN, ON_HOME, NIGHT);
    expect_signal_of(s, EVENT_SET, ANY, HOME, BEN, 10);
    at(s, 20), happens(s, PANEL_IN_WRONG_CODE, ANY);
    expect_says(s, PANEL_SAYS_WRONG_CODE, ANY, 20);
    at(s, 30), unsets(s, ANNA, ON_HOME);
    expect_signal_of(s, EVENT_UNSET, ANY, HOME, ANNA, 30);
    at(s, 40), sets_by(s, PANEL_BY_FOB, BEN, ON_HOME, FULL);
    at(s, 50), unsets_by(s, PANEL_BY_FOB, BEN, ON_HOME);
    expect_signal_of(s, EVENT_UNSET, ANY, HOME, BEN, 50);
}

/* page: "set request by mode; bypass; hold-up, medical; mains lost/back; panel battery low/flat; path lost/back" */
static void requests_and_faults_are_heard(struct scene *s) {
    at(s, 5), bypasses(s, ANNA, PANE);
    expect_signal(s, EVENT_BYPASS, PANE, 5);
    at(s, 10), happens(s, PANEL_IN_PATH_LOST, ANY);
    at(s, 15), happens(s, PANEL_IN_PATH_BACK, ANY);
    expect_restore(s, EVENT_PATH, ANY, 15);
    at(s, 20), sets(s, ANNA, ON_HOME, STOCKTAKING);
    expect_phase(s, HOME, PANEL_EXITING);
    at(s, 25), opens(s, AID);
    expect_signal(s, EVENT_MEDICAL, AID, 25);
}

/* page: "Levels count as well as edges." A door that is open since before the setting is seen by its level. */
static void levels_count(struct scene *s) {
    starts_open(s, WINDOW);
    at(s, 10), sets(s, ANNA, ON_HOME, FULL);
    expect_says(s, PANEL_SAYS_NOT_READY, WINDOW, 10);
    expect_phase(s, HOME, PANEL_UNSET);
}

/* page: "Panel timers are true within ±10 %": 45 s: 40..50. */
static void early_and_late_ends(struct scene *s) {
    s->percent = 90;
    starts_set(s, HOME, FULL);
    at(s, 0), opens(s, BACK);
    until(s, 39);
    expect_no_siren(s);
    until(s, 41);
    expect_siren(s, 40, STILL);
}

/* page (Outputs): "display text (ready / not ready and which)". The display is a level: panel_is_ready reads it. */
static void display_shows_ready_and_not(struct scene *s) {
    at(s, 10), opens(s, WINDOW);
    expect_in_the_way(s, HOME, FULL, WINDOW);
    at(s, 20), opens(s, SKYLIGHT);
    expect_in_the_way(s, HOME, FULL, SKYLIGHT);
    at(s, 30), closes(s, WINDOW);
    expect_in_the_way(s, HOME, FULL, SKYLIGHT);
    expect_ready(s, HOME, FULL, false);
    at(s, 40), closes(s, SKYLIGHT);
    expect_ready(s, HOME, FULL, true);
}

/* page (Outputs): "tones (chime with the spoken name, exit, entry, alarm, trouble)" */
static void tones_begin_and_end(struct scene *s) {
    at(s, 0), sets(s, ANNA, ON_HOME, FULL);
    expect_tone(s, PANEL_TONE_EXIT, true, 0);
    at(s, 10), trips(s, FRONT);
    until(s, 60);
    expect_tone(s, PANEL_TONE_EXIT, false, 60);
    at(s, 100), trips(s, FRONT);
    expect_tone(s, PANEL_TONE_ENTRY, true, 100);
    at(s, 110), unsets(s, ANNA, ON_HOME);
    expect_tone(s, PANEL_TONE_ENTRY, false, 110);
}

/* page (Outputs): "siren and its pattern" */
static void fire_has_its_own_pattern(struct scene *s) {
    starts_set(s, HOME, FULL);
    at(s, 0), trips(s, WINDOW);
    expect_sound(s, PANEL_SIREN, HOME, 0);
    at(s, 10), opens(s, SMOKE);
    expect_sound(s, PANEL_FIRE_SOUND, HOME, 10);
}

/* page (Outputs): "signal (kind, zone or user, area, new/restore) with the instant it leaves" */
static void signal_names_zone_user_area(struct scene *s) {
    with_flat(s);
    starts_set(s, FLAT, FULL);
    at(s, 10), opens(s, FLAT_WINDOW);
    until(s, 40);
    expect_signal_of(s, EVENT_INTRUSION, FLAT_WINDOW, FLAT, PANEL_NOBODY, 40);
    at(s, 50), closes(s, FLAT_WINDOW);
    expect_restore(s, EVENT_INTRUSION, FLAT_WINDOW, 50);
    at(s, 60), unsets(s, CARA, ON_FLAT);
    expect_signal_of(s, EVENT_UNSET, ANY, FLAT, CARA, 60);
}

static const struct scenario rows[] = {
        SCENARIO(level_changes_are_heard),
        SCENARIO(codes_and_fobs_are_heard),
        SCENARIO(requests_and_faults_are_heard),
        SCENARIO(levels_count),
        SCENARIO(early_and_late_ends),
        SCENARIO(display_shows_ready_and_not),
        SCENARIO(tones_begin_and_end),
        SCENARIO(fire_has_its_own_pattern),
        SCENARIO(signal_names_zone_user_area),
};
SCENARIO_LIST(inputs, rows);
