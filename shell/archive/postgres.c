/* A PostgreSQL server, by libpq. All that is asked goes out without waiting for what was asked before (pipeline
 * mode), so that a group of signals costs two journeys to the server, however many they are. Nothing here waits
 * without end. */
#include "archive/inside.h"

#include <errno.h>
#include <libpq-fe.h>
#include <poll.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

enum {
    ANSWER_MS = 10000, /* for all that is under way */
    PENDING_MOST = 4096,
    TYPE_BYTES = 17, /* numbers of types, in pg_type of every server */
    TYPE_NUMBER = 20,
    TYPE_TEXT = 25,
};

/** What is to become of an answer; all may be NULL. */
struct pending {
    int64_t *ret_number;
    PGresult **ret_result;
};

/** lost: it did not answer in time, or the connection is gone. */
struct server {
    PGconn *connection;
    bool lost;
    bool prepared[ARCHIVE_STATEMENT_COUNT];
    size_t pending_count;
    struct pending pending[PENDING_MOST];
};

/** Kinds of failure by the first letters of the SQLSTATE (PostgreSQL 15, appendix A), and what to do. */
static const struct {
    const char *begins;
    enum problem_kind kind;
    const char *advice;
} failures[] = {
        {"08001", PROBLEM_SYSTEM, ": look whether the server runs, with this database and user"},
        {"08", PROBLEM_SYSTEM, ": look whether the server runs"},
        {"25006", PROBLEM_SYSTEM, ": it only reads; name the server that takes what is written"},
        {"28", PROBLEM_SYSTEM, ": look at the user, and at the password in ~/.pgpass"},
        {"3D000", PROBLEM_MISSING, ": make the database first (createdb)"},
        {"40", PROBLEM_SYSTEM, ": others were in the way all the time"},
        {"42501", PROBLEM_SYSTEM, ": the user needs the right to it"},
        {"53100", PROBLEM_SYSTEM, ": make room on the server's disk"},
        {"53300", PROBLEM_SYSTEM, ": too many are connected to it"},
        {"55P03", PROBLEM_SYSTEM, ": another program holds it; wait, or end that one"},
        {"57P", PROBLEM_SYSTEM, ": it is being stopped or started"},
        {"XX", PROBLEM_UNREADABLE, ": it is damaged; go back to a backup"},
};

static outcome say(struct archive *archive, const char *verb, const char *state, const char *words,
        struct problem *ret_problem) {
    const int length = (int)strcspn(words, "\n");
    archive->again = archive->again || strcmp(state, "40001") == 0 || strcmp(state, "40P01") == 0;
    for (size_t i = 0; i < sizeof failures / sizeof failures[0]; i++) {
        if (strncmp(state, failures[i].begins, strlen(failures[i].begins)) == 0) {
            FAIL(ret_problem, failures[i].kind, "", "%.100s cannot be %s: %.*s%s", archive->path,
                    verb, length < 200 ? length : 200, words, failures[i].advice);
        }
    }
    FAIL(ret_problem, PROBLEM_SYSTEM, "", "%.100s cannot be %s: %.*s", archive->path, verb,
            length < 250 ? length : 250, words);
}

static const char *verb_of(const struct archive *archive) {
    return archive->use == ARCHIVE_READ ? "read" : "written";
}

/** What the server answered, as a failure. */
static outcome refused(
        struct archive *archive, const PGresult *result, struct problem *ret_problem) {
    const char *state = PQresultErrorField(result, PG_DIAG_SQLSTATE);
    const char *words = PQresultErrorField(result, PG_DIAG_MESSAGE_PRIMARY);
    return say(archive, verb_of(archive), state == NULL ? "" : state,
            words == NULL ? PQresultErrorMessage(result) : words, ret_problem);
}

/** The connection is of no use any more. */
static outcome lose(struct archive *archive, const char *words, struct problem *ret_problem) {
    struct server *server = archive->handle;
    server->lost = true;
    archive->broken = true;
    return say(archive, verb_of(archive), "08",
            words != NULL && words[0] != '\0' ? words : "the connection is gone", ret_problem);
}

static int64_t steady_ms(void) {
    struct timespec now;
    (void)clock_gettime(CLOCK_MONOTONIC, &now);
    return (int64_t)now.tv_sec * 1000 + now.tv_nsec / 1000000;
}

