#include "explore/classes.h"

#include <assert.h>
#include <string.h>

/* Efforts: how long a merge is tried before the classes are kept apart, which is always right, only slower. */
enum { FIRST_SLOTS = 64, GROUP_MAX = 24, GROUP_CUTS = 400, PAIR_ROUNDS = 64 };

void classes_init(struct classes *classes, struct arena *arena, size_t state_size,
        const struct explore_options *options) {
    *classes = (struct classes){.arena = arena,
            .state_size = state_size,
            .no_merge = options->no_merge,
            .no_inclusion = options->no_inclusion};
}

static uint64_t mix(uint64_t hash, uint64_t word) {
    hash = (hash ^ word) * UINT64_C(0x9E3779B97F4A7C15);
    return hash ^ hash >> 29;
}

static uint64_t hash_bytes(uint64_t hash, const void *bytes, size_t length) {
    const unsigned char *at = bytes;
    while (length >= sizeof(uint64_t)) {
        uint64_t word = 0;
        memcpy(&word, at, sizeof word);
        hash = mix(hash, word);
        at += sizeof word;
        length -= sizeof word;
    }
    uint64_t tail = length;
    for (size_t k = 0; k < length; k++) {
        tail = tail << 8 | at[k];
    }
    return mix(hash, tail);
}

static uint8_t marks_of(const struct firing *firing) {
    return (uint8_t)((firing->mark_row[0] != FIRING_NO_ROW ? 1 : 0) |
            (firing->mark_row[1] != FIRING_NO_ROW ? 2 : 0));
}

static bool same_key(const struct class_key *key, uint64_t hash, const void *state,
        size_t state_size, const struct firing *firing) {
    return key->hash == hash && key->count == firing->count && key->marks == marks_of(firing) &&
            memcmp(key->bytes, state, state_size) == 0 &&
            memcmp(key->activity, firing->activity, firing->count * sizeof *key->activity) == 0;
}

static struct class_key **find_slot(struct class_key **slots, size_t slot_count, uint64_t hash) {
    size_t at = hash & (slot_count - 1);
    while (slots[at] != NULL) {
        at = (at + 1) & (slot_count - 1);
    }
    return &slots[at];
}

static bool grow_slots(struct classes *classes) {
    if ((classes->key_count + 1) * 4 <= classes->slot_count * 3) {
        return true;
    }
    const size_t slot_count = classes->slot_count == 0 ? FIRST_SLOTS : classes->slot_count * 2;
    struct class_key **slots = ARENA_ARRAY(classes->arena, struct class_key *, slot_count);
    if (slots == NULL) {
        return false;
    }
    for (size_t k = 0; k < classes->slot_count; k++) {
        if (classes->slots[k] != NULL) {
            *find_slot(slots, slot_count, classes->slots[k]->hash) = classes->slots[k];
        }
    }
    classes->slots = slots;
    classes->slot_count = slot_count;
    return true;
}

static struct class_key *make_key(
        struct classes *classes, uint64_t hash, const void *state, const struct firing *firing) {
    const size_t activity_size = firing->count * sizeof(explore_activity);
    struct class_key *key = ARENA_NEW(classes->arena, struct class_key);
    void *bytes = arena_take(classes->arena, classes->state_size, 1);
    explore_activity *activity = arena_take(classes->arena, activity_size, 1);
    if (key == NULL || bytes == NULL || activity == NULL) {
        return NULL;
    }
    memcpy(bytes, state, classes->state_size);
    memcpy(activity, firing->activity, activity_size);
    key->hash = hash;
    key->bytes = bytes;
    key->activity = activity;
    key->count = (uint8_t)firing->count;
    key->dim = (uint8_t)firing_dim(firing);
    key->marks = marks_of(firing);
    return key;
}

