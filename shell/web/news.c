#include "web/news.h"

#include "web/line.h"

#include <microhttpd.h>
#include <stdlib.h>

enum { HEARTBEAT_MS = 10000 }; /* so often a waiting page hears that we are still there */

struct news {
    struct bench *bench;
    uint64_t serial;
    uint64_t site; /* the last one that was sent; 0: none yet */
    struct bench_snapshot *snapshot;
    struct line line;
};

struct news *news_open(struct bench *bench) {
    struct news *news = calloc(1, sizeof *news);
    if (news != NULL) {
        news->bench = bench;
    }
    return news;
}

/** Who has the site already is not sent it again. */
static struct line line_of_news(struct news *news) {
    const struct bench_snapshot *snapshot = news->snapshot;
    if (snapshot == NULL) {
        return line_of_nothing();
    }
    const bool known = news->site == snapshot->site;
    news->site = snapshot->site;
    return known ? line_of_begun((struct text){snapshot->json, snapshot->brief_length})
                 : line_of((struct text){snapshot->json, snapshot->length});
}

ssize_t news_more(void *context, uint64_t position, char *room, size_t most) {
    struct news *news = context;
    (void)position;
    if (line_is_over(&news->line)) {
        bench_release(news->snapshot);
        news->snapshot = bench_wait(news->bench, news->serial, HEARTBEAT_MS, &news->serial);
        if (news->snapshot == NULL && bench_stopping(news->bench)) {
            return MHD_CONTENT_READER_END_OF_STREAM;
        }
        news->line = line_of_news(news);
    }
    return (ssize_t)line_copy(&news->line, room, most);
}

void news_end(void *context) {
    struct news *news = context;
    bench_release(news->snapshot);
    free(news);
}
