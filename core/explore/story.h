/* From a violation back to a course of events that leads there. */
#ifndef LINTEL_EXPLORE_STORY_H
#define LINTEL_EXPLORE_STORY_H

#include "explore/classes.h"
#include "explore/course.h"

/** The firing that broke a promise. parent NULL: begin did. */
struct story_end {
    const struct explore_class *parent;
    explore_activity activity;
    uint32_t choice;
};

/** Finds the steps that lead to the end, begin first: from one whole solution of the last zone, through the piece of
 *  each class that holds it, to a solution of the parent, and so on. scratch: gives. False: memory was refused. */
bool story_trace(const struct explore_machine *machine, const struct story_end *end,
        struct arena *scratch, const struct course_step **ret_steps, size_t *ret_count);

#endif