/** Until an answer is whole, sending what has not gone out yet. */
static outcome hear(struct archive *archive, int64_t until_ms, struct problem *ret_problem) {
    struct server *server = archive->handle;
    for (;;) {
        int unsent = PQflush(server->connection);
        if (unsent < 0 || PQconsumeInput(server->connection) == 0) {
            return lose(archive, PQerrorMessage(server->connection), ret_problem);
        }
        if (PQisBusy(server->connection) == 0) {
            return outcome_good();
        }
        struct pollfd file = {.fd = PQsocket(server->connection),
                .events = (short)(unsent > 0 ? POLLIN | POLLOUT : POLLIN)};
        int64_t left_ms = until_ms - steady_ms();
        int ready = left_ms <= 0 ? 0 : poll(&file, 1, (int)left_ms);
        if (ready == 0) {
            return lose(archive, "the server does not answer", ret_problem);
        }
        if (ready < 0 && errno != EINTR) {
            return lose(archive, strerror(errno), ret_problem);
        }
    }
}

static int64_t number_in(const PGresult *result, int row, int column) {
    uint64_t number = 0;
    const char *bytes = PQgetvalue(result, row, column);
    for (int i = 0; i < PQgetlength(result, row, column); i++) {
        number = number << 8 | (unsigned char)bytes[i];
    }
    return (int64_t)number;
}

/** Takes one answer; frees it unless it is wanted whole. */
static outcome take_answer(struct archive *archive, const struct pending *pending, PGresult *result,
        struct problem *ret_problem) {
    outcome good = outcome_good();
    ExecStatusType status = PQresultStatus(result);
    if (status != PGRES_COMMAND_OK && status != PGRES_TUPLES_OK) {
        good = refused(archive, result, ret_problem);
    } else if (pending->ret_result != NULL) {
        *pending->ret_result = result;
        return good;
    } else if (pending->ret_number != NULL && PQntuples(result) > 0) {
        *pending->ret_number = number_in(result, 0, 0);
    }
    PQclear(result);
    return good;
}

/** Waits for all that was asked. The first failure counts: what came after it was not done. */
static outcome collect(struct archive *archive, struct problem *ret_problem) {
    struct server *server = archive->handle;
    const int64_t until_ms = steady_ms() + ANSWER_MS;
    outcome good = outcome_good();
    size_t at = 0;
    if (PQpipelineSync(server->connection) == 0) {
        return lose(archive, PQerrorMessage(server->connection), ret_problem);
    }
    for (;;) {
        TRY(hear(archive, until_ms, good.good ? ret_problem : NULL));
        PGresult *result = PQgetResult(server->connection);
        if (result == NULL && PQstatus(server->connection) == CONNECTION_BAD) {
            return good.good ? lose(archive, PQerrorMessage(server->connection), ret_problem)
                             : lose(archive, NULL, NULL);
        }
        if (result == NULL) {
            continue; /* between two answers */
        }
        if (PQresultStatus(result) == PGRES_PIPELINE_SYNC) {
            PQclear(result);
            server->pending_count = 0;
            return good;
        }
        if (good.good && at < server->pending_count) {
            good = take_answer(archive, &server->pending[at], result, ret_problem);
        } else {
            PQclear(result);
        }
        at++;
    }
}

/** Notes what is to become of the answer to what was just sent. */
static outcome sent(
        struct archive *archive, int code, struct pending pending, struct problem *ret_problem) {
    struct server *server = archive->handle;
    if (code == 0) {
        return lose(archive, PQerrorMessage(server->connection), ret_problem);
    }
    server->pending[server->pending_count++] = pending;
    return server->pending_count == PENDING_MOST ? collect(archive, ret_problem) : outcome_good();
}

/** Values as the server takes them, in its binary form. */
struct bound {
    Oid types[ARCHIVE_VALUES_MOST];
    const char *starts[ARCHIVE_VALUES_MOST];
    int lengths[ARCHIVE_VALUES_MOST];
    int formats[ARCHIVE_VALUES_MOST];
    char numbers[ARCHIVE_VALUES_MOST][8];
};

static void bind_values(struct bound *bound, const struct archive_value *values, size_t count) {
    static const Oid types[] = {[ARCHIVE_NUMBER] = TYPE_NUMBER,
            [ARCHIVE_TEXT] = TYPE_TEXT,
            [ARCHIVE_BYTES] = TYPE_BYTES};
    for (size_t i = 0; i < count; i++) {
        const struct archive_value *value = &values[i];
        const bool number = value->kind == ARCHIVE_NUMBER;
        for (int byte = 0; byte < 8; byte++) {
            bound->numbers[i][byte] = (char)((uint64_t)value->number >> (56 - 8 * byte));
        }
        bound->types[i] = types[value->kind];
        bound->formats[i] = 1;
        bound->lengths[i] = number ? 8 : (int)value->text.length;
        bound->starts[i] = value->none      ? NULL
                : number                    ? bound->numbers[i]
                : value->text.start == NULL ? ""
                                            : value->text.start;
    }
}

