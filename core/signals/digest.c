#include "signals/digest.h"

#include "signals/hash.h"

/** Texts are set apart by a byte that stands in none of them. */
static uint64_t add(uint64_t digest, struct text text) {
    return signals_hash(signals_hash(digest, text), (struct text){"]", 1});
}

/** L0 and L00 are one prefix. */
static struct text without_zeros(struct text digits) {
    while (digits.length > 1 && digits.start[0] == '0') {
        digits = (struct text){digits.start + 1, digits.length - 1};
    }
    return digits;
}

/** Continued from what came before, which becomes a part of the key. */
static uint64_t mark(struct siphash_key key, uint64_t before, struct text text) {
    key.half[1] ^= before;
    return siphash(key, text);
}

uint64_t frame_mark(const struct frame *frame, struct siphash_key key) {
    const char sequence[2] = {(char)(frame->sequence / 256), (char)(frame->sequence % 256)};
    uint64_t before = mark(key, 0, frame->token_text);
    before = mark(key, before, without_zeros(frame->prefix));
    before = mark(key, before, frame->account);
    before = mark(key, before, (struct text){sequence, sizeof sequence});
    before = mark(key, before, frame->content.data);
    for (size_t i = 0; i < frame->content.extra_count; i++) {
        const struct frame_extra *extra = &frame->content.extras[i];
        before = mark(key, mark(key, before, (struct text){&extra->letter, 1}), extra->value);
    }
    return before;
}

uint64_t frame_digest(const struct frame *frame) {
    const char sequence[2] = {(char)(frame->sequence / 256), (char)(frame->sequence % 256)};
    uint64_t digest = add(SIGNALS_HASH_START, frame->token_text);
    digest = add(digest, without_zeros(frame->prefix));
    digest = add(digest, frame->account);
    digest = signals_hash(digest, (struct text){sequence, sizeof sequence});
    digest = add(digest, frame->content.data);
    for (size_t i = 0; i < frame->content.extra_count; i++) {
        const struct frame_extra *extra = &frame->content.extras[i];
        digest = add(signals_hash(digest, (struct text){&extra->letter, 1}), extra->value);
    }
    return digest;
}
