/* What the drawing would be with some edits made, without making them: for whoever drags a wall and has not let go.
 * Stateless, as telling is. */
#ifndef LINTEL_WEB_TRYING_H
#define LINTEL_WEB_TRYING_H

#include "document/document.h"
#include "web/view.h"

/** Tells the drawing of the site file at path as if the edits were made, as one looks at it, and what then carries each
 *  zone's device: {"drawing": {...}, "carried": [...]} (docs/serving.md). Nothing is written, nothing is proven. Fails
 *  as the file cannot be read or the edits not be made; the problem's words are for whoever drags. What is read takes
 *  its memory from where out has it: where that is refused it ends. */
outcome trying_add(const char *path, const struct document_search *search,
        const struct document_edit *edits, size_t count, const struct view_look *look,
        struct text_builder *out, struct problem *ret_problem) MUST_CHECK;

#endif
