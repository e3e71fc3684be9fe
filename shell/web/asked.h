/* What a page asks about one site, or sends to it. */
#ifndef LINTEL_WEB_ASKED_H
#define LINTEL_WEB_ASKED_H

#include "web/sites.h"

#include <jansson.h>
#include <microhttpd.h>

/** archive: of the signals, or NULL. body: as it was sent; empty where something is only asked. */
struct asked {
    struct MHD_Connection *connection;
    struct seat *seat;
    const char *archive;
    struct text body;
};

/** NULL: the body is no JSON. To be given back by json_decref. */
json_t *asked_json(struct text body);

#endif
