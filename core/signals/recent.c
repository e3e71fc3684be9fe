#include "signals/recent.h"

enum { SECOND_MS = 1000 };

outcome recent_make(struct arena *arena, size_t most, int64_t keep_s, struct recent *ret_recent,
        struct problem *ret_problem) {
    size_t buckets = 1;
    void *messages = NULL;
    while (buckets * RECENT_SIDE_BY_SIDE < most) {
        buckets *= 2;
    }
    TRY(arena_get(arena, buckets * RECENT_SIDE_BY_SIDE, sizeof *ret_recent->messages, &messages,
            ret_problem));
    *ret_recent = (struct recent){
            .messages = messages, .buckets = buckets, .keep_ms = keep_s * SECOND_MS};
    return outcome_good();
}

static struct recent_message *bucket_of(const struct recent *recent, uint64_t digest) {
    /* the upper half as well, which a hash of bytes mixes better */
    size_t bucket = (size_t)(digest ^ digest >> 32) & (recent->buckets - 1);
    return recent->messages + bucket * RECENT_SIDE_BY_SIDE;
}

/** at_ms 0 is a free place. Instants are kept later by the time that is looked back: a message of an archive may have
 *  come before the machine, and so its steady clock, was started. */
static int64_t kept(const struct recent *recent, int64_t at_ms) {
    return at_ms + recent->keep_ms + 1;
}

static bool is_known(
        const struct recent *recent, const struct recent_message *message, int64_t now_ms) {
    return message->at_ms != 0 && kept(recent, now_ms) - message->at_ms <= recent->keep_ms;
}

static bool is_it(const struct recent_message *message, uint32_t owner, uint64_t digest) {
    return message->at_ms != 0 && message->digest == digest && message->owner == owner;
}

bool recent_has(const struct recent *recent, uint32_t owner, uint64_t digest, int64_t now_ms) {
    const struct recent_message *messages = bucket_of(recent, digest);
    for (size_t i = 0; i < RECENT_SIDE_BY_SIDE; i++) {
        if (is_it(&messages[i], owner, digest) && is_known(recent, &messages[i], now_ms)) {
            return true;
        }
    }
    return false;
}

/** How many of a bucket are the owner's; the one that is to come counts. */
static size_t share_of(
        const struct recent_message *messages, uint32_t owner, uint32_t owner_to_come) {
    size_t count = owner == owner_to_come;
    for (size_t i = 0; i < RECENT_SIDE_BY_SIDE; i++) {
        count += messages[i].owner == owner;
    }
    return count;
}

/** Who gives way in a full bucket. */
static struct recent_message *least_missed(struct recent_message *messages, uint32_t owner) {
    struct recent_message *least = messages;
    size_t most = 0;
    for (size_t i = 0; i < RECENT_SIDE_BY_SIDE; i++) {
        const size_t share = share_of(messages, messages[i].owner, owner);
        if (share > most || (share == most && messages[i].at_ms < least->at_ms)) {
            least = &messages[i];
            most = share;
        }
    }
    return least;
}

/** Where the message stands, else a place that is free, or whose message is not known any more. */
static struct recent_message *place_of(
        const struct recent *recent, uint32_t owner, uint64_t digest, int64_t now_ms) {
    struct recent_message *messages = bucket_of(recent, digest);
    struct recent_message *unused = NULL;
    for (size_t i = 0; i < RECENT_SIDE_BY_SIDE; i++) {
        if (is_it(&messages[i], owner, digest)) {
            return &messages[i];
        }
        unused = is_known(recent, &messages[i], now_ms) ? unused : &messages[i];
    }
    return unused != NULL ? unused : least_missed(messages, owner);
}

void recent_note(struct recent *recent, uint32_t owner, uint64_t digest, int64_t now_ms) {
    if (kept(recent, now_ms) > 0) {
        *place_of(recent, owner, digest, now_ms) = (struct recent_message){
                .digest = digest, .at_ms = kept(recent, now_ms), .owner = owner};
    }
}

void recent_forget(struct recent *recent, uint32_t owner, uint64_t digest) {
    struct recent_message *messages = bucket_of(recent, digest);
    for (size_t i = 0; i < RECENT_SIDE_BY_SIDE; i++) {
        if (is_it(&messages[i], owner, digest)) {
            messages[i] = (struct recent_message){0};
        }
    }
}