struct class_key *classes_find_key(
        struct classes *classes, const void *state, const struct firing *firing) {
    uint64_t hash = hash_bytes(marks_of(firing), state, classes->state_size);
    hash = hash_bytes(hash, firing->activity, firing->count * sizeof *firing->activity);
    hash ^= hash >> 32;
    if (classes->slot_count > 0) {
        size_t at = hash & (classes->slot_count - 1);
        while (classes->slots[at] != NULL) {
            if (same_key(classes->slots[at], hash, state, classes->state_size, firing)) {
                return classes->slots[at];
            }
            at = (at + 1) & (classes->slot_count - 1);
        }
    }
    if (!grow_slots(classes)) {
        return NULL;
    }
    struct class_key *key = make_key(classes, hash, state, firing);
    if (key != NULL) {
        *find_slot(classes->slots, classes->slot_count, hash) = key;
        classes->key_count++;
    }
    return key;
}

static size_t zone_size(const struct class_key *key) {
    return (size_t)key->dim * key->dim * sizeof(int32_t);
}

/* Takes a class that no other refers to out of use, with its pieces. */
static void put_aside(struct classes *classes, struct explore_class *unused) {
    struct class_piece *piece = unused->pieces;
    while (piece != NULL) {
        struct class_piece *next = piece->next;
        piece->next = classes->spare_pieces;
        classes->spare_pieces = piece;
        piece = next;
    }
    unused->pieces = NULL;
    unused->next_of_key = classes->spare[unused->key->dim];
    classes->spare[unused->key->dim] = unused;
}

static struct explore_class *take_class(struct classes *classes, const struct class_key *key) {
    struct explore_class *spare = classes->spare[key->dim];
    if (spare != NULL) {
        classes->spare[key->dim] = spare->next_of_key;
        return spare;
    }
    return arena_take(classes->arena, 1, sizeof(struct explore_class) + zone_size(key));
}

static struct class_piece *take_piece(struct classes *classes) {
    struct class_piece *spare = classes->spare_pieces;
    if (spare != NULL) {
        classes->spare_pieces = spare->next;
        return spare;
    }
    return ARENA_NEW(classes->arena, struct class_piece);
}

static bool is_held(const struct classes *classes, const struct explore_class *list,
        const struct class_key *key, const int32_t *bound) {
    for (; list != NULL; list = list->next_of_key) {
        if (classes->no_inclusion ? memcmp(list->bound, bound, zone_size(key)) == 0
                                  : dbm_includes(list->bound, bound, key->dim)) {
            return true;
        }
    }
    return false;
}

static void drop_included(struct classes *classes, struct class_key *key, const int32_t *bound) {
    struct explore_class **link = &key->fresh;
    while (*link != NULL) {
        struct explore_class *fresh = *link;
        if (dbm_includes(bound, fresh->bound, key->dim)) {
            *link = fresh->next_of_key;
            put_aside(classes, fresh);
            classes->fresh_count--;
        } else {
            link = &fresh->next_of_key;
        }
    }
}

bool classes_add(struct classes *classes, struct class_key *key, const int32_t *bound,
        const struct class_piece *piece) {
    if (is_held(classes, key->known, key, bound) || is_held(classes, key->fresh, key, bound)) {
        return true;
    }
    const bool first = key->fresh == NULL;
    if (!classes->no_inclusion) {
        drop_included(classes, key, bound);
    }
    struct explore_class *fresh = take_class(classes, key);
    struct class_piece *way = take_piece(classes);
    if (fresh == NULL || way == NULL) {
        return false;
    }
    *way = *piece;
    way->next = NULL;
    fresh->key = key;
    fresh->pieces = way;
    fresh->next_of_level = NULL;
    fresh->next_of_key = key->fresh;
    memcpy(fresh->bound, bound, zone_size(key));
    key->fresh = fresh;
    classes->fresh_count++;
    if (first) {
        key->next_fresh = classes->fresh_keys;
        classes->fresh_keys = key;
    }
    return true;
}

/* Takes `other` out of the fresh ones; `into` has grown to hold it, so its ways lead into that. */
static void absorb(
        struct classes *classes, struct explore_class *into, struct explore_class **link) {
    struct explore_class *other = *link;
    *link = other->next_of_key;
    struct class_piece **end = &into->pieces;
    while (*end != NULL) {
        end = &(*end)->next;
    }
    *end = other->pieces;
    other->pieces = NULL;
    put_aside(classes, other);
    classes->fresh_count--;
}

