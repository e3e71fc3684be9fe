/* What a page asks of a folder of sites: the list, a site from four answers, an example, an
 * import. */
#ifndef LINTEL_WEB_FOLDER_H
#define LINTEL_WEB_FOLDER_H

#include "base/text.h"
#include "web/overview.h"
#include "web/sites.h"

#include <jansson.h>

/** How a request went. DONE and REFUSED with an answer: it is in out, JSON. REFUSED without: the problem tells why.
 *  NO_REQUEST: the body is none. UNKNOWN: there is no such path. */
enum folder_answer { FOLDER_DONE, FOLDER_REFUSED, FOLDER_NO_REQUEST, FOLDER_UNKNOWN };

/** GET: "/sites" (what is there), "/panels" (what can be chosen). */
enum folder_answer folder_get(struct sites *sites, struct overview *overview, const char *path,
        struct text_builder *out, struct problem *ret_problem);

/** POST: "/new", "/example", "/import". body: borrowed, may be NULL. */
enum folder_answer folder_post(struct sites *sites, const char *path, const json_t *body,
        struct text_builder *out, struct problem *ret_problem);

#endif
