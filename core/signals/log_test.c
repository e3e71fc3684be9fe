/* Lines of event logs. The forms of codes: ANSI/SIA DC-05 and DC-03 (from memory); quotes: RFC 4180, section 2. The
 * times are worked out by hand from the calendar. */
#include "signals/log.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

static struct text columns[8];

static struct log_ways ways_of(const char *list, const char *time, char separator) {
    static char kept[8][16];
    struct log_ways ways = {.columns = columns, .time = text_of(time), .separator = separator};
    while (*list != '\0') {
        const size_t length = strcspn(list, " ");
        memcpy(kept[ways.column_count], list, length);
        columns[ways.column_count] = (struct text){kept[ways.column_count], length};
        ways.column_count++;
        list += length + (list[length] == ' ');
    }
    return ways;
}

static struct log_row good(const struct log_ways *ways, const char *line, const char *event) {
    static struct log_row row;
    struct problem problem = {0};
    assert_true(log_ways_check(ways, NULL).good);
    if (!log_read(ways, text_of(line), &row, &problem).good) {
        fail_msg("%s: %s", line, problem.text);
    }
    if (!text_is(row.event, event)) {
        fail_msg("%s: %.*s, not %s", line, TEXT_ARGS(row.event), event);
    }
    return row;
}

static void bad(const struct log_ways *ways, const char *line, const char *says) {
    static struct log_row row;
    struct problem problem = {0};
    if (log_read(ways, text_of(line), &row, &problem).good || strstr(problem.text, says) == NULL) {
        fail_msg("%s: %s", line, problem.text);
    }
}

static void lines_are_read(void **state) {
    (void)state;
    struct log_ways ways = ways_of("time code number area", "YYYY-MM-DD hh:mm:ss", ',');
    struct log_row row = good(&ways, "2026-03-01 00:00:01,1130,3,1", "1130 01 003");
    assert_int_equal(row.local_s, INT64_C(1772323201)); /* 20,513 days and a second */
    assert_int_equal(row.token, FRAME_TOKEN_CONTACT_ID);
    assert_int_equal(row.account.length, 0);
    (void)good(&ways, "2024-02-29 23:59:59,E130,,", "1130 00 000");
    (void)good(&ways, "2024-02-29 23:59:59,R401,7,2", "3401 02 007");
    (void)good(&ways, "2024-02-29 23:59:59,602,,", "1602 00 000");
    (void)good(&ways, "2024-02-29 23:59:59,6130,999,99", "6130 99 999");
    row = good(&ways, "2024-02-29 23:59:59,BA,15,1", "Nri1/BA015");
    assert_int_equal(row.token, FRAME_TOKEN_SIA);
    (void)good(&ways, "2024-02-29 23:59:59,RP,,", "NRP");
    (void)good(&ways, "2024-02-29 23:59:59,1130,3,1,more,that nobody,needs", "1130 01 003");
}

static void as_its_software_writes_it(void **state) {
    (void)state;
    const struct text words[] = {text_of("Burglary, zone=1130"), text_of("Closed=3401")};
    struct log_ways ways = ways_of("other time account other time code", "DD.MM.YY hh:mm", ';');
    ways.words = words;
    ways.word_count = 2;
    struct log_row row =
            good(&ways, "7;01.03.26;12AB;\"a;\"\"b\"\"\";00:01;\"Burglary, zone\"", "1130 00 000");
    assert_int_equal(row.local_s, INT64_C(1772323260));
    assert_true(text_is(row.account, "12AB"));
    (void)good(&ways, ";01.03.26 ;12AB;; 00:01;Closed", "3401 00 000");
    bad(&ways, "7;01.03.26;12AB;;00:01;Close", "\"Close\" is no event code");
    bad(&ways, "7;01.03.26;12ab;;00:01;Closed", "its account");
}

