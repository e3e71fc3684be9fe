#include "explore/firing.h"

#include "explore/classes.h"

#include <assert.h>
#include <string.h>

static int32_t *entry(const struct firing *firing, size_t i, size_t j) {
    return firing->bound + i * firing->stride + j;
}

void firing_begin(struct firing *firing, int32_t *bound, size_t stride, bool keeps_rows) {
    firing->bound = bound;
    firing->stride = stride;
    firing->dim = 1;
    firing->now_row = 0;
    firing->keeps_rows = keeps_rows;
    firing->count = 0;
    firing->mark_row[0] = FIRING_NO_ROW;
    firing->mark_row[1] = FIRING_NO_ROW;
    bound[0] = 0;
}

void firing_least(const struct explore_class *from, int32_t *ret_least) {
    const size_t dim = from->key->dim;
    memcpy(ret_least, from->bound + dim, dim * sizeof *ret_least);
    for (size_t i = 2; i <= from->key->count; i++) {
        const int32_t *row = from->bound + i * dim;
        for (size_t j = 0; j < dim; j++) {
            if (row[j] < ret_least[j]) {
                ret_least[j] = row[j];
            }
        }
    }
}

/* Which row of the class each row of the firing is. Without keeping, old now goes, fired takes its place as row 0
 * and the last row closes the gap. */
static size_t map_rows(const struct class_key *key, size_t fired_row, bool keeps_rows,
        uint8_t *old_of, uint8_t *new_of) {
    size_t dim = key->dim;
    for (size_t i = 0; i < dim; i++) {
        old_of[i] = (uint8_t)i;
    }
    if (!keeps_rows) {
        dim--;
        old_of[0] = (uint8_t)fired_row;
        if (fired_row != dim) {
            old_of[fired_row] = (uint8_t)dim;
        }
    }
    for (size_t i = 0; i < dim; i++) {
        new_of[old_of[i]] = (uint8_t)i;
    }
    return dim;
}

void firing_fire(struct firing *firing, const struct explore_class *from, const int32_t *least,
        size_t fired, int32_t *bound, size_t stride, bool keeps_rows) {
    const struct class_key *key = from->key;
    const size_t fired_row = fired + 1;
    uint8_t old_of[DBM_DIM_MAX];
    uint8_t new_of[DBM_DIM_MAX] = {0};
    const size_t dim = map_rows(key, fired_row, keeps_rows, old_of, new_of);
    firing->bound = bound;
    firing->stride = stride;
    firing->dim = dim;
    firing->now_row = new_of[fired_row];
    firing->keeps_rows = keeps_rows;
    /* All of "fired <= other" at once: a shortest way uses at most one of them, after reaching fired. */
    for (size_t i = 0; i < dim; i++) {
        const int32_t *old_row = from->bound + (size_t)old_of[i] * key->dim;
        int32_t *new_row = bound + i * stride;
        const int32_t through = old_row[fired_row];
        for (size_t j = 0; j < dim; j++) {
            const int32_t direct = old_row[old_of[j]];
            const int32_t around = through + least[old_of[j]];
            new_row[j] = around < direct ? around : direct;
        }
    }
    firing->count = 0;
    for (size_t k = 0; k < key->count; k++) {
        if (k != fired) {
            firing->activity[firing->count] = key->activity[k];
            firing->row[firing->count] = new_of[k + 1];
            firing->count++;
        }
    }
    size_t mark_row = 1 + (size_t)key->count;
    for (size_t which = 0; which < 2; which++) {
        firing->mark_row[which] = FIRING_NO_ROW;
        if ((key->marks >> which & 1) != 0) {
            firing->mark_row[which] = new_of[mark_row];
            mark_row++;
        }
    }
}

static size_t find_place(const struct firing *firing, explore_activity activity) {
    size_t place = 0;
    while (place < firing->count && firing->activity[place] < activity) {
        place++;
    }
    return place;
}

static bool runs(const struct firing *firing, size_t place, explore_activity activity) {
    return place < firing->count && firing->activity[place] == activity;
}

