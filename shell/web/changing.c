#include "web/changing.h"

#include "host/host.h"
#include "web/answer.h"
#include "web/import.h"
#include "web/trying.h"

#include <stdlib.h>
#include <string.h>

enum { EDITS_MOST = 2000 }; /* a table of 128 zones, pasted, has a thousand cells */

/* Kept by itself before the first change. */
static const char FIRST_REVISION[] = "as found";

/** {"number": 7, "edits": [{"path": "zones[1].behaviour", "value": "entry"}], "says": "..."}; null: it is taken out.
 *  False: it is none. The texts live in body. */
static bool read_edits(
        const json_t *body, uint64_t *ret_number, struct document_edit *edits, size_t *ret_count) {
    const json_t *number = json_object_get(body, "number");
    const json_t *list = json_object_get(body, "edits");
    const size_t count = json_array_size(list);
    if (!json_is_integer(number) || json_integer_value(number) < 0 || count > EDITS_MOST) {
        return false;
    }
    for (size_t i = 0; i < count; i++) {
        const json_t *edit = json_array_get(list, i);
        const json_t *path = json_object_get(edit, "path");
        const json_t *value = json_object_get(edit, "value");
        if (!json_is_string(path) || !(json_is_string(value) || json_is_null(value))) {
            return false;
        }
        edits[i] = (struct document_edit){.path = json_string_value(path),
                .value = {json_string_value(value), json_string_length(value)}};
    }
    *ret_number = (uint64_t)json_integer_value(number);
    *ret_count = count;
    return true;
}

/** "zoom": VIEW_ZOOM_LEAST to VIEW_ZOOM_MOST, "layer": its name; both may be left out. False: it is no look. */
static bool read_look(const json_t *body, struct view_look *ret_look) {
    const json_t *zoom = json_object_get(body, "zoom");
    const json_t *layer = json_object_get(body, "layer");
    *ret_look = (struct view_look){.zoom = zoom == NULL ? 1 : json_number_value(zoom),
            .layer = {json_string_value(layer), json_string_length(layer)}};
    return ret_look->zoom >= VIEW_ZOOM_LEAST && ret_look->zoom <= VIEW_ZOOM_MOST;
}

/** Nothing where it is no text, or one of more bytes. Borrows. */
static struct text short_text(const json_t *body, const char *key, size_t most) {
    const json_t *value = json_object_get(body, key);
    const size_t length = json_string_length(value);
    return length > most ? (struct text){0} : (struct text){json_string_value(value), length};
}

/** "page": which one asks, by a word of its own. */
static struct text page_of(const json_t *body) {
    enum { PAGE_MOST = 40 };
    return short_text(body, "page", PAGE_MOST);
}

/** With "says": what an edit does, as undo will call it. */
static struct history_note note_of(const json_t *body) {
    enum { SAYS_MOST = 400 };
    return (struct history_note){.by = page_of(body), .says = short_text(body, "says", SAYS_MOST)};
}

/** The drawing as it would be with the edits; nothing is written. */
static enum MHD_Result say_tried(const struct asked *asked, const struct document_edit *edits,
        size_t count, const struct view_look *look) {
    struct arena arena;
    struct text_builder out;
    struct problem problem = {0};
    arena_init(&arena, asked_pages(asked), 0);
    text_builder_init(&out, &arena);
    const outcome tried = trying_add(bench_path(asked->seat->bench),
            bench_search(asked->seat->bench), edits, count, look, &out, &problem);
    const outcome done = asked_outcome(asked, tried, &problem);
    const enum MHD_Result sent = answer_built(asked->connection, done, &out, &problem);
    arena_finish(&arena);
    return sent;
}

static enum MHD_Result make_edits(const struct asked *asked, uint64_t number,
        const struct document_edit *edits, size_t count, struct history_note note) {
    struct problem problem = {0};
    revisions_begin(&asked->seat->revisions, FIRST_REVISION);
    const enum bench_edit done =
            bench_edit(asked->seat->bench, number, edits, count, note, &problem);
    return answer_edit(asked->connection, done, &problem);
}

