#include "breakin/labels.h"

#include <string.h>

enum { FIRST_CAPACITY = 1024 };

void labels_init(struct labels *labels, const struct devices_world *world, struct arena *arena,
        size_t limit) {
    *labels = (struct labels){.world = world, .arena = arena, .limit = limit};
}

/* ---- arrays that grow -------------------------------------------------------------------------------------------- */

static void *grown(struct labels *labels, const void *old, size_t count, size_t size,
        size_t *capacity, size_t wanted) {
    if (wanted <= *capacity) {
        return (void *)(uintptr_t)old;
    }
    size_t larger = *capacity == 0 ? FIRST_CAPACITY : *capacity;
    while (larger < wanted) {
        larger *= 2;
    }
    void *memory = arena_take(labels->arena, larger, size);
    if (memory == NULL) {
        labels->failed = true;
        return NULL;
    }
    if (count > 0) {
        memcpy(memory, old, count * size);
    }
    *capacity = larger;
    return memory;
}

static bool make_room(struct labels *labels, size_t timers) {
    size_t heap_capacity = labels->capacity;
    int32_t *heap = grown(labels, labels->heap, labels->heap_count, sizeof heap[0], &heap_capacity,
            labels->count + 1);
    struct label *list = grown(labels, labels->list, labels->count, sizeof list[0],
            &labels->capacity, labels->count + 1);
    int32_t *left_s = grown(labels, labels->left_s, labels->left_count, sizeof left_s[0],
            &labels->left_capacity, labels->left_count + timers + 1);
    if (labels->failed) {
        return false;
    }
    labels->heap = heap;
    labels->list = list;
    labels->left_s = left_s;
    return true;
}

/* ---- modes, each kept once --------------------------------------------------------------------------------------- */

static uint64_t stir(uint64_t hash, uint64_t word) {
    hash = (hash ^ word) * 0x100000001B3ULL;
    return hash ^ hash >> 29;
}

/* FNV-1a (Fowler, Noll, Vo) over words: a mode is a whole number of them. In four lanes: a multiplication need not wait
 * for the one before it. */
static uint64_t hash_of(const void *bytes, size_t size) {
    enum { LANES = 4 };
    const unsigned char *at = bytes;
    uint64_t lanes[LANES] = {0xCBF29CE484222325ULL, 1, 2, 3};
    uint64_t words[LANES];
    size_t i = 0;
    for (; i + sizeof words <= size; i += sizeof words) {
        memcpy(words, at + i, sizeof words);
        for (size_t lane = 0; lane < LANES; lane++) {
            lanes[lane] = stir(lanes[lane], words[lane]);
        }
    }
    for (; i + sizeof words[0] <= size; i += sizeof words[0]) {
        memcpy(words, at + i, sizeof words[0]);
        lanes[0] = stir(lanes[0], words[0]);
    }
    return stir(stir(stir(lanes[0], lanes[1]), lanes[2]), lanes[3]);
}
_Static_assert(sizeof(struct moment_mode) % sizeof(uint64_t) == 0, "a mode is whole words");

static bool grow_modes(struct labels *labels) {
    const struct moment_mode **modes = grown(labels, labels->modes, labels->mode_count,
            sizeof modes[0], &labels->mode_capacity, labels->mode_count + 1);
    if (modes == NULL) {
        return false;
    }
    labels->modes = modes;
    if (labels->mode_slot_count >= 2 * labels->mode_capacity) {
        return true;
    }
    const size_t count = 2 * labels->mode_capacity;
    int32_t *slots = ARENA_ARRAY(labels->arena, int32_t, count);
    if (slots == NULL) {
        labels->failed = true;
        return false;
    }
    for (size_t i = 0; i < count; i++) {
        slots[i] = LABELS_NONE;
    }
    for (size_t i = 0; i < labels->mode_count; i++) {
        size_t slot = hash_of(labels->modes[i], sizeof *labels->modes[i]) & (count - 1);
        while (slots[slot] != LABELS_NONE) {
            slot = (slot + 1) & (count - 1);
        }
        slots[slot] = (int32_t)i;
    }
    labels->mode_slots = slots;
    labels->mode_slot_count = count;
    return true;
}

