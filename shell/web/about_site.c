#include "web/about_site.h"

#include "draft/models.h"
#include "host/host.h"
#include "web/answer.h"
#include "web/changing.h"
#include "web/news.h"
#include "web/telling.h"
#include "web/ticking.h"

#include <stdlib.h>
#include <string.h>

enum { WAIT_MS = 10000 }; /* so long a page waits for the first snapshot */

/* ---- snapshots */

static void release_snapshot(void *context) {
    bench_release(context);
}

/** The newest snapshot alone. */
static enum MHD_Result state(const struct asked *asked) {
    uint64_t serial = 0;
    struct bench_snapshot *snapshot = bench_wait(asked->seat->bench, 0, WAIT_MS, &serial);
    if (snapshot == NULL) {
        return answer_refuse(
                asked->connection, MHD_HTTP_SERVICE_UNAVAILABLE, "The bench is not ready yet.\n");
    }
    struct MHD_Response *response = MHD_create_response_from_buffer_with_free_callback_cls(
            snapshot->length, snapshot->json, release_snapshot, snapshot);
    if (response == NULL) {
        bench_release(snapshot);
        return MHD_NO;
    }
    return answer_give(asked->connection, MHD_HTTP_OK, "application/json", response);
}

/* ---- what was keyed in */

static enum MHD_Result say_keyed(const struct asked *asked) {
    struct problem problem = {0};
    char *text = keyed_read(&asked->seat->keyed, &problem);
    const enum MHD_Result sent = text == NULL
            ? answer_edit(asked->connection, BENCH_EDIT_REFUSED, &problem)
            : answer_json(asked->connection, text);
    free(text);
    return sent;
}

/** {"zone 6 side door behaviour": "entry"}: keyed in with this value; null: not keyed in after all. Answers with all
 *  lines. What was keyed in first is kept as a revision, if it can be. */
static enum MHD_Result key(const struct asked *asked) {
    struct problem problem = {0};
    const char *changes = asked->body.start == NULL ? "" : asked->body.start;
    char *before = keyed_read(&asked->seat->keyed, &problem);
    if (before != NULL && strcmp(before, "{}") == 0) {
        (void)revisions_keep(&asked->seat->revisions, text_of("before keying in"), NULL).good;
    }
    free(before);
    return keyed_note(&asked->seat->keyed, changes, asked->body.length, &problem).good
            ? say_keyed(asked)
            : answer_edit(asked->connection, BENCH_EDIT_REFUSED, &problem);
}

/* ---- acceptance */

/** {"act": "hand", "test": "zone 6", "by": "N. Tester", "at_ms": 0}: somebody did this; at_ms where it was noted
 *  without a connection. */
static enum MHD_Result do_in_acceptance(const struct asked *asked) {
    struct problem problem = {0};
    json_t *body = asked_json(asked->body);
    const json_t *test = json_object_get(body, "test");
    const json_t *by = json_object_get(body, "by");
    const struct accepting_act act = {.act = json_string_value(json_object_get(body, "act")),
            .test = {json_string_value(test), json_string_length(test)},
            .by = {json_string_value(by), json_string_length(by)},
            .at_ms = json_integer_value(json_object_get(body, "at_ms"))};
    const bool done =
            act.act != NULL && ticking_do(asked->seat, asked->archive, act, &problem).good;
    const enum MHD_Result sent = act.act == NULL
            ? answer_refuse(asked->connection, MHD_HTTP_BAD_REQUEST, "Nothing is done by this.\n")
            : answer_edit(asked->connection, done ? BENCH_EDIT_DONE : BENCH_EDIT_REFUSED, &problem);
    json_decref(body);
    return sent;
}

/** {"text": "...", "by": ""}: a station's list, shown as it is understood; with a name it is stored. */
static enum MHD_Result paste(const struct asked *asked) {
    struct arena arena;
    struct text_builder out;
    struct problem problem = {0};
    json_t *body = asked_json(asked->body);
    const json_t *source = json_object_get(body, "text");
    const json_t *by = json_object_get(body, "by");
    arena_init(&arena, host_pages(), 0);
    text_builder_init(&out, &arena);
    const outcome done = ticking_paste(asked->seat, asked->archive,
            (struct text){json_string_value(source), json_string_length(source)},
            (struct text){json_string_value(by), json_string_length(by)}, &out, &problem);
    const enum MHD_Result sent = answer_built(asked->connection, done, &out, &problem);
    arena_finish(&arena);
    json_decref(body);
    return sent;
}

