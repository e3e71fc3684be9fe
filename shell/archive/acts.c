#include "archive/inside.h"

static void bind_text(sqlite3_stmt *statement, int at, struct text text) {
    (void)sqlite3_bind_text(
            statement, at, text.start == NULL ? "" : text.start, (int)text.length, SQLITE_STATIC);
}

outcome archive_add_act(
        struct archive *archive, struct archive_act *act, struct problem *ret_problem) {
    sqlite3_stmt *add = NULL;
    TRY(archive_prepare(archive,
            "INSERT INTO acts (site, at_ms, act, test, by, after_signal) VALUES (?1, ?2, ?3, ?4, "
            "?5,"
            " (SELECT COALESCE(MAX(id), 0) FROM signals))",
            &add, ret_problem));
    bind_text(add, 1, act->site);
    (void)sqlite3_bind_int64(add, 2, act->at_ms);
    bind_text(add, 3, act->act);
    bind_text(add, 4, act->test);
    bind_text(add, 5, act->by);
    (void)sqlite3_step(add);
    if (sqlite3_finalize(add) != SQLITE_OK) {
        return archive_refused(archive, "written", ret_problem);
    }
    act->id = sqlite3_last_insert_rowid(archive->database);
    return outcome_good();
}

static struct text text_at(sqlite3_stmt *statement, int column) {
    const char *start = (const char *)sqlite3_column_text(statement, column);
    return (struct text){
            start == NULL ? "" : start, (size_t)sqlite3_column_bytes(statement, column)};
}

outcome archive_each_act(struct archive *archive, struct text site, int64_t after_id,
        bool (*take)(void *context, const struct archive_act *act), void *context,
        struct problem *ret_problem) {
    sqlite3_stmt *row = NULL;
    TRY(archive_prepare(archive,
            "SELECT id, at_ms, act, test, by, after_signal FROM acts WHERE site = ?1 AND id > ?2"
            " ORDER BY id",
            &row, ret_problem));
    bind_text(row, 1, site);
    (void)sqlite3_bind_int64(row, 2, after_id);
    bool more = true;
    while (more && sqlite3_step(row) == SQLITE_ROW) {
        const struct archive_act act = {.id = sqlite3_column_int64(row, 0),
                .site = site,
                .at_ms = sqlite3_column_int64(row, 1),
                .act = text_at(row, 2),
                .test = text_at(row, 3),
                .by = text_at(row, 4),
                .after_signal = sqlite3_column_int64(row, 5)};
        more = take(context, &act);
    }
    if (sqlite3_finalize(row) != SQLITE_OK) {
        return archive_refused(archive, "read", ret_problem);
    }
    return outcome_good();
}
