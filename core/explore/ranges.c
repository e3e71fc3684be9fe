#include "explore/ranges.h"

#include <string.h>

static bool make_room(struct range_set *set, struct arena *arena) {
    if (set->count < set->capacity) {
        return true;
    }
    const size_t capacity = set->capacity == 0 ? 8 : set->capacity * 2;
    struct span *interval = ARENA_ARRAY(arena, struct span, capacity);
    if (interval == NULL) {
        return false;
    }
    if (set->count > 0) {
        memcpy(interval, set->interval, set->count * sizeof *interval);
    }
    set->interval = interval;
    set->capacity = capacity;
    return true;
}

bool range_set_add(struct range_set *set, struct arena *arena, int32_t low, int32_t high) {
    size_t first = 0;
    while (first < set->count && set->interval[first].high_s < low - 1) {
        first++;
    }
    size_t past = first; /* first .. past - 1 touch the new one and become part of it */
    while (past < set->count && set->interval[past].low_s <= high + 1) {
        low = low < set->interval[past].low_s ? low : set->interval[past].low_s;
        high = high > set->interval[past].high_s ? high : set->interval[past].high_s;
        past++;
    }
    if (past == first && !make_room(set, arena)) {
        return false;
    }
    struct span *at = set->interval + first;
    if (past != first + 1) {
        memmove(at + 1, set->interval + past, (set->count - past) * sizeof *at);
        set->count = set->count + 1 - (past - first);
    }
    *at = span_of(low, high);
    return true;
}

void range_set_give(const struct range_set *set, struct explore_ranges *ret_ranges) {
    *ret_ranges = (struct explore_ranges){.count = set->count};
    if (ret_ranges->count > EXPLORE_RANGE_MAX) {
        ret_ranges->count = EXPLORE_RANGE_MAX;
        ret_ranges->overflowed = true;
    }
    if (ret_ranges->count > 0) {
        memcpy(ret_ranges->interval, set->interval, ret_ranges->count * sizeof *set->interval);
    }
}
