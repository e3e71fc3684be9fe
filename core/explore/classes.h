/* The classes found so far, under their keys.
 *
 * A key is the discrete part: the bytes of the state, the running activities in ascending order, and which
 * marks of the probe were set. A class is a key with one zone: a closed matrix over now, the deadline of
 * each running activity in that order, and the marks set. Classes of the level being made are *fresh*;
 * settling merges them and makes them *known*. */
#ifndef LINTEL_EXPLORE_CLASSES_H
#define LINTEL_EXPLORE_CLASSES_H

#include "explore/dbm.h"
#include "explore/firing.h"

struct class_key;

/** One way into a class: the firing of an activity in a parent class. parent NULL: begin. */
struct class_piece {
    struct class_piece *next;
    const struct explore_class *parent;
    uint32_t choice;
    explore_activity activity;
    struct firing_branches branches;
};

/** A key with one zone. bound: dense, dim of its key. pieces: the zone is the union of what they lead to. */
struct explore_class {
    struct class_key *key;
    struct explore_class *next_of_level; /* of the spare ones, when out of use */
    struct class_piece *pieces;
    uint32_t grown; /* while merging: the round it last grew in */
    int32_t bound[];
};

/** A class in a list. sum: of its bounds; a class within another has no larger one, and that is seen without a look at
 *  the bounds, which lie elsewhere. */
struct class_entry {
    struct explore_class *class;
    int64_t sum;
};

struct class_list {
    struct class_entry *entries;
    uint32_t count;
    uint32_t capacity;
};

/** The discrete part. bytes: the state, then what makes the key different. */
struct class_key {
    uint64_t hash;
    size_t length;
    struct class_list known;
    struct class_list fresh;
    struct class_key *next_fresh;
    const void *bytes;
    const explore_activity *activity;
    uint8_t count; /* running activities */
    uint8_t dim;
    uint8_t marks; /* bit 0: start set, bit 1: end set */
};

/** All keys and classes. arena: keeps; where everything lives. */
struct classes {
    struct arena *arena;
    size_t state_size;
    bool no_merge;
    bool no_inclusion;
    struct class_key **slots; /* open addressing */
    size_t slot_count;        /* a power of two, or 0 */
    size_t key_count;
    struct class_key *fresh_keys;
    size_t fresh_count;
    struct explore_class *spare[DBM_DIM_MAX + 1]; /* by dim */
    struct class_piece *spare_pieces;
    int32_t *scratch;
    size_t scratch_count;
};

void classes_init(struct classes *classes, struct arena *arena, size_t state_size,
        const struct explore_options *options);

/** The key of this state with what runs in the firing, made if new. NULL: memory was refused. */
struct class_key *classes_find_key(
        struct classes *classes, const void *state, const struct firing *firing);

/** Adds a fresh class unless one of the key holds it already. bound: dense, copied. False: memory was
 *  refused. */
bool classes_add(struct classes *classes, struct class_key *key, const int32_t *bound,
        const struct class_piece *piece);

/** Ends a level: merges the fresh classes of each key where that is exact and makes them known. ret_level: the
 *  classes in the order they are to be expanded, by next_of_level. False: memory was refused. */
bool classes_settle(struct classes *classes, struct explore_class **ret_level, size_t *ret_count);

#endif
