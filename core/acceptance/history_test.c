/* Lists as stations print them: what each line is read as, and what is not taken. */
#include "acceptance/history.h"

#include "acceptance/match.h"
#include "base/date.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>

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

static struct arena arena;
static struct history_line *lines;
static size_t count;

static int begin(void **state) {
    (void)state;
    arena_init(&arena, (struct pages){.get = get, .give = give}, 0);
    return 0;
}

static int end(void **state) {
    (void)state;
    arena_finish(&arena);
    return 0;
}

static void read_as(const char *source, bool day_first) {
    const struct history_how how = {
            .account = text_of("4021"), .day_first = day_first, .today_day = date_of(2026, 11, 26)};
    assert_true(history_read(text_of(source), how, &arena, &lines, &count, NULL).good);
}

static int64_t at(int day, int hour, int minute, int second) {
    return (int64_t)date_of(2026, 11, day) * 86400 + hour * 3600 + minute * 60 + second;
}

static void is(size_t line, const char *data, int64_t local_s) {
    assert_true(line < count);
    assert_string_equal(lines[line].why.length == 0 ? "" : lines[line].why.start, "");
    assert_string_equal(lines[line].data.start, data);
    assert_int_equal(lines[line].local_s, local_s);
}

static void columns_by_their_heading(void **state) {
    (void)state;
    read_as("Received;Acct;Area;Zone/User;Code;Remark\n"
            "26.11.2026 14:32:07;4021;02;011;E132;landing\n"
            "26.11.2026 14:32:19;4021;02;011;R132;\n"
            "\n"
            "26.11.2026 14:40;004021;1;3;OP;\n",
            true);
    assert_int_equal(count, 3);
    is(0, "#4021|1132 02 011", at(26, 14, 32, 7));
    is(1, "#4021|3132 02 011", at(26, 14, 32, 19));
    is(2, "#4021|Nri1/OP003", at(26, 14, 40, 0));
    assert_int_equal(lines[2].number, 5);
    assert_int_equal(lines[2].token, FRAME_TOKEN_SIA);
}

/* An empty cell of a printed list moves nothing: each field belongs to the column below whose name it begins. */
static void printed_columns_by_where_they_stand(void **state) {
    (void)state;
    read_as("Date        Time      Event              Area  Zone\n"
            "2026-11-26  14:32:07  Burglary alarm     2     7\n"
            "2026-11-26  14:32:30  Burglary restored        7\n"
            "2026-11-26  14:33:00  AC loss\n",
            true);
    is(0, "#4021|Nri2/BA007", at(26, 14, 32, 7));
    is(1, "#4021|NBR007", at(26, 14, 32, 30));
    is(2, "#4021|NAT", at(26, 14, 33, 0));
}

static void without_a_heading_by_what_it_looks_like(void **state) {
    (void)state;
    read_as("14:32:07 4021 1130 01 007\n"
            "14:32:09 4021 Burglary restore zone 7\n"
            "2:05:00 PM 4021 Tamper alarm zone 12\n"
            "14:32:10 E130 7\n",
            true);
    is(0, "#4021|1130 01 007", at(26, 14, 32, 7));
    is(3, "#4021|1130 00 007", at(26, 14, 32, 10));
    is(1, "#4021|NBR007", at(26, 14, 32, 9));
    is(2, "#4021|NTA012", at(26, 14, 5, 0));
    assert_int_equal(count, 4);
    read_as("12:05:00 AM, 4021, TR, 12\n1130 02 011, 09:00\n", true);
    is(0, "#4021|NTR012", at(26, 0, 5, 0));
    is(1, "#4021|1130 02 011", at(26, 9, 0, 0));
    read_as("09:00:00;4021;BA;12\n09:00:09 4021 BR 12\n", true);
    is(1, "#4021|NBR012", at(26, 9, 0, 9));
}

