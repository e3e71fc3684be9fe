#include "web/server.h"

#include "host/host.h"
#include "web/about_site.h"
#include "web/answer.h"
#include "web/escapes.h"
#include "web/file.h"
#include "web/folder.h"
#include "web/overview.h"
#include "web/revising.h"

#include <stdlib.h>
#include <string.h>

enum { IDLE_S = 30 }; /* a connection that says nothing for so long is dropped */

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
    return answer_give(connection, MHD_HTTP_SEE_OTHER, "text/plain", response);
}

/* ---- a folder of sites, revisions of one */

static enum MHD_Result answer_folder(struct MHD_Connection *connection, enum folder_answer answer,
        struct text_builder *out, const struct problem *problem) {
    const struct text built = text_built(out);
    switch (answer) {
    case FOLDER_DONE:
        return answer_say(connection, MHD_HTTP_OK, "application/json", built.start);
    case FOLDER_REFUSED:
        return built.length == 0 ? answer_edit(connection, BENCH_EDIT_REFUSED, problem)
                                 : answer_say(connection, MHD_HTTP_UNPROCESSABLE_CONTENT,
                                           "application/json", built.start);
    case FOLDER_NO_REQUEST:
        return answer_refuse(connection, MHD_HTTP_BAD_REQUEST, "This cannot be asked so.\n");
    case FOLDER_UNKNOWN:
        break;
    }
    return answer_refuse(connection, MHD_HTTP_NOT_FOUND, "There is no such thing here.\n");
}

/** Of a site: its revisions; of the folder (asked->seat NULL): what is in it. posted: something was sent along. */
static enum MHD_Result ask_others(
        struct server *server, const struct asked *asked, const char *path, bool posted) {
    struct arena arena;
    struct text_builder out;
    struct problem problem = {0};
    enum folder_answer answer = FOLDER_UNKNOWN;
    json_t *body = posted ? asked_json(asked->body) : NULL;
    arena_init(&arena, host_pages(), 0);
    text_builder_init(&out, &arena);
    if (asked->seat != NULL) {
        answer = posted ? revising_post(asked, path, body, &out, &problem)
                        : revising_get(asked->seat, path, &out, &problem);
    } else if (server->overview != NULL) {
        answer = posted ? folder_post(server->sites, path, body, &out, &problem)
                        : folder_get(server->sites, server->overview, path, &out, &problem);
    }
    json_decref(body);
    const enum MHD_Result sent = answer_folder(asked->connection, answer, &out, &problem);
    arena_finish(&arena);
    return sent;
}

/* ---- requests */

static struct asked about_this(const struct server *server, struct MHD_Connection *connection,
        struct seat *about, struct text body) {
    const union MHD_ConnectionInfo *info =
            MHD_get_connection_info(connection, MHD_CONNECTION_INFO_CONNECTION_FD);
    return (struct asked){.connection = connection,
            .seat = about,
            .archive = sites_archive(server->sites),
            .body = body,
            .number = about == NULL ? 0 : bench_number(about->bench),
            .socket = info == NULL ? -1 : info->connect_fd};
}

/** What may be sent, and what is then done with it; about: the site that the path names, or NULL. */
static enum MHD_Result post(struct server *server, struct MHD_Connection *connection,
        struct seat *about, const char *path, const struct request *request) {
    const char *type = header(connection, MHD_HTTP_HEADER_CONTENT_TYPE);
    if (!origin_is_ours(server, connection, true)) {
        return answer_refuse(
                connection, MHD_HTTP_FORBIDDEN, "Only the bench's own page may change the site.\n");
    }
    if (request->too_long) {
        return answer_refuse(
                connection, MHD_HTTP_CONTENT_TOO_LARGE, "This is more than an edit holds.\n");
    }
    if (type == NULL || strcmp(type, "application/json") != 0) {
        return answer_refuse(connection, MHD_HTTP_UNSUPPORTED_MEDIA_TYPE, "Edits are JSON.\n");
    }
    const struct asked asked =
            about_this(server, connection, about, (struct text){request->body, request->length});
    enum MHD_Result sent = MHD_NO;
    return about != NULL && about_site_post(&asked, path, &sent)
            ? sent
            : ask_others(server, &asked, path, true);
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
        return answer_give(connection, MHD_HTTP_OK, file->type,
                MHD_create_response_from_buffer(
                        file->length, (void *)file->bytes, MHD_RESPMEM_PERSISTENT));
    }
    const struct asked asked = about_this(server, connection, about, (struct text){0});
    enum MHD_Result sent = MHD_NO;
    return about != NULL && about_site_get(&asked, path, &sent)
            ? sent
            : ask_others(server, &asked, path, false);
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
        return answer_refuse(connection, MHD_HTTP_NOT_FOUND, "There is no such site here.\n");
    }
    return asks ? get(server, connection, about, path)
                : post(server, connection, about, path, request);
}

