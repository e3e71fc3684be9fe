#include "web/bench.h"

#include "base/date.h"
#include "check/check.h"
#include "check/temporary.h"
#include "host/host.h"
#include "web/line.h"
#include "web/view.h"

#include <pthread.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <time.h>

/* How often the file is looked at for changes made elsewhere. */
enum { LOOK_EVERY_MS = 250, PROBLEM_ROOM = 400 };

/* A check that takes longer than that tells how far it is, and how often (house practice; page-spec 2.4). */
enum { PROGRESS_FROM_MS = 1000, PROGRESS_EVERY_MS = 500 };

/** What tells one state of a file from another without reading it. */
struct mark {
    bool there;
    dev_t device;
    ino_t inode;
    off_t size;
    struct timespec changed;
};

struct bench {
    const char *path;
    struct document_search search;
    pthread_t thread;
    pthread_mutex_t lock; /* of everything below */
    pthread_cond_t news;  /* a snapshot came, or the end */
    pthread_cond_t work;  /* there is something to look at, or the end */
    struct bench_snapshot *newest;
    uint64_t serial; /* of the newest snapshot */
    uint64_t number; /* of the text */
    uint64_t writes; /* how often the page has written */
    bool look_now;
    bool stopping;
    struct history history; /* its present text is the one of `number` */
    /* The thread's own: */
    struct document *good;
    uint64_t good_number;
    char *site; /* as JSON on one line, of the good document; made once for all snapshots of it */
    size_t site_length;
    uint64_t site_serial;
    struct recall *recall; /* of the drawing, from one look to the next */
    struct mark mark;
    atomic_bool overtaken; /* the run under way is about an older text */
    uint64_t checking;     /* number of the text that is being checked, or 0; with the lock held */
    atomic_bool given_up;  /* the run under way, or the last one, is not to be waited for */
};

static struct mark mark_of(const char *path) {
    struct stat status;
    if (stat(path, &status) != 0) {
        return (struct mark){0};
    }
    return (struct mark){.there = true,
            .device = status.st_dev,
            .inode = status.st_ino,
            .size = status.st_size,
            .changed = status.st_mtim};
}

static bool mark_equal(const struct mark *a, const struct mark *b) {
    return a->there == b->there && a->device == b->device && a->inode == b->inode &&
            a->size == b->size && a->changed.tv_sec == b->changed.tv_sec &&
            a->changed.tv_nsec == b->changed.tv_nsec;
}

/* ---- snapshots */

void bench_release(struct bench_snapshot *snapshot) {
    if (snapshot != NULL && atomic_fetch_sub(&snapshot->holders, 1) == 1) {
        free(snapshot);
    }
}

static struct text says_of(
        const struct history *history, struct text by, bool forward, struct arena *arena) {
    const struct history_step *next = history_next(history, by, forward);
    return next == NULL ? (struct text){0} : text_copy(arena, next->note.says);
}

static bool is_listed(const struct view *view, struct text by) {
    bool listed = false;
    for (size_t i = 0; i < view->steps_count; i++) {
        listed = listed || text_equal(view->steps[i].by, by);
    }
    return listed;
}

/** What each page can take back and make again, copied: the history goes on. */
static void list_steps(const struct history *history, struct arena *arena, struct view *view) {
    struct view_steps *steps = ARENA_ARRAY(arena, struct view_steps, history->count);
    view->steps = steps;
    view->steps_count = 0;
    for (size_t i = 0; steps != NULL && i < history->count; i++) {
        const struct text by = history->steps[i].note.by;
        if (!is_listed(view, by)) {
            steps[view->steps_count++] = (struct view_steps){.by = text_copy(arena, by),
                    .undo = history_steps(history, by, false),
                    .redo = history_steps(history, by, true),
                    .undo_says = says_of(history, by, false, arena),
                    .redo_says = says_of(history, by, true, arena)};
        }
    }
}

/** Notes the site of the view, for the snapshots to come. Without memory there is none, and nothing is put out. */
static void note_site(struct bench *bench, const struct view *view) {
    struct arena arena;
    struct text_builder out;
    arena_init(&arena, host_pages(), 0);
    text_builder_init(&out, &arena);
    view_add_site(view, &out);
    const struct text built = text_built(&out);
    free(bench->site);
    bench->site = arena.refused ? NULL : malloc(built.length + 1);
    if (bench->site != NULL) {
        bench->site_length = line_from_json(built, bench->site);
    }
    bench->site_serial++;
    arena_finish(&arena);
}

