#include "signals/crc.h"
#include "signals/frame.h"
#include "signals/stamp.h"

#include <string.h>

/** Reading from left to right. at: next byte; end: one past the last that may be read. base: added to places of
 *  faults. */
struct cursor {
    const char *bytes;
    size_t at;
    size_t end;
    size_t base;
    bool any_time; /* one that no clock shows is none */
    struct signal_fault *fault;
};

static bool wrong(const struct cursor *cursor, enum signal_fault_kind kind) {
    return signal_fault(cursor->fault, kind, cursor->base + cursor->at);
}

static bool next_is(const struct cursor *cursor, char byte) {
    return cursor->at < cursor->end && cursor->bytes[cursor->at] == byte;
}

static bool take(struct cursor *cursor, char byte, enum signal_fault_kind kind) {
    if (!next_is(cursor, byte)) {
        return wrong(cursor, kind);
    }
    cursor->at++;
    return true;
}

/** The value of a digit, which are those of the standard: no small letters; -1 for none. */
static int hex_value(char digit) {
    static const int8_t value_and_one[256] = {['0'] = 1,
            ['1'] = 2,
            ['2'] = 3,
            ['3'] = 4,
            ['4'] = 5,
            ['5'] = 6,
            ['6'] = 7,
            ['7'] = 8,
            ['8'] = 9,
            ['9'] = 10,
            ['A'] = 11,
            ['B'] = 12,
            ['C'] = 13,
            ['D'] = 14,
            ['E'] = 15,
            ['F'] = 16};
    return value_and_one[(uint8_t)digit] - 1;
}

/** least to most hex digits. */
static bool take_hex(struct cursor *cursor, size_t least, size_t most, struct text *ret_digits,
        enum signal_fault_kind kind) {
    size_t begins = cursor->at;
    while (cursor->at < cursor->end && cursor->at - begins < most &&
            hex_value(cursor->bytes[cursor->at]) >= 0) {
        cursor->at++;
    }
    if (cursor->at - begins < least) {
        return wrong(cursor, kind);
    }
    *ret_digits = (struct text){cursor->bytes + begins, cursor->at - begins};
    return true;
}

static unsigned hex_number(struct text digits) {
    unsigned number = 0;
    for (size_t i = 0; i < digits.length; i++) {
        number = number * 16 + (unsigned)hex_value(digits.start[i]);
    }
    return number;
}

/** Line feed, sum, length and return; the cursor then holds the body alone. */
static bool take_envelope(struct cursor *cursor) {
    struct text crc = {0};
    struct text length = {0};
    if (!take(cursor, '\n', SIGNAL_FAULT_LINE_FEED) ||
            !take_hex(cursor, 4, 4, &crc, SIGNAL_FAULT_CRC_FORM) ||
            !take(cursor, '0', SIGNAL_FAULT_LENGTH_FORM) ||
            !take_hex(cursor, 3, 3, &length, SIGNAL_FAULT_LENGTH_FORM)) {
        return false;
    }
    size_t last = cursor->end - 1;
    if (last < cursor->at || cursor->bytes[last] != '\r') {
        return signal_fault(cursor->fault, SIGNAL_FAULT_RETURN, cursor->base + cursor->end);
    }
    cursor->end = last;
    if (hex_number(length) != cursor->end - cursor->at) {
        return signal_fault(cursor->fault, SIGNAL_FAULT_LENGTH, cursor->base + 5);
    }
    struct text body = {cursor->bytes + cursor->at, cursor->end - cursor->at};
    return hex_number(crc) == signals_crc(body) ||
            signal_fault(cursor->fault, SIGNAL_FAULT_CRC, cursor->base + 1);
}

static enum frame_token token_of(struct text name) {
    for (int token = FRAME_TOKEN_OTHER + 1; token < FRAME_TOKEN_COUNT; token++) {
        if (text_is(name, frame_token_name((enum frame_token)token))) {
            return (enum frame_token)token;
        }
    }
    return FRAME_TOKEN_OTHER;
}

static bool token_letter(char letter) {
    return (letter >= 'A' && letter <= 'Z') || (letter >= '0' && letter <= '9') || letter == '-';
}

static bool take_token(struct cursor *cursor, struct frame *frame) {
    if (!take(cursor, '"', SIGNAL_FAULT_TOKEN)) {
        return false;
    }
    frame->encrypted = next_is(cursor, '*');
    cursor->at += frame->encrypted;
    size_t begins = cursor->at;
    while (cursor->at < cursor->end && token_letter(cursor->bytes[cursor->at])) {
        cursor->at++;
    }
    frame->token_text = (struct text){cursor->bytes + begins, cursor->at - begins};
    frame->token = token_of(frame->token_text);
    if (frame->token_text.length == 0) {
        return wrong(cursor, SIGNAL_FAULT_TOKEN);
    }
    if (frame->token == FRAME_TOKEN_NAK && frame->encrypted) {
        return signal_fault(cursor->fault, SIGNAL_FAULT_NAK_CLEAR, cursor->base + begins - 1);
    }
    return take(cursor, '"', SIGNAL_FAULT_TOKEN);
}

