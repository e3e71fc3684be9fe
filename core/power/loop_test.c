/* Loops held against window arithmetic by hand. Random loops are judged by ngspice in tests/outside. */
#include "power/loop.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

static const struct power_loop FINE = {.wiring = POWER_LOOP_DOUBLE,
        .end_ohm = 4700,
        .alarm_ohm = 4700,
        .tolerance_ratio = 0.05,
        .wire_ohm = 100,
        .supply_v = 5,
        .pull_up_ohm = 4700};

static void windows_of(const struct power_loop *loop, struct power_window *windows) {
    assert_true(power_loop_windows(loop, windows, NULL).good);
}

/* Equal resistors, 5 % parts, 0 to 100 ohm of wire, worked by hand. */
static void equal_resistors_leave_their_gaps(void **unused) {
    (void)unused;
    static const struct {
        double ohm, normal_low, normal_high, alarm_low, alarm_high;
    } ROWS[] = {
            {1000, 950, 1150, 1900, 2200},
            {2200, 2090, 2410, 4180, 4720},
            {4700, 4465, 5035, 8930, 9970},
            {5600, 5320, 5980, 10640, 11860},
            {10000, 9500, 10600, 19000, 21100},
    };
    for (size_t i = 0; i < sizeof ROWS / sizeof *ROWS; i++) {
        struct power_loop loop = FINE;
        struct power_window windows[POWER_STATE_COUNT];
        loop.end_ohm = loop.alarm_ohm = ROWS[i].ohm;
        windows_of(&loop, windows);
        assert_true(fabs(windows[POWER_STATE_NORMAL].low_ohm - ROWS[i].normal_low) < 1e-6);
        assert_true(fabs(windows[POWER_STATE_NORMAL].high_ohm - ROWS[i].normal_high) < 1e-6);
        assert_true(fabs(windows[POWER_STATE_ALARM].low_ohm - ROWS[i].alarm_low) < 1e-6);
        assert_true(fabs(windows[POWER_STATE_ALARM].high_ohm - ROWS[i].alarm_high) < 1e-6);
        assert_true(
                power_window_gap_v(&windows[POWER_STATE_NORMAL], &windows[POWER_STATE_ALARM]) > 0);
        assert_false(windows[POWER_STATE_MASKED].there);
        assert_true(windows[POWER_STATE_OPEN].endless);
    }
}

/* ANSI/SIA CP-01 draft of 2009, annex, sample windows: 0.75 V is 120 ohm, 1.1 V 190 ohm, 4.1 V 3000 ohm, 4.6 V 7800
 * ohm: 5 V through 680 ohm (an excerpt; the pull-up follows from the pairs). */
static void the_divider_is_that_of_the_draft(void **unused) {
    (void)unused;
    static const struct {
        double ohm, volts;
    } ROWS[] = {{120, 0.75}, {190, 1.1}, {3000, 4.1}, {7800, 4.6}};
    for (size_t i = 0; i < sizeof ROWS / sizeof *ROWS; i++) {
        struct power_loop loop = {.wiring = POWER_LOOP_SINGLE_CLOSED,
                .end_ohm = ROWS[i].ohm,
                .supply_v = 5,
                .pull_up_ohm = 680};
        struct power_window windows[POWER_STATE_COUNT];
        windows_of(&loop, windows);
        assert_true(fabs(windows[POWER_STATE_NORMAL].low_v - ROWS[i].volts) < 0.03);
        assert_true(fabs(windows[POWER_STATE_OPEN].low_v - 5) < 1e-12);
    }
}

/* A damp cable: 10 k across 5.6 k is 3.59 k, across 11.2 k it is 5.28 k, which reads as normal. By hand. */
static void a_leak_hides_the_alarm(void **unused) {
    (void)unused;
    struct power_loop loop = FINE;
    struct power_window windows[POWER_STATE_COUNT];
    loop.end_ohm = loop.alarm_ohm = 5600;
    loop.tolerance_ratio = 0;
    loop.wire_ohm = 0;
    loop.leak_ohm = 10000;
    windows_of(&loop, windows);
    assert_true(fabs(windows[POWER_STATE_NORMAL].low_ohm - 3590) < 1);
    assert_true(fabs(windows[POWER_STATE_ALARM].low_ohm - 5283) < 1);
    assert_true(power_window_gap_v(&windows[POWER_STATE_NORMAL], &windows[POWER_STATE_ALARM]) < 0);
    assert_true(fabs(windows[POWER_STATE_OPEN].low_ohm - 10000) < 1e-9);
    loop.leak_ohm = 1e6;
    windows_of(&loop, windows);
    assert_true(power_window_gap_v(&windows[POWER_STATE_NORMAL], &windows[POWER_STATE_ALARM]) > 0);
}

static void three_resistors_have_four_states_of_their_own(void **unused) {
    (void)unused;
    struct power_loop loop = FINE;
    struct power_window windows[POWER_STATE_COUNT];
    loop.wiring = POWER_LOOP_TRIPLE;
    loop.end_ohm = loop.alarm_ohm = 4700;
    loop.mask_ohm = 2200;
    loop.tolerance_ratio = 0.01;
    windows_of(&loop, windows);
    assert_true(fabs(windows[POWER_STATE_MASKED].low_ohm - 6900 * 0.99) < 1e-9);
    assert_true(fabs(windows[POWER_STATE_MASKED_ALARM].high_ohm - (11600 * 1.01 + 100)) < 1e-9);
    for (size_t i = 0; i + 1 < POWER_STATE_COUNT; i++) {
        for (size_t k = i + 1; k < POWER_STATE_COUNT; k++) {
            assert_true(power_window_gap_v(&windows[i], &windows[k]) > 0);
        }
    }
    /* A mask resistor like the alarm's cannot be told from it. */
    loop.mask_ohm = 4700;
    windows_of(&loop, windows);
    assert_true(power_window_gap_v(&windows[POWER_STATE_MASKED], &windows[POWER_STATE_ALARM]) < 0);
}

static void what_is_no_loop_is_refused(void **unused) {
    (void)unused;
    struct power_loop wrong[9];
    static const char *const WORDS[] = {"end resistor", "end resistor", "alarm resistor",
            "a tolerance", "wire and leak", "wire and leak", "measures with", "measures with",
            "mask resistor"};
    for (size_t i = 0; i < 9; i++) {
        wrong[i] = FINE;
    }
    wrong[0].end_ohm = 0;
    wrong[1].end_ohm = NAN;
    wrong[2].alarm_ohm = -1;
    wrong[3].tolerance_ratio = NAN;
    wrong[4].wire_ohm = -1;
    wrong[5].leak_ohm = NAN;
    wrong[6].supply_v = 0;
    wrong[7].pull_up_ohm = 0;
    wrong[8].wiring = POWER_LOOP_TRIPLE;
    for (size_t i = 0; i < 9; i++) {
        struct power_window windows[POWER_STATE_COUNT];
        struct problem problem = {0};
        assert_false(power_loop_windows(&wrong[i], windows, &problem).good);
        assert_non_null(strstr(problem.text, WORDS[i]));
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(equal_resistors_leave_their_gaps),
            cmocka_unit_test(the_divider_is_that_of_the_draft),
            cmocka_unit_test(a_leak_hides_the_alarm),
            cmocka_unit_test(three_resistors_have_four_states_of_their_own),
            cmocka_unit_test(what_is_no_loop_is_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
