#include "power/site_cables.h"

#include "base/quantity.h"

#include <math.h>
#include <stdio.h>

/* How warm copper gets in a house. House practice. */
static const double WARM_C = 30;

static int run_to(const struct site *site, int device) {
    for (size_t i = 0; i < site->cable_count; i++) {
        if (site->cables[i].to == device) {
            return (int)i;
        }
    }
    return SITE_NONE;
}

static const struct site_device_profile *profile_of(const struct site *site, int device) {
    const int profile = site->devices[device].profile;
    return profile == SITE_NONE ? NULL : &site->device_profiles[profile];
}

static outcome ohm_of(const struct site_cable *cable, double section_mm2, double *ret_ohm,
        struct problem *ret_problem) {
    static const enum power_conductor conductors[SITE_CONDUCTOR_COUNT] = {
            [SITE_CONDUCTOR_SOLID] = POWER_SOLID,
            [SITE_CONDUCTOR_STRANDED] = POWER_STRANDED,
            [SITE_CONDUCTOR_CLAD] = POWER_CLAD,
    };
    double ohm_m = 0;
    TRY(power_wire_ohm_m(section_mm2, WARM_C, conductors[cable->conductor], &ohm_m, ret_problem));
    *ret_ohm = 2 * ohm_m * cable->length_mm / 1000;
    return outcome_good();
}

static outcome make_run(
        const struct site *site, size_t index, struct power_run *run, struct problem *ret_problem) {
    const struct site_cable *cable = &site->cables[index];
    const struct site_device_profile *profile = profile_of(site, cable->to);
    struct problem problem = {0};
    double section_mm2 = 0;
    char place[40];
    (void)snprintf(place, sizeof place, "cables[%zu]", index);
    if (run_to(site, cable->to) != (int)index) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, place, "two cables feed this device; name one");
    }
    run->from = cable->from == SITE_NONE ? POWER_SUPPLY : run_to(site, cable->from);
    if (cable->from != SITE_NONE && run->from == SITE_NONE) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, place,
                "it begins at a device that no cable feeds; write that cable as well");
    }
    if (!power_gauge_read(cable->gauge, &section_mm2, &problem).good ||
            !ohm_of(cable, section_mm2, &run->ohm, &problem).good) {
        FAIL(ret_problem, problem.kind, place, "%s", problem.text);
    }
    run->load_a = profile == NULL ? 0 : (double)profile->current.high / 1000 / MEASURE_UNIT;
    return outcome_good();
}

static outcome solve(const struct power_run *runs, size_t count, double supply_v,
        struct power_place *places, struct problem *ret_problem) {
    struct problem problem = {0};
    if (!power_tree(runs, count, supply_v, places, &problem).good) {
        FAIL(ret_problem, problem.kind, "cables", "%s", problem.text);
    }
    return outcome_good();
}

outcome power_site_cables(
        const struct site *site, struct power_site_cable *ret_cables, struct problem *ret_problem) {
    struct power_run runs[POWER_TREE_MOST] = {0};
    struct power_place places[POWER_TREE_MOST] = {0};
    const double low_v = (double)site->panel.volts.low / MEASURE_UNIT;
    const double high_v = (double)site->panel.volts.high / MEASURE_UNIT;
    for (size_t i = 0; i < site->cable_count; i++) {
        TRY(make_run(site, i, &runs[i], ret_problem));
    }
    TRY(solve(runs, site->cable_count, low_v, places, ret_problem));
    for (size_t i = 0; i < site->cable_count; i++) {
        const struct site_device_profile *profile = profile_of(site, site->cables[i].to);
        struct power_site_cable *cable = &ret_cables[i];
        *cable = (struct power_site_cable){.current_a = places[i].current_a,
                .ohm = runs[i].ohm,
                .lost_v = low_v - places[i].volts,
                .low_v = places[i].volts};
        cable->high_v = fmax(0, high_v - cable->lost_v);
        cable->needs_v = profile == NULL ? 0 : (double)profile->needs_volts.low / MEASURE_UNIT;
        cable->low_v = fmax(0, cable->low_v);
    }
    return outcome_good();
}
