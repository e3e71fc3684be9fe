/* How late a held report can leave by the European course, row by row; the figures by hand, from the course as
 * docs/panel-model.md has it: an inside warning of 30 s, and an entry time that begins before it is over runs on. */
#include "breakin/bound.h"

#include "panel/panel_walk.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

enum { ENTRY_S = 45 };

/* A panel with one entry delay and true clocks, or clocks that are a tenth off. */
struct bench {
    struct panel_program program;
    struct breakin_options options;
    struct site_delay delay;
    struct devices_world world;
    struct moment moment;
};

static void set_up(struct bench *bench, uint8_t areas) {
    *bench = (struct bench){.options = {.no_tolerance = true}, .delay = {.seconds_s = ENTRY_S}};
    bench->program.settings.delays[0] = bench->delay;
    bench->program.settings.delay_count = 1;
    bench->program.settings.tolerance_tenths = 1;
    bench->program.area_count = areas;
    bench->world = (struct devices_world){.program = &bench->program, .options = &bench->options};
}

/* Added in the order of the panel's timers. */
static void run_timer(
        struct bench *bench, enum panel_timer_kind kind, unsigned area, int32_t left_s) {
    struct moment_mode *mode = &bench->moment.mode;
    mode->timers[mode->timer_count] = panel_timer_of(kind, area);
    bench->moment.left_s[mode->timer_count++] = left_s;
}

static int32_t bound_s(const struct bench *bench) {
    return bound_heard_s(&bench->world, &bench->moment);
}

static void nothing_is_certain_before_anything_runs(void **state) {
    (void)state;
    struct bench bench;
    set_up(&bench, 1);
    bench.moment.mode.panel.areas[0].phase = PANEL_SET;
    assert_int_equal(bound_s(&bench), BREAKIN_NEVER_S);
    bench.moment.mode.panel.areas[0].alarm =
            PANEL_HELD; /* held, and nothing that would let it go */
    assert_int_equal(bound_s(&bench), BREAKIN_NEVER_S);
}

static void an_entry_time_ends_then_he_is_warned_and_may_enter_anew(void **state) {
    (void)state;
    struct bench bench;
    set_up(&bench, 1);
    bench.moment.mode.panel.areas[0].phase = PANEL_ENTERING;
    run_timer(&bench, PANEL_TIMER_ENTRY, 0, 20);
    assert_int_equal(bound_s(&bench), 20 + 30 + ENTRY_S);
    bench.options.no_tolerance = false; /* both may run a tenth longer */
    assert_int_equal(bound_s(&bench), 20 + 33 + 50);
}

static void a_report_is_held_for_the_abort_window(void **state) {
    (void)state;
    struct bench bench;
    set_up(&bench, 1);
    bench.moment.mode.panel.areas[0].alarm = PANEL_HELD;
    run_timer(&bench, PANEL_TIMER_ABORT, 0, 12);
    assert_int_equal(bound_s(&bench), 12 + 30 + ENTRY_S);
}

/* While the warning sounds no second one begins; an entry time that runs already may outlast it. */
static void a_warning_that_sounds_ends(void **state) {
    (void)state;
    struct bench bench;
    set_up(&bench, 1);
    bench.moment.mode.panel.areas[0] =
            (struct panel_area_state){.alarm = PANEL_HELD, .flags = PANEL_AREA_WARNING};
    run_timer(&bench, PANEL_TIMER_WARNING, 0, 17);
    assert_int_equal(bound_s(&bench), 17 + ENTRY_S);
    set_up(&bench, 1);
    bench.moment.mode.panel.areas[0] =
            (struct panel_area_state){.alarm = PANEL_HELD, .flags = PANEL_AREA_WARNING};
    run_timer(&bench, PANEL_TIMER_ENTRY, 0, 25);
    run_timer(&bench, PANEL_TIMER_WARNING, 0, 17);
    assert_int_equal(bound_s(&bench), 25 + ENTRY_S);
}

/* It has warned for its time, and waits for the entry time alone. */
static void a_warning_that_is_due_waits_for_the_entry_time(void **state) {
    (void)state;
    struct bench bench;
    set_up(&bench, 1);
    bench.moment.mode.panel.areas[0] = (struct panel_area_state){
            .alarm = PANEL_HELD, .flags = PANEL_AREA_WARNING | PANEL_AREA_WARN_DUE};
    run_timer(&bench, PANEL_TIMER_ENTRY, 0, 9);
    assert_int_equal(bound_s(&bench), 9);
}

static void the_soonest_area_counts(void **state) {
    (void)state;
    struct bench bench;
    set_up(&bench, 2);
    bench.moment.mode.panel.areas[0].phase = PANEL_ENTERING;
    bench.moment.mode.panel.areas[1].alarm = PANEL_HELD;
    run_timer(&bench, PANEL_TIMER_ENTRY, 0, 20);
    run_timer(&bench, PANEL_TIMER_ABORT, 1, 3);
    assert_int_equal(bound_s(&bench), 3 + 30 + ENTRY_S);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(nothing_is_certain_before_anything_runs),
            cmocka_unit_test(an_entry_time_ends_then_he_is_warned_and_may_enter_anew),
            cmocka_unit_test(a_report_is_held_for_the_abort_window),
            cmocka_unit_test(a_warning_that_sounds_ends),
            cmocka_unit_test(a_warning_that_is_due_waits_for_the_entry_time),
            cmocka_unit_test(the_soonest_area_counts),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
