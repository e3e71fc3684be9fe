/* The archive: what is stored is there, once, and what cannot be stored is said. With LINTEL_ARCHIVE set to the
 * address of a database, what goes for both stores is tried there (tests/whole/office.py), and what goes for servers
 * alone. */
#include "archive/archive.h"

#include <fcntl.h>
#include <setjmp.h>
#include <signal.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

#include <cmocka.h>
#include <libpq-fe.h>
#include <sqlite3.h>

struct bench {
    bool server;
    char folder[64];
    char path[256];
};

/** Runs SQL on the file or server, past the archive. */
static void by_hand(struct bench *bench, const char *sql) {
    if (bench->server) {
        PGconn *connection = PQconnectdb(bench->path);
        PQclear(PQexec(connection, "SET client_min_messages = error"));
        PGresult *result = PQexec(connection, sql);
        if (PQresultStatus(result) != PGRES_COMMAND_OK) {
            fail_msg("%s", PQresultErrorMessage(result));
        }
        PQclear(result);
        PQfinish(connection);
        return;
    }
    sqlite3 *database = NULL;
    assert_int_equal(sqlite3_open(bench->path, &database), SQLITE_OK);
    assert_int_equal(sqlite3_exec(database, sql, NULL, NULL, NULL), SQLITE_OK);
    assert_int_equal(sqlite3_close(database), SQLITE_OK);
}

static int begin(void **state) {
    struct bench *bench = calloc(1, sizeof *bench);
    const char *address = getenv("LINTEL_ARCHIVE");
    if (address != NULL) {
        bench->server = true;
        (void)snprintf(bench->path, sizeof bench->path, "%s", address);
        by_hand(bench, "DROP SCHEMA IF EXISTS lintel CASCADE");
        *state = bench;
        return 0;
    }
    (void)snprintf(bench->folder, sizeof bench->folder, "/tmp/lintel-archive-XXXXXX");
    assert_non_null(mkdtemp(bench->folder));
    (void)snprintf(bench->path, sizeof bench->path, "%s/signals.db", bench->folder);
    *state = bench;
    return 0;
}

static int end(void **state) {
    struct bench *bench = *state;
    char command[128];
    if (bench->server) {
        free(bench);
        return 0;
    }
    (void)snprintf(command, sizeof command, "rm -rf %s", bench->folder);
    assert_int_equal(system(command), 0);
    free(bench);
    return 0;
}

static struct archive_signal usual(int number) {
    return (struct archive_signal){.received_ms = 1000 + number,
            .prefix = 0xA5,
            .account = text_of("12AB"),
            .sequence = (uint16_t)(number % 10000),
            .stamped = number % 2 == 0,
            .sent_s = 77,
            .token = text_of("ADM-CID"),
            .data = text_of("#12AB|1130 01 015"),
            .digest = UINT64_C(0xF000000000000000) + (uint64_t)number,
            .frame = {"\n\0frame\r", 8},
            .peer = text_of("tcp 127.0.0.1:5000")};
}

static struct archive *opened(struct bench *bench, enum archive_use use) {
    struct archive *archive = NULL;
    struct problem problem = {0};
    if (!archive_open(bench->path, use, &archive, &problem).good) {
        fail_msg("%s", problem.text);
    }
    return archive;
}

static bool count_one(void *context, const struct archive_signal *signal) {
    (void)signal;
    (*(size_t *)context)++;
    return true;
}

static size_t count_in(struct archive *archive, struct archive_query query) {
    size_t count = 0;
    assert_true(archive_each(archive, query, count_one, &count, NULL).good);
    return count;
}

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

static void its_owner_alone_may_read_it(void **state) {
    struct bench *bench = *state;
    struct stat looked;
    struct archive *archive = opened(bench, ARCHIVE_NEW);
    char companion[300];
    struct archive_signal signal = usual(1);
    assert_true(archive_append(archive, &signal, 1, NULL, 0, NULL).good);
    assert_int_equal(stat(bench->path, &looked), 0);
    assert_int_equal(looked.st_mode & 0777, 0600);
    (void)snprintf(companion, sizeof companion, "%s-wal", bench->path);
    assert_int_equal(stat(companion, &looked), 0);
    assert_int_equal(looked.st_mode & 0777, 0600);
    /* opened anew while another has it open, both with the rights of a copy */
    assert_int_equal(chmod(bench->path, 0644), 0);
    assert_int_equal(chmod(companion, 0644), 0);
    struct archive *second = opened(bench, ARCHIVE_WRITE);
    assert_int_equal(stat(bench->path, &looked), 0);
    assert_int_equal(looked.st_mode & 0777, 0600);
    assert_int_equal(stat(companion, &looked), 0);
    assert_int_equal(looked.st_mode & 0777, 0600);
    archive_close(second);
    archive_close(archive);
}

