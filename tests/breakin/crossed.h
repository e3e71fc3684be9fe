/* Buildings whose only detectors are the two of a cross-zone pair, with what can be done to them worked out by hand:
 * without the panel, from what the rule says alone (the design page of the panel model: a lone trip is remembered for
 * the window; the partner's trip within it, or a second one of its own where these count, is the alarm). */
#ifndef LINTEL_TESTS_BREAKIN_CROSSED_H
#define LINTEL_TESTS_BREAKIN_CROSSED_H

#include "building.h"

/** The latest that he can be heard after he has it, as referee_test counts; BREAKIN_NEVER_S: he can go unheard, and
 *  the soonest that he has it then, if he stands still before he goes on, is done_s. one_way: there is no choice of
 *  doors, so that it is known when he has it. */
struct crossed_answer {
    int32_t late_s;
    int32_t done_s;
    bool one_way;
};

/** The building that a seed stands for: one room after the other, one or two doors between, each seen by neither
 *  detector, one, or both. False: out of memory. */
bool crossed_draw(uint64_t seed, struct arena *arena, struct building *ret_building,
        struct crossed_answer *ret_expected);

#endif
