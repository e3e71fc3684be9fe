#include "radio/link.h"

#include "radio/constants.h"
#include "radio/material.h"

#include <assert.h>
#include <math.h>

const double RADIO_FLOOR_MEASURED_DB = 9;

outcome radio_free_space_db(
        double distance_m, double frequency_hz, double *ret_loss_db, struct problem *ret_problem) {
    static const double FARTHEST_M = 100000;
    TRY(radio_check_frequency(frequency_hz, ret_problem));
    const double wavelength_m = RADIO_LIGHT_M_S / frequency_hz;
    if (!(distance_m >= wavelength_m && distance_m <= FARTHEST_M)) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "",
                "a distance is %.2f m (one wavelength, closer in the sum means nothing) to %.0f km",
                wavelength_m, FARTHEST_M / 1000);
    }
    *ret_loss_db = 20 * log10(4 * RADIO_PI * distance_m / wavelength_m);
    return outcome_good();
}

double radio_noise_floor_dbm(double bandwidth_hz, double noise_figure_db) {
    static const double BOLTZMANN_J_K = 1.380649e-23; /* SI brochure, 9th edition */
    static const double ROOM_K = 290;
    assert(bandwidth_hz > 0);
    return 10 * log10(BOLTZMANN_J_K * ROOM_K * bandwidth_hz / 1e-3) + noise_figure_db;
}

double radio_wall_measured_db(bool heavy) {
    return heavy ? 6.9 : 3.4;
}

double radio_reaches_ratio(double margin_db, double spread_db) {
    assert(spread_db > 0);
    return erfc(-margin_db / spread_db / sqrt(2)) / 2;
}

/* One message's chance at a place with this margin: the fading keeps an exponentially distributed power above it. */
static double gets_through(double margin_db) {
    return exp(-pow(10, -margin_db / 10));
}

/* The trapezium rule over the bell: for smooth functions that vanish at both ends it converges faster than any
 * power of the step (Trefethen and Weideman, SIAM Review 56, 2014). Its own weights are summed as well, so that
 * they make 1. */
double radio_arrives_ratio(double margin_db, double spread_db) {
    enum { STEPS = 400 };
    static const double END = 8;
    double sum = 0;
    double weights = 0;
    assert(spread_db >= 0);
    for (int i = 0; i <= STEPS; i++) {
        const double deviates = END * (2.0 * i / STEPS - 1);
        const double weight = exp(-deviates * deviates / 2);
        weights += weight;
        sum += weight * gets_through(margin_db + spread_db * deviates);
    }
    return sum / weights;
}

/* Halving: slow and sure. 64 halvings of 80 deviations end below the grain of a double. */
double radio_margin_for_db(double ratio, double spread_db) {
    double low = -40;
    double high = 40;
    assert(ratio > 0 && ratio < 1 && spread_db > 0);
    for (int i = 0; i < 64; i++) {
        const double middle = (low + high) / 2;
        if (radio_reaches_ratio(middle, 1) < ratio) {
            low = middle;
        } else {
            high = middle;
        }
    }
    return spread_db * (low + high) / 2;
}
