#include "web/server.h"

#include "draft/models.h"
#include "host/host.h"
#include "web/escapes.h"
#include "web/file.h"
#include "web/folder.h"
#include "web/import.h"
#include "web/news.h"
#include "web/overview.h"
#include "web/revising.h"
#include "web/telling.h"
#include "web/ticking.h"
#include "web/trying.h"

#include <arpa/inet.h>
#include <jansson.h>
#include <microhttpd.h>
#include <netinet/in.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum {
    IDLE_S = 30,       /* a connection that says nothing for so long is dropped */
    WAIT_MS = 10000,   /* so long a page waits for the first snapshot */
    EDITS_MOST = 2000, /* a table of 128 zones, pasted, has a thousand cells */
};

/* Kept by itself before the first change. */
static const char FIRST_REVISION[] = "as found";

struct server {
    struct MHD_Daemon *daemon;
    struct sites *sites;
    struct overview *overview; /* of a folder, or NULL */
    struct door door;
};

/** A request while its body comes in. */
struct request {
    char *body;
    size_t length;
    size_t most; /* that its body may have */
    bool too_long;
};

/** NULL: its body is no JSON. */
static json_t *json_of(const struct request *request) {
    return json_loadb(request->body == NULL ? "" : request->body, request->length,
            JSON_REJECT_DUPLICATES, NULL);
}

/* ---- answers */

/* Nothing from elsewhere, nothing inline, nobody frames us; what was shown is kept by nobody. */
static const char *const headers[][2] = {
        {"Content-Security-Policy",
                "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; "
                "connect-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"},
        {"X-Content-Type-Options", "nosniff"},
        {"X-Frame-Options", "DENY"},
        {"Referrer-Policy", "no-referrer"},
        {"Cross-Origin-Opener-Policy", "same-origin"},
        {"Cross-Origin-Resource-Policy", "same-origin"},
        {"Cache-Control", "no-store"},
};

static enum MHD_Result give(struct MHD_Connection *connection, unsigned status, const char *type,
        struct MHD_Response *response) {
    if (response == NULL) {
        return MHD_NO;
    }
    for (size_t i = 0; i < sizeof headers / sizeof headers[0]; i++) {
        (void)MHD_add_response_header(response, headers[i][0], headers[i][1]);
    }
    (void)MHD_add_response_header(response, MHD_HTTP_HEADER_CONTENT_TYPE, type);
    const enum MHD_Result sent = MHD_queue_response(connection, status, response);
    MHD_destroy_response(response);
    return sent;
}

static enum MHD_Result say(
        struct MHD_Connection *connection, unsigned status, const char *type, const char *text) {
    return give(connection, status, type,
            MHD_create_response_from_buffer(strlen(text), (void *)text, MHD_RESPMEM_MUST_COPY));
}

static enum MHD_Result refuse(
        struct MHD_Connection *connection, unsigned status, const char *text) {
    return say(connection, status, "text/plain; charset=utf-8", text);
}

/** {"done": ..., "what": ...} */
static enum MHD_Result answer_edit(
        struct MHD_Connection *connection, enum bench_edit done, const struct problem *problem) {
    static const struct {
        unsigned status;
        const char *name;
    } words[] = {
            [BENCH_EDIT_DONE] = {MHD_HTTP_OK, "done"},
            [BENCH_EDIT_CONFLICT] = {MHD_HTTP_CONFLICT, "conflict"},
            [BENCH_EDIT_REFUSED] = {MHD_HTTP_UNPROCESSABLE_CONTENT, "refused"},
    };
    json_t *object = json_pack("{s:s, s:s}", "result", words[done].name, "what",
            done == BENCH_EDIT_CONFLICT ? "The file was changed elsewhere; this is what it is now."
                                        : problem->text);
    char *text = object == NULL ? NULL : json_dumps(object, JSON_COMPACT);
    json_decref(object);
    const enum MHD_Result sent =
            text == NULL ? MHD_NO : say(connection, words[done].status, "application/json", text);
    free(text);
    return sent;
}

