/* The archive: what is stored is there, once, and what cannot be stored is said. With LINTEL_ARCHIVE set to the
 * address of a database, what goes for both stores is tried there (tests/whole/office.py), and what goes for servers
 * alone. What goes for files alone: file_test.c. */
#include "archive/test_archive.h"

#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

static bool compare(void *context, const struct archive_signal *signal) {
    int *number = context;
    struct archive_signal expected = usual((*number)++);
    assert_int_equal(signal->id, *number);
    assert_int_equal(signal->received_ms, expected.received_ms);
    assert_int_equal(signal->prefix, expected.prefix);
    assert_int_equal(signal->sequence, expected.sequence);
    assert_int_equal(signal->stamped, expected.stamped);
    assert_true(!signal->stamped || signal->sent_s == expected.sent_s);
    assert_true(signal->digest == expected.digest);
    assert_true(text_equal(signal->account, expected.account));
    assert_true(text_equal(signal->token, expected.token));
    assert_true(text_equal(signal->data, expected.data));
    assert_true(text_equal(signal->frame, expected.frame));
    assert_true(text_equal(signal->peer, expected.peer));
    return true;
}

static void what_is_stored_is_read_back(void **state) {
    enum { COUNT = 50 };
    struct archive *archive = opened(*state, ARCHIVE_NEW);
    struct archive_signal signals[COUNT];
    int number = 0;
    for (int i = 0; i < COUNT; i++) {
        signals[i] = usual(i);
    }
    assert_true(archive_append(archive, signals, COUNT / 2, NULL, 0, NULL).good);
    assert_true(archive_append(archive, signals + COUNT / 2, COUNT / 2, NULL, 0, NULL).good);
    assert_int_equal(signals[COUNT - 1].id, COUNT);
    archive_close(archive);
    archive = opened(*state, ARCHIVE_READ);
    assert_true(archive_each(archive, (struct archive_query){0}, compare, &number, NULL).good);
    assert_int_equal(number, COUNT);
    assert_true(archive_check(archive, NULL).good);
    assert_int_equal(count_in(archive, (struct archive_query){.after_id = 20}), COUNT - 20);
    assert_int_equal(count_in(archive, (struct archive_query){.since_ms = 1040}), 10);
    assert_int_equal(count_in(archive, (struct archive_query){.most = 3}), 3);
    struct archive_query query = {.account = text_of("12AB"), .prefix = 0xA5};
    assert_int_equal(count_in(archive, query), COUNT);
    query.prefix = 0;
    assert_int_equal(count_in(archive, query), 0);
    archive_close(archive);
    archive_close(NULL);
}

static bool compare_refusal(void *context, const struct archive_refusal *refusal) {
    *(bool *)context = refusal->first_ms == 5 && refusal->last_ms == 9 && refusal->count == 3 &&
            text_is(refusal->reason, "sum") && text_is(refusal->peer, "udp") &&
            text_is(refusal->account, "") && refusal->sample.length == 2;
    return true;
}

static void refusals_are_read_back(void **state) {
    struct archive *archive = opened(*state, ARCHIVE_NEW);
    const struct archive_refusal refusal = {.first_ms = 5,
            .last_ms = 9,
            .count = 3,
            .reason = text_of("sum"),
            .peer = text_of("udp"),
            .sample = {"\0\n", 2}};
    bool good = false;
    assert_true(archive_append(archive, NULL, 0, &refusal, 1, NULL).good);
    assert_true(archive_each_refusal(archive, compare_refusal, &good, NULL).good);
    assert_true(good);
    archive_close(archive);
}

static void nothing_is_stored_by_halves(void **state) {
    struct archive *archive = opened(*state, ARCHIVE_NEW);
    struct archive_signal signals[3] = {usual(1), usual(2), usual(3)};
    struct problem problem = {0};
    signals[2].sequence = 10000; /* the table refuses it */
    assert_false(archive_append(archive, signals, 3, NULL, 0, &problem).good);
    assert_int_equal(signals[0].id, 0);
    assert_int_equal(count_in(archive, (struct archive_query){0}), 0);
    signals[2].sequence = 9999;
    assert_true(archive_append(archive, signals, 3, NULL, 0, NULL).good);
    assert_int_equal(count_in(archive, (struct archive_query){0}), 3);
    archive_close(archive);
}

