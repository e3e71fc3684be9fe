#include "cli/crew.h"

#include <errno.h>
#include <pthread.h>
#include <stdbool.h>
#include <time.h>
#include <unistd.h>

/* What the members share; the lock guards all of it but `work`. */
struct shift {
    const struct crew_work *work;
    pthread_mutex_t lock;
    pthread_cond_t changed;
    size_t next;
    size_t done;
    size_t at_work;
    bool failed;
    size_t failed_task;
    struct problem problem;
};

struct member {
    struct shift *shift;
    struct arena *arena;
    pthread_t thread;
};

void crew_init(struct crew *crew, size_t members, struct pages pages) {
    if (members == 0) {
        const long cores = sysconf(_SC_NPROCESSORS_ONLN);
        members = cores < 1 ? 1 : (size_t)cores;
    }
    *crew = (struct crew){.count = members > CREW_MOST ? CREW_MOST : members};
    for (size_t i = 0; i < crew->count; i++) {
        arena_init(&crew->arenas[i], pages, 0);
    }
}

void crew_finish(struct crew *crew) {
    for (size_t i = 0; i < crew->count; i++) {
        arena_finish(&crew->arenas[i]);
    }
}

/* Does tasks until there are none. The lock is held at the beginning, at the end, and not while a task is done. */
static void take_tasks(struct shift *shift, struct arena *arena) {
    while (!shift->failed && shift->next < shift->work->count) {
        struct problem problem = {0};
        const size_t task = shift->next++;
        (void)pthread_mutex_unlock(&shift->lock);
        const outcome done = shift->work->do_task(shift->work->context, task, arena, &problem);
        (void)pthread_mutex_lock(&shift->lock);
        shift->done++;
        if (!done.good && (!shift->failed || task < shift->failed_task)) {
            shift->failed = true;
            shift->failed_task = task;
            shift->problem = problem;
        }
        (void)pthread_cond_signal(&shift->changed);
    }
}

static void *be_member(void *context) {
    struct member *member = context;
    (void)pthread_mutex_lock(&member->shift->lock);
    take_tasks(member->shift, member->arena);
    member->shift->at_work--;
    (void)pthread_cond_signal(&member->shift->changed);
    (void)pthread_mutex_unlock(&member->shift->lock);
    return NULL;
}

/* Waits for the members, watching. The lock is held. */
static void watch_members(struct shift *shift) {
    enum { TENTH_NS = 100000000, SECOND_NS = 1000000000 };
    while (shift->at_work > 0) {
        struct timespec until;
        (void)clock_gettime(CLOCK_REALTIME, &until);
        until.tv_nsec += TENTH_NS;
        until.tv_sec += until.tv_nsec / SECOND_NS;
        until.tv_nsec %= SECOND_NS;
        (void)pthread_cond_timedwait(&shift->changed, &shift->lock, &until);
        if (shift->work->watch != NULL) {
            shift->work->watch(shift->work->context, shift->done);
        }
    }
}

outcome crew_do(struct crew *crew, const struct crew_work *work, struct problem *ret_problem) {
    struct shift shift = {
            .work = work, .lock = PTHREAD_MUTEX_INITIALIZER, .changed = PTHREAD_COND_INITIALIZER};
    struct member members[CREW_MOST];
    const size_t wanted = work->count < crew->count ? work->count : crew->count;
    size_t made = 0;
    (void)pthread_mutex_lock(&shift.lock);
    for (size_t i = 0; i < wanted; i++) {
        members[made] = (struct member){.shift = &shift, .arena = &crew->arenas[i]};
        if (pthread_create(&members[made].thread, NULL, be_member, &members[made]) == 0) {
            made++;
            shift.at_work++;
        }
    }
    if (made == 0) {
        take_tasks(&shift, &crew->arenas[0]);
    }
    watch_members(&shift);
    (void)pthread_mutex_unlock(&shift.lock);
    for (size_t i = 0; i < made; i++) {
        (void)pthread_join(members[i].thread, NULL);
    }
    (void)pthread_mutex_destroy(&shift.lock);
    (void)pthread_cond_destroy(&shift.changed);
    if (shift.failed) {
        if (ret_problem != NULL && ret_problem->kind == PROBLEM_NONE) {
            *ret_problem = shift.problem;
        }
        return (outcome){.good = false};
    }
    return outcome_good();
}