static void days_as_the_country_writes_them(void **state) {
    (void)state;
    read_as("Time\tEvent\n11/12/2026 08:00\tRP\n", true);
    assert_int_equal(lines[0].local_s, (int64_t)date_of(2026, 12, 11) * 86400 + 8 * 3600);
    read_as("Time\tEvent\n11/12/2026 08:00\tRP\n", false);
    assert_int_equal(lines[0].local_s, at(12, 8, 0, 0));
    read_as("Time\tEvent\n11/26/26 08:00\tRP\n26/11/26 08:00\tRP\n2026-11-26T08:00:00Z\tRP\n",
            true);
    for (size_t i = 0; i < 3; i++) {
        is(i, "#4021|NRP", at(26, 8, 0, 0));
    }
}

static void words_for_each_kind(void **state) {
    (void)state;
    static const struct {
        const char *line;
        enum event_kind kind;
        bool back;
        int32_t number;
    } rows[] = {
            {"10:00  Fire alarm  zone 13", EVENT_FIRE, false, 13},
            {"10:00  Fire alarm restored  zone 13", EVENT_FIRE, true, 13},
            {"10:00  Panic alarm  zone 8", EVENT_HOLD_UP, false, 8},
            {"10:00  Low battery  zone 8", EVENT_LOW_BATTERY, false, 8},
            {"10:00  Low battery", EVENT_PANEL_BATTERY, false, 0},
            {"10:00  Disarmed  user 3", EVENT_UNSET, false, 3},
            {"10:00  Armed away  user 3", EVENT_SET, false, 3},
            {"10:00  Unset  user 3", EVENT_UNSET, false, 3},
            {"10:00  Set  user 3", EVENT_SET, false, 3},
            {"10:00  Mains restored", EVENT_MAINS, true, 0},
            {"10:00  Sensor not heard  zone 6", EVENT_SUPERVISION, false, 6},
            {"10:00  Zone 6 bypassed", EVENT_BYPASS, false, 6},
            {"10:00  AC failure", EVENT_MAINS, false, 0},
            {"10:00  AC trouble restored", EVENT_MAINS, true, 0},
            {"10:00  Battery fault  zone 2", EVENT_LOW_BATTERY, false, 2},
            {"10:00  Burglary alarm north door  zone No. 2", EVENT_INTRUSION, false, 2},
            {"10:00  Tamper alarm zone no 4", EVENT_TAMPER, false, 4},
            {"10:00;130;Burglary restored;1", EVENT_INTRUSION, true, 1},
            {"10:00;Burglary;Restored;1", EVENT_INTRUSION, true, 1},
            {"10:00;E130;on test;1", EVENT_INTRUSION, false, 1},
            {"10:00;Burglary Alarm Zone 1 Back Door", EVENT_INTRUSION, false, 1},
            {"10:00;Burglary alarm backyard;1", EVENT_INTRUSION, false, 1},
            {"10:00;Burglary alarm fallback room;1", EVENT_INTRUSION, false, 1},
            {"10:00;Burglary alarm back door back to normal;1", EVENT_INTRUSION, true, 1},
            {"10:00;Burglary alarm back door, back;1", EVENT_INTRUSION, true, 1},
            {"10:00;Burglary alarm back door restored;1", EVENT_INTRUSION, true, 1},
            {"10:00;Fire alarm, smoke;1", EVENT_FIRE, false, 1},
            {"10:00;Disarmed after alarm;3", EVENT_UNSET, false, 3},
            {"10:00;Mains alarm", EVENT_MAINS, false, 0},
            {"10:00;Mains back on", EVENT_MAINS, true, 0},
            {"10:00;Mains back.", EVENT_MAINS, true, 0},
            {"10:00;Burglary back zone 1 restored", EVENT_INTRUSION, true, 1},
            {"10:00;Mains back door restored", EVENT_MAINS, true, 0},
            {"10:00;Alarm: fire;3", EVENT_FIRE, false, 3},
            {"10:00;Alarm, fire;3", EVENT_FIRE, false, 3},
            {"10:00;Alarm: flooding;3", EVENT_FLOOD, false, 3},
            {"10:00;Smoke alarm, fire;3", EVENT_FIRE, false, 3},
            {"10:00;Alarm burglary;3", EVENT_INTRUSION, false, 3},
            {"10:00;Burglary alarm remote barn;3", EVENT_INTRUSION, false, 3},
            {"10:00;Carbon monoxide gas alarm;3", EVENT_GAS, false, 3},
            {"10:00;Gas alarm, carbon monoxide;3", EVENT_GAS, false, 3},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct acceptance_heard heard[ACCEPTANCE_HEARD_MAX];
        read_as(rows[i].line, true);
        assert_int_equal(count, 1);
        assert_int_equal(lines[0].why.length, 0);
        assert_int_equal(acceptance_read(lines[0].data, heard), 1);
        assert_int_equal(heard[0].kind, rows[i].kind);
        assert_int_equal(heard[0].back, rows[i].back);
        assert_int_equal(heard[0].number, rows[i].number);
    }
}

