/* A crew of threads for tasks that have nothing to do with each other. */
#ifndef LINTEL_CLI_CREW_H
#define LINTEL_CLI_CREW_H

#include "base/arena.h"

#include <stddef.h>

enum { CREW_MOST = 16 };

/** What is to be done. count tasks, 0 .. count - 1; each is done once, by whichever member is free. do_task: arena
 *  is the member's own and stays until crew_finish. watch: called by the caller's thread ten times a second with
 *  the number of tasks done (NULL: never). */
struct crew_work {
    size_t count;
    outcome (*do_task)(
            void *context, size_t task, struct arena *arena, struct problem *ret_problem);
    void (*watch)(void *context, size_t done);
    void *context;
};

/** Members' arenas. */
struct crew {
    size_t count;
    struct arena arenas[CREW_MOST];
};

/** members: 0 = as many as the machine has cores, at most CREW_MOST. */
void crew_init(struct crew *crew, size_t members, struct pages pages);
void crew_finish(struct crew *crew);

/** Does all of the work. After a failure no new task is begun, and the problem is that of the lowest task that
 *  failed. When no thread can be made the caller's thread does it, unwatched. */
outcome crew_do(struct crew *crew, const struct crew_work *work, struct problem *ret_problem)
        MUST_CHECK;

#endif