/* ---- who may ask */

static const char *header(struct MHD_Connection *connection, const char *name) {
    return MHD_lookup_connection_value(connection, MHD_HEADER_KIND, name);
}

static bool origin_is_ours(
        const struct server *server, struct MHD_Connection *connection, bool needed) {
    const char *origin = header(connection, MHD_HTTP_HEADER_ORIGIN);
    return origin == NULL ? !needed : door_knows_origin(&server->door, origin);
}

static bool knows_key(const struct server *server, struct MHD_Connection *connection) {
    return door_fits_key(&server->door,
            MHD_lookup_connection_value(connection, MHD_COOKIE_KIND, server->door.cookie));
}

/** The first visit: the key moves from the address, which browsers keep and show, into a cookie. */
static enum MHD_Result welcome(const struct server *server, struct MHD_Connection *connection) {
    struct MHD_Response *response =
            MHD_create_response_from_buffer(0, (void *)"", MHD_RESPMEM_PERSISTENT);
    char cookie[DOOR_KEY_LENGTH + 96];
    door_set_cookie(&server->door, cookie, sizeof cookie);
    if (response != NULL) {
        (void)MHD_add_response_header(response, MHD_HTTP_HEADER_SET_COOKIE, cookie);
        (void)MHD_add_response_header(response, MHD_HTTP_HEADER_LOCATION, "/");
    }
    return give(connection, MHD_HTTP_SEE_OTHER, "text/plain", response);
}

/* ---- snapshots */

/** Server-sent events: more and end take the stream of `context`, which is NULL where there was no memory for it. */
static enum MHD_Result stream(struct MHD_Connection *connection, void *context,
        MHD_ContentReaderCallback more, MHD_ContentReaderFreeCallback end) {
    enum { BLOCK = 32 * 1024 };
    struct MHD_Response *response = context == NULL
            ? NULL
            : MHD_create_response_from_callback(MHD_SIZE_UNKNOWN, BLOCK, more, context, end);
    if (response == NULL && context != NULL) {
        end(context);
    }
    return response == NULL ? MHD_NO : give(connection, MHD_HTTP_OK, "text/event-stream", response);
}

static void release_snapshot(void *context) {
    bench_release(context);
}

/** The newest snapshot alone. */
static enum MHD_Result state(struct seat *seat, struct MHD_Connection *connection) {
    uint64_t serial = 0;
    struct bench_snapshot *snapshot = bench_wait(seat->bench, 0, WAIT_MS, &serial);
    if (snapshot == NULL) {
        return refuse(connection, MHD_HTTP_SERVICE_UNAVAILABLE, "The bench is not ready yet.\n");
    }
    struct MHD_Response *response = MHD_create_response_from_buffer_with_free_callback_cls(
            snapshot->length, snapshot->json, release_snapshot, snapshot);
    if (response == NULL) {
        bench_release(snapshot);
        return MHD_NO;
    }
    return give(connection, MHD_HTTP_OK, "application/json", response);
}

/* ---- edits */

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

/** "zoom": 1 to VIEW_ZOOM_MOST, "layer": its name; both may be left out. False: it is no look. */
static bool read_look(const json_t *body, struct view_look *ret_look) {
    const json_t *zoom = json_object_get(body, "zoom");
    const json_t *layer = json_object_get(body, "layer");
    *ret_look = (struct view_look){.zoom = zoom == NULL ? 1 : json_number_value(zoom),
            .layer = {json_string_value(layer), json_string_length(layer)}};
    return ret_look->zoom >= 1 && ret_look->zoom <= VIEW_ZOOM_MOST;
}

/** "says": what an edit does, as undo will call it. Nothing where it is no short text. Borrows. */
static struct text says_of(const json_t *body) {
    enum { SAYS_MOST = 400 };
    const json_t *says = json_object_get(body, "says");
    const size_t length = json_string_length(says);
    return length > SAYS_MOST ? (struct text){0} : (struct text){json_string_value(says), length};
}

