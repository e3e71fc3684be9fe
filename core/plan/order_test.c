/* Sorting held against counting: every pair is in order, equal ones in their old order, nothing lost. */
#include "plan/order.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

enum { MOST = 200, ROUNDS = 300 };

static uint32_t draw(uint64_t *seed, uint32_t below) {
    *seed = *seed * UINT64_C(6364136223846793005) + UINT64_C(1442695040888963407); /* Knuth, MMIX */
    return (uint32_t)((*seed >> 33) % below);
}

static bool smaller(const void *context, uint32_t a, uint32_t b) {
    const uint32_t *keys = context;
    return keys[a] < keys[b];
}

static void every_length_is_sorted_and_stable(void **unused) {
    (void)unused;
    uint64_t seed = 1;
    for (size_t round = 0; round < ROUNDS; round++) {
        const size_t count = round < MOST ? round : draw(&seed, MOST);
        uint32_t keys[MOST] = {0};
        uint32_t indexes[MOST];
        uint32_t scratch[MOST];
        bool seen[MOST] = {false};
        for (size_t i = 0; i < count; i++) {
            keys[i] = draw(&seed, 1 + draw(&seed, 40));
            indexes[i] = (uint32_t)i;
        }
        order_sort(indexes, scratch, count, smaller, keys);
        for (size_t i = 0; i < count; i++) {
            assert_false(seen[indexes[i]]);
            seen[indexes[i]] = true;
            if (i > 0) {
                const uint32_t before = indexes[i - 1];
                assert_true(keys[before] < keys[indexes[i]] ||
                        (keys[before] == keys[indexes[i]] && before < indexes[i]));
            }
        }
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(every_length_is_sorted_and_stable),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
