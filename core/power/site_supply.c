#include "power/site_supply.h"

#include "base/quantity.h"

#include <math.h>

const double POWER_RATED_H = 20;
const double POWER_PEUKERT = 1.15;

outcome power_carries(const struct power_load *load, double size_ah, double left_ratio,
        double peukert, double *ret_used_ratio, struct problem *ret_problem) {
    const struct power_battery battery = {size_ah, POWER_RATED_H, peukert, left_ratio};
    return power_used_ratio(&battery, load, ret_used_ratio, ret_problem);
}

outcome power_find_size(const struct power_load *load, double required_ah, double left_ratio,
        double peukert, double *ret_size_ah, struct problem *ret_problem) {
    double size_ah = power_next_size_ah(required_ah);
    while (size_ah > 0) {
        double used_ratio = 0;
        TRY(power_carries(load, size_ah, left_ratio, peukert, &used_ratio, ret_problem));
        if (used_ratio <= 1) {
            break;
        }
        size_ah = power_next_size_ah(size_ah * 1.001);
    }
    *ret_size_ah = size_ah;
    return outcome_good();
}

struct power_drawn power_site_drawn(const struct site *site) {
    struct power_drawn drawn = {.panel_silent = !site->panel.current.said};
    for (size_t i = 0; i < site->device_count; i++) {
        const int index = site->devices[i].profile;
        const struct site_device_profile *profile =
                index == SITE_NONE ? NULL : &site->device_profiles[index];
        if (profile == NULL || profile->radio) {
            continue;
        }
        drawn.silent += !profile->current.said;
        drawn.devices_rest += profile->current.low;
        drawn.devices_alarm += profile->current.high;
    }
    drawn.rest = drawn.devices_rest + site->panel.current.low;
    drawn.alarm = drawn.devices_alarm + site->panel.current.high;
    return drawn;
}

/* What the cold of the panel's place leaves of its battery. */
static outcome find_left(
        const struct site *site, double *ret_left_ratio, struct problem *ret_problem) {
    static const double ROOM_C = 25; /* at which capacities are printed */
    const double coldest_c =
            site->supply.at.said ? (double)site->supply.at.low / MEASURE_UNIT : ROOM_C;
    return power_cold_ratio(coldest_c, ret_left_ratio, ret_problem);
}

outcome power_site_standing(const struct site *site, const struct power_rule *rule,
        struct power_standing *ret_standing, struct problem *ret_problem) {
    const struct power_drawn drawn = power_site_drawn(site);
    const double to_a = 1e-3 / MEASURE_UNIT;
    double left_ratio = 1;
    struct power_standing standing = {.rule = rule,
            .load = {.standby_a = (double)drawn.rest * to_a,
                    .standby_h = rule->standby_h,
                    .alarm_a = (double)drawn.alarm * to_a,
                    .alarm_h = rule->alarm_min / 60},
            .fitted_ah = (double)site->supply.battery.low / 1000 / MEASURE_UNIT};
    TRY(find_left(site, &left_ratio, ret_problem));
    TRY(power_need_ah(&standing.load, &standing.need_ah, ret_problem));
    standing.required_ah = standing.need_ah * (1 + rule->margin_percent / 100) / left_ratio;
    TRY(power_find_size(&standing.load, standing.required_ah, left_ratio, POWER_PEUKERT,
            &standing.size_ah, ret_problem));
    TRY(power_carries(&standing.load, standing.fitted_ah, left_ratio, POWER_PEUKERT,
            &standing.used_ratio, ret_problem));
    if (rule->recharge_h > 0) {
        standing.recharge_a = power_recharge_a(
                standing.fitted_ah, rule->recharge_percent / 100, rule->recharge_h);
    }
    *ret_standing = standing;
    return outcome_good();
}

/* Both of what power_site_standing asks for, each solved for the hours at rest: the charge with its margin, and
 * Peukert's shares. */
outcome power_site_lasts_h(const struct site *site, const struct power_rule *rule,
        double *ret_lasts_h, struct problem *ret_problem) {
    struct power_standing it;
    double left_ratio = 1;
    double rest_h = 0;
    double alarm_h = 0;
    TRY(power_site_standing(site, rule, &it, ret_problem));
    TRY(find_left(site, &left_ratio, ret_problem));
    const struct power_battery battery = {it.fitted_ah, POWER_RATED_H, POWER_PEUKERT, left_ratio};
    TRY(power_lasts_h(&battery, it.load.standby_a, &rest_h, ret_problem));
    if (it.load.alarm_a * it.load.alarm_h > 0) {
        TRY(power_lasts_h(&battery, it.load.alarm_a, &alarm_h, ret_problem));
        rest_h *= 1 - it.load.alarm_h / alarm_h;
    }
    const double charge_ah = it.fitted_ah * left_ratio / (1 + rule->margin_percent / 100);
    const double charge_h = (charge_ah - it.load.alarm_a * it.load.alarm_h) / it.load.standby_a;
    *ret_lasts_h = fmax(0, fmin(rest_h, charge_h));
    return outcome_good();
}

size_t power_bare_keypads(const struct site *site) {
    size_t bare = 0;
    for (size_t i = 0; i < site->keypad_count; i++) {
        bool device = false;
        for (size_t k = 0; k < site->device_count; k++) {
            device = device || site->devices[k].keypad == (int)i;
        }
        bare += !device;
    }
    return bare;
}
