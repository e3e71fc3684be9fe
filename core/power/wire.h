/* Wires: resistance of copper by gauge, length and temperature, volts lost on the way, the longest run, and a
 * branching cable tree. Gauges are American (AWG) or metric (square millimetres, or a diameter).
 *
 * Sources: diameter by gauge, ASTM B258; copper of 100 % IACS, 1.7241e-8 ohm m at 20 C, 0.00393 per C, IEC 60028;
 * all from memory, held against the copper table in the test. Not for mains wiring: that is an electrician's, by
 * the local code. */
#ifndef LINTEL_POWER_WIRE_H
#define LINTEL_POWER_WIRE_H

#include "base/problem.h"
#include "base/text.h"

enum { POWER_TREE_MOST = 64 };

/** What a conductor is made of. stranded: 2 % more than solid; clad: copper-clad aluminium, 1.5 to 1.6 times copper
 *  (common practice). */
enum power_conductor { POWER_SOLID, POWER_STRANDED, POWER_CLAD, POWER_CONDUCTOR_COUNT };

/** Reads "22awg", "0.5mm2" or "0.6mm" (a diameter) as a cross-section in mm2. AWG 0 to 40; 0.01 to 200 mm2. Fails
 *  UNREADABLE or BAD_VALUE; the text says what to write. */
outcome power_gauge_read(struct text source, double *ret_section_mm2, struct problem *ret_problem)
        MUST_CHECK;

/** Ohms of one metre of one conductor, the worst of its kind. section_mm2: over 0. temperature_c: -60 to 120. Fails
 *  BAD_VALUE. */
outcome power_wire_ohm_m(double section_mm2, double temperature_c, enum power_conductor conductor,
        double *ret_ohm_m, struct problem *ret_problem) MUST_CHECK;

/** A run of cable from one place to the next, and what is drawn at its far end. from: index of the place it starts at,
 *  POWER_SUPPLY for the supply. ohm: of both conductors together. */
enum { POWER_SUPPLY = -1 };
struct power_run {
    int from;
    double ohm;
    double load_a;
};

/** What arrives. current_a: through the run; volts: at its far end, below 0 where the wire cannot carry the load. */
struct power_place {
    double current_a;
    double volts;
};

/** Loads draw their current whatever the voltage. runs: borrows, count 1 .. POWER_TREE_MOST, in any order.
 *  ret_places: gives, room for count. Fails BAD_VALUE (a number out of its range, a place that hangs on itself) or
 *  LIMIT. Source: Kirchhoff. */
outcome power_tree(const struct power_run *runs, size_t count, double supply_v,
        struct power_place *ret_places, struct problem *ret_problem) MUST_CHECK;

#endif
