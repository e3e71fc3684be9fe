/* Where a path below one site leads: to its snapshots, its file, what was keyed in, its acceptance, a rehearsal, and to
 * changes of it (web/changing.h). Revisions are elsewhere (web/revising.h). */
#ifndef LINTEL_WEB_ABOUT_SITE_H
#define LINTEL_WEB_ABOUT_SITE_H

#include "web/asked.h"

/** False: there is no such thing here, and nothing was answered. ret_sent: what answer_give gave. */
bool about_site_get(const struct asked *asked, const char *path, enum MHD_Result *ret_sent);
bool about_site_post(const struct asked *asked, const char *path, enum MHD_Result *ret_sent);

#endif
