#include "power/cell.h"

#include <assert.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#define ROW(name, volts, low_mah, high_mah, low, high, coldest, warmest, says, certainty)          \
    {name, volts, low_mah, high_mah, low, high, coldest, warmest, says, certainty},

static const struct power_cell cells[] = {
#include "power/cells.inc"
};

enum { COUNT = sizeof cells / sizeof cells[0] };

size_t power_cell_count(void) {
    return COUNT;
}

const struct power_cell *power_cell_at(size_t index) {
    assert(index < COUNT);
    return &cells[index];
}

outcome power_cell_find(
        struct text name, const struct power_cell **ret_cell, struct problem *ret_problem) {
    char list[200] = "";
    for (size_t i = 0; i < COUNT; i++) {
        const size_t used = strlen(list);
        if (text_is(name, cells[i].name)) {
            *ret_cell = &cells[i];
            return outcome_good();
        }
        (void)snprintf(
                list + used, sizeof list - used, "%s%s", used == 0 ? "" : ", ", cells[i].name);
    }
    FAIL(ret_problem, PROBLEM_MISSING, "", "there is no cell \"%.*s\"; there is %s",
            (int)(name.length > 40 ? 40 : name.length), name.start, list);
}

static bool is_charge(double value) {
    return value >= 0 && value <= 1e6;
}

outcome power_year_mah(
        const struct power_draw *draw, double *ret_year_mah, struct problem *ret_problem) {
    static const double YEAR_H = 365.25 * 24;
    if (!is_charge(draw->quiet_ma) || !is_charge(draw->events_day) || !is_charge(draw->event_mah) ||
            !is_charge(draw->check_in_mah)) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "currents, charges and events are 0 and more");
    }
    if (!(draw->check_in_s >= 0 && draw->check_in_s <= 1e9)) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "the check-in interval is 0 (none) and more");
    }
    const double check_ins = draw->check_in_s > 0 ? YEAR_H * 3600 / draw->check_in_s : 0;
    const double year_mah = draw->quiet_ma * YEAR_H + draw->events_day * 365.25 * draw->event_mah +
            check_ins * draw->check_in_mah;
    if (!(year_mah > 0)) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "",
                "nothing is drawn: give what the device draws at rest, such as 5 uA");
    }
    *ret_year_mah = year_mah;
    return outcome_good();
}

double power_years_linear(
        double capacity_mah, double usable_ratio, double year_mah, double self_ratio) {
    assert(year_mah > 0 && self_ratio >= 0);
    return capacity_mah * usable_ratio / (year_mah + self_ratio * capacity_mah);
}

double power_years_exponential(
        double capacity_mah, double usable_ratio, double year_mah, double self_ratio) {
    assert(year_mah > 0 && self_ratio >= 0);
    const double shares = capacity_mah * usable_ratio / year_mah;
    return self_ratio > 0 ? log1p(self_ratio * shares) / self_ratio : shares;
}

double power_warm_factor(double temperature_c) {
    return fmax(1, exp2((temperature_c - 20) / 10));
}
