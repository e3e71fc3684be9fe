#include "power/magnet.h"

#include <math.h>
#include <stdbool.h>

#define PI 3.14159265358979323846

static const double GAP_MOST_M = 1;
enum { STRIPS = 256 }; /* that a round face is cut into */

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

/* ---- beside the axis --------------------------------------------------------------------------------------------- */

/* The angle under which a rectangle is seen from so far in front of it: from one side at `from` to the other at `to`,
 * measured from the point's foot, and half_m to either side across. */
static double rectangle_angle(double from_m, double to_m, double half_m, double gap_m) {
    const double far_m = sqrt(to_m * to_m + half_m * half_m + gap_m * gap_m);
    const double near_m = sqrt(from_m * from_m + half_m * half_m + gap_m * gap_m);
    return 2 * (atan2(to_m * half_m, gap_m * far_m) - atan2(from_m * half_m, gap_m * near_m));
}

/* The same of a pole face; a round one in strips. */
static double face_angle(const struct power_magnet *magnet, double gap_m, double offset_m) {
    const double half_m = (magnet->diameter_m > 0 ? magnet->diameter_m : magnet->width_m) / 2;
    if (magnet->diameter_m <= 0) {
        return rectangle_angle(-half_m - offset_m, half_m - offset_m, magnet->height_m / 2, gap_m);
    }
    double angle = 0;
    double from_m = -half_m;
    for (int i = 1; i <= STRIPS; i++) {
        const double to_m = half_m * (2 * i - STRIPS) / STRIPS;
        const double middle_m = (from_m + to_m) / 2;
        const double across_m = sqrt(half_m * half_m - middle_m * middle_m);
        angle += rectangle_angle(from_m - offset_m, to_m - offset_m, across_m, gap_m);
        from_m = to_m; /* the very same edge: right at the face its side counts */
    }
    return angle;
}

static double beside(const struct power_magnet *magnet, double gap_m, double offset_m) {
    return magnet->remanence_t / (4 * PI) *
            (face_angle(magnet, gap_m, offset_m) -
                    face_angle(magnet, gap_m + magnet->length_m, offset_m));
}

outcome power_magnet_beside_t(const struct power_magnet *magnet, double gap_m, double offset_m,
        double *ret_field_t, struct problem *ret_problem) {
    TRY(check(magnet, ret_problem));
    if (!(gap_m >= 0 && gap_m <= GAP_MOST_M && offset_m >= 0 && offset_m <= GAP_MOST_M)) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "a gap, and an offset, is 0 to %.0f mm",
                GAP_MOST_M * 1000);
    }
    *ret_field_t = beside(magnet, gap_m, offset_m);
    return outcome_good();
}

/* Near a wide face the field may rise towards its rim, so the first fall is looked for step by step, then halved. */
outcome power_magnet_side_m(const struct power_magnet *magnet, double gap_m, double field_t,
        double *ret_offset_m, struct problem *ret_problem) {
    double on_axis_t = 0;
    TRY(power_magnet_beside_t(magnet, gap_m, 0, &on_axis_t, ret_problem));
    if (!(field_t > 1e-6 && field_t <= 10)) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "a reed works at over 0.001 mT");
    }
    const double wide_m = magnet->diameter_m > 0 ? magnet->diameter_m : magnet->width_m;
    const double step_m = wide_m / 10 < GAP_MOST_M / 100 ? wide_m / 10 : GAP_MOST_M / 100;
    double low_m = 0;
    while (low_m < GAP_MOST_M && beside(magnet, gap_m, low_m + step_m) > field_t) {
        low_m += step_m;
    }
    double high_m = low_m + step_m;
    for (int i = 0; i < 40 && on_axis_t > field_t; i++) {
        const double middle_m = (low_m + high_m) / 2;
        if (beside(magnet, gap_m, middle_m) > field_t) {
            low_m = middle_m;
        } else {
            high_m = middle_m;
        }
    }
    *ret_offset_m = on_axis_t > field_t ? low_m : 0;
    return outcome_good();
}
