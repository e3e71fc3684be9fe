/* Zone loops with end-of-line resistors: what resistance and what voltage the panel sees in each state, from-to,
 * and whether two states can ever be taken for each other.
 *
 * panel --- wire ---+--- contact (closed: normal) --- R1 (end) ---+--- wire --- panel single, normally closed |
 * contact across R1 | single, normally open | contact across R2, in series with R1 | double | and a second contact
 * across R3 | triple
 *
 * Sources: Ohm and Kirchhoff; the wirings are common practice. Held against ngspice on random loops. */
#ifndef LINTEL_POWER_LOOP_H
#define LINTEL_POWER_LOOP_H

#include "base/problem.h"

#include <stdbool.h>
#include <stddef.h>

enum power_wiring {
    POWER_LOOP_PLAIN,         /* no resistor, contact normally closed */
    POWER_LOOP_SINGLE_CLOSED, /* R1 in series with a contact that opens */
    POWER_LOOP_SINGLE_OPEN,   /* R1 across a contact that closes */
    POWER_LOOP_DOUBLE,        /* R1 at the end, R2 across the contact */
    POWER_LOOP_TRIPLE,        /* and R3 across a second contact */
    POWER_WIRING_COUNT
};

enum power_loop_state {
    POWER_STATE_SHORT,
    POWER_STATE_NORMAL,
    POWER_STATE_ALARM,
    POWER_STATE_MASKED,
    POWER_STATE_MASKED_ALARM,
    POWER_STATE_OPEN,
    POWER_STATE_COUNT
};

/** A loop. end_ohm, alarm_ohm, mask_ohm: R1, R2, R3; those that the wiring has are over 0. tolerance_ratio: of
 *  each, 0 .. 0.5. wire_ohm: most that wires and contacts add. leak_ohm: least insulation between the wires, at the
 *  panel; 0: none. supply_v and pull_up_ohm: what the panel measures through, over 0; pull_up_tolerance_ratio: 0 ..
 *  0.5. */
struct power_loop {
    enum power_wiring wiring;
    double end_ohm;
    double alarm_ohm;
    double mask_ohm;
    double tolerance_ratio;
    double wire_ohm;
    double leak_ohm;
    double supply_v;
    double pull_up_ohm;
    double pull_up_tolerance_ratio;
};

/** What the panel sees in a state. there: the wiring has this state of its own. endless: nothing limits the
 *  resistance; high_ohm is 0 then. */
struct power_window {
    bool there;
    bool endless;
    double low_ohm;
    double high_ohm;
    double low_v;
    double high_v;
};

const char *power_state_name(enum power_loop_state state);

/** Windows of all states. ret_windows: gives, POWER_STATE_COUNT of them. Fails BAD_VALUE; the text names the value. */
outcome power_loop_windows(const struct power_loop *loop, struct power_window *ret_windows,
        struct problem *ret_problem) MUST_CHECK;

/** Volts between two states' windows, below 0 where they overlap: the panel cannot tell them apart for sure. */
double power_window_gap_v(const struct power_window *a, const struct power_window *b);

#endif
