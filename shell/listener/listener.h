/* The listener: panels report to it over TCP and UDP, many at once, on one event loop. It reads all that is ready, has
 * the signals stored in one go, and only then acknowledges them. Where they cannot be stored, nobody is answered: the
 * panels send again, and nothing is lost.
 *
 * One listener, one thread. Its memory is fixed when it is made, whatever comes. */
#ifndef LINTEL_LISTENER_LISTENER_H
#define LINTEL_LISTENER_LISTENER_H

#include "archive/archive.h"
#include "signals/peer.h"
#include "signals/receiver.h"

/** What a caller may hang in; each may be NULL.
 *  stored: signals that are in the archive now, before their senders are told.
 *  refused: what was not taken, added up over a second or so.
 *  trouble: the archive takes nothing (problem->text says why), told once until it does again; mended: it does. */
struct listener_hooks {
    void (*stored)(void *context, const struct archive_signal *signals, size_t count);
    void (*refused)(void *context, const struct archive_refusal *refusals, size_t count);
    void (*trouble)(void *context, const struct problem *problem);
    void (*mended)(void *context);
    void *context;
};

/** address: of this machine ("127.0.0.1", "::1", "0.0.0.0": every one). port: 0: the system chooses; tcp, udp: which of
 *  the two. peers: TCP connections at once. recent: messages known for repeats. limits: see signals/peer.h; of UDP only
 *  the rate counts, by sender's address. */
struct listener_options {
    const char *address;
    uint16_t port;
    bool tcp;
    bool udp;
    size_t peers;
    size_t recent;
    struct peer_limits limits;
    const struct accounts *accounts;
    struct archive *archive;
    struct listener_hooks hooks;
};

/** How it went. */
struct listener_counts {
    uint64_t stored;
    uint64_t repeats;
    uint64_t link_tests;
    uint64_t refused;
    uint64_t commits;
    uint64_t dropped_peers;
};

struct listener;

/** The usual limits. House practice. */
struct listener_options listener_usual(void);

/** Opens the ports; what accounts and archive point to is kept. What was stored in the last RECENT_S is read from the
 *  archive, so that a repeat of it is known; and the ends of what was encrypted, of RECEIVER_SPENT_S. ret_listener:
 *  destroy it; untouched on failure. Fails SYSTEM (the port is taken, no such address), MEMORY. */
outcome listener_create(const struct listener_options *options, struct listener **ret_listener,
        struct problem *ret_problem) MUST_CHECK;

/** The port, as the system chose it. */
uint16_t listener_port(const struct listener *listener);

/** Listens until SIGTERM or SIGINT comes, or listener_stop is called from a hook: then what has been read is stored and
 *  answered. */
void listener_run(struct listener *listener);
void listener_stop(struct listener *listener);

struct listener_counts listener_counts(const struct listener *listener);

/** Closes the ports; NULL is fine. */
void listener_destroy(struct listener *listener);

#endif