static void brought_in_twice_it_is_there_once(void **state) {
    enum { COUNT = 20 };
    struct archive *archive = opened(*state, ARCHIVE_NEW);
    struct archive_signal signals[COUNT];
    size_t added = 0;
    for (int i = 0; i < COUNT; i++) {
        signals[i] = usual(i);
    }
    assert_true(archive_import(archive, signals, COUNT / 2, &added, NULL).good);
    assert_int_equal(added, COUNT / 2);
    assert_true(archive_import(archive, signals, COUNT, &added, NULL).good);
    assert_int_equal(added, COUNT - COUNT / 2);
    assert_int_equal(count_in(archive, (struct archive_query){0}), COUNT);
    archive_close(archive);
}

/* A file that somebody brings in holds what a panel is about to send: that is stored all the same, also where it is
 * looked for because storing failed before. */
static void what_was_brought_in_makes_no_repeat(void **state) {
    struct archive *archive = opened(*state, ARCHIVE_NEW);
    struct archive *other = opened(*state, ARCHIVE_WRITE);
    struct archive_signal wrong = usual(1);
    struct archive_signal brought = usual(2);
    struct archive_signal came = usual(2);
    size_t added = 0;
    wrong.sequence = 10000;
    assert_false(archive_append(archive, &wrong, 1, NULL, 0, NULL).good);
    assert_true(archive_import(other, &brought, 1, &added, NULL).good);
    assert_int_equal(added, 1);
    assert_true(archive_append(archive, &came, 1, NULL, 0, NULL).good);
    assert_true(came.id > brought.id);
    assert_int_equal(count_in(archive, (struct archive_query){0}), 2);
    assert_true(archive_import(other, &brought, 1, &added, NULL).good);
    assert_int_equal(added, 0);
    archive_close(archive);
    archive_close(other);
}

/* Both bounds hold: the later of the two, whichever it is. */
static void since_a_time_and_after_a_signal(void **state) {
    struct archive *archive = opened(*state, ARCHIVE_NEW);
    struct archive_signal signals[10];
    struct archive_signal set_back = usual(2);
    for (int i = 0; i < 10; i++) {
        signals[i] = usual(i);
    }
    set_back.digest++;
    assert_true(archive_append(archive, signals, 10, NULL, 0, NULL).good);
    assert_true(archive_append(archive, &set_back, 1, NULL, 0, NULL).good);
    static const struct {
        int64_t since_ms;
        int64_t after_id;
        size_t count;
    } rows[] = {{1003, 0, 7}, {1003, 3, 7}, {1003, 7, 3}, {1002, 7, 4}, {1001, 10, 1},
            {1005, 10, 0}, {1003, 11, 0}, {2000, 0, 0}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct archive_query query = {.since_ms = rows[i].since_ms, .after_id = rows[i].after_id};
        assert_int_equal(count_in(archive, query), rows[i].count);
        query.newest_first = true;
        assert_int_equal(count_in(archive, query), rows[i].count);
        query.most = 1;
        assert_int_equal(count_in(archive, query), rows[i].count > 0);
    }
    archive_close(archive);
}