/* ---- rehearsing */

/** The body is a routine, as JSON; the answer is its course in words and as bars. */
static enum MHD_Result rehearse(const struct asked *asked) {
    struct arena arena;
    struct text_builder out;
    struct problem problem = {0};
    json_t *body = asked_json(asked->body);
    char *routine = json_is_object(body) ? json_dumps(body, JSON_PRESERVE_ORDER) : NULL;
    json_decref(body);
    if (routine == NULL) {
        return answer_refuse(asked->connection, MHD_HTTP_BAD_REQUEST, "This is no routine.\n");
    }
    arena_init(&arena, asked_pages(asked), 0);
    text_builder_init(&out, &arena);
    const outcome told = telling_add(bench_path(asked->seat->bench),
            bench_search(asked->seat->bench), text_of(routine), &out, &problem);
    const outcome done = asked_outcome(asked, told, &problem);
    const enum MHD_Result sent = answer_built(asked->connection, done, &out, &problem);
    arena_finish(&arena);
    free(routine);
    return sent;
}

/** Every device that the site could get, and whether its panel takes it. */
static enum MHD_Result say_devices(const struct asked *asked) {
    const struct document_search *search = bench_search(asked->seat->bench);
    struct arena arena;
    struct text_builder out;
    struct json_writer json;
    struct document document;
    struct problem problem = {0};
    arena_init(&arena, host_pages(), 0);
    text_builder_init(&out, &arena);
    json_init(&json, &out);
    document_init(&document, host_pages());
    outcome done = document_read_file(&document, bench_path(asked->seat->bench), search, &problem);
    if (done.good) {
        done = models_add(&document, search, &json, NULL, &problem);
    }
    const enum MHD_Result sent = answer_built(asked->connection, done, &out, &problem);
    document_finish(&document);
    arena_finish(&arena);
    return sent;
}

/** The site file as it is now, to be kept elsewhere. */
static enum MHD_Result say_file(const struct asked *asked) {
    struct arena arena;
    struct text content = {0};
    struct problem problem = {0};
    enum MHD_Result sent = MHD_NO;
    arena_init(&arena, host_pages(), 0);
    if (host_read_file(bench_path(asked->seat->bench), 0, &arena, &content, &problem).good) {
        sent = answer_give(asked->connection, MHD_HTTP_OK, "application/yaml",
                MHD_create_response_from_buffer(
                        content.length, (void *)content.start, MHD_RESPMEM_MUST_COPY));
    } else {
        sent = answer_edit(asked->connection, BENCH_EDIT_REFUSED, &problem);
    }
    arena_finish(&arena);
    return sent;
}

/* ---- where a path leads */

static enum MHD_Result tell_news(const struct asked *asked) {
    return answer_stream(asked->connection, news_open(asked->seat->bench), news_more, news_end);
}

static enum MHD_Result tell_acceptance(const struct asked *asked) {
    return answer_stream(asked->connection, ticking_open(asked->seat, asked->archive), ticking_more,
            ticking_end);
}

struct question {
    const char *path;
    enum MHD_Result (*answer)(const struct asked *asked);
};

static bool answer_one_of(const struct question *questions, size_t count, const struct asked *asked,
        const char *path, enum MHD_Result *ret_sent) {
    for (size_t i = 0; i < count; i++) {
        if (strcmp(path, questions[i].path) == 0) {
            *ret_sent = questions[i].answer(asked);
            return true;
        }
    }
    return false;
}

bool about_site_get(const struct asked *asked, const char *path, enum MHD_Result *ret_sent) {
    static const struct question questions[] = {
            {"/state", state},
            {"/news", tell_news},
            {"/site.yaml", say_file},
            {"/acceptance", tell_acceptance},
            {"/keyed", say_keyed},
            {"/devices", say_devices},
    };
    return answer_one_of(questions, sizeof questions / sizeof questions[0], asked, path, ret_sent);
}

bool about_site_post(const struct asked *asked, const char *path, enum MHD_Result *ret_sent) {
    static const struct question questions[] = {
            {"/edit", changing_edit},
            {"/try", changing_try},
            {"/undo", changing_undo},
            {"/redo", changing_redo},
            {"/import", changing_import},
            {"/stop", changing_stop},
            {"/go-on", changing_go_on},
            {"/rehearse", rehearse},
            {"/keyed", key},
            {"/acceptance", do_in_acceptance},
            {"/pasted", paste},
    };
    return answer_one_of(questions, sizeof questions / sizeof questions[0], asked, path, ret_sent);
}