static int32_t mode_of(struct labels *labels, const struct moment_mode *mode) {
    if (!grow_modes(labels)) {
        return LABELS_NONE;
    }
    size_t slot = hash_of(mode, sizeof *mode) & (labels->mode_slot_count - 1);
    while (labels->mode_slots[slot] != LABELS_NONE) {
        const int32_t found = labels->mode_slots[slot];
        if (memcmp(labels->modes[found], mode, sizeof *mode) == 0) {
            return found;
        }
        slot = (slot + 1) & (labels->mode_slot_count - 1);
    }
    struct moment_mode *copy = ARENA_NEW(labels->arena, struct moment_mode);
    if (copy == NULL) {
        labels->failed = true;
        return LABELS_NONE;
    }
    *copy = *mode;
    labels->modes[labels->mode_count] = copy;
    labels->mode_slots[slot] = (int32_t)labels->mode_count;
    labels->mode_count++;
    return labels->mode_slots[slot];
}

/* ---- labels by mode and place ------------------------------------------------------------------------------------ */

/* From the bits in which both halves of the product show: those of the mode only come above the 32nd. */
static size_t spread(int32_t mode, int32_t place, size_t count) {
    const uint64_t both = (uint64_t)(uint32_t)mode << 32 | (uint32_t)place;
    return (size_t)((both * 0x9E3779B97F4A7C15ULL) >> 40) & (count - 1);
}

static size_t slot_of(const struct labels *labels, int32_t mode, int32_t place) {
    size_t slot = spread(mode, place, labels->slot_count);
    while (labels->slots[slot] != LABELS_NONE) {
        const struct label *first = &labels->list[labels->slots[slot]];
        if (first->mode == mode && first->place == place) {
            break;
        }
        slot = (slot + 1) & (labels->slot_count - 1);
    }
    return slot;
}

static bool grow_slots(struct labels *labels) {
    if (labels->slot_count > 0 && 2 * labels->slot_used < labels->slot_count) {
        return true;
    }
    const size_t old_count = labels->slot_count;
    const int32_t *old = labels->slots;
    const size_t count = old_count == 0 ? 2 * (size_t)FIRST_CAPACITY : 2 * old_count;
    int32_t *slots = ARENA_ARRAY(labels->arena, int32_t, count);
    if (slots == NULL) {
        labels->failed = true;
        return false;
    }
    for (size_t i = 0; i < count; i++) {
        slots[i] = LABELS_NONE;
    }
    labels->slots = slots;
    labels->slot_count = count;
    for (size_t i = 0; i < old_count; i++) {
        if (old[i] != LABELS_NONE) {
            const struct label *first = &labels->list[old[i]];
            slots[slot_of(labels, first->mode, first->place)] = old[i];
        }
    }
    return true;
}

static int32_t least(const int32_t *left_s, size_t count) {
    int32_t least_s = BREAKIN_NEVER_S;
    for (size_t i = 0; i < count; i++) {
        least_s = left_s[i] < least_s ? left_s[i] : least_s;
    }
    return least_s;
}

/* Whether times a are at least as good for the intruder as b, in the same mode: at once, or after standing still for a
 * while in which no timer ends and which makes him no later than with b. later_s: by how much b was reached later. */
static bool as_good(const struct labels *labels, const struct moment_mode *mode, const int32_t *a_s,
        const int32_t *b_s, int32_t later_s) {
    int32_t low_s = 0;
    int32_t high_s = least(a_s, mode->timer_count);
    high_s = later_s < high_s ? later_s : high_s;
    high_s = high_s > 0 ? high_s : 0;
    for (size_t i = 0; i < mode->timer_count; i++) {
        const int32_t more_s = a_s[i] - b_s[i];
        const enum devices_sway sway = devices_sway_of(labels->world, mode->timers[i]);
        if (sway != DEVICES_SUITS && more_s > low_s) {
            low_s = more_s;
        }
        if (sway != DEVICES_THREATENS && more_s < high_s) {
            high_s = more_s;
        }
        if (low_s > high_s) {
            return false;
        }
    }
    return true;
}

/* ---- waiting to be gone on from ---------------------------------------------------------------------------------- */

static bool sooner(const struct labels *labels, int32_t a, int32_t b) {
    if (labels->list[a].certain != labels->list[b].certain) {
        return labels->list[b].certain;
    }
    const int32_t a_s = labels->list[a].step.elapsed_s;
    const int32_t b_s = labels->list[b].step.elapsed_s;
    return a_s != b_s ? a_s < b_s : a < b;
}

static void heap_add(struct labels *labels, int32_t label) {
    size_t at = labels->heap_count++;
    while (at > 0 && sooner(labels, label, labels->heap[(at - 1) / 2])) {
        labels->heap[at] = labels->heap[(at - 1) / 2];
        at = (at - 1) / 2;
    }
    labels->heap[at] = label;
}

