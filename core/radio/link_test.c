/* Links held against published figures, GSL's normal distribution and GSL's integrator. */
#include "radio/link.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_integration.h>
#include <gsl/gsl_randist.h>
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

static double free_space_db(double distance_m, double mhz) {
    double loss_db = NAN;
    assert_true(radio_free_space_db(distance_m, mhz * 1e6, &loss_db, NULL).good);
    return loss_db;
}

/* Rec. ITU-R P.525: L = 32.4 + 20 log f + 20 log d, f in MHz, d in km; the constant is 32.44778 (the document prints
 * 32.4). The rows: that formula with pocket calculator. */
static void free_space_is_that_of_the_recommendation(void **unused) {
    (void)unused;
    static const struct {
        double mhz, at_1_m, at_3_m, at_10_m, at_20_m, at_30_m;
    } ROWS[] = {
            {315, 22.41, 31.96, 42.41, 48.43, 51.96},
            {433.92, 25.20, 34.74, 45.20, 51.22, 54.74},
            {868.3, 31.22, 40.76, 51.22, 57.24, 60.76},
            {2450, 40.23, 49.77, 60.23, 66.25, 69.77},
    };
    for (size_t i = 0; i < sizeof ROWS / sizeof *ROWS; i++) {
        const double mhz = ROWS[i].mhz;
        assert_true(fabs(free_space_db(1, mhz) - ROWS[i].at_1_m) < 0.0051);
        assert_true(fabs(free_space_db(3, mhz) - ROWS[i].at_3_m) < 0.0051);
        assert_true(fabs(free_space_db(10, mhz) - ROWS[i].at_10_m) < 0.0051);
        assert_true(fabs(free_space_db(20, mhz) - ROWS[i].at_20_m) < 0.0051);
        assert_true(fabs(free_space_db(30, mhz) - ROWS[i].at_30_m) < 0.0051);
        assert_true(fabs(free_space_db(1000, mhz) - 32.44778 - 20 * log10(mhz)) < 1e-5);
    }
}

static void where_no_far_field_is_there_is_no_answer(void **unused) {
    (void)unused;
    static const double WRONG_M[] = {0, -1, 0.69, NAN, INFINITY, 1e9};
    for (size_t i = 0; i < sizeof WRONG_M / sizeof *WRONG_M; i++) {
        double loss_db = -7;
        struct problem problem = {0};
        assert_false(radio_free_space_db(WRONG_M[i], 433.92e6, &loss_db, &problem).good);
        assert_int_equal(problem.kind, PROBLEM_BAD_VALUE);
        assert_non_null(strstr(problem.text, "0.69 m (one wavelength"));
        assert_true(loss_db < -6);
    }
    static const double WRONG_HZ[] = {0, -1, NAN, INFINITY, 29e6, 101e9};
    for (size_t i = 0; i < sizeof WRONG_HZ / sizeof *WRONG_HZ; i++) {
        struct problem problem = {0};
        double loss_db = 0;
        assert_false(radio_free_space_db(10, WRONG_HZ[i], &loss_db, &problem).good);
        assert_non_null(strstr(problem.text, "a frequency is"));
    }
}

/* kT at 290 K is -173.975 dBm/Hz (textbook); a receiver of 25 kHz, 7 dB: with 12 dB needed -111 dBm. */
static void the_floor_is_thermal_noise(void **unused) {
    (void)unused;
    assert_true(fabs(radio_noise_floor_dbm(1, 0) + 173.975) < 0.0006);
    assert_true(fabs(radio_noise_floor_dbm(10e3, 0) + 133.98) < 0.0051);
    assert_true(fabs(radio_noise_floor_dbm(500e3, 0) + 116.99) < 0.0051);
    assert_true(fabs(radio_noise_floor_dbm(25e3, 7) + 12 + 111) < 0.01);
}

static void margins_and_shares_are_those_of_gsl(void **unused) {
    (void)unused;
    for (double margin_db = -30; margin_db <= 40; margin_db += 0.7) {
        for (double spread_db = 3; spread_db <= 14; spread_db += 1.1) {
            const double ratio = gsl_cdf_ugaussian_P(margin_db / spread_db);
            assert_true(fabs(radio_reaches_ratio(margin_db, spread_db) - ratio) < 1e-12);
        }
    }
    for (double ratio = 0.001; ratio < 1; ratio += 0.0193) {
        const double margin_db = 8 * gsl_cdf_ugaussian_Pinv(ratio);
        assert_true(fabs(radio_margin_for_db(ratio, 8) - margin_db) < 1e-9);
    }
    /* Quantiles of the normal distribution, any table: 1.2816, 1.6449, 2.3263, 3.0902 times 8. */
    assert_true(fabs(radio_margin_for_db(0.9, 8) - 10.25) < 0.0051);
    assert_true(fabs(radio_margin_for_db(0.95, 8) - 13.16) < 0.0051);
    assert_true(fabs(radio_margin_for_db(0.99, 8) - 18.61) < 0.0051);
    assert_true(fabs(radio_margin_for_db(0.999, 8) - 24.72) < 0.0051);
}

struct place {
    double margin_db, spread_db;
};

static double weighed(double deviates, void *context) {
    const struct place *place = context;
    return gsl_ran_ugaussian_pdf(deviates) *
            exp(-pow(10, -(place->margin_db + place->spread_db * deviates) / 10));
}

static void fading_over_places_is_what_gsl_integrates(void **unused) {
    (void)unused;
    gsl_integration_workspace *workspace = gsl_integration_workspace_alloc(1000);
    for (double margin_db = -20; margin_db <= 40; margin_db += 4.9) {
        for (double spread_db = 0; spread_db <= 14; spread_db += 2.3) {
            struct place place = {margin_db, spread_db};
            gsl_function function = {.function = weighed, .params = &place};
            double wanted = 0;
            double error = 0;
            assert_int_equal(gsl_integration_qags(&function, -9, 9, 1e-12, 1e-10, 1000, workspace,
                                     &wanted, &error),
                    0);
            assert_true(fabs(radio_arrives_ratio(margin_db, spread_db) - wanted) < 1e-9);
        }
    }
    gsl_integration_workspace_free(workspace);
    /* Closed form without spread: outage 1 - exp(-10^(-M/10)); 0.0952 at 10 dB, 0.6321 at 0. */
    assert_true(fabs(1 - radio_arrives_ratio(10, 0) - 0.0952) < 0.0001);
    assert_true(fabs(1 - radio_arrives_ratio(0, 0) - 0.6321) < 0.0001);
    assert_true(fabs(radio_arrives_ratio(20, 8) - 0.9589) < 0.0001);
    assert_true(fabs(radio_arrives_ratio(10, 8) - 0.7866) < 0.0001);
    assert_true(radio_arrives_ratio(200, 8) <= 1 && radio_arrives_ratio(-200, 8) >= 0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(free_space_is_that_of_the_recommendation),
            cmocka_unit_test(where_no_far_field_is_there_is_no_answer),
            cmocka_unit_test(the_floor_is_thermal_noise),
            cmocka_unit_test(margins_and_shares_are_those_of_gsl),
            cmocka_unit_test(fading_over_places_is_what_gsl_integrates),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
