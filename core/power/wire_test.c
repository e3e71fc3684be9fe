/* Wires held against the copper table, worked examples, and closed forms of trees. Random trees are judged by
 * ngspice in tests/outside. */
#include "power/wire.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

static double ohm_m(const char *gauge, double temperature_c, enum power_conductor conductor) {
    double section_mm2 = NAN;
    double ohm = NAN;
    assert_true(power_gauge_read(text_of(gauge), &section_mm2, NULL).good);
    assert_true(power_wire_ohm_m(section_mm2, temperature_c, conductor, &ohm, NULL).good);
    return ohm;
}

/* NBS copper wire tables (from memory, checked by ASTM B258's rule with a calculator): mm2, ohm/km at 20 and at 75
 * C. */
static void copper_is_that_of_the_tables(void **unused) {
    (void)unused;
    static const struct {
        const char *gauge;
        double section_mm2, at_20, at_75;
    } ROWS[] = {
            {"10awg", 5.261, 3.277, 3.985},
            {"12awg", 3.309, 5.211, 6.337},
            {"14awg", 2.081, 8.285, 10.08},
            {"16awg", 1.309, 13.17, 16.02},
            {"18awg", 0.823, 20.95, 25.48},
            {"20awg", 0.518, 33.31, 40.51},
            {"22awg", 0.326, 52.96, 64.41},
            {"23AWG", 0.258, 66.78, 81.22},
            {"24awg", 0.205, 84.21, 102.4},
            {"26awg", 0.129, 133.9, 162.8},
    };
    for (size_t i = 0; i < sizeof ROWS / sizeof *ROWS; i++) {
        double section_mm2 = NAN;
        assert_true(power_gauge_read(text_of(ROWS[i].gauge), &section_mm2, NULL).good);
        assert_true(fabs(section_mm2 - ROWS[i].section_mm2) < 0.0006);
        assert_true(fabs(ohm_m(ROWS[i].gauge, 20, POWER_SOLID) * 1000 / ROWS[i].at_20 - 1) < 5e-4);
        assert_true(fabs(ohm_m(ROWS[i].gauge, 75, POWER_SOLID) * 1000 / ROWS[i].at_75 - 1) < 5e-4);
    }
    /* NEC chapter 9, table 8, at 75 C (from memory): 18 AWG 7.77 ohm/kft solid, 7.95 stranded; 14 AWG 3.07 and 3.14. */
    assert_true(fabs(ohm_m("18awg", 75, POWER_SOLID) * 304.8 - 7.77) < 0.01);
    assert_true(fabs(ohm_m("18awg", 75, POWER_STRANDED) * 304.8 - 7.95) < 0.035);
    assert_true(fabs(ohm_m("14awg", 75, POWER_STRANDED) * 304.8 - 3.14) < 0.015);
    /* 1 mm2: IEC 60028, 0.017241 ohm a metre at 20 C. */
    assert_true(fabs(ohm_m("1mm2", 20, POWER_SOLID) - 0.017241) < 1e-12);
    assert_true(fabs(ohm_m("1mm\xC2\xB2", 20, POWER_SOLID) - 0.017241) < 1e-12);
    assert_true(fabs(ohm_m("0.6mm", 20, POWER_SOLID) - 0.017241 / 0.2827433) < 1e-7);
    /* Factors relative to 20 C. */
    assert_true(fabs(ohm_m("1mm2", -20, POWER_SOLID) / 0.017241 - 0.843) < 0.0006);
    assert_true(fabs(ohm_m("1mm2", 60, POWER_SOLID) / 0.017241 - 1.157) < 0.0006);
}

static void assert_no_gauge(const char *source, const char *word) {
    double section_mm2 = -7;
    struct problem problem = {0};
    if (power_gauge_read(text_of(source), &section_mm2, &problem).good ||
            strstr(problem.text, word) == NULL) {
        fail_msg("%s: %s", source, problem.text);
    }
    assert_true(section_mm2 < -6);
}

