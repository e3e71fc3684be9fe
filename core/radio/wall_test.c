/* Walls held against closed forms, conservation and reciprocity, and figures worked out elsewhere. The closed form
 * of one slab is computed here with the C library's complex numbers: no line of it is the player's. */
#include "radio/wall.h"

#include <complex.h>
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

static const double PI = 3.14159265358979323846;
static const double C_M_S = 299792458.0;

static uint64_t seed_next(uint64_t *seed) {
    *seed = *seed * 6364136223846793005u + 1442695040888963407u;
    return *seed >> 33;
}

static double between(uint64_t *seed, double low, double high) {
    return low + (high - low) * (double)seed_next(seed) / 2147483648.0;
}

static struct radio_layer of(const char *name, int edition, double thickness_mm, double mhz) {
    const struct radio_material *material = NULL;
    assert_true(radio_material_find(text_of(name), edition, &material, NULL).good);
    return (struct radio_layer){.substance = radio_material_in(material, mhz * 1e6),
            .thickness_m = thickness_mm / 1000};
}

static struct radio_layer lossless(double index, double thickness_m) {
    return (struct radio_layer){.substance = {.permittivity = index * index, .conductivity_s_m = 0},
            .thickness_m = thickness_m};
}

static struct radio_pass pass(const struct radio_layer *layers, size_t count, double hz,
        double angle_deg, enum radio_polarisation polarisation) {
    struct radio_pass pass = {0};
    assert_true(radio_wall(layers, count, hz, angle_deg, polarisation, &pass, NULL).good);
    return pass;
}

/* A wall by hand: name and millimetres, up to three layers. */
struct wall {
    struct {
        const char *name;
        double mm;
    } layers[3];
    double loss_db[6];
    double tm_db[6];
};

static const double MHZ[6] = {315, 345, 433.92, 868.3, 915, 2450};

static size_t make(const struct wall *wall, int edition, double mhz, struct radio_layer *layers) {
    size_t count = 0;
    for (; count < 3 && wall->layers[count].name != NULL; count++) {
        layers[count] = of(wall->layers[count].name, edition, wall->layers[count].mm, mhz);
    }
    return count;
}

/* Source of the three tables: P.2040's formulas worked through apart from this program (Python, 2026), from the
 * parameters of table 3; two decimals. */
static const struct wall STRAIGHT[] = {
        {{{"plasterboard", 12.5}, {"air", 75}, {"plasterboard", 12.5}},
                {0.16, 0.18, 0.21, 0.35, 0.41, 1.00}, {0}},
        {{{"brick", 100}}, {3.31, 3.32, 3.20, 2.65, 2.89, 3.26}, {0}},
        {{{"brick", 215}}, {4.04, 4.10, 4.78, 5.49, 5.42, 5.57}, {0}},
        {{{"brick", 100}, {"air", 50}, {"brick", 100}}, {4.65, 5.13, 6.49, 4.80, 5.20, 7.11}, {0}},
        {{{"concrete", 200}}, {3.34, 3.71, 5.30, 7.49, 7.44, 14.80}, {0}},
        {{{"glass", 4}, {"air", 16}, {"glass", 4}}, {0.09, 0.11, 0.16, 0.49, 0.52, 0.16}, {0}},
        {{{"wood", 45}}, {0.18, 0.21, 0.28, 0.65, 0.68, 0.69}, {0}},
        {{{"chipboard", 22}}, {0.36, 0.39, 0.49, 0.94, 0.99, 1.74}, {0}},
        {{{"plasterboard", 12.5}, {"metal", 0.009}}, {84.73, 84.75, 84.85, 85.51, 85.59, 88.21},
                {0}},
};
static const struct wall AT_60_DEG[] = {
        {{{"plasterboard", 12.5}, {"air", 75}, {"plasterboard", 12.5}},
                {0.49, 0.54, 0.70, 0.85, 0.81, 9.60}, {0.08, 0.09, 0.11, 0.21, 0.23, 0.57}},
        {{{"brick", 100}}, {6.71, 6.82, 6.85, 3.67, 4.07, 4.44},
                {1.81, 1.84, 1.91, 2.14, 2.17, 2.53}},
        {{{"concrete", 200}}, {5.52, 5.47, 8.05, 11.32, 11.39, 18.42},
                {2.90, 3.12, 3.81, 6.48, 6.73, 14.43}},
        {{{"glass", 4}, {"air", 16}, {"glass", 4}}, {0.34, 0.40, 0.60, 1.79, 1.91, 2.02},
                {0.01, 0.01, 0.02, 0.06, 0.07, 0.20}},
        {{{"wood", 45}}, {0.53, 0.60, 0.85, 2.07, 2.18, 1.69},
                {0.09, 0.10, 0.14, 0.30, 0.32, 0.83}},
};
static const struct wall OF_2015[] = {
        {{{"concrete", 200}}, {2.33, 2.66, 4.34, 5.80, 5.52, 11.17}, {0}},
        {{{"brick", 100}}, {4.68, 4.63, 4.42, 3.93, 4.09, 3.98}, {0}},
        {{{"brick", 215}}, {7.39, 7.47, 7.82, 7.99, 7.96, 7.75}, {0}},
        {{{"plasterboard", 12.5}, {"air", 75}, {"plasterboard", 12.5}},
                {0.26, 0.28, 0.31, 0.50, 0.58, 1.25}, {0}},
};

