/* The acceptance of a site, for the page: its list as server-sent events, anew whenever a signal came or somebody did
 * something, by whatever program; and what is done on the page. */
#ifndef LINTEL_WEB_TICKING_H
#define LINTEL_WEB_TICKING_H

#include "accepting/accepting.h"
#include "web/sites.h"

#include <sys/types.h>

struct ticking;

/** A stream for one page, to be ended by ticking_end; NULL: there is no memory. archive: path, or NULL: none was
 *  named, which the stream says. seat, archive: must outlive it. What cannot be read is told in the stream, and tried
 *  again. */
struct ticking *ticking_open(struct seat *seat, const char *archive);

/** Waits for the next bytes of the stream, as libmicrohttpd reads a body that comes bit by bit. Something comes every
 *  two seconds at least, so that a page can tell a lost connection from a quiet panel. */
ssize_t ticking_more(void *context, uint64_t position, char *room, size_t most);
void ticking_end(void *context);

/** Somebody did something. Fails as accepting_open and accepting_do; MISSING where no archive was named; UNREADABLE
 *  where the site file cannot be read. */
outcome ticking_do(struct seat *seat, const char *archive, struct accepting_act act,
        struct problem *ret_problem) MUST_CHECK;

/** What a station received, its pasted list: what is understood of it, as docs/serving.md has it; stored where by is
 *  not empty. Fails as pasted_read and pasted_store, and as ticking_do. */
outcome ticking_paste(struct seat *seat, const char *archive, struct text source, struct text by,
        struct text_builder *out, struct problem *ret_problem) MUST_CHECK;

#endif
