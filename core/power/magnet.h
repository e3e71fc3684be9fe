/* Magnet and reed: the field of a magnet at a gap, and at which gap a reed closes and opens.
 *
 * Sources: field of a cylinder and of a block on the axis, textbook magnetostatics, held against published figures.
 * Reeds are not standardised in field strength, and where a field works on them is not one point: gaps are a band
 * of 30 % either way (common practice). Not for magnets beside the axis, nor for several. */
#ifndef LINTEL_POWER_MAGNET_H
#define LINTEL_POWER_MAGNET_H

#include "base/problem.h"

/** A magnet, magnetised along its length. diameter_m: of a cylinder; 0: a block of width_m by height_m.
 *  remanence_t: 0.05 to 1.6. Lengths over 0 to 0.5 m. */
struct power_magnet {
    double remanence_t;
    double length_m;
    double diameter_m;
    double width_m;
    double height_m;
};

/** Field on the axis, tesla. gap_m: from the face, 0 to 1. Fails BAD_VALUE. */
outcome power_magnet_field_t(const struct power_magnet *magnet, double gap_m, double *ret_field_t,
        struct problem *ret_problem) MUST_CHECK;

/** The gap at which the field on the axis has fallen to this; 0 where it is weaker than that at the face already.
 *  field_t: over 0. Fails BAD_VALUE. */
outcome power_magnet_gap_m(const struct power_magnet *magnet, double field_t, double *ret_gap_m,
        struct problem *ret_problem) MUST_CHECK;

#endif
