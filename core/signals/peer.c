#include "signals/peer.h"

#include <string.h>

enum { FRAME_THOUSANDTHS = 1000, SECOND_MS = 1000 };

static int64_t full(const struct peer_limits *limits) {
    return (int64_t)limits->rate * FRAME_THOUSANDTHS;
}

void peer_begin(struct peer *peer, const struct peer_limits *limits, int64_t now_ms) {
    peer->begins = 0;
    peer->used = 0;
    peer->since_ms = now_ms;
    peer->heard_ms = now_ms;
    peer->frame_ms = now_ms;
    peer->rate = (struct peer_rate){.at_ms = now_ms, .may = full(limits)};
    peer->noise = 0;
    peer->known = false;
}

void peer_take(struct peer *peer, struct text *bytes, int64_t now_ms) {
    size_t waits = peer->used - peer->begins;
    if (peer->begins > 0) {
        memmove(peer->bytes, peer->bytes + peer->begins, waits);
        peer->begins = 0;
        peer->used = waits;
    }
    if (waits == 0) {
        peer->frame_ms = now_ms;
    }
    size_t room = sizeof peer->bytes - waits;
    size_t count = bytes->length < room ? bytes->length : room;
    if (count > 0) {
        memcpy(peer->bytes + waits, bytes->start, count);
        peer->heard_ms = now_ms;
    }
    peer->used += count;
    *bytes = (struct text){bytes->start + count, bytes->length - count};
}

bool peer_next(struct peer *peer, int64_t now_ms, struct text *ret_frame) {
    while (peer->used > peer->begins) {
        const struct text waits = {peer->bytes + peer->begins, peer->used - peer->begins};
        size_t begins = 0;
        size_t length = 0;
        enum frame_scan scan = frame_scan(waits, &begins, &length);
        if (scan == FRAME_SCAN_MORE) {
            return false;
        }
        /* What comes behind has its own time from now on. */
        peer->frame_ms = now_ms;
        if (scan == FRAME_SCAN_WHOLE) {
            peer->noise += begins;
            peer->begins += begins + length;
            *ret_frame = (struct text){waits.start + begins, length};
            return true;
        }
        peer->noise += begins;
        peer->begins += begins;
    }
    return false;
}

size_t peer_skip(struct peer *peer, int64_t now_ms) {
    struct text frame;
    size_t count = 0;
    for (; peer_next(peer, now_ms, &frame); count++) {
        peer_was_noise(peer, frame.length);
    }
    return count;
}

bool peer_may(struct peer_rate *rate, const struct peer_limits *limits, int64_t now_ms) {
    if (limits->rate == 0) {
        return true;
    }
    /* a second fills it: what passed beyond does not count, and would overflow */
    int64_t passed_ms = now_ms - rate->at_ms;
    passed_ms = passed_ms > SECOND_MS ? SECOND_MS : passed_ms < 0 ? 0 : passed_ms;
    rate->at_ms = now_ms;
    rate->may += passed_ms * (int64_t)limits->rate;
    rate->may = rate->may > full(limits) ? full(limits) : rate->may;
    if (rate->may < FRAME_THOUSANDTHS) {
        return false;
    }
    rate->may -= FRAME_THOUSANDTHS;
    return true;
}

void peer_was_good(struct peer *peer) {
    peer->known = true;
    peer->noise = 0;
}

void peer_was_noise(struct peer *peer, size_t length) {
    peer->noise += length;
}

static bool over(int64_t limit_ms, int64_t from_ms, int64_t now_ms) {
    return limit_ms > 0 && now_ms - from_ms > limit_ms;
}

enum peer_end peer_end(const struct peer *peer, const struct peer_limits *limits, int64_t now_ms) {
    if (limits->noise > 0 && peer->noise > limits->noise) {
        return PEER_NOISY;
    }
    if (peer->used > peer->begins && over(limits->slow_ms, peer->frame_ms, now_ms)) {
        return PEER_SLOW;
    }
    if (!peer->known && over(limits->stranger_ms, peer->since_ms, now_ms)) {
        return PEER_STRANGE;
    }
    return peer->known && over(limits->idle_ms, peer->heard_ms, now_ms) ? PEER_IDLE : PEER_STAYS;
}

const char *peer_end_words(enum peer_end end) {
    static const char *const words[PEER_END_COUNT] = {
            [PEER_STAYS] = "stays",
            [PEER_STRANGE] = "has sent nothing that could be taken",
            [PEER_IDLE] = "has said nothing for too long",
            [PEER_SLOW] = "began a frame and does not end it",
            [PEER_NOISY] = "sends bytes that are no frames",
    };
    return words[end];
}
