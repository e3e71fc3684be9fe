/* Design page, "Setting": how the exit goes and how it ends. */
#include "scene.h"

/* page: "Completion `time | final door closed + n s | outside button | lock | fob | station`." */
static void completed_by_time(struct scene *s) {
    at(s, 0), sets(s, ANNA, ON_HOME, FULL);
    expect_tone(s, PANEL_TONE_EXIT, true, 0);
    at(s, 10), trips(s, FRONT);
    until(s, 59);
    expect_phase(s, HOME, PANEL_EXITING);
    until(s, 60);
    expect_mode(s, HOME, FULL);
    expect_tone(s, PANEL_TONE_EXIT, false, 60);
    expect_signal_of(s, EVENT_SET, ANY, HOME, ANNA, 60);
    expect_says(s, PANEL_SAYS_SET, ANY, 60);
}

static void completed_by_the_final_door(struct scene *s) {
    s->settings->completion = SITE_COMPLETE_FINAL_DOOR;
    at(s, 0), sets(s, ANNA, ON_HOME, FULL);
    at(s, 10), opens(s, FRONT);
    at(s, 15), closes(s, FRONT);
    until(s, 19);
    expect_phase(s, HOME, PANEL_EXITING);
    until(s, 20);
    expect_mode(s, HOME, FULL);
}

/* A door that is opened again within those seconds was not the final one yet. */
static void final_door_opened_again(struct scene *s) {
    s->settings->completion = SITE_COMPLETE_FINAL_DOOR;
    s->settings->exit_restart = false;
    at(s, 0), sets(s, ANNA, ON_HOME, FULL);
    at(s, 10), opens(s, FRONT);
    at(s, 15), closes(s, FRONT);
    at(s, 18), opens(s, FRONT);
    at(s, 30), closes(s, FRONT);
    until(s, 34);
    expect_phase(s, HOME, PANEL_EXITING);
    until(s, 35);
    expect_mode(s, HOME, FULL);
    expect_no_siren(s);
}

static void completed_by(
        struct scene *s, enum site_completion completion, enum panel_source source) {
    s->settings->completion = completion;
    at(s, 0), sets(s, ANNA, ON_HOME, FULL);
    at(s, 10), trips(s, FRONT);
    until(s, 24);
    expect_phase(s, HOME, PANEL_EXITING);
    at(s, 25), completes(s, source, ON_HOME);
    expect_mode(s, HOME, FULL);
}

static void completed_by_the_outside_button(struct scene *s) {
    completed_by(s, SITE_COMPLETE_BUTTON, PANEL_BY_KEYPAD);
}

static void completed_by_the_lock(struct scene *s) {
    completed_by(s, SITE_COMPLETE_LOCK, PANEL_BY_KEYPAD);
}

static void completed_by_fob(struct scene *s) {
    completed_by(s, SITE_COMPLETE_FOB, PANEL_BY_FOB);
}

static void completed_by_the_station(struct scene *s) {
    completed_by(s, SITE_COMPLETE_STATION, PANEL_BY_STATION);
}

/* BS 8243 (dossier 2.5): a bare timed exit does not complete setting where another act must [M+]. */
static void time_alone_does_not_complete(struct scene *s) {
    s->settings->completion = SITE_COMPLETE_BUTTON;
    at(s, 0), sets(s, ANNA, ON_HOME, FULL);
    at(s, 10), trips(s, FRONT);
    until(s, 600);
    expect_not_set(s, HOME);
    for (size_t i = 0; s->checks && i < s->heard_count; i++) {
        const struct panel_output *output = &s->heard[i].output;
        if (output->kind == PANEL_OUT_SAYS && output->message == PANEL_SAYS_REFUSED &&
                output->why != PANEL_WHY_NOT_COMPLETED) {
            scene_fail(s, "setting that nothing completed has reason %d", (int)output->why);
        }
    }
}

static void button_means_nothing_where_time_completes(struct scene *s) {
    at(s, 0), sets(s, ANNA, ON_HOME, FULL);
    at(s, 10), trips(s, FRONT);
    at(s, 25), completes(s, PANEL_BY_KEYPAD, ON_HOME);
    until(s, 30);
    expect_phase(s, HOME, PANEL_EXITING);
}

