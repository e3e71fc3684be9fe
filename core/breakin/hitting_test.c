/* The smallest hitting set against trying every selection, on random sets. */
#include "breakin/hitting.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

enum { ELEMENTS = 9, SETS = 7 };

static uint64_t next(uint64_t *state) {
    *state = *state * 6364136223846793005ULL + 1442695040888963407ULL;
    return *state >> 33;
}

static size_t fewest(const struct hitting_set *sets, size_t count) {
    size_t best = ELEMENTS + 1;
    for (uint64_t chosen = 0; chosen < 1U << ELEMENTS; chosen++) {
        bool hits = true;
        for (size_t i = 0; i < count; i++) {
            hits = hits && (sets[i].word[0] & chosen) != 0;
        }
        const size_t size = (size_t)__builtin_popcountll(chosen);
        best = hits && size < best ? size : best;
    }
    return best;
}

static void as_small_as_can_be(void **state) {
    (void)state;
    uint64_t seed = 5;
    for (int round = 0; round < 2000; round++) {
        struct hitting_set sets[SETS];
        size_t chosen[HITTING_MOST];
        size_t count = 0;
        memset(sets, 0, sizeof sets);
        for (size_t i = 0; i < SETS; i++) {
            for (size_t element = 0; element < ELEMENTS; element++) {
                if (next(&seed) % 4 == 0) {
                    hitting_add(&sets[i], element);
                }
            }
        }
        const size_t expected = fewest(sets, SETS);
        const bool found = hitting_smallest(sets, SETS, HITTING_MOST, chosen, &count);
        assert_int_equal(found, expected <= HITTING_MOST);
        assert_true(!found || count == expected);
        for (size_t i = 0; found && i < SETS; i++) {
            bool hit = false;
            for (size_t k = 0; k < count; k++) {
                hit = hit || hitting_has(&sets[i], chosen[k]);
            }
            assert_true(hit);
        }
    }
}

static void none_and_too_many(void **state) {
    (void)state;
    struct hitting_set sets[2];
    size_t chosen[HITTING_MOST];
    size_t count = 9;
    memset(sets, 0, sizeof sets);
    assert_true(hitting_smallest(sets, 0, 4, chosen, &count));
    assert_int_equal(count, 0);
    assert_false(hitting_smallest(sets, 1, 4, chosen, &count)); /* an empty set is hit by nothing */
    hitting_add(&sets[0], 3);
    hitting_add(&sets[1], HITTING_ELEMENTS - 1);
    assert_false(hitting_smallest(sets, 2, 1, chosen, &count));
    assert_true(hitting_smallest(sets, 2, 2, chosen, &count));
    assert_int_equal(chosen[1], HITTING_ELEMENTS - 1);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(as_small_as_can_be),
            cmocka_unit_test(none_and_too_many),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
