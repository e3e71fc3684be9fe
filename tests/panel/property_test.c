/* What holds of a panel whatever is keyed in and whatever happens. property_test [SEED [COUNT]]. */
#include "course.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>

#include <cmocka.h>

enum { BYTES = 2000 };

struct plan {
    uint64_t seed;
    unsigned long count;
};

/* xorshift64*; source: Vigna, "An experimental exploration of Marsaglia's xorshift generators", 2016. */
static uint64_t next(uint64_t *state) {
    *state ^= *state >> 12;
    *state ^= *state << 25;
    *state ^= *state >> 27;
    return *state * UINT64_C(2685821657736338717);
}

static void fill(uint64_t seed, uint8_t *ret_bytes) {
    uint64_t state = seed * UINT64_C(2654435761) + 1;
    for (size_t i = 0; i < BYTES; i++) {
        ret_bytes[i] = (uint8_t)(next(&state) >> 32);
    }
}

/* The shortest beginning that still fails: a story to read. */
static size_t shorten(const uint8_t *bytes, size_t size) {
    size_t event = 0;
    while (size > 0 && course_run(bytes, size - 1, &event) != NULL) {
        size--;
    }
    return size;
}

static void promises_hold(void **state) {
    const struct plan *plan = *state;
    static uint8_t bytes[BYTES];
    for (unsigned long i = 0; i < plan->count; i++) {
        size_t event = 0;
        fill(plan->seed + i, bytes);
        const char *broken = course_run(bytes, BYTES, &event);
        if (broken != NULL) {
            const size_t size = shorten(bytes, BYTES);
            (void)fprintf(stderr, "seed %llu: %s, at event %zu; the first %zu bytes do it\n",
                    (unsigned long long)(plan->seed + i), broken, event, size);
            fail();
        }
    }
}

int main(int argument_count, char **arguments) {
    struct plan plan = {.seed = 20240601, .count = 2000};
    if (argument_count > 1) {
        plan.seed = strtoull(arguments[1], NULL, 10);
    }
    if (argument_count > 2) {
        plan.count = strtoul(arguments[2], NULL, 10);
    }
    (void)printf("# seed %llu, %lu courses\n", (unsigned long long)plan.seed, plan.count);
    const struct CMUnitTest tests[] = {cmocka_unit_test_prestate(promises_hold, &plan)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
