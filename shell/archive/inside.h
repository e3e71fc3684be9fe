/* What the files of the archive share; nobody else includes it. */
#ifndef LINTEL_ARCHIVE_INSIDE_H
#define LINTEL_ARCHIVE_INSIDE_H

#include "archive/archive.h"

#include <limits.h>
#include <sqlite3.h>

/** Statements that are made once and used over and over. */
enum archive_statement {
    ARCHIVE_FIND_ACCOUNT,
    ARCHIVE_ADD_ACCOUNT,
    ARCHIVE_ADD_SIGNAL,
    ARCHIVE_ADD_REFUSAL,
    ARCHIVE_FIND_SIGNAL,
    ARCHIVE_FIND_LATELY,
    ARCHIVE_STATEMENT_COUNT
};

/** broken: an earlier call failed; the file is opened anew before the next. doubt_ms: what is received up to then may
 *  be there already, though storing it failed. */
struct archive {
    sqlite3 *database;
    sqlite3_stmt *statements[ARCHIVE_STATEMENT_COUNT];
    bool write;
    bool broken;
    int64_t doubt_ms;
    char path[PATH_MAX];
};

/** Fails with what the database says. verb: what was to be done with the file. */
outcome archive_refused(struct archive *archive, const char *verb, struct problem *ret_problem);

/** Runs SQL that gives nothing. */
outcome archive_run(struct archive *archive, const char *sql, struct problem *ret_problem)
        MUST_CHECK;

/** Makes a statement, to be finalized. */
outcome archive_prepare(struct archive *archive, const char *sql, sqlite3_stmt **ret_statement,
        struct problem *ret_problem) MUST_CHECK;

/** Takes back what the transaction did; where none runs, nothing. */
void archive_undo(struct archive *archive);

/** Makes the tables, or brings them up to this version. */
outcome archive_bring_up(struct archive *archive, bool write, struct problem *ret_problem)
        MUST_CHECK;

/** Opens archive->path; fills database and statements. */
outcome archive_connect(struct archive *archive, struct problem *ret_problem) MUST_CHECK;
void archive_disconnect(struct archive *archive);

#endif
