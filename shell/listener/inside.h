/* What the files of the listener share; nobody else includes it. */
#ifndef LINTEL_LISTENER_INSIDE_H
#define LINTEL_LISTENER_INSIDE_H

#include "cipher/cipher.h"
#include "listener/listener.h"
#include "signals/places.h"

#include <uv.h>

enum {
    BATCH_MOST = 4096,            /* answers that wait for one commit */
    BATCH_ROOM = 4 * 1024 * 1024, /* bytes of frames and data that wait with them */
    READ_ROOM = 64 * 1024,
    PACKETS_MOST = 20,  /* that are taken from the system at once; each has a READ_ROOM */
    REFUSALS_MOST = 64, /* kinds of refusal by peer, in a second; the last: all others */
    REFUSAL_SAMPLE = 64,
    NAME_ROOM = 80,    /* "tcp [0123:...]:12345" */
    RATE_SLOTS = 4096, /* of UDP senders */
    TICK_MS = 250,
    PADS = 256,
};

/** Where an answer goes: a TCP connection by its place and the number of its life, or a UDP address. */
struct addressee {
    bool tcp;
    size_t place;
    uint64_t life;
    struct sockaddr_storage address;
};

/** One frame that waits for the commit. signal: NO_SIGNAL where none is stored. owner, mark, cipher: as they were
 *  noted (mark 0: nothing was). */
struct waiting {
    struct addressee to;
    size_t signal;
    uint32_t owner;
    uint64_t mark;
    uint64_t cipher;
    size_t answer_length;
    char answer[RECEIVER_ANSWER_MAX];
};

#define NO_SIGNAL ((size_t)-1)

/** All that is stored in one go. Texts of the signals lie in `room`. */
struct batch {
    struct waiting waiting[BATCH_MOST];
    struct archive_signal signals[BATCH_MOST];
    size_t count;
    size_t signal_count;
    char room[BATCH_ROOM];
    size_t used;
};

/** Refusals of the running second. Texts of each lie in it. */
struct refusals {
    struct archive_refusal rows[REFUSALS_MOST];
    char names[REFUSALS_MOST][NAME_ROOM];
    char accounts[REFUSALS_MOST][ACCOUNT_DIGITS_MAX];
    char samples[REFUSALS_MOST][REFUSAL_SAMPLE];
    size_t count;
    int64_t since_ms;
};

/** One TCP connection. life: odd while it is used, counted up with each use and end of use. owed: answers that wait for
 *  the commit. leaving: it is not read any more, and closed once they have been given, or cannot be. */
struct connection {
    uv_tcp_t handle;
    struct listener *listener;
    uint64_t life;
    char name[NAME_ROOM];
    struct peer peer;
    size_t owed;
    bool leaving;
};

struct listener {
    struct listener_options options;
    uv_loop_t loop;
    uv_tcp_t tcp;
    uv_udp_t udp;
    uv_timer_t tick;
    uv_signal_t terminate;
    uv_signal_t interrupt;
    uint16_t port;
    bool stopping;
    bool in_trouble;
    bool weeding_due;
    int64_t ahead; /* the last signal of the archive that a clock stored which was ahead of ours of now */
    bool somebody_waits; /* has knocked, and was not let in yet */
    struct arena arena;
    struct places places;
    struct connection *connections; /* by place */
    struct peer_rate udp_rates[RATE_SLOTS];
    struct cipher *cipher;
    struct recent recent;
    struct recent spent;
    struct receiver receiver;
    struct listener_counts counts;
    struct refusals refusals;
    struct batch batch;
    size_t pads_left;
    char pads[PADS * FRAME_BLOCK];
    char read_room[READ_ROOM * PACKETS_MOST];
};

/** Judges a frame and has it wait for the commit; stores the batch first where it is full. name: of the peer. Gives the
 *  verdict. */
enum receiver_verdict listener_take(struct listener *listener, struct text frame,
        const struct addressee *from, const char *name);

/** Notes so many frames as refused; account and frame are of the first. */
void listener_refuse(struct listener *listener, enum receiver_reason reason, size_t count,
        const char *name, struct text account, struct text frame);

/** Stores what waits, then sends the answers; refusals too once a second has passed (or `all`). */
void listener_commit(struct listener *listener, bool all);

/** Reads all that is ready: rounds without waiting, until one brings nothing new, or they have taken so long that who
 *  came first would wait for the noise of others. What comes while the batch is stored waits in the system's own
 *  buffers, and makes the next one: the slower the disk, the larger the groups. Nor is anything more read once somebody
 *  waits for a place, which those who leave hold until the commit. */
void listener_read(struct listener *listener);

/** Clocks: steady, and that of the calendar. */
int64_t listener_steady_ms(const struct listener *listener);
int64_t listener_utc_ms(void);

outcome listener_open_tcp(struct listener *listener, const struct sockaddr *address,
        struct problem *ret_problem) MUST_CHECK;
outcome listener_open_udp(struct listener *listener, const struct sockaddr *address,
        struct problem *ret_problem) MUST_CHECK;

/** Drops the TCP peers that are a burden. */
void listener_weed(struct listener *listener);
void listener_close_connections(struct listener *listener);

/** Sends an answer, or (not stored) withholds it; then who was leaving and is owed no more is closed. False: its peer
 *  does not read, and was dropped. */
bool listener_send_tcp(struct listener *listener, const struct waiting *waiting, bool stored);
void listener_send_udp(struct listener *listener, const struct waiting *waiting);

/** What counts as one sender, as a number that nobody can reckon who does not know the listener's secret: who has many
 *  addresses would find one that shares what another has. */
uint64_t listener_sender_hash(
        const struct listener *listener, const struct sockaddr_storage *address);

/** The rate of a UDP sender; two may share one. */
struct peer_rate *listener_rate_of(
        struct listener *listener, const struct sockaddr_storage *address);

/** "tcp 127.0.0.1:50012". */
void listener_name(
        const char *kind, const struct sockaddr_storage *address, char ret_name[NAME_ROOM]);

#endif
