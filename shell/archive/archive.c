#include "archive/inside.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

enum { APPLICATION = 0x4C4E544C }; /* "LNTL": what kind of file it is, in its header */

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

outcome archive_refused(struct archive *archive, const char *verb, struct problem *ret_problem) {
    int code = archive->database == NULL ? SQLITE_NOMEM : sqlite3_errcode(archive->database);
    const char *words = sqlite3_errstr(code);
    for (size_t i = 0; i < sizeof failures / sizeof failures[0]; i++) {
        if (failures[i].code == (code & 0xFF)) {
            FAIL(ret_problem, failures[i].kind, "", "%.200s cannot be %s: %s%s", archive->path,
                    verb, words, failures[i].advice);
        }
    }
    FAIL(ret_problem, PROBLEM_SYSTEM, "", "%.200s cannot be %s: %s", archive->path, verb, words);
}

outcome archive_run(struct archive *archive, const char *sql, struct problem *ret_problem) {
    if (sqlite3_exec(archive->database, sql, NULL, NULL, NULL) != SQLITE_OK) {
        return archive_refused(archive, archive->write ? "written" : "read", ret_problem);
    }
    return outcome_good();
}

outcome archive_prepare(struct archive *archive, const char *sql, sqlite3_stmt **ret_statement,
        struct problem *ret_problem) {
    if (sqlite3_prepare_v2(archive->database, sql, -1, ret_statement, NULL) != SQLITE_OK) {
        return archive_refused(archive, "read", ret_problem);
    }
    return outcome_good();
}

void archive_undo(struct archive *archive) {
    if (archive->database != NULL && sqlite3_get_autocommit(archive->database) == 0) {
        (void)sqlite3_exec(archive->database, "ROLLBACK", NULL, NULL, NULL);
    }
}

static const char *const statements[ARCHIVE_STATEMENT_COUNT] = {
        [ARCHIVE_FIND_ACCOUNT] = "SELECT id FROM accounts WHERE digits = ?1 AND prefix = ?2",
        [ARCHIVE_ADD_ACCOUNT] = "INSERT INTO accounts (digits, prefix) VALUES (?1, ?2)",
        [ARCHIVE_ADD_SIGNAL] =
                "INSERT INTO signals (account_id, received_ms, sequence, sent_s, encrypted, token,"
                " data, digest, frame, peer) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10)",
        [ARCHIVE_ADD_REFUSAL] =
                "INSERT INTO refusals (first_ms, last_ms, count, reason, peer, account, sample)"
                " VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)",
        [ARCHIVE_FIND_SIGNAL] = "SELECT 1 FROM signals WHERE received_ms = ?1 AND account_id = ?2"
                                " AND sequence = ?3 AND digest = ?4",
        [ARCHIVE_FIND_LATELY] = "SELECT id FROM signals WHERE received_ms >= ?1 AND account_id = ?2"
                                " AND sequence = ?3 AND digest = ?4",
};

/** In a file of its own kind, or an empty one. */
static outcome must_be_ours(struct archive *archive, struct problem *ret_problem) {
    sqlite3_stmt *statement = NULL;
    int application = 0;
    bool any = false;
    TRY(archive_prepare(archive,
            "SELECT (SELECT application_id FROM pragma_application_id),"
            " EXISTS (SELECT 1 FROM sqlite_schema)",
            &statement, ret_problem));
    if (sqlite3_step(statement) == SQLITE_ROW) {
        application = sqlite3_column_int(statement, 0);
        any = sqlite3_column_int(statement, 1) != 0;
    }
    if (sqlite3_finalize(statement) != SQLITE_OK) {
        return archive_refused(archive, "read", ret_problem);
    }
    if (application != APPLICATION && (any || !archive->write)) {
        FAIL(ret_problem, PROBLEM_UNREADABLE, "", "%.240s is a database, but no archive of Lintel",
                archive->path);
    }
    if (application != APPLICATION) {
        char sql[64];
        (void)snprintf(sql, sizeof sql, "PRAGMA application_id = %d", APPLICATION);
        TRY(archive_run(archive, sql, ret_problem));
    }
    return outcome_good();
}

/* synchronous FULL: in WAL mode only this brings each commit to the disk; NORMAL would lose the last ones with the
 * power, after they were acknowledged. */
static const char writing_ways[] = "PRAGMA journal_mode = WAL;"
                                   "PRAGMA synchronous = FULL;"
                                   "PRAGMA foreign_keys = ON;"
                                   "PRAGMA wal_autocheckpoint = 4000;"
                                   "PRAGMA journal_size_limit = 67108864";