/** Two objects, neither of them empty, as one; the second one's members come last. */
static void join(struct bench_snapshot *snapshot, struct text first, struct text second) {
    snapshot->brief_length = line_from_json(first, snapshot->json) - 1;
    snapshot->json[snapshot->brief_length] = ',';
    memcpy(snapshot->json + snapshot->brief_length + 1, second.start + 1, second.length - 1);
    snapshot->length = snapshot->brief_length + second.length;
}

/** Puts a view out as the newest snapshot. Without memory the page keeps what it has. */
static void publish(struct bench *bench, struct view *view) {
    struct arena arena;
    struct text_builder out;
    arena_init(&arena, host_pages(), 0);
    text_builder_init(&out, &arena);
    pthread_mutex_lock(&bench->lock);
    list_steps(&bench->history, &arena, view);
    pthread_mutex_unlock(&bench->lock);
    view_add(view, &out);
    const struct text built = text_built(&out);
    struct bench_snapshot *snapshot = arena.refused || bench->site == NULL
            ? NULL
            : malloc(sizeof *snapshot + built.length + bench->site_length);
    if (snapshot != NULL) {
        atomic_init(&snapshot->holders, 1);
        snapshot->number = view->number;
        snapshot->site = bench->site_serial;
        join(snapshot, built, (struct text){bench->site, bench->site_length});
        pthread_mutex_lock(&bench->lock);
        struct bench_snapshot *former = bench->newest;
        bench->newest = snapshot;
        bench->serial++;
        pthread_cond_broadcast(&bench->news);
        pthread_mutex_unlock(&bench->lock);
        bench_release(former);
    }
    arena_finish(&arena);
}

static struct timespec after_ms(int wait_ms) {
    struct timespec until;
    clock_gettime(CLOCK_MONOTONIC, &until);
    until.tv_sec += wait_ms / 1000;
    until.tv_nsec += (long)(wait_ms % 1000) * 1000000;
    if (until.tv_nsec >= 1000000000) {
        until.tv_sec++;
        until.tv_nsec -= 1000000000;
    }
    return until;
}

struct bench_snapshot *bench_wait(
        struct bench *bench, uint64_t after, int wait_ms, uint64_t *ret_serial) {
    struct bench_snapshot *snapshot = NULL;
    const struct timespec until = after_ms(wait_ms);
    pthread_mutex_lock(&bench->lock);
    while (!bench->stopping && (bench->newest == NULL || bench->serial <= after)) {
        if (pthread_cond_timedwait(&bench->news, &bench->lock, &until) != 0) {
            break;
        }
    }
    if (!bench->stopping && bench->newest != NULL && bench->serial > after) {
        snapshot = bench->newest;
        atomic_fetch_add(&snapshot->holders, 1);
        *ret_serial = bench->serial;
    }
    pthread_mutex_unlock(&bench->lock);
    return snapshot;
}

/* ---- reading and checking */

static struct document *document_new(void) {
    struct document *document = malloc(sizeof *document);
    if (document != NULL) {
        document_init(document, host_pages());
    }
    return document;
}

static void document_drop(struct document *document) {
    if (document != NULL) {
        document_finish(document);
        free(document);
    }
}

/* What is checked, for who is told of it. told: the verdicts are out, so that there is nothing to wait for. */
struct checking {
    struct bench *bench;
    struct view *view;
    const struct site *site;
    struct view_progress progress;
    int64_t begun_ms;
    int64_t next_ms; /* when it is told again how far this is */
    bool told;
};

static int64_t now_ms(void) {
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    return (int64_t)now.tv_sec * 1000 + now.tv_nsec / 1000000;
}

static void tell_progress(struct checking *checking) {
    const int64_t now = now_ms();
    if (checking->told || now < checking->next_ms || atomic_load(&checking->bench->overtaken)) {
        return;
    }
    checking->progress.for_ms = now - checking->begun_ms;
    checking->next_ms = now + PROGRESS_EVERY_MS;
    checking->view->progress = &checking->progress;
    publish(checking->bench, checking->view);
    checking->view->progress = NULL;
}

static bool keeps_going(void *context, size_t done, size_t waiting) {
    struct checking *checking = context;
    (void)done;
    (void)waiting;
    tell_progress(checking);
    return !atomic_load(&checking->bench->overtaken) && !atomic_load(&checking->bench->given_up);
}

static void take_progress(void *context, size_t done, size_t of) {
    struct checking *checking = context;
    checking->progress.done = done;
    checking->progress.of = of;
    tell_progress(checking);
}

