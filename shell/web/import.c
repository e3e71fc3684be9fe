#include "web/import.h"

#include "host/host.h"
#include "web/view.h"

static void refuse(
        const struct document *document, const struct problem *problem, struct text_builder *out) {
    struct json_writer json;
    const size_t count = document->problem_count;
    json_init(&json, out);
    json_open_object(&json, NULL);
    json_add_string(&json, "result", "refused");
    json_add_text(&json, "what",
            count == 0           ? text_of(problem->text)
                    : count == 1 ? text_of("it cannot be read: one problem")
                                 : text_print(out->arena, "it cannot be read: %zu problems%s",
                                           count, document->more_problems ? " and more" : ""));
    view_add_problems(document, problem, &json);
    json_close_object(&json);
}

bool import_reads(const char *name, const char *folder, struct text content,
        const struct document_search *search, struct text_builder *out) {
    struct document document;
    struct problem problem = {0};
    document_init(&document, host_pages());
    const bool reads = document_read_text(&document, name, folder, content, search, &problem).good;
    if (!reads) {
        refuse(&document, &problem, out);
    }
    document_finish(&document);
    return reads;
}