/* What stands in another column does not make a beginning of an end. */
static void restored_and_not_in_one_line(void **state) {
    (void)state;
    read_as("Date;Time;Event;Zone;State;Remark\n"
            "27.11.2026;10:15:00;Burglary alarm;1;Restored;keyholder not called\n"
            "27.11.2026;10:15:00;Burglary restored;1;;keyholder not called\n"
            "27.11.2026;10:15:00;Burglary alarm;1;;keyholder not called\n"
            "27.11.2026;10:15:00;Set;1;;zone 4 not restored\n",
            true);
    assert_int_equal(count, 4);
    assert_int_not_equal(lines[0].why.length, 0);
    assert_string_equal(lines[0].why.start, "not taken: \"not\" stands in it");
    is(1, "#4021|NBR001", at(27, 10, 15, 0));
    is(2, "#4021|NBA001", at(27, 10, 15, 0));
    is(3, "#4021|NCL001", at(27, 10, 15, 0));
}

static void duress_and_hold_up_go_together(void **state) {
    (void)state;
    read_as("10:00;Duress;3\n10:00;Duress/hold-up;3\n10:00;Panic alarm;3\n", true);
    assert_int_equal(count, 3);
    is(0, lines[1].data.start, at(26, 10, 0, 0));
    is(1, "#4021|NHA003", at(26, 10, 0, 0));
}

static void test_reports_by_their_words(void **state) {
    (void)state;
    read_as("10:00  Periodic test\n10:00  Test signal\n10:00  Manual test report\n", true);
    assert_int_equal(count, 3);
    for (size_t i = 0; i < count; i++) {
        is(i, "#4021|NRP", at(26, 10, 0, 0));
    }
}

