/* Replaying a course of events that the explorer found. Not for use outside this folder. */
#ifndef LINTEL_PROOF_TELL_H
#define LINTEL_PROOF_TELL_H

#include "proof/world.h"

/** The lines of a course of events (explore_result.story), in the arena. world: its tape is set for the call. */
outcome tell_course(struct world *world, const struct explore_event *events, size_t count,
        struct pages pages, struct arena *arena, const struct proof_line **ret_lines,
        size_t *ret_count, struct problem *ret_problem) MUST_CHECK;

#endif