static outcome send_text(struct archive *archive, const char *sql,
        const struct archive_value *values, size_t count, struct pending pending,
        struct problem *ret_problem) {
    struct server *server = archive->handle;
    struct bound bound = {0};
    bind_values(&bound, values, count);
    return sent(archive,
            PQsendQueryParams(server->connection, sql, (int)count, bound.types, bound.starts,
                    bound.lengths, bound.formats, 1),
            pending, ret_problem);
}

static outcome ask(struct archive *archive, enum archive_statement which,
        const struct archive_value *values, size_t count, int64_t *ret_number,
        struct problem *ret_problem) {
    struct server *server = archive->handle;
    struct bound bound = {0};
    char name[16];
    bind_values(&bound, values, count);
    (void)snprintf(name, sizeof name, "s%d", (int)which);
    if (!server->prepared[which]) {
        TRY(sent(archive,
                PQsendPrepare(server->connection, name, archive_statements[which], (int)count,
                        bound.types),
                (struct pending){0}, ret_problem));
        server->prepared[which] = true;
    }
    return sent(archive,
            PQsendQueryPrepared(server->connection, name, (int)count, bound.starts, bound.lengths,
                    bound.formats, 1),
            (struct pending){.ret_number = ret_number}, ret_problem);
}

/** The words of SQLite's tables, and ours. */
static const struct {
    const char *word;
    const char *instead;
} words[] = {{"INTEGER", "BIGINT"}, {"BLOB", "BYTEA"}, {"STRICT", ""}};

static size_t translate(const char *sql, size_t length, char *ret_sql, size_t room) {
    size_t used = 0;
    for (size_t at = 0; at < length && used + 1 < room;) {
        size_t word = 0;
        while (word < sizeof words / sizeof words[0] &&
                strncmp(sql + at, words[word].word, strlen(words[word].word)) != 0) {
            word++;
        }
        if (word < sizeof words / sizeof words[0]) {
            used += (size_t)snprintf(ret_sql + used, room - used, "%s", words[word].instead);
            at += strlen(words[word].word);
        } else {
            ret_sql[used++] = sql[at++];
        }
    }
    ret_sql[used < room ? used : room - 1] = '\0';
    return used;
}

/** One after the other, as no more than one may be sent at once; no semicolon stands within one. */
static outcome run(struct archive *archive, const char *sql, struct problem *ret_problem) {
    char one[2048];
    while (*sql != '\0') {
        size_t length = strcspn(sql, ";");
        if (translate(sql, length, one, sizeof one) + 1 >= sizeof one) {
            FAIL(ret_problem, PROBLEM_LIMIT, "", "a statement is too long");
        }
        TRY(send_text(archive, one, NULL, 0, (struct pending){0}, ret_problem));
        sql += length + (sql[length] == ';');
    }
    return collect(archive, ret_problem);
}

/* Who writes changes this row first, and all others wait for it until he is done: so what he looked for and did not
 * find is not there, and numbers of rows ascend in the order in which they can be seen. */
static outcome begin(struct archive *archive, struct problem *ret_problem) {
    static const char *const how[] = {"BEGIN", "UPDATE writing SET turns = turns + 1"};
    for (size_t i = 0; i < sizeof how / sizeof how[0]; i++) {
        TRY(send_text(archive, how[i], NULL, 0, (struct pending){0}, ret_problem));
    }
    return outcome_good();
}

static outcome commit(struct archive *archive, struct problem *ret_problem) {
    PGresult *result = NULL;
    outcome good = send_text(
            archive, "COMMIT", NULL, 0, (struct pending){.ret_result = &result}, ret_problem);
    if (good.good) {
        good = collect(archive, ret_problem);
    }
    /* a transaction that failed before is ended by this too, and says ROLLBACK */
    if (good.good && strcmp(PQcmdStatus(result), "COMMIT") != 0) {
        good = refused(archive, result, ret_problem);
    }
    PQclear(result);
    return good;
}

static void disconnect(struct archive *archive) {
    struct server *server = archive->handle;
    if (server != NULL) {
        PQfinish(server->connection);
        free(server);
    }
    archive->handle = NULL;
}

