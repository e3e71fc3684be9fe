/* One file. */
#include "archive/inside.h"

#include "host/host.h"

#include <errno.h>
#include <fcntl.h>
#include <sqlite3.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

enum {
    APPLICATION = 0x4C4E544C,   /* "LNTL": what kind of file it is, in its header */
    LOG_ROOM = 9 * 1024 * 1024, /* of 2,000 pages and what a group adds; see writing_ways */
};

struct file {
    sqlite3 *database;
    sqlite3_stmt *statements[ARCHIVE_STATEMENT_COUNT]; /* made when first asked */
};

static sqlite3 *database_of(struct archive *archive) {
    struct file *file = archive->handle;
    return file == NULL ? NULL : file->database;
}

/** Kinds of failure by the database's codes, and what to do. */
static const struct {
    int code;
    enum problem_kind kind;
    const char *advice;
} failures[] = {
        {SQLITE_FULL, PROBLEM_SYSTEM, ": make room on the disk"},
        {SQLITE_BUSY, PROBLEM_SYSTEM, ": another program holds it; wait, or end that one"},
        {SQLITE_LOCKED, PROBLEM_SYSTEM, ": another program holds it; wait, or end that one"},
        {SQLITE_READONLY, PROBLEM_SYSTEM, ": look at its rights, and those of its folder"},
        {SQLITE_CANTOPEN, PROBLEM_SYSTEM, ": look at its rights, and those of its folder"},
        {SQLITE_IOERR, PROBLEM_SYSTEM, ": look at the disk, and whether it is full"},
        {SQLITE_NOTADB, PROBLEM_UNREADABLE, ": it is no archive"},
        {SQLITE_CORRUPT, PROBLEM_UNREADABLE, ": it is damaged; go back to a backup"},
        {SQLITE_NOMEM, PROBLEM_MEMORY, ""},
};

static outcome refused(struct archive *archive, const char *verb, struct problem *ret_problem) {
    sqlite3 *database = database_of(archive);
    int code = database == NULL ? SQLITE_NOMEM : sqlite3_errcode(database);
    const char *words = sqlite3_errstr(code);
    for (size_t i = 0; i < sizeof failures / sizeof failures[0]; i++) {
        if (failures[i].code == (code & 0xFF)) {
            FAIL(ret_problem, failures[i].kind, "", "%.200s cannot be %s: %s%s", archive->path,
                    verb, words, failures[i].advice);
        }
    }
    FAIL(ret_problem, PROBLEM_SYSTEM, "", "%.200s cannot be %s: %s", archive->path, verb, words);
}

static outcome run(struct archive *archive, const char *sql, struct problem *ret_problem) {
    if (sqlite3_exec(database_of(archive), sql, NULL, NULL, NULL) != SQLITE_OK) {
        return refused(archive, archive->use == ARCHIVE_READ ? "read" : "written", ret_problem);
    }
    return outcome_good();
}

static outcome prepare(struct archive *archive, const char *sql, sqlite3_stmt **ret_statement,
        struct problem *ret_problem) {
    if (sqlite3_prepare_v2(database_of(archive), sql, -1, ret_statement, NULL) != SQLITE_OK) {
        return refused(archive, "read", ret_problem);
    }
    return outcome_good();
}

static outcome begin(struct archive *archive, struct problem *ret_problem) {
    outcome result = run(archive, "BEGIN IMMEDIATE", ret_problem);
    archive->held = !result.good && (sqlite3_errcode(database_of(archive)) & 0xFF) == SQLITE_BUSY;
    return result;
}

static outcome commit(struct archive *archive, struct problem *ret_problem) {
    return run(archive, "COMMIT", ret_problem);
}

static void undo(struct archive *archive) {
    sqlite3 *database = database_of(archive);
    if (database != NULL && sqlite3_get_autocommit(database) == 0) {
        (void)sqlite3_exec(database, "ROLLBACK", NULL, NULL, NULL);
    }
}

