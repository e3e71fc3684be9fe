/* A site file brought from elsewhere: read as lintel check reads it, before anything is written. */
#ifndef LINTEL_WEB_IMPORT_H
#define LINTEL_WEB_IMPORT_H

#include "base/text.h"
#include "document/document.h"

/** Whether the text can be read as a site file that will lie in that folder. Where not, out gets the answer for the
 *  page: {"result": "refused", "what": ..., "problems": [{"line", "column", "path", "what"}]}.
 *  name: what it is called. */
bool import_reads(const char *name, const char *folder, struct text content,
        const struct document_search *search, struct text_builder *out);

#endif