static bool take_sequence(struct cursor *cursor, struct frame *frame) {
    unsigned number = 0;
    for (int i = 0; i < 4; i++) {
        if (cursor->at >= cursor->end || cursor->bytes[cursor->at] < '0' ||
                cursor->bytes[cursor->at] > '9') {
            return wrong(cursor, SIGNAL_FAULT_SEQUENCE);
        }
        number = number * 10 + (unsigned)(cursor->bytes[cursor->at++] - '0');
    }
    frame->sequence = (uint16_t)number;
    return true;
}

/** A NAK's prefix and account stand as L0A0 in its fixed form, where A is a hex digit as well: the last two belong
 *  to the account. Everybody else's account comes after a #, which a NAK may have too. Source: DC-09, clause 5.5.3.2
 *  and its fixed fields, from memory, sure; both forms are taken. */
static bool take_nak_account(struct cursor *cursor, struct frame *frame) {
    enum { PREFIX_MOST = 6, FIXED = 2 };
    struct text digits = {0};
    if (!take_hex(cursor, 1, PREFIX_MOST + FIXED, &digits, SIGNAL_FAULT_PREFIX)) {
        return false;
    }
    if (next_is(cursor, '#')) {
        frame->prefix = digits;
        cursor->at++;
        return take_hex(cursor, 1, 16, &frame->account, SIGNAL_FAULT_ACCOUNT);
    }
    if (digits.length <= FIXED || digits.start[digits.length - FIXED] != 'A') {
        return wrong(cursor, SIGNAL_FAULT_ACCOUNT);
    }
    frame->prefix = (struct text){digits.start, digits.length - FIXED};
    frame->account = (struct text){digits.start + digits.length - 1, 1};
    return true;
}

static bool take_account(struct cursor *cursor, struct frame *frame) {
    if (frame->token == FRAME_TOKEN_NAK) {
        return take_nak_account(cursor, frame);
    }
    return take_hex(cursor, 1, 6, &frame->prefix, SIGNAL_FAULT_PREFIX) &&
            take(cursor, '#', SIGNAL_FAULT_ACCOUNT) &&
            take_hex(cursor, 3, 16, &frame->account, SIGNAL_FAULT_ACCOUNT);
}

static bool take_header(struct cursor *cursor, struct frame *frame) {
    if (!take_token(cursor, frame) || !take_sequence(cursor, frame)) {
        return false;
    }
    if (next_is(cursor, 'R')) {
        cursor->at++;
        if (!take_hex(cursor, 1, 6, &frame->receiver, SIGNAL_FAULT_RECEIVER)) {
            return false;
        }
    }
    return take(cursor, 'L', SIGNAL_FAULT_PREFIX) && take_account(cursor, frame) &&
            take(cursor, '[', SIGNAL_FAULT_OPEN);
}

/** Text up to a closing bracket, which is taken too. */
static bool take_block(struct cursor *cursor, struct text *ret_block) {
    size_t begins = cursor->at;
    while (cursor->at < cursor->end && cursor->bytes[cursor->at] != ']') {
        char byte = cursor->bytes[cursor->at];
        if (byte == '[' || byte == '\r' || byte == '\n') {
            return wrong(cursor, SIGNAL_FAULT_BYTE);
        }
        cursor->at++;
    }
    *ret_block = (struct text){cursor->bytes + begins, cursor->at - begins};
    return take(cursor, ']', SIGNAL_FAULT_CLOSE);
}

static bool take_extra(struct cursor *cursor, struct frame_content *content) {
    struct text block = {0};
    size_t begins = cursor->at;
    cursor->at++;
    if (content->extra_count == FRAME_EXTRA_MAX) {
        return signal_fault(cursor->fault, SIGNAL_FAULT_EXTRAS, cursor->base + begins);
    }
    if (!take_block(cursor, &block)) {
        return false;
    }
    if (block.length == 0 || block.start[0] < 'A' || block.start[0] > 'Z') {
        return signal_fault(cursor->fault, SIGNAL_FAULT_EXTRA, cursor->base + begins + 1);
    }
    content->extras[content->extra_count++] = (struct frame_extra){
            .letter = block.start[0], .value = {block.start + 1, block.length - 1}};
    return true;
}