static void refuse(
        struct bench *bench, enum archive_use use, enum problem_kind kind, const char *said) {
    struct archive *archive = NULL;
    struct problem problem = {0};
    assert_false(archive_open(bench->path, use, &archive, &problem).good);
    assert_null(archive);
    assert_int_equal(problem.kind, kind);
    if (strstr(problem.text, said) == NULL) {
        fail_msg("\"%s\" says nothing of \"%s\"", problem.text, said);
    }
}

static void what_is_no_archive_is_left_alone(void **state) {
    struct bench *bench = *state;
    refuse(bench, ARCHIVE_READ, PROBLEM_MISSING, "no such archive");
    refuse(bench, ARCHIVE_WRITE, PROBLEM_MISSING, "no such archive");
    by_hand(bench, "CREATE TABLE of_somebody_else (a); INSERT INTO of_somebody_else VALUES (1)");
    refuse(bench, ARCHIVE_NEW, PROBLEM_UNREADABLE, "no archive of Lintel");
    by_hand(bench, "SELECT a FROM of_somebody_else");
    struct stat looked;
    assert_int_equal(chmod(bench->path, 0664), 0);
    refuse(bench, ARCHIVE_NEW, PROBLEM_UNREADABLE, "no archive of Lintel");
    assert_int_equal(stat(bench->path, &looked), 0);
    assert_int_equal(looked.st_mode & 0777, 0664);
    FILE *file = fopen(bench->path, "w");
    assert_non_null(file);
    for (int i = 0; i < 200; i++) {
        (void)fprintf(file, "a letter to somebody\n");
    }
    assert_int_equal(fclose(file), 0);
    refuse(bench, ARCHIVE_NEW, PROBLEM_UNREADABLE, "no archive");
}

static void a_later_version_is_refused_an_older_one_brought_up(void **state) {
    struct bench *bench = *state;
    archive_close(opened(bench, ARCHIVE_NEW));
    by_hand(bench, "PRAGMA user_version = 99");
    refuse(bench, ARCHIVE_NEW, PROBLEM_UNREADABLE, "version 99");
    by_hand(bench,
            "PRAGMA user_version = 0; DROP TABLE signals; DROP TABLE accounts;"
            "DROP TABLE refusals; DROP TABLE acts");
    refuse(bench, ARCHIVE_READ, PROBLEM_UNREADABLE, "older version 0");
    struct archive *archive = opened(bench, ARCHIVE_WRITE);
    struct archive_signal signal = usual(1);
    assert_true(archive_append(archive, &signal, 1, NULL, 0, NULL).good);
    archive_close(archive);
}

static bool take_older_act(void *context, const struct archive_act *act) {
    assert_true(text_is(act->by, "N. Tester"));
    assert_int_equal(act->after_signal, 5);
    ++*(int *)context;
    return true;
}