static void bind_values(sqlite3_stmt *statement, const struct archive_value *values, size_t count) {
    for (size_t i = 0; i < count; i++) {
        const struct archive_value *value = &values[i];
        const char *start = value->text.start == NULL ? "" : value->text.start;
        int at = (int)i + 1;
        if (value->none) {
            (void)sqlite3_bind_null(statement, at);
        } else if (value->kind == ARCHIVE_NUMBER) {
            (void)sqlite3_bind_int64(statement, at, value->number);
        } else if (value->kind == ARCHIVE_TEXT) {
            (void)sqlite3_bind_text(statement, at, start, (int)value->text.length, SQLITE_STATIC);
        } else {
            (void)sqlite3_bind_blob(statement, at, start, (int)value->text.length, SQLITE_STATIC);
        }
    }
}

static outcome ask(struct archive *archive, enum archive_statement which,
        const struct archive_value *values, size_t count, int64_t *ret_number,
        struct problem *ret_problem) {
    struct file *file = archive->handle;
    sqlite3_stmt **statement = &file->statements[which];
    if (*statement == NULL) {
        TRY(prepare(archive, archive_statements[which], statement, ret_problem));
    }
    bind_values(*statement, values, count);
    if (sqlite3_step(*statement) == SQLITE_ROW && ret_number != NULL) {
        *ret_number = sqlite3_column_int64(*statement, 0);
    }
    if (sqlite3_reset(*statement) != SQLITE_OK) {
        return refused(archive, "written", ret_problem);
    }
    return outcome_good();
}

/** Nothing is put off here. */
static outcome wait_for(struct archive *archive, struct problem *ret_problem) {
    (void)archive;
    (void)ret_problem;
    return outcome_good();
}

static struct archive_value value_at(sqlite3_stmt *row, int column) {
    int type = sqlite3_column_type(row, column);
    if (type == SQLITE_INTEGER || type == SQLITE_NULL) {
        return (struct archive_value){.kind = ARCHIVE_NUMBER,
                .none = type == SQLITE_NULL,
                .number = sqlite3_column_int64(row, column)};
    }
    const char *start = sqlite3_column_blob(row, column);
    struct text text = {start == NULL ? "" : start, (size_t)sqlite3_column_bytes(row, column)};
    return type == SQLITE_TEXT ? archive_text(text) : archive_bytes(text);
}

static outcome each(struct archive *archive, const char *sql, const struct archive_value *values,
        size_t count, archive_take_row take, void *context, struct problem *ret_problem) {
    sqlite3_stmt *statement = NULL;
    TRY(prepare(archive, sql, &statement, ret_problem));
    bind_values(statement, values, count);
    bool more = true;
    while (more && sqlite3_step(statement) == SQLITE_ROW) {
        struct archive_value row[ARCHIVE_VALUES_MOST] = {0};
        for (int i = 0; i < sqlite3_column_count(statement) && i < ARCHIVE_VALUES_MOST; i++) {
            row[i] = value_at(statement, i);
        }
        more = take(context, row);
    }
    if (sqlite3_finalize(statement) != SQLITE_OK) {
        return refused(archive, "read", ret_problem);
    }
    return outcome_good();
}

/** In a file of its own kind, or an empty one. */
static outcome must_be_ours(struct archive *archive, struct problem *ret_problem) {
    sqlite3_stmt *statement = NULL;
    int application = 0;
    bool any = false;
    TRY(prepare(archive,
            "SELECT (SELECT application_id FROM pragma_application_id),"
            " EXISTS (SELECT 1 FROM sqlite_schema)",
            &statement, ret_problem));
    if (sqlite3_step(statement) == SQLITE_ROW) {
        application = sqlite3_column_int(statement, 0);
        any = sqlite3_column_int(statement, 1) != 0;
    }
    if (sqlite3_finalize(statement) != SQLITE_OK) {
        return refused(archive, "read", ret_problem);
    }
    if (application != APPLICATION && (any || archive->use == ARCHIVE_READ)) {
        FAIL(ret_problem, PROBLEM_UNREADABLE, "", "%.240s is a database, but no archive of Lintel",
                archive->path);
    }
    if (application != APPLICATION) {
        char sql[64];
        (void)snprintf(sql, sizeof sql, "PRAGMA application_id = %d", APPLICATION);
        TRY(run(archive, sql, ret_problem));
    }
    return outcome_good();
}