static void what_is_no_gauge_is_refused(void **unused) {
    (void)unused;
    assert_no_gauge("22", "write for example 22awg");
    assert_no_gauge("", "write for example 22awg");
    assert_no_gauge("awg", "write for example 22awg");
    assert_no_gauge("22 gauge", "write for example 22awg");
    assert_no_gauge("-1awg", "write for example 22awg");
    assert_no_gauge("41awg", "0 to 40");
    assert_no_gauge("22.5awg", "whole number");
    assert_no_gauge("0mm2", "0.01 to 200 mm2");
    assert_no_gauge("1e9mm2", "write for example 22awg");
    assert_no_gauge("201mm2", "0.01 to 200 mm2");
    assert_no_gauge("0..5mm2", "write for example 22awg");
    assert_no_gauge("1111111111111111111111111111111111111111awg", "write for example 22awg");
    double ohm = -7;
    assert_false(power_wire_ohm_m(0, 20, POWER_SOLID, &ohm, NULL).good);
    assert_false(power_wire_ohm_m(NAN, 20, POWER_SOLID, &ohm, NULL).good);
    assert_false(power_wire_ohm_m(1, NAN, POWER_SOLID, &ohm, NULL).good);
    assert_false(power_wire_ohm_m(1, 121, POWER_SOLID, &ohm, NULL).good);
    assert_true(ohm < -6);
}

/* Supply - 1 ohm - A (1 A) - 2 ohm - B (0.5 A), and A - 4 ohm - C (0.25 A), by hand. */
static void a_tree_adds_its_branches(void **unused) {
    (void)unused;
    const struct power_run runs[] = {{POWER_SUPPLY, 1, 1}, {0, 2, 0.5}, {0, 4, 0.25}};
    struct power_place places[3];
    assert_true(power_tree(runs, 3, 12, places, NULL).good);
    assert_true(fabs(places[0].current_a - 1.75) < 1e-12);
    assert_true(fabs(places[0].volts - 10.25) < 1e-12);
    assert_true(fabs(places[1].volts - 9.25) < 1e-12);
    assert_true(fabs(places[2].volts - 9.25) < 1e-12);
    /* The order of the runs is nobody's business. */
    const struct power_run turned[] = {{2, 2, 0.5}, {2, 4, 0.25}, {POWER_SUPPLY, 1, 1}};
    assert_true(power_tree(turned, 3, 12, places, NULL).good);
    assert_true(fabs(places[0].volts - 9.25) < 1e-12 && fabs(places[2].volts - 10.25) < 1e-12);
}

static void what_is_no_tree_is_refused(void **unused) {
    (void)unused;
    static const struct {
        struct power_run runs[2];
        double supply_v;
        const char *word;
    } WRONG[] = {
            {{{1, 1, 1}, {0, 1, 1}}, 12, "hangs on itself"},
            {{{0, 1, 1}, {POWER_SUPPLY, 1, 1}}, 12, "hangs on itself"},
            {{{2, 1, 1}, {POWER_SUPPLY, 1, 1}}, 12, "not there"},
            {{{-2, 1, 1}, {POWER_SUPPLY, 1, 1}}, 12, "not there"},
            {{{POWER_SUPPLY, -1, 1}, {POWER_SUPPLY, 1, 1}}, 12, "run 1"},
            {{{POWER_SUPPLY, 1, 1}, {POWER_SUPPLY, NAN, 1}}, 12, "run 2"},
            {{{POWER_SUPPLY, 1, NAN}, {POWER_SUPPLY, 1, 1}}, 12, "run 1"},
            {{{POWER_SUPPLY, 1, 1}, {POWER_SUPPLY, 1, 1}}, 0, "a supply"},
            {{{POWER_SUPPLY, 1, 1}, {POWER_SUPPLY, 1, 1}}, NAN, "a supply"},
    };
    for (size_t i = 0; i < sizeof WRONG / sizeof *WRONG; i++) {
        struct power_place places[2];
        struct problem problem = {0};
        assert_false(power_tree(WRONG[i].runs, 2, WRONG[i].supply_v, places, &problem).good);
        assert_non_null(strstr(problem.text, WRONG[i].word));
    }
    struct power_place places[1];
    assert_false(power_tree(WRONG[0].runs, 0, 12, places, NULL).good);
    assert_false(power_tree(WRONG[0].runs, POWER_TREE_MOST + 1, 12, places, NULL).good);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(copper_is_that_of_the_tables),
            cmocka_unit_test(what_is_no_gauge_is_refused),
            cmocka_unit_test(a_tree_adds_its_branches),
            cmocka_unit_test(what_is_no_tree_is_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
