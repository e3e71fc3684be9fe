/* Cells in sensors: what a device draws in a year, and for how many years its cell lasts, from-to.
 *
 * Sources: charge is current times time; capacities and self-discharge are data (data/power/cells.tsv);
 * self-discharge doubles with each 10 K (Arrhenius rule, from memory). The end of a cell is a test of its voltage
 * under load: a cold or aged coin cell fails on the pulse long before its charge is gone. So years are a from-to,
 * and the change is due at the first of them. */
#ifndef LINTEL_POWER_CELL_H
#define LINTEL_POWER_CELL_H

#include "base/problem.h"
#include "base/text.h"

#include <stddef.h>

/** A row of the table. also: its name by IEC 60086. */
struct power_cell {
    const char *name;
    const char *also;
    double volts;
    double low_mah;
    double high_mah;
    double low_percent; /* self-discharge a year at 20 C */
    double high_percent;
    double coldest_c;
    double warmest_c;
    double weak_c; /* below, it may fail on a pulse though it is charged */
    const char *says;
    const char *certainty;
};

/** What a device draws. quiet_ma: at rest. events_day: trips a day; event_mah: charge of each. check_in_s: 0: none;
 *  check_in_mah: charge of each. All 0 and more, not all 0. */
struct power_draw {
    double quiet_ma;
    double events_day;
    double event_mah;
    double check_in_s;
    double check_in_mah;
};

size_t power_cell_count(void);
const struct power_cell *power_cell_at(size_t index);

/** For how many years, at the careful end and at the other. change_years: the careful end, down to half a year. */
struct power_life {
    double least_years;
    double most_years;
    double change_years;
};

/** What a life is worked out from: the charge of all cells as joined, least and most of what a year draws, how cold and
 *  how warm the place gets, and which share of the charge can be used. */
struct power_stock {
    double low_mah;
    double high_mah;
    double year_low_mah;
    double year_high_mah;
    double coldest_c;
    double warmest_c;
    double usable_low_ratio;
    double usable_high_ratio;
};

/** The cell of this name, in whatever case, by either of its names. Fails MISSING; the text lists what there is. */
outcome power_cell_find(struct text name, const struct power_cell **ret_cell,
        struct problem *ret_problem) MUST_CHECK;

/** mAh a year of 365.25 days. Fails BAD_VALUE. */
outcome power_year_mah(const struct power_draw *draw, double *ret_year_mah,
        struct problem *ret_problem) MUST_CHECK;

/** Years until a charge is drawn while a share of the full charge is lost each year: linear, C e / (I + s C). The
 *  careful one of the two. usable_ratio: over 0 to 1; self_ratio: 0 .. 1 a year. */
double power_years_linear(
        double capacity_mah, double usable_ratio, double year_mah, double self_ratio);

/** The same with a share of what is left lost each year: ln(1 + s C e / I) / s. */
double power_years_exponential(
        double capacity_mah, double usable_ratio, double year_mah, double self_ratio);

/** What is left of the charge of a cell in the cold: of an alkaline one below freezing half, about (from memory). */
double power_cell_cold_ratio(const struct power_cell *cell, double coldest_c);

/** Years from-to. cell: for its self-discharge; stock: yearly draws over 0, low not over high (asserted). */
struct power_life power_cell_life(const struct power_cell *cell, const struct power_stock *stock);

/** By how much self-discharge grows from 20 C: 2^((T - 20)/10), not under 1. */
double power_warm_factor(double temperature_c);

#endif
