/* The referee: full enumeration with concrete seconds. Every duration of every start, second by second, every order;
 * written without a look at how the explorer works, from its header alone. Slow, for small machines. */
#ifndef LINTEL_TESTS_EXPLORE_ENUMERATE_H
#define LINTEL_TESTS_EXPLORE_ENUMERATE_H

#include "explore/explore.h"

enum { ENUMERATE_LENGTH_MOST = 256 };

/** What enumeration found. finished: false if it gave up at states_most. story_count: fewest events of a violation,
 *  begin counted; 0 = none. bad, good [i]: whether the probed interval can be i - ENUMERATE_LENGTH_MOST long. */
struct enumeration {
    bool finished;
    size_t states;
    size_t story_count;
    bool bad[2 * ENUMERATE_LENGTH_MOST + 1];
    bool good[2 * ENUMERATE_LENGTH_MOST + 1];
};

/** Enumerates to the end, or to the violations with fewest events, or on past them with probe. */
void enumerate_machine(const struct explore_machine *machine, bool probe, size_t states_most,
        struct enumeration *ret_enumeration);

/** Earliest instant of the last event over all runs that follow the events of the story; -1: there is none; -2: gave
 *  up at states_most. */
int32_t enumerate_earliest_s(const struct explore_machine *machine,
        const struct explore_event *story, size_t story_count, size_t states_most);

#endif
