/* The page's server: on this machine only, for whoever has the address with its token. Serves what is built in, the
 * list of sites, the snapshots of their benches, and takes edits. */
#ifndef LINTEL_WEB_SERVER_H
#define LINTEL_WEB_SERVER_H

#include "web/sites.h"

#include <stdint.h>

enum {
    SERVER_TOKEN_LENGTH = 32, /* hex digits: 128 random bits */
    SERVER_BODY_MAX = 256 * 1024,
    SERVER_IMPORT_MAX = 6 * 1024 * 1024, /* a site file as large as one may be, as JSON */
    SERVER_CONNECTIONS_MAX = 64,
};

struct server;

/** Listens on 127.0.0.1. port: 0: any that is free. sites: kept. Fails SYSTEM (the port is taken, no random bytes). */
outcome server_start(uint16_t port, struct sites *sites, struct server **ret_server,
        struct problem *ret_problem) MUST_CHECK;

/** The port it listens on, and the token that the first visit must carry. */
uint16_t server_port(const struct server *server);
const char *server_token(const struct server *server);

/** Ends every connection. sites_stop first, or those that wait keep it waiting. */
void server_stop(struct server *server);

#endif
