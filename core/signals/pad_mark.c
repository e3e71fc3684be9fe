#include "signals/pad_mark.h"

#include "signals/siphash.h"

#include <string.h>

enum { MADE_UP = PAD_MARKED / 2 };

void pad_mark(enum pad_mark mark, char pad[PAD_MARKED]) {
    const struct siphash_key key = {{0, (uint64_t)mark}};
    const uint64_t half = siphash(key, (struct text){pad, MADE_UP});
    for (size_t i = 0; i < MADE_UP; i++) {
        pad[MADE_UP + i] = (char)(0x80 | half >> (8 * i)); /* neither a bracket nor a bar */
    }
}

static uint8_t byte_of(struct text digits, size_t at) {
    unsigned value = 0;
    for (size_t i = 2 * at; i < 2 * at + 2; i++) {
        const char digit = digits.start[i];
        value = value * 16 + (unsigned)(digit <= '9' ? digit - '0' : digit - 'A' + 10);
    }
    return (uint8_t)value;
}

bool pad_ends_marked(
        enum pad_mark mark, const struct frame *frame, const uint8_t room[FRAME_CLEAR_MAX]) {
    const size_t length = frame->cipher.length / 2;
    const size_t at = length - 2 * (size_t)FRAME_BLOCK;
    char block[FRAME_BLOCK];
    char marked[PAD_MARKED];
    for (size_t i = 0; length >= 2 * (size_t)FRAME_BLOCK && i < FRAME_BLOCK; i++) {
        const uint8_t before = at == 0 ? 0 : byte_of(frame->cipher, at - FRAME_BLOCK + i);
        block[i] = (char)(room[at + i] ^ before);
    }
    if (length < 2 * (size_t)FRAME_BLOCK) {
        return false;
    }
    memcpy(marked, block, PAD_MARKED);
    pad_mark(mark, marked);
    return memcmp(marked, block, PAD_MARKED) == 0;
}
