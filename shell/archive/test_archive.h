/* An archive on the bench of its tests: a file in a folder of its own, or, with LINTEL_ARCHIVE set to the address of a
 * database, there. */
#ifndef LINTEL_ARCHIVE_TEST_ARCHIVE_H
#define LINTEL_ARCHIVE_TEST_ARCHIVE_H

#include "archive/archive.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>
#include <libpq-fe.h>
#include <sqlite3.h>

struct bench {
    bool server;
    char folder[64];
    char path[256];
};

/** Runs SQL on the file or server, past the archive. */
static inline void by_hand(struct bench *bench, const char *sql) {
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

static inline int begin(void **state) {
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

static inline int end(void **state) {
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

static inline struct archive_signal usual(int number) {
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

static inline struct archive *opened(struct bench *bench, enum archive_use use) {
    struct archive *archive = NULL;
    struct problem problem = {0};
    if (!archive_open(bench->path, use, &archive, &problem).good) {
        fail_msg("%s", problem.text);
    }
    return archive;
}

static inline bool count_one(void *context, const struct archive_signal *signal) {
    (void)signal;
    (*(size_t *)context)++;
    return true;
}

static inline size_t count_in(struct archive *archive, struct archive_query query) {
    size_t count = 0;
    assert_true(archive_each(archive, query, count_one, &count, NULL).good);
    return count;
}

static inline void refuse(
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

#define CASE(name) cmocka_unit_test_setup_teardown(name, begin, end)

#endif
