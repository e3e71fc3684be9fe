/* The labels of a search: which moments have been reached where, and which of them are still worth going on from. Not
 * for use outside this folder. */
#ifndef LINTEL_BREAKIN_LABELS_H
#define LINTEL_BREAKIN_LABELS_H

#include "breakin/moment.h"

enum { LABELS_NONE = -1 };

/** How a label was reached from its parent: by an edge, or by waiting (edge LABELS_NONE). settled: a wait that ended
 *  what was due at its end. */
struct labels_step {
    int32_t parent;
    int32_t edge;
    int32_t begins_s;
    int32_t elapsed_s;
    bool closes;
    bool ends_first;
    bool settled;
};

/** One that was kept. bound_s: how long until he is heard at the most. certain: so it is known that he is: gone on from
 *  after all others. */
struct label {
    struct labels_step step;
    int32_t bound_s;
    bool certain;
    int32_t mode;
    int32_t place;
    int32_t next; /* of the same mode and place */
    uint32_t left_at;
    bool dominated;
};

/** Filled by labels_init; grows in the arena up to `limit` labels. */
struct labels {
    const struct devices_world *world;
    struct arena *arena;
    size_t limit;
    struct label *list;
    size_t count;
    size_t capacity;
    int32_t *left_s;
    size_t left_count;
    size_t left_capacity;
    const struct moment_mode **modes;
    size_t mode_count;
    size_t mode_capacity;
    int32_t *mode_slots;
    size_t mode_slot_count; /* a power of two */
    int32_t *slots;         /* first label of a mode and place */
    size_t slot_count;      /* a power of two */
    size_t slot_used;
    int32_t *heap; /* waiting to be gone on from, earliest first, then in the order of making */
    size_t heap_count;
    bool full;    /* the limit was reached */
    bool refused; /* the last one, for that */
    bool failed;  /* no memory */
};

void labels_init(struct labels *labels, const struct devices_world *world, struct arena *arena,
        size_t limit);

/** Keeps a moment reached at a place unless one there is at least as good; those it is at least as good as are
 *  dropped. Returns its label, or LABELS_NONE. waits_seconds: from such a moment every second of waiting is tried by
 *  itself; then standing still is not part of what makes one as good. */
int32_t labels_add(struct labels *labels, const struct moment *moment, int32_t place,
        struct labels_step step, bool waits_seconds);

/** Keeps a moment for the way back alone: it is compared with none. Returns its label, or LABELS_NONE. */
int32_t labels_keep(
        struct labels *labels, const struct moment *moment, int32_t place, struct labels_step step);

/** The label is to be gone on from; certain, bound_s: as in struct label. */
void labels_wait(struct labels *labels, int32_t label, bool certain, int32_t bound_s);

/** The earliest label to go on from, or LABELS_NONE. */
int32_t labels_take(struct labels *labels);

/** The moment of a label. */
void labels_moment(const struct labels *labels, int32_t label, struct moment *ret_moment);

#endif
