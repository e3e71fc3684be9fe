#include "base/span.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

static void assert_tolerant(int32_t nominal_s, int32_t tenths, int32_t low_s, int32_t high_s) {
    const struct span span = span_tolerant(nominal_s, tenths);
    assert_int_equal(span.low_s, low_s);
    assert_int_equal(span.high_s, high_s);
}

/* Source: CP-01 3.1.2 (2009 draft), plus or minus 10 %; rounding outward is ours: 45 s - 4.5 s = 40.5 s, 45 s + 4.5 s =
 * 49.5 s, worked by hand. */
static void tolerance_is_rounded_outward(void **state) {
    (void)state;
    assert_tolerant(45, 1, 40, 50);
    assert_tolerant(30, 1, 27, 33);
    assert_tolerant(60, 1, 54, 66);
    assert_tolerant(1, 1, 0, 2);
    assert_tolerant(9, 1, 8, 10);
    assert_tolerant(10, 1, 9, 11);
    assert_tolerant(11, 1, 9, 13);
}

static void no_tolerance_changes_nothing(void **state) {
    (void)state;
    assert_tolerant(0, 0, 0, 0);
    assert_tolerant(45, 0, 45, 45);
    assert_tolerant(0, 1, 0, 0);
}

static void longest_does_not_overflow(void **state) {
    (void)state;
    assert_tolerant(SPAN_LONGEST_S, 1, 5443200, 6652800);
    assert_tolerant(SPAN_LONGEST_S, 10, 0, 12096000);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(tolerance_is_rounded_outward),
            cmocka_unit_test(no_tolerance_changes_nothing),
            cmocka_unit_test(longest_does_not_overflow),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