static void publish_report(
        struct checking *checking, const struct check_report *report, bool whole) {
    struct view *view = checking->view;
    if (atomic_load(&checking->bench->overtaken)) {
        return;
    }
    checking->told = true;
    view->report = report;
    view->whole = whole;
    view->given_up = atomic_load(&checking->bench->given_up);
    view->report_site = checking->site;
    view->report_document = view->good;
    view->report_number = view->good_number;
    publish(checking->bench, view);
    view->report = NULL;
}

static void take_verdicts(void *context, const struct check_report *report) {
    publish_report(context, report, false);
}

/** Checks the good document and publishes, first the verdicts, then all of it; dropped when overtaken. view: what was
 *  published before, without report. */
static void check(struct bench *bench, struct view *view) {
    struct arena arena;
    struct site today;
    struct site drawn;
    struct check_report report;
    struct problem problem = {0};
    struct checking checking = {.bench = bench,
            .view = view,
            .site = &drawn,
            .begun_ms = now_ms(),
            .next_ms = now_ms() + PROGRESS_FROM_MS};
    const struct check_options options = {.today_day = host_today(),
            .proof = {.keep_going = keeps_going, .keep_going_context = &checking},
            .verdicts = take_verdicts,
            .verdicts_context = &checking,
            .progress = take_progress,
            .progress_context = &checking};
    arena_init(&arena, host_pages(), 0);
    if (temporary_apply(&view->good->site, options.today_day, &arena, &today, &problem).good &&
            break_ins_from_drawing(&today, &arena, &drawn, &problem).good &&
            check_site(&drawn, &options, host_pages(), &arena, &report, &problem).good) {
        publish_report(&checking, &report, true);
    }
    arena_finish(&arena);
}

/** Notes what the file now is, and gives the number of that text; 0: the page has written since `writes`, so that
 *  this is no longer what the file is. One that cannot be read is a text of its own. */
static uint64_t note_text(struct bench *bench, const struct document *document, uint64_t writes) {
    struct problem problem = {0};
    const bool readable = document->file.text.start != NULL;
    pthread_mutex_lock(&bench->lock);
    if (bench->writes != writes) {
        pthread_mutex_unlock(&bench->lock);
        return 0;
    }
    const struct text former = history_present(&bench->history);
    const bool known = readable && former.start != NULL && text_equal(former, document->file.text);
    if (!known) {
        bench->number++;
        /* Without memory for it there is no way back to this text, and that is all. */
        (void)(readable && history_add(&bench->history, document->file.text, NULL, &problem).good);
    }
    const uint64_t number = bench->number;
    pthread_mutex_unlock(&bench->lock);
    return number;
}

/** number: 0: the run is over. One that begins is wanted to its end. */
static void set_checking(struct bench *bench, uint64_t number) {
    pthread_mutex_lock(&bench->lock);
    bench->checking = number;
    if (number != 0) {
        atomic_store(&bench->given_up, false);
    }
    pthread_mutex_unlock(&bench->lock);
}

/** Reads the file as it is, publishes what can be told at once, then checks. */
static void look(struct bench *bench) {
    struct problem problem = {0};
    struct document *document = document_new();
    if (document == NULL) {
        return;
    }
    pthread_mutex_lock(&bench->lock);
    const uint64_t writes = bench->writes;
    pthread_mutex_unlock(&bench->lock);
    bench->mark = mark_of(bench->path);
    const bool read = document_read_file(document, bench->path, &bench->search, &problem).good;
    const uint64_t number = note_text(bench, document, writes);
    if (number == 0) {
        document_drop(document);
        return;
    }
    struct document *former = read ? bench->good : NULL;
    if (read) {
        document->site.building.recall = bench->recall;
        bench->good = document;
        bench->good_number = number;
    }
    recall_turn(bench->recall);
    struct view view = {.path = bench->path,
            .number = number,
            .document = document,
            .read = read,
            .good = bench->good,
            .good_number = bench->good_number,
            .saved_s = (int64_t)bench->mark.changed.tv_sec,
            .problem = read ? NULL : &problem};
    if (read || bench->site == NULL) {
        note_site(bench, &view);
    }
    publish(bench, &view);
    document_drop(former);
    if (bench->good != NULL && !atomic_load(&bench->overtaken)) {
        set_checking(bench, number);
        check(bench, &view);
        set_checking(bench, 0);
    }
    if (!read) {
        document_drop(document);
    }
}

