/* A rehearsal of a small house: what is sent, when, and what becomes of it while the receiver is away. Times by hand:
 * a perimeter door sounds at once, its signal leaves after the abort window (tests/panel has that in full). */
#include "rehearsal/rehearsal.h"

#include "check/test_site.h"

#include <stdlib.h>

enum { ABORT_S = 20, SIREN_S = 60 };

static struct test_site house;
static struct arena arena;
static struct rehearsal rehearsal;
static struct rehearsal_course course;
static struct proof_line lines[4];

/* cmocka's own allocator counts what a fixture leaves to its test as lost. */
static void *get(void *context, size_t size) {
    (void)context;
    return malloc(size);
}

static void give(void *context, void *block, size_t size) {
    (void)context;
    (void)size;
    free(block);
}

static int begin(void **state) {
    (void)state;
    arena_init(&arena, (struct pages){.get = get, .give = give}, 0);
    test_site_fill(&house, SITE_WORDS_UK);
    house.site.settings.abort_window_s = ABORT_S;
    house.site.settings.siren_time_s = SIREN_S;
    house.site.settings.tolerance_tenths = 0;
    /* the side door opens at 5 s, and is shut at 7 s */
    lines[0] = (struct proof_line){.kind = PROOF_LINE_LEVEL,
            .at_s = 5,
            .person = SITE_NONE,
            .zone = SIDE_ZONE,
            .open = true};
    lines[1] = (struct proof_line){
            .kind = PROOF_LINE_LEVEL, .at_s = 7, .person = SITE_NONE, .zone = SIDE_ZONE};
    course = (struct rehearsal_course){.routine = {.source = &house.routine, .begins_s = -1},
            .lines = lines,
            .count = 2,
            .calendar_s = -1};
    return 0;
}

static int end(void **state) {
    (void)state;
    arena_finish(&arena);
    return 0;
}

static void play_to(int32_t most_s) {
    int32_t at_s = 0;
    while (rehearsal_next(&rehearsal, &at_s) && at_s <= most_s) {
        rehearsal_pass(&rehearsal, at_s);
    }
}

static void sends(enum event_kind kind, bool restore, int32_t at_s) {
    struct rehearsal_signal signal;
    assert_true(rehearsal_take_signal(&rehearsal, &signal));
    assert_int_equal(signal.event.kind, kind);
    assert_int_equal(signal.event.restore, restore);
    assert_int_equal(signal.at_s, at_s);
}

static void sends_nothing(void) {
    struct rehearsal_signal signal;
    assert_false(rehearsal_take_signal(&rehearsal, &signal));
}

static void a_signal_leaves_when_the_model_says(void **state) {
    (void)state;
    assert_true(rehearsal_begin(&house.site, &course, &arena, &rehearsal, NULL).good);
    play_to(24);
    sends_nothing();
    play_to(25);
    sends(EVENT_INTRUSION, false, 25);
    sends(EVENT_INTRUSION, true, 25); /* the door has been shut since 7 s */
    play_to(INT32_MAX);
    sends_nothing();
    int32_t at_s = 0;
    assert_false(rehearsal_next(&rehearsal, &at_s));
    assert_true(rehearsal.player.now_s >= 5 + SIREN_S); /* it went on until the siren was silent */
}

static void while_the_receiver_is_away_signals_wait_in_the_panel(void **state) {
    (void)state;
    assert_true(rehearsal_begin(&house.site, &course, &arena, &rehearsal, NULL).good);
    play_to(5);
    rehearsal_path(&rehearsal, true);
    rehearsal_path(&rehearsal, true); /* said twice it is one loss */
    play_to(40);
    sends_nothing();
    assert_int_equal(
            rehearsal_waiting(&rehearsal), 3); /* the alarm, its end, that the path is lost */
    const int32_t back_s = rehearsal.player.now_s;
    rehearsal_path(&rehearsal, false);
    sends(EVENT_INTRUSION, false, back_s);
    sends(EVENT_INTRUSION, true, back_s);
    sends(EVENT_PATH, false, back_s); /* less urgent than an alarm, though it was made before */
    sends(EVENT_PATH, true, back_s);
    sends_nothing();
    assert_int_equal(rehearsal_waiting(&rehearsal), 0);
}