static enum MHD_Result edit(const struct asked *asked, bool only_try) {
    struct document_edit edits[EDITS_MOST];
    size_t count = 0;
    uint64_t number = 0;
    enum MHD_Result sent = MHD_NO;
    struct view_look look;
    json_t *body = asked_json(asked->body);
    if (!read_edits(body, &number, edits, &count) || (count == 0 && !only_try) ||
            !read_look(body, &look)) {
        sent = answer_refuse(asked->connection, MHD_HTTP_BAD_REQUEST, "This is no edit.\n");
    } else if (only_try) {
        sent = say_tried(asked, edits, count, &look);
    } else {
        sent = make_edits(asked, number, edits, count, note_of(body));
    }
    json_decref(body);
    return sent;
}

enum MHD_Result changing_edit(const struct asked *asked) {
    return edit(asked, false);
}

enum MHD_Result changing_try(const struct asked *asked) {
    return edit(asked, true);
}

static enum MHD_Result step(const struct asked *asked, bool forward) {
    struct problem problem = {0};
    json_t *body = asked_json(asked->body);
    const enum bench_edit done = bench_step(asked->seat->bench, page_of(body), forward, &problem);
    json_decref(body);
    return answer_edit(asked->connection, done, &problem);
}

enum MHD_Result changing_undo(const struct asked *asked) {
    return step(asked, false);
}

enum MHD_Result changing_redo(const struct asked *asked) {
    return step(asked, true);
}

static enum MHD_Result say_whether(const struct asked *asked, bool done, const char *why_not) {
    struct problem problem = {0};
    if (!done) {
        (void)problem_set(&problem, PROBLEM_MISSING, "", __FILE__, __LINE__, "%s", why_not);
    }
    return answer_edit(asked->connection, done ? BENCH_EDIT_DONE : BENCH_EDIT_REFUSED, &problem);
}

/** {"number": 7}: of the text whose check is not to be waited for. */
enum MHD_Result changing_stop(const struct asked *asked) {
    json_t *body = asked_json(asked->body);
    const json_int_t number = json_integer_value(json_object_get(body, "number"));
    json_decref(body);
    return say_whether(asked, number > 0 && bench_give_up(asked->seat->bench, (uint64_t)number),
            "Nothing is being checked that could be stopped.");
}

enum MHD_Result changing_go_on(const struct asked *asked) {
    return say_whether(
            asked, bench_go_on(asked->seat->bench), "No check was stopped: it has its verdicts.");
}

/** {"number": 7, "text": "site: ..."}: the whole file anew, as one step of undo. */
enum MHD_Result changing_import(const struct asked *asked) {
    struct seat *seat = asked->seat;
    struct arena arena;
    struct text_builder out;
    struct problem problem = {0};
    enum MHD_Result sent = MHD_NO;
    json_t *body = asked_json(asked->body);
    const json_t *number = json_object_get(body, "number");
    const json_t *content = json_object_get(body, "text");
    const struct text text = {json_string_value(content), json_string_length(content)};
    arena_init(&arena, host_pages(), 0);
    text_builder_init(&out, &arena);
    if (!json_is_integer(number) || json_integer_value(number) < 0 || text.start == NULL) {
        sent = answer_refuse(asked->connection, MHD_HTTP_BAD_REQUEST, "This is no site file.\n");
    } else if (!import_reads("site file", seat->folder, text, bench_search(seat->bench), &out)) {
        sent = answer_say(asked->connection, MHD_HTTP_UNPROCESSABLE_CONTENT, "application/json",
                text_built(&out).start);
    } else {
        revisions_begin(&seat->revisions, FIRST_REVISION);
        const enum bench_edit done = bench_replace(
                seat->bench, (uint64_t)json_integer_value(number), text, note_of(body), &problem);
        sent = answer_edit(asked->connection, done, &problem);
    }
    arena_finish(&arena);
    json_decref(body);
    return sent;
}