/* page: "Exit restart once: the first opening, after a closing, of the same door during this exit ... loads the full
 * exit delay again". The vector V6 is the usual case. */
static void another_door_does_not_restart(struct scene *s) {
    at(s, 0), sets(s, ANNA, ON_HOME, FULL);
    at(s, 10), trips(s, FRONT);
    at(s, 20), trips(s, BACK);
    until(s, 60);
    expect_mode(s, HOME, FULL);
}

/* page: "(a door open at the request included)" */
static void door_open_at_the_request_restarts(struct scene *s) {
    starts_open(s, FRONT);
    at(s, 0), sets(s, ANNA, ON_HOME, FULL);
    at(s, 10), closes(s, FRONT);
    at(s, 20), trips(s, FRONT);
    until(s, 79);
    expect_phase(s, HOME, PANEL_EXITING);
    until(s, 80);
    expect_mode(s, HOME, FULL);
}

static void restart_is_new_with_each_exit(struct scene *s) {
    at(s, 0), sets(s, ANNA, ON_HOME, FULL);
    at(s, 10), trips(s, FRONT);
    at(s, 20), trips(s, FRONT);
    at(s, 30), unsets(s, ANNA, ON_HOME);
    at(s, 100), sets(s, ANNA, ON_HOME, FULL);
    at(s, 110), trips(s, FRONT);
    at(s, 130), trips(s, FRONT);
    until(s, 189);
    expect_phase(s, HOME, PANEL_EXITING);
    until(s, 190);
    expect_mode(s, HOME, FULL);
}

static void restart_may_be_off(struct scene *s) {
    s->settings->exit_restart = false;
    at(s, 0), sets(s, ANNA, ON_HOME, FULL);
    at(s, 10), trips(s, FRONT);
    at(s, 20), trips(s, FRONT);
    until(s, 60);
    expect_mode(s, HOME, FULL);
}

/* page: "never for remote or auto-set" */
static void remote_exit_does_not_restart(struct scene *s) {
    s->settings->fob_way = SITE_FOB_TIMED;
    at(s, 0), sets_by(s, PANEL_BY_REMOTE, ANNA, ON_HOME, FULL);
    at(s, 10), trips(s, FRONT);
    at(s, 20), trips(s, FRONT);
    until(s, 60);
    expect_mode(s, HOME, FULL);
}

static void auto_exit_does_not_restart(struct scene *s) {
    s->settings->auto_warn_s = 0;
    at(s, 0), calendar(s, ON_HOME);
    at(s, 10), trips(s, FRONT);
    at(s, 20), trips(s, FRONT);
    until(s, 60);
    expect_runs(s, PANEL_TIMER_EXIT, HOME, -1);
}

/* page: "Somebody left = an entry opening changed level either way while the exit delay ran" */
static void a_closing_is_somebody_leaving(struct scene *s) {
    starts_open(s, FRONT);
    at(s, 0), sets(s, ANNA, ON_HOME, FULL);
    at(s, 10), closes(s, FRONT);
    until(s, 60);
    expect_mode(s, HOME, FULL);
}

/* page: "nobody left (keypad full set only): drops to part" */
static void nobody_left_drops_to_part(struct scene *s) {
    at(s, 0), sets(s, ANNA, ON_HOME, FULL);
    at(s, 10), trips(s, LOUNGE), trips(s, HALL);
    until(s, 60);
    expect_mode(s, HOME, PART);
    expect_says(s, PANEL_SAYS_DROPPED_TO_PART, ANY, 60);
    at(s, 100), trips(s, WINDOW);
    expect_siren(s, 100, STILL);
}

/* The levels are read by the mode that it drops to. */
static void dropped_to_part_reads_levels(struct scene *s) {
    s->zones[CUPBOARD].in[PART] = SITE_INTERIOR;
    at(s, 0), sets(s, ANNA, ON_HOME, FULL);
    at(s, 10), opens(s, CUPBOARD);
    until(s, 60);
    expect_mode(s, HOME, PART);
    expect_siren(s, 60, STILL);
}

static void nobody_left_may_not_matter(struct scene *s) {
    s->settings->drop_to_part = false;
    at(s, 0), sets(s, ANNA, ON_HOME, FULL);
    until(s, 60);
    expect_mode(s, HOME, FULL);
}

