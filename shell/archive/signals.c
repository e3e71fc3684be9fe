#include "archive/inside.h"

#include <stdio.h>

static void bind_text(sqlite3_stmt *statement, int at, struct text text) {
    (void)sqlite3_bind_text(
            statement, at, text.start == NULL ? "" : text.start, (int)text.length, SQLITE_STATIC);
}

static void bind_bytes(sqlite3_stmt *statement, int at, struct text bytes) {
    (void)sqlite3_bind_blob(statement, at, bytes.start == NULL ? "" : bytes.start,
            (int)bytes.length, SQLITE_STATIC);
}

/** Runs a prepared statement that gives nothing, and readies it for the next time. */
static outcome run(struct archive *archive, sqlite3_stmt *statement, struct problem *ret_problem) {
    (void)sqlite3_step(statement);
    if (sqlite3_reset(statement) != SQLITE_OK) {
        return archive_refused(archive, "written", ret_problem);
    }
    return outcome_good();
}

/** Whether a prepared query gives a row; its first column. */
static outcome find(struct archive *archive, sqlite3_stmt *statement, bool *ret_found,
        int64_t *ret_value, struct problem *ret_problem) {
    *ret_found = sqlite3_step(statement) == SQLITE_ROW;
    *ret_value = *ret_found ? sqlite3_column_int64(statement, 0) : 0;
    if (sqlite3_reset(statement) != SQLITE_OK) {
        return archive_refused(archive, "read", ret_problem);
    }
    return outcome_good();
}

static outcome account_of(struct archive *archive, const struct archive_signal *signal,
        int64_t *ret_id, struct problem *ret_problem) {
    sqlite3_stmt *look = archive->statements[ARCHIVE_FIND_ACCOUNT];
    sqlite3_stmt *add = archive->statements[ARCHIVE_ADD_ACCOUNT];
    bool found = false;
    bind_text(look, 1, signal->account);
    (void)sqlite3_bind_int64(look, 2, signal->prefix);
    TRY(find(archive, look, &found, ret_id, ret_problem));
    if (!found) {
        bind_text(add, 1, signal->account);
        (void)sqlite3_bind_int64(add, 2, signal->prefix);
        TRY(run(archive, add, ret_problem));
        *ret_id = sqlite3_last_insert_rowid(archive->database);
    }
    return outcome_good();
}

static outcome add_signal(struct archive *archive, struct archive_signal *signal,
        int64_t account_id, struct problem *ret_problem) {
    sqlite3_stmt *add = archive->statements[ARCHIVE_ADD_SIGNAL];
    (void)sqlite3_bind_int64(add, 1, account_id);
    (void)sqlite3_bind_int64(add, 2, signal->received_ms);
    (void)sqlite3_bind_int(add, 3, signal->sequence);
    if (signal->stamped) {
        (void)sqlite3_bind_int64(add, 4, signal->sent_s);
    } else {
        (void)sqlite3_bind_null(add, 4);
    }
    (void)sqlite3_bind_int(add, 5, signal->encrypted);
    bind_text(add, 6, signal->token);
    bind_bytes(add, 7, signal->data);
    (void)sqlite3_bind_int64(add, 8, (int64_t)signal->digest);
    bind_bytes(add, 9, signal->frame);
    bind_text(add, 10, signal->peer);
    TRY(run(archive, add, ret_problem));
    signal->id = sqlite3_last_insert_rowid(archive->database);
    return outcome_good();
}

static outcome add_refusal(struct archive *archive, const struct archive_refusal *refusal,
        struct problem *ret_problem) {
    sqlite3_stmt *add = archive->statements[ARCHIVE_ADD_REFUSAL];
    (void)sqlite3_bind_int64(add, 1, refusal->first_ms);
    (void)sqlite3_bind_int64(add, 2, refusal->last_ms);
    (void)sqlite3_bind_int64(add, 3, refusal->count);
    bind_text(add, 4, refusal->reason);
    bind_text(add, 5, refusal->peer);
    bind_text(add, 6, refusal->account);
    bind_bytes(add, 7, refusal->sample);
    return run(archive, add, ret_problem);
}

outcome archive_settle(struct archive *archive, struct problem *ret_problem) {
    if (sqlite3_wal_checkpoint_v2(
                archive->database, NULL, SQLITE_CHECKPOINT_TRUNCATE, NULL, NULL) != SQLITE_OK) {
        archive->broken = true;
        return archive_refused(archive, "written", ret_problem);
    }
    return outcome_good();
}

