#include "explore/classes.h"

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

static uint64_t word_at(const unsigned char *bytes) {
    uint64_t word = 0;
    memcpy(&word, bytes, sizeof word);
    return word;
}

/* Four words a turn, each into a hash of its own, as one multiplication need not wait for the other. */
static uint64_t hash_bytes(uint64_t hash, const void *bytes, size_t length) {
    enum { LANES = 4, WORD = sizeof(uint64_t) };
    const unsigned char *at = bytes;
    uint64_t lanes[LANES] = {hash, 1, 2, 3};
    uint64_t tail = length;
    for (; length >= LANES * WORD; length -= LANES * WORD) {
        for (size_t lane = 0; lane < LANES; lane++) {
            lanes[lane] = mix(lanes[lane], word_at(at + lane * WORD));
        }
        at += LANES * WORD;
    }
    hash = mix(mix(mix(lanes[0], lanes[1]), lanes[2]), lanes[3]);
    for (; length >= WORD; length -= WORD) {
        hash = mix(hash, word_at(at));
        at += WORD;
    }
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
    unused->next_of_level = classes->spare[unused->key->dim];
    classes->spare[unused->key->dim] = unused;
}

static struct explore_class *take_class(struct classes *classes, const struct class_key *key) {
    struct explore_class *spare = classes->spare[key->dim];
    if (spare != NULL) {
        classes->spare[key->dim] = spare->next_of_level;
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

static int64_t sum_of(const int32_t *bound, size_t dim) {
    int64_t sum = 0;
    for (size_t k = 0; k < dim * dim; k++) {
        sum += bound[k];
    }
    return sum;
}

static bool make_room(struct classes *classes, struct class_list *list) {
    if (list->count < list->capacity) {
        return true;
    }
    const uint32_t capacity = list->capacity == 0 ? 1 : list->capacity * 2;
    struct class_entry *entries = ARENA_ARRAY(classes->arena, struct class_entry, capacity);
    if (entries == NULL) {
        return false;
    }
    if (list->count > 0) {
        memcpy(entries, list->entries, list->count * sizeof *entries);
    }
    list->entries = entries;
    list->capacity = capacity;
    return true;
}

static bool is_held(const struct classes *classes, const struct class_list *list,
        const struct class_key *key, const int32_t *bound, int64_t sum) {
    for (size_t k = list->count; k-- > 0;) {
        const struct class_entry *entry = &list->entries[k];
        if (entry->sum >= sum &&
                (classes->no_inclusion ? memcmp(entry->class->bound, bound, zone_size(key)) == 0
                                       : dbm_includes(entry->class->bound, bound, key->dim))) {
            return true;
        }
    }
    return false;
}

static void drop_included(
        struct classes *classes, struct class_key *key, const int32_t *bound, int64_t sum) {
    struct class_list *fresh = &key->fresh;
    uint32_t kept = 0;
    for (uint32_t k = 0; k < fresh->count; k++) {
        const struct class_entry entry = fresh->entries[k];
        if (entry.sum <= sum && dbm_includes(bound, entry.class->bound, key->dim)) {
            put_aside(classes, entry.class);
            classes->fresh_count--;
        } else {
            fresh->entries[kept] = entry;
            kept++;
        }
    }
    fresh->count = kept;
}

bool classes_add(struct classes *classes, struct class_key *key, const int32_t *bound,
        const struct class_piece *piece) {
    struct class_entry entry = {.sum = sum_of(bound, key->dim)};
    if (is_held(classes, &key->known, key, bound, entry.sum) ||
            is_held(classes, &key->fresh, key, bound, entry.sum)) {
        return true;
    }
    const bool first = key->fresh.count == 0;
    if (!classes->no_inclusion) {
        drop_included(classes, key, bound, entry.sum);
    }
    struct explore_class *fresh = take_class(classes, key);
    struct class_piece *way = take_piece(classes);
    if (fresh == NULL || way == NULL || !make_room(classes, &key->fresh)) {
        return false;
    }
    *way = *piece;
    way->next = NULL;
    fresh->key = key;
    fresh->pieces = way;
    fresh->next_of_level = NULL;
    memcpy(fresh->bound, bound, zone_size(key));
    entry.class = fresh;
    key->fresh.entries[key->fresh.count] = entry;
    key->fresh.count++;
    classes->fresh_count++;
    if (first) {
        key->next_fresh = classes->fresh_keys;
        classes->fresh_keys = key;
    }
    return true;
}

/* Takes `other` out of the fresh ones; `into` has grown to hold it, so its ways lead into that. */
static void absorb(struct classes *classes, struct explore_class *into, struct class_entry *entry) {
    struct explore_class *other = entry->class;
    entry->class = NULL;
    struct class_piece **end = &into->pieces;
    while (*end != NULL) {
        end = &(*end)->next;
    }
    *end = other->pieces;
    other->pieces = NULL;
    put_aside(classes, other);
    classes->fresh_count--;
}

/* Closes the gaps that absorbing left. */
static void close_gaps(struct class_list *list) {
    uint32_t kept = 0;
    for (uint32_t k = 0; k < list->count; k++) {
        if (list->entries[k].class != NULL) {
            list->entries[kept] = list->entries[k];
            kept++;
        }
    }
    list->count = kept;
}

/* Tries the classes after the one at `at`. From the second round on, only pairs of which one has grown since they were
 * tried. */
static bool merge_into(
        struct classes *classes, const struct class_list *fresh, size_t at, uint32_t round) {
    struct explore_class *into = fresh->entries[at].class;
    const size_t dim = into->key->dim;
    bool grew = false;
    for (size_t k = at + 1; k < fresh->count; k++) {
        struct explore_class *other = fresh->entries[k].class;
        if (other == NULL || (into->grown + 1 < round && other->grown + 1 < round) ||
                !dbm_union_is_hull(into->bound, other->bound, dim)) {
            continue;
        }
        dbm_hull(into->bound, other->bound, dim);
        absorb(classes, into, &fresh->entries[k]);
        into->grown = round;
        grew = true;
    }
    return grew;
}

static void merge_pairs(struct classes *classes, struct class_list *fresh) {
    bool grew = true;
    for (size_t k = 0; k < fresh->count; k++) {
        fresh->entries[k].class->grown = 0;
    }
    for (uint32_t round = 1; grew && round <= PAIR_ROUNDS; round++) {
        grew = false;
        for (size_t k = 0; k < fresh->count; k++) {
            if (fresh->entries[k].class != NULL) {
                grew = merge_into(classes, fresh, k, round) || grew;
            }
        }
        close_gaps(fresh);
    }
}

/* Many at once: three zones can fill their hull though no two of them do. */
static bool merge_group(struct classes *classes, struct class_key *key) {
    const size_t dim = key->dim;
    const size_t count = key->fresh.count;
    const int32_t *zones[GROUP_MAX];
    if (count < 3 || count > GROUP_MAX) {
        return true;
    }
    for (size_t k = 0; k < count; k++) {
        zones[k] = key->fresh.entries[k].class->bound;
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
        struct explore_class *into = key->fresh.entries[0].class;
        memcpy(into->bound, hull, zone_size(key));
        for (size_t k = 1; k < count; k++) {
            absorb(classes, into, &key->fresh.entries[k]);
        }
        key->fresh.count = 1;
    }
    return true;
}

/* The latest comes first, in merging and in the level. */
static void turn_round(struct class_list *list) {
    for (size_t k = 0; k < list->count / 2; k++) {
        const struct class_entry entry = list->entries[k];
        list->entries[k] = list->entries[list->count - 1 - k];
        list->entries[list->count - 1 - k] = entry;
    }
}

static bool merge(struct classes *classes, struct class_key *key) {
    if (classes->no_merge || key->fresh.count < 2) {
        return true;
    }
    merge_pairs(classes, &key->fresh);
    if (!merge_group(classes, key)) {
        return false;
    }
    for (size_t k = 0; k < key->fresh.count; k++) {
        struct class_entry *entry = &key->fresh.entries[k];
        entry->sum = sum_of(entry->class->bound, key->dim);
    }
    return true;
}

/* A hull may be known though no part of it was; with inclusion the parts would be gone. */
static void drop_known(struct classes *classes, struct class_key *key) {
    for (size_t k = 0; k < key->fresh.count; k++) {
        struct class_entry *entry = &key->fresh.entries[k];
        if (is_held(classes, &key->known, key, entry->class->bound, entry->sum)) {
            put_aside(classes, entry->class);
            classes->fresh_count--;
            entry->class = NULL;
        }
    }
    close_gaps(&key->fresh);
}

static bool become_known(struct classes *classes, struct class_key *key) {
    if (key->known.count == 0) {
        const struct class_list empty = key->known;
        key->known = key->fresh;
        key->fresh = empty;
        return true;
    }
    for (size_t k = 0; k < key->fresh.count; k++) {
        if (!make_room(classes, &key->known)) {
            return false;
        }
        key->known.entries[key->known.count] = key->fresh.entries[k];
        key->known.count++;
    }
    key->fresh.count = 0;
    return true;
}

bool classes_settle(struct classes *classes, struct explore_class **ret_level, size_t *ret_count) {
    struct explore_class **end = ret_level;
    *ret_level = NULL;
    for (struct class_key *key = classes->fresh_keys; key != NULL; key = key->next_fresh) {
        turn_round(&key->fresh);
        if (!merge(classes, key)) {
            return false;
        }
        if (classes->no_inclusion) {
            drop_known(classes, key);
        }
        for (size_t k = 0; k < key->fresh.count; k++) {
            *end = key->fresh.entries[k].class;
            end = &(*end)->next_of_level;
        }
        if (!become_known(classes, key)) {
            return false;
        }
    }
    classes->fresh_keys = NULL;
    *ret_count = classes->fresh_count;
    classes->fresh_count = 0;
    return true;
}
