#include "signals/crc.h"
#include "signals/frame.h"
#include "signals/stamp.h"

#include <string.h>

/** Writing from left to right into a buffer that may be too small: `full` then stays set. */
struct sink {
    char *bytes;
    size_t at;
    size_t room;
    bool full;
};

static void put_bytes(struct sink *sink, const char *bytes, size_t length) {
    if (length > sink->room - sink->at) {
        sink->full = true;
        return;
    }
    if (length > 0) {
        memcpy(sink->bytes + sink->at, bytes, length);
    }
    sink->at += length;
}

static void put_text(struct sink *sink, struct text text) {
    put_bytes(sink, text.start, text.length);
}

static void put(struct sink *sink, const char *string) {
    put_text(sink, text_of(string));
}

static void put_hex(struct sink *sink, unsigned number, int digits) {
    char hex[8];
    for (int i = digits - 1; i >= 0; i--) {
        hex[i] = "0123456789ABCDEF"[number % 16];
        number /= 16;
    }
    put_bytes(sink, hex, (size_t)digits);
}

static void put_header(struct sink *sink, const struct frame *frame) {
    char sequence[4];
    unsigned number = frame->sequence;
    for (int i = 3; i >= 0; i--) {
        sequence[i] = (char)('0' + number % 10);
        number /= 10;
    }
    put(sink, frame->encrypted ? "\"*" : "\"");
    put_text(sink,
            frame->token == FRAME_TOKEN_OTHER ? frame->token_text
                                              : text_of(frame_token_name(frame->token)));
    put(sink, "\"");
    put_bytes(sink, sequence, sizeof sequence);
    if (frame->receiver.length > 0) {
        put(sink, "R");
        put_text(sink, frame->receiver);
    }
    put(sink, "L");
    put_text(sink, frame->prefix);
    put(sink, frame->token == FRAME_TOKEN_NAK ? "A" : "#");
    put_text(sink, frame->account);
    put(sink, "[");
}

/** Nothing that would end a block, or the frame, before its time: a name typed with a bracket must not forge a
 *  field. */
static bool keeps_within(struct text text) {
    for (size_t i = 0; i < text.length; i++) {
        char byte = text.start[i];
        if (byte == '[' || byte == ']' || byte == '\r' || byte == '\n') {
            return false;
        }
    }
    return true;
}

static bool content_keeps_within(const struct frame_content *content) {
    bool within = keeps_within(content->data) && content->extra_count <= FRAME_EXTRA_MAX;
    for (size_t i = 0; within && i < content->extra_count; i++) {
        char letter = content->extras[i].letter;
        within = letter >= 'A' && letter <= 'Z' && keeps_within(content->extras[i].value);
    }
    return within;
}

static void put_content(struct sink *sink, const struct frame_content *content) {
    put_text(sink, content->data);
    put(sink, "]");
    for (size_t i = 0; i < content->extra_count; i++) {
        put(sink, "[");
        put_bytes(sink, &content->extras[i].letter, 1);
        put_text(sink, content->extras[i].value);
        put(sink, "]");
    }
    if (content->stamped) {
        char stamp[STAMP_LENGTH];
        stamp_write(content->stamp_s, stamp);
        put_bytes(sink, stamp, sizeof stamp);
    }
}

/** Pad, bar and content make whole blocks; one whole block of padding where the content fills its own: never none.
 *  Source: DC-09-2013, clause 5.4.4.3. The content is written behind a full pad, of which only the end is used. */
static bool put_encrypted(struct sink *sink, const struct frame *frame,
        const struct frame_cipher *cipher, struct signal_fault *ret_fault) {
    char clear[FRAME_BLOCK + FRAME_CLEAR_MAX];
    struct sink inner = {.bytes = clear + FRAME_BLOCK, .room = sizeof clear - FRAME_BLOCK};
    put(&inner, "|");
    put_content(&inner, &frame->content);
    if (inner.full || !frame->content.stamped) {
        return signal_fault(
                ret_fault, inner.full ? SIGNAL_FAULT_ROOM : SIGNAL_FAULT_NO_STAMP, sink->at);
    }
    size_t pad = FRAME_BLOCK - inner.at % FRAME_BLOCK;
    if (frame->content.pad.length < pad) {
        return signal_fault(ret_fault, SIGNAL_FAULT_ROOM, sink->at);
    }
    for (size_t i = 0; i < pad; i++) {
        char byte = frame->content.pad.start[i];
        if (byte == '|' || byte == '[' || byte == ']') {
            return signal_fault(ret_fault, SIGNAL_FAULT_BYTE, sink->at);
        }
    }
    char *region = clear + FRAME_BLOCK - pad;
    memcpy(region, frame->content.pad.start, pad);
    if (!cipher->encrypt(cipher->context, (uint8_t *)region, pad + inner.at)) {
        return signal_fault(ret_fault, SIGNAL_FAULT_KEY, sink->at);
    }
    for (size_t i = 0; i < pad + inner.at; i++) {
        put_hex(sink, (uint8_t)region[i], 2);
    }
    return true;
}

bool frame_write(const struct frame *frame, const struct frame_cipher *cipher,
        char ret_bytes[FRAME_MAX], size_t *ret_length, struct signal_fault *ret_fault) {
    struct sink sink = {.bytes = ret_bytes, .at = FRAME_HEAD_LENGTH, .room = FRAME_MAX - 1};
    if (frame->encrypted != (cipher != NULL)) {
        return signal_fault(ret_fault, SIGNAL_FAULT_KEY, 0);
    }
    if (!content_keeps_within(&frame->content)) {
        return signal_fault(ret_fault, SIGNAL_FAULT_BYTE, 0);
    }
    put_header(&sink, frame);
    if (cipher == NULL) {
        put_content(&sink, &frame->content);
    } else if (!put_encrypted(&sink, frame, cipher, ret_fault)) {
        return false;
    }
    if (sink.full) {
        return signal_fault(ret_fault, SIGNAL_FAULT_ROOM, sink.at);
    }
    size_t body = sink.at - FRAME_HEAD_LENGTH;
    struct sink head = {.bytes = ret_bytes, .room = FRAME_HEAD_LENGTH};
    put(&head, "\n");
    put_hex(&head, signals_crc((struct text){ret_bytes + FRAME_HEAD_LENGTH, body}), 4);
    put_hex(&head, (unsigned)body, 4);
    ret_bytes[sink.at] = '\r';
    *ret_length = sink.at + 1;
    /* Header fields come from people too: what cannot be read back is not sent. */
    struct frame again;
    return frame_read((struct text){ret_bytes, *ret_length}, &again, ret_fault);
}