static void undo(struct archive *archive) {
    struct server *server = archive->handle;
    if (server == NULL) {
        return;
    }
    const bool again = archive->again;
    /* What was sent and not waited for is heard out first. */
    (void)(server->lost || collect(archive, NULL).good);
    if (!server->lost && PQtransactionStatus(server->connection) != PQTRANS_IDLE) {
        (void)run(archive, "ROLLBACK", NULL).good;
    }
    memset(server->prepared, 0, sizeof server->prepared);
    if (server->lost || !run(archive, "DEALLOCATE ALL", NULL).good) {
        disconnect(archive); /* frees what the server keeps for it */
    }
    archive->again = again;
}

static outcome each(struct archive *archive, const char *sql, const struct archive_value *values,
        size_t count, archive_take_row take, void *context, struct problem *ret_problem) {
    PGresult *result = NULL;
    outcome good = send_text(
            archive, sql, values, count, (struct pending){.ret_result = &result}, ret_problem);
    if (good.good) {
        good = collect(archive, ret_problem);
    }
    bool more = good.good;
    for (int row = 0; more && row < PQntuples(result); row++) {
        struct archive_value of[ARCHIVE_VALUES_MOST] = {0};
        for (int i = 0; i < PQnfields(result) && i < ARCHIVE_VALUES_MOST; i++) {
            const Oid type = PQftype(result, i);
            const struct text bytes = {
                    PQgetvalue(result, row, i), (size_t)PQgetlength(result, row, i)};
            of[i] = type == TYPE_BYTES  ? archive_bytes(bytes)
                    : type == TYPE_TEXT ? archive_text(bytes)
                                        : archive_number(number_in(result, row, i));
            of[i].none = PQgetisnull(result, row, i) != 0;
        }
        more = take(context, of);
    }
    PQclear(result);
    return good;
}

static bool take_number(void *context, const struct archive_value *row) {
    *(int64_t *)context = row[0].number;
    return false;
}

static outcome number_of(struct archive *archive, const char *sql, int64_t *ret_number,
        struct problem *ret_problem) {
    return each(archive, sql, NULL, 0, take_number, ret_number, ret_problem);
}

static outcome version(struct archive *archive, int *ret_version, struct problem *ret_problem) {
    int64_t number = 0;
    TRY(number_of(archive, "SELECT version FROM writing", &number, ret_problem));
    *ret_version = (int)number;
    return outcome_good();
}

static outcome set_version(struct archive *archive, int version_now, struct problem *ret_problem) {
    char sql[64];
    (void)snprintf(sql, sizeof sql, "UPDATE writing SET version = %d", version_now);
    return run(archive, sql, ret_problem);
}

static const char *option_in(const PQconninfoOption *options, const char *name) {
    for (; options->keyword != NULL; options++) {
        if (strcmp(options->keyword, name) == 0) {
            return options->val;
        }
    }
    return NULL;
}

/** What may be printed of where it is. A password in a command line would be everybody's on that machine. */
static outcome name_server(struct archive *archive, struct problem *ret_problem) {
    PQconninfoOption *options = PQconninfoParse(archive->address, NULL);
    if (options == NULL) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "",
                "the archive's address cannot be read; write postgresql://USER@HOST/DATABASE");
    }
    const char *host = option_in(options, "host");
    const char *database = option_in(options, "dbname");
    const bool secret =
            option_in(options, "password") != NULL || option_in(options, "sslpassword") != NULL;
    (void)snprintf(archive->path, sizeof archive->path, "the archive %.60s%s%.60s",
            database == NULL ? "" : database, host == NULL ? "" : " at ", host == NULL ? "" : host);
    PQconninfoFree(options);
    if (secret) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "",
                "a password in the address is seen by everybody on this machine: put it into"
                " ~/.pgpass (chmod 600)");
    }
    return outcome_good();
}

static void be_silent(void *context, const PGresult *result) {
    (void)context;
    (void)result;
}

static outcome reach(struct archive *archive, struct problem *ret_problem) {
    static const char *const names[] = {
            "connect_timeout", "fallback_application_name", "dbname", "client_encoding", NULL};
    const char *const values[] = {"3", "lintel", archive->address, "UTF8", NULL};
    struct server *server = calloc(1, sizeof *server);
    archive->handle = server;
    if (server != NULL) {
        server->connection = PQconnectdbParams(names, values, 1);
    }
    if (server == NULL || server->connection == NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory for a connection to the archive");
    }
    (void)PQsetNoticeReceiver(server->connection, be_silent, NULL);
    if (PQstatus(server->connection) != CONNECTION_OK ||
            PQsetnonblocking(server->connection, 1) != 0 ||
            PQenterPipelineMode(server->connection) == 0) {
        return say(archive, "opened", "08001", PQerrorMessage(server->connection), ret_problem);
    }
    return outcome_good();
}

