/* The panel's battery held against published worked examples and Peukert's law at its limits. */
#include "power/battery.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

static double need_ah(double standby_a, double standby_h, double alarm_a, double alarm_min) {
    const struct power_load load = {standby_a, standby_h, alarm_a, alarm_min / 60};
    double need = NAN;
    assert_true(power_need_ah(&load, &need, NULL).good);
    return need;
}

/* A public guide to fire panel batteries prints 10.397 Ah and 12.48 Ah with 20 % for 0.42 A, 24 h and 3.8 A, 5 min;
 * a study guide 6.125 Ah for 0.25 A, 24 h and 1.5 A, 5 min (both read as excerpts). */
static void need_is_that_of_published_examples(void **unused) {
    (void)unused;
    assert_true(fabs(need_ah(0.42, 24, 3.8, 5) - 10.397) < 0.0005);
    assert_true(fabs(need_ah(0.42, 24, 3.8, 5) * 1.2 - 12.48) < 0.005);
    assert_true(fabs(need_ah(0.25, 24, 1.5, 5) - 6.125) < 1e-12);
    assert_true(fabs(need_ah(0.18, 60, 1.1, 15) - 11.075) < 1e-12);
    assert_true(power_next_size_ah(12.476) > 16.9 && power_next_size_ah(7) < 7.1);
    assert_true(power_next_size_ah(7.001) > 8.9);
    assert_true(power_next_size_ah(1000) <= 0);
}

static double lasts_h(double capacity_ah, double peukert, double current_a) {
    const struct power_battery battery = {capacity_ah, 20, peukert, 1};
    double hours = NAN;
    assert_true(power_lasts_h(&battery, current_a, &hours, NULL).good);
    return hours;
}

/* t = H (C / (I H))^k, 7 Ah at 20 h, with a pocket calculator. */
static void hours_follow_peukert(void **unused) {
    (void)unused;
    static const struct {
        double current_a, k100, k110, k115, k125;
    } ROWS[] = {
            {0.35, 20, 20, 20, 20},
            {0.7, 10, 9.33, 9.01, 8.41},
            {1.4, 5, 4.35, 4.06, 3.54},
            {3.5, 2, 1.59, 1.42, 1.12},
            {7, 1, 0.74, 0.64, 0.47},
    };
    for (size_t i = 0; i < sizeof ROWS / sizeof *ROWS; i++) {
        assert_true(fabs(lasts_h(7, 1, ROWS[i].current_a) - ROWS[i].k100) < 0.0051);
        assert_true(fabs(lasts_h(7, 1.1, ROWS[i].current_a) - ROWS[i].k110) < 0.0051);
        assert_true(fabs(lasts_h(7, 1.15, ROWS[i].current_a) - ROWS[i].k115) < 0.0051);
        assert_true(fabs(lasts_h(7, 1.25, ROWS[i].current_a) - ROWS[i].k125) < 0.0051);
    }
    /* Below the rated current the law promises more than is printed on the battery: not credited. */
    assert_true(fabs(lasts_h(7, 1.15, 0.18) - 7 / 0.18) < 1e-9);
}

static void more_load_never_lasts_longer(void **unused) {
    (void)unused;
    for (double peukert = 1; peukert <= 1.6; peukert += 0.05) {
        for (double current_a = 0.01; current_a < 20; current_a *= 1.1) {
            const double hours = lasts_h(7, peukert, current_a);
            assert_true(hours * current_a <= 7 + 1e-12);
            assert_true(lasts_h(7, peukert, current_a * 1.1) < hours);
            assert_true(lasts_h(7.1, peukert, current_a) > hours);
        }
    }
}

static double used(double capacity_ah, double peukert, double left, const struct power_load *load) {
    const struct power_battery battery = {capacity_ah, 20, peukert, left};
    double ratio = NAN;
    assert_true(power_used_ratio(&battery, load, &ratio, NULL).good);
    return ratio;
}

/* Worked by hand: 180 mA for 24 h and 1.1 A for 15 min, exponent 1.15, no credit above the rating. */
static void both_phases_share_the_battery(void **unused) {
    (void)unused;
    const struct power_load load = {0.18, 24, 1.1, 0.25};
    assert_true(fabs(used(7, 1.15, 1, &load) - 0.664) < 0.0006);
    assert_true(fabs(used(4, 1.15, 1, &load) - 1.169) < 0.0006);
    assert_true(fabs(used(7, 1, 0.8, &load) - 4.595 / 5.6) < 1e-12);
    /* Without Peukert the share is charge over capacity. */
    assert_true(fabs(used(7, 1, 1, &load) - 4.595 / 7) < 1e-12);
    const struct power_load quiet = {0.18, 24, 0, 0};
    assert_true(fabs(used(7, 1.15, 1, &quiet) - 4.32 / 7) < 1e-12);
}