/* Acts of the version before are kept, and what it did not know can be done. */
static void acts_of_an_older_version_are_kept(void **state) {
    struct bench *bench = *state;
    int count = 0;
    archive_close(opened(bench, ARCHIVE_NEW));
    by_hand(bench,
            "PRAGMA user_version = 2; DROP TABLE acts; ALTER TABLE signals DROP COLUMN imported;"
            "CREATE TABLE acts (id INTEGER PRIMARY KEY, site TEXT NOT NULL, at_ms INTEGER NOT NULL,"
            "  act TEXT NOT NULL CHECK (act IN ('begin', 'now', 'hand')), test TEXT NOT NULL,"
            "  by TEXT NOT NULL, after_signal INTEGER NOT NULL) STRICT;"
            "INSERT INTO acts VALUES (1, 'house', 0, 'hand', 'zone 1', 'N. Tester', 5)");
    struct archive *archive = opened(bench, ARCHIVE_WRITE);
    struct archive_act act = {.site = text_of("house"),
            .act = text_of("back"),
            .test = text_of("zone 1"),
            .by = text_of("N. Tester"),
            .after_signal = 5};
    assert_true(archive_add_act(archive, &act, NULL).good);
    act.act = text_of("no");
    assert_true(archive_add_act(archive, &act, NULL).good);
    assert_true(archive_each_act(archive, act.site, 0, take_older_act, &count, NULL).good);
    assert_int_equal(count, 3);
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

static void while_another_writes_nothing_is_taken_and_then_it_is(void **state) {
    struct bench *bench = *state;
    struct archive *archive = opened(bench, ARCHIVE_NEW);
    struct archive_signal signal = usual(1);
    struct problem problem = {0};
    sqlite3 *other = NULL;
    assert_int_equal(sqlite3_open(bench->path, &other), SQLITE_OK);
    assert_int_equal(sqlite3_exec(other, "BEGIN IMMEDIATE", NULL, NULL, NULL), SQLITE_OK);
    assert_false(archive_append(archive, &signal, 1, NULL, 0, &problem).good);
    assert_non_null(strstr(problem.text, "another program"));
    assert_int_equal(sqlite3_exec(other, "ROLLBACK", NULL, NULL, NULL), SQLITE_OK);
    assert_true(archive_append(archive, &signal, 1, NULL, 0, NULL).good);
    assert_int_equal(sqlite3_close(other), SQLITE_OK);
    assert_int_equal(count_in(archive, (struct archive_query){0}), 1);
    archive_close(archive);
}

/** Somebody who reads, and stays in the middle: what comes after it cannot leave the log until he ends. */
static sqlite3 *read_and_stay(struct bench *bench) {
    sqlite3 *reader = NULL;
    assert_int_equal(sqlite3_open(bench->path, &reader), SQLITE_OK);
    assert_int_equal(
            sqlite3_exec(reader, "BEGIN; SELECT * FROM signals", NULL, NULL, NULL), SQLITE_OK);
    return reader;
}

static void while_somebody_reads_it_is_stored(void **state) {
    struct bench *bench = *state;
    struct archive *archive = opened(bench, ARCHIVE_NEW);
    struct archive_signal signals[] = {usual(1), usual(2), usual(3)};
    struct archive_signal wrong = usual(4);
    assert_true(archive_append(archive, &signals[0], 1, NULL, 0, NULL).good);
    sqlite3 *reader = read_and_stay(bench);
    assert_true(archive_append(archive, &signals[1], 1, NULL, 0, NULL).good);
    wrong.sequence = 10000; /* the table refuses it */
    assert_false(archive_append(archive, &wrong, 1, NULL, 0, NULL).good);
    assert_true(archive_append(archive, &signals[2], 1, NULL, 0, NULL).good);
    /* and a listener can begin */
    struct archive *other = opened(bench, ARCHIVE_WRITE);
    assert_true(archive_settle(other, NULL).good);
    assert_int_equal(sqlite3_close(reader), SQLITE_OK);
    archive_close(other);
    archive_close(archive);
    archive = opened(bench, ARCHIVE_READ);
    assert_int_equal(count_in(archive, (struct archive_query){0}), 3);
    assert_true(archive_check(archive, NULL).good);
    archive_close(archive);
}

/** Free it. */
static char *bytes_of(const char *path, size_t *ret_size) {
    FILE *file = fopen(path, "r");
    assert_non_null(file);
    assert_int_equal(fseek(file, 0, SEEK_END), 0);
    *ret_size = (size_t)ftell(file);
    char *bytes = malloc(*ret_size);
    rewind(file);
    assert_int_equal(fread(bytes, 1, *ret_size, file), *ret_size);
    assert_int_equal(fclose(file), 0);
    return bytes;
}

/* What is still in the log is written once more, as it stands, and where it cannot be that is told: the sync before may
 * have failed. */
static void what_is_in_the_log_is_settled_too(void **state) {
    struct bench *bench = *state;
    const struct timespec long_ago[2] = {{.tv_sec = 1000}, {.tv_sec = 1000}};
    struct archive *archive = opened(bench, ARCHIVE_NEW);
    struct archive_signal signal = usual(1);
    char log[300];
    struct stat looked;
    size_t size = 0;
    size_t size_after = 0;
    (void)snprintf(log, sizeof log, "%s-wal", bench->path);
    assert_true(archive_settle(archive, NULL).good);
    sqlite3 *reader = read_and_stay(bench);
    assert_true(archive_append(archive, &signal, 1, NULL, 0, NULL).good);
    char *before = bytes_of(log, &size);
    assert_int_equal(utimensat(AT_FDCWD, log, long_ago, 0), 0);
    assert_true(archive_settle(archive, NULL).good);
    assert_int_equal(stat(log, &looked), 0);
    assert_true(looked.st_mtim.tv_sec > 1000);
    char *after = bytes_of(log, &size_after);
    assert_int_equal(size_after, size);
    assert_memory_equal(before, after, size);
    free(before);
    free(after);
    const pid_t writer = fork();
    if (writer == 0) {
        const struct rlimit little = {4096, 4096};
        struct archive *other = NULL;
        const bool refused = archive_open(bench->path, ARCHIVE_WRITE, &other, NULL).good &&
                sigaction(SIGXFSZ, &(struct sigaction){.sa_handler = SIG_IGN}, NULL) == 0 &&
                setrlimit(RLIMIT_FSIZE, &little) == 0 && !archive_settle(other, NULL).good;
        _exit(refused ? 0 : 1);
    }
    int status = 1;
    assert_int_equal(waitpid(writer, &status, 0), writer);
    assert_int_equal(status, 0);
    assert_int_equal(sqlite3_close(reader), SQLITE_OK);
    archive_close(archive);
}

/* After a failure others of the same minutes are not all looked through for each that comes. */
static void after_a_failure_it_is_as_quick_as_before(void **state) {
    enum { THERE = 40000, COME = 1000, MOST_S = 4 };
    struct archive *archive = opened(*state, ARCHIVE_NEW);
    struct archive_signal *signals = calloc(THERE + COME, sizeof *signals);
    struct archive_signal wrong = usual(0);
    for (int i = 0; i < THERE + COME; i++) {
        signals[i] = usual(i);
        signals[i].received_ms = 1000 + i / 10;
    }
    assert_true(archive_append(archive, signals, THERE, NULL, 0, NULL).good);
    wrong.sequence = 10000;
    wrong.received_ms = signals[THERE].received_ms;
    assert_false(archive_append(archive, &wrong, 1, NULL, 0, NULL).good);
    const clock_t began = clock();
    assert_true(archive_append(archive, signals + THERE, COME, NULL, 0, NULL).good);
    assert_true((clock() - began) / CLOCKS_PER_SEC < MOST_S);
    assert_int_equal(count_in(archive, (struct archive_query){0}), THERE + COME);
    free(signals);
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

/** Storing it fails once it has begun. */
static void fail_at(struct archive *archive, int64_t received_ms, int64_t steady_ms) {
    struct archive_signal wrong = usual(1);
    wrong.sequence = 10000;
    wrong.received_ms = received_ms;
    wrong.steady_ms = steady_ms;
    assert_false(archive_append(archive, &wrong, 1, NULL, 0, NULL).good);
}

/** Stores the same at another time; its id. */
static int64_t store_at(struct archive *archive, int64_t received_ms, int64_t steady_ms) {
    struct archive_signal signal = usual(2);
    signal.received_ms = received_ms;
    signal.steady_ms = steady_ms;
    assert_true(archive_append(archive, &signal, 1, NULL, 0, NULL).good);
    return signal.id;
}

/* What a disk kept though storing it failed is known by its id, whatever the clock shows when it comes again; and
 * nothing else is: not what was stored between two failures, nor anything once the doubt is over. */
static void a_clock_set_back_after_a_failure(void **state) {
    enum { BACK_MS = 30000 };
    struct archive *archive = opened(*state, ARCHIVE_NEW);
    struct archive *disk = opened(*state, ARCHIVE_WRITE);
    fail_at(archive, 1000000, 1000);
    const int64_t kept = store_at(disk, 1000000, 1000);
    assert_int_equal(store_at(archive, 1001000 - BACK_MS, 2000), kept);
    const int64_t again = store_at(archive, 1000000, 1000 + ARCHIVE_DOUBT_MS);
    assert_true(again > kept);
    fail_at(archive, 1000000, 2000 + ARCHIVE_DOUBT_MS);
    assert_int_equal(store_at(archive, 1000000, 2000 + ARCHIVE_DOUBT_MS), again + 1);
    fail_at(archive, 1000000, 3000 + ARCHIVE_DOUBT_MS);
    assert_int_equal(store_at(archive, 1001000 - BACK_MS, 4000 + ARCHIVE_DOUBT_MS), again + 2);
    archive_close(disk);
    archive_close(archive);
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

/* Of one instant the archive may have ever so many: whoever brings in a few more of it does not look at all of them for
 * each. */
static void a_few_of_a_crowded_instant_are_brought_in_quickly(void **state) {
    enum { THERE = 100000, COME = 1000, MOST_S = 4 };
    struct archive *archive = opened(*state, ARCHIVE_NEW);
    struct archive_signal *signals = calloc(THERE + COME, sizeof *signals);
    size_t added = 0;
    for (int i = 0; i < THERE + COME; i++) {
        signals[i] = usual(i);
        signals[i].received_ms = 1000;
    }
    assert_true(archive_import(archive, signals, THERE, &added, NULL).good);
    const clock_t began = clock();
    assert_true(archive_import(archive, signals + THERE, COME, &added, NULL).good);
    assert_int_equal(added, COME);
    assert_true((clock() - began) / CLOCKS_PER_SEC < MOST_S);
    free(signals);
    archive_close(archive);
}

/* Another process stores without end while copies are made: each copy is whole, and holds what was stored before. */
static void copies_are_whole_while_others_write(void **state) {
    struct bench *bench = *state;
    archive_close(opened(bench, ARCHIVE_NEW));
    pid_t writer = fork();
    if (writer == 0) {
        struct archive *archive = NULL;
        if (!archive_open(bench->path, ARCHIVE_WRITE, &archive, NULL).good) {
            _exit(1);
        }
        for (int i = 0;; i++) {
            struct archive_signal signal = usual(i % 9000);
            (void)!archive_append(archive, &signal, 1, NULL, 0, NULL).good;
        }
    }
    size_t before = 0;
    for (int copy = 0; copy < 3; copy++) {
        struct bench of = *bench;
        (void)snprintf(of.path, sizeof of.path, "%s/copy%d", bench->folder, copy);
        const struct timespec while_it_writes = {.tv_nsec = 30000000};
        (void)nanosleep(&while_it_writes, NULL);
        struct archive *archive = opened(bench, ARCHIVE_READ);
        before = count_in(archive, (struct archive_query){0});
        struct problem problem = {0};
        if (!archive_backup(archive, of.path, &problem).good) {
            fail_msg("%s", problem.text);
        }
        assert_false(archive_backup(archive, of.path, &problem).good);
        archive_close(archive);
        archive = opened(&of, ARCHIVE_READ);
        assert_true(archive_check(archive, NULL).good);
        assert_true(count_in(archive, (struct archive_query){0}) >= before);
        archive_close(archive);
    }
    assert_true(before > 0);
    assert_int_equal(kill(writer, SIGKILL), 0);
    assert_int_equal(waitpid(writer, NULL, 0), writer);
}

static void refuses_to_copy(struct archive *archive, const char *to) {
    struct problem problem = {0};
    assert_false(archive_backup(archive, to, &problem).good);
    assert_int_equal(problem.kind, PROBLEM_BAD_VALUE);
    assert_non_null(strstr(problem.text, "is there already"));
}

/* Neither a file of that name nor one under which it would be written first is taken, be it empty, or a link to one
 * that is not there yet; and it is told so. Whoever put it there would have the copy. */
static void a_copy_takes_no_file_that_is_there(void **state) {
    struct bench *bench = *state;
    static const char *const suffixes[] = {"", ".part"};
    struct archive *archive = opened(bench, ARCHIVE_NEW);
    char elsewhere[128];
    struct stat found;
    (void)snprintf(elsewhere, sizeof elsewhere, "%s/elsewhere", bench->folder);
    for (size_t i = 0; i < sizeof suffixes / sizeof suffixes[0]; i++) {
        char to[128];
        char there[160];
        (void)snprintf(to, sizeof to, "%s/kept%zu", bench->folder, i);
        (void)snprintf(there, sizeof there, "%s%s", to, suffixes[i]);
        FILE *file = fopen(there, "w");
        assert_non_null(file);
        assert_int_equal(fclose(file), 0);
        refuses_to_copy(archive, to);
        assert_int_equal(stat(there, &found), 0);
        assert_int_equal(found.st_size, 0);
        assert_int_equal(unlink(there), 0);
        assert_int_equal(symlink(elsewhere, there), 0);
        refuses_to_copy(archive, to);
        assert_int_equal(unlink(there), 0);
        assert_int_equal(stat(elsewhere, &found), -1);
    }
    archive_close(archive);
}

/* The log has its room before it is needed, and who dies with it half full loses nothing: zeros are no part of it. */
static void room_for_the_log_is_made_and_means_nothing(void **state) {
    struct bench *bench = *state;
    char log[300];
    struct stat before;
    struct stat after;
    (void)snprintf(log, sizeof log, "%s-wal", bench->path);
    archive_close(opened(bench, ARCHIVE_NEW));
    for (int i = 0; i < 3; i++) {
        const pid_t writer = fork();
        if (writer == 0) {
            struct archive *archive = NULL;
            struct archive_signal signals[2] = {usual(2 * i), usual(2 * i + 1)};
            const bool good = archive_open(bench->path, ARCHIVE_WRITE, &archive, NULL).good &&
                    archive_settle(archive, NULL).good && stat(log, &before) == 0 &&
                    archive_append(archive, signals, 2, NULL, 0, NULL).good &&
                    stat(log, &after) == 0 && before.st_size > 8 * 1024 * 1024 &&
                    after.st_size == before.st_size;
            _exit(good ? 0 : 1);
        }
        int status = 1;
        assert_int_equal(waitpid(writer, &status, 0), writer);
        assert_int_equal(status, 0);
        struct archive *archive = opened(bench, ARCHIVE_READ);
        assert_int_equal(count_in(archive, (struct archive_query){0}), 2 * (i + 1));
        assert_true(archive_check(archive, NULL).good);
        archive_close(archive);
    }
}

static void damage_is_noticed(void **state) {
    struct bench *bench = *state;
    struct archive *archive = opened(bench, ARCHIVE_NEW);
    struct archive_signal signal = usual(1);
    struct problem problem = {0};
    assert_true(archive_append(archive, &signal, 1, NULL, 0, NULL).good);
    archive_close(archive);
    by_hand(bench, "PRAGMA foreign_keys = OFF; DELETE FROM accounts");
    archive = opened(bench, ARCHIVE_READ);
    assert_false(archive_check(archive, &problem).good);
    assert_int_equal(problem.kind, PROBLEM_UNREADABLE);
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

#define CASE(name) cmocka_unit_test_setup_teardown(name, begin, end)

int main(void) {
    const struct CMUnitTest of_files[] = {
            CASE(its_owner_alone_may_read_it),
            CASE(what_is_no_archive_is_left_alone),
            CASE(a_later_version_is_refused_an_older_one_brought_up),
            CASE(acts_of_an_older_version_are_kept),
            CASE(while_another_writes_nothing_is_taken_and_then_it_is),
            CASE(while_somebody_reads_it_is_stored),
            CASE(what_is_in_the_log_is_settled_too),
            CASE(a_clock_set_back_after_a_failure),
            CASE(after_a_failure_it_is_as_quick_as_before),
            CASE(a_few_of_a_crowded_instant_are_brought_in_quickly),
            CASE(copies_are_whole_while_others_write),
            CASE(a_copy_takes_no_file_that_is_there),
            CASE(room_for_the_log_is_made_and_means_nothing),
            CASE(damage_is_noticed),
    };
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
    return failed +
            (getenv("LINTEL_ARCHIVE") == NULL ? cmocka_run_group_tests(of_files, NULL, NULL)
                                              : cmocka_run_group_tests(of_servers, NULL, NULL));
}
