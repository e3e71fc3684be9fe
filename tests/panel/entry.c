/* Design page, "Entry". */
#include "scene.h"

/* page: "Off-route trip: `now` (siren now, report after abort)" */
static void off_route_now(struct scene *s) {
    starts_set(s, HOME, FULL);
    at(s, 0), opens(s, BACK);
    at(s, 10), trips(s, LOUNGE);
    until(s, 40);
    expect_siren(s, 10, STILL);
    expect_signal(s, EVENT_INTRUSION, LOUNGE, 40);
}

static void off_route_now_unset_in_time(struct scene *s) {
    starts_set(s, HOME, FULL);
    at(s, 0), opens(s, FRONT);
    at(s, 10), trips(s, LOUNGE);
    at(s, 20), unsets(s, ANNA, ON_HOME);
    until(s, 600);
    expect_siren(s, 10, 20);
    expect_nothing_sent(s);
    expect_says(s, PANEL_SAYS_NOTHING_SENT, ANY, 20);
}

/* page: "`en` (inside warning at d s; report not before max(Te, d + 30 s))". EN 50131-1 8.3.8.2 as amended 2009 [S26];
 * the examples Te = 45: d = 10 gives 45, d = 30 gives 60 [C], dossier 2.4. */
static void by_en(struct scene *s) {
    s->settings->off_route = SITE_OFF_ROUTE_EN;
    starts_set(s, HOME, FULL);
}

static void off_route_en_early(struct scene *s) {
    by_en(s);
    at(s, 0), opens(s, BACK);
    at(s, 10), trips(s, LOUNGE);
    until(s, 44);
    expect_inside(s, true, 10);
    expect_no_siren(s);
    expect_nothing_sent(s);
    until(s, 45);
    expect_signal(s, EVENT_INTRUSION, LOUNGE, 45);
}

static void off_route_en_late(struct scene *s) {
    by_en(s);
    at(s, 0), opens(s, BACK);
    at(s, 30), trips(s, LOUNGE);
    until(s, 59);
    expect_inside(s, true, 30);
    expect_nothing_sent(s);
    until(s, 60);
    expect_signal(s, EVENT_INTRUSION, LOUNGE, 60);
}

static void off_route_en_unset_in_time(struct scene *s) {
    by_en(s);
    at(s, 0), opens(s, BACK);
    at(s, 30), trips(s, LOUNGE);
    at(s, 50), unsets(s, ANNA, ON_HOME);
    until(s, 600);
    expect_inside(s, false, 50);
    expect_no_siren(s);
    expect_nothing_sent(s);
}

/* What was held before the warning began waits for the warning's end with the rest: nothing of it leaves sooner. */
static void off_route_en_after_an_alarm(struct scene *s) {
    by_en(s);
    at(s, 0), trips(s, WINDOW);
    at(s, 5), opens(s, BACK);
    at(s, 25), trips(s, LOUNGE);
    until(s, 54);
    expect_nothing_sent(s);
    until(s, 55);
    expect_signal(s, EVENT_INTRUSION, WINDOW, 55);
    expect_signal(s, EVENT_INTRUSION, LOUNGE, 55);
}

/* page: "Expiry: `now`: siren, abort window, report." */
static void expiry_now(struct scene *s) {
    starts_set(s, HOME, FULL);
    at(s, 0), opens(s, FRONT);
    until(s, 60);
    expect_siren(s, 30, STILL);
    expect_tone(s, PANEL_TONE_ENTRY, false, 30);
    expect_signal(s, EVENT_INTRUSION, FRONT, 60);
}

/* page: "`en`: warning, report 30 s later." [M?] */
static void expiry_en(struct scene *s) {
    by_en(s);
    at(s, 0), opens(s, BACK);
    until(s, 74);
    expect_inside(s, true, 45);
    expect_nothing_sent(s);
    until(s, 75);
    expect_signal(s, EVENT_INTRUSION, BACK, 75);
}

static void expiry_en_unset_while_warned(struct scene *s) {
    by_en(s);
    at(s, 0), opens(s, BACK);
    at(s, 60), unsets(s, ANNA, ON_HOME);
    until(s, 600);
    expect_nothing_sent(s);
}

