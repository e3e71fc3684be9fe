#include "web/answer.h"

#include "base/json.h"
#include "host/host.h"

#include <string.h>

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

enum MHD_Result answer_give(struct MHD_Connection *connection, unsigned status, const char *type,
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

enum MHD_Result answer_say(
        struct MHD_Connection *connection, unsigned status, const char *type, const char *text) {
    return text == NULL ? MHD_NO
                        : answer_give(connection, status, type,
                                  MHD_create_response_from_buffer(
                                          strlen(text), (void *)text, MHD_RESPMEM_MUST_COPY));
}

enum MHD_Result answer_json(struct MHD_Connection *connection, const char *json) {
    return answer_say(connection, MHD_HTTP_OK, "application/json", json);
}

enum MHD_Result answer_refuse(
        struct MHD_Connection *connection, unsigned status, const char *text) {
    return answer_say(connection, status, "text/plain; charset=utf-8", text);
}

enum MHD_Result answer_edit(
        struct MHD_Connection *connection, enum bench_edit done, const struct problem *problem) {
    static const struct {
        unsigned status;
        const char *name;
    } words[] = {
            [BENCH_EDIT_DONE] = {MHD_HTTP_OK, "done"},
            [BENCH_EDIT_CONFLICT] = {MHD_HTTP_CONFLICT, "conflict"},
            [BENCH_EDIT_REFUSED] = {MHD_HTTP_UNPROCESSABLE_CONTENT, "refused"},
    };
    const bool overtaken = done == BENCH_EDIT_REFUSED && problem->kind == PROBLEM_STOPPED;
    const unsigned status = overtaken ? MHD_HTTP_CONFLICT : words[done].status;
    struct arena arena;
    struct text_builder out;
    struct json_writer json;
    arena_init(&arena, host_pages(), 0);
    text_builder_init(&out, &arena);
    json_init(&json, &out);
    json_open_object(&json, NULL);
    json_add_string(&json, "result", overtaken ? "overtaken" : words[done].name);
    /* what a message quotes may be cut within a letter */
    json_add_string(&json, "what",
            done == BENCH_EDIT_CONFLICT ? "The file was changed elsewhere; this is what it is now."
                                        : problem->text);
    json_close_object(&json);
    const enum MHD_Result sent = out.failed
            ? MHD_NO
            : answer_say(connection, status, "application/json", text_built(&out).start);
    arena_finish(&arena);
    return sent;
}

enum MHD_Result answer_built(struct MHD_Connection *connection, outcome done,
        struct text_builder *out, const struct problem *problem) {
    return done.good ? answer_json(connection, text_built(out).start)
                     : answer_edit(connection, BENCH_EDIT_REFUSED, problem);
}

enum MHD_Result answer_stream(struct MHD_Connection *connection, void *context,
        MHD_ContentReaderCallback more, MHD_ContentReaderFreeCallback end) {
    enum { BLOCK = 32 * 1024 };
    struct MHD_Response *response = context == NULL
            ? NULL
            : MHD_create_response_from_callback(MHD_SIZE_UNKNOWN, BLOCK, more, context, end);
    if (response == NULL && context != NULL) {
        end(context);
    }
    return response == NULL ? MHD_NO
                            : answer_give(connection, MHD_HTTP_OK, "text/event-stream", response);
}
