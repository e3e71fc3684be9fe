#include "archive/inside.h"

#include <stdio.h>

/* Each step leads from one version to the next and is run once, in the transaction that also counts the version up. A
 * step that has been delivered is never changed again: another is added. */
static const char *const steps[ARCHIVE_VERSION] = {
        "CREATE TABLE accounts ("
        "  id INTEGER PRIMARY KEY,"
        "  prefix INTEGER NOT NULL,"
        "  digits TEXT NOT NULL,"
        "  UNIQUE (digits, prefix)"
        ") STRICT;"
        "CREATE TABLE signals ("
        "  id INTEGER PRIMARY KEY,"
        "  account_id INTEGER NOT NULL REFERENCES accounts (id),"
        "  received_ms INTEGER NOT NULL,"
        "  sequence INTEGER NOT NULL CHECK (sequence BETWEEN 0 AND 9999),"
        "  sent_s INTEGER,"
        "  encrypted INTEGER NOT NULL CHECK (encrypted IN (0, 1)),"
        "  token TEXT NOT NULL,"
        "  data BLOB NOT NULL," /* a BLOB: bytes of a panel need not be text */
        "  digest INTEGER NOT NULL,"
        "  frame BLOB NOT NULL,"
        "  peer TEXT NOT NULL"
        ") STRICT;"
        "CREATE INDEX signals_by_time ON signals (received_ms);"
        "CREATE TABLE refusals ("
        "  id INTEGER PRIMARY KEY,"
        "  first_ms INTEGER NOT NULL,"
        "  last_ms INTEGER NOT NULL,"
        "  count INTEGER NOT NULL CHECK (count > 0),"
        "  reason TEXT NOT NULL,"
        "  peer TEXT NOT NULL,"
        "  account TEXT NOT NULL,"
        "  sample BLOB NOT NULL"
        ") STRICT;",
        "CREATE TABLE acts ("
        "  id INTEGER PRIMARY KEY,"
        "  site TEXT NOT NULL,"
        "  at_ms INTEGER NOT NULL,"
        "  act TEXT NOT NULL CHECK (act IN ('begin', 'now', 'hand')),"
        "  test TEXT NOT NULL,"
        "  by TEXT NOT NULL,"
        "  after_signal INTEGER NOT NULL"
        ") STRICT;",
};

static outcome version_of(struct archive *archive, int *ret_version, struct problem *ret_problem) {
    sqlite3_stmt *statement = NULL;
    int version = 0;
    TRY(archive_prepare(archive, "PRAGMA user_version", &statement, ret_problem));
    if (sqlite3_step(statement) == SQLITE_ROW) {
        version = sqlite3_column_int(statement, 0);
    }
    int code = sqlite3_finalize(statement);
    if (code != SQLITE_OK) {
        return archive_refused(archive, "read", ret_problem);
    }
    *ret_version = version;
    return outcome_good();
}

outcome archive_bring_up(struct archive *archive, bool write, struct problem *ret_problem) {
    int version = 0;
    TRY(version_of(archive, &version, ret_problem));
    if (version > ARCHIVE_VERSION) {
        FAIL(ret_problem, PROBLEM_UNREADABLE, "",
                "%.240s is of version %d; this program reads up to %d: use a newer one",
                archive->path, version, ARCHIVE_VERSION);
    }
    if (version == ARCHIVE_VERSION) {
        return outcome_good();
    }
    if (!write) {
        FAIL(ret_problem, PROBLEM_UNREADABLE, "",
                "%.200s is of the older version %d: open it once with lintel listen or import",
                archive->path, version);
    }
    TRY(archive_run(archive, "BEGIN IMMEDIATE", ret_problem));
    /* Somebody else may have been quicker. */
    outcome result = version_of(archive, &version, ret_problem);
    while (result.good && version < ARCHIVE_VERSION) {
        char count_up[64];
        result = archive_run(archive, steps[version], ret_problem);
        version++;
        (void)snprintf(count_up, sizeof count_up, "PRAGMA user_version = %d", version);
        if (result.good) {
            result = archive_run(archive, count_up, ret_problem);
        }
    }
    if (result.good) {
        result = archive_run(archive, "COMMIT", ret_problem);
    }
    if (!result.good) {
        archive_undo(archive);
    }
    return result;
}