/* A new row: an instant that lies low .. high after now. */
static size_t add_row(struct firing *firing, int32_t low, int32_t high) {
    const size_t row = firing->dim;
    const size_t now = firing->now_row;
    for (size_t i = 0; i < firing->dim; i++) {
        *entry(firing, row, i) = high + *entry(firing, now, i);
        *entry(firing, i, row) = *entry(firing, i, now) - low;
    }
    *entry(firing, row, row) = 0;
    firing->dim++;
    return row;
}

/* Projects a row away: in a closed matrix, leaving it out is enough. */
static void drop_row(struct firing *firing, size_t row) {
    if (firing->keeps_rows) {
        return;
    }
    const size_t last = firing->dim - 1;
    firing->dim = last;
    if (row == last) {
        return;
    }
    for (size_t i = 0; i < last; i++) {
        *entry(firing, row, i) = *entry(firing, last, i);
        *entry(firing, i, row) = *entry(firing, i, last);
    }
    *entry(firing, row, row) = 0;
    for (size_t k = 0; k < firing->count; k++) {
        if (firing->row[k] == last) {
            firing->row[k] = (uint8_t)row;
        }
    }
    for (size_t which = 0; which < 2; which++) {
        if (firing->mark_row[which] == last) {
            firing->mark_row[which] = (uint8_t)row;
        }
    }
}

static void apply_stop(struct firing *firing, explore_activity activity) {
    const size_t place = find_place(firing, activity);
    if (!runs(firing, place, activity)) {
        return;
    }
    const size_t row = firing->row[place];
    firing->count--;
    for (size_t k = place; k < firing->count; k++) {
        firing->activity[k] = firing->activity[k + 1];
        firing->row[k] = firing->row[k + 1];
    }
    drop_row(firing, row);
}

static bool apply_start(struct firing *firing, const struct explore_effect *effect) {
    assert(effect->activity != EXPLORE_BEGIN);
    apply_stop(firing, effect->activity);
    if (firing->count == EXPLORE_ACTIVE_MAX) {
        return false;
    }
    const size_t place = find_place(firing, effect->activity);
    for (size_t k = firing->count; k > place; k--) {
        firing->activity[k] = firing->activity[k - 1];
        firing->row[k] = firing->row[k - 1];
    }
    firing->count++;
    firing->activity[place] = effect->activity;
    firing->row[place] = (uint8_t)add_row(firing, effect->span.low_s, effect->span.high_s);
    return true;
}

static bool bit(const struct firing_branches *branches, size_t index) {
    return (branches->replaced[index / 32] >> (index % 32) & 1) != 0;
}

static void set_bit(struct firing_branches *branches, size_t index, bool value) {
    const uint32_t mask = (uint32_t)1 << (index % 32);
    uint32_t *word = &branches->replaced[index / 32];
    *word = value ? *word | mask : *word & ~mask;
}

/* The old deadline may stay if it can lie within the longest new one; the new one may hold if the old one can lie
 * past the shortest. Where they only touch, one way tells all. */
static void decide(struct firing_choices *choices, size_t index, int32_t left_low,
        int32_t left_high, struct span span) {
    if (index < choices->decided) {
        return;
    }
    const bool only_replaced = left_low >= span.high_s;
    const bool only_kept = !only_replaced && left_high <= span.low_s;
    set_bit(&choices->taken, index, only_replaced);
    set_bit(&choices->open, index, !only_replaced && !only_kept);
    choices->decided = index + 1;
}

static void replace_deadline(struct firing *firing, size_t place, struct span span) {
    const size_t now = firing->now_row;
    const size_t old = firing->row[place];
    const bool possible =
            dbm_tighten(firing->bound, firing->stride, firing->dim, now, old, -span.low_s);
    assert(possible);
    (void)possible;
    size_t row = old;
    if (firing->keeps_rows) {
        row = add_row(firing, span.low_s, span.high_s);
        firing->row[place] = (uint8_t)row;
    }
    for (size_t i = 0; i < firing->dim; i++) {
        if (i == row) {
            continue;
        }
        const int32_t from_now = span.high_s + *entry(firing, now, i);
        const int32_t from_old = *entry(firing, old, i);
        *entry(firing, row, i) = from_now < from_old ? from_now : from_old;
        *entry(firing, i, row) = *entry(firing, i, now) - span.low_s;
    }
}

