/* What the page asks of a site's revisions. The connection, and who may ask, are the server's. */
#ifndef LINTEL_WEB_REVISING_H
#define LINTEL_WEB_REVISING_H

#include "web/asked.h"
#include "web/folder.h"

/** "/revisions": {"revisions": [{"id", "day", "time", "name"}]}, the latest first. ret_problem: on REFUSED. */
enum folder_answer revising_get(
        struct seat *seat, const char *path, struct text_builder *out, struct problem *ret_problem);

/** "/revise" {"name"} keeps the file as it is, and answers as /revisions; "/revision" {"revision"} gives its {"text"};
 *  "/compare" {"revision"} tells what got better and worse since (web/comparing.h). body: NULL where it was no JSON. */
enum folder_answer revising_post(const struct asked *asked, const char *path, const json_t *body,
        struct text_builder *out, struct problem *ret_problem);

#endif