/* Common practice, clocks nominal: a 30 s entry delay stops a code keyed at 29 s and not at 31 s. */
static void code_at_29(struct scene *s) {
    starts_set(s, HOME, FULL);
    at(s, 0), opens(s, FRONT);
    at(s, 29), unsets(s, ANNA, ON_HOME);
    until(s, 600);
    expect_no_siren(s);
    expect_tone(s, PANEL_TONE_ENTRY, false, 29);
}

static void code_at_31(struct scene *s) {
    starts_set(s, HOME, FULL);
    at(s, 0), opens(s, FRONT);
    at(s, 31), unsets(s, ANNA, ON_HOME);
    until(s, 600);
    expect_siren(s, 30, 31);
}

/* page: "n wrong ones lock out and signal." */
static void wrong_codes_lock_out(struct scene *s) {
    starts_set(s, HOME, FULL);
    at(s, 0), happens(s, PANEL_IN_WRONG_CODE, ANY);
    at(s, 5), happens(s, PANEL_IN_WRONG_CODE, ANY);
    expect_says(s, PANEL_SAYS_WRONG_CODE, ANY, 5);
    expect_no_signal(s, EVENT_LOCKOUT);
    at(s, 10), happens(s, PANEL_IN_WRONG_CODE, ANY);
    expect_signal(s, EVENT_LOCKOUT, ANY, 10);
    at(s, 50), happens(s, PANEL_IN_WRONG_CODE, ANY);
    expect_says(s, PANEL_SAYS_LOCKED, ANY, 50);
    at(s, 99), unsets(s, ANNA, ON_HOME);
    expect_mode(s, HOME, FULL);
    expect_says(s, PANEL_SAYS_LOCKED, ANY, 99);
    at(s, 101), unsets(s, ANNA, ON_HOME);
    expect_phase(s, HOME, PANEL_UNSET);
}

static void right_code_forgives_wrong_ones(struct scene *s) {
    at(s, 0), happens(s, PANEL_IN_WRONG_CODE, ANY);
    at(s, 5), happens(s, PANEL_IN_WRONG_CODE, ANY);
    at(s, 10), sets(s, ANNA, ON_HOME, NIGHT);
    at(s, 15), unsets(s, ANNA, ON_HOME);
    at(s, 20), happens(s, PANEL_IN_WRONG_CODE, ANY);
    at(s, 25), happens(s, PANEL_IN_WRONG_CODE, ANY);
    expect_no_signal(s, EVENT_LOCKOUT);
    at(s, 30), happens(s, PANEL_IN_WRONG_CODE, ANY);
    expect_signal(s, EVENT_LOCKOUT, ANY, 30);
}

static void lock_out_may_be_off(struct scene *s) {
    s->settings->lockout_tries = 0;
    for (int32_t i = 0; i < 20; i++) {
        at(s, i), happens(s, PANEL_IN_WRONG_CODE, ANY);
    }
    expect_no_signal(s, EVENT_LOCKOUT);
    at(s, 30), sets(s, ANNA, ON_HOME, NIGHT);
    expect_mode(s, HOME, NIGHT);
}

/* page: "Users have areas, modes, hours." */
static void code_of_another_area(struct scene *s) {
    with_flat(s);
    starts_set(s, HOME, FULL);
    at(s, 10), unsets(s, CARA, ON_HOME);
    expect_mode(s, HOME, FULL);
    expect_says(s, PANEL_SAYS_NOT_YOURS, ANY, 10);
    at(s, 20), unsets(s, BEN, ON_HOME);
    expect_phase(s, HOME, PANEL_UNSET);
}

static size_t refusals(const struct scene *s, enum panel_reason why) {
    size_t count = 0;
    for (size_t i = 0; i < s->heard_count; i++) {
        const struct panel_output *output = &s->heard[i].output;
        count += output->kind == PANEL_OUT_SAYS && output->message == PANEL_SAYS_REFUSED &&
                output->why == why;
    }
    return count;
}

