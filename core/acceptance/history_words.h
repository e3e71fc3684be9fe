/* What the everyday words of a station's list say of an event. */
#ifndef LINTEL_ACCEPTANCE_HISTORY_WORDS_H
#define LINTEL_ACCEPTANCE_HISTORY_WORDS_H

#include "base/text.h"
#include "events/event.h"

/** Why words are not to be taken. word: one that makes it doubtful ("trouble"), NULL: nothing does. other: what else
 *  they say, which the word does not go with ("mains", "burglary"), or NULL. */
struct history_doubt {
    const char *word;
    const char *other;
};

/** The SIA code that says the same as an event's words; NULL: none of them is an event. line: all of it, where another
 *  column may say that it was restored. ret_doubt: why it is not to be taken. Source: common practice. */
const char *history_code_of_words(
        struct text event, struct text line, bool of_zone, struct history_doubt *ret_doubt);

/** Whether a line says that something was restored. */
bool history_restored(struct text line);

#endif
