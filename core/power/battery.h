/* The panel's own battery: how many ampere hours the standby time takes, whether a battery lives through it, which
 * listed size does, and how soon it is full again.
 *
 * Sources: sum of currents and hours, common practice in every standard on alarm supplies; Peukert 1897;
 * temperature factors of IEEE 485 (from memory); ageing: a battery is called worn out at 80 % of its capacity (IEEE
 * 450, 485, from memory). Batteries can hurt: the makers' instructions win. */
#ifndef LINTEL_POWER_BATTERY_H
#define LINTEL_POWER_BATTERY_H

#include "base/problem.h"

#include <stddef.h>

/** What is drawn, and for how long. Currents in amperes, 0 and more, times in hours, 0 and more, not both 0. */
struct power_load {
    double standby_a;
    double standby_h;
    double alarm_a;
    double alarm_h;
};

/** A lead battery as it is. capacity_ah: as printed on it, over 0; rated_h: at this rate (20 is usual). peukert:
 *  exponent, 1 to 1.6. left_ratio: what age and cold leave of the capacity, over 0 to 1. */
struct power_battery {
    double capacity_ah;
    double rated_h;
    double peukert;
    double left_ratio;
};

/** Charge that the load takes, without any margin. Fails BAD_VALUE; the text says what is out of its range. */
outcome power_need_ah(
        const struct power_load *load, double *ret_need_ah, struct problem *ret_problem) MUST_CHECK;

/** Hours that a battery gives a current: H (C / (I H))^k; below its rated current no more than C / I is credited.
 *  Source: Peukert. current_a: over 0. Fails BAD_VALUE. */
outcome power_lasts_h(const struct power_battery *battery, double current_a, double *ret_hours_h,
        struct problem *ret_problem) MUST_CHECK;

/** How much of the battery the load uses up: shares of both phases added, 1 and less lives. Fails BAD_VALUE. */
outcome power_used_ratio(const struct power_battery *battery, const struct power_load *load,
        double *ret_used_ratio, struct problem *ret_problem) MUST_CHECK;

/** How long it carries the alarm once the standby time is over; 0: it is empty by then. alarm_a: over 0. Fails
 *  BAD_VALUE. */
outcome power_alarm_left_h(const struct power_battery *battery, const struct power_load *load,
        double *ret_left_h, struct problem *ret_problem) MUST_CHECK;

/** What the cold leaves of a capacity, between the rows of IEEE 485; warmth adds nothing. Fails BAD_VALUE outside
 *  -3.9 to 43.3 degrees, where the table ends. */
outcome power_cold_ratio(double temperature_c, double *ret_left_ratio, struct problem *ret_problem)
        MUST_CHECK;

/** The next listed size that holds so much, or 0 when none does. Sizes: common 12 V lead batteries (common
 *  practice). */
double power_next_size_ah(double need_ah);

/** The current that fills a share of a battery within so many hours, 1.2 times what goes in (common practice).
 *  hours_h: over 0. */
double power_recharge_a(double capacity_ah, double share_ratio, double hours_h);

#endif