/* One that a clock stored which was far ahead: who asks for what came lately does not begin there. */
static void one_far_ahead_is_where_nobody_begins(void **state) {
    enum { FAR_MS = 100000000 };
    struct archive *archive = opened(*state, ARCHIVE_NEW);
    struct archive_signal signals[10];
    struct archive_signal brought = usual(20);
    size_t added = 0;
    int64_t last = 0;
    for (int i = 0; i < 10; i++) {
        signals[i] = usual(i);
    }
    signals[1].received_ms += FAR_MS;
    signals[8].received_ms += FAR_MS;
    brought.received_ms += FAR_MS;
    assert_true(archive_append(archive, signals, 10, NULL, 0, NULL).good);
    assert_true(archive_import(archive, &brought, 1, &added, NULL).good);
    struct archive_query query = {.since_ms = 1005};
    assert_int_equal(count_in(archive, query), 7);
    query.begun_ms = 2000;
    assert_int_equal(count_in(archive, query), 6);
    query.begun_ms = 1004;
    assert_int_equal(count_in(archive, query), 0);
    assert_true(archive_last_later(archive, 2000, &last, NULL).good);
    assert_int_equal(last, signals[8].id);
    assert_true(archive_last_later(archive, 2000 + FAR_MS, &last, NULL).good);
    assert_int_equal(last, 0);
    archive_close(archive);
}

/* A panel whose acknowledgement was lost with its listener says it again to another one. */
static void what_another_stored_is_not_stored_again(void **state) {
    struct archive *one = opened(*state, ARCHIVE_NEW);
    struct archive *other = opened(*state, ARCHIVE_WRITE);
    struct archive_signal signals[3] = {usual(1), usual(2), usual(3)};
    struct archive_signal again[4] = {usual(4), usual(2), usual(4), usual(2)};
    again[1].received_ms += ARCHIVE_DOUBT_MS;
    again[3].received_ms += ARCHIVE_DOUBT_MS + 1;
    assert_true(archive_append(one, signals, 3, NULL, 0, NULL).good);
    assert_true(archive_append(other, again, 4, NULL, 0, NULL).good);
    assert_int_equal(again[1].id, signals[1].id);
    assert_int_equal(again[2].id, again[0].id);
    assert_true(again[3].id > again[0].id); /* so late it is news */
    assert_int_equal(count_in(one, (struct archive_query){0}), 5);
    /* other words of one digest are another signal; and one from a clock that was far ahead hides none of now */
    struct archive_signal others[2] = {usual(2), usual(6)};
    struct archive_signal ahead = usual(6);
    others[0].data = text_of("#1234|1130 01 099");
    ahead.received_ms += INT64_C(30) * 86400000;
    assert_true(archive_append(one, &ahead, 1, NULL, 0, NULL).good);
    assert_true(archive_append(other, others, 2, NULL, 0, NULL).good);
    assert_true(others[0].id > ahead.id && others[1].id > ahead.id);
    archive_close(one);
    archive_close(other);
}

/* An alarm at ten, another at eleven; the clock is set back to ten, and the first comes again, as a panel's does that
 * began to count anew: by its time it would be the first one's repeat. */
static void a_clock_set_back_hides_nothing(void **state) {
    struct archive *one = opened(*state, ARCHIVE_NEW);
    struct archive_signal at_ten = usual(1);
    struct archive_signal at_eleven = usual(2);
    struct archive_signal again = usual(1);
    at_eleven.received_ms += 3600000;
    assert_true(archive_append(one, &at_ten, 1, NULL, 0, NULL).good);
    assert_true(archive_append(one, &at_eleven, 1, NULL, 0, NULL).good);
    /* one that starts now sees from what lies ahead that the clock was another */
    struct archive *other = opened(*state, ARCHIVE_WRITE);
    assert_true(archive_append(other, &again, 1, NULL, 0, NULL).good);
    assert_true(again.id > at_eleven.id);
    const int64_t first = again.id;
    again = usual(1);
    assert_true(archive_append(other, &again, 1, NULL, 0, NULL).good);
    assert_int_equal(again.id, first);
    /* one that ran all the time, from its own two clocks */
    again = usual(1);
    assert_true(archive_append(one, &again, 1, NULL, 0, NULL).good);
    assert_true(again.id > first);
    const int64_t second = again.id;
    again = usual(1);
    again.received_ms += 1000;
    assert_true(archive_append(one, &again, 1, NULL, 0, NULL).good);
    assert_in_range(again.id, first, second);
    assert_int_equal(count_in(one, (struct archive_query){0}), 4);
    archive_close(one);
    archive_close(other);
}

