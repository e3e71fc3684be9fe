/* What walls are made of, as radio sees it: permittivity and conductivity of building materials by frequency.
 * Source: Rec. ITU-R P.2040, table 3, two editions of it; the table is data/radio/materials.tsv. Not for ground. */
#ifndef LINTEL_RADIO_MATERIAL_H
#define LINTEL_RADIO_MATERIAL_H

#include "base/problem.h"
#include "base/text.h"

#include <stdbool.h>
#include <stddef.h>

/** A row of the table. edition: year of the Recommendation. from_ghz, to_ghz: where it was measured. a to d: relative
 *  permittivity a f^b, conductivity c f^d in S/m, f in GHz. heavy: counts as a heavy wall where it is thick. */
struct radio_material {
    const char *name;
    int edition;
    double from_ghz;
    double to_ghz;
    double a;
    double b;
    double c;
    double d;
    bool heavy;
    const char *source;
    const char *certainty;
};

/** What a material is at one frequency. extrapolated: it was not measured there. */
struct radio_substance {
    double permittivity; /* relative to vacuum, 1 or more */
    double conductivity_s_m;
    bool extrapolated;
};

enum {
    RADIO_EDITION_NEWEST = 2021,
    RADIO_FREQUENCY_LEAST_HZ = 30000000, /* 30 MHz */
};
extern const double RADIO_FREQUENCY_MOST_HZ; /* 100 GHz: the end of the table */

/** Fails BAD_VALUE outside of what the table holds, and for what is no number. */
outcome radio_check_frequency(double frequency_hz, struct problem *ret_problem) MUST_CHECK;

size_t radio_material_count(void);
const struct radio_material *radio_material_at(size_t index);

/** The material of this name in this edition. Fails MISSING; the text names the nearest, or lists what there is. */
outcome radio_material_find(struct text name, int edition,
        const struct radio_material **ret_material, struct problem *ret_problem) MUST_CHECK;

/** frequency_hz: RADIO_FREQUENCY_LEAST_HZ to RADIO_FREQUENCY_MOST_HZ (asserted). */
struct radio_substance radio_material_in(
        const struct radio_material *material, double frequency_hz);

#endif