static void assert_table(const struct wall *walls, size_t count, int edition, double angle_deg) {
    for (size_t i = 0; i < count; i++) {
        for (size_t k = 0; k < 6; k++) {
            struct radio_layer layers[3];
            const size_t made = make(&walls[i], edition, MHZ[k], layers);
            const double te_db = pass(layers, made, MHZ[k] * 1e6, angle_deg, RADIO_TE).loss_db;
            const double tm_db = pass(layers, made, MHZ[k] * 1e6, angle_deg, RADIO_TM).loss_db;
            const double wanted_tm_db = angle_deg > 0 ? walls[i].tm_db[k] : walls[i].loss_db[k];
            if (fabs(te_db - walls[i].loss_db[k]) > 0.0051 || fabs(tm_db - wanted_tm_db) > 0.0051) {
                fail_msg("row %zu at %.2f MHz: %.4f and %.4f dB", i, MHZ[k], te_db, tm_db);
            }
        }
    }
}

static void losses_are_those_worked_out_elsewhere(void **unused) {
    (void)unused;
    assert_table(STRAIGHT, sizeof STRAIGHT / sizeof *STRAIGHT, 2021, 0);
    assert_table(AT_60_DEG, sizeof AT_60_DEG / sizeof *AT_60_DEG, 2021, 60);
    assert_table(OF_2015, sizeof OF_2015 / sizeof *OF_2015, 2015, 0);
}

/* P.2040, section 2.2.2.2: one slab in closed form. */
static void one_slab_is_the_closed_form(void **unused) {
    (void)unused;
    uint64_t seed = 20400;
    for (int i = 0; i < 2000; i++) {
        const double hz = between(&seed, 0.1e9, 6e9);
        const double angle_deg = between(&seed, 0, 85);
        const struct radio_layer layer = {.substance = {.permittivity = between(&seed, 1, 10),
                                                  .conductivity_s_m = between(&seed, 0, 0.5)},
                .thickness_m = between(&seed, 0.001, 0.4)};
        const double cosine = cos(angle_deg * PI / 180);
        const double sine = sin(angle_deg * PI / 180);
        const double complex eta = layer.substance.permittivity -
                I * layer.substance.conductivity_s_m / (2 * PI * hz * 8.8541878128e-12);
        const double complex slant = csqrt(eta - sine * sine);
        const double complex q = 2 * PI * hz / C_M_S * layer.thickness_m * slant;
        const double complex edges[] = {(cosine - slant) / (cosine + slant),
                (eta * cosine - slant) / (eta * cosine + slant)};
        for (int k = 0; k < 2; k++) {
            const double complex r = edges[k];
            const double complex under = 1 - r * r * cexp(-2 * I * q);
            const double complex through = (1 - r * r) * cexp(-I * q) / under;
            const double complex back = r * (1 - cexp(-2 * I * q)) / under;
            const struct radio_pass got =
                    pass(&layer, 1, hz, angle_deg, k == 0 ? RADIO_TE : RADIO_TM);
            assert_true(fabs(got.loss_db + 20 * log10(cabs(through))) < 1e-8);
            assert_true(fabs(got.passes_ratio - cabs(through) * cabs(through)) < 1e-11);
            assert_true(fabs(got.back_ratio - cabs(back) * cabs(back)) < 1e-11);
        }
    }
}

