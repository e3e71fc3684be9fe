/* What a page asks about one site, or sends to it; and whether it still wants the answer. */
#ifndef LINTEL_WEB_ASKED_H
#define LINTEL_WEB_ASKED_H

#include "base/arena.h"
#include "web/sites.h"

#include <jansson.h>
#include <microhttpd.h>

/** archive: of the signals, or NULL. body: as it was sent; empty where something is only asked. number: of the site's
 *  text when it was asked. socket: to whoever asks. */
struct asked {
    struct MHD_Connection *connection;
    struct seat *seat;
    const char *archive;
    struct text body;
    uint64_t number;
    int socket;
};

/** NULL: the body is no JSON. To be given back by json_decref. */
json_t *asked_json(struct text body);

/** False once the file was changed since, whoever asks has gone, or the bench is closing; it stays false. For what is
 *  worked out from the file as it was. */
bool asked_is_wanted(const struct asked *asked);

/** Memory for working it out, which is refused once nobody wants the answer: whatever works, ends by itself then. The
 *  asked must outlive what was got. */
struct pages asked_pages(const struct asked *asked);

/** What came of working it out: where it failed and nobody wants the answer any more, that is the cause (STOPPED). */
outcome asked_outcome(const struct asked *asked, outcome done, struct problem *problem);

#endif
