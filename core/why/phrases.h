/* What customers and technicians say on the phone, as a table. Not for use outside this folder. */
#ifndef LINTEL_WHY_PHRASES_H
#define LINTEL_WHY_PHRASES_H

#include "why/inside.h"

#include <stddef.h>

/* What a phrase says. */
enum saying { SAYS_WHAT, SAYS_STAND, SAYS_NOTHING, SAYS_ABOUT };

struct phrase {
    const char *words;
    enum saying saying;
    int value;
};

/** The first phrase of each value is its name. */
extern const struct phrase why_phrases[];
extern const size_t why_phrase_count;

#endif
