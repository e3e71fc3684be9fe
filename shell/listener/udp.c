#include "listener/inside.h"

#include "signals/siphash.h"

#include <netinet/in.h>
#include <string.h>

/* Room for several packets: the system then gives them in one go. */
static void lend_room(uv_handle_t *handle, size_t suggested, uv_buf_t *ret_buffer) {
    (void)suggested;
    struct listener *listener = handle->data;
    *ret_buffer = uv_buf_init(listener->read_room, sizeof listener->read_room);
}

/** What counts as one sender: an address without port, as a new port for each packet makes no new sender; of IPv6 the
 *  network, as whoever has one has all its 2^64 addresses; but an address of IPv4 that is written as one of IPv6. */
static struct text sender_of(const struct sockaddr_storage *address) {
    enum { NETWORK = 8, PREFIX = 12 }; /* bytes. Source: RFC 4291, 2.5.4, 2.5.5.2 */
    static const char v4_in_v6[PREFIX] = {0, 0, 0, 0, 0, 0, 0, 0, 0, 0, '\xFF', '\xFF'};
    if (address->ss_family != AF_INET6) {
        const struct sockaddr_in *of = (const struct sockaddr_in *)address;
        return (struct text){(const char *)&of->sin_addr, sizeof of->sin_addr};
    }
    const struct sockaddr_in6 *of = (const struct sockaddr_in6 *)address;
    const char *bytes = (const char *)&of->sin6_addr;
    return memcmp(bytes, v4_in_v6, sizeof v4_in_v6) == 0
            ? (struct text){bytes + PREFIX, sizeof of->sin6_addr - PREFIX}
            : (struct text){bytes, NETWORK};
}

uint64_t listener_sender_hash(
        const struct listener *listener, const struct sockaddr_storage *address) {
    return siphash(listener->receiver.secret, sender_of(address));
}

struct peer_rate *listener_rate_of(
        struct listener *listener, const struct sockaddr_storage *address) {
    return &listener->udp_rates[listener_sender_hash(listener, address) % RATE_SLOTS];
}

/** A packet holds whole frames: what is left over at its end is none. */
static void take_frames(struct listener *listener, struct text bytes,
        const struct sockaddr_storage *address, const char *name) {
    const struct addressee from = {.address = *address};
    int64_t now_ms = listener_steady_ms(listener);
    const struct text packet = bytes;
    bool noise = false;
    while (bytes.length > 0) {
        size_t begins = 0;
        size_t length = 0;
        enum frame_scan scan = frame_scan(bytes, &begins, &length);
        size_t step = scan == FRAME_SCAN_WHOLE ? length
                : scan == FRAME_SCAN_SKIP      ? begins
                                               : bytes.length;
        if (scan != FRAME_SCAN_WHOLE) {
            noise = true;
        } else if (peer_may(listener_rate_of(listener, address), &listener->options.limits,
                           now_ms)) {
            (void)listener_take(listener, (struct text){bytes.start, step}, &from, name);
        } else {
            /* the rest of the packet comes at the same instant */
            listener_refuse(
                    listener, RECEIVER_TOO_MANY, 1, name, (struct text){0}, (struct text){0});
            break;
        }
        bytes = (struct text){bytes.start + step, bytes.length - step};
    }
    if (noise) {
        listener_refuse(listener, RECEIVER_NO_FRAME, 1, name, (struct text){0}, packet);
    }
}

static void heard(uv_udp_t *handle, ssize_t count, const uv_buf_t *buffer,
        const struct sockaddr *address, unsigned flags) {
    struct listener *listener = handle->data;
    struct sockaddr_storage from = {0};
    char name[NAME_ROOM];
    if (count <= 0 || address == NULL || (flags & UV_UDP_PARTIAL) != 0) {
        return;
    }
    memcpy(&from, address,
            address->sa_family == AF_INET6 ? sizeof(struct sockaddr_in6)
                                           : sizeof(struct sockaddr_in));
    listener_name("udp", &from, name);
    take_frames(listener, (struct text){buffer->base, (size_t)count}, &from, name);
}

outcome listener_open_udp(
        struct listener *listener, const struct sockaddr *address, struct problem *ret_problem) {
    int code = uv_udp_bind(&listener->udp, address, 0);
    if (code == 0) {
        code = uv_udp_recv_start(&listener->udp, lend_room, heard);
    }
    if (code != 0) {
        FAIL(ret_problem, PROBLEM_SYSTEM, "", "UDP at %s, port %u: %s", listener->options.address,
                listener->port, uv_strerror(code));
    }
    return outcome_good();
}

/* What cannot be sent is lost, as a packet may be anyhow: the panel sends again. */
void listener_send_udp(struct listener *listener, const struct waiting *waiting) {
    uv_buf_t buffer =
            uv_buf_init((char *)(uintptr_t)waiting->answer, (unsigned)waiting->answer_length);
    (void)uv_udp_try_send(
            &listener->udp, &buffer, 1, (const struct sockaddr *)&waiting->to.address);
}
