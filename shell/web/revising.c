#include "web/revising.h"

#include "base/json.h"
#include "web/comparing.h"

#include <string.h>

static struct text text_in(const json_t *body, const char *key) {
    const json_t *value = json_object_get(body, key);
    return (struct text){json_string_value(value), json_string_length(value)};
}

static outcome tell_list(struct seat *seat, struct text_builder *out, struct problem *ret_problem) {
    struct revision *list = NULL;
    size_t count = 0;
    struct json_writer json;
    TRY(revisions_list(&seat->revisions, out->arena, &list, &count, ret_problem));
    json_init(&json, out);
    json_open_object(&json, NULL);
    json_open_array(&json, "revisions");
    for (size_t i = 0; i < count; i++) {
        json_open_object(&json, NULL);
        json_add_text(&json, "id", list[i].id);
        json_add_text(&json, "day", list[i].day);
        json_add_text(&json, "time", list[i].time);
        json_add_text(&json, "name", list[i].name);
        json_close_object(&json);
    }
    json_close_array(&json);
    json_close_object(&json);
    return outcome_good();
}

enum folder_answer revising_get(struct seat *seat, const char *path, struct text_builder *out,
        struct problem *ret_problem) {
    if (strcmp(path, "/revisions") != 0) {
        return FOLDER_UNKNOWN;
    }
    return tell_list(seat, out, ret_problem).good ? FOLDER_DONE : FOLDER_REFUSED;
}

static outcome revise(const struct asked *asked, struct text name, struct text_builder *out,
        struct problem *ret_problem) {
    TRY(revisions_keep(&asked->seat->revisions, name, ret_problem));
    return tell_list(asked->seat, out, ret_problem);
}

static outcome give(const struct asked *asked, struct text id, struct text_builder *out,
        struct problem *ret_problem) {
    struct text text = {0};
    struct json_writer json;
    TRY(revisions_read(&asked->seat->revisions, id, out->arena, &text, ret_problem));
    json_init(&json, out);
    json_open_object(&json, NULL);
    json_add_text(&json, "text", text);
    json_close_object(&json);
    return outcome_good();
}

static bool keeps_going(void *context, size_t done, size_t waiting) {
    (void)done;
    (void)waiting;
    return asked_is_wanted(context);
}

static outcome compare(const struct asked *asked, struct text id, struct text_builder *out,
        struct problem *ret_problem) {
    struct text older = {0};
    TRY(revisions_read(&asked->seat->revisions, id, out->arena, &older, ret_problem));
    const outcome done =
            comparing_add(bench_path(asked->seat->bench), bench_search(asked->seat->bench), older,
                    id, keeps_going, (void *)asked, out, ret_problem);
    return asked_outcome(asked, done, ret_problem);
}

enum folder_answer revising_post(const struct asked *asked, const char *path, const json_t *body,
        struct text_builder *out, struct problem *ret_problem) {
    static const struct {
        const char *path;
        const char *key;
        outcome (*answer)(const struct asked *asked, struct text value, struct text_builder *out,
                struct problem *ret_problem);
    } questions[] = {
            {"/revise", "name", revise},
            {"/revision", "revision", give},
            {"/compare", "revision", compare},
    };
    for (size_t i = 0; i < sizeof questions / sizeof questions[0]; i++) {
        const struct text value = text_in(body, questions[i].key);
        if (strcmp(path, questions[i].path) != 0) {
            continue;
        }
        if (value.start == NULL) {
            return FOLDER_NO_REQUEST;
        }
        return questions[i].answer(asked, value, out, ret_problem).good ? FOLDER_DONE
                                                                        : FOLDER_REFUSED;
    }
    return FOLDER_UNKNOWN;
}