/* synchronous FULL: in WAL mode only this brings each commit to the disk; NORMAL would lose the last ones with the
 * power, after they were acknowledged. */
static const char writing_ways[] = "PRAGMA journal_mode = WAL;"
                                   "PRAGMA synchronous = FULL;"
                                   "PRAGMA foreign_keys = ON;"
                                   "PRAGMA wal_autocheckpoint = 2000;"
                                   "PRAGMA journal_size_limit = 67108864";

/** Whose signals they are is nobody else's business: the file is its owner's alone, and the database gives its
 *  companions the same rights. */
static outcome make_file(const char *path, struct problem *ret_problem) {
    int file = open(path, O_WRONLY | O_CREAT | O_CLOEXEC | O_NOCTTY, 0600);
    if (file < 0) {
        FAIL(ret_problem, PROBLEM_SYSTEM, "", "%.240s cannot be made: %s", path, strerror(errno));
    }
    (void)close(file);
    return outcome_good();
}

/** Takes the rights of others away from an archive that was made by other means, or copied, or left by a kill. Only
 *  once it is known for one: the rights of any other file are not ours to change. By name, as closing a file of a
 *  database that is open would give up its locks. */
static void keep_to_oneself(const struct archive *archive) {
    static const char *const parts[] = {"", "-wal", "-shm"};
    for (size_t i = 0; i < sizeof parts / sizeof parts[0]; i++) {
        char name[PATH_MAX + 8];
        struct stat state;
        (void)snprintf(name, sizeof name, "%s%s", archive->path, parts[i]);
        if (stat(name, &state) == 0 && S_ISREG(state.st_mode) && state.st_uid == geteuid() &&
                (state.st_mode & (S_IRWXG | S_IRWXO)) != 0) {
            (void)chmod(name, state.st_mode & S_IRWXU);
        }
    }
}

static outcome name_file(struct archive *archive, struct problem *ret_problem) {
    struct stat state;
    if (strlen(archive->address) >= sizeof archive->path) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "the name of the archive is too long");
    }
    (void)snprintf(archive->path, sizeof archive->path, "%s", archive->address);
    const char *path = archive->path;
    bool there = stat(path, &state) == 0;
    if (there && !S_ISREG(state.st_mode)) {
        FAIL(ret_problem, PROBLEM_SYSTEM, "", "%.240s is no file; an archive is one", path);
    }
    if (!there && archive->use != ARCHIVE_NEW) {
        FAIL(ret_problem, PROBLEM_MISSING, "", "%.240s: there is no such archive", path);
    }
    return there ? outcome_good() : make_file(path, ret_problem);
}

static outcome connect(struct archive *archive, struct problem *ret_problem) {
    const bool write = archive->use != ARCHIVE_READ;
    TRY(name_file(archive, ret_problem));
    struct file *file = calloc(1, sizeof *file);
    archive->handle = file;
    if (file == NULL ||
            sqlite3_open_v2(archive->path, &file->database,
                    (write ? SQLITE_OPEN_READWRITE : SQLITE_OPEN_READONLY) | SQLITE_OPEN_NOMUTEX,
                    NULL) != SQLITE_OK) {
        return refused(archive, "opened", ret_problem);
    }
    if (write && sqlite3_db_readonly(file->database, "main") != 0) {
        FAIL(ret_problem, PROBLEM_SYSTEM, "", "%.250s cannot be written: look at its rights",
                archive->path);
    }
    (void)sqlite3_extended_result_codes(file->database, 1);
    (void)sqlite3_busy_timeout(file->database, ARCHIVE_WAIT_MS);
    TRY(must_be_ours(archive, ret_problem));
    if (write) {
        keep_to_oneself(archive);
    }
    return write ? run(archive, writing_ways, ret_problem) : outcome_good();
}

