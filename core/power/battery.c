#include "power/battery.h"

#include <assert.h>
#include <math.h>

static const double CHARGE_LOSS = 1.2;
static const double AMPERES_MOST = 1000;
static const double HOURS_MOST = 10000;
static const double CAPACITY_MOST_AH = 10000;

static bool is_within(double value, double most) {
    return value >= 0 && value <= most;
}

static outcome check_load(const struct power_load *load, struct problem *ret_problem) {
    if (!is_within(load->standby_a, AMPERES_MOST) || !is_within(load->alarm_a, AMPERES_MOST)) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "a current is 0 to %.0f A", AMPERES_MOST);
    }
    if (!is_within(load->standby_h, HOURS_MOST) || !is_within(load->alarm_h, HOURS_MOST)) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "a time is 0 to %.0f h", HOURS_MOST);
    }
    if (!(load->standby_a * load->standby_h + load->alarm_a * load->alarm_h > 0)) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "",
                "nothing is drawn: give a standby current and hours, or an alarm current and time");
    }
    return outcome_good();
}

outcome power_need_ah(
        const struct power_load *load, double *ret_need_ah, struct problem *ret_problem) {
    TRY(check_load(load, ret_problem));
    *ret_need_ah = load->standby_a * load->standby_h + load->alarm_a * load->alarm_h;
    return outcome_good();
}

outcome power_lasts_h(const struct power_battery *battery, double current_a, double *ret_hours_h,
        struct problem *ret_problem) {
    if (!(battery->capacity_ah > 0 && battery->capacity_ah <= CAPACITY_MOST_AH)) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "a battery has over 0 to %.0f Ah",
                CAPACITY_MOST_AH);
    }
    if (!(battery->peukert >= 1 && battery->peukert <= 1.6)) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "the Peukert exponent is 1 to 1.6; 1.15 is usual");
    }
    if (!(battery->left_ratio > 0 && battery->left_ratio <= 1 && battery->rated_h >= 1 &&
                battery->rated_h <= 1000)) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "",
                "what is left of a battery is over 0 to 100 %%, its rating 1 to 1000 h");
    }
    if (!(current_a > 0 && current_a <= AMPERES_MOST)) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "a current is over 0 to %.0f A", AMPERES_MOST);
    }
    const double capacity_ah = battery->capacity_ah * battery->left_ratio;
    const double rated_a = capacity_ah / battery->rated_h;
    const double hours_h = battery->rated_h * pow(rated_a / current_a, battery->peukert);
    *ret_hours_h = fmin(hours_h, capacity_ah / current_a);
    return outcome_good();
}

static outcome add_used(const struct power_battery *battery, double current_a, double time_h,
        double *used_ratio, struct problem *ret_problem) {
    double lasts_h = 0;
    if (!(current_a * time_h > 0)) {
        return outcome_good();
    }
    TRY(power_lasts_h(battery, current_a, &lasts_h, ret_problem));
    *used_ratio += time_h / lasts_h;
    return outcome_good();
}

outcome power_used_ratio(const struct power_battery *battery, const struct power_load *load,
        double *ret_used_ratio, struct problem *ret_problem) {
    double used_ratio = 0;
    TRY(check_load(load, ret_problem));
    TRY(add_used(battery, load->standby_a, load->standby_h, &used_ratio, ret_problem));
    TRY(add_used(battery, load->alarm_a, load->alarm_h, &used_ratio, ret_problem));
    *ret_used_ratio = used_ratio;
    return outcome_good();
}

outcome power_alarm_left_h(const struct power_battery *battery, const struct power_load *load,
        double *ret_left_h, struct problem *ret_problem) {
    struct power_load standby = *load;
    double used_ratio = 0;
    double alone_h = 0;
    standby.alarm_h = 0;
    if (load->standby_a * load->standby_h > 0) {
        TRY(power_used_ratio(battery, &standby, &used_ratio, ret_problem));
    }
    TRY(power_lasts_h(battery, load->alarm_a, &alone_h, ret_problem));
    *ret_left_h = fmax(0, 1 - used_ratio) * alone_h;
    return outcome_good();
}

/* IEEE 485, temperature correction of cell size (from memory): 25 F 1.52, 40 F 1.30 and so on; here the reciprocal. */
static const struct {
    double temperature_c;
    double size_factor;
} cold_rows[] = {
        {-35.0 / 9, 1.52},
        {40.0 / 9, 1.30},
        {10, 1.19},
        {140.0 / 9, 1.11},
        {190.0 / 9, 1.04},
        {25, 1},
        {290.0 / 9, 0.94},
        {390.0 / 9, 0.88},
};
enum { COLD_ROWS = sizeof cold_rows / sizeof cold_rows[0] };

outcome power_cold_ratio(
        double temperature_c, double *ret_left_ratio, struct problem *ret_problem) {
    if (!(temperature_c >= -3.9 && temperature_c <= 43.4)) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "",
                "the table of temperatures goes from -3.9 to 43.3 C; hang the battery elsewhere, "
                "or "
                "ask its maker");
    }
    size_t row = 1;
    while (row + 1 < COLD_ROWS && cold_rows[row].temperature_c < temperature_c) {
        row++;
    }
    const double low = 1 / cold_rows[row - 1].size_factor;
    const double high = 1 / cold_rows[row].size_factor;
    const double along = (temperature_c - cold_rows[row - 1].temperature_c) /
            (cold_rows[row].temperature_c - cold_rows[row - 1].temperature_c);
    *ret_left_ratio = fmin(1, low + along * (high - low));
    return outcome_good();
}

double power_next_size_ah(double need_ah) {
    static const double sizes_ah[] = {
            0.8, 1.2, 2.1, 2.8, 3.2, 4, 5, 7, 9, 12, 17, 24, 26, 38, 65, 100};
    for (size_t i = 0; i < sizeof sizes_ah / sizeof sizes_ah[0]; i++) {
        if (sizes_ah[i] >= need_ah) {
            return sizes_ah[i];
        }
    }
    return 0;
}

double power_recharge_a(double capacity_ah, double share_ratio, double hours_h) {
    assert(hours_h > 0);
    return capacity_ah * share_ratio * CHARGE_LOSS / hours_h;
}
