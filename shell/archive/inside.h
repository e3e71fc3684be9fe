/* What the files of the archive share; nobody else includes it.
 *
 * What is stored and how it is asked for stands once, in SQL that both stores take (statements.c, tables.c), and
 * what is done with it once (signals.c, acts.c). Between that and a database is one table of functions. */
#ifndef LINTEL_ARCHIVE_INSIDE_H
#define LINTEL_ARCHIVE_INSIDE_H

#include "archive/archive.h"

#include <limits.h>

/** Statements that are made once and used over and over; each gives one row of one number, or none. */
enum archive_statement {
    ARCHIVE_LAST_SIGNAL,
    ARCHIVE_FIND_ACCOUNT,
    ARCHIVE_ADD_ACCOUNT,
    ARCHIVE_ADD_SIGNAL,
    ARCHIVE_ADD_NEW_SIGNAL, /* nothing, and no row, where it is there already */
    ARCHIVE_FIND_SIGNAL,
    ARCHIVE_IMPORT_SIGNAL,      /* likewise */
    ARCHIVE_ADD_DOUBTED_SIGNAL, /* the same, among the signals between two */
    ARCHIVE_FIND_DOUBTED_SIGNAL,
    ARCHIVE_COUNT_INSTANT, /* a thousand at most */
    ARCHIVE_LAST_AHEAD,    /* of those received after an instant */
    ARCHIVE_ADD_REFUSAL,
    ARCHIVE_FORGET_REFUSALS,
    ARCHIVE_ADD_ACT,
    ARCHIVE_STATEMENT_COUNT
};

extern const char *const archive_statements[ARCHIVE_STATEMENT_COUNT];

enum archive_kind { ARCHIVE_NUMBER, ARCHIVE_TEXT, ARCHIVE_BYTES };

/** What is bound to a statement or comes back from one. Texts borrow. */
struct archive_value {
    enum archive_kind kind;
    bool none;
    int64_t number;
    struct text text;
};

enum { ARCHIVE_VALUES_MOST = 16 };

typedef bool (*archive_take_row)(void *context, const struct archive_value *row);

/** A database. Each call fails as the archive's own do, the text naming it. */
struct archive_store {
    /* Several write at once, and a panel may say to one of them what another has stored already. */
    bool shared;

    /** Opens archive->path, made where archive->use says so, up to the tables; disconnect is fine after a failure. */
    outcome (*connect)(struct archive *archive, struct problem *ret_problem);
    void (*disconnect)(struct archive *archive);

    /** Of the tables; 0 where there are none yet. */
    outcome (*version)(struct archive *archive, int *ret_version, struct problem *ret_problem);
    outcome (*set_version)(struct archive *archive, int version, struct problem *ret_problem);

    /** Runs statements that give nothing, as tables.c has them. */
    outcome (*run)(struct archive *archive, const char *sql, struct problem *ret_problem);

    /** Begins a transaction, alone among all writers: from here to its end nobody else stores anything. */
    outcome (*begin)(struct archive *archive, struct problem *ret_problem);

    /** Asks a statement. What it gives is in *ret_number (NULL: not wanted; left alone where it gives no row), and a
     *  failure told, by the next wait or commit at the latest. */
    outcome (*ask)(struct archive *archive, enum archive_statement statement,
            const struct archive_value *values, size_t count, int64_t *ret_number,
            struct problem *ret_problem);
    outcome (*wait)(struct archive *archive, struct problem *ret_problem);

    /** To the disk, or a failure. After one it may be there all the same. */
    outcome (*commit)(struct archive *archive, struct problem *ret_problem);

    /** Takes back what the transaction did; where none runs, nothing. */
    void (*undo)(struct archive *archive);

    /** Outside of a transaction: hands the rows to `take` until it gives false. */
    outcome (*each)(struct archive *archive, const char *sql, const struct archive_value *values,
            size_t count, archive_take_row take, void *context, struct problem *ret_problem);

    outcome (*settle)(struct archive *archive, struct problem *ret_problem);
    outcome (*check)(struct archive *archive, struct problem *ret_problem);
    outcome (*backup)(struct archive *archive, const char *to, struct problem *ret_problem);
};

extern const struct archive_store archive_sqlite;
extern const struct archive_store archive_postgres;

enum { ARCHIVE_KNOWN_ACCOUNTS = 16384 };

/** An account and its id, as long as it is the last that fell on its place. */
struct archive_known {
    int64_t id; /* 0: nobody */
    uint32_t prefix;
    uint8_t length;
    char digits[16];
};

/** handle: the store's own. path: of the file; of a server what may be printed, without user and password. address:
 *  how a server is reached. broken: an earlier call failed; it is opened anew before the next. again: the last
 *  failure was that another transaction was in the way; held: it could not begin, as another writes. doubt_ms: what
 *  comes up to then, by the steady clock, may be there already, though storing it failed, and then has an id after
 *  doubt_after, up to doubt_up_to. failed: nothing was stored since; failed_after: where the first of the last failures
 *  in a row began. last_signal: the highest id, within a transaction; begun_after: where it began, -1: it did not.
 *  ahead_ms: by how much the calendar's clock is ahead of the steady one, once ahead_known; repeats_after: on a server,
 *  up to this signal the calendar's time says nothing, as it was set back since; back_up_to: in a file, up to this one
 *  it may not. */
struct archive {
    const struct archive_store *store;
    void *handle;
    enum archive_use use;
    bool broken;
    bool again;
    bool held;
    bool failed;
    int64_t failed_after;
    int64_t doubt_ms;
    int64_t doubt_after;
    int64_t doubt_up_to;
    int64_t last_signal;
    int64_t begun_after;
    bool ahead_known;
    int64_t ahead_ms;
    int64_t repeats_after;
    int64_t back_up_to;
    char *address;
    struct archive_known known[ARCHIVE_KNOWN_ACCOUNTS];
    char path[PATH_MAX];
};

static inline struct archive_value archive_number(int64_t number) {
    return (struct archive_value){.kind = ARCHIVE_NUMBER, .number = number};
}

static inline struct archive_value archive_text(struct text text) {
    return (struct archive_value){.kind = ARCHIVE_TEXT, .text = text};
}

static inline struct archive_value archive_bytes(struct text text) {
    return (struct archive_value){.kind = ARCHIVE_BYTES, .text = text};
}

/** Opens archive->path with its tables as they are to be. */
outcome archive_connect(struct archive *archive, struct problem *ret_problem) MUST_CHECK;
void archive_disconnect(struct archive *archive);

/** Makes the tables, or brings them up to this version. */
outcome archive_bring_up(struct archive *archive, struct problem *ret_problem) MUST_CHECK;

/** Whether what failed is to be done again, since only another's transaction was in the way: then after a moment. */
bool archive_once_more(struct archive *archive, int tries);

/** Does work in one transaction, brought to the disk: all of it or nothing. Once more where another's transaction
 *  was in the way, so work must begin afresh each time. After a failure the next call opens the archive anew. */
outcome archive_transact(struct archive *archive,
        outcome (*work)(struct archive *archive, void *context, struct problem *ret_problem),
        void *context, struct problem *ret_problem) MUST_CHECK;

/** Hands rows to `take` until it gives false; opens the archive anew first where an earlier call failed. */
outcome archive_rows(struct archive *archive, const char *sql, const struct archive_value *values,
        size_t count, archive_take_row take, void *context, struct problem *ret_problem) MUST_CHECK;

#endif
