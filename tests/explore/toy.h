/* Toy machines as tables: locations, activities, and what each firing does where. For tests of exploring. */
#ifndef LINTEL_TESTS_EXPLORE_TOY_H
#define LINTEL_TESTS_EXPLORE_TOY_H

#include "explore/explore.h"

enum { TOY_EFFECTS_MAX = 6, TOY_WAYS_MAX = 3, TOY_LOCATIONS_MAX = 8, TOY_ACTIVITIES_MAX = 8 };

/** One way a firing can go. breaks: a promise, by this code; 0 = none. ends: nothing follows. aside: nor does the run
 *  count, where one is probing. */
struct toy_way {
    uint8_t to;
    bool ends;
    bool aside;
    uint8_t breaks;
    uint8_t mark;
    size_t count;
    struct explore_effect effects[TOY_EFFECTS_MAX];
};

struct toy_rule {
    size_t way_count; /* 0: the firing does nothing and stays */
    struct toy_way ways[TOY_WAYS_MAX];
};

/** A machine as a table. events_most: runs end well after so many firings, 0 = never. probing: a broken promise is
 *  kept in the state and told at the end of the run (as the explorer wants it with a probe). */
struct toy {
    struct toy_way begin;
    struct toy_rule rules[TOY_LOCATIONS_MAX][TOY_ACTIVITIES_MAX];
    uint8_t events_most;
    bool probing;
};

/** The machine over the table; borrows it. */
struct explore_machine toy_machine(const struct toy *toy);

/** All spans times factor. */
void toy_scale(struct toy *toy, int32_t factor);

/** Draws a table: activity_count of 1 .. TOY_ACTIVITIES_MAX, spans in 0 .. longest_s, runs of at most events_most. */
void toy_random(struct toy *toy, uint64_t *seed, size_t activity_count, int32_t longest_s,
        uint8_t events_most);

/** The table as text on standard output, for a failure to be looked at. */
void toy_print(const struct toy *toy);

/** 0 .. below - 1 (splitmix64, public domain). */
uint32_t toy_draw(uint64_t *seed, uint32_t below);

#endif
