/* Who may come in: by which names this bench may be asked, from which pages, and with which key. Pure but for the
 * random key; it knows nothing of sockets. */
#ifndef LINTEL_WEB_DOOR_H
#define LINTEL_WEB_DOOR_H

#include "base/problem.h"
#include "base/text.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

enum {
    DOOR_KEY_LENGTH = 32, /* hex digits: 128 random bits */
    DOOR_NAMES_MOST = 16,
    DOOR_NAME_MOST =
            253, /* a name of the domain name system, RFC 1035, 2.3.4: 255 octets on the wire */
};

struct door {
    char key[DOOR_KEY_LENGTH + 1];
    char cookie
            [16]; /* its name: of the port, so that two benches on one machine do not throw each other out */
    bool secure; /* spoken to by TLS */
    size_t count;
    char hosts[DOOR_NAMES_MOST][DOOR_NAME_MOST + 8];    /* what Host may say */
    char origins[DOOR_NAMES_MOST][DOOR_NAME_MOST + 16]; /* what Origin may say */
};

/** Cuts a key. Fails SYSTEM: no random bytes. */
outcome door_make(struct door *ret_door, struct problem *ret_problem) MUST_CHECK;

/** Hangs the door at a port. names: by which this machine may be asked, at most DOOR_NAMES_MOST, each at most
 *  DOOR_NAME_MOST bytes; the first one is the one to print. secure: it speaks TLS. */
void door_hang(
        struct door *door, const struct text *names, size_t count, bool secure, uint16_t port);

/** Whether it is one of ours; NULL: not said. */
bool door_knows_host(const struct door *door, const char *host);
bool door_knows_origin(const struct door *door, const char *origin);

/** The same text, in a time that does not tell how much of it is right. NULL: no. */
bool door_fits_key(const struct door *door, const char *key);

/** The address to print, with the key: "http://127.0.0.1:8417/?key=...". */
void door_address(const struct door *door, char *ret_address, size_t most);

/** The cookie into which the key goes on the first visit: scripts cannot read it, other sites cannot send it. */
void door_set_cookie(const struct door *door, char *ret_cookie, size_t most);

#endif
