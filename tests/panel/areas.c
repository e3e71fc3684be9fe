/* Design page, "Areas". */
#include "scene.h"

/* page: "Own mode, timers, memory." */
static void areas_have_their_own_mode_and_timers(struct scene *s) {
    with_flat(s);
    at(s, 0), sets(s, ANNA, ON_FLAT, NIGHT);
    at(s, 10), sets(s, ANNA, ON_HOME, FULL);
    expect_mode(s, FLAT, NIGHT);
    expect_phase(s, HOME, PANEL_EXITING);
    expect_runs(s, PANEL_TIMER_EXIT, HOME, 60);
    expect_runs(s, PANEL_TIMER_EXIT, FLAT, -1);
    at(s, 20), trips(s, FRONT);
    until(s, 70);
    expect_mode(s, HOME, FULL);
    at(s, 80), trips(s, FLAT_WINDOW);
    until(s, 110);
    expect_sound(s, PANEL_SIREN, FLAT, 80);
    expect_signal_of(s, EVENT_INTRUSION, FLAT_WINDOW, FLAT, PANEL_NOBODY, 110);
    at(s, 120), unsets(s, ANNA, ON_FLAT);
    expect_mode(s, HOME, FULL);
    expect_says(s, PANEL_SAYS_ALARM_MEMORY, FLAT_WINDOW, 120);
}

static void unset_area_hears_only_its_own(struct scene *s) {
    with_flat(s);
    starts_set(s, HOME, FULL);
    at(s, 10), trips(s, FLAT_ROOM), trips(s, FLAT_WINDOW), trips(s, FLAT_DOOR);
    until(s, 300);
    expect_no_siren(s);
    expect_mode(s, HOME, FULL);
}

/* page: "A code acts on `keypad's area | user's areas | areas in entry`." */
static void code_acts_on_the_keypads_area(struct scene *s) {
    with_flat(s);
    starts_set(s, HOME, FULL);
    starts_set(s, FLAT, FULL);
    at(s, 10), unsets(s, ANNA, ON_FLAT);
    expect_phase(s, FLAT, PANEL_UNSET);
    expect_mode(s, HOME, FULL);
}

static void code_acts_on_the_users_areas(struct scene *s) {
    s->settings->code_acts = SITE_CODE_USER;
    with_flat(s);
    starts_set(s, HOME, FULL);
    starts_set(s, FLAT, FULL);
    at(s, 10), unsets(s, BEN, ON_FLAT);
    expect_phase(s, HOME, PANEL_UNSET);
    expect_mode(s, FLAT, FULL);
    at(s, 20), unsets(s, ANNA, ON_HOME);
    expect_phase(s, FLAT, PANEL_UNSET);
}

static void code_acts_on_areas_in_entry(struct scene *s) {
    s->settings->code_acts = SITE_CODE_ENTRY;
    with_flat(s);
    starts_set(s, HOME, FULL);
    starts_set(s, FLAT, FULL);
    at(s, 10), opens(s, FLAT_DOOR);
    at(s, 20), unsets(s, ANNA, ON_HOME);
    expect_phase(s, FLAT, PANEL_UNSET);
    expect_mode(s, HOME, FULL);
}

/* page: "A common area sets when its last member has set and unsets with the first." */
static void common_area_sets_with_the_last(struct scene *s) {
    with_stairs(s);
    at(s, 0), sets(s, ANNA, ON_HOME, NIGHT);
    expect_phase(s, STAIRS, PANEL_UNSET);
    at(s, 10), sets(s, CARA, ON_FLAT, NIGHT);
    until(s, 20);
    expect_phase(s, STAIRS, PANEL_SET);
    at(s, 30), unsets(s, BEN, ON_HOME);
    expect_phase(s, STAIRS, PANEL_UNSET);
    expect_mode(s, FLAT, NIGHT);
}

/* page: "Somebody left = an entry opening changed level either way while the exit delay ran": the way out of a member
 * leads through the common area, whose own setting waits for the others. */
static void common_door_is_a_members_way_out(struct scene *s) {
    with_stairs(s);
    at(s, 0), sets(s, ANNA, ON_HOME, FULL);
    at(s, 20), opens(s, STREET_DOOR);
    at(s, 25), closes(s, STREET_DOOR);
    at(s, 40), opens(s, STREET_DOOR);
    at(s, 45), closes(s, STREET_DOOR);
    until(s, 99);
    expect_phase(s, HOME, PANEL_EXITING);
    until(s, 101);
    expect_mode(s, HOME, FULL);
    expect_phase(s, STAIRS, PANEL_UNSET);
}