/** The drawing as it would be with the edits; nothing is written. */
static enum MHD_Result say_tried(const struct seat *seat, struct MHD_Connection *connection,
        const struct document_edit *edits, size_t count, const struct view_look *look) {
    struct arena arena;
    struct text_builder out;
    struct problem problem = {0};
    arena_init(&arena, host_pages(), 0);
    text_builder_init(&out, &arena);
    const bool good = trying_add(
            bench_path(seat->bench), bench_search(seat->bench), edits, count, look, &out, &problem)
                              .good;
    const enum MHD_Result sent = good
            ? say(connection, MHD_HTTP_OK, "application/json", text_built(&out).start)
            : answer_edit(connection, BENCH_EDIT_REFUSED, &problem);
    arena_finish(&arena);
    return sent;
}

static enum MHD_Result edit(struct seat *seat, struct MHD_Connection *connection,
        const struct request *request, bool only_try) {
    struct document_edit edits[EDITS_MOST];
    size_t count = 0;
    uint64_t number = 0;
    struct problem problem = {0};
    enum MHD_Result sent = MHD_NO;
    struct view_look look;
    json_t *body = json_of(request);
    if (!read_edits(body, &number, edits, &count) || (count == 0 && !only_try) ||
            !read_look(body, &look)) {
        sent = refuse(connection, MHD_HTTP_BAD_REQUEST, "This is no edit.\n");
    } else if (only_try) {
        sent = say_tried(seat, connection, edits, count, &look);
    } else {
        revisions_begin(&seat->revisions, FIRST_REVISION);
        const enum bench_edit done =
                bench_edit(seat->bench, number, edits, count, says_of(body), &problem);
        sent = answer_edit(connection, done, &problem);
    }
    json_decref(body);
    return sent;
}

static enum MHD_Result step(struct seat *seat, struct MHD_Connection *connection, bool forward) {
    struct problem problem = {0};
    const enum bench_edit done = bench_step(seat->bench, forward, &problem);
    return answer_edit(connection, done, &problem);
}

/** {"number": 7, "text": "site: ..."}: the whole file anew, as one step of undo. */
static enum MHD_Result import(
        struct seat *seat, struct MHD_Connection *connection, const struct request *request) {
    struct arena arena;
    struct text_builder out;
    struct problem problem = {0};
    enum MHD_Result sent = MHD_NO;
    json_t *body = json_of(request);
    const json_t *number = json_object_get(body, "number");
    const json_t *content = json_object_get(body, "text");
    const struct text text = {json_string_value(content), json_string_length(content)};
    arena_init(&arena, host_pages(), 0);
    text_builder_init(&out, &arena);
    if (!json_is_integer(number) || json_integer_value(number) < 0 || text.start == NULL) {
        sent = refuse(connection, MHD_HTTP_BAD_REQUEST, "This is no site file.\n");
    } else if (!import_reads("site file", seat->folder, text, bench_search(seat->bench), &out)) {
        sent = say(connection, MHD_HTTP_UNPROCESSABLE_CONTENT, "application/json",
                text_built(&out).start);
    } else {
        revisions_begin(&seat->revisions, FIRST_REVISION);
        const enum bench_edit done = bench_replace(
                seat->bench, (uint64_t)json_integer_value(number), text, says_of(body), &problem);
        sent = answer_edit(connection, done, &problem);
    }
    arena_finish(&arena);
    json_decref(body);
    return sent;
}

/* ---- what was keyed in */

static enum MHD_Result say_keyed(struct seat *seat, struct MHD_Connection *connection) {
    struct problem problem = {0};
    char *text = keyed_read(&seat->keyed, &problem);
    const enum MHD_Result sent = text == NULL
            ? answer_edit(connection, BENCH_EDIT_REFUSED, &problem)
            : say(connection, MHD_HTTP_OK, "application/json", text);
    free(text);
    return sent;
}

/** {"zone 6 side door behaviour": "entry"}: keyed in with this value; null: not keyed in after all. Answers with all
 *  lines. What was keyed in first is kept as a revision, if it can be. */
