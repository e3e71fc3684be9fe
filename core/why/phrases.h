/* What customers and technicians say on the phone, as a table. Not for use outside this folder. */
#ifndef LINTEL_WHY_PHRASES_H
#define LINTEL_WHY_PHRASES_H

#include "why/inside.h"

#include <stddef.h>

/* What a phrase says. ALARM: the thing itself; that it sounded, unless something else is said of it. SENSE: the one
 * zone that senses this, and as of ALARM that it sounded. DAY: which day, which no routine knows. A name of the site
 * goes before SENSE and all behind it. */
enum saying { SAYS_WHAT, SAYS_STAND, SAYS_ALARM, SAYS_SENSE, SAYS_DAY, SAYS_ABOUT, SAYS_NOTHING };

/* In which word set a phrase is shown in the list of what can be said; the first one of each value always is. */
enum listed { LISTED_NOT, LISTED, LISTED_UK, LISTED_US };

struct phrase {
    const char *words;
    enum saying saying;
    int value;
    enum listed listed;
};

/* A word, or two, that say the same as another: compared without apostrophes. second: NULL, only one. */
struct spelling {
    const char *first;
    const char *second;
    const char *is;
};

extern const struct spelling why_spellings[];
extern const size_t why_spelling_count;

/** The first phrase of each value is its name. */
extern const struct phrase why_phrases[];
extern const size_t why_phrase_count;

#endif
