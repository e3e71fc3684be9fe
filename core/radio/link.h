/* Whether a message arrives: free space and walls, a receiver's floor, and from a margin to a probability.
 *
 * Sources: Rec. ITU-R P.525 (free space); COST 231 final report, chapter 4 (what walls cost in measured houses, at
 * 1800 MHz); log-normal shadowing and Rayleigh fading: textbook. */
#ifndef LINTEL_RADIO_LINK_H
#define LINTEL_RADIO_LINK_H

#include "base/problem.h"

#include <stdbool.h>

/** 20 log10(4 pi d / lambda). distance_m: one wavelength to 100 km; frequency_hz as for materials. Fails BAD_VALUE:
 *  the sum is of the far field, closer in it means nothing. */
outcome radio_free_space_db(double distance_m, double frequency_hz, double *ret_loss_db,
        struct problem *ret_problem) MUST_CHECK;

/** Thermal noise at 290 K over a bandwidth plus what the receiver adds, dBm. bandwidth_hz: over 0. */
double radio_noise_floor_dbm(double bandwidth_hz, double noise_figure_db);

/** What a wall costs in houses that were measured, light (plasterboard, particle board, thin) or heavy: for the far
 *  end of a from-to, as endless plain layers know no studs, wires and furniture. Source: COST 231, chapter 4, at
 *  1800 MHz; below 1 GHz it overstates. */
double radio_wall_measured_db(bool heavy);

/** What a floor costs in offices that were measured at 900 MHz. Source: Rec. ITU-R P.1238, editions up to 9. */
extern const double RADIO_FLOOR_MEASURED_DB;

/** Chance that the margin is not eaten by what the map does not show (furniture, hidden metal): over places, not over
 *  messages, as a sensor that hangs keeps its luck. margin_db: any; spread_db: over 0, one standard deviation. */
double radio_reaches_ratio(double margin_db, double spread_db);

/** Chance that one message arrives, Rayleigh fading about each place's level averaged over the places (Suzuki).
 *  spread_db: 0 and more; 0: the level is known. */
double radio_arrives_ratio(double margin_db, double spread_db);

/** The margin with which a share of the places is reached. ratio: over 0 and under 1. */
double radio_margin_for_db(double ratio, double spread_db);

#endif