/* The first to come makes them; two who come at once may both try. */
static const char where_we_live[] =
        "CREATE SCHEMA IF NOT EXISTS lintel;"
        "CREATE TABLE IF NOT EXISTS writing ("
        "  id INTEGER PRIMARY KEY CHECK (id = 1),"
        "  version INTEGER NOT NULL,"
        "  turns INTEGER NOT NULL"
        ");"
        "INSERT INTO writing (id, version, turns) VALUES (1, 0, 0) ON CONFLICT (id) DO NOTHING";

static outcome look_for_us(
        struct archive *archive, int64_t *ret_there, struct problem *ret_problem) {
    return number_of(archive,
            "SELECT COUNT(*) FROM pg_catalog.pg_tables"
            " WHERE schemaname = 'lintel' AND tablename = 'writing'",
            ret_there, ret_problem);
}

static outcome find_or_make(struct archive *archive, struct problem *ret_problem) {
    enum { TRIES = 5 };
    int64_t there = 0;
    TRY(look_for_us(archive, &there, ret_problem));
    if (there == 0 && archive->use != ARCHIVE_NEW) {
        FAIL(ret_problem, PROBLEM_MISSING, "", "%.240s: there is none", archive->path);
    }
    for (int i = 1; there == 0; i++) {
        struct problem problem = {0};
        outcome made = run(archive, where_we_live, &problem);
        TRY(look_for_us(archive, &there, ret_problem));
        if (!made.good && there == 0 && i == TRIES) {
            if (ret_problem != NULL) {
                *ret_problem = problem;
            }
            return made;
        }
    }
    return outcome_good();
}

/* on: a commit is answered once it is on the disk; off would lose the last ones with the power, after they were
 * acknowledged. A writer that dies with its machine, in the middle, must not hold up the others. */
static const char writing_ways[] =
        "SELECT set_config('synchronous_commit', 'on', false) FROM pg_settings"
        " WHERE name = 'synchronous_commit' AND setting = 'off';"
        "SET lock_timeout = 3000;"
        "SET idle_in_transaction_session_timeout = 5000";

static outcome must_sync(struct archive *archive, struct problem *ret_problem) {
    int64_t never = 0;
    TRY(number_of(archive,
            "SELECT COUNT(*) FROM pg_settings WHERE name = 'fsync' AND setting = 'off'", &never,
            ret_problem));
    if (never != 0) {
        FAIL(ret_problem, PROBLEM_SYSTEM, "",
                "%.200s cannot be written: its server brings nothing to the disk (fsync is off):"
                " turn it on",
                archive->path);
    }
    return outcome_good();
}

static outcome connect(struct archive *archive, struct problem *ret_problem) {
    TRY(name_server(archive, ret_problem));
    TRY(reach(archive, ret_problem));
    TRY(run(archive, "SET search_path TO lintel", ret_problem));
    if (archive->use != ARCHIVE_READ) {
        TRY(must_sync(archive, ret_problem));
        TRY(run(archive, writing_ways, ret_problem));
    }
    return find_or_make(archive, ret_problem);
}

/** What can be read has been brought to the disk by whoever committed it. */
static outcome settle(struct archive *archive, struct problem *ret_problem) {
    (void)archive;
    (void)ret_problem;
    return outcome_good();
}

/** The server looks after its own files; what refers to what, we look at. */
static outcome check(struct archive *archive, struct problem *ret_problem) {
    int64_t lost = 0;
    TRY(number_of(archive,
            "SELECT COUNT(*) FROM signals WHERE NOT EXISTS"
            " (SELECT 1 FROM accounts WHERE accounts.id = account_id)",
            &lost, ret_problem));
    if (lost != 0) {
        FAIL(ret_problem, PROBLEM_UNREADABLE, "",
                "%.120s is damaged: something refers to what is not there", archive->path);
    }
    return outcome_good();
}

static outcome backup(struct archive *archive, const char *to, struct problem *ret_problem) {
    (void)to;
    FAIL(ret_problem, PROBLEM_BAD_VALUE, "",
            "%.120s is on a server: copy it by the server's own means (pg_dump), or write it out"
            " with lintel archive export",
            archive->path);
}

const struct archive_store archive_postgres = {
        .shared = true,
        .connect = connect,
        .disconnect = disconnect,
        .version = version,
        .set_version = set_version,
        .run = run,
        .begin = begin,
        .ask = ask,
        .wait = collect,
        .commit = commit,
        .undo = undo,
        .each = each,
        .settle = settle,
        .check = check,
        .backup = backup,
};