static int32_t heap_take(struct labels *labels) {
    const int32_t taken = labels->heap[0];
    const int32_t last = labels->heap[--labels->heap_count];
    size_t at = 0;
    for (size_t child = 1; child < labels->heap_count; child = 2 * at + 1) {
        if (child + 1 < labels->heap_count &&
                sooner(labels, labels->heap[child + 1], labels->heap[child])) {
            child++;
        }
        if (!sooner(labels, labels->heap[child], last)) {
            break;
        }
        labels->heap[at] = labels->heap[child];
        at = child;
    }
    labels->heap[at] = last;
    return taken;
}

int32_t labels_take(struct labels *labels) {
    while (labels->heap_count > 0) {
        const int32_t label = heap_take(labels);
        if (!labels->list[label].dominated) {
            return label;
        }
    }
    return LABELS_NONE;
}

/* ---- adding ------------------------------------------------------------------------------------------------------ */

/* Of this mode, and in no list yet. */
static int32_t append(struct labels *labels, const struct moment *moment, int32_t mode,
        int32_t place, struct labels_step step) {
    const size_t timers = moment->mode.timer_count;
    labels->refused = labels->count >= labels->limit;
    if (labels->refused) {
        labels->full = true;
        return LABELS_NONE;
    }
    const int32_t label = (int32_t)labels->count++;
    labels->list[label] = (struct label){.step = step,
            .mode = mode,
            .place = place,
            .next = LABELS_NONE,
            .left_at = (uint32_t)labels->left_count,
            .bound_s = BREAKIN_NEVER_S};
    memcpy(&labels->left_s[labels->left_count], moment->left_s, timers * sizeof labels->left_s[0]);
    labels->left_count += timers;
    return label;
}

/* Whether one in the list is at least as good; those that are no better are marked. */
static bool is_worse(struct labels *labels, int32_t first, const struct moment *moment,
        int32_t elapsed_s, bool waits_seconds) {
    for (int32_t i = first; i != LABELS_NONE; i = labels->list[i].next) {
        struct label *other = &labels->list[i];
        const int32_t *left_s = &labels->left_s[other->left_at];
        if (other->dominated) {
            continue;
        }
        const int32_t later_s = waits_seconds ? 0 : elapsed_s - other->step.elapsed_s;
        if (as_good(labels, &moment->mode, left_s, moment->left_s, later_s)) {
            return true;
        }
        other->dominated = as_good(labels, &moment->mode, moment->left_s, left_s, -later_s);
    }
    return false;
}

int32_t labels_add(struct labels *labels, const struct moment *moment, int32_t place,
        struct labels_step step, bool waits_seconds) {
    const int32_t mode = mode_of(labels, &moment->mode);
    if (mode == LABELS_NONE || !make_room(labels, moment->mode.timer_count) ||
            !grow_slots(labels)) {
        return LABELS_NONE;
    }
    const size_t slot = slot_of(labels, mode, place);
    const int32_t first = labels->slots[slot];
    labels->refused = false;
    if (is_worse(labels, first, moment, step.elapsed_s, waits_seconds)) {
        return LABELS_NONE;
    }
    const int32_t label = append(labels, moment, mode, place, step);
    if (label == LABELS_NONE) {
        return LABELS_NONE;
    }
    if (first == LABELS_NONE) {
        labels->slots[slot] = label;
        labels->slot_used++;
    } else {
        labels->list[label].next = labels->list[first].next;
        labels->list[first].next = label;
    }
    return label;
}

int32_t labels_keep(struct labels *labels, const struct moment *moment, int32_t place,
        struct labels_step step) {
    const int32_t mode = mode_of(labels, &moment->mode);
    if (mode == LABELS_NONE || !make_room(labels, moment->mode.timer_count)) {
        return LABELS_NONE;
    }
    return append(labels, moment, mode, place, step);
}

void labels_wait(struct labels *labels, int32_t label, bool certain, int32_t bound_s) {
    labels->list[label].certain = certain;
    labels->list[label].bound_s = bound_s;
    heap_add(labels, label);
}

void labels_moment(const struct labels *labels, int32_t label, struct moment *ret_moment) {
    const struct label *from = &labels->list[label];
    ret_moment->mode = *labels->modes[from->mode];
    memcpy(ret_moment->left_s, &labels->left_s[from->left_at],
            ret_moment->mode.timer_count * sizeof ret_moment->left_s[0]);
    memset(&ret_moment->left_s[ret_moment->mode.timer_count], 0,
            (BREAKIN_TIMER_MAX - ret_moment->mode.timer_count) * sizeof ret_moment->left_s[0]);
    ret_moment->age_s = -1;
    ret_moment->overflowed = false;
}
