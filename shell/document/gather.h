/* Gathers the problems of a document. */
#ifndef LINTEL_DOCUMENT_GATHER_H
#define LINTEL_DOCUMENT_GATHER_H

#include "document/document.h"

/** refused: memory was refused once; the outcome is then that and nothing else. */
struct gatherer {
    struct document *document;
    bool refused;
};

enum { GATHER_QUOTE_MAX = 80 };

/** The length in bytes of the character at `at` if it does not show where it stands but changes how what follows is
 *  shown, else 0: control characters (C0, C1, DEL), line separators, marks and overrides of writing direction, the byte
 *  order mark. Source: Unicode Standard Annex 9, revision 46, 2 (explicit directional formatting); from memory. */
size_t gather_unseen(struct text text, size_t at);

/** A text of somebody's file for a message: in quotes, at most 40 characters, control characters replaced.
 *  Gives buffer. */
const char *gather_quote(struct text value, char buffer[GATHER_QUOTE_MAX * 4]);

/** Adds a problem. line 0: the whole file. path: may be "". */
void gather_add(struct gatherer *gatherer, enum problem_kind kind, const struct document_file *file,
        int line, int column, const char *path, const char *format, ...)
        __attribute__((format(printf, 7, 8)));

/** The problems gathered so far as an outcome: good when there is none. Sorts them: the site's own file first, then the
 *  others by name, each by line and column. */
outcome gather_outcome(const struct gatherer *gatherer, struct problem *ret_problem) MUST_CHECK;

/** Choosing the nearest of several names: start with {wanted}, offer each, read best (empty: none is near). */
struct gather_nearest {
    struct text wanted;
    struct text best;
    size_t distance;
};

void gather_offer(struct gather_nearest *nearest, struct text name);

/** "; did you mean ...?" or "". Gives buffer. */
const char *gather_hint(
        const struct gather_nearest *nearest, char buffer[GATHER_QUOTE_MAX * 4 + 32]);

#endif
