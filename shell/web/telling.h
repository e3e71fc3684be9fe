/* One course of a routine that somebody acts on the page, told without writing it into the file: the same panel, the
 * same words and the same bars as of every other routine. Stateless: whoever acts on sends all that was acted. */
#ifndef LINTEL_WEB_TELLING_H
#define LINTEL_WEB_TELLING_H

#include "document/document.h"

/** Tells a routine as if it stood last in the site file at path: {"story": [...], "bars": [...]} (docs/json.md).
 *  routine: as one would write it in one line of YAML, its times exact. The panel's clocks run true. Fails as the file
 *  or the routine cannot be read; the problem's words are for whoever acted. What is read takes
 *  its memory from where out has it: where that is refused it ends. */
outcome telling_add(const char *path, const struct document_search *search, struct text routine,
        struct text_builder *out, struct problem *ret_problem) MUST_CHECK;

#endif