/* Textbook: a half wave of anything lossless lets all pass; a quarter wave of index 2 throws back 0.36 and lets 0.64
 * pass; at the angle whose tangent is the index no TM wave is thrown back. */
static void slabs_that_everybody_knows(void **unused) {
    (void)unused;
    const double hz = 1e9;
    const double wave_m = C_M_S / hz;
    const struct radio_layer half = lossless(2, wave_m / 4);
    assert_true(pass(&half, 1, hz, 0, RADIO_TE).loss_db < 1e-12);
    const struct radio_layer quarter = lossless(2, wave_m / 8);
    assert_true(fabs(pass(&quarter, 1, hz, 0, RADIO_TE).back_ratio - 0.36) < 1e-12);
    assert_true(fabs(pass(&quarter, 1, hz, 0, RADIO_TM).passes_ratio - 0.64) < 1e-12);
    const struct radio_layer any = lossless(1.7, 0.0371);
    const double brewster_deg = atan(1.7) * 180 / PI;
    assert_true(pass(&any, 1, hz, brewster_deg, RADIO_TM).back_ratio < 1e-24);
    assert_true(pass(&any, 1, hz, brewster_deg, RADIO_TE).back_ratio > 0.1);
}

/* A sheet across free space: loss 20 log(1 + Z0 / 2 Rs), and shares 4 / (2 + y)^2, (y / (2 + y))^2, y = Z0 / Rs. */
static void sheets_follow_their_closed_form(void **unused) {
    (void)unused;
    static const struct {
        double ohm, loss_db;
    } ROWS[] = {{4, 33.64}, {10, 25.95}, {20, 20.36}, {100, 9.20}, {377, 3.52}};
    for (size_t i = 0; i < sizeof ROWS / sizeof *ROWS; i++) {
        const struct radio_layer sheet = {.sheet_ohm = ROWS[i].ohm};
        const struct radio_pass got = pass(&sheet, 1, 868.3e6, 0, RADIO_TE);
        const double y = 376.730313668 / ROWS[i].ohm;
        assert_true(fabs(got.loss_db - ROWS[i].loss_db) < 0.0051);
        assert_true(fabs(got.back_ratio - y * y / ((2 + y) * (2 + y))) < 1e-12);
        assert_true(fabs(got.stays_ratio - 4 * y / ((2 + y) * (2 + y))) < 1e-12);
    }
}

static size_t random_wall(uint64_t *seed, bool loses, struct radio_layer *layers) {
    const size_t count = 1 + seed_next(seed) % 6;
    for (size_t i = 0; i < count; i++) {
        layers[i] = lossless(between(seed, 1, 3), between(seed, 0.0005, 0.3));
        if (loses && seed_next(seed) % 5 == 0) {
            layers[i] = (struct radio_layer){.sheet_ohm = between(seed, 1, 1000)};
        } else if (loses) {
            layers[i].substance.conductivity_s_m = between(seed, 0, 1);
        }
    }
    return count;
}

static void power_is_neither_made_nor_lost(void **unused) {
    (void)unused;
    uint64_t seed = 7;
    for (int i = 0; i < 3000; i++) {
        struct radio_layer layers[RADIO_LAYERS_MOST] = {0};
        const bool loses = i % 2 == 0;
        const size_t count = random_wall(&seed, loses, layers);
        const double hz = between(&seed, 30e6, 10e9);
        const double angle_deg = between(&seed, 0, 89);
        for (int k = 0; k < 2; k++) {
            const struct radio_pass got =
                    pass(layers, count, hz, angle_deg, k == 0 ? RADIO_TE : RADIO_TM);
            assert_true(got.loss_db >= 0 && isfinite(got.loss_db));
            assert_true(fabs(got.passes_ratio + got.back_ratio + got.stays_ratio - 1) < 1e-12);
            if (!loses) {
                assert_true(got.stays_ratio < 1e-9);
            }
        }
    }
}

