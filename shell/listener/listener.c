#include "listener/inside.h"

#include "host/host.h"

#include <netinet/in.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>

struct listener_options listener_usual(void) {
    return (struct listener_options){.address = "127.0.0.1",
            .tcp = true,
            .udp = true,
            .peers = 4096,
            .recent = 1024 * 1024,
            .limits = {.stranger_ms = 30000,
                    .idle_ms = 3600000,
                    .slow_ms = 10000,
                    .noise = 65536,
                    .rate = 200}};
}

static struct frame_cipher cipher_of(void *context, const struct account *account) {
    struct listener *listener = context;
    return cipher_for(listener->cipher, account);
}

static void asked_to_stop(uv_signal_t *handle, int number) {
    (void)number;
    listener_stop(handle->data);
}

/* What a peer has sent while we were busy is read first, else our own slowness would count for his. */
static void tick(uv_timer_t *handle) {
    struct listener *listener = handle->data;
    listener->weeding_due = true;
}

/** The signals of the last minutes: an answer may have been lost with the listener that stored them. And the ends of
 *  what was encrypted, of a day. */
static bool remember(void *context, const struct archive_signal *signal) {
    struct listener *listener = context;
    const struct receiver *receiver = &listener->receiver;
    const int64_t ago_ms = listener_utc_ms() - signal->received_ms;
    const int64_t at_ms = host_passed_ms() - (ago_ms < 0 ? 0 : ago_ms);
    const struct receiver_stored stored = {.prefix = signal->prefix,
            .account = signal->account,
            .sequence = signal->sequence,
            .token = signal->token,
            .data = signal->data,
            .frame = signal->frame};
    receiver_remember_end(receiver, signal->frame, at_ms);
    /* A clock that was far ahead stored it: until then nothing would be news; and where one was since, it may be
     * ever so old. What was brought in by hand nobody acknowledged. Better twice than lost. */
    if (ago_ms >= -RECENT_S * 1000 && ago_ms <= RECENT_S * 1000 && !signal->imported &&
            signal->id > listener->ahead) {
        receiver_remember(receiver, &stored, at_ms);
    }
    return true;
}

static outcome make_handles(struct listener *listener, struct problem *ret_problem) {
    if (uv_tcp_init(&listener->loop, &listener->tcp) != 0 ||
            uv_udp_init_ex(&listener->loop, &listener->udp, UV_UDP_RECVMMSG) != 0 ||
            uv_timer_init(&listener->loop, &listener->tick) != 0 ||
            uv_signal_init(&listener->loop, &listener->terminate) != 0 ||
            uv_signal_init(&listener->loop, &listener->interrupt) != 0) {
        FAIL(ret_problem, PROBLEM_SYSTEM, "", "the system gives no event loop");
    }
    listener->tcp.data = listener;
    listener->udp.data = listener;
    listener->tick.data = listener;
    listener->terminate.data = listener;
    listener->interrupt.data = listener;
    return outcome_good();
}

static void set_port(struct sockaddr_storage *address, uint16_t port) {
    if (address->ss_family == AF_INET6) {
        ((struct sockaddr_in6 *)address)->sin6_port = htons(port);
    } else {
        ((struct sockaddr_in *)address)->sin_port = htons(port);
    }
}

static uint16_t port_of(const struct sockaddr_storage *address) {
    return ntohs(address->ss_family == AF_INET6 ? ((const struct sockaddr_in6 *)address)->sin6_port
                                                : ((const struct sockaddr_in *)address)->sin_port);
}

static outcome open_ports(struct listener *listener, struct problem *ret_problem) {
    const struct listener_options *options = &listener->options;
    struct sockaddr_storage address = {0};
    struct sockaddr_storage bound = {0};
    int length = sizeof bound;
    if (uv_ip4_addr(options->address, options->port, (struct sockaddr_in *)&address) != 0 &&
            uv_ip6_addr(options->address, options->port, (struct sockaddr_in6 *)&address) != 0) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "",
                "\"%.60s\" is no address; write 127.0.0.1, ::1, or one of this machine",
                options->address);
    }
    listener->port = options->port;
    if (options->tcp) {
        TRY(listener_open_tcp(listener, (struct sockaddr *)&address, ret_problem));
        if (uv_tcp_getsockname(&listener->tcp, (struct sockaddr *)&bound, &length) == 0) {
            listener->port = port_of(&bound);
        }
        set_port(&address, listener->port);
    }
    if (options->udp) {
        TRY(listener_open_udp(listener, (struct sockaddr *)&address, ret_problem));
        length = sizeof bound;
        if (uv_udp_getsockname(&listener->udp, (struct sockaddr *)&bound, &length) == 0) {
            listener->port = port_of(&bound);
        }
    }
    return outcome_good();
}

