/* What a receiver does with a frame: take it, know it for a repeat, refuse it in the way the standard says, or stay
 * silent; and the answer, as bytes. Decides only: whoever stores what is to be stored sends the answer afterwards.
 * Source: ANSI/SIA DC-09, clauses 5.5.1 to 5.5.3; how sure each is: docs/signals.md. */
#ifndef LINTEL_SIGNALS_RECEIVER_H
#define LINTEL_SIGNALS_RECEIVER_H

#include "signals/accounts.h"
#include "signals/frame.h"
#include "signals/recent.h"
#include "signals/siphash.h"

enum {
    RECEIVER_ANSWER_MAX = 256, /* bytes: an answer repeats the header and holds a time at most */
    /* What was encrypted ends with minute, second and date, in a block that nobody without the key can make; the hour
     * stands before it and can be changed. So an end could come again until its day is over. A clock that is set back
     * by less than a day brings back no old frame either. */
    RECEIVER_SPENT_S = 86400 + 60,
};

enum receiver_verdict {
    RECEIVER_SILENT, /* nothing is answered */
    RECEIVER_REFUSE, /* answered with NAK or DUH */
    RECEIVER_LINK,   /* a link test: acknowledged, not stored */
    RECEIVER_REPEAT, /* acknowledged again, stored already */
    RECEIVER_STORE,  /* new: to be stored, then acknowledged */
    RECEIVER_VERDICT_COUNT
};

/** Why a frame is not taken. */
enum receiver_reason {
    RECEIVER_FINE,
    RECEIVER_NO_FRAME,      /* sum, length or form: `fault` says where; silent */
    RECEIVER_IS_ANSWER,     /* an answer comes to a receiver; silent */
    RECEIVER_STRANGER,      /* no such account; DUH */
    RECEIVER_MUST_ENCRYPT,  /* in clear, though the account has a key; DUH */
    RECEIVER_HAS_NO_KEY,    /* encrypted, though the account has none; DUH */
    RECEIVER_OTHER_KEY,     /* the key opens it to nonsense; NAK, as of a clock: see receiver.c */
    RECEIVER_REPLAY,        /* its encrypted end came before, in another message; NAK */
    RECEIVER_OTHER_ACCOUNT, /* it names another account within than without; DUH, encrypted NAK */
    RECEIVER_CLOCK,         /* the time in it is out of the window; NAK */
    RECEIVER_OTHER_KIND, /* neither event format that is read here; DUH, or NAK: see receiver.c */
    RECEIVER_BAD_EVENT,  /* whole, but what it says is no event; DUH, or NAK: see receiver.c */
    RECEIVER_TOO_MANY,   /* more a second than a peer may send; silent (the listener's word) */
    RECEIVER_REASON_COUNT
};

/** What a receiver knows. recent: messages, for RECENT_S. spent: the ends of what was encrypted, each of which counts
 *  once, for RECEIVER_SPENT_S; nobody without a key adds to it, so that a flood in clear pushes nothing out.
 *  cipher_for: the cipher of an account that has a key. secret: random, new at each start; what is noted is marked
 *  with it. */
struct receiver {
    const struct accounts *accounts;
    struct recent *recent;
    struct recent *spent;
    struct frame_cipher (*cipher_for)(void *context, const struct account *account);
    void *context;
    struct siphash_key secret;
};

/** What came of one frame. frame: its texts are slices of the source, or of `room` for what was opened. account: NULL
 *  for a stranger's. owner: of the account, for `recent`. digest: of the message, for the archive. mark, cipher: of the
 *  message, and of the end of what was encrypted, as they were noted (0: was not). answer: to be sent once the signal
 *  is stored. final: it was encrypted, and came from who has the key, just now, but can never be taken. */
struct receiver_answer {
    enum receiver_verdict verdict;
    enum receiver_reason reason;
    struct signal_fault fault;
    struct frame frame;
    const struct account *account;
    uint32_t owner;
    uint64_t digest;
    uint64_t mark;
    uint64_t cipher;
    bool final;
    char answer[RECEIVER_ANSWER_MAX];
    size_t answer_length;
};

/** The instants of a frame. utc_s: the clock, since 1970, against which its time is held; steady_ms: of one that never
 *  jumps and goes on while the machine sleeps, for repeats. */
struct receiver_now {
    int64_t utc_s;
    int64_t steady_ms;
};

/** Judges a frame. source: line feed to carriage return. pad: random bytes for the answer, none of [ ] |. room: for
 *  what is opened; the answer borrows it. A message that is taken is noted as recent at once, and so is a repeat: where
 *  it could not be stored, the caller calls receiver_forget, else its repeat would be acknowledged for nothing. */
void receiver_judge(const struct receiver *receiver, struct text source, struct receiver_now now,
        const char pad[FRAME_BLOCK], uint8_t room[FRAME_CLEAR_MAX],
        struct receiver_answer *ret_answer);

/** The account's number for `recent`. */
uint32_t receiver_owner(const struct receiver *receiver, const struct account *account);

/** Takes back what was noted of an answer's message; of mark and cipher each may be 0. */
void receiver_forget(
        const struct receiver *receiver, uint32_t owner, uint64_t mark, uint64_t cipher);

/** A signal as an archive has it. frame: its raw bytes. */
struct receiver_stored {
    uint32_t prefix;
    struct text account;
    uint16_t sequence;
    struct text token;
    struct text data;
    struct text frame;
};

/** Notes a message that is stored already. at_ms: of the steady clock; may be before 0. Nothing for one of an account
 *  that is not known any more, nor for one that does not say what its frame says: a repeat is acknowledged, so what it
 *  repeats must be there. */
void receiver_remember(
        const struct receiver *receiver, const struct receiver_stored *stored, int64_t at_ms);

/** Notes that the end of a frame that was encrypted came before, whatever became of it. */
void receiver_remember_end(const struct receiver *receiver, struct text frame, int64_t at_ms);

/** In words: "its account is not in the key file". Never NULL. */
const char *receiver_reason_words(enum receiver_reason reason);

#endif
