/* A number that stands for bytes and that nobody can foresee who does not have the key. */
#ifndef LINTEL_SIGNALS_SIPHASH_H
#define LINTEL_SIGNALS_SIPHASH_H

#include "base/text.h"

#include <stdint.h>

/** A key: random, kept to oneself. */
struct siphash_key {
    uint64_t half[2];
};

/** SipHash-2-4 of 64 bits. Source: Aumasson and Bernstein, SipHash: a fast short-input PRF, INDOCRYPT 2012. */
uint64_t siphash(struct siphash_key key, struct text bytes);

#endif