/* Tries the classes after `into`. From the second round on, only pairs of which one has grown since they were tried. */
static bool merge_into(struct classes *classes, struct explore_class *into, uint32_t round) {
    const size_t dim = into->key->dim;
    struct explore_class **link = &into->next_of_key;
    bool grew = false;
    while (*link != NULL) {
        struct explore_class *other = *link;
        const bool changed = into->grown + 1 >= round || other->grown + 1 >= round;
        if (changed && dbm_union_is_hull(into->bound, other->bound, dim)) {
            dbm_hull(into->bound, other->bound, dim);
            absorb(classes, into, link);
            into->grown = round;
            grew = true;
        } else {
            link = &other->next_of_key;
        }
    }
    return grew;
}

static void merge_pairs(struct classes *classes, struct class_key *key) {
    bool grew = true;
    for (struct explore_class *fresh = key->fresh; fresh != NULL; fresh = fresh->next_of_key) {
        fresh->grown = 0;
    }
    for (uint32_t round = 1; grew && round <= PAIR_ROUNDS; round++) {
        grew = false;
        for (struct explore_class *fresh = key->fresh; fresh != NULL; fresh = fresh->next_of_key) {
            grew = merge_into(classes, fresh, round) || grew;
        }
    }
}

/* Many at once: three zones can fill their hull though no two of them do. */
static bool merge_group(struct classes *classes, struct class_key *key) {
    const size_t dim = key->dim;
    const int32_t *zones[GROUP_MAX];
    size_t count = 0;
    for (struct explore_class *fresh = key->fresh; fresh != NULL; fresh = fresh->next_of_key) {
        if (count == GROUP_MAX) {
            return true;
        }
        zones[count] = fresh->bound;
        count++;
    }
    if (count < 3) {
        return true;
    }
    const size_t needed = (2 * count + 1) * dim * dim;
    if (classes->scratch_count < needed) {
        classes->scratch = ARENA_ARRAY(classes->arena, int32_t, needed);
        classes->scratch_count = classes->scratch == NULL ? 0 : needed;
        if (classes->scratch == NULL) {
            return false;
        }
    }
    int32_t *hull = classes->scratch;
    memcpy(hull, zones[0], zone_size(key));
    for (size_t k = 1; k < count; k++) {
        dbm_hull(hull, zones[k], dim);
    }
    size_t effort = GROUP_CUTS;
    if (dbm_covered(hull, zones, count, dim, hull + dim * dim, &effort)) {
        struct explore_class *into = key->fresh;
        memcpy(into->bound, hull, zone_size(key));
        while (into->next_of_key != NULL) {
            absorb(classes, into, &into->next_of_key);
        }
    }
    return true;
}

bool classes_settle(struct classes *classes, struct explore_class **ret_level, size_t *ret_count) {
    struct explore_class **end = ret_level;
    *ret_level = NULL;
    for (struct class_key *key = classes->fresh_keys; key != NULL; key = key->next_fresh) {
        if (!classes->no_merge && key->fresh != NULL && key->fresh->next_of_key != NULL) {
            merge_pairs(classes, key);
            if (!merge_group(classes, key)) {
                return false;
            }
        }
        while (key->fresh != NULL) {
            struct explore_class *settled = key->fresh;
            key->fresh = settled->next_of_key;
            /* A hull may be known though no part of it was; with inclusion the parts would be gone. */
            if (classes->no_inclusion && is_held(classes, key->known, key, settled->bound)) {
                put_aside(classes, settled);
                classes->fresh_count--;
                continue;
            }
            settled->next_of_key = key->known;
            key->known = settled;
            *end = settled;
            end = &settled->next_of_level;
        }
    }
    classes->fresh_keys = NULL;
    *ret_count = classes->fresh_count;
    classes->fresh_count = 0;
    return true;
}
