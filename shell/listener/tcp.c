#include "listener/inside.h"

#include <netinet/in.h>
#include <stdio.h>
#include <string.h>

enum { WAITING_CONNECTIONS = 1024 };

void listener_name(
        const char *kind, const struct sockaddr_storage *address, char ret_name[NAME_ROOM]) {
    char host[INET6_ADDRSTRLEN] = "?";
    unsigned port = 0;
    bool six = address->ss_family == AF_INET6;
    if (six) {
        const struct sockaddr_in6 *of = (const struct sockaddr_in6 *)address;
        (void)uv_ip6_name(of, host, sizeof host);
        port = ntohs(of->sin6_port);
    } else {
        const struct sockaddr_in *of = (const struct sockaddr_in *)address;
        (void)uv_ip4_name(of, host, sizeof host);
        port = ntohs(of->sin_port);
    }
    (void)snprintf(
            ret_name, NAME_ROOM, "%s %s%s%s:%u", kind, six ? "[" : "", host, six ? "]" : "", port);
}

static bool used(const struct connection *connection) {
    return connection->life % 2 == 1;
}

static void closed(uv_handle_t *handle) {
    struct connection *connection = handle->data;
    connection->life++;
}

static void drop(struct connection *connection) {
    if (used(connection) && uv_is_closing((uv_handle_t *)&connection->handle) == 0) {
        uv_close((uv_handle_t *)&connection->handle, closed);
    }
}

static void lend_room(uv_handle_t *handle, size_t suggested, uv_buf_t *ret_buffer) {
    (void)suggested;
    struct connection *connection = handle->data;
    *ret_buffer = uv_buf_init(connection->listener->read_room, READ_ROOM);
}

static void take_frames(struct connection *connection, struct text bytes) {
    struct listener *listener = connection->listener;
    const struct addressee from = {.tcp = true,
            .place = (size_t)(connection - listener->connections),
            .life = connection->life};
    int64_t now_ms = listener_steady_ms(listener);
    struct text frame;
    do {
        peer_take(&connection->peer, &bytes, now_ms);
        while (peer_next(&connection->peer, now_ms, &frame)) {
            if (!peer_may(&connection->peer.rate, &listener->options.limits, now_ms)) {
                listener_refuse(listener, RECEIVER_TOO_MANY, connection->name, (struct text){0},
                        (struct text){0});
                peer_was_noise(&connection->peer, frame.length);
                continue;
            }
            switch (listener_take(listener, frame, &from, connection->name)) {
            case RECEIVER_LINK:
            case RECEIVER_REPEAT:
            case RECEIVER_STORE:
                peer_was_good(&connection->peer);
                break;
            case RECEIVER_SILENT:
            case RECEIVER_REFUSE:
            case RECEIVER_VERDICT_COUNT:
                peer_was_noise(&connection->peer, frame.length);
                break;
            }
        }
    } while (bytes.length > 0);
}

static void heard(uv_stream_t *stream, ssize_t count, const uv_buf_t *buffer) {
    struct connection *connection = stream->data;
    if (count < 0) {
        drop(connection);
        return;
    }
    take_frames(connection, (struct text){buffer->base, (size_t)count});
    if (peer_end(&connection->peer, &connection->listener->options.limits,
                listener_steady_ms(connection->listener)) == PEER_NOISY) {
        connection->listener->counts.dropped_peers++;
        drop(connection);
    }
}

static struct connection *free_place(struct listener *listener) {
    for (size_t i = 0; i < listener->options.peers; i++) {
        if (!used(&listener->connections[i])) {
            return &listener->connections[i];
        }
    }
    return NULL;
}

/** Whom it costs less to lose: a stranger rather than a friend; of strangers who has been there the longest, of friends
 *  who has said nothing for the longest. He comes again when he has something to say. */
static bool goes_before(const struct peer *a, const struct peer *b) {
    return a->known != b->known ? b->known
            : a->known          ? a->heard_ms < b->heard_ms
                                : a->since_ms < b->since_ms;
}

/** Somebody wants in and all places are taken. Friends go too where there is no stranger: in clear anybody makes
 *  himself one, and would keep all places. */
