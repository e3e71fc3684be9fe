#include "web/trying.h"

#include "web/view.h"

static outcome draw(const struct site *site, const struct view_look *look, struct text_builder *out,
        struct problem *ret_problem) {
    struct json_writer json;
    json_init(&json, out);
    json_open_object(&json, NULL);
    view_add_drawing(site, look, out->arena, &json);
    view_add_carried(site, out->arena, &json);
    json_close_object(&json);
    if (out->arena->refused) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory to draw it");
    }
    return outcome_good();
}

outcome trying_add(const char *path, const struct document_search *search,
        const struct document_edit *edits, size_t count, const struct view_look *look,
        struct text_builder *out, struct problem *ret_problem) {
    struct document as_is;
    struct document with;
    struct text text = {0};
    document_init(&as_is, out->arena->pages);
    document_init(&with, out->arena->pages);
    outcome done = document_read_file(&as_is, path, search, ret_problem);
    if (done.good) {
        done = document_edit(&as_is, edits, count, search, &text, ret_problem);
    }
    if (done.good) {
        done = document_read_text(&with, path, as_is.file.folder.start, text, search, ret_problem);
    }
    if (done.good) {
        done = draw(&with.site, look, out, ret_problem);
    }
    document_finish(&with);
    document_finish(&as_is);
    return done;
}