/* page: "Users have areas, modes, hours." What a code may not set is refused, and says that it is the code. */
static void code_of_another_mode(struct scene *s) {
    s->people[BEN].modes = 1U << PART | 1U << NIGHT;
    at(s, 10), sets(s, BEN, ON_HOME, FULL);
    expect_says(s, PANEL_SAYS_REFUSED, ANY, 10);
    expect_phase(s, HOME, PANEL_UNSET);
    if (s->checks && refusals(s, PANEL_WHY_USER_MODE) != 1) {
        scene_fail(s, "one refusal for the user's modes");
    }
    at(s, 20), sets(s, BEN, ON_HOME, NIGHT);
    expect_mode(s, HOME, NIGHT);
    at(s, 30), sets_by(s, PANEL_BY_FOB, BEN, ON_HOME, FULL);
    expect_mode(s, HOME, NIGHT);
    at(s, 40), unsets(s, BEN, ON_HOME);
    expect_phase(s, HOME, PANEL_UNSET);
    at(s, 50), sets(s, ANNA, ON_HOME, FULL);
    expect_phase(s, HOME, PANEL_EXITING);
}

/* A code that may not set the mode is a right code: it forgives the wrong ones before it. */
static void refused_mode_is_no_wrong_code(struct scene *s) {
    s->people[BEN].modes = 1U << PART;
    at(s, 0), happens(s, PANEL_IN_WRONG_CODE, ANY), happens(s, PANEL_IN_WRONG_CODE, ANY);
    at(s, 10), sets(s, BEN, ON_HOME, FULL);
    at(s, 20), happens(s, PANEL_IN_WRONG_CODE, ANY), happens(s, PANEL_IN_WRONG_CODE, ANY);
    expect_no_signal(s, EVENT_LOCKOUT);
}

/* Nobody's modes stand in the way of the calendar. */
static void calendar_has_no_modes(struct scene *s) {
    for (int person = 0; person < PEOPLE; person++) {
        s->people[person].modes = 1U << PART;
    }
    s->settings->auto_warn_s = 60;
    at(s, 10), calendar(s, ON_HOME);
    until(s, 80);
    expect_mode(s, HOME, FULL);
}

/* page: "Users have areas, modes, hours." Outside them neither the code nor the fob is taken, for anything. */
static void code_outside_its_hours(struct scene *s) {
    starts_set(s, HOME, FULL);
    at(s, 0), hours_end(s, BEN);
    at(s, 10), unsets(s, BEN, ON_HOME);
    expect_says(s, PANEL_SAYS_NOT_NOW, ANY, 10);
    expect_mode(s, HOME, FULL);
    at(s, 20), unsets_by(s, PANEL_BY_FOB, BEN, ON_HOME);
    expect_mode(s, HOME, FULL);
    at(s, 30), hours_begin(s, BEN);
    at(s, 40), unsets(s, BEN, ON_HOME);
    expect_phase(s, HOME, PANEL_UNSET);
    at(s, 50), hours_end(s, BEN);
    at(s, 60), sets(s, BEN, ON_HOME, FULL);
    expect_says(s, PANEL_SAYS_NOT_NOW, ANY, 60);
    expect_phase(s, HOME, PANEL_UNSET);
    at(s, 70), bypasses(s, BEN, WINDOW);
    expect_bypassed(s, WINDOW, false);
    at(s, 80), calendar(s, ON_HOME);
    at(s, 90), postpones(s, BEN, ON_HOME);
    expect_runs(s, PANEL_TIMER_AUTO_POSTPONE, HOME, -1);
    at(s, 95), postpones(s, ANNA, ON_HOME);
    expect_runs(s, PANEL_TIMER_AUTO_WARN, HOME, -1);
}

/* Hours are the user's own, and a user without them is taken at every hour. */
static void hours_are_of_one_user(struct scene *s) {
    starts_set(s, HOME, FULL);
    at(s, 0), hours_end(s, BEN);
    at(s, 10), unsets(s, ANNA, ON_HOME);
    expect_phase(s, HOME, PANEL_UNSET);
    expect_never_says(s, PANEL_SAYS_NOT_NOW, ANY);
}

