#include "signals/hash.h"

uint64_t signals_hash(uint64_t before, struct text bytes) {
    for (size_t i = 0; i < bytes.length; i++) {
        before = (before ^ (uint8_t)bytes.start[i]) * UINT64_C(0x100000001B3);
    }
    return before;
}
