/* Difference-bound matrices: the instants that are possible together, as bounds on their differences.
 *
 * A matrix of dim x dim numbers, rows stride apart; entry [i][j] is the most that x_i - x_j may be. Bounds
 * are closed and whole, all are finite, and every matrix here is *closed*: no bound can be lowered without
 * losing a solution, so emptiness, inclusion and extremes are read off. A closed, non-empty matrix of whole
 * bounds has whole solutions; x_i = -[0][i] (relative to x_0) is the least one.
 * Sources: Dill 1989 (matrices, closure); Bengtsson and Yi 2004 (tightening in one pass).
 *
 * Magnitudes stay under DBM_MOST, so that the sum of three bounds fits 32 bits. */
#ifndef LINTEL_EXPLORE_DBM_H
#define LINTEL_EXPLORE_DBM_H

#include "explore/explore.h"

enum {
    DBM_DIM_MAX = 1 + EXPLORE_ACTIVE_MAX + 2, /* now, deadlines, two marks */
    DBM_MOST = 1 << 29,
};

/** Adds x_i - x_j <= most and closes again. False: nothing is left (the matrix is then spoilt). */
bool dbm_tighten(int32_t *bound, size_t stride, size_t dim, size_t i, size_t j, int32_t most);

/** Whether every solution of inner is one of outer. Both dense (stride = dim). */
bool dbm_includes(const int32_t *outer, const int32_t *inner, size_t dim);

/** Grows `into` to the least matrix that holds both. The result is closed. Dense. */
void dbm_hull(int32_t *into, const int32_t *other, size_t dim);

/** Whether the hull of a and b holds no whole point outside of both. Exact. Dense. */
bool dbm_union_is_hull(const int32_t *a, const int32_t *b, size_t dim);

/** Whether every whole point of `rest` lies in one of the count zones. May say false when it gives up:
 *  *effort is counted down by each cut, at 0 it gives up. scratch: 2 * count matrices of dim x dim. Dense. */
bool dbm_covered(const int32_t *rest, const int32_t *const *zones, size_t count, size_t dim,
        int32_t *scratch, size_t *effort);

#endif