/* IEEE 485 (from memory): reciprocals of the size factors, and half way between two rows. */
static void cold_takes_what_the_table_says(void **unused) {
    (void)unused;
    static const struct {
        double temperature_c, left;
    } ROWS[] = {{-3.8889, 0.658}, {4.4444, 0.769}, {10, 0.840}, {15.5556, 0.901}, {21.1111, 0.962},
            {25, 1}, {32, 1}, {43, 1}, {0, 0.710}};
    for (size_t i = 0; i < sizeof ROWS / sizeof *ROWS; i++) {
        double left = NAN;
        assert_true(power_cold_ratio(ROWS[i].temperature_c, &left, NULL).good);
        assert_true(fabs(left - ROWS[i].left) < 0.0006);
    }
    static const double OUTSIDE_C[] = {-4, 43.5, NAN, -273, INFINITY};
    for (size_t i = 0; i < sizeof OUTSIDE_C / sizeof *OUTSIDE_C; i++) {
        struct problem problem = {0};
        double left = -7;
        assert_false(power_cold_ratio(OUTSIDE_C[i], &left, &problem).good);
        assert_non_null(strstr(problem.text, "-3.9 to 43.3 C"));
        assert_true(left < -6);
    }
}

/* Share of the capacity times 1.2 over hours. */
static void recharging_takes_a_fifth_more(void **unused) {
    (void)unused;
    assert_true(fabs(power_recharge_a(7, 0.8, 24) - 0.28) < 1e-12);
    assert_true(fabs(power_recharge_a(7, 0.8, 72) - 0.0933) < 0.0001);
    assert_true(fabs(power_recharge_a(17, 1, 48) - 0.425) < 1e-12);
}

static void what_is_no_battery_and_no_load_is_refused(void **unused) {
    (void)unused;
    static const struct power_load NO_LOADS[] = {{0, 0, 0, 0}, {-1, 24, 0, 0}, {NAN, 24, 0, 0},
            {0.1, NAN, 0, 0}, {0.1, 24, 2000, 1}, {0.1, 1e9, 0, 0}, {0, 24, 1, 0}};
    for (size_t i = 0; i < sizeof NO_LOADS / sizeof *NO_LOADS; i++) {
        double need = -7;
        struct problem problem = {0};
        assert_false(power_need_ah(&NO_LOADS[i], &need, &problem).good);
        assert_true(need < -6 && problem.text[0] != '\0');
    }
    static const struct power_battery NO_BATTERIES[] = {{0, 20, 1.1, 1}, {NAN, 20, 1.1, 1},
            {7, 0, 1.1, 1}, {7, 20, 0.9, 1}, {7, 20, NAN, 1}, {7, 20, 1.1, 0}, {7, 20, 1.1, 1.1}};
    for (size_t i = 0; i < sizeof NO_BATTERIES / sizeof *NO_BATTERIES; i++) {
        double hours = -7;
        assert_false(power_lasts_h(&NO_BATTERIES[i], 1, &hours, NULL).good);
        assert_true(hours < -6);
    }
    const struct power_battery fine = {7, 20, 1.1, 1};
    double hours = -7;
    assert_false(power_lasts_h(&fine, 0, &hours, NULL).good);
}

/* Without Peukert's loss 7 Ah less 0.18 A x 24 h are 2.68 Ah: 2.436 h at 1.1 A. With it, so much alarm uses the battery
 * up to the last bit, and an empty one carries none. */
static void what_the_standby_leaves_carries_the_alarm(void **unused) {
    (void)unused;
    const struct power_battery ideal = {7, 20, 1, 1};
    struct power_load load = {0.18, 24, 1.1, 0.25};
    double left_h = NAN;
    assert_true(power_alarm_left_h(&ideal, &load, &left_h, NULL).good);
    assert_true(fabs(left_h - 2.68 / 1.1) < 1e-9);
    for (double peukert = 1; peukert < 1.6; peukert += 0.1) {
        const struct power_battery battery = {7, 20, peukert, 0.8};
        double used_ratio = 0;
        assert_true(power_alarm_left_h(&battery, &load, &left_h, NULL).good);
        load.alarm_h = left_h;
        assert_true(power_used_ratio(&battery, &load, &used_ratio, NULL).good);
        assert_true(fabs(used_ratio - 1) < 1e-9);
    }
    load.standby_h = 1000;
    assert_true(power_alarm_left_h(&ideal, &load, &left_h, NULL).good);
    assert_true(left_h <= 0);
    load.alarm_a = 0;
    assert_false(power_alarm_left_h(&ideal, &load, &left_h, NULL).good);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(need_is_that_of_published_examples),
            cmocka_unit_test(hours_follow_peukert),
            cmocka_unit_test(more_load_never_lasts_longer),
            cmocka_unit_test(both_phases_share_the_battery),
            cmocka_unit_test(what_the_standby_leaves_carries_the_alarm),
            cmocka_unit_test(cold_takes_what_the_table_says),
            cmocka_unit_test(recharging_takes_a_fifth_more),
            cmocka_unit_test(what_is_no_battery_and_no_load_is_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
