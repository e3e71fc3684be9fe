/* A number that stands for bytes: to find accounts, and to know a message that comes again. */
#ifndef LINTEL_SIGNALS_HASH_H
#define LINTEL_SIGNALS_HASH_H

#include "base/text.h"

#include <stdint.h>

#define SIGNALS_HASH_START UINT64_C(0xCBF29CE484222325)

/** FNV-1a of 64 bits, continued from `before` (SIGNALS_HASH_START at first). Not secret and not against forgery: what
 *  must not be deceived has a key (signals/siphash.h). Source:
 *  Fowler, Noll, Vo, the parameters of RFC 9923. */
uint64_t signals_hash(uint64_t before, struct text bytes);

#endif
