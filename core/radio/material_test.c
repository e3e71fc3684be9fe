/* The table of materials held against figures that a public numeric package prints for Rec. ITU-R P.2040-1 at 9
 * GHz. */
#include "radio/material.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

static struct radio_substance in(const char *name, int edition, double frequency_hz) {
    const struct radio_material *material = NULL;
    assert_true(radio_material_find(text_of(name), edition, &material, NULL).good);
    return radio_material_in(material, frequency_hz);
}

/* Source: reference page of a mathematical package, of P.2040-1 (2015) at 9 GHz, read as an excerpt. */
static void the_edition_of_2015_gives_the_figures_printed_for_9_ghz(void **unused) {
    (void)unused;
    static const struct {
        const char *name;
        double permittivity, conductivity_s_m;
    } ROWS[] = {
            {"concrete", 5.31, 0.19305},
            {"brick", 3.75, 0.038},
            {"plasterboard", 2.94, 0.054914},
            {"wood", 1.99, 0.049528},
            {"glass", 6.27, 0.059075},
            {"ceiling-board", 1.50, 0.0064437},
            {"chipboard", 2.58, 0.12044},
            {"floorboard", 3.66, 0.085726},
            {"metal", 1, 1e7},
    };
    for (size_t i = 0; i < sizeof ROWS / sizeof *ROWS; i++) {
        const struct radio_substance substance = in(ROWS[i].name, 2015, 9e9);
        assert_true(fabs(substance.permittivity - ROWS[i].permittivity) < 1e-9);
        assert_true(fabs(substance.conductivity_s_m / ROWS[i].conductivity_s_m - 1) < 5e-5);
    }
}

static void what_was_not_measured_is_called_extrapolated(void **unused) {
    (void)unused;
    assert_true(in("brick", 2021, 433.92e6).extrapolated);
    assert_false(in("brick", 2021, 2.45e9).extrapolated);
    assert_false(in("brick", 2015, 10e9).extrapolated);
    assert_true(in("brick", 2015, 10.1e9).extrapolated);
    assert_false(in("wood", 2021, 315e6).extrapolated);
    assert_false(in("glass", 2021, 315e6).extrapolated);
}

static void every_row_is_a_substance_at_every_frequency(void **unused) {
    (void)unused;
    assert_true(radio_material_count() > 20);
    for (size_t i = 0; i < radio_material_count(); i++) {
        const struct radio_material *material = radio_material_at(i);
        for (double hz = 30e6; hz <= 100e9; hz *= 1.5) {
            const struct radio_substance substance = radio_material_in(material, hz);
            assert_true(substance.permittivity >= 1 && substance.permittivity < 10);
            assert_true(substance.conductivity_s_m >= 0 && substance.conductivity_s_m <= 1e7);
        }
        assert_true(strlen(material->source) > 0 && strlen(material->certainty) > 0);
    }
}

static void a_slip_is_answered_with_the_nearest_and_a_stranger_with_the_list(void **unused) {
    (void)unused;
    const struct radio_material *material = NULL;
    struct problem problem = {0};
    assert_false(radio_material_find(text_of("bricks"), 2021, &material, &problem).good);
    assert_string_equal(problem.text, "there is no material \"bricks\"; did you mean brick?");
    struct problem other = {0};
    assert_false(radio_material_find(text_of("gingerbread-hut"), 2021, &material, &other).good);
    assert_non_null(strstr(other.text, "air, asphalt-concrete, brick"));
    assert_non_null(strstr(other.text, "vinyl-tile, wood"));
    struct problem edition = {0};
    assert_false(radio_material_find(text_of("marble"), 2015, &material, &edition).good);
    assert_int_equal(edition.kind, PROBLEM_MISSING);
    assert_null(material);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(the_edition_of_2015_gives_the_figures_printed_for_9_ghz),
            cmocka_unit_test(what_was_not_measured_is_called_extrapolated),
            cmocka_unit_test(every_row_is_a_substance_at_every_frequency),
            cmocka_unit_test(a_slip_is_answered_with_the_nearest_and_a_stranger_with_the_list),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