static void a_wall_loses_the_same_from_both_sides(void **unused) {
    (void)unused;
    uint64_t seed = 8;
    for (int i = 0; i < 2000; i++) {
        struct radio_layer layers[RADIO_LAYERS_MOST] = {0};
        struct radio_layer turned[RADIO_LAYERS_MOST] = {0};
        const size_t count = random_wall(&seed, true, layers);
        for (size_t k = 0; k < count; k++) {
            turned[k] = layers[count - 1 - k];
        }
        const double hz = between(&seed, 30e6, 10e9);
        const double angle_deg = between(&seed, 0, 89);
        const double there_db = pass(layers, count, hz, angle_deg, RADIO_TM).loss_db;
        assert_true(fabs(there_db - pass(turned, count, hz, angle_deg, RADIO_TM).loss_db) < 1e-8);
    }
}

static void a_slab_cut_in_two_is_the_same_slab(void **unused) {
    (void)unused;
    uint64_t seed = 9;
    for (int i = 0; i < 1000; i++) {
        struct radio_layer layers[RADIO_LAYERS_MOST] = {0};
        struct radio_layer cut[RADIO_LAYERS_MOST] = {0};
        const size_t count = random_wall(&seed, true, layers);
        const double share = between(&seed, 0.05, 0.95);
        for (size_t k = 0; k < count; k++) {
            cut[2 * k] = cut[2 * k + 1] = layers[k];
            cut[2 * k].thickness_m *= share;
            cut[2 * k + 1].thickness_m *= 1 - share;
            /* two sheets beside each other are one of half the resistance */
            cut[2 * k].sheet_ohm *= 2;
            cut[2 * k + 1].sheet_ohm *= 2;
        }
        const double hz = between(&seed, 30e6, 10e9);
        const double angle_deg = between(&seed, 0, 89);
        const struct radio_pass whole = pass(layers, count, hz, angle_deg, RADIO_TE);
        const struct radio_pass parts = pass(cut, 2 * count, hz, angle_deg, RADIO_TE);
        assert_true(fabs(whole.loss_db - parts.loss_db) < 1e-8);
        assert_true(fabs(whole.back_ratio - parts.back_ratio) < 1e-10);
    }
}

/* Two skins of steel: e^y of one overflows a double many times over, and the answer is still a number. */
static void thick_metal_does_not_overflow(void **unused) {
    (void)unused;
    static const double LEAST_DB[6] = {2000, 2000, 2000, 3000, 3000, 5000};
    for (size_t k = 0; k < 6; k++) {
        const struct radio_layer door[3] = {of("metal", 2021, 1, MHZ[k]),
                of("air", 2021, 43, MHZ[k]), of("metal", 2021, 1, MHZ[k])};
        const struct radio_pass got = pass(door, 3, MHZ[k] * 1e6, 0, RADIO_TE);
        assert_true(got.loss_db > LEAST_DB[k] && isfinite(got.loss_db));
        assert_true(got.back_ratio > 0.99);
    }
    const struct radio_layer metre = of("metal", 2021, 10000, 100000);
    struct radio_pass mean = {0};
    assert_true(radio_wall_mean(&metre, 1, 100e9, 80, &mean, NULL).good);
    assert_true(isfinite(mean.loss_db) && mean.loss_db > 1e6);
    assert_true(radio_wall_counted_db(mean.loss_db) <= RADIO_OPAQUE_DB);
    assert_true(radio_wall_counted_db(3.2) < 3.21);
}

static void the_mean_is_of_powers(void **unused) {
    (void)unused;
    const struct radio_layer brick = of("brick", 2021, 100, 433.92);
    struct radio_pass mean = {0};
    assert_true(radio_wall_mean(&brick, 1, 433.92e6, 60, &mean, NULL).good);
    const double te = pass(&brick, 1, 433.92e6, 60, RADIO_TE).passes_ratio;
    const double tm = pass(&brick, 1, 433.92e6, 60, RADIO_TM).passes_ratio;
    assert_true(fabs(mean.loss_db + 10 * log10((te + tm) / 2)) < 1e-9);
    assert_true(fabs(mean.passes_ratio + mean.back_ratio + mean.stays_ratio - 1) < 1e-12);
}

/* P.2040, section 2.1.2.5 as remembered: 1636 sigma / root eps' dB/m for a poor conductor; exact figures at 868.3 MHz
 * worked out apart from this program. */
