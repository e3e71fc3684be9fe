/* The sender: one panel's signals to a receiver, over TCP or UDP, each sent until it is acknowledged. */
#ifndef LINTEL_SENDER_SENDER_H
#define LINTEL_SENDER_SENDER_H

#include "cipher/cipher.h"
#include "signals/frame.h"

/** Where to, and as whom. host: an address or name; port: digits; both are kept. account: with a key, frames are
 *  encrypted. tries: of one frame; wait_ms: for an answer to each. House practice: 3 and 5 s. */
struct sender_options {
    const char *host;
    const char *port;
    bool udp;
    struct account account;
    int tries;
    int wait_ms;
};

struct sender;

/** Connects. ret_sender: destroy it; untouched on failure. Fails SYSTEM (no such host, nobody listens), MEMORY. */
outcome sender_create(const struct sender_options *options, struct sender **ret_sender,
        struct problem *ret_problem) MUST_CHECK;
void sender_destroy(struct sender *sender);

/** By so much a receiver's clock may be off: any zone's. House practice. */
enum { SENDER_OFF_MOST_S = 86400 };

/** Sends one message and waits for its acknowledgement; what answers an earlier frame is passed over. After the first
 *  NAK the clock of the sender is put right by the time in it, and the frame goes out again. A NAK has no seal, anybody
 *  can make one: so only one in the standard's form counts, of what was encrypted, once a message, by SENDER_OFF_MOST_S
 *  at most; and the time stays only if the acknowledgement comes for it. With a key, an acknowledgement is one that
 *  opens and holds a time that is right and nothing else, no frame of ours, none that counted before. A connection that
 *  broke is made anew. token: of FRAME_TOKEN_CONTACT_ID, _SIA, _NULL. Fails SYSTEM (no acknowledgement, nobody is
 *  there), BAD_VALUE (refused with DUH, or with NAKs though the clock is right: the text says what may be the reason).
 */
outcome sender_send(struct sender *sender, enum frame_token token, struct text data,
        struct problem *ret_problem) MUST_CHECK;

/** By how much the receiver's clock is ahead of this machine's, s; 0 as long as it has not said so. */
int64_t sender_off_s(const struct sender *sender);

#endif
