/* The loops of a site's wired zones: what the panel sees in each state, and which two it may take for each other. */
#ifndef LINTEL_POWER_SITE_LOOPS_H
#define LINTEL_POWER_SITE_LOOPS_H

#include "power/loop.h"
#include "site/site.h"

/** Assumed of a loop where nobody says otherwise: resistors of 5 %, 10 ohm of contacts and joints, the panel measures
 *  from 5 V through 4.7 kohm of 1 %. Common practice. least_gap_v: volts between the two states that are closest,
 *  `one` and `other`; below 0 they overlap. */
struct power_site_loop {
    struct power_loop loop;
    struct power_window windows[POWER_STATE_COUNT];
    double least_gap_v;
    enum power_loop_state one;
    enum power_loop_state other;
};

/** ret_there: the zone is wired, and its wiring and resistor are said; else ret_loop is untouched. Fails as
 *  power_loop_windows and power_gauge_read. */
outcome power_site_loop(const struct site *site, size_t zone, struct power_site_loop *ret_loop,
        bool *ret_there, struct problem *ret_problem) MUST_CHECK;

#endif
