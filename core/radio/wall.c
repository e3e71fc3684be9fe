#include "radio/wall.h"

#include "radio/constants.h"
#include "radio/phasor.h"

#include <assert.h>

static const double THICKNESS_MOST_M = 10;
static const double SHEET_MOST_OHM = 1e6;

/* The chain matrix of layers, fields before = matrix times fields behind. Impedances count in those of free space.
 * Each layer's matrix is divided by e^y, y the attenuation in it: hyperbolic functions of thick metal would
 * overflow. The sum of all y is kept beside it. */
struct chain {
    struct phasor a, b, c, d;
    double attenuation_np;
};

static struct chain chain_multiply(const struct chain *front, const struct chain *behind) {
    return (struct chain){
            .a = phasor_add(
                    phasor_multiply(front->a, behind->a), phasor_multiply(front->b, behind->c)),
            .b = phasor_add(
                    phasor_multiply(front->a, behind->b), phasor_multiply(front->b, behind->d)),
            .c = phasor_add(
                    phasor_multiply(front->c, behind->a), phasor_multiply(front->d, behind->c)),
            .d = phasor_add(
                    phasor_multiply(front->c, behind->b), phasor_multiply(front->d, behind->d)),
            .attenuation_np = front->attenuation_np + behind->attenuation_np,
    };
}

/* Relative permittivity with its loss: eta = eps' - j sigma / (2 pi f eps0). */
static struct phasor eta_of(struct radio_substance substance, double frequency_hz) {
    return phasor_of(substance.permittivity,
            -substance.conductivity_s_m / (2 * RADIO_PI * frequency_hz * RADIO_EPSILON0_F_M));
}

/* cos and sin of x - jy over e^y, y >= 0. */
static void turn(struct phasor delta, struct phasor *ret_cos, struct phasor *ret_sin) {
    const double y = -delta.im;
    const double fades = exp(-2 * y);
    const double even = (1 + fades) / 2;
    const double odd = (1 - fades) / 2;
    *ret_cos = phasor_of(cos(delta.re) * even, sin(delta.re) * odd);
    *ret_sin = phasor_of(sin(delta.re) * even, -cos(delta.re) * odd);
}

static struct chain chain_of(const struct radio_layer *layer, double frequency_hz,
        double sine_squared, enum radio_polarisation polarisation) {
    static const struct phasor ONE = {1, 0};
    static const struct phasor J = {0, 1};
    if (layer->sheet_ohm > 0) {
        return (struct chain){
                .a = ONE, .c = phasor_of(RADIO_FREE_SPACE_OHM / layer->sheet_ohm, 0), .d = ONE};
    }
    const struct phasor eta = eta_of(layer->substance, frequency_hz);
    const struct phasor slant = phasor_root(phasor_of(eta.re - sine_squared, eta.im));
    const double k0 = 2 * RADIO_PI * frequency_hz / RADIO_LIGHT_M_S;
    const struct phasor delta = phasor_scale(slant, k0 * layer->thickness_m);
    const struct phasor impedance =
            polarisation == RADIO_TE ? phasor_divide(ONE, slant) : phasor_divide(slant, eta);
    struct phasor cosine;
    struct phasor sine;
    turn(delta, &cosine, &sine);
    const struct phasor turned = phasor_multiply(J, sine);
    return (struct chain){.a = cosine,
            .b = phasor_multiply(impedance, turned),
            .c = phasor_divide(turned, impedance),
            .d = cosine,
            .attenuation_np = -delta.im};
}

static outcome check(const struct radio_layer *layers, size_t count, double frequency_hz,
        double angle_deg, struct problem *ret_problem) {
    if (count == 0 || count > RADIO_LAYERS_MOST) {
        FAIL(ret_problem, count == 0 ? PROBLEM_BAD_VALUE : PROBLEM_LIMIT, "",
                "a wall has 1 to %d layers, not %zu", RADIO_LAYERS_MOST, count);
    }
    TRY(radio_check_frequency(frequency_hz, ret_problem));
    if (!(angle_deg >= 0 && angle_deg <= RADIO_ANGLE_MOST_DEG)) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "",
                "the angle counts from straight through: 0 to %d degrees", RADIO_ANGLE_MOST_DEG);
    }
    for (size_t i = 0; i < count; i++) {
        const struct radio_layer *layer = &layers[i];
        if (layer->sheet_ohm != 0 &&
                !(layer->sheet_ohm > 0 && layer->sheet_ohm <= SHEET_MOST_OHM)) {
            FAIL(ret_problem, PROBLEM_BAD_VALUE, "",
                    "layer %zu: the resistance of a sheet is over 0 to %.0f ohm per square", i + 1,
                    SHEET_MOST_OHM);
        }
        if (layer->sheet_ohm == 0 &&
                !(layer->thickness_m > 0 && layer->thickness_m <= THICKNESS_MOST_M)) {
            FAIL(ret_problem, PROBLEM_BAD_VALUE, "",
                    "layer %zu: a thickness is over 0 to %.0f m; write for example brick:100mm",
                    i + 1, THICKNESS_MOST_M);
        }
        const struct radio_substance substance = layer->substance;
        if (layer->sheet_ohm == 0 &&
                !(substance.permittivity >= 1 && substance.permittivity <= 1e3 &&
                        substance.conductivity_s_m >= 0 && substance.conductivity_s_m <= 1e9)) {
            FAIL(ret_problem, PROBLEM_BAD_VALUE, "",
                    "layer %zu: a permittivity is 1 to 1000, a conductivity 0 to 1e9 S/m", i + 1);
        }
    }
    return outcome_good();
}

