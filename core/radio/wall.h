/* What a layered wall does to radio: how much passes, is thrown back, stays. Endless flat layers with air on both
 * sides, a plane wave at an angle, either polarisation.
 *
 * Source: Rec. ITU-R P.2040, section 2.2.2 and attachment 1 (chain matrices of layers). A layer without thickness
 * but with a resistance per square (foil, the coating of a pane) is a shunt across the wave: textbook.
 *
 * Not for what goes round a wall: through a door, past a window, along a duct. Of metal the sum gives thousands of
 * dB; what arrives in truth has come another way. Above RADIO_OPAQUE_DB a wall is called opaque, and that figure is
 * used. */
#ifndef LINTEL_RADIO_WALL_H
#define LINTEL_RADIO_WALL_H

#include "radio/material.h"

enum {
    RADIO_LAYERS_MOST = 16,
    RADIO_OPAQUE_DB = 40, /* our choice: more never counts, as the wave finds another way */
    RADIO_ANGLE_MOST_DEG = 89,
};

/** A layer. thickness_m: over 0 to 10, or 0 for a sheet. sheet_ohm: resistance per square of a sheet, over 0; else
 *  0. */
struct radio_layer {
    struct radio_substance substance;
    double thickness_m;
    double sheet_ohm;
};

/** TE: the electric field runs along the wall; TM: the magnetic field does. */
enum radio_polarisation { RADIO_TE, RADIO_TM, RADIO_POLARISATION_COUNT };

/** What becomes of the power that comes at a wall: three shares with the sum 1. loss_db: -10 log10 of what passes,
 *  exact also where `passes` is too small for a double. */
struct radio_pass {
    double loss_db;
    double passes_ratio;
    double back_ratio;
    double stays_ratio;
};

/** One polarisation. layers: borrows, 1 .. RADIO_LAYERS_MOST, in the order in which the wave meets them. angle_deg:
 *  from the normal, 0 .. RADIO_ANGLE_MOST_DEG. Fails BAD_VALUE; the text names what is out of its range and says
 *  what to write. */
outcome radio_wall(const struct radio_layer *layers, size_t count, double frequency_hz,
        double angle_deg, enum radio_polarisation polarisation, struct radio_pass *ret_pass,
        struct problem *ret_problem) MUST_CHECK;

/** The mean power of both polarisations: indoors nobody knows which one arrives. Arguments as radio_wall. */
outcome radio_wall_mean(const struct radio_layer *layers, size_t count, double frequency_hz,
        double angle_deg, struct radio_pass *ret_pass, struct problem *ret_problem) MUST_CHECK;

/** What of a loss counts in a link: at most RADIO_OPAQUE_DB. */
double radio_wall_counted_db(double loss_db);

/** Attenuation of a wave in a material without borders, dB a metre. Source: P.2040, section 2.1.2. */
double radio_bulk_db_m(struct radio_substance substance, double frequency_hz);

#endif