static void disconnect(struct archive *archive) {
    struct file *file = archive->handle;
    for (size_t i = 0; file != NULL && i < ARCHIVE_STATEMENT_COUNT; i++) {
        (void)sqlite3_finalize(file->statements[i]);
    }
    if (file != NULL) {
        (void)sqlite3_close(file->database);
        free(file);
    }
    archive->handle = NULL;
}

static outcome version(struct archive *archive, int *ret_version, struct problem *ret_problem) {
    sqlite3_stmt *statement = NULL;
    TRY(prepare(archive, "PRAGMA user_version", &statement, ret_problem));
    if (sqlite3_step(statement) == SQLITE_ROW) {
        *ret_version = sqlite3_column_int(statement, 0);
    }
    if (sqlite3_finalize(statement) != SQLITE_OK) {
        return refused(archive, "read", ret_problem);
    }
    return outcome_good();
}

static outcome set_version(struct archive *archive, int version_now, struct problem *ret_problem) {
    char sql[64];
    (void)snprintf(sql, sizeof sql, "PRAGMA user_version = %d", version_now);
    return run(archive, sql, ret_problem);
}

/** Writes what stands there once more. A sync that failed may have taken its pages for written: the next one would
 *  bring nothing to the disk, and say good. */
static bool write_again(int file) {
    char block[16 * 1024];
    ssize_t got = 1;
    for (off_t at = 0; got > 0; at += got) {
        got = pread(file, block, sizeof block, at);
        if (got > 0 && pwrite(file, block, (size_t)got, at) != got) {
            return false;
        }
    }
    return got == 0;
}

/** Writes zeros up to the size that the log grows to anyhow. A sync of a file that grew must bring the file's size and
 *  where its blocks lie to the disk as well; over what is there already it is one write. Zeros are no part of a log:
 *  whoever reads it stops there. That there is no room is no failure: it only takes longer. */
static void make_room(int file) {
    static const char zeros[64 * 1024];
    struct stat state;
    bool good = fstat(file, &state) == 0;
    for (off_t at = good ? state.st_size : LOG_ROOM; good && at < LOG_ROOM;) {
        ssize_t written = pwrite(file, zeros, sizeof zeros, at);
        good = written > 0;
        at += written;
    }
}

/** Brings the log to the disk, as it stands. */
static bool settle_log(const char *log) {
    const int file = open(log, O_RDWR | O_CLOEXEC | O_NOCTTY);
    bool good = file >= 0 && write_again(file);
    if (file < 0) {
        return errno == ENOENT;
    }
    if (good) {
        make_room(file);
        good = fsync(file) == 0;
    }
    const int error = errno;
    (void)close(file);
    errno = error;
    return good && host_sync_folder_of(log);
}

/* What is read from the file was synced when it left the log; what is read from the log may not have been. So it is the
 * log that is brought to the disk, while nobody else can write into it: readers may stay, who keep it from being
 * emptied for as long as they read. As much of it as can be goes into the file before, so that it is short. */
static outcome settle(struct archive *archive, struct problem *ret_problem) {
    char log[PATH_MAX + 8];
    const int code = sqlite3_wal_checkpoint_v2(
            database_of(archive), NULL, SQLITE_CHECKPOINT_PASSIVE, NULL, NULL);
    if (code != SQLITE_OK && (code & 0xFF) != SQLITE_BUSY) {
        return refused(archive, "written", ret_problem);
    }
    (void)snprintf(log, sizeof log, "%s-wal", archive->path);
    TRY(begin(archive, ret_problem));
    const bool good = settle_log(log);
    const int error = errno;
    undo(archive);
    if (!good) {
        FAIL(ret_problem, PROBLEM_SYSTEM, "", "%.240s cannot be brought to the disk: %s", log,
                strerror(error));
    }
    return outcome_good();
}