static void what_is_not_understood_says_why(void **state) {
    (void)state;
    static const struct {
        const char *line;
        const char *why;
    } rows[] = {
            {"10:00;4022;E130;7", "of another account, 4022"},
            {"soon;4021;E130;7", "no time of day stands in it"},
            {"25:00;4021;E130;7", "no time of day stands in it"},
            {"10:00;4021;;7", "no event stands in it"},
            {"10:00;4021;Operator: on test;7", "\"Operator: on test\" says nothing here"},
            {"10:00;4021;E999;7", "\"E999\" says nothing here"},
            {"10:00;4021;accessories;7", "\"accessories\" says nothing here"},
            {"10:00;4021;Burglary trouble;1", "not taken: \"trouble\" stands in it"},
            {"10:00;4021;Fire test;9", "not taken: \"test\" stands in it"},
            {"10:00;4021;Burglary alarm cancelled;1", "not taken: \"cancel\" stands in it"},
            {"10:00;4021;Alarm aborted;1", "not taken: \"abort\" stands in it"},
            {"10:00;4021;No alarm zone 2;", "not taken: \"no\" stands in it"},
            {"10:00;4021;Zone 2 not bypassed;", "not taken: \"not\" stands in it"},
            {"10:00;4021;Alarm still present;2", "not taken: \"still\" stands in it"},
            {"10:00;4021;Fail to set;3", "not taken: \"fail\" stands in it"},
            {"10:00;4021;Zone fault, fire;3", "not taken: \"fault\" stands in it"},
            {"10:00;4021;Mains test ok;", "not taken: \"test\" stands in it"},
            {"10:00;4021;Module tamper;1", "not taken: \"module\" stands in it"},
            {"10:00;4021;Periodic test failed;", "not taken: \"fail\" stands in it"},
            {"10:00;4021;Burglary back zone 1;", "not taken: \"back\" stands in it"},
            {"10:00;4021;Burglary alarm zone 1 mains cupboard;",
                    "not taken: it says both mains and burglary"},
            {"10:00;4021;Burglary alarm AC plant room;1",
                    "not taken: it says both ac and burglary"},
            {"10:00;4021;Burglary alarm zone 3 panic room;",
                    "not taken: it says both panic and burglary"},
            {"10:00;4021;Burglary alarm fire exit;1", "not taken: it says both fire and burglary"},
            {"10:00;4021;Tamper alarm gas meter;1", "not taken: it says both tamper and gas"},
            {"10:00;4021;Burglary alarm while set;1", "not taken: it says both set and burglary"},
            {"10:00;4021;Alarm mains cupboard;1",
                    "not taken: it says both mains and a zone number"},
            {"10:00;4021;Mains back up;", "not taken: \"back\" stands in it"},
            {"10:00;4021;Mains back in order;", "not taken: \"back\" stands in it"},
            {"10:00;4021;Mains back online;", "not taken: \"back\" stands in it"},
            {"10:00;4021;Mains is back, ok;", "not taken: \"back\" stands in it"},
            {"10:00;4021;Mains back door;", "not taken: \"back\" stands in it"},
            {"10:00;4021;Low battery back door;8", "not taken: \"back\" stands in it"},
            {"10:00;4021;Sensor not heard back door;6", "not taken: \"back\" stands in it"},
            {"10:00;4021;Burglary back in order;2", "not taken: \"back\" stands in it"},
            {"10:00;4021;Zone 2 back OK, burglary;", "not taken: \"back\" stands in it"},
            {"10:00;4021;Alarm panic room;3", "not taken: it says both panic and alarm"},
            {"10:00;4021;Alarm water tank room;3", "not taken: it says both water and alarm"},
            {"10:00;4021;Alarm fire exit;3", "not taken: it says both fire and alarm"},
            {"10:00;4021;Zone 3 Alarm Gas meter cupboard;",
                    "not taken: it says both gas and alarm"},
            {"10:00;4021;Alarm: hall, fire exit;3", "not taken: it says both fire and alarm"},
            {"10:00;4021;Alarm while set;3", "not taken: it says both set and alarm"},
            {"10:00;4021;Automatic closing;1", "not taken: \"automatic\" stands in it"},
            {"10:00;4021;Automatic arming;1", "not taken: \"automatic\" stands in it"},
            {"10:00;4021;Automatic disarming;1", "not taken: \"automatic\" stands in it"},
            {"10:00;4021;Auto set;1", "not taken: \"auto\" stands in it"},
            {"10:00;4021;Remote opening;1", "not taken: \"remote\" stands in it"},
            {"10:00;4021;Set by remote;1", "not taken: \"remote\" stands in it"},
            {"10:00;4021;Scheduled unset;1", "not taken: \"schedule\" stands in it"},
            {"10:00;4021;Recent closing;9", "not taken: \"recent\" stands in it"},
            {"10:00;4021;Closing time extended;9", "not taken: \"exten\" stands in it"},
            {"10:00;4021;Arming postponed;9", "not taken: \"postpone\" stands in it"},
            {"10:00;4021;Exit alarm;1", "not taken: \"exit alarm\" stands in it"},
            {"10:00;4021;Exit error alarm;1", "not taken: \"exit error\" stands in it"},
            {"10:00;4021;Unverified alarm;1", "not taken: \"unverified\" stands in it"},
            {"10:00;4021;Pre-alarm;1", "not taken: \"pre-alarm\" stands in it"},
            {"10:00;4021;130;1",
                    "not taken: 130 says not whether it began or ended, as E130 and R130 do"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char source[200];
        (void)snprintf(source, sizeof source, "Time;Account;Event;Zone\n%s\n", rows[i].line);
        read_as(source, true);
        assert_int_equal(count, 1);
        assert_string_equal(lines[0].why.start, rows[i].why);
    }
}

/* Whatever is pasted, each line is read or says why not, and what is read can be read again as a signal. */
static void whatever_is_pasted(void **state) {
    (void)state;
    static const char *const pieces[] = {"\n", ";", "  ", " ", "\t", ",", "|", "\"", "10:00:00",
            "26.11.2026", "2026-11-26T10:00", "11/26/26", "4021", "E130", "R401", "BA", "zone 7",
            "007", "01", "Event", "Time", "Zone", "Burglary alarm", "restored", "set", "PM", ":",
            "-", "\r", "99999999999", "\xc3\xa9"};
    enum { PIECES = sizeof pieces / sizeof pieces[0], ROUNDS = 4000, LONG = 40 };
    uint32_t seed = 1;
    size_t read = 0;
    for (size_t round = 0; round < ROUNDS; round++) {
        char source[1024] = "";
        size_t length = 0;
        for (size_t i = 0; i < LONG; i++) {
            seed = seed * 1664525U + 1013904223U;
            length += (size_t)snprintf(
                    source + length, sizeof source - length, "%s", pieces[(seed >> 16) % PIECES]);
        }
        read_as(source, (round & 1) != 0);
        for (size_t i = 0; i < count; i++) {
            struct acceptance_heard heard[ACCEPTANCE_HEARD_MAX];
            assert_true(lines[i].why.length > 0 || acceptance_read(lines[i].data, heard) == 1);
            read += lines[i].why.length == 0;
        }
        arena_finish(&arena);
        arena_init(&arena, (struct pages){.get = get, .give = give}, 0);
    }
    assert_true(read > ROUNDS / 10); /* else it has shown little */
}

static void limits(void **state) {
    (void)state;
    enum { LONG = (HISTORY_LINES_MAX + 1) * 12 };
    char *source = malloc(LONG);
    assert_non_null(source);
    for (size_t i = 0; i < LONG; i++) {
        source[i] = "10:00  E130\n"[i % 12];
    }
    struct problem problem = {0};
    const struct history_how how = {.account = text_of("4021")};
    assert_false(
            history_read((struct text){source, LONG}, how, &arena, &lines, &count, &problem).good);
    assert_int_equal(problem.kind, PROBLEM_LIMIT);
    assert_true(
            history_read((struct text){source, LONG - 12}, how, &arena, &lines, &count, NULL).good);
    assert_int_equal(count, HISTORY_LINES_MAX);
    for (size_t i = 0; i < 600; i++) {
        source[i] = 'x';
    }
    assert_true(history_read((struct text){source, 600}, how, &arena, &lines, &count, NULL).good);
    assert_string_equal(lines[0].why.start, "it is too long to be a line of a list");
    assert_true(history_read((struct text){0}, how, &arena, &lines, &count, NULL).good);
    assert_int_equal(count, 0);
    free(source);
}

#define CASE(name) cmocka_unit_test_setup_teardown(name, begin, end)

int main(void) {
    const struct CMUnitTest tests[] = {
            CASE(columns_by_their_heading),
            CASE(printed_columns_by_where_they_stand),
            CASE(without_a_heading_by_what_it_looks_like),
            CASE(days_as_the_country_writes_them),
            CASE(words_for_each_kind),
            CASE(restored_and_not_in_one_line),
            CASE(duress_and_hold_up_go_together),
            CASE(test_reports_by_their_words),
            CASE(what_is_not_understood_says_why),
            CASE(whatever_is_pasted),
            CASE(limits),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
