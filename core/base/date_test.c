/* Days against the C library's calendar (the test may ask it, the core may not), and what is refused. */
#include "base/date.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include <cmocka.h>

static void *get(void *context, size_t size) {
    (void)context;
    return malloc(size);
}

static void give(void *context, void *block, size_t size) {
    (void)context;
    (void)size;
    free(block);
}

static void every_day_is_that_of_the_calendar(void **state) {
    (void)state;
    struct arena arena;
    arena_init(&arena, (struct pages){.get = get, .give = give}, 0);
    const int32_t first = date_of(DATE_YEAR_FIRST, 1, 1);
    const int32_t last = date_of(DATE_YEAR_LAST, 12, 31);
    assert_int_equal(
            first, 10957); /* seconds of 2000-01-01T00:00Z are 946684800: common knowledge */
    for (int32_t day = first; day <= last; day++) {
        const time_t seconds = (time_t)day * 86400;
        struct tm broken = {0};
        char wanted[40];
        struct text_builder out;
        int32_t read = 0;
        assert_non_null(gmtime_r(&seconds, &broken));
        (void)snprintf(wanted, sizeof wanted, "%04d-%02d-%02d", broken.tm_year + 1900,
                broken.tm_mon + 1, broken.tm_mday);
        text_builder_init(&out, &arena);
        date_add(&out, day);
        assert_true(text_is(text_built(&out), wanted));
        assert_true(date_read(text_of(wanted), &read, NULL).good);
        assert_int_equal(read, day);
    }
    arena_finish(&arena);
}

static void what_is_no_date_is_refused(void **state) {
    (void)state;
    static const char *const bad[] = {"", "2027", "2027-3-31", "27-03-31", "2027/03/31",
            "31-03-2027", "2027-02-29", "2100-02-29", "2027-13-01", "2027-00-01", "2027-01-00",
            "2027-04-31", "1999-12-31", "2200-01-01", "2027-03-31 ", "+027-03-31", "2027-03-3x",
            "20270331", "2027-03-031", "YYYY-MM-DD"};
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        struct problem problem = {0};
        int32_t day = -7;
        assert_false(date_read(text_of(bad[i]), &day, &problem).good);
        assert_int_equal(day, -7);
        assert_true(strlen(problem.text) > 0);
    }
    int32_t day = 0;
    assert_true(date_read(text_of("2028-02-29"), &day, NULL).good);
    assert_true(date_read(text_of("2000-02-29"), &day, NULL).good);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(every_day_is_that_of_the_calendar),
            cmocka_unit_test(what_is_no_date_is_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