static void nobody_left_matters_only_at_a_keypad(struct scene *s) {
    s->settings->fob_way = SITE_FOB_TIMED;
    at(s, 0), sets_by(s, PANEL_BY_FOB, ANNA, ON_HOME, FULL);
    until(s, 60);
    expect_mode(s, HOME, FULL);
}

static void nobody_left_matters_only_in_full(struct scene *s) {
    s->settings->modes[NIGHT].exit_delay_s = 20;
    at(s, 0), sets(s, ANNA, ON_HOME, NIGHT);
    until(s, 20);
    expect_mode(s, HOME, NIGHT);
}

/* page: "an opening still open at the end is an exit error, judged first." */
static void exit_error_is_judged_before_nobody_left(struct scene *s) {
    starts_open(s, FRONT);
    at(s, 0), sets(s, ANNA, ON_HOME, FULL);
    until(s, 60);
    expect_siren(s, 60, STILL);
    expect_never_says(s, PANEL_SAYS_DROPPED_TO_PART, ANY);
}

/* page: "Levels are read: entry or follower contact open → exit error (siren and its entry delay at once; unset in
 * time: nothing sent; else alarm and exit-error signal)" */
static void entry_open_at_the_end_is_an_exit_error(struct scene *s) {
    at(s, 0), sets(s, ANNA, ON_HOME, FULL);
    at(s, 10), opens(s, BACK);
    until(s, 60);
    expect_siren(s, 60, STILL);
    expect_runs(s, PANEL_TIMER_ENTRY, HOME, 45);
    until(s, 104);
    expect_nothing_sent(s);
    until(s, 135);
    expect_signal_between(s, EVENT_EXIT_ERROR, 105, 135);
    expect_signal_between(s, EVENT_INTRUSION, 105, 135);
}

/* Common practice: once a report has left, nothing waits for an abort window any more. */
static void exit_error_takes_along_what_waits(struct scene *s) {
    at(s, 0), sets(s, ANNA, ON_HOME, FULL);
    at(s, 10), opens(s, FRONT);
    at(s, 85), trips(s, LOUNGE);
    until(s, 89);
    expect_nothing_sent(s);
    until(s, 300);
    expect_signal(s, EVENT_EXIT_ERROR, FRONT, 90);
    expect_signals(s, EVENT_INTRUSION, FRONT, 1);
    expect_signal(s, EVENT_INTRUSION, LOUNGE, 90);
}

static void exit_error_unset_in_time(struct scene *s) {
    at(s, 0), sets(s, ANNA, ON_HOME, FULL);
    at(s, 10), opens(s, FRONT);
    at(s, 89), unsets(s, ANNA, ON_HOME);
    until(s, 600);
    expect_siren(s, 60, 89);
    expect_nothing_sent(s);
}

static void follower_contact_open_at_the_end_is_an_exit_error(struct scene *s) {
    s->profiles[HALL].sense = SITE_CONTACT;
    at(s, 0), sets(s, ANNA, ON_HOME, FULL);
    at(s, 10), trips(s, FRONT);
    at(s, 20), opens(s, HALL);
    until(s, 60);
    expect_siren(s, 60, STILL);
    until(s, 200);
    expect_signals(s, EVENT_EXIT_ERROR, ANY, 1);
}

/* A follower has no delay of its own: that of its first route; of none, there is nothing to wait for. */
static void follower_of_no_route_left_open(struct scene *s) {
    s->profiles[HALL].sense = SITE_CONTACT;
    s->zones[HALL].follows = 1U << SITE_DELAY_MAX;
    at(s, 0), sets(s, ANNA, ON_HOME, FULL);
    at(s, 10), trips(s, FRONT);
    at(s, 20), opens(s, HALL);
    until(s, 60);
    expect_siren(s, 60, STILL);
    expect_signal(s, EVENT_EXIT_ERROR, HALL, 60);
}

/* page: "an open interior contact → alarm" */
static void interior_contact_open_at_the_end_is_an_alarm(struct scene *s) {
    at(s, 0), sets(s, ANNA, ON_HOME, FULL);
    at(s, 10), trips(s, FRONT);
    at(s, 20), opens(s, CUPBOARD);
    until(s, 90);
    expect_siren(s, 60, STILL);
    expect_signal(s, EVENT_INTRUSION, CUPBOARD, 90);
    expect_no_signal(s, EVENT_EXIT_ERROR);
}

