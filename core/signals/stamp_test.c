/* The time of a frame: every second of some days there and back, what is none, and both ends of the window. */
#include "signals/stamp.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <string.h>
#include <time.h>

#include <cmocka.h>

static int64_t read(const char *string) {
    int64_t seconds = -1;
    assert_true(stamp_read(text_of(string), 0, &seconds, NULL));
    return seconds;
}

/* Against the C library's calendar. */
static void written_and_read_back(void **state) {
    (void)state;
    for (int64_t seconds = 0; seconds < 7258118400; seconds += 86400 * 13 + 3723) {
        time_t instant = (time_t)seconds;
        struct tm broken;
        char wanted[STAMP_LENGTH + 8];
        char written[STAMP_LENGTH];
        assert_non_null(gmtime_r(&instant, &broken));
        assert_int_equal(
                strftime(wanted, sizeof wanted, "_%H:%M:%S,%m-%d-%Y", &broken), STAMP_LENGTH);
        stamp_write(seconds, written);
        assert_memory_equal(written, wanted, STAMP_LENGTH);
        assert_true(read(wanted) == seconds);
    }
}

static void what_is_no_time_is_refused_at_its_byte(void **state) {
    (void)state;
    static const struct {
        const char *text;
        enum signal_fault_kind kind;
        size_t at;
    } bad[] = {
            {"", SIGNAL_FAULT_STAMP, 100},
            {"10:15:30,03-07-2024", SIGNAL_FAULT_STAMP, 100},
            {"_10:15:30,03-07-202", SIGNAL_FAULT_STAMP, 119},
            {"_10:15:30,03-07-20244", SIGNAL_FAULT_TRAILING, 120},
            {"_24:00:00,03-07-2024", SIGNAL_FAULT_STAMP, 101},
            {"_10:60:00,03-07-2024", SIGNAL_FAULT_STAMP, 101},
            {"_10:15:60,03-07-2024", SIGNAL_FAULT_STAMP, 101},
            {"_10:15:30,13-07-2024", SIGNAL_FAULT_STAMP, 110},
            {"_10:15:30,02-29-2023", SIGNAL_FAULT_STAMP, 110},
            {"_10:15:30,00-07-2024", SIGNAL_FAULT_STAMP, 110},
            {"_10:15:30,03-00-2024", SIGNAL_FAULT_STAMP, 110},
            {"_10:15:30,03-07-1969", SIGNAL_FAULT_STAMP, 110},
            {"_10:15:3O,03-07-2024", SIGNAL_FAULT_STAMP, 108},
    };
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        int64_t seconds = -7;
        struct signal_fault fault = {0};
        assert_false(stamp_read(text_of(bad[i].text), 100, &seconds, &fault));
        assert_int_equal(fault.kind, bad[i].kind);
        assert_int_equal(fault.at, bad[i].at);
        assert_int_equal(seconds, -7);
    }
}

/* Source: ANSI/SIA DC-09, clause 5.5.1.8: 20 s ahead, 40 s behind; the rows are worked by hand. */
static void the_window_from_both_sides(void **state) {
    (void)state;
    static const struct {
        const char *clock;
        const char *frame;
        bool taken;
    } rows[] = {
            {"_10:15:30,03-07-2024", "_10:15:50,03-07-2024", true},
            {"_10:15:30,03-07-2024", "_10:15:51,03-07-2024", false},
            {"_10:15:30,03-07-2024", "_10:14:50,03-07-2024", true},
            {"_10:15:30,03-07-2024", "_10:14:49,03-07-2024", false},
            {"_00:00:10,01-01-2025", "_23:59:40,12-31-2024", true},
            {"_00:00:10,03-01-2024", "_23:59:25,02-29-2024", false},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        assert_int_equal(stamp_in_window(read(rows[i].frame), read(rows[i].clock)), rows[i].taken);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(written_and_read_back),
            cmocka_unit_test(what_is_no_time_is_refused_at_its_byte),
            cmocka_unit_test(the_window_from_both_sides),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