static enum MHD_Result key(
        struct seat *seat, struct MHD_Connection *connection, const struct request *request) {
    struct problem problem = {0};
    const char *changes = request->body == NULL ? "" : request->body;
    char *before = keyed_read(&seat->keyed, &problem);
    if (before != NULL && strcmp(before, "{}") == 0) {
        (void)revisions_keep(&seat->revisions, text_of("before keying in"), NULL).good;
    }
    free(before);
    return keyed_note(&seat->keyed, changes, request->length, &problem).good
            ? say_keyed(seat, connection)
            : answer_edit(connection, BENCH_EDIT_REFUSED, &problem);
}

/* ---- acceptance */

/** {"act": "hand", "test": "zone 6", "by": "N. Tester", "at_ms": 0}: somebody did this; at_ms where it was noted
 *  without a connection. */
static enum MHD_Result do_in_acceptance(struct server *server, struct seat *seat,
        struct MHD_Connection *connection, const struct request *request) {
    struct problem problem = {0};
    json_t *body = json_loadb(request->body == NULL ? "" : request->body, request->length,
            JSON_REJECT_DUPLICATES, NULL);
    const json_t *test = json_object_get(body, "test");
    const json_t *by = json_object_get(body, "by");
    const struct accepting_act act = {.act = json_string_value(json_object_get(body, "act")),
            .test = {json_string_value(test), json_string_length(test)},
            .by = {json_string_value(by), json_string_length(by)},
            .at_ms = json_integer_value(json_object_get(body, "at_ms"))};
    const bool done =
            act.act != NULL && ticking_do(seat, sites_archive(server->sites), act, &problem).good;
    const enum MHD_Result sent = act.act == NULL
            ? refuse(connection, MHD_HTTP_BAD_REQUEST, "Nothing is done by this.\n")
            : answer_edit(connection, done ? BENCH_EDIT_DONE : BENCH_EDIT_REFUSED, &problem);
    json_decref(body);
    return sent;
}

/** {"text": "...", "by": ""}: a station's list, shown as it is understood; with a name it is stored. */
static enum MHD_Result paste(struct server *server, struct seat *seat,
        struct MHD_Connection *connection, const struct request *request) {
    struct arena arena;
    struct text_builder out;
    struct problem problem = {0};
    json_t *body = json_loadb(request->body == NULL ? "" : request->body, request->length,
            JSON_REJECT_DUPLICATES, NULL);
    const json_t *source = json_object_get(body, "text");
    const json_t *by = json_object_get(body, "by");
    arena_init(&arena, host_pages(), 0);
    text_builder_init(&out, &arena);
    const bool done = ticking_paste(seat, sites_archive(server->sites),
            (struct text){json_string_value(source), json_string_length(source)},
            (struct text){json_string_value(by), json_string_length(by)}, &out, &problem)
                              .good;
    const enum MHD_Result sent = done
            ? say(connection, MHD_HTTP_OK, "application/json", text_built(&out).start)
            : answer_edit(connection, BENCH_EDIT_REFUSED, &problem);
    arena_finish(&arena);
    json_decref(body);
    return sent;
}

/* ---- rehearsing */

/** The body is a routine, as JSON; the answer is its course in words and as bars. */
static enum MHD_Result rehearse(
        struct seat *seat, struct MHD_Connection *connection, const struct request *request) {
    struct arena arena;
    struct text_builder out;
    struct problem problem = {0};
    enum MHD_Result sent = MHD_NO;
    json_t *body = json_of(request);
    char *routine = json_is_object(body) ? json_dumps(body, JSON_PRESERVE_ORDER) : NULL;
    json_decref(body);
    if (routine == NULL) {
        return refuse(connection, MHD_HTTP_BAD_REQUEST, "This is no routine.\n");
    }
    arena_init(&arena, host_pages(), 0);
    text_builder_init(&out, &arena);
    if (telling_add(bench_path(seat->bench), bench_search(seat->bench), text_of(routine), &out,
                &problem)
                    .good) {
        sent = say(connection, MHD_HTTP_OK, "application/json", text_built(&out).start);
    } else {
        sent = answer_edit(connection, BENCH_EDIT_REFUSED, &problem);
    }
    arena_finish(&arena);
    free(routine);
    return sent;
}

