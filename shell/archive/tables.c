#include "archive/inside.h"

#include <stdio.h>

/* Each step leads from one version to the next and is run once, in the transaction that also counts the version up.
 * A step that has been delivered is never changed again: another is added. Written for SQLite; the other store puts
 * its own words for INTEGER, BLOB and STRICT (postgres.c). */
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
        /* A tick can be taken back, a test put off. */
        "ALTER TABLE acts RENAME TO acts_before;"
        "CREATE TABLE acts ("
        "  id INTEGER PRIMARY KEY,"
        "  site TEXT NOT NULL,"
        "  at_ms INTEGER NOT NULL,"
        "  act TEXT NOT NULL CHECK (act IN ('begin', 'now', 'hand', 'back', 'later')),"
        "  test TEXT NOT NULL,"
        "  by TEXT NOT NULL,"
        "  after_signal INTEGER NOT NULL"
        ") STRICT;"
        "INSERT INTO acts SELECT * FROM acts_before;"
        "DROP TABLE acts_before;",
        /* A question can be answered with no. */
        "ALTER TABLE acts RENAME TO acts_before;"
        "CREATE TABLE acts ("
        "  id INTEGER PRIMARY KEY,"
        "  site TEXT NOT NULL,"
        "  at_ms INTEGER NOT NULL,"
        "  act TEXT NOT NULL CHECK (act IN ('begin', 'now', 'hand', 'no', 'back', 'later')),"
        "  test TEXT NOT NULL,"
        "  by TEXT NOT NULL,"
        "  after_signal INTEGER NOT NULL"
        ") STRICT;"
        "INSERT INTO acts SELECT * FROM acts_before;"
        "DROP TABLE acts_before;",
        /* Nothing but what is done where several write. */
        "",
        /* Whether it was brought in by hand. Of those that are there already nobody knows any more. No CHECK: for one a
         * server reads the whole table while nobody else may, and it is ours alone to fill (statements.c). */
        "ALTER TABLE signals ADD COLUMN imported INTEGER NOT NULL DEFAULT 0;",
};

/* Where several write, each signal is looked for before it is stored: by what it says, as one account may have ever so
 * many of some minutes, or in a file of one instant. */
static const char *const steps_where_shared[ARCHIVE_VERSION] = {
        "CREATE INDEX signals_by_account ON signals (account_id, received_ms);",
        "",
        "",
        "",
        /* of a large archive it is made by hand before: it would take longer than a server is waited for */
        ("DROP INDEX IF EXISTS signals_by_account;"
         "CREATE INDEX IF NOT EXISTS signals_by_what ON signals (account_id, digest, "
         "received_ms);"),
        "",
};

static outcome climb(struct archive *archive, int version, struct problem *ret_problem) {
    const struct archive_store *store = archive->store;
    for (; version < ARCHIVE_VERSION; version++) {
        TRY(store->run(archive, steps[version], ret_problem));
        if (store->shared) {
            TRY(store->run(archive, steps_where_shared[version], ret_problem));
        }
    }
    return store->set_version(archive, ARCHIVE_VERSION, ret_problem);
}

static outcome climb_alone(struct archive *archive, struct problem *ret_problem) {
    const struct archive_store *store = archive->store;
    int version = 0;
    TRY(store->begin(archive, ret_problem));
    /* Somebody else may have been quicker. */
    TRY(store->version(archive, &version, ret_problem));
    TRY(climb(archive, version, ret_problem));
    return store->commit(archive, ret_problem);
}

outcome archive_bring_up(struct archive *archive, struct problem *ret_problem) {
    const struct archive_store *store = archive->store;
    int version = 0;
    TRY(store->version(archive, &version, ret_problem));
    if (version > ARCHIVE_VERSION) {
        FAIL(ret_problem, PROBLEM_UNREADABLE, "",
                "%.240s is of version %d; this program reads up to %d: use a newer one",
                archive->path, version, ARCHIVE_VERSION);
    }
    if (version == ARCHIVE_VERSION) {
        return outcome_good();
    }
    if (archive->use == ARCHIVE_READ) {
        FAIL(ret_problem, PROBLEM_UNREADABLE, "",
                "%.200s is of the older version %d: open it once with lintel listen or import",
                archive->path, version);
    }
    for (int tries = 1;; tries++) {
        struct problem problem = {0};
        outcome result = climb_alone(archive, &problem);
        if (result.good) {
            return result;
        }
        store->undo(archive);
        if (archive->handle == NULL || !archive_once_more(archive, tries)) {
            if (ret_problem != NULL) {
                *ret_problem = problem;
            }
            return result;
        }
    }
}
