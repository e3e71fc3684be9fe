/* What has been keyed into the panel so far: which line of the programming sheet, and with which value. Kept in a file
 * of its own beside the site file ("house.yaml.keyed.json"), as it is no part of the site: another panel of the same
 * file is keyed in anew. */
#ifndef LINTEL_WEB_KEYED_H
#define LINTEL_WEB_KEYED_H

#include "base/problem.h"

#include <pthread.h>

enum { KEYED_LINES_MOST = 5000, KEYED_TEXT_MOST = 400 };

/** path: of the site file; must outlive it. lock: of the file beside it. */
struct keyed {
    const char *path;
    pthread_mutex_t lock;
};

/** Ready for any thread. */
void keyed_init(struct keyed *keyed, const char *path);
void keyed_finish(struct keyed *keyed);

/** What the file says, as a JSON object of line and value, from malloc; "{}" where there is none. NULL: it is no such
 *  object, or cannot be read; the problem says what to do. */
char *keyed_read(struct keyed *keyed, struct problem *ret_problem);

/** Notes lines: changes is a JSON object of line and value, a value null where it is not keyed in after all. All of
 *  them or none. The file is written whole or not at all. Fails BAD_VALUE (changes, or the file, is no such object),
 *  LIMIT, SYSTEM, MEMORY. */
outcome keyed_note(struct keyed *keyed, const char *changes, size_t length,
        struct problem *ret_problem) MUST_CHECK;

#endif
