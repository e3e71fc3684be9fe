/* Options that the sums on wires share. Internal to core/sums. */
#ifndef LINTEL_SUMS_GAUGES_H
#define LINTEL_SUMS_GAUGES_H

#include "power/wire.h"
#include "sums/parts.h"

#define SUMS_OPTION_TEMPERATURE                                                                    \
    {                                                                                              \
        .name = "temperature", .takes = SUMS_QUANTITY, .kind = QUANTITY_TEMPERATURE_C,             \
        .bare_unit = "C", .low = -60, .high = 120, .usual = "20 C", .shown = "TEMP",               \
        .help = "the hottest the wire gets"                                                        \
    }
#define SUMS_OPTION_CONDUCTOR                                                                      \
    {                                                                                              \
        .name = "conductor", .takes = SUMS_WORD, .choices = "solid stranded clad",                 \
        .usual = "solid", .shown = "KIND",                                                         \
        .help = "solid or stranded copper, or clad: copper on aluminium"                           \
    }

static inline enum power_conductor sums_conductor(const struct sums_value *value) {
    return text_is(value->word, "clad")        ? POWER_CLAD
            : text_is(value->word, "stranded") ? POWER_STRANDED
                                               : POWER_SOLID;
}

#endif
