/* The earliest instants of a course of events: who fires when, given only who fires in which order. */
#ifndef LINTEL_EXPLORE_COURSE_H
#define LINTEL_EXPLORE_COURSE_H

#include "explore/explore.h"

/** One event of a course. The first one is begin. */
struct course_step {
    explore_activity activity;
    uint32_t choice;
};

enum course_outcome { COURSE_TOLD, COURSE_NO_SCRATCH, COURSE_NOT_GIVEN, COURSE_TOO_LONG };

/** Gives the events of a possible course with their earliest instants. steps: borrows, step_count >= 1. scratch: for
 *  working (refused: COURSE_NO_SCRATCH). arena: gives the events (refused: COURSE_NOT_GIVEN, the problem is set).
 *  COURSE_TOO_LONG: an instant is past 32 bits of seconds, or is
 *  not found within a stated effort. */
enum course_outcome course_tell(const struct explore_machine *machine,
        const struct course_step *steps, size_t step_count, struct arena *scratch,
        struct arena *arena, const struct explore_event **ret_events, struct problem *ret_problem);

#endif