/** Opens the file anew where an earlier call failed: what the library remembers of a disk that failed is not trusted.
 *  Signals of that call may stand in the log all the same without ever having been synced; so all of the log is written
 *  into the file and synced before anything is taken to be there. */
static outcome begin(struct archive *archive, struct problem *ret_problem) {
    if (archive->broken) {
        archive_disconnect(archive);
        TRY(archive_connect(archive, ret_problem));
        TRY(archive_settle(archive, ret_problem));
    }
    return archive_run(archive, "BEGIN IMMEDIATE", ret_problem);
}

/** Ends the transaction: to the disk where all went well, else as if nothing had been. */
static outcome end(struct archive *archive, outcome result, struct archive_signal *signals,
        size_t count, struct problem *ret_problem) {
    if (result.good) {
        result = archive_run(archive, "COMMIT", ret_problem);
    }
    if (!result.good) {
        archive_undo(archive);
        archive->broken = true;
        for (size_t i = 0; i < count; i++) {
            signals[i].id = 0;
            if (signals[i].received_ms + ARCHIVE_DOUBT_MS > archive->doubt_ms) {
                archive->doubt_ms = signals[i].received_ms + ARCHIVE_DOUBT_MS;
            }
        }
    }
    return result;
}

/** Whether it is there: with this instant (ARCHIVE_FIND_SIGNAL), or at least so late (ARCHIVE_FIND_LATELY). */
static outcome look_for(struct archive *archive, enum archive_statement how, int64_t received_ms,
        const struct archive_signal *signal, int64_t account_id, bool *ret_found, int64_t *ret_id,
        struct problem *ret_problem) {
    sqlite3_stmt *look = archive->statements[how];
    (void)sqlite3_bind_int64(look, 1, received_ms);
    (void)sqlite3_bind_int64(look, 2, account_id);
    (void)sqlite3_bind_int(look, 3, signal->sequence);
    (void)sqlite3_bind_int64(look, 4, (int64_t)signal->digest);
    return find(archive, look, ret_found, ret_id, ret_problem);
}

static outcome append_one(
        struct archive *archive, struct archive_signal *signal, struct problem *ret_problem) {
    int64_t account_id = 0;
    bool there = false;
    TRY(account_of(archive, signal, &account_id, ret_problem));
    if (signal->received_ms <= archive->doubt_ms) {
        TRY(look_for(archive, ARCHIVE_FIND_LATELY, signal->received_ms - ARCHIVE_DOUBT_MS, signal,
                account_id, &there, &signal->id, ret_problem));
    }
    return there ? outcome_good() : add_signal(archive, signal, account_id, ret_problem);
}

/* Whoever reaches the port can be refused as often as he likes: that must not fill the disk. */
static const char only_the_last_refusals[] =
        "DELETE FROM refusals WHERE id <= (SELECT MAX(id) FROM refusals) - 100000";

outcome archive_append(struct archive *archive, struct archive_signal *signals, size_t count,
        const struct archive_refusal *refusals, size_t refusal_count, struct problem *ret_problem) {
    outcome result = begin(archive, ret_problem);
    for (size_t i = 0; result.good && i < count; i++) {
        result = append_one(archive, &signals[i], ret_problem);
    }
    for (size_t i = 0; result.good && i < refusal_count; i++) {
        result = add_refusal(archive, &refusals[i], ret_problem);
    }
    if (result.good && refusal_count > 0) {
        result = archive_run(archive, only_the_last_refusals, ret_problem);
    }
    return end(archive, result, signals, count, ret_problem);
}

static outcome import_one(struct archive *archive, struct archive_signal *signal, size_t *ret_added,
        struct problem *ret_problem) {
    int64_t account_id = 0;
    int64_t one = 0;
    bool found = false;
    TRY(account_of(archive, signal, &account_id, ret_problem));
    TRY(look_for(archive, ARCHIVE_FIND_SIGNAL, signal->received_ms, signal, account_id, &found,
            &one, ret_problem));
    if (found) {
        return outcome_good();
    }
    (*ret_added)++;
    return add_signal(archive, signal, account_id, ret_problem);
}