/* Its own door left open is its own exit error, though the member's setting succeeds. */
static void common_area_has_its_own_exit_error(struct scene *s) {
    with_stairs(s);
    starts_set(s, FLAT, FULL);
    at(s, 0), sets(s, ANNA, ON_HOME, FULL);
    at(s, 20), trips(s, FRONT);
    at(s, 40), opens(s, STREET_DOOR);
    until(s, 60);
    expect_mode(s, HOME, FULL);
    expect_sound(s, PANEL_SIREN, STAIRS, 60);
    expect_phase(s, STAIRS, PANEL_ENTERING);
    at(s, 70), unsets(s, ANNA, ON_HOME);
    until(s, 600);
    expect_nothing_sent(s);
}

static void common_area_reads_levels(struct scene *s) {
    with_stairs(s);
    starts_open(s, METER_BOX);
    starts_set(s, FLAT, FULL);
    at(s, 10), sets_by(s, PANEL_BY_FOB, ANNA, ON_HOME, FULL);
    expect_phase(s, STAIRS, PANEL_SET);
    until(s, 40);
    expect_siren(s, 10, STILL);
    expect_signal(s, EVENT_INTRUSION, METER_BOX, 40);
}

static void common_area_is_not_asked_by_the_calendar(struct scene *s) {
    with_stairs(s);
    at(s, 0), calendar(s, ON_STAIRS);
    until(s, 1000);
    expect_phase(s, STAIRS, PANEL_UNSET);
    expect_no_tone(s, PANEL_TONE_WARNING);
}

/* page: "A boundary door belongs to one area and starts entry in every set area it serves." */
static void boundary_door_starts_entry_in_both(struct scene *s) {
    with_flat(s);
    starts_set(s, HOME, FULL);
    starts_set(s, FLAT, FULL);
    at(s, 10), opens(s, BETWEEN);
    expect_phase(s, HOME, PANEL_ENTERING);
    expect_phase(s, FLAT, PANEL_ENTERING);
}

static void boundary_door_starts_entry_where_set(struct scene *s) {
    with_flat(s);
    starts_set(s, FLAT, FULL);
    at(s, 10), opens(s, BETWEEN);
    expect_phase(s, HOME, PANEL_UNSET);
    expect_phase(s, FLAT, PANEL_ENTERING);
    until(s, 40);
    expect_siren(s, 40, STILL);
    until(s, 600);
    expect_signal(s, EVENT_INTRUSION, BETWEEN, 70);
    expect_signals(s, EVENT_INTRUSION, ANY, 1);
}

static void other_door_starts_entry_in_its_own(struct scene *s) {
    with_flat(s);
    starts_set(s, HOME, FULL);
    starts_set(s, FLAT, FULL);
    at(s, 10), opens(s, FRONT);
    expect_phase(s, HOME, PANEL_ENTERING);
    expect_mode(s, FLAT, FULL);
}

/* page: "A shared siren stops when no area sounds." */
static void siren_is_shared(struct scene *s) {
    with_flat(s);
    starts_set(s, HOME, FULL);
    starts_set(s, FLAT, FULL);
    at(s, 0), trips(s, WINDOW);
    at(s, 10), trips(s, FLAT_WINDOW);
    at(s, 20), unsets(s, ANNA, ON_HOME);
    expect_siren(s, 0, STILL);
    at(s, 25), unsets(s, ANNA, ON_FLAT);
    until(s, 600);
    expect_siren(s, 0, 25);
}

static const struct scenario rows[] = {
        SCENARIO(areas_have_their_own_mode_and_timers),
        SCENARIO(unset_area_hears_only_its_own),
        SCENARIO(code_acts_on_the_keypads_area),
        SCENARIO(code_acts_on_the_users_areas),
        SCENARIO(code_acts_on_areas_in_entry),
        SCENARIO(common_area_sets_with_the_last),
        SCENARIO(common_door_is_a_members_way_out),
        SCENARIO(common_area_has_its_own_exit_error),
        SCENARIO(common_area_reads_levels),
        SCENARIO(common_area_is_not_asked_by_the_calendar),
        SCENARIO(boundary_door_starts_entry_in_both),
        SCENARIO(boundary_door_starts_entry_where_set),
        SCENARIO(other_door_starts_entry_in_its_own),
        SCENARIO(siren_is_shared),
};
SCENARIO_LIST(areas, rows);
