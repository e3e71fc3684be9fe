/* A smallest set that hits every one of some sets. Not for use outside this folder, but for its tests. */
#ifndef LINTEL_BREAKIN_HITTING_H
#define LINTEL_BREAKIN_HITTING_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

enum {
    HITTING_WORDS = 19, /* four corners of each of 200 rooms, and 400 openings */
    HITTING_ELEMENTS = HITTING_WORDS * 64,
    HITTING_SETS = 64,
    HITTING_MOST = 8
};

/** A set of elements 0 .. HITTING_ELEMENTS - 1. */
struct hitting_set {
    uint64_t word[HITTING_WORDS];
};

static inline bool hitting_has(const struct hitting_set *set, size_t element) {
    return (set->word[element / 64] >> (element % 64) & 1U) != 0;
}
static inline bool hitting_is_empty(const struct hitting_set *set) {
    uint64_t any = 0;
    for (size_t i = 0; i < HITTING_WORDS; i++) {
        any |= set->word[i];
    }
    return any == 0;
}
static inline void hitting_add(struct hitting_set *set, size_t element) {
    set->word[element / 64] |= (uint64_t)1 << (element % 64);
}

/** A smallest selection of at most `most` (at most HITTING_MOST) elements that has one of every set; of several the one
 *  whose elements come first. ret_chosen: filled, ret_count of them. False: there is none. */
bool hitting_smallest(const struct hitting_set *sets, size_t set_count, size_t most,
        size_t *ret_chosen, size_t *ret_count);

#endif
