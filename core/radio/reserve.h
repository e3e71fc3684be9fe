/* How much of a link a rule set wants to be left over. Rows are data (data/radio/reserve.tsv), each with its source. */
#ifndef LINTEL_RADIO_RESERVE_H
#define LINTEL_RADIO_RESERVE_H

#include "base/text.h"

/** A row. certainty: "memory" is unverified. */
struct radio_reserve {
    const char *name;
    double reserve_db;
    const char *source;
    const char *certainty;
};

/** The largest that one of these rule sets wants, or NULL. names: borrows. */
const struct radio_reserve *radio_reserve_of(const struct text *names, size_t count);

#endif
