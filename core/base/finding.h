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

/** One change of the site file: a path ("zones[5].behaviour") and what to write there, as YAML in one line; empty: what
 *  stands there is taken out. */
struct finding_edit {
    struct text path;
    struct text value;
};

/** One thing that is wrong or at risk. Every text is in the arena of the results.
 *  id: stable name of the check ("routine.false-alarm"); place: path in the site file ("zones[1].behaviour"),
 *  empty for the whole site; source: standard, edition, clause, or "common practice". Empty texts are not shown. edits:
 *  the remedy as changes of the file, all of them together; none where it cannot be done by writing alone. */
struct finding {
    enum finding_weight weight;
    struct text id;
    struct text headline;
    struct text why;
    struct text place;
    struct text remedy;
    struct text price;
    struct text source;
    const struct finding_edit *edits;
    size_t edit_count;
    size_t answer_index; /* the proof answer whose story goes with it, or FINDING_NO_ANSWER */
};

#define FINDING_NO_ANSWER ((size_t)-1)

#endif