/** Every device that the site could get, and whether its panel takes it. */
static enum MHD_Result say_devices(struct seat *seat, struct MHD_Connection *connection) {
    struct arena arena;
    struct text_builder out;
    struct json_writer json;
    struct document document;
    struct problem problem = {0};
    enum MHD_Result sent = MHD_NO;
    arena_init(&arena, host_pages(), 0);
    text_builder_init(&out, &arena);
    json_init(&json, &out);
    document_init(&document, host_pages());
    if (document_read_file(&document, bench_path(seat->bench), bench_search(seat->bench), &problem)
                    .good &&
            models_add(&document, bench_search(seat->bench), &json, NULL, &problem).good) {
        sent = say(connection, MHD_HTTP_OK, "application/json", text_built(&out).start);
    } else {
        sent = answer_edit(connection, BENCH_EDIT_REFUSED, &problem);
    }
    document_finish(&document);
    arena_finish(&arena);
    return sent;
}

/** The site file as it is now, to be kept elsewhere. */
static enum MHD_Result say_file(struct seat *seat, struct MHD_Connection *connection) {
    struct arena arena;
    struct text content = {0};
    struct problem problem = {0};
    enum MHD_Result sent = MHD_NO;
    arena_init(&arena, host_pages(), 0);
    if (host_read_file(bench_path(seat->bench), 0, &arena, &content, &problem).good) {
        sent = give(connection, MHD_HTTP_OK, "application/yaml",
                MHD_create_response_from_buffer(
                        content.length, (void *)content.start, MHD_RESPMEM_MUST_COPY));
    } else {
        sent = answer_edit(connection, BENCH_EDIT_REFUSED, &problem);
    }
    arena_finish(&arena);
    return sent;
}

/* ---- a folder of sites, revisions of one */

static enum MHD_Result answer_folder(struct MHD_Connection *connection, enum folder_answer answer,
        struct text_builder *out, const struct problem *problem) {
    const struct text built = text_built(out);
    switch (answer) {
    case FOLDER_DONE:
        return say(connection, MHD_HTTP_OK, "application/json", built.start);
    case FOLDER_REFUSED:
        return built.length == 0
                ? answer_edit(connection, BENCH_EDIT_REFUSED, problem)
                : say(connection, MHD_HTTP_UNPROCESSABLE_CONTENT, "application/json", built.start);
    case FOLDER_NO_REQUEST:
        return refuse(connection, MHD_HTTP_BAD_REQUEST, "This cannot be asked so.\n");
    case FOLDER_UNKNOWN:
        break;
    }
    return refuse(connection, MHD_HTTP_NOT_FOUND, "There is no such thing here.\n");
}

/** Of a site: its revisions; of the folder (seat NULL): what is in it. request: NULL where something is only asked. */
static enum MHD_Result ask_others(struct server *server, struct MHD_Connection *connection,
        struct seat *seat, const char *path, const struct request *request) {
    struct arena arena;
    struct text_builder out;
    struct problem problem = {0};
    enum folder_answer answer = FOLDER_UNKNOWN;
    json_t *body = request == NULL ? NULL : json_of(request);
    arena_init(&arena, host_pages(), 0);
    text_builder_init(&out, &arena);
    if (seat != NULL) {
        answer = request == NULL ? revising_get(seat, path, &out, &problem)
                                 : revising_post(seat, path, body, &out, &problem);
    } else if (server->overview != NULL) {
        answer = request == NULL ? folder_get(server->sites, server->overview, path, &out, &problem)
                                 : folder_post(server->sites, path, body, &out, &problem);
    }
    json_decref(body);
    const enum MHD_Result sent = answer_folder(connection, answer, &out, &problem);
    arena_finish(&arena);
    return sent;
}

