/* A set of whole numbers as closed intervals, growing in an arena. */
#ifndef LINTEL_EXPLORE_RANGES_H
#define LINTEL_EXPLORE_RANGES_H

#include "explore/explore.h"

/** Ascending, apart from each other by more than 1. Zeroed = empty. */
struct range_set {
    struct span *interval;
    size_t count;
    size_t capacity;
};

/** Adds low .. high. False: memory was refused; the set is as before. */
bool range_set_add(struct range_set *set, struct arena *arena, int32_t low, int32_t high);

/** The set in the form of the result; overflowed when it has too many pieces. */
void range_set_give(const struct range_set *set, struct explore_ranges *ret_ranges);

#endif