outcome archive_import(struct archive *archive, struct archive_signal *signals, size_t count,
        size_t *ret_added, struct problem *ret_problem) {
    size_t added = 0;
    outcome result = begin(archive, ret_problem);
    for (size_t i = 0; result.good && i < count; i++) {
        result = import_one(archive, &signals[i], &added, ret_problem);
    }
    result = end(archive, result, signals, count, ret_problem);
    *ret_added = result.good ? added : 0;
    return result;
}

static struct text text_at(sqlite3_stmt *statement, int column) {
    const char *start = sqlite3_column_blob(statement, column);
    return (struct text){
            start == NULL ? "" : start, (size_t)sqlite3_column_bytes(statement, column)};
}

static struct archive_signal signal_at(sqlite3_stmt *row) {
    return (struct archive_signal){.id = sqlite3_column_int64(row, 0),
            .received_ms = sqlite3_column_int64(row, 1),
            .prefix = (uint32_t)sqlite3_column_int64(row, 2),
            .account = text_at(row, 3),
            .sequence = (uint16_t)sqlite3_column_int(row, 4),
            .stamped = sqlite3_column_type(row, 5) != SQLITE_NULL,
            .sent_s = sqlite3_column_int64(row, 5),
            .encrypted = sqlite3_column_int(row, 6) != 0,
            .token = text_at(row, 7),
            .data = text_at(row, 8),
            .digest = (uint64_t)sqlite3_column_int64(row, 9),
            .frame = text_at(row, 10),
            .peer = text_at(row, 11)};
}

outcome archive_each(struct archive *archive, struct archive_query query,
        bool (*take)(void *context, const struct archive_signal *signal), void *context,
        struct problem *ret_problem) {
    char sql[512];
    sqlite3_stmt *statement = NULL;
    (void)snprintf(sql, sizeof sql,
            "SELECT s.id, received_ms, prefix, digits, sequence, sent_s, encrypted, token, data,"
            " digest, frame, peer FROM signals s JOIN accounts a ON a.id = s.account_id"
            " WHERE s.id > ?1 AND s.id <= ?6 AND received_ms >= ?2%s ORDER BY s.id%s LIMIT ?5",
            query.account.length > 0 ? " AND digits = ?3 AND prefix = ?4" : "",
            query.newest_first ? " DESC" : "");
    TRY(archive_prepare(archive, sql, &statement, ret_problem));
    (void)sqlite3_bind_int64(statement, 1, query.after_id);
    (void)sqlite3_bind_int64(statement, 2, query.since_ms);
    if (query.account.length > 0) {
        bind_text(statement, 3, query.account);
        (void)sqlite3_bind_int64(statement, 4, query.prefix);
    }
    (void)sqlite3_bind_int64(statement, 5, query.most == 0 ? -1 : (int64_t)query.most);
    (void)sqlite3_bind_int64(statement, 6, query.up_to_id == 0 ? INT64_MAX : query.up_to_id);
    bool more = true;
    while (more && sqlite3_step(statement) == SQLITE_ROW) {
        const struct archive_signal signal = signal_at(statement);
        more = take(context, &signal);
    }
    if (sqlite3_finalize(statement) != SQLITE_OK) {
        return archive_refused(archive, "read", ret_problem);
    }
    return outcome_good();
}

outcome archive_each_refusal(struct archive *archive,
        bool (*take)(void *context, const struct archive_refusal *refusal), void *context,
        struct problem *ret_problem) {
    sqlite3_stmt *row = NULL;
    TRY(archive_prepare(archive,
            "SELECT first_ms, last_ms, count, reason, peer, account, sample FROM refusals"
            " ORDER BY id",
            &row, ret_problem));
    bool more = true;
    while (more && sqlite3_step(row) == SQLITE_ROW) {
        const struct archive_refusal refusal = {.first_ms = sqlite3_column_int64(row, 0),
                .last_ms = sqlite3_column_int64(row, 1),
                .count = sqlite3_column_int64(row, 2),
                .reason = text_at(row, 3),
                .peer = text_at(row, 4),
                .account = text_at(row, 5),
                .sample = text_at(row, 6)};
        more = take(context, &refusal);
    }
    if (sqlite3_finalize(row) != SQLITE_OK) {
        return archive_refused(archive, "read", ret_problem);
    }
    return outcome_good();
}
