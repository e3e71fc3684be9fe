/* The plain second opinion: every state that can be reached with waiting at every second, nothing left out. */
#ifndef LINTEL_TESTS_BREAKIN_BRUTE_H
#define LINTEL_TESTS_BREAKIN_BRUTE_H

#include "building.h"

/** Per goal: whether it can be had at all, and the latest that it is heard after he has it (BREAKIN_NEVER_S: never). */
struct brute_answer {
    bool any;
    int32_t late_s;
};

/** False: more than state_limit states. ret_states: how many there were. */
bool brute_search(const struct building *building, size_t state_limit,
        struct brute_answer *ret_answers, size_t *ret_states);

#endif