outcome archive_connect(struct archive *archive, struct problem *ret_problem) {
    int how = archive->write ? SQLITE_OPEN_READWRITE : SQLITE_OPEN_READONLY;
    if (sqlite3_open_v2(archive->path, &archive->database, how | SQLITE_OPEN_NOMUTEX, NULL) !=
            SQLITE_OK) {
        return archive_refused(archive, "opened", ret_problem);
    }
    (void)sqlite3_extended_result_codes(archive->database, 1);
    (void)sqlite3_busy_timeout(archive->database, ARCHIVE_WAIT_MS);
    TRY(must_be_ours(archive, ret_problem));
    if (archive->write) {
        TRY(archive_run(archive, writing_ways, ret_problem));
    }
    TRY(archive_bring_up(archive, archive->write, ret_problem));
    for (size_t i = 0; i < ARCHIVE_STATEMENT_COUNT; i++) {
        TRY(archive_prepare(archive, statements[i], &archive->statements[i], ret_problem));
    }
    archive->broken = false;
    return outcome_good();
}

void archive_disconnect(struct archive *archive) {
    for (size_t i = 0; i < ARCHIVE_STATEMENT_COUNT; i++) {
        (void)sqlite3_finalize(archive->statements[i]);
        archive->statements[i] = NULL;
    }
    (void)sqlite3_close(archive->database);
    archive->database = NULL;
}

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

outcome archive_open(const char *path, enum archive_use use, struct archive **ret_archive,
        struct problem *ret_problem) {
    struct stat state;
    if (strlen(path) >= PATH_MAX) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "the name of the archive is too long");
    }
    bool there = stat(path, &state) == 0;
    if (there && !S_ISREG(state.st_mode)) {
        FAIL(ret_problem, PROBLEM_SYSTEM, "", "%.240s is no file; an archive is one", path);
    }
    if (!there && use != ARCHIVE_NEW) {
        FAIL(ret_problem, PROBLEM_MISSING, "", "%.240s: there is no such archive", path);
    }
    if (!there) {
        TRY(make_file(path, ret_problem));
    }
    struct archive *archive = calloc(1, sizeof *archive);
    if (archive == NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory to open an archive");
    }
    archive->write = use != ARCHIVE_READ;
    (void)snprintf(archive->path, sizeof archive->path, "%s", path);
    outcome result = archive_connect(archive, ret_problem);
    if (!result.good) {
        archive_close(archive);
        return result;
    }
    *ret_archive = archive;
    return result;
}

void archive_close(struct archive *archive) {
    if (archive != NULL) {
        archive_disconnect(archive);
        free(archive);
    }
}

outcome archive_check(struct archive *archive, struct problem *ret_problem) {
    static const char *const looks[] = {"PRAGMA integrity_check(1)", "PRAGMA foreign_key_check"};
    for (size_t i = 0; i < sizeof looks / sizeof looks[0]; i++) {
        sqlite3_stmt *statement = NULL;
        struct problem wrong = {0};
        TRY(archive_prepare(archive, looks[i], &statement, ret_problem));
        if (sqlite3_step(statement) == SQLITE_ROW) {
            const char *said = (const char *)sqlite3_column_text(statement, 0);
            if (said == NULL || strcmp(said, "ok") != 0) {
                wrong.kind = PROBLEM_UNREADABLE;
                (void)snprintf(wrong.text, sizeof wrong.text, "%.250s",
                        said == NULL ? "something refers to what is not there" : said);
            }
        }
        if (sqlite3_finalize(statement) != SQLITE_OK) {
            return archive_refused(archive, "read", ret_problem);
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

static outcome copy_into(struct archive *archive, const char *part, struct problem *ret_problem) {
    sqlite3_stmt *statement = NULL;
    TRY(archive_prepare(archive, "VACUUM INTO ?1", &statement, ret_problem));
    (void)sqlite3_bind_text(statement, 1, part, -1, SQLITE_STATIC);
    (void)sqlite3_step(statement);
    if (sqlite3_finalize(statement) != SQLITE_OK) {
        return archive_refused(archive, "copied", ret_problem);
    }
    if (!to_disk(part, O_RDONLY)) {
        FAIL(ret_problem, PROBLEM_SYSTEM, "", "%.240s cannot be brought to the disk: %s", part,
                strerror(errno));
    }
    return outcome_good();
}

/* Written beside under another name first, so that a copy that has its name is whole: the database alone does not bring
 * a copy to the disk. */
outcome archive_backup(struct archive *archive, const char *to, struct problem *ret_problem) {
    char part[PATH_MAX];
    struct stat state;
    int length = snprintf(part, sizeof part, "%s.part", to);
    if (length < 0 || (size_t)length >= sizeof part) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "the name of the copy is too long");
    }
    if (lstat(to, &state) == 0 || lstat(part, &state) == 0) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "",
                "%.200s or %.150s is there already; name a new file", to, part);
    }
    mode_t before = umask(S_IRWXG | S_IRWXO);
    outcome result = copy_into(archive, part, ret_problem);
    (void)umask(before);
    if (result.good && link(part, to) != 0) {
        result = problem_set(ret_problem, PROBLEM_SYSTEM, "", __FILE__, __LINE__,
                "%.240s cannot be made: %s", to, strerror(errno));
    }
    (void)unlink(part);
    return result;
}
