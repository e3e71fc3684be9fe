#include "explore/ranges.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>

#include <cmocka.h>

static void *get(void *context, size_t size) {
    return *(bool *)context ? malloc(size) : NULL;
}

static void give(void *context, void *block, size_t size) {
    (void)context;
    (void)size;
    free(block);
}

static void expect(const struct range_set *set, const struct span *spans, size_t count) {
    struct explore_ranges ranges;
    range_set_give(set, &ranges);
    assert_int_equal(ranges.count, count);
    assert_false(ranges.overflowed);
    for (size_t k = 0; k < count; k++) {
        assert_int_equal(ranges.interval[k].low_s, spans[k].low_s);
        assert_int_equal(ranges.interval[k].high_s, spans[k].high_s);
    }
}

static void intervals_join_when_they_touch(void **unused) {
    (void)unused;
    bool gives = true;
    struct arena arena;
    arena_init(&arena, (struct pages){get, give, &gives}, 0);
    struct range_set set = {0};
    expect(&set, NULL, 0);
    assert_true(range_set_add(&set, &arena, 10, 12));
    assert_true(range_set_add(&set, &arena, 20, 20));
    assert_true(range_set_add(&set, &arena, -4, -2));
    expect(&set, (const struct span[]){{-4, -2}, {10, 12}, {20, 20}}, 3);
    assert_true(range_set_add(&set, &arena, 11, 11)); /* inside */
    assert_true(range_set_add(&set, &arena, 14, 14)); /* one second apart stays apart */
    expect(&set, (const struct span[]){{-4, -2}, {10, 12}, {14, 14}, {20, 20}}, 4);
    assert_true(range_set_add(&set, &arena, 13, 13)); /* closes the gap */
    expect(&set, (const struct span[]){{-4, -2}, {10, 14}, {20, 20}}, 3);
    assert_true(range_set_add(&set, &arena, 21, 22)); /* next to one */
    assert_true(range_set_add(&set, &arena, 9, 9));
    expect(&set, (const struct span[]){{-4, -2}, {9, 14}, {20, 22}}, 3);
    assert_true(range_set_add(&set, &arena, -10, 30)); /* over all */
    expect(&set, (const struct span[]){{-10, 30}}, 1);
    arena_finish(&arena);
}

/* A set may have more pieces on the way than at the end. */
static void only_the_end_can_overflow(void **unused) {
    (void)unused;
    bool gives = true;
    struct arena arena;
    arena_init(&arena, (struct pages){get, give, &gives}, 0);
    struct range_set set = {0};
    struct explore_ranges ranges;
    for (int32_t k = 0; k < 2 * EXPLORE_RANGE_MAX; k += 2) {
        assert_true(range_set_add(&set, &arena, k, k));
    }
    range_set_give(&set, &ranges);
    assert_int_equal(ranges.count, EXPLORE_RANGE_MAX);
    assert_false(ranges.overflowed);
    assert_true(range_set_add(&set, &arena, 1000, 1000));
    range_set_give(&set, &ranges);
    assert_int_equal(ranges.count, EXPLORE_RANGE_MAX);
    assert_true(ranges.overflowed);
    for (int32_t k = 1; k < 2 * EXPLORE_RANGE_MAX; k += 2) {
        assert_true(range_set_add(&set, &arena, k, k));
    }
    expect(&set, (const struct span[]){{0, 2 * EXPLORE_RANGE_MAX - 1}, {1000, 1000}}, 2);
    arena_finish(&arena);
}

static void a_refused_page_leaves_the_set(void **unused) {
    (void)unused;
    bool gives = false;
    struct arena arena;
    arena_init(&arena, (struct pages){get, give, &gives}, 0);
    struct range_set set = {0};
    assert_false(range_set_add(&set, &arena, 1, 2));
    expect(&set, NULL, 0);
    arena_finish(&arena);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(intervals_join_when_they_touch),
            cmocka_unit_test(only_the_end_can_overflow),
            cmocka_unit_test(a_refused_page_leaves_the_set),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