static void what_is_wrong_is_said(void **state) {
    (void)state;
    struct log_ways ways = ways_of("time code number area", "YYYY-MM-DD hh:mm:ss", ',');
    bad(&ways, "2026-02-29 00:00:01,1130,3,1", "its time is written YYYY");
    bad(&ways, "2026-02-28 24:00:01,1130,3,1", "its time");
    bad(&ways, "2026-02-28 23:00,1130,3,1", "its time");
    bad(&ways, "2026-02-28 23:00:001,1130,3,1", "its time");
    bad(&ways, "", "it ends after 1 of 4 columns; log-separator");
    bad(&ways, "2026-02-28 23:00:00,1130,3", "it ends after 3 of 4");
    bad(&ways, "2026-02-28 23:00:00,1130,1000,1", "its number is a number up to 999, not \"1000\"");
    bad(&ways, "2026-02-28 23:00:00,1130,99999999999999999999,1", "its number");
    bad(&ways, "2026-02-28 23:00:00,1130,3,100", "its area");
    bad(&ways, "2026-02-28 23:00:00,1130,-3,1", "its number");
    bad(&ways, "2026-02-28 23:00:00,1099,3,1", "no event code");
    bad(&ways, "2026-02-28 23:00:00,2130,3,1", "no event code");
    bad(&ways, "2026-02-28 23:00:00,,3,1", "no event code");
    bad(&ways, "2026-02-28 23:00:00,\"1130,3,1", "it ends after 2 of 4");
    static char line[LOG_LINE_MAX + 2];
    memset(line, 'x', sizeof line - 1);
    bad(&ways, line, "longer than 1000");
    struct problem problem = {0};
    ways = ways_of("time number", "YYYY", ',');
    assert_false(log_ways_check(&ways, &problem).good);
    ways = ways_of("time code zone", "YYYY", ',');
    problem = (struct problem){0};
    assert_false(log_ways_check(&ways, &problem).good);
    assert_non_null(strstr(problem.text, "\"zone\""));
    ways.column_count = 0;
    assert_false(log_ways_check(&ways, NULL).good);
}

static void bad_bytes(const struct log_ways *ways, struct text line, const char *says) {
    static struct log_row row;
    struct problem problem = {0};
    if (log_read(ways, line, &row, &problem).good || strstr(problem.text, says) == NULL) {
        fail_msg("%.*s: %s", TEXT_ARGS(line), problem.text);
    }
}

/* What stands in a file is bytes, and a profile may ask for more digits than a number has. */
static void bytes_that_are_no_text_are_told(void **state) {
    (void)state;
    struct log_ways ways = ways_of("time code account", "YYYYMMDD", ',');
    (void)good(&ways, "20260301,1130,1234", "1130 00 000");
#define BYTES(literal) ((struct text){literal, sizeof(literal) - 1})
    bad_bytes(&ways, BYTES("20260301,1130,12\0"), "its account");
    bad_bytes(&ways, BYTES("20260301,1130,\0\0\0\0"), "its account");
    bad_bytes(&ways, BYTES("20\00060301,1130,1234"), "its time");
    bad_bytes(&ways, BYTES("20260301,11\0000,1234"), "no event code");
    bad_bytes(&ways, BYTES("20260301,B\0,1234"), "no event code");
    ways.time = (struct text){"YYYYMMDD\0", 9};
    bad_bytes(&ways, BYTES("20260301,1130,1234"), "its time");
    struct log_row row;
    assert_true(log_read(&ways, BYTES("20260301\0,1130,1234"), &row, NULL).good);
#undef BYTES
    ways.time = text_of("YYYYYYYYYYYYYYMMDD");
    bad(&ways, "999999999999990301,1130,1234", "its time");
    bad(&ways, "000000000020260301,1130,1234", "its time");
    ways = ways_of("time time code", "YYYY", ',');
    bad(&ways, "2026-01-01 00:00:00 2026-01-01 00:00:00,2026-01-01 00:00:00 2026-01,1130",
            "its time is too long");
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(lines_are_read),
            cmocka_unit_test(as_its_software_writes_it),
            cmocka_unit_test(what_is_wrong_is_said),
            cmocka_unit_test(bytes_that_are_no_text_are_told),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