static outcome check(struct archive *archive, struct problem *ret_problem) {
    static const char *const looks[] = {"PRAGMA integrity_check(1)", "PRAGMA foreign_key_check"};
    for (size_t i = 0; i < sizeof looks / sizeof looks[0]; i++) {
        sqlite3_stmt *statement = NULL;
        struct problem wrong = {0};
        TRY(prepare(archive, looks[i], &statement, ret_problem));
        if (sqlite3_step(statement) == SQLITE_ROW) {
            const char *said = (const char *)sqlite3_column_text(statement, 0);
            if (said == NULL || strcmp(said, "ok") != 0) {
                wrong.kind = PROBLEM_UNREADABLE;
                (void)snprintf(wrong.text, sizeof wrong.text, "%.250s",
                        said == NULL ? "something refers to what is not there" : said);
            }
        }
        if (sqlite3_finalize(statement) != SQLITE_OK) {
            return refused(archive, "read", ret_problem);
        }
        if (wrong.kind != PROBLEM_NONE) {
            FAIL(ret_problem, wrong.kind, "", "%.120s is damaged: %.240s", archive->path,
                    wrong.text);
        }
    }
    return outcome_good();
}

/** Brings what is open under the name to the disk. */
static bool to_disk(const char *path, int how) {
    int file = open(path, how | O_CLOEXEC | O_NOCTTY);
    bool good = file >= 0 && fsync(file) == 0;
    if (file >= 0) {
        (void)close(file);
    }
    return good;
}

/** Into a file that was made here and is empty: the database takes any empty one, also one that somebody put there. */
static outcome copy_into(struct archive *archive, const char *part, struct problem *ret_problem) {
    sqlite3_stmt *statement = NULL;
    TRY(prepare(archive, "VACUUM INTO ?1", &statement, ret_problem));
    (void)sqlite3_bind_text(statement, 1, part, -1, SQLITE_STATIC);
    (void)sqlite3_step(statement);
    if (sqlite3_finalize(statement) != SQLITE_OK) {
        return refused(archive, "copied", ret_problem);
    }
    if (!to_disk(part, O_RDONLY)) {
        FAIL(ret_problem, PROBLEM_SYSTEM, "", "%.240s cannot be brought to the disk: %s", part,
                strerror(errno));
    }
    return outcome_good();
}

/* Written beside under another name first, so that a copy that has its name is whole: the database alone does not bring
 * a copy to the disk. */
static outcome backup(struct archive *archive, const char *to, struct problem *ret_problem) {
    char part[PATH_MAX];
    struct stat state;
    int length = snprintf(part, sizeof part, "%s.part", to);
    if (length < 0 || (size_t)length >= sizeof part) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "the name of the copy is too long");
    }
    const bool there = lstat(to, &state) == 0;
    const int file = there ? -1 : open(part, O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0600);
    if (there || (file < 0 && errno == EEXIST)) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "",
                "%.200s or %.150s is there already; name a new file", to, part);
    }
    if (file < 0) {
        FAIL(ret_problem, PROBLEM_SYSTEM, "", "%.240s cannot be made: %s", part, strerror(errno));
    }
    (void)close(file);
    outcome result = copy_into(archive, part, ret_problem);
    if (result.good && link(part, to) != 0) {
        result = problem_set(ret_problem, PROBLEM_SYSTEM, "", __FILE__, __LINE__,
                "%.240s cannot be made: %s", to, strerror(errno));
    }
    (void)unlink(part);
    if (result.good && !host_sync_folder_of(to)) {
        FAIL(ret_problem, PROBLEM_SYSTEM, "", "%.240s may not be on the disk yet: %s", to,
                strerror(errno));
    }
    return result;
}

const struct archive_store archive_sqlite = {
        .shared = false,
        .connect = connect,
        .disconnect = disconnect,
        .version = version,
        .set_version = set_version,
        .run = run,
        .begin = begin,
        .ask = ask,
        .wait = wait_for,
        .commit = commit,
        .undo = undo,
        .each = each,
        .settle = settle,
        .check = check,
        .backup = backup,
};