/* ---- requests */

/** What may be sent, and what is then done with it; about: the site that the path names, or NULL. */
static enum MHD_Result post(struct server *server, struct MHD_Connection *connection,
        struct seat *about, const char *path, const struct request *request) {
    const char *type = header(connection, MHD_HTTP_HEADER_CONTENT_TYPE);
    if (!origin_is_ours(server, connection, true)) {
        return refuse(
                connection, MHD_HTTP_FORBIDDEN, "Only the bench's own page may change the site.\n");
    }
    if (request->too_long) {
        return refuse(connection, MHD_HTTP_CONTENT_TOO_LARGE, "This is more than an edit holds.\n");
    }
    if (type == NULL || strcmp(type, "application/json") != 0) {
        return refuse(connection, MHD_HTTP_UNSUPPORTED_MEDIA_TYPE, "Edits are JSON.\n");
    }
    if (about == NULL) {
        return ask_others(server, connection, NULL, path, request);
    }
    if (strcmp(path, "/edit") == 0 || strcmp(path, "/try") == 0) {
        return edit(about, connection, request, path[1] == 't');
    }
    if (strcmp(path, "/undo") == 0 || strcmp(path, "/redo") == 0) {
        return step(about, connection, path[1] == 'r');
    }
    if (strcmp(path, "/rehearse") == 0) {
        return rehearse(about, connection, request);
    }
    if (strcmp(path, "/keyed") == 0) {
        return key(about, connection, request);
    }
    if (strcmp(path, "/acceptance") == 0) {
        return do_in_acceptance(server, about, connection, request);
    }
    if (strcmp(path, "/pasted") == 0) {
        return paste(server, about, connection, request);
    }
    if (strcmp(path, "/import") == 0) {
        return import(about, connection, request);
    }
    return ask_others(server, connection, about, path, request);
}

static const struct web_file *find_file(const char *path) {
    for (size_t i = 0; i < web_file_count; i++) {
        if (strcmp(path, web_files[i].path) == 0) {
            return &web_files[i];
        }
    }
    return NULL;
}

/** The bench is "/" of each site; the list of sites is "/" of a folder. */
static enum MHD_Result get(struct server *server, struct MHD_Connection *connection,
        struct seat *about, const char *path) {
    const bool lists = about == NULL && strcmp(path, "/") == 0;
    const struct web_file *file = find_file(lists ? "/sites.html" : path);
    if (file != NULL) {
        return give(connection, MHD_HTTP_OK, file->type,
                MHD_create_response_from_buffer(
                        file->length, (void *)file->bytes, MHD_RESPMEM_PERSISTENT));
    }
    if (about == NULL) {
        return ask_others(server, connection, NULL, path, NULL);
    }
    if (strcmp(path, "/state") == 0) {
        return state(about, connection);
    }
    if (strcmp(path, "/news") == 0) {
        return stream(connection, news_open(about->bench), news_more, news_end);
    }
    if (strcmp(path, "/site.yaml") == 0) {
        return say_file(about, connection);
    }
    if (strcmp(path, "/acceptance") == 0) {
        return stream(connection, ticking_open(about, sites_archive(server->sites)), ticking_more,
                ticking_end);
    }
    if (strcmp(path, "/keyed") == 0) {
        return say_keyed(about, connection);
    }
    if (strcmp(path, "/devices") == 0) {
        return say_devices(about, connection);
    }
    return ask_others(server, connection, about, path, NULL);
}

/** The site that a path is about, and the rest of the path: "/site/house.yaml/edit" is about house.yaml, "/edit". In a
 *  folder every other path is about no site. False: there is no such site. */