/* It was heard once, at the end of the exit: the entry that follows does not tell it again. */
static void open_interior_contact_is_told_once(struct scene *s) {
    at(s, 0), sets(s, ANNA, ON_HOME, FULL);
    at(s, 10), trips(s, FRONT);
    at(s, 20), opens(s, CUPBOARD);
    at(s, 70), opens(s, FRONT);
    at(s, 75), opens(s, BACK);
    until(s, 200);
    expect_siren(s, 60, STILL);
    expect_signals(s, EVENT_INTRUSION, CUPBOARD, 1);
}

static void exit_error_with_an_inside_door_open(struct scene *s) {
    at(s, 0), sets(s, ANNA, ON_HOME, FULL);
    at(s, 10), opens(s, FRONT);
    at(s, 20), opens(s, CUPBOARD);
    until(s, 200);
    expect_siren(s, 60, STILL);
    expect_signals(s, EVENT_EXIT_ERROR, FRONT, 1);
}

/* Other contacts that opened during the exit were heard then; at its end they say nothing new. */
static void other_contacts_open_at_the_end(struct scene *s) {
    for (int zone = HOLD_UP; zone <= FROST; zone++) {
        s->profiles[zone].sense = SITE_CONTACT;
    }
    at(s, 0), sets(s, ANNA, ON_HOME, FULL);
    at(s, 10), trips(s, FRONT);
    at(s, 20), opens(s, WINDOW), opens(s, SAFE), opens(s, CELLAR);
    for (int zone = HOLD_UP; zone <= FROST; zone++) {
        opens(s, zone);
    }
    until(s, 60);
    expect_mode(s, HOME, FULL);
    expect_no_signal(s, EVENT_EXIT_ERROR);
    expect_siren(s, 20, STILL);
}

/* page: "motion needs a new trip." */
static void motion_at_the_end_needs_a_new_trip(struct scene *s) {
    at(s, 0), sets(s, ANNA, ON_HOME, FULL);
    at(s, 10), trips(s, FRONT);
    at(s, 55), opens(s, LOUNGE), opens(s, HALL);
    until(s, 70);
    expect_mode(s, HOME, FULL);
    expect_no_siren(s);
    at(s, 71), closes(s, LOUNGE), opens(s, LOUNGE);
    expect_siren(s, 71, STILL);
}

static const struct scenario rows[] = {
        SCENARIO(completed_by_time),
        SCENARIO(completed_by_the_final_door),
        SCENARIO(final_door_opened_again),
        SCENARIO(completed_by_the_outside_button),
        SCENARIO(completed_by_the_lock),
        SCENARIO(completed_by_fob),
        SCENARIO(completed_by_the_station),
        SCENARIO(time_alone_does_not_complete),
        SCENARIO(button_means_nothing_where_time_completes),
        SCENARIO(another_door_does_not_restart),
        SCENARIO(door_open_at_the_request_restarts),
        SCENARIO(restart_is_new_with_each_exit),
        SCENARIO(restart_may_be_off),
        SCENARIO(remote_exit_does_not_restart),
        SCENARIO(auto_exit_does_not_restart),
        SCENARIO(a_closing_is_somebody_leaving),
        SCENARIO(nobody_left_drops_to_part),
        SCENARIO(dropped_to_part_reads_levels),
        SCENARIO(nobody_left_may_not_matter),
        SCENARIO(nobody_left_matters_only_at_a_keypad),
        SCENARIO(nobody_left_matters_only_in_full),
        SCENARIO(exit_error_is_judged_before_nobody_left),
        SCENARIO(entry_open_at_the_end_is_an_exit_error),
        SCENARIO(exit_error_takes_along_what_waits),
        SCENARIO(exit_error_unset_in_time),
        SCENARIO(follower_contact_open_at_the_end_is_an_exit_error),
        SCENARIO(follower_of_no_route_left_open),
        SCENARIO(interior_contact_open_at_the_end_is_an_alarm),
        SCENARIO(open_interior_contact_is_told_once),
        SCENARIO(exit_error_with_an_inside_door_open),
        SCENARIO(other_contacts_open_at_the_end),
        SCENARIO(motion_at_the_end_needs_a_new_trip),
};
SCENARIO_LIST(leaving, rows);
