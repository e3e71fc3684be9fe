#include "web/ticking.h"

#include "accepting/pasted.h"
#include "host/host.h"
#include "web/line.h"

#include <inttypes.h>
#include <microhttpd.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

enum {
    LOOK_MS = 150,  /* how often the archive is looked at */
    BEAT_LOOKS = 13 /* a page hears something after so many looks at the latest */
};

/** A site file that was read, and its course. */
struct course {
    struct document document;
    struct accepting *accepting;
};

struct ticking {
    struct seat *seat;
    const char *archive;
    uint64_t serial; /* of the site's snapshot that was seen last */
    bool open;
    struct course course;
    struct problem problem; /* that was told last */
    bool told;
    char *json;
    char beat[64];
    struct line line;
};

static outcome course_open(struct course *course, const struct seat *seat, const char *archive,
        struct problem *ret_problem) {
    document_init(&course->document, host_pages());
    course->accepting = NULL;
    if (archive == NULL) {
        FAIL(ret_problem, PROBLEM_MISSING, "",
                "This bench was started without the archive of the signals. Start it with the file "
                "in "
                "which lintel listen stores them: lintel serve --archive signals.db");
    }
    const struct document_search *search = bench_search(seat->bench);
    if (!document_read_file(&course->document, bench_path(seat->bench), search, ret_problem).good) {
        FAIL(ret_problem, PROBLEM_UNREADABLE, "",
                "the site file cannot be read as it is: the bench says why");
    }
    return accepting_open(&course->document.site, archive, false, &course->accepting, ret_problem);
}

static void course_close(struct course *course) {
    accepting_close(course->accepting);
    document_finish(&course->document);
}

static outcome course_feed(struct course *course, bool *ret_changed, struct problem *ret_problem) {
    return accepting_feed(
            course->accepting, (struct accepting_listener){0}, ret_changed, ret_problem);
}

/* ---- the stream */

struct ticking *ticking_open(struct seat *seat, const char *archive) {
    struct ticking *ticking = calloc(1, sizeof *ticking);
    if (ticking != NULL) {
        ticking->seat = seat;
        ticking->archive = archive;
    }
    return ticking;
}

static void forget(struct ticking *ticking) {
    if (ticking->open) {
        course_close(&ticking->course);
        ticking->open = false;
    }
}

/** Puts the next line together: the list as it is, or what is in the way. */
static void compose(struct ticking *ticking) {
    struct arena arena;
    struct text_builder out;
    struct json_writer json;
    arena_init(&arena, host_pages(), 0);
    text_builder_init(&out, &arena);
    json_init(&json, &out);
    json_open_object(&json, NULL);
    if (ticking->problem.kind == PROBLEM_NONE) {
        accepting_add_json(ticking->course.accepting, &json);
    } else {
        json_add_string(&json, "problem", ticking->problem.text);
    }
    json_close_object(&json);
    const struct text built = text_built(&out);
    free(ticking->json);
    ticking->json = arena.refused ? NULL : malloc(built.length);
    ticking->line = line_of_nothing();
    if (ticking->json != NULL) {
        const size_t length = line_from_json(built, ticking->json);
        ticking->line = line_of((struct text){ticking->json, length});
        ticking->told = true;
    }
    arena_finish(&arena);
}

/** Looks at the site and the archive once; whether there is something to tell. */
static bool look(struct ticking *ticking) {
    const struct problem former = ticking->problem;
    struct bench_snapshot *snapshot =
            bench_wait(ticking->seat->bench, ticking->serial, LOOK_MS, &ticking->serial);
    bool changed = false;
    if (snapshot != NULL) {
        forget(ticking); /* the site file may be another one now */
        bench_release(snapshot);
    }
    ticking->problem = (struct problem){0};
    if (!ticking->open) {
        ticking->open = true;
        if (course_open(&ticking->course, ticking->seat, ticking->archive, &ticking->problem)
                        .good) {
            changed = true;
        }
    }
    bool fed = false;
    if (ticking->problem.kind == PROBLEM_NONE &&
            !course_feed(&ticking->course, &fed, &ticking->problem).good) {
        fed = false;
    }
    if (ticking->problem.kind != PROBLEM_NONE) {
        forget(ticking);
        return !ticking->told || former.kind != ticking->problem.kind;
    }
    return changed || fed || !ticking->told;
}

/** That it is still there, and its clock: a tablet's may be another. */
static const char *beat(struct ticking *ticking) {
    struct timespec now;
    (void)clock_gettime(CLOCK_REALTIME, &now);
    (void)snprintf(ticking->beat, sizeof ticking->beat, "{\"beat\": true, \"now_ms\": %" PRId64 "}",
            (int64_t)now.tv_sec * 1000 + now.tv_nsec / 1000000);
    return ticking->beat;
}

ssize_t ticking_more(void *context, uint64_t position, char *room, size_t most) {
    struct ticking *ticking = context;
    (void)position;
    if (line_is_over(&ticking->line)) {
        bool news = false;
        for (size_t i = 0; i < BEAT_LOOKS && !news; i++) {
            if (bench_stopping(ticking->seat->bench)) {
                return MHD_CONTENT_READER_END_OF_STREAM;
            }
            news = look(ticking);
        }
        ticking->line = line_of(text_of(beat(ticking)));
        if (news) {
            compose(ticking);
        }
    }
    return (ssize_t)line_copy(&ticking->line, room, most);
}

void ticking_end(void *context) {
    struct ticking *ticking = context;
    forget(ticking);
    free(ticking->json);
    free(ticking);
}

/* ---- what is done */

outcome ticking_do(struct seat *seat, const char *archive, struct accepting_act act,
        struct problem *ret_problem) {
    struct course course;
    outcome done = course_open(&course, seat, archive, ret_problem);
    if (done.good) {
        done = course_feed(&course, NULL, ret_problem);
    }
    if (done.good) {
        done = accepting_do(course.accepting, act, ret_problem);
    }
    course_close(&course);
    return done;
}

/** With the course open and fed. */
static outcome paste(struct course *course, struct text source, struct text by,
        struct text_builder *out, struct problem *ret_problem) {
    struct json_writer json;
    struct pasted pasted;
    size_t added = 0;
    TRY(pasted_read(course->accepting, source, out->arena, &pasted, ret_problem));
    if (by.length > 0) {
        TRY(pasted_store(course->accepting, &pasted, by, out->arena, &added, ret_problem));
    }
    json_init(&json, out);
    json_open_object(&json, NULL);
    pasted_add_json(&pasted, &json);
    json_add_integer(&json, "added", (int64_t)added);
    json_close_object(&json);
    return outcome_good();
}

outcome ticking_paste(struct seat *seat, const char *archive, struct text source, struct text by,
        struct text_builder *out, struct problem *ret_problem) {
    struct course course;
    outcome done = course_open(&course, seat, archive, ret_problem);
    if (done.good) {
        done = course_feed(&course, NULL, ret_problem);
    }
    if (done.good) {
        done = paste(&course, source, by, out, ret_problem);
    }
    course_close(&course);
    return done;
}