static bool find_seat(struct server *server, const char **path, struct seat **ret_seat) {
    static const char begins[] = "/site/";
    const size_t length = sizeof begins - 1;
    char name[SITES_NAME_MOST];
    size_t name_length = 0;
    *ret_seat = server->overview == NULL ? sites_only(server->sites) : NULL;
    if (server->overview == NULL || strncmp(*path, begins, length) != 0) {
        return true;
    }
    const char *rest = strchr(*path + length, '/');
    if (rest == NULL ||
            !escapes_out(*path + length, (size_t)(rest - *path) - length, name, SITES_NAME_MOST,
                    &name_length) ||
            !sites_seat(server->sites, (struct text){name, name_length}, ret_seat, NULL).good) {
        return false;
    }
    *path = rest;
    return true;
}

/** Who asks is known. */
static enum MHD_Result serve(struct server *server, struct MHD_Connection *connection,
        const char *path, bool asks, const struct request *request) {
    struct seat *about = NULL;
    if (!find_seat(server, &path, &about)) {
        return refuse(connection, MHD_HTTP_NOT_FOUND, "There is no such site here.\n");
    }
    return asks ? get(server, connection, about, path)
                : post(server, connection, about, path, request);
}

static enum MHD_Result answer(struct server *server, struct MHD_Connection *connection,
        const char *path, const char *method, const struct request *request) {
    /* A name that leads here from elsewhere (a page that rebinds its own name to this machine) is not ours. */
    if (!door_knows_host(&server->door, header(connection, MHD_HTTP_HEADER_HOST))) {
        return refuse(connection, MHD_HTTP_MISDIRECTED_REQUEST,
                "This name does not lead here; use the address that lintel serve printed.\n");
    }
    const bool asks = strcmp(method, MHD_HTTP_METHOD_GET) == 0;
    const char *key = MHD_lookup_connection_value(connection, MHD_GET_ARGUMENT_KIND, "key");
    if (asks && strcmp(path, "/") == 0 && door_fits_key(&server->door, key)) {
        return welcome(server, connection);
    }
    if (!origin_is_ours(server, connection, false) || !knows_key(server, connection)) {
        return refuse(connection, MHD_HTTP_FORBIDDEN,
                "Open the bench by the address that lintel serve printed: it ends in a key.\n");
    }
    if (asks || strcmp(method, MHD_HTTP_METHOD_POST) == 0) {
        return serve(server, connection, path, asks, request);
    }
    return refuse(connection, MHD_HTTP_METHOD_NOT_ALLOWED, "GET or POST.\n");
}

/** Who knows the key may send a whole site file; nobody else makes us hold much. */
static size_t body_most(
        const struct server *server, struct MHD_Connection *connection, const char *path) {
    const char *slash = strrchr(path, '/');
    const bool imports = slash != NULL && strcmp(slash, "/import") == 0;
    return imports && knows_key(server, connection) ? SERVER_IMPORT_MAX : SERVER_BODY_MAX;
}

/** Called once when a request begins, for each piece of its body, and once more at the end. A body that is too long is
 *  swallowed up to its end, so that the answer can be read. */
static enum MHD_Result on_request(void *context, struct MHD_Connection *connection,
        const char *path, const char *method, const char *version, const char *piece,
        size_t *piece_length, void **request_context) {
    struct request *request = *request_context;
    (void)version;
    if (request == NULL) {
        request = calloc(1, sizeof *request);
        *request_context = request;
        if (request == NULL) {
            return MHD_NO;
        }
        request->most = body_most(context, connection, path);
        return MHD_YES;
    }
    if (*piece_length == 0) {
        return answer(context, connection, path, method, request);
    }
    if (request->too_long || *piece_length > request->most - request->length) {
        request->too_long = true;
    } else {
        char *longer = realloc(request->body, request->length + *piece_length);
        if (longer == NULL) {
            return MHD_NO;
        }
        memcpy(longer + request->length, piece, *piece_length);
        request->body = longer;
        request->length += *piece_length;
    }
    *piece_length = 0;
    return MHD_YES;
}

static void on_end(void *context, struct MHD_Connection *connection, void **request_context,
        enum MHD_RequestTerminationCode why) {
    struct request *request = *request_context;
    (void)context;
    (void)connection;
    (void)why;
    if (request != NULL) {
        free(request->body);
        free(request);
        *request_context = NULL;
    }
}

