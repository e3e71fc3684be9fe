/* The archive in a file: whose it is, what it was before, who else reads or writes it, and what its disk does. */
#include "archive/test_archive.h"

#include <fcntl.h>
#include <signal.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

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

/** Storing it fails once it has begun. */
static void fail_at(struct archive *archive, int64_t received_ms, int64_t steady_ms) {
    struct archive_signal wrong = usual(1);
    wrong.sequence = 10000;
    wrong.received_ms = received_ms;
    wrong.steady_ms = steady_ms;
    assert_false(archive_append(archive, &wrong, 1, NULL, 0, NULL).good);
}

/** Its id. */
static int64_t store_one(
        struct archive *archive, int number, int64_t received_ms, int64_t steady_ms) {
    struct archive_signal signal = usual(number);
    signal.received_ms = received_ms;
    signal.steady_ms = steady_ms;
    assert_true(archive_append(archive, &signal, 1, NULL, 0, NULL).good);
    return signal.id;
}

/** Stores the same at another time; its id. */
static int64_t store_at(struct archive *archive, int64_t received_ms, int64_t steady_ms) {
    return store_one(archive, 2, received_ms, steady_ms);
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

/* What was acknowledged after a failure, and before the clock was set back, comes again when it is news, but by the
 * calendar within the doubt: it is stored, also where storing failed again in between. What the later failures kept is
 * known all the same, those after them too. */
static void a_clock_set_back_between_two_failures(void **state) {
    enum { BACK_MS = 60000 };
    struct archive *archive = opened(*state, ARCHIVE_NEW);
    struct archive *disk = opened(*state, ARCHIVE_WRITE);
    fail_at(archive, 1000000, 1000);
    const int64_t first = store_at(archive, 1020000, 21000);
    assert_int_equal(store_one(archive, 3, 1100000 - BACK_MS, 101000), first + 1);
    fail_at(archive, 1280000 - BACK_MS, 281000);
    const int64_t kept = store_one(disk, 4, 1280000 - BACK_MS, 281000);
    assert_int_equal(store_at(archive, 1330000 - BACK_MS, 331000), kept + 1);
    fail_at(archive, 1340000 - BACK_MS, 341000);
    assert_int_equal(store_one(archive, 4, 1350000 - BACK_MS, 351000), kept);
    archive_close(disk);
    archive_close(archive);
}

/* The group by which it shows that the clock was set back began before: its first has a time of the old clock. Storing
 * it fails, and fails again; the disk kept it, it comes again and is acknowledged; and is news once more after another
 * failure. */
static void a_clock_set_back_within_a_group_that_fails(void **state) {
    enum { BACK_MS = 60000 };
    struct archive *archive = opened(*state, ARCHIVE_NEW);
    struct archive *disk = opened(*state, ARCHIVE_WRITE);
    (void)store_one(archive, 3, 1000000, 1000);
    fail_at(archive, 1010000 - BACK_MS, 11000);
    const int64_t kept = store_at(disk, 1010000, 11000);
    fail_at(archive, 1015000 - BACK_MS, 16000);
    assert_int_equal(store_at(archive, 1020000 - BACK_MS, 21000), kept);
    fail_at(archive, 1300000 - BACK_MS, 301000);
    assert_int_equal(store_at(archive, 1330000 - BACK_MS, 331000), kept + 1);
    archive_close(disk);
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

int main(void) {
    const struct CMUnitTest tests[] = {
            CASE(its_owner_alone_may_read_it),
            CASE(what_is_no_archive_is_left_alone),
            CASE(a_later_version_is_refused_an_older_one_brought_up),
            CASE(acts_of_an_older_version_are_kept),
            CASE(while_another_writes_nothing_is_taken_and_then_it_is),
            CASE(while_somebody_reads_it_is_stored),
            CASE(what_is_in_the_log_is_settled_too),
            CASE(a_clock_set_back_after_a_failure),
            CASE(a_clock_set_back_between_two_failures),
            CASE(a_clock_set_back_within_a_group_that_fails),
            CASE(after_a_failure_it_is_as_quick_as_before),
            CASE(a_few_of_a_crowded_instant_are_brought_in_quickly),
            CASE(copies_are_whole_while_others_write),
            CASE(a_copy_takes_no_file_that_is_there),
            CASE(room_for_the_log_is_made_and_means_nothing),
            CASE(damage_is_noticed),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
