/* How long one sender may be on the air in an hour, by band. Rows are data (data/radio/bands.tsv), each with its
 * source. National rules differ: a figure "consistent with" a row certifies nothing. */
#ifndef LINTEL_RADIO_BANDS_H
#define LINTEL_RADIO_BANDS_H

/** A row. seconds_h: of any hour; 0: no limit. certainty: "memory" is unverified. */
struct radio_band {
    const char *name;
    double from_mhz;
    double to_mhz;
    double seconds_h;
    const char *says;
    const char *source;
    const char *certainty;
};

/** The band that holds a frequency; of two that meet there the one that allows more. NULL: none of the table. */
const struct radio_band *radio_band_of(double mhz);

#endif
