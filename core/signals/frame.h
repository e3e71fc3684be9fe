/* Frames of IP event reporting: line feed, check sum, length, body, carriage return. Reading is in two steps, so
 * that the sum, the length and the account of an encrypted frame are known before anybody has a key: frame_read,
 * then frame_open. Nothing here allocates, and nothing is read past what was given. The cipher is passed in.
 * Source: ANSI/SIA DC-09, editions 2007 to 2021 as far as they were read; each figure's certainty in
 * docs/signals.md. */
#ifndef LINTEL_SIGNALS_FRAME_H
#define LINTEL_SIGNALS_FRAME_H

#include "base/text.h"
#include "signals/fault.h"

#include <stdint.h>

enum {
    FRAME_BODY_MAX = 0xFFF, /* characters: three hex digits say how many */
    FRAME_HEAD_LENGTH = 9,  /* line feed, sum, length */
    FRAME_MAX = FRAME_BODY_MAX + FRAME_HEAD_LENGTH + 1,
    FRAME_EXTRA_MAX = 16,
    FRAME_BLOCK = 16,                     /* bytes of a cipher block */
    FRAME_CLEAR_MAX = FRAME_BODY_MAX / 2, /* of what an encrypted frame holds: two digits a byte */
};

enum frame_token {
    FRAME_TOKEN_OTHER,      /* one that Lintel carries and does not read */
    FRAME_TOKEN_SIA,        /* SIA-DCS: an event text of DC-03 */
    FRAME_TOKEN_CONTACT_ID, /* ADM-CID: an event of DC-05 */
    FRAME_TOKEN_NULL,       /* link test */
    FRAME_TOKEN_ACK,
    FRAME_TOKEN_NAK,
    FRAME_TOKEN_DUH,
    FRAME_TOKEN_RSP,
    FRAME_TOKEN_COUNT
};

/** Extended data: [letter text]. */
struct frame_extra {
    char letter;
    struct text value;
};

/** What stands in a frame's brackets and after them. data: event text with the account and bar before it as they came;
 *  pad: bytes before the bar of an encrypted frame. */
struct frame_content {
    struct text pad;
    struct text data;
    struct frame_extra extras[FRAME_EXTRA_MAX];
    size_t extra_count;
    bool stamped;
    int64_t stamp_s; /* since 1970-01-01 UTC */
};

/** A frame. Texts are slices of the source (of the buffer of frame_open, in an opened one's content).
 *  token_text: without star. receiver, prefix, account: the digits without R, L, #. receiver empty: not said.
 *  cipher: the hex digits of an encrypted frame; its content is empty until frame_open. */
struct frame {
    enum frame_token token;
    struct text token_text;
    bool encrypted;
    uint16_t sequence;
    struct text receiver;
    struct text prefix;
    struct text account;
    struct text cipher;
    size_t cipher_at; /* offset of the digits in the frame, for faults */
    struct frame_content content;
};

/** A block cipher in CBC mode with a zero vector, under some key. bytes: a multiple of FRAME_BLOCK, changed in place.
 *  Gives false where the library failed. Source of mode and vector: ANSI/SIA DC-09-2007, clause 5.4.6; NIST SP
 *  800-38A. */
struct frame_cipher {
    bool (*encrypt)(void *context, uint8_t *bytes, size_t length);
    bool (*decrypt)(void *context, uint8_t *bytes, size_t length);
    void *context;
};

/** Reads a whole frame, line feed to carriage return, nothing before or after it. ret_frame: keeps slices of source;
 *  untouched on failure. The sum and the length are held against the bytes first: where they do not fit, nothing
 *  else is looked at. */
bool frame_read(struct text source, struct frame *ret_frame, struct signal_fault *ret_fault)
        MUST_CHECK;

/** As frame_read, for who listens: a time in clear that no clock shows (00-00-0000, where none was ever set; a leap
 *  second) counts as none. Nothing hangs on it, and it must not keep an alarm out. */
bool frame_hear(struct text source, struct frame *ret_frame, struct signal_fault *ret_fault)
        MUST_CHECK;

/** Opens an encrypted frame into its content. room: at least half of frame->cipher's length. A frame whose content
 *  makes no sense, has a pad of more than FRAME_BLOCK bytes or control bytes in what it says fails KEY (most likely
 *  another key); one without a time NO_STAMP. On failure the content is untouched. */
bool frame_open(struct frame *frame, struct frame_cipher cipher, uint8_t *room, size_t room_length,
        struct signal_fault *ret_fault) MUST_CHECK;

/** Writes a frame. cipher: for an encrypted one, else NULL; frame->content.pad then gives the bytes to pad with: the
 *  first as many as are needed are taken, FRAME_BLOCK are always enough (random, none of [ ] |: the caller's duty,
 *  refused otherwise). ret_bytes: FRAME_MAX; ret_length: how many were written. Nothing of ret_bytes counts on
 *  failure. */
bool frame_write(const struct frame *frame, const struct frame_cipher *cipher,
        char ret_bytes[FRAME_MAX], size_t *ret_length, struct signal_fault *ret_fault) MUST_CHECK;

/** Where a stream stands. */
enum frame_scan { FRAME_SCAN_WHOLE, FRAME_SCAN_MORE, FRAME_SCAN_SKIP };

/** The next frame of a stream. WHOLE: *ret_begins and *ret_length enclose what may be one (frame_read tells). MORE:
 *  a frame may have begun at *ret_begins; more bytes are needed. SKIP: the first *ret_begins bytes are no frame and
 *  can be dropped. bytes: what came and was not used yet. A frame that never ends is given up after FRAME_MAX bytes. */
enum frame_scan frame_scan(struct text bytes, size_t *ret_begins, size_t *ret_length);

/** The token's name, "" for OTHER. */
const char *frame_token_name(enum frame_token token);

/** Data without the account before them: what stands after the bar of "#1234|1130 01 015" or "|1130 01 015".
 *  account: the digits before it, empty where there are none. Data without a bar are given whole. */
struct text frame_event_text(struct text data, struct text *ret_account);

#endif
