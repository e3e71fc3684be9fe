/* The site files that the page works on: one that was named, or those of a folder. Each has a bench of its own, which
 * opens when it is first asked for and stays open. */
#ifndef LINTEL_WEB_SITES_H
#define LINTEL_WEB_SITES_H

#include "web/bench.h"
#include "web/keyed.h"
#include "web/revisions.h"

enum {
    SITES_MOST = 500,     /* site files that are listed */
    SITES_OPEN_MOST = 32, /* benches open at once */
    SITES_NAME_MOST = 120 /* bytes of a file's name */
};

/** A site file that is open. path: of the file; behind its NUL, the folder. */
struct seat {
    struct seat *next;
    struct bench *bench;
    struct keyed keyed;
    struct revisions revisions;
    const char *folder; /* in which the file lies */
    char path[];
};

struct sites;

/** path: a site file, or a folder of them; kept. data: as document_search has it; kept. Fails MISSING (there is no such
 *  thing), SYSTEM, MEMORY. */
outcome sites_open(const char *path, const char *data, struct sites **ret_sites,
        struct problem *ret_problem) MUST_CHECK;

/** The archive in which lintel listen stores the signals, or NULL: none was named. To be set before anything is served;
 *  kept. */
void sites_use_archive(struct sites *sites, const char *path);
const char *sites_archive(const struct sites *sites);

/** The folder, or NULL where it is one site file. */
const char *sites_folder(const struct sites *sites);
const struct document_search *sites_search(const struct sites *sites);

/** The seat of the site file that was named to sites_open. */
struct seat *sites_only(const struct sites *sites);

/** The seat of a file of the folder, opened now or before. name: as the folder lists it; whatever is no such name, or
 *  no site file, is MISSING. Fails LIMIT, MEMORY, SYSTEM too. Any thread. */
outcome sites_seat(struct sites *sites, struct text name, struct seat **ret_seat,
        struct problem *ret_problem) MUST_CHECK;

/** Puts a new file into the folder. wanted: from which its name is made (a name of a site, or of a file); a number is
 *  added where there is such a file already. content: any; whoever calls has read it. ret_name: room for
 *  SITES_NAME_MOST + 1. Fails SYSTEM, LIMIT. */
outcome sites_add(struct sites *sites, struct text wanted, struct text content, char *ret_name,
        struct problem *ret_problem) MUST_CHECK;

/** Names of the folder's site files in the arena, sorted by their bytes; at most SITES_MOST. */
outcome sites_list(const struct sites *sites, struct arena *arena, struct text **ret_names,
        size_t *ret_count, struct problem *ret_problem) MUST_CHECK;

/** Whether a text is meant as a site file: it has a key "site". A codes file has none: it is never listed nor shown. */
bool sites_is_site(struct text content);

/** Wakes whoever waits for a bench; sites_close then gives all of it back. */
void sites_stop(struct sites *sites);
bool sites_stopping(struct sites *sites);
void sites_close(struct sites *sites);

#endif
