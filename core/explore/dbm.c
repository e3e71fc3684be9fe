#include "explore/dbm.h"

#include <string.h>

enum { LOT = 16 };

bool dbm_tighten(int32_t *bound, size_t stride, size_t dim, size_t i, size_t j, int32_t most) {
    if (most >= bound[i * stride + j]) {
        return true;
    }
    if (most + bound[j * stride + i] < 0) {
        return false;
    }
    /* Row j and column i cannot change: the way there and back is not negative. */
    const int32_t *onward = bound + j * stride;
    for (size_t u = 0; u < dim; u++) {
        int32_t *row = bound + u * stride;
        const int32_t through = row[i] + most;
        if (through >= row[j]) {
            continue;
        }
        for (size_t v = 0; v < dim; v++) {
            const int32_t sum = through + onward[v];
            if (sum < row[v]) {
                row[v] = sum;
            }
        }
    }
    return true;
}

bool dbm_includes(const int32_t *outer, const int32_t *inner, size_t dim) {
    const size_t size = dim * dim;
    size_t k = 0;
    /* By lots without a way out of them, so that the compiler can take several numbers at once: one difference below 0
     * makes their union so. */
    for (; k + LOT <= size; k += LOT) {
        int32_t differences = 0;
        for (size_t l = k; l < k + LOT; l++) {
            differences |= outer[l] - inner[l];
        }
        if (differences < 0) {
            return false;
        }
    }
    for (; k < size; k++) {
        if (inner[k] > outer[k]) {
            return false;
        }
    }
    return true;
}

void dbm_hull(int32_t *into, const int32_t *other, size_t dim) {
    for (size_t k = 0; k < dim * dim; k++) {
        if (into[k] < other[k]) {
            into[k] = other[k];
        }
    }
}

static int32_t larger(int32_t a, int32_t b) {
    return a > b ? a : b;
}

/* One way out of zone a: the hull and x_i - x_j > a[i][j]. That part, closed, is in b exactly if it keeps each bound in
 * which b is tighter than the hull; for one added bound the closure is a single sum. hull_i: row i of the hull. */
static bool way_out_is_inside(const int32_t *a, const int32_t *b, const int32_t *hull_i, size_t dim,
        size_t j, int32_t cut) {
    for (size_t p = 0; p < dim; p++) {
        const int32_t *a_row = a + p * dim;
        const int32_t *b_row = b + p * dim;
        const int32_t through = larger(a_row[j], b_row[j]) + cut;
        int32_t broken = 0;
        for (size_t q = 0; q < dim; q++) {
            broken |= (b_row[q] < a_row[q]) & (through + hull_i[q] > b_row[q]);
        }
        if (broken != 0) {
            return false;
        }
    }
    return true;
}

bool dbm_union_is_hull(const int32_t *a, const int32_t *b, size_t dim) {
    int32_t hull_i[DBM_DIM_MAX];
    for (size_t i = 0; i < dim; i++) {
        const int32_t *a_row = a + i * dim;
        const int32_t *b_row = b + i * dim;
        int32_t tighter = 0;
        for (size_t j = 0; j < dim; j++) {
            hull_i[j] = larger(a_row[j], b_row[j]);
            tighter |= a_row[j] < b_row[j];
        }
        for (size_t j = 0; tighter != 0 && j < dim; j++) {
            if (a_row[j] < b_row[j] && !way_out_is_inside(a, b, hull_i, dim, j, -a_row[j] - 1)) {
                return false;
            }
        }
    }
    return true;
}

static bool apart(const int32_t *a, const int32_t *b, size_t dim) {
    for (size_t i = 0; i < dim; i++) {
        for (size_t j = 0; j < dim; j++) {
            if (a[i * dim + j] + b[j * dim + i] < 0) {
                return true;
            }
        }
    }
    return false;
}

/* Cuts from the rest, bound by bound, what lies outside the first zone; each cut must be covered by the
 * other zones. Recursion is as deep as there are zones. */
bool dbm_covered(const int32_t *rest, const int32_t *const *zones, size_t count, size_t dim,
        int32_t *scratch, size_t *effort) {
    const size_t size = dim * dim * sizeof *rest;
    while (count > 0 && apart(rest, zones[0], dim)) {
        zones++;
        count--;
    }
    if (count == 0) {
        return false;
    }
    int32_t *left = scratch;
    int32_t *cut = scratch + dim * dim;
    int32_t *deeper = scratch + 2 * dim * dim;
    const int32_t *zone = zones[0];
    memcpy(left, rest, size);
    for (size_t i = 0; i < dim; i++) {
        for (size_t j = 0; j < dim; j++) {
            const int32_t most = zone[i * dim + j];
            if (most >= left[i * dim + j]) {
                continue;
            }
            if (*effort == 0) {
                return false;
            }
            --*effort;
            memcpy(cut, left, size);
            if (dbm_tighten(cut, dim, dim, j, i, -most - 1) &&
                    !dbm_covered(cut, zones + 1, count - 1, dim, deeper, effort)) {
                return false;
            }
            if (!dbm_tighten(left, dim, dim, i, j, most)) {
                return true;
            }
        }
    }
    return true;
}
