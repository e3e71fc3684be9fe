/* The slips by which a text is no YAML, found in the text itself: where the parser stops is often not where the slip
 * is, and its words are not those of people. Knows no site. */
#ifndef LINTEL_DOCUMENT_YAML_SLIPS_H
#define LINTEL_DOCUMENT_YAML_SLIPS_H

#include "base/text.h"
#include "document/node.h"

#include <stdbool.h>

/** Where the slip is, from 1, and what to do about it: nothing of the text is in it but brackets. */
struct yaml_slip {
    int line;
    int column;
    char what[160];
};

/** line, column, message: where the parser stopped, and its words. open: the innermost bracket that is open there, or
 *  NULL. False: none of the usual slips; ret_slip is untouched. */
bool yaml_slip_find(struct text text, int line, int column, const char *message,
        const struct node *open, struct yaml_slip *ret_slip);

/** Whether the text begins with a curly quote, which YAML takes for a letter. */
bool yaml_slip_curly(struct text text);

#define YAML_SLIP_CURLY "curly quotes are letters here; write straight ones: \"...\""

#endif
