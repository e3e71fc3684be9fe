#include "signals/siphash.h"

static uint64_t turned(uint64_t word, int bits) {
    return word << bits | word >> (64 - bits);
}

static void mix(uint64_t v[4], int rounds) {
    for (int i = 0; i < rounds; i++) {
        v[0] += v[1];
        v[1] = turned(v[1], 13) ^ v[0];
        v[0] = turned(v[0], 32);
        v[2] += v[3];
        v[3] = turned(v[3], 16) ^ v[2];
        v[0] += v[3];
        v[3] = turned(v[3], 21) ^ v[0];
        v[2] += v[1];
        v[1] = turned(v[1], 17) ^ v[2];
        v[2] = turned(v[2], 32);
    }
}

/* Up to eight bytes, the first the lowest. */
static uint64_t word_of(const char *bytes, size_t count) {
    uint64_t word = 0;
    for (size_t i = 0; i < count; i++) {
        word |= (uint64_t)(uint8_t)bytes[i] << (8 * i);
    }
    return word;
}

static void add(uint64_t v[4], uint64_t word) {
    v[3] ^= word;
    mix(v, 2);
    v[0] ^= word;
}

uint64_t siphash(struct siphash_key key, struct text bytes) {
    uint64_t v[4] = {key.half[0] ^ UINT64_C(0x736F6D6570736575),
            key.half[1] ^ UINT64_C(0x646F72616E646F6D), key.half[0] ^ UINT64_C(0x6C7967656E657261),
            key.half[1] ^ UINT64_C(0x7465646279746573)};
    const size_t whole = bytes.length / 8;
    for (size_t i = 0; i < whole; i++) {
        add(v, word_of(bytes.start + 8 * i, 8));
    }
    const size_t rest = bytes.length % 8;
    add(v, (uint64_t)bytes.length << 56 | (rest == 0 ? 0 : word_of(bytes.start + 8 * whole, rest)));
    v[2] ^= 0xFF;
    mix(v, 4);
    return v[0] ^ v[1] ^ v[2] ^ v[3];
}