/* A receiver that is back does not mend a line that was cut. */
static void a_line_that_is_cut_stays_cut(void **state) {
    (void)state;
    course.end = REHEARSAL_LINE_CUT;
    course.end_s = 20;
    assert_true(rehearsal_begin(&house.site, &course, &arena, &rehearsal, NULL).good);
    play_to(30);
    rehearsal_path(&rehearsal, true);
    rehearsal_path(&rehearsal, false);
    play_to(INT32_MAX);
    sends_nothing();
    assert_int_equal(rehearsal_waiting(&rehearsal), 3);
}

static void a_panel_that_is_smashed_sends_nothing_more(void **state) {
    (void)state;
    int32_t at_s = 0;
    course.end = REHEARSAL_SMASHED;
    course.end_s = 24;
    assert_true(rehearsal_begin(&house.site, &course, &arena, &rehearsal, NULL).good);
    play_to(INT32_MAX);
    sends_nothing();
    assert_int_equal(rehearsal.player.now_s, 24);
    assert_false(rehearsal_next(&rehearsal, &at_s));
}

/* The calendar sets although no line of the story says so. */
static void the_calendar_comes_by_itself(void **state) {
    (void)state;
    house.routine.starts[SHOP].set = false;
    house.site.settings.auto_set_at_s = 3600;
    house.site.settings.auto_set_area = SHOP;
    house.site.settings.auto_warn_s = 0;
    course.calendar_s = 60;
    lines[0] = (struct proof_line){.kind = PROOF_LINE_END, .at_s = 100};
    course.count = 1;
    assert_true(rehearsal_begin(&house.site, &course, &arena, &rehearsal, NULL).good);
    play_to(INT32_MAX);
    struct rehearsal_signal signal;
    assert_true(rehearsal_take_signal(&rehearsal, &signal));
    assert_int_equal(signal.event.kind, EVENT_SET);
    assert_true(signal.at_s >= 60);
}

/* What happens is told once, in order, and only what is new. */
static void what_happens_is_told_as_it_does(void **state) {
    (void)state;
    struct story acts;
    struct story story;
    assert_true(rehearsal_begin(&house.site, &course, &arena, &rehearsal, NULL).good);
    assert_true(rehearsal_tell(&rehearsal, &arena, &acts, &story, NULL).good);
    assert_int_equal(acts.count, 0);
    assert_int_equal(story.count, 1);
    assert_true(text_is(story.lines[0].what, "shop is set (full); flat is unset"));
    play_to(5);
    assert_true(rehearsal_tell(&rehearsal, &arena, &acts, &story, NULL).good);
    assert_true(story.count > 0);
    assert_int_equal(story.lines[0].at_s, 5);
    play_to(25);
    assert_true(rehearsal_tell(&rehearsal, &arena, &acts, &story, NULL).good);
    assert_true(story.lines[0].at_s > 5);
    assert_true(text_is(story.lines[story.count - 2].what, "sent: \"intrusion, zone 3\""));
}

/* What listens for blows feels somebody who forces his way: a gross one, which is an alarm at once. */
static void an_intruder_is_felt_as_a_blow(void **state) {
    (void)state;
    house.profiles[0].sense = SITE_SHOCK;
    house.zones[SIDE_ZONE].pulse_count = 3;
    house.zones[SIDE_ZONE].pulse_window_s = 10;
    assert_true(rehearsal_begin(&house.site, &course, &arena, &rehearsal, NULL).good);
    play_to(INT32_MAX);
    sends_nothing();
    course.blows = true;
    assert_true(rehearsal_begin(&house.site, &course, &arena, &rehearsal, NULL).good);
    play_to(INT32_MAX);
    sends(EVENT_INTRUSION, false, 25);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test_setup_teardown(a_signal_leaves_when_the_model_says, begin, end),
            cmocka_unit_test_setup_teardown(
                    while_the_receiver_is_away_signals_wait_in_the_panel, begin, end),
            cmocka_unit_test_setup_teardown(a_line_that_is_cut_stays_cut, begin, end),
            cmocka_unit_test_setup_teardown(a_panel_that_is_smashed_sends_nothing_more, begin, end),
            cmocka_unit_test_setup_teardown(the_calendar_comes_by_itself, begin, end),
            cmocka_unit_test_setup_teardown(what_happens_is_told_as_it_does, begin, end),
            cmocka_unit_test_setup_teardown(an_intruder_is_felt_as_a_blow, begin, end),
    };
    return cmocka_run_group_tests_name("rehearsal", tests, NULL, NULL);
}