/* ---- life */

/** Paths stand as they were sent: none of ours has an escape, and one that hides a NUL must not look like another. */
static size_t keep_escapes(void *context, struct MHD_Connection *connection, char *text) {
    (void)context;
    (void)connection;
    return strlen(text);
}

/** By which names the bench may be asked: those of its certificate; without one it is on this machine alone. */
static void hang_door(struct server *server, const struct server_place *place, uint16_t port) {
    const struct text here[] = {text_of("127.0.0.1"), text_of("localhost")};
    const struct seal *seal = place->seal;
    door_hang(&server->door, seal == NULL ? here : seal->names,
            seal == NULL ? sizeof here / sizeof here[0] : seal->name_count, seal != NULL, port);
}

static outcome listen_at(
        struct server *server, const struct server_place *place, struct problem *ret_problem) {
    const struct seal *seal = place->seal;
    struct sockaddr_in address = {
            .sin_family = AF_INET, .sin_port = htons(place->port), .sin_addr = place->address};
    const struct MHD_OptionItem tls[] = {
            {MHD_OPTION_HTTPS_MEM_CERT, 0, seal == NULL ? NULL : (void *)seal->certificate},
            {MHD_OPTION_HTTPS_MEM_KEY, 0, seal == NULL ? NULL : (void *)seal->private_key},
            {MHD_OPTION_HTTPS_PRIORITIES, 0, (void *)"NORMAL:-VERS-ALL:+VERS-TLS1.3:+VERS-TLS1.2"},
            {MHD_OPTION_END, 0, NULL},
    };
    server->daemon = MHD_start_daemon(MHD_USE_INTERNAL_POLLING_THREAD |
                    MHD_USE_THREAD_PER_CONNECTION | (seal == NULL ? 0U : (unsigned)MHD_USE_TLS),
            place->port, NULL, NULL, on_request, server, MHD_OPTION_SOCK_ADDR,
            (struct sockaddr *)&address, MHD_OPTION_NOTIFY_COMPLETED, on_end, NULL,
            MHD_OPTION_UNESCAPE_CALLBACK, keep_escapes, NULL, MHD_OPTION_CONNECTION_TIMEOUT,
            (unsigned)IDLE_S, MHD_OPTION_CONNECTION_LIMIT, (unsigned)SERVER_CONNECTIONS_MAX,
            seal == NULL ? MHD_OPTION_END : MHD_OPTION_ARRAY, tls, MHD_OPTION_END);
    if (server->daemon == NULL) {
        FAIL(ret_problem, PROBLEM_SYSTEM, "",
                "nothing can listen on port %u there; another program may have it: try --port 0",
                place->port);
    }
    const union MHD_DaemonInfo *info =
            MHD_get_daemon_info(server->daemon, MHD_DAEMON_INFO_BIND_PORT);
    hang_door(server, place, info == NULL ? place->port : info->port);
    return outcome_good();
}

static void drop(struct server *server) {
    if (server->overview != NULL) {
        overview_close(server->overview);
    }
    free(server);
}

outcome server_start(const struct server_place *place, struct sites *sites,
        struct server **ret_server, struct problem *ret_problem) {
    struct server *server = calloc(1, sizeof *server);
    if (server == NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "there is no memory left to serve the page");
    }
    server->sites = sites;
    outcome done = sites_folder(sites) == NULL
            ? outcome_good()
            : overview_open(sites, &server->overview, ret_problem);
    if (done.good) {
        done = door_make(&server->door, ret_problem);
    }
    if (done.good) {
        done = listen_at(server, place, ret_problem);
    }
    if (!done.good) {
        drop(server);
        return done;
    }
    *ret_server = server;
    return outcome_good();
}

void server_address(const struct server *server, char *ret_address, size_t most) {
    door_address(&server->door, ret_address, most);
}

void server_stop(struct server *server) {
    MHD_stop_daemon(server->daemon);
    drop(server);
}
