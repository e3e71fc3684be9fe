#include "power/magnet.h"

#include <math.h>
#include <stdbool.h>

#define PI 3.14159265358979323846

static const double GAP_MOST_M = 1;

static bool is_length(double value_m) {
    return value_m > 0 && value_m <= 0.5;
}

static outcome check(const struct power_magnet *magnet, struct problem *ret_problem) {
    if (!(magnet->remanence_t >= 0.05 && magnet->remanence_t <= 1.6)) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "",
                "a remanence is 0.05 to 1.6 T; ferrite has about 0.38, neodymium about 1.2");
    }
    const bool round = magnet->diameter_m != 0;
    if (!is_length(magnet->length_m) ||
            !(round ? is_length(magnet->diameter_m)
                    : is_length(magnet->width_m) && is_length(magnet->height_m))) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "a magnet measures over 0 to 500 mm each way");
    }
    return outcome_good();
}

static double cylinder(const struct power_magnet *magnet, double gap_m) {
    const double radius_m = magnet->diameter_m / 2;
    const double back_m = magnet->length_m + gap_m;
    return magnet->remanence_t / 2 *
            (back_m / hypot(radius_m, back_m) - gap_m / hypot(radius_m, gap_m));
}

/* The angle under which the pole face is seen; at the face itself half of all around. */
static double face(const struct power_magnet *magnet, double gap_m) {
    const double a_m = magnet->width_m;
    const double b_m = magnet->height_m;
    const double across_m = sqrt(4 * gap_m * gap_m + a_m * a_m + b_m * b_m);
    return atan2(a_m * b_m, 2 * gap_m * across_m);
}

static double field(const struct power_magnet *magnet, double gap_m) {
    return magnet->diameter_m > 0 ? cylinder(magnet, gap_m)
                                  : magnet->remanence_t / PI *
                    (face(magnet, gap_m) - face(magnet, gap_m + magnet->length_m));
}

outcome power_magnet_field_t(const struct power_magnet *magnet, double gap_m, double *ret_field_t,
        struct problem *ret_problem) {
    TRY(check(magnet, ret_problem));
    if (!(gap_m >= 0 && gap_m <= GAP_MOST_M)) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "a gap is 0 to %.0f mm", GAP_MOST_M * 1000);
    }
    *ret_field_t = field(magnet, gap_m);
    return outcome_good();
}

/* On the axis the field only falls: halving finds the place. */
outcome power_magnet_gap_m(const struct power_magnet *magnet, double field_t, double *ret_gap_m,
        struct problem *ret_problem) {
    TRY(check(magnet, ret_problem));
    if (!(field_t > 1e-6 && field_t <= 10)) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "a reed works at over 0.001 mT");
    }
    double low_m = 0;
    double high_m = GAP_MOST_M;
    if (field(magnet, 0) <= field_t) {
        *ret_gap_m = 0;
        return outcome_good();
    }
    for (int i = 0; i < 60; i++) {
        const double middle_m = (low_m + high_m) / 2;
        if (field(magnet, middle_m) > field_t) {
            low_m = middle_m;
        } else {
            high_m = middle_m;
        }
    }
    *ret_gap_m = low_m;
    return outcome_good();
}