static outcome prepare(struct listener *listener, struct problem *ret_problem) {
    const struct listener_options *options = &listener->options;
    void *connections = NULL;
    TRY(places_make(&listener->arena, options->peers, &listener->places, ret_problem));
    TRY(arena_get(&listener->arena, listener->places.count, sizeof *listener->connections,
            &connections, ret_problem));
    listener->connections = connections;
    TRY(recent_make(&listener->arena, options->recent, RECENT_S, &listener->recent, ret_problem));
    TRY(recent_make(
            &listener->arena, options->recent, RECEIVER_SPENT_S, &listener->spent, ret_problem));
    listener->cipher = cipher_create();
    if (listener->cipher == NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "the library gives no AES, or there is no memory");
    }
    listener->receiver = (struct receiver){.accounts = options->accounts,
            .recent = &listener->recent,
            .spent = &listener->spent,
            .cipher_for = cipher_of,
            .context = listener};
    TRY(host_random(
            (uint8_t *)&listener->receiver.secret, sizeof listener->receiver.secret, ret_problem));
    /* what is known for a repeat is acknowledged: so it must be safe first */
    TRY(archive_settle(options->archive, ret_problem));
    const int64_t utc_ms = listener_utc_ms();
    const int64_t day_ms = (int64_t)RECEIVER_SPENT_S * 1000;
    /* What a clock stored that was over a day ahead, before anything of these days, is of a date that no frame of now
     * can have. */
    const struct archive_query lately = {.since_ms = utc_ms - day_ms, .begun_ms = utc_ms + day_ms};
    TRY(archive_last_later(
            options->archive, utc_ms + (int64_t)RECENT_S * 1000, &listener->ahead, ret_problem));
    TRY(archive_each(options->archive, lately, remember, listener, ret_problem));
    TRY(open_ports(listener, ret_problem));
    if (uv_timer_start(&listener->tick, tick, TICK_MS, TICK_MS) != 0 ||
            uv_signal_start(&listener->terminate, asked_to_stop, SIGTERM) != 0 ||
            uv_signal_start(&listener->interrupt, asked_to_stop, SIGINT) != 0) {
        FAIL(ret_problem, PROBLEM_SYSTEM, "", "the system gives no timer or no signals");
    }
    return outcome_good();
}

outcome listener_create(const struct listener_options *options, struct listener **ret_listener,
        struct problem *ret_problem) {
    struct listener *listener = calloc(1, sizeof *listener);
    if (listener == NULL || uv_loop_init(&listener->loop) != 0) {
        free(listener);
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory for a listener");
    }
    listener->options = *options;
    arena_init(&listener->arena, host_pages(), 0);
    outcome result = make_handles(listener, ret_problem);
    if (result.good) {
        result = prepare(listener, ret_problem);
    }
    if (!result.good) {
        listener_destroy(listener);
        return result;
    }
    *ret_listener = listener;
    return result;
}

uint16_t listener_port(const struct listener *listener) {
    return listener->port;
}

struct listener_counts listener_counts(const struct listener *listener) {
    return listener->counts;
}

void listener_stop(struct listener *listener) {
    listener->stopping = true;
    uv_stop(&listener->loop);
}

void listener_read(struct listener *listener) {
    enum { ROUNDS_MOST = 64, ROUNDS_NS = 100000000 };
    size_t before = 0;
    (void)uv_run(&listener->loop, UV_RUN_ONCE);
    const uint64_t until_ns = uv_hrtime() + ROUNDS_NS;
    for (int i = 0; i < ROUNDS_MOST && listener->batch.count > before &&
            !listener->somebody_waits && uv_hrtime() < until_ns;
            i++) {
        before = listener->batch.count;
        (void)uv_run(&listener->loop, UV_RUN_NOWAIT);
    }
}

void listener_run(struct listener *listener) {
    while (!listener->stopping) {
        listener_read(listener);
        listener_commit(listener, listener->stopping);
        if (listener->weeding_due) {
            listener_weed(listener);
            listener->weeding_due = false;
        }
    }
}

static void close_one(uv_handle_t *handle, void *context) {
    (void)context;
    if (uv_is_closing(handle) == 0) {
        uv_close(handle, NULL);
    }
}

void listener_destroy(struct listener *listener) {
    if (listener == NULL) {
        return;
    }
    listener->stopping = true;
    if (listener->connections != NULL) {
        listener_close_connections(listener);
    }
    uv_walk(&listener->loop, close_one, NULL);
    (void)uv_run(&listener->loop, UV_RUN_DEFAULT);
    (void)uv_loop_close(&listener->loop);
    cipher_destroy(listener->cipher);
    arena_finish(&listener->arena);
    free(listener);
}
