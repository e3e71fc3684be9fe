/* The page's server: for this machine only, or for others too by TLS, for whoever has the address with its key. Serves
 * what is built in, the list of sites, the snapshots of their benches, and takes edits. */
#ifndef LINTEL_WEB_SERVER_H
#define LINTEL_WEB_SERVER_H

#include "web/address.h"
#include "web/seal.h"
#include "web/sites.h"

#include <stdint.h>

enum {
    SERVER_BODY_MAX = 256 * 1024,
    SERVER_IMPORT_MAX = 6 * 1024 * 1024, /* a site file as large as one may be, as JSON */
    SERVER_CONNECTIONS_MAX = 64,
};

struct server;

/** Where to listen. address: its port 0: any that is free. seal: NULL: no TLS, and then the address must be one of this
 *  machine alone; else kept. */
struct server_place {
    union address address;
    const struct seal *seal;
};

/** sites: kept. Fails SYSTEM (the port is taken, the address is not of this machine, no random bytes). */
outcome server_start(const struct server_place *place, struct sites *sites,
        struct server **ret_server, struct problem *ret_problem) MUST_CHECK;

enum { SERVER_ADDRESS_MOST = DOOR_NAME_MOST + 64 };

/** The address for the first visit, with its key. */
void server_address(const struct server *server, char *ret_address, size_t most);

/** Ends every connection. sites_stop first, or those that wait keep it waiting. */
void server_stop(struct server *server);

#endif