static void make_room(struct listener *listener) {
    struct connection *first = NULL;
    for (size_t i = 0; i < listener->options.peers; i++) {
        struct connection *connection = &listener->connections[i];
        if (used(connection) && uv_is_closing((uv_handle_t *)&connection->handle) == 0 &&
                (first == NULL || goes_before(&connection->peer, &first->peer))) {
            first = connection;
        }
    }
    if (first != NULL) {
        listener->counts.dropped_peers++;
        drop(first);
    }
}

static void came(uv_stream_t *server, int status);

/** The library asks no more who knocks until the last one was accepted: so nobody may be forgotten. */
static void ask_again(struct listener *listener) {
    if (listener->somebody_waits && !listener->stopping) {
        listener->somebody_waits = false;
        came((uv_stream_t *)&listener->tcp, 0);
    }
}

static void turned_away(uv_handle_t *handle) {
    struct listener *listener = handle->data;
    handle->data = NULL;
    ask_again(listener);
}

/** One handle is kept to accept and close whom there is no place for: left waiting, he would think he is heard. */
static void turn_away(struct listener *listener) {
    uv_tcp_t *handle = &listener->turned_away;
    if (handle->data != NULL) {
        listener->somebody_waits = true;
        return;
    }
    handle->data = listener;
    (void)uv_tcp_init(&listener->loop, handle);
    (void)uv_accept((uv_stream_t *)&listener->tcp, (uv_stream_t *)handle);
    uv_close((uv_handle_t *)handle, turned_away);
    listener->counts.dropped_peers++;
    make_room(listener);
}

static void came(uv_stream_t *server, int status) {
    struct listener *listener = server->data;
    struct connection *connection = status < 0 ? NULL : free_place(listener);
    struct sockaddr_storage address = {0};
    int length = sizeof address;
    if (status < 0 || listener->stopping) {
        return;
    }
    if (connection == NULL) {
        turn_away(listener);
        return;
    }
    if (uv_tcp_init(&listener->loop, &connection->handle) != 0) {
        listener->somebody_waits = true;
        return;
    }
    connection->listener = listener;
    connection->life++;
    connection->handle.data = connection;
    peer_begin(&connection->peer, &listener->options.limits, listener_steady_ms(listener));
    if (uv_accept(server, (uv_stream_t *)&connection->handle) != 0 ||
            uv_tcp_getpeername(&connection->handle, (struct sockaddr *)&address, &length) != 0 ||
            uv_read_start((uv_stream_t *)&connection->handle, lend_room, heard) != 0) {
        drop(connection);
        return;
    }
    (void)uv_tcp_nodelay(&connection->handle, 1);
    listener_name("tcp", &address, connection->name);
}

outcome listener_open_tcp(
        struct listener *listener, const struct sockaddr *address, struct problem *ret_problem) {
    int code = uv_tcp_bind(&listener->tcp, address, 0);
    if (code == 0) {
        code = uv_listen((uv_stream_t *)&listener->tcp, WAITING_CONNECTIONS, came);
    }
    if (code != 0) {
        FAIL(ret_problem, PROBLEM_SYSTEM, "", "TCP at %s, port %u: %s", listener->options.address,
                listener->port, uv_strerror(code));
    }
    return outcome_good();
}

/* An answer is a hundred bytes or so. Whose window cannot take that does not read: he is dropped, so that nothing is
 * kept for him. */
bool listener_send_tcp(struct listener *listener, const struct waiting *waiting) {
    struct connection *connection = &listener->connections[waiting->to.place];
    if (connection->life != waiting->to.life ||
            uv_is_closing((uv_handle_t *)&connection->handle) != 0) {
        return true;
    }
    uv_buf_t buffer =
            uv_buf_init((char *)(uintptr_t)waiting->answer, (unsigned)waiting->answer_length);
    int sent = uv_try_write((uv_stream_t *)&connection->handle, &buffer, 1);
    if (sent != (int)waiting->answer_length) {
        drop(connection);
        return false;
    }
    return true;
}

void listener_weed(struct listener *listener) {
    int64_t now_ms = listener_steady_ms(listener);
    for (size_t i = 0; i < listener->options.peers; i++) {
        struct connection *connection = &listener->connections[i];
        if (used(connection) &&
                peer_end(&connection->peer, &listener->options.limits, now_ms) != PEER_STAYS) {
            listener->counts.dropped_peers++;
            drop(connection);
        }
    }
    ask_again(listener);
}

void listener_close_connections(struct listener *listener) {
    for (size_t i = 0; i < listener->options.peers; i++) {
        drop(&listener->connections[i]);
    }
}
