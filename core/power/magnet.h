/* Magnet and reed: the field of a magnet at a gap and beside it, and where a reed closes and opens.
 *
 * Sources: field of a cylinder and of a block on the axis, and of both pole faces beside it (each gives Br/4pi times
 * the angle under which it is seen), textbook magnetostatics, held against published figures and the dipole far away.
 * Reeds are not standardised in field strength, and where a field works on them is not one point: distances are a band
 * of 30 % either way (common practice). A reed lies along the magnet's axis; not for several magnets. */
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

/** The part of the field that lies along the axis, tesla, offset_m to the side of it (of a block along its width), 0 to
 *  1; gap_m: in front of the face, 0 to 1. Negative beyond where it turns round. Fails BAD_VALUE. */
outcome power_magnet_beside_t(const struct power_magnet *magnet, double gap_m, double offset_m,
        double *ret_field_t, struct problem *ret_problem) MUST_CHECK;

/** How far to the side of the axis, at this gap, that part has first fallen to field_t (over 0); 0 where it is weaker
 *  on the axis already. Fails BAD_VALUE. */
outcome power_magnet_side_m(const struct power_magnet *magnet, double gap_m, double field_t,
        double *ret_offset_m, struct problem *ret_problem) MUST_CHECK;

#endif
