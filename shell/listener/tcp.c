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

static size_t place_of(const struct connection *connection) {
    return (size_t)(connection - connection->listener->connections);
}

static void came(uv_stream_t *server, int status);

/** The library asks no more who knocks until the last one was accepted: so nobody may be forgotten. */
static void ask_again(struct listener *listener) {
    if (listener->somebody_waits && !listener->stopping) {
        listener->somebody_waits = false;
        came((uv_stream_t *)&listener->tcp, 0);
    }
}

static void closed(uv_handle_t *handle) {
    struct connection *connection = handle->data;
    connection->life++;
    places_left(&connection->listener->places, place_of(connection));
    ask_again(connection->listener);
}

static void drop(struct connection *connection) {
    if (used(connection) && uv_is_closing((uv_handle_t *)&connection->handle) == 0) {
        places_leave(&connection->listener->places, place_of(connection));
        uv_close((uv_handle_t *)&connection->handle, closed);
    }
}

/** He goes: at once, or where he is owed answers once the commit has settled them. He is not read any more and no
 *  longer counted among those who have a place, so that he keeps nobody out for longer than the commit takes. */
static void let_go(struct connection *connection) {
    if (connection->owed == 0) {
        drop(connection);
    } else if (uv_is_closing((uv_handle_t *)&connection->handle) == 0) {
        (void)uv_read_stop((uv_stream_t *)&connection->handle);
        places_leave(&connection->listener->places, place_of(connection));
        connection->leaving = true;
    }
}

static void lend_room(uv_handle_t *handle, size_t suggested, uv_buf_t *ret_buffer) {
    (void)suggested;
    struct connection *connection = handle->data;
    *ret_buffer = uv_buf_init(connection->listener->read_room, READ_ROOM);
}

/** A frame within the rate. */
static void take_frame(
        struct connection *connection, struct text frame, const struct addressee *from) {
    struct listener *listener = connection->listener;
    switch (listener_take(listener, frame, from, connection->name)) {
    case RECEIVER_LINK:
    case RECEIVER_REPEAT:
    case RECEIVER_STORE:
        peer_was_good(&connection->peer);
        places_heard(&listener->places, from->place, listener_steady_ms(listener));
        break;
    case RECEIVER_SILENT:
    case RECEIVER_REFUSE:
    case RECEIVER_VERDICT_COUNT:
        peer_was_noise(&connection->peer, frame.length);
        break;
    }
}

/** What is above the rate all came at one instant: it is skipped without a look at each, and told once. */
static void take_frames(struct connection *connection, struct text bytes) {
    struct listener *listener = connection->listener;
    struct peer *peer = &connection->peer;
    const struct addressee from = {
            .tcp = true, .place = place_of(connection), .life = connection->life};
    int64_t now_ms = listener_steady_ms(listener);
    size_t above = 0;
    struct text frame;
    do {
        peer_take(peer, &bytes, now_ms);
        while (above == 0 && peer_next(peer, now_ms, &frame)) {
            if (peer_may(&peer->rate, &listener->options.limits, now_ms)) {
                take_frame(connection, frame, &from);
            } else {
                peer_was_noise(peer, frame.length);
                above = 1;
            }
        }
        above += above > 0 ? peer_skip(peer, now_ms) : 0;
    } while (bytes.length > 0);
    if (above > 0) {
        listener_refuse(listener, RECEIVER_TOO_MANY, above, connection->name, (struct text){0},
                (struct text){0});
    }
}

static void heard(uv_stream_t *stream, ssize_t count, const uv_buf_t *buffer) {
    struct connection *connection = stream->data;
    if (count < 0) { /* he may only have ended what he says, and read on */
        let_go(connection);
        return;
    }
    take_frames(connection, (struct text){buffer->base, (size_t)count});
    if (peer_end(&connection->peer, &connection->listener->options.limits,
                listener_steady_ms(connection->listener)) == PEER_NOISY) {
        connection->listener->counts.dropped_peers++;
        let_go(connection);
    }
}

/** Begins with who was accepted; false: he is gone already. */
static bool begin(struct connection *connection, int64_t now_ms) {
    struct listener *listener = connection->listener;
    struct sockaddr_storage address = {0};
    int length = sizeof address;
    if (uv_tcp_getpeername(&connection->handle, (struct sockaddr *)&address, &length) != 0 ||
            uv_read_start((uv_stream_t *)&connection->handle, lend_room, heard) != 0) {
        return false;
    }
    (void)uv_tcp_nodelay(&connection->handle, 1);
    listener_name("tcp", &address, connection->name);
    peer_begin(&connection->peer, &listener->options.limits, now_ms);
    places_let_in(&listener->places, place_of(connection), listener_sender_hash(listener, &address),
            now_ms);
    return true;
}

static void came(uv_stream_t *server, int status) {
    struct listener *listener = server->data;
    const int64_t now_ms = listener_steady_ms(listener);
    size_t place = 0;
    if (status < 0 || listener->stopping) {
        return;
    }
    if (!places_take(&listener->places, &place)) {
        listener->somebody_waits = true;
        return;
    }
    struct connection *connection = &listener->connections[place];
    if (uv_tcp_init(&listener->loop, &connection->handle) != 0) {
        places_left(&listener->places, place);
        listener->somebody_waits = true;
        return;
    }
    connection->listener = listener;
    connection->life++;
    connection->owed = 0;
    connection->leaving = false;
    connection->handle.data = connection;
    if (uv_accept(server, (uv_stream_t *)&connection->handle) != 0 || !begin(connection, now_ms)) {
        drop(connection);
        return;
    }
    if (places_too_many(&listener->places, now_ms, &place)) {
        listener->counts.dropped_peers++;
        let_go(&listener->connections[place]);
    }
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
static bool send_answer(struct connection *connection, const struct waiting *waiting) {
    uv_buf_t buffer =
            uv_buf_init((char *)(uintptr_t)waiting->answer, (unsigned)waiting->answer_length);
    return uv_try_write((uv_stream_t *)&connection->handle, &buffer, 1) ==
            (int)waiting->answer_length;
}

bool listener_send_tcp(struct listener *listener, const struct waiting *waiting, bool stored) {
    struct connection *connection = &listener->connections[waiting->to.place];
    if (connection->life != waiting->to.life ||
            uv_is_closing((uv_handle_t *)&connection->handle) != 0) {
        return true;
    }
    const bool good = !stored || send_answer(connection, waiting);
    connection->owed--;
    if (!good || (connection->leaving && connection->owed == 0)) {
        drop(connection);
    }
    return good;
}

void listener_weed(struct listener *listener) {
    int64_t now_ms = listener_steady_ms(listener);
    for (size_t i = 0; i < listener->places.count; i++) {
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
    for (size_t i = 0; i < listener->places.count; i++) {
        drop(&listener->connections[i]);
    }
}
