/* Walls as words: "plasterboard:12.5mm", "sheet:4ohm", and several layers between commas. Internal to core/sums. */
#ifndef LINTEL_SUMS_WALLS_H
#define LINTEL_SUMS_WALLS_H

#include "radio/wall.h"
#include "sums/parts.h"

/** A wall as it was written. materials: of each layer; NULL of a sheet. heavy: 100 mm and more of masonry or concrete
 *  in all. conducts: a sheet or metal is among them. */
struct sums_wall {
    struct text written;
    struct radio_layer layers[RADIO_LAYERS_MOST];
    const struct radio_material *materials[RADIO_LAYERS_MOST];
    size_t count;
    double thickness_m;
    bool heavy;
    bool conducts;
};

/** Adds one layer. edition: year of the table. Fails UNREADABLE, MISSING, LIMIT; the text quotes the layer. */
outcome sums_wall_add(struct sums_wall *wall, struct text word, int edition, double frequency_hz,
        struct problem *ret_problem) MUST_CHECK;

/** Reads layers between commas. Fails as sums_wall_add. */
outcome sums_wall_read(struct text written, int edition, double frequency_hz,
        struct sums_wall *ret_wall, struct problem *ret_problem) MUST_CHECK;

/** Notes what of a wall's figures is extrapolated, or an outlier. */
void sums_wall_note(struct sums_answer *answer, const struct sums_wall *wall);

/** Adds each layer's substance and thickness to the list "layers", with the formulas. */
void sums_wall_add_layers(
        struct sums_answer *answer, const struct sums_wall *wall, double frequency_hz);

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
