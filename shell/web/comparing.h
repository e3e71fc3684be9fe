/* What got better and what got worse since an older text of the site file: both are checked as of today. */
#ifndef LINTEL_WEB_COMPARING_H
#define LINTEL_WEB_COMPARING_H

#include "base/text.h"
#include "document/document.h"

/** Adds {"against": ...} as docs/json.md has it. path, search: of the site file as it is now. older: a text of it,
 *  named so. keep_going: asked now and then; false ends it. Fails BAD_VALUE where either cannot be read as it is,
 *  STOPPED, MEMORY. */
outcome comparing_add(const char *path, const struct document_search *search, struct text older,
        struct text named, bool (*keep_going)(void *context, size_t done, size_t waiting),
        void *context, struct text_builder *out, struct problem *ret_problem) MUST_CHECK;

#endif