static enum MHD_Result answer(struct server *server, struct MHD_Connection *connection,
        const char *path, const char *method, const struct request *request) {
    /* A name that leads here from elsewhere (a page that rebinds its own name to this machine) is not ours. */
    if (!door_knows_host(&server->door, header(connection, MHD_HTTP_HEADER_HOST))) {
        return answer_refuse(connection, MHD_HTTP_MISDIRECTED_REQUEST,
                "This name does not lead here; use the address that lintel serve printed.\n");
    }
    const bool asks = strcmp(method, MHD_HTTP_METHOD_GET) == 0;
    const char *key = MHD_lookup_connection_value(connection, MHD_GET_ARGUMENT_KIND, "key");
    if (asks && strcmp(path, "/") == 0 && door_fits_key(&server->door, key)) {
        return welcome(server, connection);
    }
    if (!origin_is_ours(server, connection, false) || !knows_key(server, connection)) {
        return answer_refuse(connection, MHD_HTTP_FORBIDDEN,
                "Open the bench by the address that lintel serve printed: it ends in a key.\n");
    }
    if (asks || strcmp(method, MHD_HTTP_METHOD_POST) == 0) {
        return serve(server, connection, path, asks, request);
    }
    return answer_refuse(connection, MHD_HTTP_METHOD_NOT_ALLOWED, "GET or POST.\n");
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
    char host[ADDRESS_NAME_MOST];
    address_host(&place->address, host);
    const struct text here[] = {text_of(host), text_of("localhost")};
    const struct seal *seal = place->seal;
    door_hang(&server->door, seal == NULL ? here : seal->names,
            seal == NULL ? sizeof here / sizeof here[0] : seal->name_count, seal != NULL, port);
}

static outcome listen_at(
        struct server *server, const struct server_place *place, struct problem *ret_problem) {
    const struct seal *seal = place->seal;
    union address address = place->address;
    const uint16_t port = address_port(&address);
    const unsigned flags = MHD_USE_INTERNAL_POLLING_THREAD | MHD_USE_THREAD_PER_CONNECTION |
            (address.any.sa_family == AF_INET6 ? (unsigned)MHD_USE_IPv6 : 0U) |
            (seal == NULL ? 0U : (unsigned)MHD_USE_TLS);
    const struct MHD_OptionItem tls[] = {
            {MHD_OPTION_HTTPS_MEM_CERT, 0, seal == NULL ? NULL : (void *)seal->certificate},
            {MHD_OPTION_HTTPS_MEM_KEY, 0, seal == NULL ? NULL : (void *)seal->private_key},
            {MHD_OPTION_HTTPS_PRIORITIES, 0, (void *)"NORMAL:-VERS-ALL:+VERS-TLS1.3:+VERS-TLS1.2"},
            {MHD_OPTION_END, 0, NULL},
    };
    server->daemon = MHD_start_daemon(flags, port, NULL, NULL, on_request, server,
            MHD_OPTION_SOCK_ADDR, &address.any, MHD_OPTION_NOTIFY_COMPLETED, on_end, NULL,
            MHD_OPTION_UNESCAPE_CALLBACK, keep_escapes, NULL, MHD_OPTION_CONNECTION_TIMEOUT,
            (unsigned)IDLE_S, MHD_OPTION_CONNECTION_LIMIT, (unsigned)SERVER_CONNECTIONS_MAX,
            seal == NULL ? MHD_OPTION_END : MHD_OPTION_ARRAY, tls, MHD_OPTION_END);
    if (server->daemon == NULL) {
        FAIL(ret_problem, PROBLEM_SYSTEM, "",
                "nothing can listen on port %u there; another program may have it: try --port 0",
                port);
    }
    const union MHD_DaemonInfo *info =
            MHD_get_daemon_info(server->daemon, MHD_DAEMON_INFO_BIND_PORT);
    hang_door(server, place, info == NULL ? port : info->port);
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
