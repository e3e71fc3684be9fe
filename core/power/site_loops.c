#include "power/site_loops.h"

#include "base/quantity.h"
#include "power/wire.h"

static const double TOLERANCE_RATIO = 0.05;
static const double CONTACTS_OHM = 10;
static const double LOOP_V = 5;
static const double PULL_UP_OHM = 4700;
static const double PULL_UP_TOLERANCE_RATIO = 0.01;
static const double ROOM_C = 20;

static const enum power_wiring wirings[SITE_WIRING_COUNT] = {
        [SITE_WIRING_UNSAID] = POWER_LOOP_PLAIN,
        [SITE_WIRING_PLAIN] = POWER_LOOP_PLAIN,
        [SITE_WIRING_SINGLE] = POWER_LOOP_SINGLE_CLOSED,
        [SITE_WIRING_SINGLE_OPEN] = POWER_LOOP_SINGLE_OPEN,
        [SITE_WIRING_DOUBLE] = POWER_LOOP_DOUBLE,
        [SITE_WIRING_TRIPLE] = POWER_LOOP_TRIPLE,
};

static double or_else(struct measure said, double usual) {
    return said.said ? (double)said.low / MEASURE_UNIT : usual;
}

/* The wires of the runs of cable that lead to its device, there and back. */
static outcome wires_of(
        const struct site *site, int device, double *ret_ohm, struct problem *ret_problem) {
    *ret_ohm = 0;
    for (size_t steps = 0; device != SITE_NONE && steps < SITE_CABLE_MAX; steps++) {
        const struct site_cable *run = NULL;
        for (size_t i = 0; i < site->cable_count; i++) {
            run = site->cables[i].to == device ? &site->cables[i] : run;
        }
        if (run == NULL) {
            break;
        }
        double section_mm2 = 0;
        double ohm_m = 0;
        TRY(power_gauge_read(run->gauge, &section_mm2, ret_problem));
        TRY(power_wire_ohm_m(section_mm2, ROOM_C, POWER_SOLID, &ohm_m, ret_problem));
        *ret_ohm += 2 * ohm_m * run->length_mm / 1000;
        device = run->from;
    }
    return outcome_good();
}

static void find_closest(struct power_site_loop *loop) {
    loop->least_gap_v = 2 * loop->loop.supply_v;
    for (enum power_loop_state one = 0; one < POWER_STATE_COUNT; one++) {
        for (enum power_loop_state other = one + 1; other < POWER_STATE_COUNT; other++) {
            const struct power_window *windows = loop->windows;
            if (!windows[one].there || !windows[other].there) {
                continue;
            }
            const double gap_v = power_window_gap_v(&windows[one], &windows[other]);
            if (gap_v < loop->least_gap_v) {
                loop->least_gap_v = gap_v;
                loop->one = one;
                loop->other = other;
            }
        }
    }
}

outcome power_site_loop(const struct site *site, size_t zone, struct power_site_loop *ret_loop,
        bool *ret_there, struct problem *ret_problem) {
    const struct site_zone *it = &site->zones[zone];
    const struct site_device_profile *profile = site_zone_profile(site, it);
    struct power_site_loop loop = {.one = POWER_STATE_SHORT, .other = POWER_STATE_SHORT};
    double wires_ohm = 0;
    *ret_there = profile != NULL && !profile->radio && it->wiring != SITE_WIRING_UNSAID &&
            (it->wiring == SITE_WIRING_PLAIN || it->end_ohm.said);
    if (!*ret_there) {
        return outcome_good();
    }
    TRY(wires_of(site, it->device, &wires_ohm, ret_problem));
    const double end_ohm = or_else(it->end_ohm, 0);
    loop.loop = (struct power_loop){.wiring = wirings[it->wiring],
            .end_ohm = end_ohm,
            .alarm_ohm = or_else(it->alarm_ohm, end_ohm),
            .mask_ohm = or_else(it->mask_ohm, end_ohm),
            .tolerance_ratio = TOLERANCE_RATIO,
            .wire_ohm = wires_ohm + CONTACTS_OHM,
            .supply_v = or_else(site->panel.loop_volts, LOOP_V),
            .pull_up_ohm = or_else(site->panel.pull_up, PULL_UP_OHM),
            .pull_up_tolerance_ratio = PULL_UP_TOLERANCE_RATIO};
    TRY(power_loop_windows(&loop.loop, loop.windows, ret_problem));
    find_closest(&loop);
    *ret_loop = loop;
    return outcome_good();
}
