/* A trivial player: whole-second deadlines, one event after another, as a story says. */
#ifndef LINTEL_TESTS_EXPLORE_REPLAY_H
#define LINTEL_TESTS_EXPLORE_REPLAY_H

#include "explore/explore.h"

/** NULL if the story is a run of the machine that ends in its violation and in no earlier one; else what is wrong. */
const char *replay_story(
        const struct explore_machine *machine, const struct explore_result *result);

#endif