static double square(double value) {
    return value * value;
}

static double at_most_one(double value) {
    return value < 0 ? 0 : value > 1 ? 1 : value;
}

outcome radio_wall(const struct radio_layer *layers, size_t count, double frequency_hz,
        double angle_deg, enum radio_polarisation polarisation, struct radio_pass *ret_pass,
        struct problem *ret_problem) {
    TRY(check(layers, count, frequency_hz, angle_deg, ret_problem));
    const double angle = angle_deg * RADIO_PI / 180;
    const double cosine = cos(angle);
    const double sine_squared = square(sin(angle));
    struct chain wall = {.a = {1, 0}, .d = {1, 0}};
    for (size_t i = 0; i < count; i++) {
        const struct chain layer = chain_of(&layers[i], frequency_hz, sine_squared, polarisation);
        wall = chain_multiply(&wall, &layer);
    }
    /* Air on both sides: T = 2 / (A + B/Za + C Za + D), R = (A + B/Za - C Za - D) / the same. */
    const double air = polarisation == RADIO_TE ? 1 / cosine : cosine;
    const struct phasor front = phasor_add(wall.a, phasor_scale(wall.b, 1 / air));
    const struct phasor behind = phasor_add(phasor_scale(wall.c, air), wall.d);
    const struct phasor sum = phasor_add(front, behind);
    const double nepers = wall.attenuation_np + log(phasor_size(sum) / 2);
    const double back = phasor_size(phasor_subtract(front, behind)) / phasor_size(sum);
    const double loss_db = RADIO_DB_PER_NEPER * nepers;
    struct radio_pass pass = {
            .loss_db = loss_db < 0 ? 0 : loss_db, /* no wall amplifies: a rounding below 0 */
            .passes_ratio = at_most_one(exp(-2 * nepers)),
            .back_ratio = at_most_one(square(back)),
    };
    pass.stays_ratio = at_most_one(1 - pass.passes_ratio - pass.back_ratio);
    assert(isfinite(pass.loss_db) && isfinite(pass.back_ratio));
    *ret_pass = pass;
    return outcome_good();
}

outcome radio_wall_mean(const struct radio_layer *layers, size_t count, double frequency_hz,
        double angle_deg, struct radio_pass *ret_pass, struct problem *ret_problem) {
    struct radio_pass te;
    struct radio_pass tm;
    TRY(radio_wall(layers, count, frequency_hz, angle_deg, RADIO_TE, &te, ret_problem));
    TRY(radio_wall(layers, count, frequency_hz, angle_deg, RADIO_TM, &tm, ret_problem));
    /* The lesser loss first: of metal both powers are 0 as doubles, their mean loss is not endless. */
    const double least_db = fmin(te.loss_db, tm.loss_db);
    const double apart_db = fabs(te.loss_db - tm.loss_db);
    *ret_pass = (struct radio_pass){
            .loss_db = least_db - 10 * log10((1 + pow(10, -apart_db / 10)) / 2),
            .passes_ratio = (te.passes_ratio + tm.passes_ratio) / 2,
            .back_ratio = (te.back_ratio + tm.back_ratio) / 2,
            .stays_ratio = (te.stays_ratio + tm.stays_ratio) / 2,
    };
    return outcome_good();
}

double radio_wall_counted_db(double loss_db) {
    return loss_db < RADIO_OPAQUE_DB ? loss_db : RADIO_OPAQUE_DB;
}

double radio_bulk_db_m(struct radio_substance substance, double frequency_hz) {
    const double k0 = 2 * RADIO_PI * frequency_hz / RADIO_LIGHT_M_S;
    return -RADIO_DB_PER_NEPER * k0 * phasor_root(eta_of(substance, frequency_hz)).im;
}
