#include "plan/order.h"

#include <string.h>

/* Joins two sorted runs, a of lengths [0] and b of lengths [1], into `into`. The left one wins ties. */
static void merge(const uint32_t *a, const uint32_t *b, const size_t *lengths, uint32_t *into,
        order_before *before, const void *context) {
    size_t i = 0;
    size_t j = 0;
    while (i < lengths[0] && j < lengths[1]) {
        const bool right = before(context, b[j], a[i]);
        into[i + j] = right ? b[j] : a[i];
        j += right;
        i += !right;
    }
    memcpy(into + i + j, a + i, (lengths[0] - i) * sizeof *a);
    memcpy(into + lengths[0] + j, b + j, (lengths[1] - j) * sizeof *b);
}

void order_sort(uint32_t *indexes, uint32_t *scratch, size_t count, order_before *before,
        const void *context) {
    uint32_t *from = indexes;
    uint32_t *into = scratch;
    for (size_t run = 1; run < count; run *= 2) {
        for (size_t start = 0; start < count; start += 2 * run) {
            const size_t left = count - start < run ? count - start : run;
            const size_t rest = count - start - left;
            const size_t lengths[2] = {left, rest < run ? rest : run};
            merge(from + start, from + start + left, lengths, into + start, before, context);
        }
        uint32_t *const swap = from;
        from = into;
        into = swap;
    }
    if (from != indexes) {
        memcpy(indexes, from, count * sizeof *indexes);
    }
}
