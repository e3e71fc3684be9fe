#include "power/cell.h"

#include <assert.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#define ROW(name, also, volts, low_mah, high_mah, low, high, coldest, warmest, weak, says, sure)   \
    {name, also, volts, low_mah, high_mah, low, high, coldest, warmest, weak, says, sure},

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

/* Names are ASCII: "CR2450" is cr2450. */
static bool is_named(struct text name, const char *wanted) {
    for (size_t i = 0; i < name.length; i++) {
        const char byte = name.start[i];
        const char other = wanted[i];
        const char small = (char)(byte >= 'A' && byte <= 'Z' ? byte - 'A' + 'a' : byte);
        if (other == '\0' || small != (other >= 'A' && other <= 'Z' ? other - 'A' + 'a' : other)) {
            return false;
        }
    }
    return wanted[name.length] == '\0';
}

outcome power_cell_find(
        struct text name, const struct power_cell **ret_cell, struct problem *ret_problem) {
    char list[200] = "";
    for (size_t i = 0; i < COUNT; i++) {
        const size_t used = strlen(list);
        if (is_named(name, cells[i].name) || is_named(name, cells[i].also)) {
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

double power_cell_cold_ratio(const struct power_cell *cell, double coldest_c) {
    return coldest_c < 0 && cell->volts < 2 && cell->high_percent >= 2 ? 0.5 : 1;
}

struct power_life power_cell_life(const struct power_cell *cell, const struct power_stock *stock) {
    assert(stock->year_low_mah > 0 && stock->year_low_mah <= stock->year_high_mah);
    const double least_mah = stock->low_mah * power_cell_cold_ratio(cell, stock->coldest_c);
    const double most_self = cell->high_percent / 100 * power_warm_factor(stock->warmest_c);
    const double least_self = cell->low_percent / 100 * power_warm_factor(stock->coldest_c);
    const double least_years =
            power_years_linear(least_mah, stock->usable_low_ratio, stock->year_high_mah, most_self);
    return (struct power_life){.least_years = least_years,
            .most_years = power_years_exponential(
                    stock->high_mah, stock->usable_high_ratio, stock->year_low_mah, least_self),
            .change_years = floor(least_years * 2) / 2};
}

double power_warm_factor(double temperature_c) {
    return fmax(1, exp2((temperature_c - 20) / 10));
}
