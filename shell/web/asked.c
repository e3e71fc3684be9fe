/* POLLRDHUP is of Linux. */
#define _GNU_SOURCE

#include "web/asked.h"

#include "host/host.h"

#include <poll.h>

json_t *asked_json(struct text body) {
    return json_loadb(
            body.start == NULL ? "" : body.start, body.length, JSON_REJECT_DUPLICATES, NULL);
}

/* Also where it has only ended its own half: no browser does that and still waits. */
static bool has_gone(int socket) {
    struct pollfd at = {.fd = socket, .events = POLLRDHUP};
    return poll(&at, 1, 0) > 0 && (at.revents & (POLLRDHUP | POLLHUP | POLLERR | POLLNVAL)) != 0;
}

bool asked_is_wanted(const struct asked *asked) {
    return bench_number(asked->seat->bench) == asked->number &&
            !bench_stopping(asked->seat->bench) && !has_gone(asked->socket);
}

static void *get_page(void *context, size_t size) {
    const struct pages pages = host_pages();
    return asked_is_wanted(context) ? pages.get(pages.context, size) : NULL;
}

static void give_page(void *context, void *block, size_t size) {
    const struct pages pages = host_pages();
    (void)context;
    pages.give(pages.context, block, size);
}

struct pages asked_pages(const struct asked *asked) {
    return (struct pages){.get = get_page, .give = give_page, .context = (void *)asked};
}

outcome asked_outcome(const struct asked *asked, outcome done, struct problem *problem) {
    if (done.good || asked_is_wanted(asked)) {
        return done;
    }
    *problem = (struct problem){0};
    FAIL(problem, PROBLEM_STOPPED, "", "The file was changed meanwhile; ask again.");
}
