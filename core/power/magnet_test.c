/* Magnets held against a published default case, figures worked out elsewhere, and the dipole far away. */
#include "power/magnet.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

static const struct power_magnet ROD = {1.2, 0.025, 0.006, 0, 0};
static const struct power_magnet FERRITE = {0.38, 0.025, 0.006, 0, 0};
static const struct power_magnet BLOCK = {1.2, 0.025, 0, 0.010, 0.005};

static double field_mt(const struct power_magnet *magnet, double gap_mm) {
    double field_t = NAN;
    assert_true(power_magnet_field_t(magnet, gap_mm / 1000, &field_t, NULL).good);
    return field_t * 1000;
}

/* A public calculator's default case: 1.32 T, 20 mm across, 5 mm long: 171.5 mT at 5 mm, 295.2 mT at the face. */
static void the_published_case_comes_out(void **unused) {
    (void)unused;
    const struct power_magnet disc = {1.32, 0.005, 0.020, 0, 0};
    assert_true(fabs(field_mt(&disc, 5) - 171.5) < 0.051);
    assert_true(fabs(field_mt(&disc, 0) - 295.2) < 0.051);
}

/* Worked out apart from this program (Python, 2026). */
static void fields_are_those_worked_out_elsewhere(void **unused) {
    (void)unused;
    static const struct {
        double gap_mm, rod, ferrite, block;
    } ROWS[] = {{5, 82.53, 26.13, 117.68}, {10, 23.11, 7.32, 37.66}, {15, 9.97, 3.16, 16.91},
            {20, 5.31, 1.68, 9.15}, {25, 3.20, 1.01, 5.56}, {30, 2.09, 0.66, 3.64},
            {40, 1.04, 0.33, 1.83}};
    for (size_t i = 0; i < sizeof ROWS / sizeof *ROWS; i++) {
        assert_true(fabs(field_mt(&ROD, ROWS[i].gap_mm) - ROWS[i].rod) < 0.0051);
        assert_true(fabs(field_mt(&FERRITE, ROWS[i].gap_mm) - ROWS[i].ferrite) < 0.0051);
        assert_true(fabs(field_mt(&BLOCK, ROWS[i].gap_mm) - ROWS[i].block) < 0.0051);
    }
    static const struct {
        double field_mt, rod_mm, ferrite_mm;
    } GAPS[] = {{1, 40.7, 25.1}, {1.5, 34.4, 21.0}, {2, 30.5, 18.5}, {3, 25.7, 15.4}};
    for (size_t i = 0; i < sizeof GAPS / sizeof *GAPS; i++) {
        double gap_m = NAN;
        assert_true(power_magnet_gap_m(&ROD, GAPS[i].field_mt / 1000, &gap_m, NULL).good);
        assert_true(fabs(gap_m * 1000 - GAPS[i].rod_mm) < 0.051);
        assert_true(power_magnet_gap_m(&FERRITE, GAPS[i].field_mt / 1000, &gap_m, NULL).good);
        assert_true(fabs(gap_m * 1000 - GAPS[i].ferrite_mm) < 0.051);
    }
}

/* Far away every magnet is a dipole: Br V / (2 pi r^3), r from its middle. At the face of a long one it is half of
 * Br. */
static void limits_are_the_dipole_and_half_the_remanence(void **unused) {
    (void)unused;
    static const double PI = 3.14159265358979323846;
    const double far_m = 0.9;
    const double middle_m = far_m + ROD.length_m / 2;
    const double rod = 1.2 * PI * 0.003 * 0.003 * 0.025 / (2 * PI * pow(middle_m, 3)) * 1000;
    assert_true(fabs(field_mt(&ROD, far_m * 1000) / rod - 1) < 0.001);
    const double block = 1.2 * 0.010 * 0.005 * 0.025 / (2 * PI * pow(middle_m, 3)) * 1000;
    assert_true(fabs(field_mt(&BLOCK, far_m * 1000) / block - 1) < 0.001);
    const struct power_magnet wire = {1.2, 0.5, 0.001, 0, 0};
    assert_true(fabs(field_mt(&wire, 0) - 600) < 0.01);
    const struct power_magnet bar = {1.2, 0.5, 0, 0.001, 0.001};
    assert_true(fabs(field_mt(&bar, 0) - 600) < 0.01);
}

static void the_gap_turns_the_field_round(void **unused) {
    (void)unused;
    for (double gap_mm = 1; gap_mm < 200; gap_mm += 3.7) {
        double gap_m = NAN;
        assert_true(power_magnet_gap_m(&BLOCK, field_mt(&BLOCK, gap_mm) / 1000, &gap_m, NULL).good);
        assert_true(fabs(gap_m * 1000 - gap_mm) < 1e-6);
    }
    double gap_m = NAN;
    assert_true(power_magnet_gap_m(&FERRITE, 0.5, &gap_m, NULL).good);
    assert_true(gap_m <= 0);
}

static double beside_mt(const struct power_magnet *magnet, double gap_mm, double offset_mm) {
    double field_t = NAN;
    assert_true(
            power_magnet_beside_t(magnet, gap_mm / 1000, offset_mm / 1000, &field_t, NULL).good);
    return field_t * 1000;
}

