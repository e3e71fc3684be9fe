/* What sums say of walls, and the options that they share. Internal to core/sums. */
#ifndef LINTEL_SUMS_WALLS_H
#define LINTEL_SUMS_WALLS_H

#include "radio/wall.h"
#include "radio/written.h"
#include "sums/parts.h"

/** Notes what of a wall's figures is extrapolated, or an outlier. */
void sums_wall_note(struct sums_answer *answer, const struct radio_written *wall);

/** Adds each layer's substance and thickness to the list "layers", with the formulas. */
void sums_wall_add_layers(
        struct sums_answer *answer, const struct radio_written *wall, double frequency_hz);

/* Options that several sums share; a table wants them written out where it stands. */
#define SUMS_OPTION_MHZ                                                                            \
    {                                                                                              \
        .name = "mhz", .takes = SUMS_QUANTITY, .kind = QUANTITY_FREQUENCY_MHZ, .bare_unit = "MHz", \
        .low = 30, .high = 100000, .shown = "MHZ", .help = "frequency in MHz, such as 433.92"      \
    }
#define SUMS_OPTION_ANGLE                                                                          \
    {                                                                                              \
        .name = "angle", .takes = SUMS_QUANTITY, .kind = QUANTITY_ANGLE_DEG, .bare_unit = "deg",   \
        .low = 0, .high = RADIO_ANGLE_MOST_DEG, .usual = "0", .shown = "DEG",                      \
        .help = "how slantwise it goes through; 0 is straight"                                     \
    }
#define SUMS_OPTION_EDITION                                                                        \
    {                                                                                              \
        .name = "edition", .takes = SUMS_WORD, .choices = "2021 2015", .usual = "2021",            \
        .shown = "YEAR", .help = "edition of Rec. ITU-R P.2040, 2021 or 2015"                      \
    }

/** The year of the edition that was asked for. */
int sums_edition(const struct sums_value *value);

#endif
