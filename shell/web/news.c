#include "web/news.h"

#include "web/line.h"

#include <microhttpd.h>
#include <stdlib.h>

enum { HEARTBEAT_MS = 10000 }; /* so often a waiting page hears that we are still there */

struct news {
    struct bench *bench;
    uint64_t serial;
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

ssize_t news_more(void *context, uint64_t position, char *room, size_t most) {
    struct news *news = context;
    (void)position;
    if (line_is_over(&news->line)) {
        bench_release(news->snapshot);
        news->snapshot = bench_wait(news->bench, news->serial, HEARTBEAT_MS, &news->serial);
        if (news->snapshot == NULL && bench_stopping(news->bench)) {
            return MHD_CONTENT_READER_END_OF_STREAM;
        }
        news->line = news->snapshot == NULL
                ? line_of_nothing()
                : line_of((struct text){news->snapshot->json, news->snapshot->length});
    }
    return (ssize_t)line_copy(&news->line, room, most);
}

void news_end(void *context) {
    struct news *news = context;
    bench_release(news->snapshot);
    free(news);
}
