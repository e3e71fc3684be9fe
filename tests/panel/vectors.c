/* The acceptance vectors V1-V16 of the rules dossier, section 1.5: CP-01 behaviour at default values. The defaults are
 * asserted, each with its tag: [S n] read in source n of the dossier, [M+] from memory, sure, [C] computed from those.
 * Instants are held to plus or minus 10 % (CP-01 3.1.2, 2009 draft) [S4]; no transmission latency is in the model. */
#include "scene.h"

/* Entry 30 s [M+], exit 60 s [M+], abort 30 s [M+; range S5, S10], cancel 300 s [M+], recent closing 120 s [M+],
 * swinger 2 [S5, S7] back after 8 h [S7], mask 60 s [S3]. */
static void as_delivered(struct scene *s) {
    struct site_settings usual = site_settings_usual();
    usual.modes[STOCKTAKING] = s->settings->modes[STOCKTAKING];
    usual.mode_count = s->settings->mode_count;
    usual.delays[BY_FRONT] = s->settings->delays[BY_FRONT];
    usual.delays[BY_BACK] = s->settings->delays[BY_BACK];
    usual.delay_count = s->settings->delay_count;
    *s->settings = usual;
}

static void set_as_delivered(struct scene *s) {
    as_delivered(s);
    starts_set(s, HOME, FULL);
}

/* V1 [C from M+]: entry door 0, code 25: no siren, nothing sent. */
static void v1_code_in_entry_time(struct scene *s) {
    set_as_delivered(s);
    at(s, 0), opens(s, FRONT);
    at(s, 25), unsets(s, ANNA, ON_HOME);
    until(s, 1000);
    expect_no_siren(s);
    expect_nothing_sent(s);
    expect_phase(s, HOME, PANEL_UNSET);
}

/* V2 [C from M+; S10]: entry door 0, code 45: siren 30 to 45, nothing sent, "no alarm sent" shown. */
static void v2_code_in_abort_window(struct scene *s) {
    set_as_delivered(s);
    at(s, 0), opens(s, FRONT);
    at(s, 45), unsets(s, ANNA, ON_HOME);
    until(s, 1000);
    expect_siren_near(s, 30);
    expect_sirens(s, 1);
    expect_sound(s, PANEL_SILENT, HOME, 45);
    expect_nothing_sent(s);
    expect_says(s, PANEL_SAYS_NOTHING_SENT, ANY, 45);
}

/* V3 [C from M+]: entry door 0, no code: siren 30, alarm sent 60. */
static void v3_no_code(struct scene *s) {
    set_as_delivered(s);
    at(s, 0), opens(s, FRONT);
    until(s, 1000);
    expect_siren_near(s, 30);
    expect_signal_between(s, EVENT_INTRUSION, 54, 66);
    expect_signals(s, EVENT_INTRUSION, ANY, 1);
}

/* V4 [C from M+]: as V3, code 200: cancel sent (window 60 to 360). */
static void v4_code_in_cancel_window(struct scene *s) {
    set_as_delivered(s);
    at(s, 0), opens(s, FRONT);
    at(s, 200), unsets(s, ANNA, ON_HOME);
    until(s, 1000);
    expect_signal_between(s, EVENT_INTRUSION, 54, 66);
    expect_signal(s, EVENT_CANCEL, ANY, 200);
    expect_says(s, PANEL_SAYS_CANCEL_SENT, ANY, 200);
    expect_never_says(s, PANEL_SAYS_NOTHING_SENT, ANY);
}

/* V5 [C from M+]: as V3, code 420: no cancel required, opening only. */
static void v5_code_after_cancel_window(struct scene *s) {
    set_as_delivered(s);
    at(s, 0), opens(s, FRONT);
    at(s, 420), unsets(s, ANNA, ON_HOME);
    until(s, 1000);
    expect_no_signal(s, EVENT_CANCEL);
    expect_signal_of(s, EVENT_UNSET, ANY, HOME, ANNA, 420);
}

