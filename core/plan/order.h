/* Sorting without the C library's sort, which may take memory of its own. What is sorted are indexes, so that one
 * function serves every kind of thing. */
#ifndef LINTEL_PLAN_ORDER_H
#define LINTEL_PLAN_ORDER_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/** Whether the thing at index a comes before the thing at index b: a strict weak order. context: borrows. */
typedef bool order_before(const void *context, uint32_t a, uint32_t b);

/** Sorts the count indexes so that none comes before the one ahead of it; equal ones keep their order. scratch: room
 *  for count more. O(count log count) comparisons. */
void order_sort(uint32_t *indexes, uint32_t *scratch, size_t count, order_before *before,
        const void *context);

#endif
