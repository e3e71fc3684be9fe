#include "radio/bands.h"

#include <stddef.h>

static const struct radio_band bands[] = {
#define ROW(name, from_mhz, to_mhz, seconds_h, says, source, certainty)                            \
    {name, from_mhz, to_mhz, seconds_h, says, source, certainty},
#include "radio/bands.inc"
#undef ROW
};

const struct radio_band *radio_band_of(double mhz) {
    const struct radio_band *most = NULL;
    for (size_t i = 0; i < sizeof bands / sizeof bands[0]; i++) {
        if (mhz >= bands[i].from_mhz && mhz <= bands[i].to_mhz &&
                (most == NULL || bands[i].seconds_h > most->seconds_h)) {
            most = &bands[i];
        }
    }
    return most;
}