/* Worked out apart from this program (Python, 2026), from the whole volume in small dipoles instead of the faces. */
static void beside_the_axis_it_is_what_the_volume_gives(void **unused) {
    (void)unused;
    static const struct {
        const struct power_magnet *magnet;
        double gap_mm, offset_mm, field_mt;
    } ROWS[] = {{&ROD, 10, 0, 23.112}, {&ROD, 10, 5, 16.667}, {&ROD, 10, 10, 7.669},
            {&FERRITE, 8, 6, 6.034}, {&BLOCK, 10, 8, 20.047}, {&BLOCK, 10, 20, 2.022}};
    for (size_t i = 0; i < sizeof ROWS / sizeof *ROWS; i++) {
        const double got = beside_mt(ROWS[i].magnet, ROWS[i].gap_mm, ROWS[i].offset_mm);
        assert_true(fabs(got / ROWS[i].field_mt - 1) < 0.001);
    }
}

/* On the axis both formulas are one; far away it is a dipole: Br V / (4 pi r^3) (3 cos^2 - 1), negative straight
 * beside. */
static void beside_the_axis_has_its_limits(void **unused) {
    (void)unused;
    static const double PI = 3.14159265358979323846;
    const double volume = PI * 0.003 * 0.003 * 0.025;
    for (double gap_mm = 0; gap_mm < 100; gap_mm += 3.1) {
        assert_true(fabs(beside_mt(&ROD, gap_mm, 0) / field_mt(&ROD, gap_mm) - 1) < 0.001);
        assert_true(fabs(beside_mt(&BLOCK, gap_mm, 0) / field_mt(&BLOCK, gap_mm) - 1) < 1e-9);
    }
    for (int degrees = 0; degrees < 90; degrees += 15) {
        const double cosine = cos(degrees * PI / 180);
        const double along_m = 0.8 * cosine - ROD.length_m / 2;
        const double dipole =
                1.2 * volume / (4 * PI * pow(0.8, 3)) * (3 * cosine * cosine - 1) * 1000;
        const double got = beside_mt(&ROD, along_m * 1000, 800 * sin(degrees * PI / 180));
        assert_true(fabs(got - dipole) < 0.003 * 1.2 * volume / (2 * PI * pow(0.8, 3)) * 1000);
    }
}

static void the_side_turns_the_field_round(void **unused) {
    (void)unused;
    for (double gap_mm = 2; gap_mm < 40; gap_mm += 3.3) {
        double side_m = NAN;
        const double wanted_t = beside_mt(&ROD, gap_mm, 0) * 0.6 / 1000;
        assert_true(power_magnet_side_m(&ROD, gap_mm / 1000, wanted_t, &side_m, NULL).good);
        assert_true(fabs(beside_mt(&ROD, gap_mm, side_m * 1000) / 1000 / wanted_t - 1) < 1e-6);
        assert_true(power_magnet_side_m(&ROD, gap_mm / 1000, wanted_t * 2, &side_m, NULL).good);
        assert_true(side_m <= 0);
    }
}

static void what_is_no_magnet_is_refused(void **unused) {
    (void)unused;
    static const struct power_magnet WRONG[] = {{0, 0.025, 0.006, 0, 0}, {NAN, 0.025, 0.006, 0, 0},
            {1.2, 0, 0.006, 0, 0}, {1.2, 0.025, -1, 0, 0}, {1.2, 0.025, NAN, 0, 0},
            {1.2, 0.025, 0, 0, 0.005}, {1.2, 0.025, 0, 0.01, NAN}};
    for (size_t i = 0; i < sizeof WRONG / sizeof *WRONG; i++) {
        double value = -7;
        assert_false(power_magnet_field_t(&WRONG[i], 0.01, &value, NULL).good);
        assert_false(power_magnet_gap_m(&WRONG[i], 0.001, &value, NULL).good);
        assert_true(value < -6);
    }
    double value = -7;
    assert_false(power_magnet_beside_t(&ROD, 0.01, -0.001, &value, NULL).good);
    assert_false(power_magnet_beside_t(&ROD, 0.01, NAN, &value, NULL).good);
    assert_false(power_magnet_side_m(&ROD, 0.01, 0, &value, NULL).good);
    assert_false(power_magnet_side_m(&ROD, NAN, 0.001, &value, NULL).good);
    assert_false(power_magnet_field_t(&ROD, -0.001, &value, NULL).good);
    assert_false(power_magnet_field_t(&ROD, NAN, &value, NULL).good);
    assert_false(power_magnet_gap_m(&ROD, 0, &value, NULL).good);
    assert_false(power_magnet_gap_m(&ROD, NAN, &value, NULL).good);
    assert_true(value < -6);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(the_published_case_comes_out),
            cmocka_unit_test(fields_are_those_worked_out_elsewhere),
            cmocka_unit_test(limits_are_the_dipole_and_half_the_remanence),
            cmocka_unit_test(the_gap_turns_the_field_round),
            cmocka_unit_test(beside_the_axis_it_is_what_the_volume_gives),
            cmocka_unit_test(beside_the_axis_has_its_limits),
            cmocka_unit_test(the_side_turns_the_field_round),
            cmocka_unit_test(what_is_no_magnet_is_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