/* V6 [C from M+, restart made optional S2]: arm 0, door open 20 close 25, open 40 close 45: exit ends at 100, not
 * 60; a third opening changes nothing. */
static void v6_exit_restart(struct scene *s) {
    as_delivered(s);
    at(s, 0), sets(s, ANNA, ON_HOME, FULL);
    at(s, 20), opens(s, FRONT);
    at(s, 25), closes(s, FRONT);
    at(s, 40), opens(s, FRONT);
    at(s, 45), closes(s, FRONT);
    at(s, 70), opens(s, FRONT);
    at(s, 75), closes(s, FRONT);
    until(s, 89);
    expect_phase(s, HOME, PANEL_EXITING);
    until(s, 110);
    expect_mode(s, HOME, FULL);
    expect_signal_between(s, EVENT_SET, 90, 110);
    expect_no_siren(s);
}

/* V7 [C from M+, topic confirmed S12]: arm 0, no door: part-set at 60, interior zones out. */
static void v7_nobody_left(struct scene *s) {
    as_delivered(s);
    at(s, 0), sets(s, ANNA, ON_HOME, FULL);
    until(s, 53);
    expect_phase(s, HOME, PANEL_EXITING);
    until(s, 66);
    expect_mode(s, HOME, PART);
    at(s, 100), trips(s, LOUNGE);
    until(s, 500);
    expect_no_siren(s);
    expect_nothing_sent(s);
}

/* V8 [C from M+]: arm 0, door left open, code 80: siren 60 to 80, nothing sent. */
static void v8_exit_error_put_right(struct scene *s) {
    as_delivered(s);
    at(s, 0), sets(s, ANNA, ON_HOME, FULL);
    at(s, 10), opens(s, FRONT);
    at(s, 80), unsets(s, ANNA, ON_HOME);
    until(s, 1000);
    expect_siren_near(s, 60);
    expect_sound(s, PANEL_SILENT, HOME, 80);
    expect_nothing_sent(s);
}

/* V9 [C from M+; abort on top M?]: arm 0, door left open, no code: siren 60; alarm + exit error sent between 90 and
 * 120. */
static void v9_exit_error(struct scene *s) {
    as_delivered(s);
    at(s, 0), sets(s, ANNA, ON_HOME, FULL);
    at(s, 10), opens(s, FRONT);
    until(s, 1000);
    expect_siren_near(s, 60);
    expect_signal_between(s, EVENT_INTRUSION, 81, 132);
    expect_signal_between(s, EVENT_EXIT_ERROR, 81, 132);
    expect_signals(s, EVENT_INTRUSION, ANY, 1);
    expect_signals(s, EVENT_EXIT_ERROR, ANY, 1);
}

/* V10 [C from M+]: arm 0, door 10 to 15, interior trip 150: alarm with recent closing (60 + 120 = 180 not reached). */
static void v10_recent_closing(struct scene *s) {
    as_delivered(s);
    at(s, 0), sets(s, ANNA, ON_HOME, FULL);
    at(s, 10), opens(s, FRONT);
    at(s, 15), closes(s, FRONT);
    at(s, 150), trips(s, LOUNGE);
    until(s, 1000);
    expect_siren_near(s, 150);
    expect_recent(s, LOUNGE, true);
}

/* V11 [C from M+]: as V10, interior trip 200: alarm without recent closing. */
static void v11_no_longer_recent(struct scene *s) {
    as_delivered(s);
    at(s, 0), sets(s, ANNA, ON_HOME, FULL);
    at(s, 10), opens(s, FRONT);
    at(s, 15), closes(s, FRONT);
    at(s, 200), trips(s, LOUNGE);
    until(s, 1000);
    expect_siren_near(s, 200);
    expect_recent(s, LOUNGE, false);
}

