/* One firing on a zone: the activity's deadline becomes now, then the effects, in their order.
 *
 * Works on a matrix of its own whose rows are compact but in no order; giving the zone sorts it. When
 * `keeps_rows` is set nothing is ever projected away: the matrix then holds every instant before and after the
 * firing, which is how a story finds its way back. */
#ifndef LINTEL_EXPLORE_FIRING_H
#define LINTEL_EXPLORE_FIRING_H

#include "explore/dbm.h"

enum { FIRING_BRANCH_WORDS = (EXPLORE_EFFECT_MAX + 31) / 32 };

/* No matrix has so many rows. */
#define FIRING_NO_ROW ((uint8_t)0xFF)

/** How the SHORTENs that found their activity running went, in order: bit set = the new deadline holds. */
struct firing_branches {
    uint32_t replaced[FIRING_BRANCH_WORDS];
};

/** The walk over all ways the SHORTENs can go. decided: how many of `taken` are fixed for this round. open:
 *  those where the other way is still to be tried. Zeroed = first round. */
struct firing_choices {
    struct firing_branches taken;
    struct firing_branches open;
    size_t decided;
};

/** The zone being changed. bound: stride apart; rows 0 .. dim - 1 are in use. */
struct firing {
    int32_t *bound;
    size_t stride;
    size_t dim;
    size_t now_row;
    bool keeps_rows;
    size_t count;
    explore_activity activity[EXPLORE_ACTIVE_MAX]; /* ascending */
    uint8_t row[EXPLORE_ACTIVE_MAX];
    uint8_t mark_row[2]; /* FIRING_NO_ROW: not set */
};

enum { FIRING_ROWS_MAX = DBM_DIM_MAX + EXPLORE_EFFECT_MAX };

_Static_assert(FIRING_ROWS_MAX < 0xFF, "rows fit a byte");

struct explore_class;

/** Sets up instant 0: only now. bound, stride: borrows; room for DBM_DIM_MAX rows, FIRING_ROWS_MAX if rows
 *  are kept. */
void firing_begin(struct firing *firing, int32_t *bound, size_t stride, bool keeps_rows);

/** The least of each column over the deadline rows, shared by all firings of a class. least: DBM_DIM_MAX. Activity
 *  at index k (row k + 1) can fire first exactly if least[k + 1] is 0. */
void firing_least(const struct explore_class *from, int32_t *ret_least);

/** Fires the activity at index fired of the class: it ends, its deadline becomes now. Must be able to fire. */
void firing_fire(struct firing *firing, const struct explore_class *from, const int32_t *least,
        size_t fired, int32_t *bound, size_t stride, bool keeps_rows);

/** Applies the effects. choices: in: the ways fixed; out: all ways taken in this round. False: more activities
 *  would run than EXPLORE_ACTIVE_MAX. */
bool firing_apply(struct firing *firing, const struct explore_effects *effects,
        struct firing_choices *choices);

/** Goes on to the next round of choices; false when all were taken. */
bool firing_next(struct firing_choices *choices);

/** Sets the marks of the probe that are not set yet. mark: as in explore_effects. */
void firing_mark(struct firing *firing, uint8_t mark);

/** Row of mark 0 (start) or 1 (end), taking marks set by this very firing as now; FIRING_NO_ROW if not set. */
size_t firing_mark_row(const struct firing *firing, size_t which, uint8_t mark);

size_t firing_dim(const struct firing *firing);

/** Writes the zone dense, in the order of a key: now, activities ascending, marks. */
void firing_give_zone(const struct firing *firing, int32_t *ret_bound);

#endif
