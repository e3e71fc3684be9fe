#include "breakin/hitting.h"

/* Selections of exactly `left` more: some element of the first set that is not hit must be in. */
static bool choose(const struct hitting_set *sets, size_t set_count, size_t left, size_t *chosen,
        size_t count) {
    size_t first = 0;
    for (bool hit = true; first < set_count && hit; first += hit) {
        hit = false;
        for (size_t i = 0; i < count && !hit; i++) {
            hit = hitting_has(&sets[first], chosen[i]);
        }
    }
    if (first == set_count) {
        return left == 0;
    }
    for (size_t element = 0; left > 0 && element < HITTING_ELEMENTS; element++) {
        if (hitting_has(&sets[first], element)) {
            chosen[count] = element;
            if (choose(sets, set_count, left - 1, chosen, count + 1)) {
                return true;
            }
        }
    }
    return false;
}

bool hitting_smallest(const struct hitting_set *sets, size_t set_count, size_t most,
        size_t *ret_chosen, size_t *ret_count) {
    for (size_t size = 0; size <= most && size <= HITTING_MOST; size++) {
        if (choose(sets, set_count, size, ret_chosen, 0)) {
            *ret_count = size;
            return true;
        }
    }
    return false;
}