/* A group that waited, while what came before it was stored, is older than now by both clocks. */
static void what_waited_long_is_no_clock_set_back(void **state) {
    struct archive *archive = opened(*state, ARCHIVE_NEW);
    struct archive_signal came = usual(1);
    struct archive_signal again = usual(1);
    came.received_ms = came.steady_ms = 100000;
    again.received_ms = again.steady_ms = 70000;
    assert_true(archive_append(archive, &came, 1, NULL, 0, NULL).good);
    assert_true(archive_append(archive, &again, 1, NULL, 0, NULL).good);
    assert_int_equal(again.id, came.id);
    archive_close(archive);
}

enum { WRITERS = 3, GROUPS = 40, OF_GROUP = 5 };

/** Stores its groups; ends with 0 where all were. */
static void write_groups(struct bench *bench, int writer) {
    struct archive *archive = NULL;
    if (!archive_open(bench->path, ARCHIVE_NEW, &archive, NULL).good) {
        _exit(1);
    }
    for (int group = 0; group < GROUPS; group++) {
        struct archive_signal signals[OF_GROUP];
        for (int i = 0; i < OF_GROUP; i++) {
            signals[i] = usual((writer * GROUPS + group) * OF_GROUP + i);
        }
        struct problem problem = {0};
        if (!archive_append(archive, signals, OF_GROUP, NULL, 0, &problem).good) {
            (void)fprintf(stderr, "%s\n", problem.text);
            _exit(1);
        }
    }
    archive_close(archive);
    _exit(0);
}

struct seen {
    int64_t last_id;
    size_t count;
    bool twice;
    bool of[WRITERS * GROUPS * OF_GROUP];
};

static bool see(void *context, const struct archive_signal *signal) {
    struct seen *seen = context;
    const size_t number = (size_t)(signal->digest - UINT64_C(0xF000000000000000));
    seen->twice = seen->twice || seen->of[number] || signal->id <= seen->last_id;
    seen->of[number] = true;
    seen->count++;
    seen->last_id = signal->id;
    return true;
}

/* Three write at once, and make the tables at once; who reads on from the last he saw misses none: a number that can be
 * seen has no lower one come after it. */
static void who_reads_on_misses_none(void **state) {
    struct bench *bench = *state;
    struct seen seen = {0};
    pid_t writers[WRITERS];
    for (int i = 0; i < WRITERS; i++) {
        writers[i] = fork();
        if (writers[i] == 0) {
            write_groups(bench, i);
        }
    }
    struct archive *archive = opened(bench, ARCHIVE_NEW);
    int running = WRITERS;
    while (running > 0) {
        int status = 0;
        const struct timespec a_moment = {.tv_nsec = 1000000};
        (void)nanosleep(&a_moment, NULL);
        for (int i = 0; i < WRITERS; i++) {
            if (writers[i] != 0 && waitpid(writers[i], &status, WNOHANG) == writers[i]) {
                assert_int_equal(status, 0);
                writers[i] = 0;
                running--;
            }
        }
        const struct archive_query query = {.after_id = seen.last_id};
        assert_true(archive_each(archive, query, see, &seen, NULL).good);
    }
    assert_false(seen.twice);
    assert_int_equal(seen.count, WRITERS * GROUPS * OF_GROUP);
    archive_close(archive);
}

static void a_server_keeps_versions_too(void **state) {
    struct bench *bench = *state;
    refuse(bench, ARCHIVE_READ, PROBLEM_MISSING, "there is none");
    archive_close(opened(bench, ARCHIVE_NEW));
    by_hand(bench, "UPDATE lintel.writing SET version = 99");
    refuse(bench, ARCHIVE_NEW, PROBLEM_UNREADABLE, "version 99");
    by_hand(bench,
            "UPDATE lintel.writing SET version = 1; DROP TABLE lintel.acts;"
            "ALTER TABLE lintel.signals DROP COLUMN imported;"
            "INSERT INTO lintel.accounts VALUES (7, 0, '12AB')");
    refuse(bench, ARCHIVE_READ, PROBLEM_UNREADABLE, "older version 1");
    archive_close(opened(bench, ARCHIVE_WRITE));
    struct archive *archive = opened(bench, ARCHIVE_READ);
    struct archive_signal signal = usual(1);
    assert_false(archive_backup(archive, "copy", NULL).good);
    archive_close(archive);
    archive = opened(bench, ARCHIVE_WRITE);
    assert_true(archive_append(archive, &signal, 1, NULL, 0, NULL).good);
    assert_true(archive_check(archive, NULL).good);
    archive_close(archive);
}