static void *work(void *context) {
    struct bench *bench = context;
    look(bench);
    pthread_mutex_lock(&bench->lock);
    while (!bench->stopping) {
        const struct timespec until = after_ms(LOOK_EVERY_MS);
        if (!bench->look_now) {
            (void)pthread_cond_timedwait(&bench->work, &bench->lock, &until);
        }
        const bool wanted = bench->look_now;
        bench->look_now = false;
        atomic_store(&bench->overtaken, bench->stopping);
        pthread_mutex_unlock(&bench->lock);
        const struct mark mark = mark_of(bench->path);
        if (!atomic_load(&bench->overtaken) && (wanted || !mark_equal(&mark, &bench->mark))) {
            look(bench);
        }
        pthread_mutex_lock(&bench->lock);
    }
    pthread_mutex_unlock(&bench->lock);
    return NULL;
}

/* ---- editing */

/** With the lock held: the thread drops what it does and looks again. */
static void look_again(struct bench *bench) {
    bench->look_now = true;
    atomic_store(&bench->overtaken, true);
    pthread_cond_signal(&bench->work);
}

bool bench_give_up(struct bench *bench, uint64_t number) {
    pthread_mutex_lock(&bench->lock);
    const bool runs = bench->checking == number && number != 0;
    if (runs) {
        atomic_store(&bench->given_up, true);
    }
    pthread_mutex_unlock(&bench->lock);
    return runs;
}

bool bench_go_on(struct bench *bench) {
    pthread_mutex_lock(&bench->lock);
    const bool given_up = atomic_load(&bench->given_up);
    if (given_up) {
        look_again(bench);
    }
    pthread_mutex_unlock(&bench->lock);
    return given_up;
}

/** With the lock held. Whether the file is what the page of this number knew. */
static bool is_known(const struct bench *bench, uint64_t number, struct text present) {
    const struct text former = history_present(&bench->history);
    return number == bench->number && former.start != NULL && text_equal(former, present);
}

enum bench_edit bench_edit(struct bench *bench, uint64_t number, const struct document_edit *edits,
        size_t count, struct history_note note, struct problem *ret_problem) {
    enum bench_edit done = BENCH_EDIT_REFUSED;
    struct document *document = document_new();
    struct text text = {0};
    if (document == NULL) {
        (void)problem_set(
                ret_problem, PROBLEM_MEMORY, "", __FILE__, __LINE__, "there is no memory left");
        return done;
    }
    /* The lock is held while the file is written: two pages that edit at once come one after the other, and the second
     * is told of the first by its number. */
    pthread_mutex_lock(&bench->lock);
    const bool read = document_read_file(document, bench->path, &bench->search, ret_problem).good;
    if (!is_known(bench, number, document->file.text)) {
        done = BENCH_EDIT_CONFLICT;
    } else if (read &&
            document_edit(document, edits, count, &bench->search, &text, ret_problem).good &&
            host_write_file(bench->path, text, ret_problem).good &&
            history_add(&bench->history, text, &note, ret_problem).good) {
        bench->number++;
        bench->writes++;
        done = BENCH_EDIT_DONE;
    }
    look_again(bench);
    pthread_mutex_unlock(&bench->lock);
    document_drop(document);
    return done;
}

enum bench_edit bench_replace(struct bench *bench, uint64_t number, struct text text,
        struct history_note note, struct problem *ret_problem) {
    struct arena arena;
    struct text present = {0};
    enum bench_edit done = BENCH_EDIT_REFUSED;
    arena_init(&arena, host_pages(), 0);
    pthread_mutex_lock(&bench->lock);
    if (host_read_file(bench->path, 0, &arena, &present, ret_problem).good) {
        if (!is_known(bench, number, present)) {
            done = BENCH_EDIT_CONFLICT;
        } else if (host_write_file(bench->path, text, ret_problem).good &&
                history_add(&bench->history, text, &note, ret_problem).good) {
            bench->number++;
            bench->writes++;
            done = BENCH_EDIT_DONE;
        }
    }
    look_again(bench);
    pthread_mutex_unlock(&bench->lock);
    arena_finish(&arena);
    return done;
}

