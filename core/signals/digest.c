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