/* V12 [C from S5, S7]: armed, same zone trips at 0, 600, 1200: alarms 1 and 2 only; third suppressed. */
static void v12_swinger(struct scene *s) {
    set_as_delivered(s);
    at(s, 0), trips(s, LOUNGE);
    at(s, 600), trips(s, LOUNGE);
    at(s, 1200), trips(s, LOUNGE);
    until(s, 3000);
    expect_signal_between(s, EVENT_INTRUSION, 27, 33);
    expect_signal_between(
            s, EVENT_INTRUSION, 600, 633); /* whether or not held anew, see fine_print.c */
    expect_signals(s, EVENT_INTRUSION, ANY, 2);
}

/* V13 [C from S7]: V12, then no trips for 8 h: zone may return to duty by itself. Ours does (design page). */
static void v13_swinger_returns(struct scene *s) {
    set_as_delivered(s);
    at(s, 0), trips(s, LOUNGE);
    at(s, 600), trips(s, LOUNGE);
    at(s, 1200), trips(s, LOUNGE);
    at(s, 1200 + 8 * 3600 + 60), trips(s, LOUNGE);
    until(s, 40000);
    expect_signals(s, EVENT_INTRUSION, LOUNGE, 3);
}

/* V14 [C from S10]: smoke trip while armed or not: sent at once. */
static void v14_smoke_while_unset(struct scene *s) {
    as_delivered(s);
    at(s, 10), opens(s, SMOKE);
    until(s, 11);
    expect_signal(s, EVENT_FIRE, SMOKE, 10);
}

static void v14_smoke_while_set(struct scene *s) {
    set_as_delivered(s);
    at(s, 10), opens(s, SMOKE);
    until(s, 11);
    expect_signal(s, EVENT_FIRE, SMOKE, 10);
}

/* V15 [C from S3]: total power loss armed, power back 0 (here: 200), motion 30, motion 70: ignored; alarm. */
static void v15_return_of_power(struct scene *s) {
    set_as_delivered(s);
    at(s, 100), happens(s, PANEL_IN_POWER_LOST, ANY);
    at(s, 200), happens(s, PANEL_IN_POWER_BACK, ANY);
    at(s, 230), trips(s, LOUNGE);
    until(s, 269);
    expect_no_siren(s);
    at(s, 270), trips(s, LOUNGE);
    until(s, 1000);
    expect_siren_starts(s, 270);
    expect_signals(s, EVENT_INTRUSION, LOUNGE, 1);
}

/* V16 [C from M?]: hold-up key double action: sent at once, silent or audible as programmed. The double action is the
 * button's own (4.2.4.2); the panel hears one press. */
static void v16_hold_up_audible(struct scene *s) {
    as_delivered(s);
    s->settings->silent_hold_up = false;
    at(s, 10), opens(s, HOLD_UP);
    until(s, 100);
    expect_signal(s, EVENT_HOLD_UP, HOLD_UP, 10);
    expect_siren_starts(s, 10);
}

static void v16_hold_up_silent(struct scene *s) {
    as_delivered(s);
    s->settings->silent_hold_up = true;
    at(s, 10), opens(s, HOLD_UP);
    until(s, 100);
    expect_signal(s, EVENT_HOLD_UP, HOLD_UP, 10);
    expect_no_siren(s);
}

static const struct scenario rows[] = {
        SCENARIO(v1_code_in_entry_time),
        SCENARIO(v2_code_in_abort_window),
        SCENARIO(v3_no_code),
        SCENARIO(v4_code_in_cancel_window),
        SCENARIO(v5_code_after_cancel_window),
        SCENARIO(v6_exit_restart),
        SCENARIO(v7_nobody_left),
        SCENARIO(v8_exit_error_put_right),
        SCENARIO(v9_exit_error),
        SCENARIO(v10_recent_closing),
        SCENARIO(v11_no_longer_recent),
        SCENARIO(v12_swinger),
        SCENARIO(v13_swinger_returns),
        SCENARIO(v14_smoke_while_unset),
        SCENARIO(v14_smoke_while_set),
        SCENARIO(v15_return_of_power),
        SCENARIO(v16_hold_up_audible),
        SCENARIO(v16_hold_up_silent),
};
SCENARIO_LIST(vectors, rows);