/** Whether the text can be read where the site file lies. */
static outcome check_readable(struct bench *bench, struct text text, struct problem *ret_problem) {
    struct document present;
    struct document document;
    struct problem problem = {0};
    document_init(&present, host_pages());
    document_init(&document, host_pages());
    const outcome done = document_read_file(&present, bench->path, &bench->search, &problem).good &&
                    document_read_text(&document, bench->path, present.file.folder.start, text,
                            &bench->search, &problem)
                            .good
            ? outcome_good()
            : problem_set(ret_problem, PROBLEM_BAD_VALUE, "", __FILE__, __LINE__,
                      "Others built on it since, so that the file could not be read without it "
                      "(%.160s). Take out first what they added.",
                      document.problem_count > 0 ? document.problems[0].what.start : problem.text);
    document_finish(&document);
    document_finish(&present);
    return done;
}

/** With the lock held, and the file being what is known of it. */
static outcome turn(struct bench *bench, struct text by, bool forward, struct arena *arena,
        struct problem *ret_problem) {
    struct text text = {0};
    TRY(history_turn(&bench->history, by, forward, arena, &text, ret_problem));
    if (!history_knows(&bench->history, by, forward, text)) {
        TRY(check_readable(bench, text, ret_problem));
    }
    TRY(host_write_file(bench->path, text, ret_problem));
    return history_turned(&bench->history, by, forward, text, ret_problem);
}

enum bench_edit bench_step(
        struct bench *bench, struct text by, bool forward, struct problem *ret_problem) {
    struct arena arena;
    struct text present = {0};
    enum bench_edit done = BENCH_EDIT_REFUSED;
    arena_init(&arena, host_pages(), 0);
    pthread_mutex_lock(&bench->lock);
    if (host_read_file(bench->path, 0, &arena, &present, ret_problem).good) {
        if (!is_known(bench, bench->number, present)) {
            done = BENCH_EDIT_CONFLICT;
        } else if (turn(bench, by, forward, &arena, ret_problem).good) {
            bench->number++;
            bench->writes++;
            done = BENCH_EDIT_DONE;
        }
    }
    look_again(bench);
    pthread_mutex_unlock(&bench->lock);
    arena_finish(&arena);
    return done;
}

/* ---- life */

outcome bench_open(
        const char *path, const char *data, struct bench **ret_bench, struct problem *ret_problem) {
    struct bench *bench = calloc(1, sizeof *bench);
    pthread_condattr_t monotonic;
    if (bench == NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "there is no memory left to open the bench");
    }
    bench->path = path;
    bench->search.data = data;
    if (!recall_make(host_pages(), &bench->recall, ret_problem).good) {
        free(bench);
        FAIL(ret_problem, PROBLEM_MEMORY, "", "there is no memory left to open the bench");
    }
    pthread_mutex_init(&bench->lock, NULL);
    pthread_condattr_init(&monotonic);
    pthread_condattr_setclock(&monotonic, CLOCK_MONOTONIC);
    pthread_cond_init(&bench->news, &monotonic);
    pthread_cond_init(&bench->work, &monotonic);
    pthread_condattr_destroy(&monotonic);
    if (pthread_create(&bench->thread, NULL, work, bench) != 0) {
        recall_drop(bench->recall);
        free(bench);
        FAIL(ret_problem, PROBLEM_SYSTEM, "", "the system gives no thread to check with");
    }
    *ret_bench = bench;
    return outcome_good();
}

const char *bench_path(const struct bench *bench) {
    return bench->path;
}

const struct document_search *bench_search(const struct bench *bench) {
    return &bench->search;
}

struct recall_tally bench_recalled(const struct bench *bench) {
    return recall_tally(bench->recall);
}

void bench_stop(struct bench *bench) {
    pthread_mutex_lock(&bench->lock);
    bench->stopping = true;
    atomic_store(&bench->overtaken, true);
    pthread_cond_broadcast(&bench->news);
    pthread_cond_signal(&bench->work);
    pthread_mutex_unlock(&bench->lock);
}

uint64_t bench_number(struct bench *bench) {
    pthread_mutex_lock(&bench->lock);
    const uint64_t number = bench->number;
    pthread_mutex_unlock(&bench->lock);
    return number;
}

bool bench_stopping(struct bench *bench) {
    pthread_mutex_lock(&bench->lock);
    const bool stopping = bench->stopping;
    pthread_mutex_unlock(&bench->lock);
    return stopping;
}

void bench_close(struct bench *bench) {
    bench_stop(bench);
    pthread_join(bench->thread, NULL);
    bench_release(bench->newest);
    document_drop(bench->good);
    free(bench->site);
    recall_drop(bench->recall);
    history_finish(&bench->history);
    pthread_cond_destroy(&bench->news);
    pthread_cond_destroy(&bench->work);
    pthread_mutex_destroy(&bench->lock);
    free(bench);
}