static bool take_act(void *context, const struct archive_act *act) {
    int *count = context;
    assert_true(text_is(act->act, *count == 0 ? "begin" : "hand"));
    assert_int_equal(act->after_signal, *count);
    assert_true(text_is(act->by, "Ines"));
    (*count)++;
    return true;
}

static void acts_stand_among_signals(void **state) {
    struct archive *archive = opened(*state, ARCHIVE_NEW);
    struct archive_act act = {.site = text_of("a"),
            .act = text_of("begin"),
            .test = text_of(""),
            .by = text_of("Ines"),
            .after_signal = ARCHIVE_LAST};
    struct archive_signal signal = usual(1);
    int count = 0;
    assert_true(archive_add_act(archive, &act, NULL).good);
    assert_int_equal(act.id, 1);
    assert_true(archive_append(archive, &signal, 1, NULL, 0, NULL).good);
    act.act = text_of("hand");
    assert_true(archive_add_act(archive, &act, NULL).good);
    assert_int_equal(act.id, 2);
    act.site = text_of("b");
    assert_true(archive_add_act(archive, &act, NULL).good);
    assert_true(archive_each_act(archive, text_of("a"), 0, take_act, &count, NULL).good);
    assert_int_equal(count, 2);
    archive_close(archive);
}

/* More than a page: each handed on once, either way round. */
static void pages_join(void **state) {
    enum { COUNT = 2345 };
    struct archive *archive = opened(*state, ARCHIVE_NEW);
    struct archive_signal *signals = calloc(COUNT, sizeof *signals);
    int number = 0;
    for (int i = 0; i < COUNT; i++) {
        signals[i] = usual(i);
    }
    assert_true(archive_append(archive, signals, COUNT, NULL, 0, NULL).good);
    free(signals);
    assert_true(archive_each(archive, (struct archive_query){0}, compare, &number, NULL).good);
    assert_int_equal(number, COUNT);
    struct archive_query back = {.newest_first = true, .most = 2001, .up_to_id = 2340};
    assert_int_equal(count_in(archive, back), 2001);
    back.most = 0;
    assert_int_equal(count_in(archive, back), 2340);
    back.up_to_id = 0;
    back.since_ms = 1000 + 45;
    assert_int_equal(count_in(archive, back), 2300);
    archive_close(archive);
}

int main(void) {
    const struct CMUnitTest of_servers[] = {
            CASE(what_another_stored_is_not_stored_again),
            CASE(a_clock_set_back_hides_nothing),
            CASE(what_waited_long_is_no_clock_set_back),
            CASE(who_reads_on_misses_none),
            CASE(a_server_keeps_versions_too),
    };
    const struct CMUnitTest of_both[] = {
            CASE(what_is_stored_is_read_back),
            CASE(refusals_are_read_back),
            CASE(nothing_is_stored_by_halves),
            CASE(brought_in_twice_it_is_there_once),
            CASE(what_was_brought_in_makes_no_repeat),
            CASE(since_a_time_and_after_a_signal),
            CASE(one_far_ahead_is_where_nobody_begins),
            CASE(acts_stand_among_signals),
            CASE(pages_join),
    };
    int failed = cmocka_run_group_tests(of_both, NULL, NULL);
    return getenv("LINTEL_ARCHIVE") == NULL
            ? failed
            : failed + cmocka_run_group_tests(of_servers, NULL, NULL);
}
