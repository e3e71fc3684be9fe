#include "radio/reserve.h"

#include <stddef.h>

static const struct radio_reserve rows[] = {
#define ROW(name, reserve_db, source, certainty) {name, reserve_db, source, certainty},
#include "radio/reserve.inc"
#undef ROW
};

const struct radio_reserve *radio_reserve_of(const struct text *names, size_t count) {
    const struct radio_reserve *most = NULL;
    for (size_t i = 0; i < count; i++) {
        for (size_t k = 0; k < sizeof rows / sizeof rows[0]; k++) {
            if (text_is(names[i], rows[k].name) &&
                    (most == NULL || rows[k].reserve_db > most->reserve_db)) {
                most = &rows[k];
            }
        }
    }
    return most;
}