static void apply_shorten(struct firing *firing, const struct explore_effect *effect,
        struct firing_choices *choices, size_t *index) {
    const size_t place = find_place(firing, effect->activity);
    if (!runs(firing, place, effect->activity)) {
        return;
    }
    const size_t now = firing->now_row;
    const size_t row = firing->row[place];
    decide(choices, *index, -*entry(firing, now, row), *entry(firing, row, now), effect->span);
    if (bit(&choices->taken, *index)) {
        replace_deadline(firing, place, effect->span);
    } else {
        const bool possible = dbm_tighten(
                firing->bound, firing->stride, firing->dim, row, now, effect->span.high_s);
        assert(possible);
        (void)possible;
    }
    ++*index;
}

bool firing_apply(struct firing *firing, const struct explore_effects *effects,
        struct firing_choices *choices) {
    size_t index = 0;
    assert(effects->count <= EXPLORE_EFFECT_MAX);
    for (size_t k = 0; k < effects->count; k++) {
        const struct explore_effect *effect = &effects->effects[k];
        switch (effect->kind) {
        case EXPLORE_START:
            if (!apply_start(firing, effect)) {
                return false;
            }
            break;
        case EXPLORE_STOP:
            apply_stop(firing, effect->activity);
            break;
        case EXPLORE_SHORTEN:
            apply_shorten(firing, effect, choices, &index);
            break;
        }
    }
    return true;
}

bool firing_next(struct firing_choices *choices) {
    while (choices->decided > 0) {
        const size_t last = choices->decided - 1;
        if (bit(&choices->open, last)) {
            set_bit(&choices->open, last, false);
            set_bit(&choices->taken, last, true);
            return true;
        }
        set_bit(&choices->taken, last, false);
        choices->decided = last;
    }
    return false;
}

void firing_mark(struct firing *firing, uint8_t mark) {
    for (size_t which = 0; which < 2; which++) {
        if ((mark >> which & 1) != 0 && firing->mark_row[which] == FIRING_NO_ROW) {
            firing->mark_row[which] = (uint8_t)add_row(firing, 0, 0);
        }
    }
}

size_t firing_mark_row(const struct firing *firing, size_t which, uint8_t mark) {
    if (firing->mark_row[which] == FIRING_NO_ROW && (mark >> which & 1) != 0) {
        return firing->now_row;
    }
    return firing->mark_row[which];
}

static size_t list_rows(const struct firing *firing, uint8_t *ret_rows) {
    size_t dim = 0;
    ret_rows[dim++] = (uint8_t)firing->now_row;
    for (size_t k = 0; k < firing->count; k++) {
        ret_rows[dim++] = firing->row[k];
    }
    for (size_t which = 0; which < 2; which++) {
        if (firing->mark_row[which] != FIRING_NO_ROW) {
            ret_rows[dim++] = firing->mark_row[which];
        }
    }
    return dim;
}

size_t firing_dim(const struct firing *firing) {
    return 1 + firing->count + (firing->mark_row[0] != FIRING_NO_ROW) +
            (firing->mark_row[1] != FIRING_NO_ROW);
}

void firing_give_zone(const struct firing *firing, int32_t *ret_bound) {
    uint8_t rows[DBM_DIM_MAX];
    const size_t dim = list_rows(firing, rows);
    for (size_t i = 0; i < dim; i++) {
        const int32_t *row = firing->bound + rows[i] * firing->stride;
        for (size_t j = 0; j < dim; j++) {
            ret_bound[i * dim + j] = row[rows[j]];
        }
    }
}
