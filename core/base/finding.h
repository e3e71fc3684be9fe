/* Findings: "did it; this is wrong with the site". A value with its reason, its place, its remedy. */
#ifndef LINTEL_BASE_FINDING_H
#define LINTEL_BASE_FINDING_H

#include "base/text.h"

enum finding_weight {
    FINDING_FAULT, /* it will not do what it must */
    FINDING_RISK,  /* it may not */
    FINDING_NOTE,  /* worth knowing */
    FINDING_WEIGHT_COUNT
};

/** One thing that is wrong or at risk. Every text is in the arena of the results.
 *  id: stable name of the check ("routine.false-alarm"); place: path in the site file ("zones[1].behaviour"),
 *  empty for the whole site; source: standard, edition, clause, or "common practice". Empty texts are not shown. */
struct finding {
    enum finding_weight weight;
    struct text id;
    struct text headline;
    struct text why;
    struct text place;
    struct text remedy;
    struct text price;
    struct text source;
    size_t answer_index; /* the proof answer whose story goes with it, or FINDING_NO_ANSWER */
};

#define FINDING_NO_ANSWER ((size_t)-1)

#endif
