#include "archive/inside.h"

#include <stdlib.h>
#include <string.h>
#include <time.h>

/** By what the name begins with; anything else is a file. */
static const struct archive_store *store_of(const char *path) {
    static const char *const servers[] = {"postgresql://", "postgres://"};
    for (size_t i = 0; i < sizeof servers / sizeof servers[0]; i++) {
        if (strncmp(path, servers[i], strlen(servers[i])) == 0) {
            return &archive_postgres;
        }
    }
    return &archive_sqlite;
}

outcome archive_connect(struct archive *archive, struct problem *ret_problem) {
    memset(archive->known, 0, sizeof archive->known);
    TRY(archive->store->connect(archive, ret_problem));
    TRY(archive_bring_up(archive, ret_problem));
    archive->broken = false;
    return outcome_good();
}

void archive_disconnect(struct archive *archive) {
    archive->store->disconnect(archive);
}

outcome archive_open(const char *path, enum archive_use use, struct archive **ret_archive,
        struct problem *ret_problem) {
    struct archive *archive = calloc(1, sizeof *archive);
    if (archive == NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory to open an archive");
    }
    archive->use = use;
    archive->store = store_of(path);
    archive->address = strdup(path);
    outcome result = archive->address == NULL
            ? problem_set(ret_problem, PROBLEM_MEMORY, "", __FILE__, __LINE__,
                      "no memory to open an archive")
            : archive_connect(archive, ret_problem);
    if (!result.good) {
        archive_close(archive);
        return result;
    }
    /* what is not there any more when it is opened anew is not made again */
    archive->use = use == ARCHIVE_READ ? ARCHIVE_READ : ARCHIVE_WRITE;
    *ret_archive = archive;
    return result;
}

void archive_close(struct archive *archive) {
    if (archive != NULL) {
        archive_disconnect(archive);
        free(archive->address);
        free(archive);
    }
}

outcome archive_settle(struct archive *archive, struct problem *ret_problem) {
    outcome result = archive->store->settle(archive, ret_problem);
    archive->broken = archive->broken || !result.good;
    return result;
}

outcome archive_check(struct archive *archive, struct problem *ret_problem) {
    return archive->store->check(archive, ret_problem);
}

outcome archive_backup(struct archive *archive, const char *to, struct problem *ret_problem) {
    return archive->store->backup(archive, to, ret_problem);
}

/** Opens it anew where an earlier call failed: what the library remembers of a disk that failed is not trusted. Signals
 *  of that call may be there to be read all the same without ever having been synced; so all is brought to the disk
 *  before anything is taken to be there. */
static outcome recover(struct archive *archive, struct problem *ret_problem) {
    if (!archive->broken) {
        return outcome_good();
    }
    archive_disconnect(archive);
    TRY(archive_connect(archive, ret_problem));
    return archive_settle(archive, ret_problem);
}

outcome archive_rows(struct archive *archive, const char *sql, const struct archive_value *values,
        size_t count, archive_take_row take, void *context, struct problem *ret_problem) {
    TRY(recover(archive, ret_problem));
    return archive->store->each(archive, sql, values, count, take, context, ret_problem);
}

static outcome attempt(struct archive *archive,
        outcome (*work)(struct archive *archive, void *context, struct problem *ret_problem),
        void *context, struct problem *ret_problem) {
    archive->begun_after = -1;
    archive->held = false;
    TRY(recover(archive, ret_problem));
    TRY(archive->store->begin(archive, ret_problem));
    TRY(archive->store->ask(
            archive, ARCHIVE_LAST_SIGNAL, NULL, 0, &archive->last_signal, ret_problem));
    TRY(archive->store->wait(archive, ret_problem));
    archive->begun_after = archive->last_signal;
    TRY(work(archive, context, ret_problem));
    return archive->store->commit(archive, ret_problem);
}

bool archive_once_more(struct archive *archive, int tries) {
    enum { TRIES_MOST = 100 };
    if (!archive->again || tries >= TRIES_MOST) {
        return false;
    }
    const struct timespec a_moment = {.tv_nsec = 200000L * tries};
    (void)nanosleep(&a_moment, NULL);
    archive->again = false;
    return true;
}

outcome archive_transact(struct archive *archive,
        outcome (*work)(struct archive *archive, void *context, struct problem *ret_problem),
        void *context, struct problem *ret_problem) {
    archive->again = false;
    for (int tries = 1;; tries++) {
        struct problem problem = {0};
        outcome result = attempt(archive, work, context, &problem);
        if (result.good) {
            return result;
        }
        archive->store->undo(archive);
        archive->broken = archive->broken || archive->handle == NULL;
        memset(archive->known, 0, sizeof archive->known);
        if (!archive_once_more(archive, tries)) {
            /* Where another held it nothing was written, and what is open is as good as before. */
            archive->broken = archive->broken || !archive->held;
            if (ret_problem != NULL) {
                *ret_problem = problem;
            }
            return result;
        }
    }
}
