/* For how long the batteries of a site's devices last: what each draws, by its profile, how often it is tripped, by the
 * routines, and how cold and warm its place gets. */
#ifndef LINTEL_POWER_SITE_CELLS_H
#define LINTEL_POWER_SITE_CELLS_H

#include "power/cell.h"
#include "site/site.h"

/** Why a device's battery is not worked out. */
enum power_lack {
    POWER_LACKS_NOTHING,
    POWER_LACKS_BATTERY, /* it has none of its own, or no profile */
    POWER_LACKS_FIGURES, /* its profile does not say what it draws */
    POWER_LACKS_CELL,    /* its type of battery is in no table */
};

/** One device's battery. events_*: trips a day, from-to. stock, life: as power/cell.h. year_*: drawn a year. cold: its
 *  place gets so cold that the cell is weak. */
struct power_site_cell {
    size_t device;
    const struct power_cell *cell;
    double events_low;
    double events_high;
    double event_mah;
    double check_in_mah;
    struct power_stock stock;
    struct power_life life;
    bool cold;
};

/** What of a cell's charge can be used before its voltage is too low: common practice. */
extern const double POWER_USABLE_LOW_RATIO;
extern const double POWER_USABLE_HIGH_RATIO;

/** How often a day a device is tripped, from-to: as the site says it; else at least as often as routines pass it, each
 *  once a day, and at most as house practice has it (docs/power.md). device: has a profile. */
void power_trips_a_day(const struct site *site, size_t device, double *ret_low, double *ret_high);

/** For how long a lead battery that is kept full lasts, and how much earlier one is changed along with another: a visit
 *  costs more. Common practice; house practice. */
extern const double POWER_LEAD_LOW_YEARS;
extern const double POWER_LEAD_HIGH_YEARS;
enum { POWER_SHARED_DAYS = 182 };

/** The day so many years after another; at most the last that can be written. since_day: a date; years: 0 and more. */
int32_t power_due_day(int32_t since_day, double years);

/** ret_cell: untouched where something lacks. Fails as power_year_mah. */
outcome power_site_cell(const struct site *site, size_t device, struct power_site_cell *ret_cell,
        enum power_lack *ret_lack, struct problem *ret_problem) MUST_CHECK;

#endif
