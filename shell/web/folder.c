#include "web/folder.h"

#include "base/json.h"
#include "draft/begin.h"
#include "web/file.h"
#include "web/import.h"

#include <stdio.h>
#include <string.h>

/* ---- asked ------------------------------------------------------------------------------------------------------ */

/** The last part of the folder's path: what a person knows it by. */
static const char *last_part(const char *path) {
    const char *slash = strrchr(path, '/');
    return slash == NULL || slash[1] == '\0' ? path : slash + 1;
}

static outcome tell_sites(struct sites *sites, struct overview *overview, struct text_builder *out,
        struct problem *ret_problem) {
    struct text_builder list;
    struct text_builder name;
    struct json_writer json;
    text_builder_init(&list, out->arena);
    text_builder_init(&name, out->arena);
    TRY(overview_add(overview, &list, ret_problem));
    json_init(&json, &name);
    json_add_string(&json, NULL, last_part(sites_folder(sites)));
    text_add_format(out, "{\"folder\": %s, \"sites\": ", text_built(&name).start);
    text_add(out, text_built(&list));
    text_add_string(out, "}");
    return outcome_good();
}

static outcome tell_panels(
        const struct sites *sites, struct text_builder *out, struct problem *ret_problem) {
    struct json_writer json;
    json_init(&json, out);
    return begin_add_panels(sites_search(sites), &json, NULL, ret_problem);
}

static outcome tell_standards(
        const struct sites *sites, struct text_builder *out, struct problem *ret_problem) {
    struct json_writer json;
    json_init(&json, out);
    return begin_add_standards(sites_search(sites), &json, NULL, ret_problem);
}

enum folder_answer folder_get(struct sites *sites, struct overview *overview, const char *path,
        struct text_builder *out, struct problem *ret_problem) {
    if (strcmp(path, "/sites") == 0) {
        return tell_sites(sites, overview, out, ret_problem).good ? FOLDER_DONE : FOLDER_REFUSED;
    }
    if (strcmp(path, "/panels") == 0) {
        return tell_panels(sites, out, ret_problem).good ? FOLDER_DONE : FOLDER_REFUSED;
    }
    if (strcmp(path, "/standards") == 0) {
        return tell_standards(sites, out, ret_problem).good ? FOLDER_DONE : FOLDER_REFUSED;
    }
    return FOLDER_UNKNOWN;
}

/* ---- made ------------------------------------------------------------------------------------------------------- */

static struct text text_in(const json_t *body, const char *key) {
    const json_t *value = json_object_get(body, key);
    return (struct text){json_string_value(value), json_string_length(value)};
}

/** Writes the file and answers with its name. */
static enum folder_answer add(struct sites *sites, struct text wanted, struct text content,
        struct text_builder *out, struct problem *ret_problem) {
    char name[SITES_NAME_MOST + 1];
    struct json_writer json;
    if (!sites_add(sites, wanted, content, name, ret_problem).good) {
        return FOLDER_REFUSED;
    }
    json_init(&json, out);
    json_open_object(&json, NULL);
    json_add_string(&json, "result", "done");
    json_add_string(&json, "file", name);
    json_close_object(&json);
    return FOLDER_DONE;
}

static bool is_text_or_none(const json_t *body, const char *key) {
    const json_t *value = json_object_get(body, key);
    return value == NULL || json_is_string(value);
}

static bool read_count(const json_t *body, const char *key, int32_t *ret_count) {
    const json_t *value = json_object_get(body, key);
    const json_int_t count = json_integer_value(value);
    if (value != NULL && (!json_is_integer(value) || count < 0 || count > BEGIN_EACH_MOST)) {
        return false;
    }
    *ret_count = (int32_t)count;
    return true;
}

/** {"name": "Mill cottage", "panel": "halyard-28", "standard": "cp01-2019", "ground": "9 x 7 m", "adults": 2,
 *  "children": 1}; each may be left out. */
static enum folder_answer begin(struct sites *sites, const json_t *body, struct text_builder *out,
        struct problem *ret_problem) {
    struct begin_answers answers = {0};
    struct text site = {0};
    if (!json_is_object(body) || !is_text_or_none(body, "name") ||
            !is_text_or_none(body, "panel") || !is_text_or_none(body, "standard") ||
            !is_text_or_none(body, "ground") || !read_count(body, "adults", &answers.adults) ||
            !read_count(body, "children", &answers.children) ||
            !read_count(body, "pets", &answers.pets) ||
            !read_count(body, "others", &answers.others)) {
        return FOLDER_NO_REQUEST;
    }
    answers.name = text_in(body, "name");
    answers.panel = text_in(body, "panel");
    answers.standard = text_in(body, "standard");
    answers.ground = text_in(body, "ground");
    if (!begin_site(&answers, sites_search(sites), out->arena, &site, ret_problem).good) {
        return FOLDER_REFUSED;
    }
    return add(sites, answers.name, site, out, ret_problem);
}

/** {"name": "quayside"}: one of the examples that are built in. */
static enum folder_answer example(struct sites *sites, const json_t *body, struct text_builder *out,
        struct problem *ret_problem) {
    const struct text name = text_in(body, "name");
    for (size_t i = 0; i < web_file_count && name.length > 0; i++) {
        const struct text path = text_print(out->arena, "/%.*s.yaml", TEXT_ARGS(name));
        if (text_is(path, web_files[i].path)) {
            return add(sites, name,
                    (struct text){(const char *)web_files[i].bytes, web_files[i].length}, out,
                    ret_problem);
        }
    }
    return FOLDER_NO_REQUEST;
}

/** {"file": "house.yaml", "text": "site: ...", "keep": false}: a file brought from elsewhere. One that cannot be read
 *  is told with its problems, and put there as it is only where the person says so: keep. */
static enum folder_answer import(struct sites *sites, const json_t *body, struct text_builder *out,
        struct problem *ret_problem) {
    const struct text name = text_in(body, "file");
    const struct text content = text_in(body, "text");
    if (name.start == NULL || content.start == NULL) {
        return FOLDER_NO_REQUEST;
    }
    if (!sites_is_site(content)) {
        (void)problem_set(ret_problem, PROBLEM_BAD_VALUE, "", __FILE__, __LINE__,
                "this is no site file: it has no key \"site\"");
        return FOLDER_REFUSED;
    }
    if (!json_is_true(json_object_get(body, "keep")) &&
            !import_reads("site file", sites_folder(sites), content, sites_search(sites), out)) {
        return FOLDER_REFUSED;
    }
    return add(sites, name, content, out, ret_problem);
}

enum folder_answer folder_post(struct sites *sites, const char *path, const json_t *body,
        struct text_builder *out, struct problem *ret_problem) {
    if (strcmp(path, "/new") == 0) {
        return begin(sites, body, out, ret_problem);
    }
    if (strcmp(path, "/example") == 0) {
        return example(sites, body, out, ret_problem);
    }
    if (strcmp(path, "/import") == 0) {
        return import(sites, body, out, ret_problem);
    }
    return FOLDER_UNKNOWN;
}