/* It is no wrong code, nor does it make up for some; and what starts the entry time does not ask who comes. */
static void code_outside_its_hours_is_no_wrong_one(struct scene *s) {
    starts_set(s, HOME, FULL);
    at(s, 0), hours_end(s, BEN);
    at(s, 10), opens(s, FRONT), happens(s, PANEL_IN_WRONG_CODE, ANY),
            happens(s, PANEL_IN_WRONG_CODE, ANY);
    at(s, 20), unsets(s, BEN, ON_HOME);
    expect_no_signal(s, EVENT_LOCKOUT);
    at(s, 22), happens(s, PANEL_IN_WRONG_CODE, ANY);
    expect_signal(s, EVENT_LOCKOUT, ANY, 22);
    until(s, 60);
    expect_siren(s, 40, STILL);
}

/* The calendar goes on without power. */
static void hours_end_without_power(struct scene *s) {
    starts_set(s, HOME, FULL);
    at(s, 10), happens(s, PANEL_IN_POWER_LOST, ANY);
    at(s, 20), hours_end(s, BEN);
    at(s, 30), happens(s, PANEL_IN_POWER_BACK, ANY);
    at(s, 200), unsets(s, BEN, ON_HOME);
    expect_says(s, PANEL_SAYS_NOT_NOW, ANY, 200);
    expect_mode(s, HOME, FULL);
}

/* page: "Duress unsets normally and signals silently." */
static void duress(struct scene *s) {
    starts_set(s, HOME, FULL);
    at(s, 0), opens(s, FRONT);
    at(s, 20), unsets(s, DORA, ON_HOME);
    until(s, 600);
    expect_phase(s, HOME, PANEL_UNSET);
    expect_says(s, PANEL_SAYS_UNSET, ANY, 20);
    expect_signal_of(s, EVENT_DURESS, ANY, HOME, DORA, 20);
    expect_no_siren(s);
    expect_no_inside(s);
    expect_never_says(s, PANEL_SAYS_TROUBLE, ANY);
}

static void other_codes_are_not_duress(struct scene *s) {
    starts_set(s, HOME, FULL);
    at(s, 20), unsets(s, ANNA, ON_HOME);
    expect_no_signal(s, EVENT_DURESS);
}

/* page: "an entry door opened while the exit time runs starts no entry delay; whoever comes in then has what is left of
 * the exit time, and counts as "somebody left"." */
static void door_in_exit_starts_no_entry(struct scene *s) {
    at(s, 0), sets(s, ANNA, ON_HOME, FULL);
    at(s, 50), opens(s, FRONT);
    at(s, 52), closes(s, FRONT);
    expect_no_tone(s, PANEL_TONE_ENTRY);
    expect_runs(s, PANEL_TIMER_ENTRY, HOME, -1);
    expect_runs(s, PANEL_TIMER_EXIT, HOME, 8);
    until(s, 60);
    expect_mode(s, HOME, FULL);
    at(s, 62), trips(s, LOUNGE);
    expect_siren(s, 62, STILL);
}

static const struct scenario rows[] = {
        SCENARIO(off_route_now),
        SCENARIO(off_route_now_unset_in_time),
        SCENARIO(off_route_en_early),
        SCENARIO(off_route_en_late),
        SCENARIO(off_route_en_unset_in_time),
        SCENARIO(off_route_en_after_an_alarm),
        SCENARIO(expiry_now),
        SCENARIO(expiry_en),
        SCENARIO(expiry_en_unset_while_warned),
        SCENARIO(code_at_29),
        SCENARIO(code_at_31),
        SCENARIO(wrong_codes_lock_out),
        SCENARIO(right_code_forgives_wrong_ones),
        SCENARIO(lock_out_may_be_off),
        SCENARIO(code_of_another_area),
        SCENARIO(code_of_another_mode),
        SCENARIO(refused_mode_is_no_wrong_code),
        SCENARIO(calendar_has_no_modes),
        SCENARIO(code_outside_its_hours),
        SCENARIO(hours_are_of_one_user),
        SCENARIO(code_outside_its_hours_is_no_wrong_one),
        SCENARIO(hours_end_without_power),
        SCENARIO(duress),
        SCENARIO(other_codes_are_not_duress),
        SCENARIO(door_in_exit_starts_no_entry),
};
SCENARIO_LIST(entry, rows);
