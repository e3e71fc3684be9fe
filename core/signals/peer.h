/* One peer of a receiver: bytes go in as they come, in whatever pieces, and whole frames come out. Bounded: it holds
 * one frame at most, and says when its peer should be dropped. */
#ifndef LINTEL_SIGNALS_PEER_H
#define LINTEL_SIGNALS_PEER_H

#include "signals/frame.h"

/** How patient a receiver is. 0 of any: without end. House practice: no standard says it. */
struct peer_limits {
    int64_t stranger_ms; /* from its first instant, to a peer that has never sent a frame that was taken */
    int64_t idle_ms; /* between bytes, to one that has */
    int64_t slow_ms; /* from the first byte of a frame to its last */
    uint64_t noise;  /* bytes that belong to no frame, since the last good frame */
    uint32_t rate;   /* frames a second that are looked at; as many at once */
};

/** How many frames may be looked at. may: in thousandths; at_ms: when that was so. */
struct peer_rate {
    int64_t at_ms;
    int64_t may;
};

/** begins, used: which of the bytes wait. */
struct peer {
    char bytes[FRAME_MAX];
    size_t begins;
    size_t used;
    int64_t since_ms; /* it came */
    int64_t heard_ms; /* the last byte */
    int64_t frame_ms; /* the first byte of what waits */
    struct peer_rate rate;
    uint64_t noise;
    bool known; /* a frame of its was taken */
};

enum peer_end {
    PEER_STAYS,
    PEER_STRANGE, /* says nothing that can be taken */
    PEER_IDLE,
    PEER_SLOW,
    PEER_NOISY,
    PEER_END_COUNT
};

/** Begins a peer. The bytes themselves are not touched. Instants are of a clock that never jumps. */
void peer_begin(struct peer *peer, const struct peer_limits *limits, int64_t now_ms);

/** Takes bytes as they came: as many as there is room for, off the front of *bytes. Call peer_next until it gives
 *  nothing, then again until *bytes is empty. */
void peer_take(struct peer *peer, struct text *bytes, int64_t now_ms);

/** The next frame, or what may be one: good until the next call for the peer; false: none is whole yet. */
bool peer_next(struct peer *peer, int64_t now_ms, struct text *ret_frame);

/** Skips the whole frames that wait, as noise; how many they were. */
size_t peer_skip(struct peer *peer, int64_t now_ms);

/** Whether the rate allows another frame now; counts it. A zeroed rate is one that has been quiet. */
bool peer_may(struct peer_rate *rate, const struct peer_limits *limits, int64_t now_ms);

/** A frame of its was taken: it is known, and its noise forgiven. */
void peer_was_good(struct peer *peer);

/** So many of its bytes were no frame after all. */
void peer_was_noise(struct peer *peer, size_t length);

/** Whether it should be dropped. */
enum peer_end peer_end(const struct peer *peer, const struct peer_limits *limits, int64_t now_ms);

/** "idle": for a log. */
const char *peer_end_words(enum peer_end end);

#endif