/** Everything after the opening bracket of clear text: data, extended data, time. */
static bool take_content(struct cursor *cursor, struct frame_content *content) {
    if (!take_block(cursor, &content->data)) {
        return false;
    }
    while (next_is(cursor, '[')) {
        if (!take_extra(cursor, content)) {
            return false;
        }
    }
    struct text rest = {cursor->bytes + cursor->at, cursor->end - cursor->at};
    content->stamped = rest.length > 0 &&
            stamp_read(rest, cursor->base + cursor->at, &content->stamp_s, cursor->fault);
    return content->stamped || rest.length == 0 ||
            (cursor->any_time && rest.length == STAMP_LENGTH && rest.start[0] == '_');
}

static bool take_cipher(struct cursor *cursor, struct frame *frame) {
    size_t begins = cursor->at;
    if (!take_hex(cursor, 2 * FRAME_BLOCK, FRAME_BODY_MAX, &frame->cipher, SIGNAL_FAULT_CIPHER)) {
        return false;
    }
    if (cursor->at < cursor->end || frame->cipher.length % (2 * FRAME_BLOCK) != 0) {
        return wrong(cursor, SIGNAL_FAULT_CIPHER);
    }
    frame->cipher_at = begins;
    return true;
}

static bool read_as(struct cursor cursor, struct frame *ret_frame) {
    struct frame frame = {0};
    if (!take_envelope(&cursor) || !take_header(&cursor, &frame)) {
        return false;
    }
    if (!(frame.encrypted ? take_cipher(&cursor, &frame) : take_content(&cursor, &frame.content))) {
        return false;
    }
    *ret_frame = frame;
    return true;
}

bool frame_read(struct text source, struct frame *ret_frame, struct signal_fault *ret_fault) {
    return read_as((struct cursor){.bytes = source.start, .end = source.length, .fault = ret_fault},
            ret_frame);
}

bool frame_hear(struct text source, struct frame *ret_frame, struct signal_fault *ret_fault) {
    return read_as((struct cursor){.bytes = source.start,
                           .end = source.length,
                           .any_time = true,
                           .fault = ret_fault},
            ret_frame);
}

/** Where the content begins: after the bar that ends the pad. Some senders leave the bar out of an empty message; then
 *  the first closing bracket ends the pad. Source: DC-09-2013, clause 5.4.4.3, against its figures of NULL and ACK. */
static size_t after_pad(struct text clear, struct text *ret_pad) {
    size_t at = 0;
    while (at < clear.length && clear.start[at] != '|' && clear.start[at] != ']') {
        at++;
    }
    *ret_pad = (struct text){clear.start, at};
    return at < clear.length && clear.start[at] == '|' ? at + 1 : at;
}

static bool is_text(struct text text) {
    bool good = true;
    for (size_t i = 0; i < text.length; i++) {
        const unsigned char byte = (unsigned char)text.start[i];
        good = good && byte >= ' ' && byte != 0x7F;
    }
    return good;
}

/** Whether it can be what somebody with the key wrote. Whoever has none can put blocks before those of a frame that he
 *  recorded, and would have them taken for a long pad, or for further data. So a pad is a block at most, as it fills
 *  one up (clause 5.4.4.3); where its bar was left out, nothing but the time follows; and the rest is text. */
static bool is_plausible(struct text clear, const struct frame_content *content) {
    const size_t pad = content->pad.length;
    bool good = pad <= FRAME_BLOCK && is_text(content->data);
    if (pad < clear.length && clear.start[pad] == ']') {
        good = good && content->extra_count == 0;
    }
    for (size_t i = 0; i < content->extra_count; i++) {
        good = good && is_text(content->extras[i].value) &&
                is_text((struct text){&content->extras[i].letter, 1});
    }
    return good;
}

bool frame_open(struct frame *frame, struct frame_cipher cipher, uint8_t *room, size_t room_length,
        struct signal_fault *ret_fault) {
    size_t length = frame->cipher.length / 2;
    if (length == 0 || length > room_length) {
        return signal_fault(ret_fault, SIGNAL_FAULT_ROOM, frame->cipher_at);
    }
    for (size_t i = 0; i < length; i++) {
        room[i] = (uint8_t)(hex_value(frame->cipher.start[2 * i]) * 16 +
                hex_value(frame->cipher.start[2 * i + 1]));
    }
    struct frame_content content = {0};
    struct signal_fault inner = {0};
    struct text clear = {(const char *)room, length};
    struct cursor cursor = {.bytes = clear.start, .end = length, .fault = &inner};
    if (!cipher.decrypt(cipher.context, room, length)) {
        return signal_fault(ret_fault, SIGNAL_FAULT_KEY, frame->cipher_at);
    }
    cursor.at = after_pad(clear, &content.pad);
    if (!take_content(&cursor, &content) || !is_plausible(clear, &content)) {
        return signal_fault(ret_fault, SIGNAL_FAULT_KEY, frame->cipher_at);
    }
    if (!content.stamped) {
        return signal_fault(ret_fault, SIGNAL_FAULT_NO_STAMP, frame->cipher_at);
    }
    frame->content = content;
    return true;
}
