/* Messages of the last minutes: whether one came before. A fixed amount of memory, whatever comes. */
#ifndef LINTEL_SIGNALS_RECENT_H
#define LINTEL_SIGNALS_RECENT_H

#include "base/arena.h"

#include <stdint.h>

enum {
    /* A sender that hears no answer repeats after 5 s to 60 s, some times over (DC-09, from memory, unsure); an
     * encrypted frame could be played back to us for a minute (signals/stamp.h). Later, the same number with the same
     * words is a new event: a panel that was switched off begins to count anew. House practice. */
    RECENT_S = 300,
    RECENT_SIDE_BY_SIDE = 8, /* messages of one bucket */
};

/** owner: whose message it is. digest: one that nobody can foresee (frame_mark), where strangers send: else one message
 *  could be made to look like another, or to push another one out of its bucket. */
struct recent_message {
    uint64_t digest;
    int64_t at_ms;
    uint32_t owner;
};

/** buckets: a power of two. keep_ms: how long one is known. */
struct recent {
    struct recent_message *messages;
    size_t buckets;
    int64_t keep_ms;
};

/** Makes an empty one for at least `most` messages, each known for keep_s. Fails MEMORY. */
outcome recent_make(struct arena *arena, size_t most, int64_t keep_s, struct recent *ret_recent,
        struct problem *ret_problem) MUST_CHECK;

/** Whether the owner's message came within keep_ms before now_ms, which is of a clock that never jumps. */
bool recent_has(const struct recent *recent, uint32_t owner, uint64_t digest, int64_t now_ms);

/** Notes one; forget takes it back. now_ms may be before 0; by more than keep_ms: nothing is noted. Where a bucket is
 *  full, the oldest of the owner who has the most in it gives way: whoever sends many pushes out his own. */
void recent_note(struct recent *recent, uint32_t owner, uint64_t digest, int64_t now_ms);
void recent_forget(struct recent *recent, uint32_t owner, uint64_t digest);

#endif
