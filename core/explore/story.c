#include "explore/story.h"

#include <assert.h>
#include <string.h>

struct trace {
    const struct explore_machine *machine;
    void *state;
    struct explore_effects effects;
    int32_t *bound;             /* FIRING_ROWS_MAX squared */
    int32_t point[DBM_DIM_MAX]; /* instants of the class at hand, after its now */
};

static void call_machine(struct trace *trace, const struct class_piece *piece) {
    const struct explore_machine *machine = trace->machine;
    memset(&trace->effects, 0, sizeof trace->effects);
    if (piece->parent == NULL) {
        memset(trace->state, 0, machine->state_size);
        machine->begin(machine->context, trace->state, &trace->effects);
    } else {
        memcpy(trace->state, piece->parent->key->bytes, machine->state_size);
        machine->fire(
                machine->context, trace->state, piece->activity, piece->choice, &trace->effects);
    }
}

static size_t index_of(const struct class_key *key, explore_activity activity) {
    size_t index = 0;
    while (index < key->count && key->activity[index] != activity) {
        index++;
    }
    assert(index < key->count);
    return index;
}

/* The parent's zone cut down to "this fires first", every row kept. */
static void open_firing(struct trace *trace, struct firing *firing,
        const struct explore_class *parent, explore_activity activity) {
    if (parent == NULL) {
        firing_begin(firing, trace->bound, FIRING_ROWS_MAX, true);
        return;
    }
    int32_t least[DBM_DIM_MAX];
    firing_least(parent, least);
    firing_fire(firing, parent, least, index_of(parent->key, activity), trace->bound,
            FIRING_ROWS_MAX, true);
}

/* The least solution; the parent's rows come first. */
static void take_point(struct trace *trace, const struct explore_class *parent) {
    for (size_t i = 0; parent != NULL && i < parent->key->dim; i++) {
        trace->point[i] = -trace->bound[i];
    }
}

static bool pin(struct firing *firing, size_t row, int32_t after_now) {
    const size_t now = firing->now_row;
    return dbm_tighten(firing->bound, firing->stride, firing->dim, row, now, after_now) &&
            dbm_tighten(firing->bound, firing->stride, firing->dim, now, row, -after_now);
}

static bool pin_all(const struct trace *trace, struct firing *firing) {
    size_t index = 1;
    for (size_t k = 0; k < firing->count; k++, index++) {
        if (!pin(firing, firing->row[k], trace->point[index])) {
            return false;
        }
    }
    for (size_t which = 0; which < 2; which++) {
        if (firing->mark_row[which] != FIRING_NO_ROW) {
            if (!pin(firing, firing->mark_row[which], trace->point[index])) {
                return false;
            }
            index++;
        }
    }
    return true;
}

/* Whether this piece leads to the point; if so, the point becomes one of the parent. */
static bool trace_piece(
        struct trace *trace, const struct class_key *key, const struct class_piece *piece) {
    struct firing firing;
    open_firing(trace, &firing, piece->parent, piece->activity);
    call_machine(trace, piece);
    struct firing_choices choices = {.taken = piece->branches, .decided = EXPLORE_EFFECT_MAX};
    const bool applied = firing_apply(&firing, &trace->effects, &choices);
    assert(applied && firing.count == key->count);
    (void)applied;
    /* Without a probe no class has marks. */
    firing_mark(&firing, trace->effects.mark & key->marks);
    if (!pin_all(trace, &firing)) {
        return false;
    }
    take_point(trace, piece->parent);
    return true;
}

/* Each class lies one event after every one of its parents, so any way back has as many steps. */
static size_t count_steps(const struct story_end *end) {
    size_t count = 1;
    const struct explore_class *class = end->parent;
    while (class != NULL) {
        class = class->pieces->parent;
        count++;
    }
    return count;
}

static void trace_back(
        struct trace *trace, const struct story_end *end, struct course_step *steps, size_t count) {
    size_t at = count - 1;
    const struct explore_class *class = end->parent;
    steps[at] = (struct course_step){.activity = end->activity, .choice = end->choice};
    if (class != NULL) {
        struct firing firing;
        open_firing(trace, &firing, class, end->activity);
        take_point(trace, class);
    }
    while (class != NULL) {
        const struct class_piece *piece = class->pieces;
        while (piece != NULL && !trace_piece(trace, class->key, piece)) {
            piece = piece->next;
        }
        assert(piece != NULL && at > 0); /* a class is the union of its pieces */
        at--;
        steps[at] = (struct course_step){piece->activity, piece->choice};
        class = piece->parent;
    }
    assert(at == 0);
}

bool story_trace(const struct explore_machine *machine, const struct story_end *end,
        struct arena *scratch, const struct course_step **ret_steps, size_t *ret_count) {
    struct trace *trace = ARENA_NEW(scratch, struct trace);
    const size_t count = count_steps(end);
    struct course_step *steps = ARENA_ARRAY(scratch, struct course_step, count);
    if (trace == NULL || steps == NULL) {
        return false;
    }
    trace->machine = machine;
    trace->state = arena_take(scratch, machine->state_size, 1);
    trace->bound = ARENA_ARRAY(scratch, int32_t, (size_t)FIRING_ROWS_MAX * FIRING_ROWS_MAX);
    if (trace->state == NULL || trace->bound == NULL) {
        return false;
    }
    trace_back(trace, end, steps, count);
    *ret_steps = steps;
    *ret_count = count;
    return true;
}
