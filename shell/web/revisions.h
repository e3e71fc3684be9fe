/* Revisions: what a site file was at points to which somebody gave a name. Each is a plain site file in a folder beside
 * it (house.yaml.revisions), so that it can be opened, compared and sent like any other; none is ever changed or
 * removed. */
#ifndef LINTEL_WEB_REVISIONS_H
#define LINTEL_WEB_REVISIONS_H

#include "base/arena.h"
#include "base/problem.h"
#include "base/text.h"

#include <pthread.h>
#include <stdbool.h>
#include <stddef.h>

enum {
    REVISIONS_NAME_MOST = 80, /* bytes of a name */
    REVISIONS_MOST = 1000,
};

/** Those of one site file. path: of the file; outlives it. Any thread. */
struct revisions {
    const char *path;
    pthread_mutex_t lock;
    bool begun; /* there is one */
};

void revisions_init(struct revisions *revisions, const char *path);
void revisions_finish(struct revisions *revisions);

/** One of them. id: the name of its file, by which it is asked for. day, time: when it was kept, by the clock of this
 *  machine ("2026-11-26", "22:01"). */
struct revision {
    struct text id;
    struct text day;
    struct text time;
    struct text name;
};

/** Lists them, the latest first, in the arena. No folder: none. Fails SYSTEM, MEMORY. */
outcome revisions_list(struct revisions *revisions, struct arena *arena, struct revision **ret_list,
        size_t *ret_count, struct problem *ret_problem) MUST_CHECK;

/** Keeps the file as it is now. name: what a person called it; blanks at its ends are dropped. Fails BAD_VALUE (no
 *  name, or one that no file can have), LIMIT, SYSTEM, MEMORY, and as host_read_file. */
outcome revisions_keep(struct revisions *revisions, struct text name, struct problem *ret_problem)
        MUST_CHECK;

/** The same, where there is none yet: so that there is a way back to the first state. What cannot be kept is passed
 *  over: the edit that follows matters more, and says why itself. */
void revisions_begin(struct revisions *revisions, const char *name);

/** The text of one. id: as listed; whatever is not listed is MISSING. In the arena, ended by a NUL. Fails SYSTEM,
 *  MEMORY too. */
outcome revisions_read(struct revisions *revisions, struct text id, struct arena *arena,
        struct text *ret_text, struct problem *ret_problem) MUST_CHECK;

#endif
