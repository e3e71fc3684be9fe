/* Walls as words: "plasterboard:12.5mm", "sheet:4ohm", and several layers between commas. */
#ifndef LINTEL_RADIO_WRITTEN_H
#define LINTEL_RADIO_WRITTEN_H

#include "radio/wall.h"

/** A wall as it was written. materials: of each layer; NULL of a sheet. heavy: 100 mm and more of masonry or concrete
 *  in all. conducts: a sheet or metal is among them. */
struct radio_written {
    struct text written;
    struct radio_layer layers[RADIO_LAYERS_MOST];
    const struct radio_material *materials[RADIO_LAYERS_MOST];
    size_t count;
    double thickness_m;
    bool heavy;
    bool conducts;
};

/** Adds one layer. edition: year of the table. Fails UNREADABLE, MISSING, LIMIT; the text quotes the layer. */
outcome radio_written_add(struct radio_written *wall, struct text word, int edition,
        double frequency_hz, struct problem *ret_problem) MUST_CHECK;

/** Reads layers between commas. Fails as radio_written_add. */
outcome radio_written_read(struct text written, int edition, double frequency_hz,
        struct radio_written *ret_wall, struct problem *ret_problem) MUST_CHECK;

#endif