static void bulk_attenuation_is_that_of_the_recommendation(void **unused) {
    (void)unused;
    static const struct {
        const char *name;
        double db_m;
    } ROWS[] = {{"concrete", 29.47}, {"brick", 19.22}, {"chipboard", 19.74}, {"plasterboard", 7.37},
            {"wood", 4.68}, {"glass", 1.94}};
    for (size_t i = 0; i < sizeof ROWS / sizeof *ROWS; i++) {
        const struct radio_layer layer = of(ROWS[i].name, 2021, 1, 868.3);
        const double db_m = radio_bulk_db_m(layer.substance, 868.3e6);
        const double rule_db_m =
                1636 * layer.substance.conductivity_s_m / sqrt(layer.substance.permittivity);
        assert_true(fabs(db_m - ROWS[i].db_m) < 0.0051);
        assert_true(fabs(db_m / rule_db_m - 1) < 0.01);
    }
}

static void what_is_no_wall_is_refused(void **unused) {
    (void)unused;
    const struct radio_layer good = lossless(2, 0.1);
    static const struct {
        struct radio_layer layer;
        size_t count;
        double hz, angle_deg;
        const char *word;
    } WRONG[] = {
            {{{2, 0, false}, 0.1, 0}, 0, 1e9, 0, "1 to 16 layers"},
            {{{2, 0, false}, 0, 0}, 1, 1e9, 0, "layer 1: a thickness"},
            {{{2, 0, false}, -1, 0}, 1, 1e9, 0, "layer 1: a thickness"},
            {{{2, 0, false}, NAN, 0}, 1, 1e9, 0, "layer 1: a thickness"},
            {{{2, 0, false}, 11, 0}, 1, 1e9, 0, "layer 1: a thickness"},
            {{{0.5, 0, false}, 0.1, 0}, 1, 1e9, 0, "layer 1: a permittivity"},
            {{{2, -1, false}, 0.1, 0}, 1, 1e9, 0, "layer 1: a permittivity"},
            {{{2, NAN, false}, 0.1, 0}, 1, 1e9, 0, "layer 1: a permittivity"},
            {{{0, 0, false}, 0, -4}, 1, 1e9, 0, "layer 1: the resistance"},
            {{{0, 0, false}, 0, NAN}, 1, 1e9, 0, "layer 1: the resistance"},
            {{{2, 0, false}, 0.1, 0}, 1, 0, 0, "a frequency"},
            {{{2, 0, false}, 0.1, 0}, 1, NAN, 0, "a frequency"},
            {{{2, 0, false}, 0.1, 0}, 1, 1e9, 90, "0 to 89 degrees"},
            {{{2, 0, false}, 0.1, 0}, 1, 1e9, -1, "0 to 89 degrees"},
            {{{2, 0, false}, 0.1, 0}, 1, 1e9, NAN, "0 to 89 degrees"},
    };
    for (size_t i = 0; i < sizeof WRONG / sizeof *WRONG; i++) {
        struct radio_pass pass = {.loss_db = -7};
        struct problem problem = {0};
        assert_false(radio_wall(&WRONG[i].layer, WRONG[i].count, WRONG[i].hz, WRONG[i].angle_deg,
                RADIO_TE, &pass, &problem)
                             .good);
        if (strstr(problem.text, WRONG[i].word) == NULL) {
            fail_msg("case %zu: %s", i, problem.text);
        }
        assert_true(pass.loss_db < -6);
    }
    struct radio_layer many[RADIO_LAYERS_MOST + 1];
    for (size_t i = 0; i <= RADIO_LAYERS_MOST; i++) {
        many[i] = good;
    }
    struct radio_pass pass = {0};
    struct problem problem = {0};
    assert_false(radio_wall_mean(many, RADIO_LAYERS_MOST + 1, 1e9, 0, &pass, &problem).good);
    assert_int_equal(problem.kind, PROBLEM_LIMIT);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(losses_are_those_worked_out_elsewhere),
            cmocka_unit_test(one_slab_is_the_closed_form),
            cmocka_unit_test(slabs_that_everybody_knows),
            cmocka_unit_test(sheets_follow_their_closed_form),
            cmocka_unit_test(power_is_neither_made_nor_lost),
            cmocka_unit_test(a_wall_loses_the_same_from_both_sides),
            cmocka_unit_test(a_slab_cut_in_two_is_the_same_slab),
            cmocka_unit_test(thick_metal_does_not_overflow),
            cmocka_unit_test(the_mean_is_of_powers),
            cmocka_unit_test(bulk_attenuation_is_that_of_the_recommendation),
            cmocka_unit_test(what_is_no_wall_is_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
