/* The snapshots of a bench as server-sent events: each as it comes, without the site where the one before had the same,
 * and a comment where none came for a while. */
#ifndef LINTEL_WEB_NEWS_H
#define LINTEL_WEB_NEWS_H

#include "web/bench.h"

#include <sys/types.h>

struct news;

/** A stream for one page, to be ended by news_end; NULL: there is no memory. bench: must outlive it. */
struct news *news_open(struct bench *bench);

/** Waits for the next bytes of the stream, as libmicrohttpd reads a body that comes bit by bit. */
ssize_t news_more(void *context, uint64_t position, char *room, size_t most);
void news_end(void *context);

#endif
