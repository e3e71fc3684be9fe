/* Which battery of a site is to be changed on which day, and which share a visit: those of devices and the panel's own
 * whose day of being put in is written. In the order of days. */
#ifndef LINTEL_POWER_SITE_DUES_H
#define LINTEL_POWER_SITE_DUES_H

#include "base/arena.h"
#include "power/site_cells.h"

/** One battery. device: SITE_NONE: the panel's. change_years: from since_day to due_day, its careful end; it may last
 *  until last_day. */
struct power_due {
    int device;
    int32_t since_day;
    int32_t due_day;
    int32_t last_day;
    double low_years;
    double high_years;
    double change_years;
};

/** ret_dues: in the arena, by due_day; what cannot be worked out is left out. Fails with PROBLEM_MEMORY alone. */
outcome power_site_dues(const struct site *site, struct arena *arena, struct power_due **ret_dues,
        size_t *ret_count, struct problem *ret_problem) MUST_CHECK;

/** One visit changes all that are due within half a year of the first: where the next visit's begin. House practice. */
size_t power_visit_end(const struct power_due *dues, size_t count, size_t first);

/** "the panel's battery", or the device's name. */
struct text power_due_name(const struct site *site, const struct power_due *due);

#endif
