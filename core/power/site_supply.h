/* The panel's own supply in a site: what the panel and all it feeds draw, by their profiles, whether the battery that
 * is in it carries them through the time without mains of a rule set, and how soon it is full again. */
#ifndef LINTEL_POWER_SITE_SUPPLY_H
#define LINTEL_POWER_SITE_SUPPLY_H

#include "power/battery.h"
#include "power/standby.h"
#include "site/site.h"

/** What is drawn, thousandths of a milliampere: of the panel and of the devices. silent: wired devices whose profile
 *  says no current; panel_silent: the panel's does not. */
struct power_drawn {
    int64_t rest;
    int64_t alarm;
    int64_t devices_rest;
    int64_t devices_alarm;
    size_t silent;
    bool panel_silent;
};

/** Assumed of a lead battery where nobody says otherwise: its rated hours and Peukert's exponent (common practice). */
extern const double POWER_RATED_H;
extern const double POWER_PEUKERT;

/** The time without mains by one rule. need_ah: charge; required_ah: with the margin, in the cold of the panel's place;
 *  size_ah: the next listed size that does, 0: none. fitted_ah: what is in it; used_ratio: of that, 1 and less lives.
 *  recharge_a: to be full again in time, 0: the rule does not say. */
struct power_standing {
    const struct power_rule *rule;
    struct power_load load;
    double need_ah;
    double required_ah;
    double size_ah;
    double fitted_ah;
    double used_ratio;
    double recharge_a;
};

/** Whether a battery of a size carries a load that requires so much charge: Peukert's sum as well. */
outcome power_carries(const struct power_load *load, double size_ah, double left_ratio,
        double peukert, double *ret_used_ratio, struct problem *ret_problem) MUST_CHECK;

/** The smallest listed size that holds required_ah and is not used up by the load; 0: none. */
outcome power_find_size(const struct power_load *load, double required_ah, double left_ratio,
        double peukert, double *ret_size_ah, struct problem *ret_problem) MUST_CHECK;

struct power_drawn power_site_drawn(const struct site *site);

/** How many keypads are no device of the file, and so have no profile that says what they draw. */
size_t power_bare_keypads(const struct site *site);

/** The battery of the site must be said. Fails as power_need_ah, power_cold_ratio, power_used_ratio. */
outcome power_site_standing(const struct site *site, const struct power_rule *rule,
        struct power_standing *ret_standing, struct problem *ret_problem) MUST_CHECK;

/** How many hours the battery of the site gives what is drawn at rest, so that the rule's alarm, its margin and the
 *  cold still have theirs; 0: not even the alarm has. Something must be drawn at rest. Fails as power_site_standing. */
outcome power_site_lasts_h(const struct site *site, const struct power_rule *rule,
        double *ret_lasts_h, struct problem *ret_problem) MUST_CHECK;

#endif
