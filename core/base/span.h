/* Whole seconds from-to: how long a step may take, how long a timer may run. */
#ifndef LINTEL_BASE_SPAN_H
#define LINTEL_BASE_SPAN_H

#include <stdint.h>

/** From low_s to high_s, both included; 0 <= low_s <= high_s <= SPAN_LONGEST_S. */
struct span {
    int32_t low_s;
    int32_t high_s;
};

/* Ten weeks: sums of a routine's spans stay far inside 32 bits. */
enum { SPAN_LONGEST_S = 6048000 };

static inline struct span span_of(int32_t low_s, int32_t high_s) {
    return (struct span){.low_s = low_s, .high_s = high_s};
}

/** A nominal time with a tolerance of tenths (1 = 10 %), rounded outward to whole seconds: 45 s, 1 tenth ->
 *  40..50. Source: CP-01 3.1.2 (2009 draft), plus or minus 10 % on measured values. */
static inline struct span span_tolerant(int32_t nominal_s, int32_t tenths) {
    const int32_t low = nominal_s * (10 - tenths);
    const int32_t high = nominal_s * (10 + tenths);
    return span_of(low / 10, (high + 9) / 10);
}

#endif
