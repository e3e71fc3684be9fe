#include "signals/recent.h"

enum { SECOND_MS = 1000 };

outcome recent_make(
        struct arena *arena, size_t most, struct recent *ret_recent, struct problem *ret_problem) {
    size_t buckets = 1;
    void *messages = NULL;
    while (buckets * RECENT_SIDE_BY_SIDE < most) {
        buckets *= 2;
    }
    TRY(arena_get(arena, buckets * RECENT_SIDE_BY_SIDE, sizeof *ret_recent->messages, &messages,
            ret_problem));
    *ret_recent = (struct recent){.messages = messages, .buckets = buckets};
    return outcome_good();
}

static struct recent_message *bucket_of(const struct recent *recent, uint64_t digest) {
    /* the upper half as well, which a hash of bytes mixes better */
    size_t bucket = (size_t)(digest ^ digest >> 32) & (recent->buckets - 1);
    return recent->messages + bucket * RECENT_SIDE_BY_SIDE;
}

/** at_ms 0 is a free place. Instants are kept later by the time that is looked back: a message of an archive may have
 *  come before the machine, and so its steady clock, was started. */
static int64_t kept(int64_t at_ms) {
    return at_ms + RECENT_S * SECOND_MS + 1;
}

static bool is_it(const struct recent_message *message, uint32_t owner, uint64_t digest) {
    return message->at_ms != 0 && message->digest == digest && message->owner == owner;
}

bool recent_has(const struct recent *recent, uint32_t owner, uint64_t digest, int64_t now_ms) {
    const struct recent_message *messages = bucket_of(recent, digest);
    for (size_t i = 0; i < RECENT_SIDE_BY_SIDE; i++) {
        if (is_it(&messages[i], owner, digest) &&
                kept(now_ms) - messages[i].at_ms <= RECENT_S * SECOND_MS) {
            return true;
        }
    }
    return false;
}

/** Where the message stands, else the place of the oldest, which a free one is. */
static struct recent_message *place_of(
        struct recent_message *messages, uint32_t owner, uint64_t digest) {
    struct recent_message *oldest = messages;
    for (size_t i = 0; i < RECENT_SIDE_BY_SIDE; i++) {
        if (is_it(&messages[i], owner, digest)) {
            return &messages[i];
        }
        oldest = messages[i].at_ms < oldest->at_ms ? &messages[i] : oldest;
    }
    return oldest;
}

void recent_note(struct recent *recent, uint32_t owner, uint64_t digest, int64_t now_ms) {
    *place_of(bucket_of(recent, digest), owner, digest) =
            (struct recent_message){.digest = digest, .at_ms = kept(now_ms), .owner = owner};
}

void recent_forget(struct recent *recent, uint32_t owner, uint64_t digest) {
    struct recent_message *messages = bucket_of(recent, digest);
    for (size_t i = 0; i < RECENT_SIDE_BY_SIDE; i++) {
        if (is_it(&messages[i], owner, digest)) {
            messages[i] = (struct recent_message){0};
        }
    }
}
