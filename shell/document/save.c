/* Saving: the text that was read is patched, so that comments and layout stay. After each edit the result is parsed
 * again and held against the old tree: nothing but the value named may differ. */
#include "document/document.h"

#include "document/cut.h"
#include "document/gather.h"
#include "host/host.h"

#include <string.h>

/* One edit in the making. */
struct patch {
    struct document *document; /* whose arena the new text goes to */
    struct document work;      /* the trees, dropped after each edit */
    const struct document_edit *edit;
    struct text text;
    const struct node *root;
    struct places_path path;
    const struct node *value;
};

static outcome no_memory(const struct patch *patch, struct problem *ret_problem) {
    FAIL(ret_problem, PROBLEM_MEMORY, patch->edit->path,
            "there is no memory left to change the file");
}

static outcome tree_of(struct patch *patch, struct text text, const struct node **ret_root,
        struct problem *ret_problem) {
    struct gatherer gatherer = {.document = &patch->work};
    struct document_file *file = ARENA_NEW(&patch->work.arena, struct document_file);
    if (file == NULL) {
        return no_memory(patch, ret_problem);
    }
    file->name = patch->document->file.name;
    file->text = text;
    patch->work.problem_count = 0;
    const struct node *root = node_read(&gatherer, file);
    TRY(gather_outcome(&gatherer, ret_problem));
    *ret_root = root;
    return outcome_good();
}

/* The value as it reads inside brackets, where plain texts must be written most carefully. */
static outcome read_value(struct patch *patch, struct problem *ret_problem) {
    const struct document_edit *edit = patch->edit;
    const struct text text = text_print(&patch->work.arena, "[%.*s]", TEXT_ARGS(edit->value));
    const struct node *root = NULL;
    struct problem problem = {0};
    if (text.start == NULL) {
        return no_memory(patch, ret_problem);
    }
    const bool one_line = text.length == edit->value.length + 2 &&
            memchr(text.start, '\n', text.length) == NULL &&
            memchr(text.start, '\r', text.length) == NULL;
    const bool good = one_line && tree_of(patch, text, &root, &problem).good;
    if (problem.kind == PROBLEM_MEMORY) {
        return no_memory(patch, ret_problem);
    }
    /* A comment in the value would take the closing bracket along and not parse. */
    if (!good || root->kind != NODE_LIST || root->count != 1 || root->end != text.length) {
        char quoted[GATHER_QUOTE_MAX * 4];
        FAIL(ret_problem, PROBLEM_BAD_VALUE, edit->path,
                "%s is not one value in one line; put a text in quotes",
                gather_quote(edit->value, quoted));
    }
    patch->value = root->first;
    return outcome_good();
}

/* ---- where the bytes go */

/* The bytes start..end are replaced by: before, indent blanks, lead, the value wrapped in the steps from `wrap` on,
 * after. bare: the first of these steps is a key of a mapping that is there already. lines: each step gets a line of
 * its own, as people write a list of things. */
struct splice {
    size_t start;
    size_t end;
    const char *before;
    size_t indent;
    const char *lead;
    size_t wrap;
    bool bare;
    bool lines;
    const char *after;
};

static const char *line_end_of(struct text text) {
    const char *newline = memchr(text.start, '\n', text.length);
    return newline != NULL && newline > text.start && newline[-1] == '\r' ? "\r\n" : "\n";
}

static size_t after_colon(struct text text, const struct node *key) {
    size_t at = key->end;
    while (at < text.length && text.start[at] != ':') {
        at++;
    }
    return at < text.length ? at + 1 : key->end;
}

/* A new line in a block: behind the line in which the last value ends, its comment included. */
static struct splice new_line(const struct patch *patch) {
    const struct text text = patch->text;
    const struct node *parent = patch->path.node;
    const int column = parent->kind == NODE_MAP && parent->first != NULL
            ? parent->first->key->column
            : parent->column;
    struct splice splice = {
            .before = line_end_of(text), .indent = (size_t)(column - 1), .lead = "", .after = ""};
    size_t at = parent->end;
    if (at > 0 && text.start[at - 1] == '\n') {
        /* a block text has taken the end of its line along */
        splice.before = "";
        splice.after = line_end_of(text);
    } else {
        while (at < text.length && text.start[at] != '\n') {
            at++;
        }
        at -= at < text.length && at > 0 && text.start[at - 1] == '\r';
    }
    splice.start = splice.end = at;
    splice.lead = parent->kind == NODE_LIST ? "- " : "";
    return splice;
}

/* The first of many things, each a mapping: in one line with the next ones nobody could read it. */
static bool begins_list_of_things(const struct patch *patch) {
    const struct places_path *path = &patch->path;
    return path->count > path->known + 1 && path->steps[path->count - 1].is_index &&
            patch->value->kind == NODE_MAP;
}

static struct splice new_entry(const struct patch *patch) {
    const struct node *parent = patch->path.node;
    struct splice splice = {0};
    if (parent->flow) {
        const size_t at = parent->last == NULL ? parent->start + 1 : parent->last->end;
        splice = (struct splice){.start = at,
                .end = at,
                .before = parent->last == NULL ? "" : ", ",
                .lead = "",
                .after = ""};
    } else {
        splice = new_line(patch);
    }
    splice.bare = parent->kind == NODE_MAP;
    splice.wrap = patch->path.known + (parent->kind == NODE_LIST);
    splice.lines = splice.bare && !parent->flow && begins_list_of_things(patch);
    return splice;
}

static struct splice replacement(const struct patch *patch) {
    const struct text text = patch->text;
    const struct node *node = patch->path.node;
    struct splice splice = {.start = node->start,
            .end = node->end,
            .before = "",
            .lead = "",
            .wrap = patch->path.known,
            .after = ""};
    if (node->kind == NODE_TEXT && node->start == node->end) {
        const bool colon = node->start > 0 && text.start[node->start - 1] == ':';
        splice.before = node->key != NULL && !colon ? ": " : " ";
    } else if (node->kind != NODE_TEXT && !node->flow && node->key != NULL) {
        splice.start = after_colon(text, node->key);
        splice.before = " ";
    }
    return splice;
}

static outcome find_splice(
        const struct patch *patch, struct splice *ret_splice, struct problem *ret_problem) {
    const struct node *node = patch->path.node;
    if (patch->path.known == patch->path.count || node->null) {
        if (node->block) {
            FAIL(ret_problem, PROBLEM_BAD_VALUE, patch->edit->path,
                    "this is a text of several lines; change it by hand");
        }
        *ret_splice = replacement(patch);
        return outcome_good();
    }
    const struct places_step *step = &patch->path.steps[patch->path.known];
    if (step->is_index ? node->kind != NODE_LIST || step->index != node->count
                       : node->kind != NODE_MAP) {
        FAIL(ret_problem, PROBLEM_MISSING, patch->edit->path, "there is no such place in %.*s",
                TEXT_ARGS(patch->document->file.name));
    }
    *ret_splice = new_entry(patch);
    return outcome_good();
}

/* A key with what begins below it, each in its line: "building:", "  rooms:", "    - value". */
static outcome add_lines(struct patch *patch, struct text_builder *builder,
        const struct splice *splice, struct problem *ret_problem) {
    enum { DEEPER = 2 };
    const struct places_path *path = &patch->path;
    size_t indent = splice->indent;
    for (size_t i = splice->wrap; i < path->count; i++) {
        const struct places_step *step = &path->steps[i];
        if (step->is_index && step->index != 0) {
            FAIL(ret_problem, PROBLEM_MISSING, patch->edit->path, "a list begins with [0]");
        }
        if (i > splice->wrap) {
            text_add_string(builder, line_end_of(patch->text));
            indent += DEEPER;
            for (size_t blank = 0; blank < indent; blank++) {
                text_add_char(builder, ' ');
            }
        }
        if (step->is_index) {
            text_add_string(builder, "- ");
        } else {
            text_add(builder, document_quote(&patch->work.arena, step->key));
            text_add_char(builder, ':');
        }
    }
    text_add(builder, patch->edit->value);
    return outcome_good();
}

/* key: value, {key: value}, [value] */
static outcome add_wrapped(struct patch *patch, struct text_builder *builder,
        const struct splice *splice, struct problem *ret_problem) {
    const struct places_path *path = &patch->path;
    for (size_t i = splice->wrap; i < path->count; i++) {
        const struct places_step *step = &path->steps[i];
        if (step->is_index && step->index != 0) {
            FAIL(ret_problem, PROBLEM_MISSING, patch->edit->path, "a list begins with [0]");
        }
        text_add_string(builder,
                step->is_index                              ? "["
                        : splice->bare && i == splice->wrap ? ""
                                                            : "{");
        if (!step->is_index) {
            text_add(builder, document_quote(&patch->work.arena, step->key));
            text_add_string(builder, ": ");
        }
    }
    text_add(builder, patch->edit->value);
    for (size_t i = path->count; i > splice->wrap; i--) {
        const bool bare = splice->bare && i - 1 == splice->wrap;
        text_add_string(builder, path->steps[i - 1].is_index ? "]" : bare ? "" : "}");
    }
    return outcome_good();
}

static outcome splice_text(
        struct patch *patch, struct text *ret_text, struct problem *ret_problem) {
    struct splice splice = {0};
    struct text_builder builder;
    TRY(find_splice(patch, &splice, ret_problem));
    text_builder_init(&builder, &patch->document->arena);
    text_add(&builder, (struct text){.start = patch->text.start, .length = splice.start});
    text_add_string(&builder, splice.before);
    for (size_t i = 0; i < splice.indent; i++) {
        text_add_char(&builder, ' ');
    }
    text_add_string(&builder, splice.lead);
    TRY(splice.lines ? add_lines(patch, &builder, &splice, ret_problem)
                     : add_wrapped(patch, &builder, &splice, ret_problem));
    text_add_string(&builder, splice.after);
    text_add(&builder,
            (struct text){.start = patch->text.start + splice.end,
                    .length = patch->text.length - splice.end});
    *ret_text = text_built(&builder);
    return ret_text->start == NULL ? no_memory(patch, ret_problem) : outcome_good();
}

/* ---- the check afterwards */

/* Whether now is old with the value at the end of the steps and nothing else changed. old NULL: was not there. */
static bool only_changed(const struct node *old, const struct node *now,
        const struct places_step *steps, size_t count, const struct node *value) {
    if (count == 0) {
        return node_equal(now, value);
    }
    const bool was_there = old != NULL && !old->null;
    if (now == NULL || now->kind != (steps[0].is_index ? NODE_LIST : NODE_MAP) ||
            (was_there && old->kind != now->kind)) {
        return false;
    }
    const struct node *was = was_there ? old->first : NULL;
    size_t index = 0;
    bool found = false;
    for (const struct node *child = now->first; child != NULL; child = child->next, index++) {
        const bool here = steps[0].is_index ? index == steps[0].index
                                            : text_equal(child->key->text, steps[0].key);
        if (was != NULL && child->key != NULL && !text_equal(child->key->text, was->key->text)) {
            return false;
        }
        if (here ? !only_changed(was, child, steps + 1, count - 1, value)
                 : !node_equal(was, child)) {
            return false;
        }
        found = found || here;
        was = was == NULL ? NULL : was->next;
    }
    return found && was == NULL;
}

/* Whether now is old without the value at the end of the steps and nothing else changed. */
static bool only_gone(const struct node *old, const struct node *now,
        const struct places_step *steps, size_t count) {
    if (old == NULL || now == NULL || now->kind != old->kind) {
        return false;
    }
    const struct node *is = now->first;
    size_t index = 0;
    for (const struct node *was = old->first; was != NULL; was = was->next, index++) {
        const bool here = steps[0].is_index ? index == steps[0].index
                                            : text_equal(was->key->text, steps[0].key);
        if (here && count == 1) {
            continue;
        }
        if (is == NULL || (was->key != NULL && !text_equal(was->key->text, is->key->text)) ||
                (here ? !only_gone(was, is, steps + 1, count - 1) : !node_equal(was, is))) {
            return false;
        }
        is = is->next;
    }
    return is == NULL;
}

/* The text without the value. */
static outcome cut_text(struct patch *patch, struct text *ret_text, struct problem *ret_problem) {
    struct cut cut;
    struct text_builder builder;
    if (patch->path.known != patch->path.count) {
        FAIL(ret_problem, PROBLEM_MISSING, patch->edit->path, "there is no such place in %.*s",
                TEXT_ARGS(patch->document->file.name));
    }
    if (!cut_find(patch->text, patch->root, &patch->path, &cut)) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, patch->edit->path,
                "this cannot be taken out here without touching what stands around it; do it by "
                "hand");
    }
    text_builder_init(&builder, &patch->document->arena);
    text_add(&builder, (struct text){.start = patch->text.start, .length = cut.start});
    text_add_string(&builder, cut.instead);
    text_add(&builder,
            (struct text){
                    .start = patch->text.start + cut.end, .length = patch->text.length - cut.end});
    *ret_text = text_built(&builder);
    return ret_text->start == NULL ? no_memory(patch, ret_problem) : outcome_good();
}

static bool as_meant(const struct patch *patch, const struct node *now) {
    const struct places_path *path = &patch->path;
    return patch->edit->value.start == NULL
            ? only_gone(patch->root, now, path->steps, path->count)
            : only_changed(patch->root, now, path->steps, path->count, patch->value);
}

static outcome make_edit(struct patch *patch, struct text *ret_text, struct problem *ret_problem) {
    const struct node *now = NULL;
    struct text text;
    struct problem problem = {0};
    TRY(tree_of(patch, patch->text, &patch->root, ret_problem));
    if (!places_follow(patch->root, text_of(patch->edit->path), &patch->path)) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, patch->edit->path, "\"%s\" is not a path",
                patch->edit->path);
    }
    if (patch->edit->value.start == NULL) {
        TRY(cut_text(patch, &text, ret_problem));
    } else {
        TRY(read_value(patch, ret_problem));
        TRY(splice_text(patch, &text, ret_problem));
    }
    const bool good = tree_of(patch, text, &now, &problem).good;
    if (problem.kind == PROBLEM_MEMORY) {
        return no_memory(patch, ret_problem);
    }
    if (!good || !as_meant(patch, now)) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, patch->edit->path,
                "this cannot be changed here without touching what stands around it; change it by "
                "hand");
    }
    *ret_text = text;
    return outcome_good();
}

outcome document_edit(struct document *document, const struct document_edit *edits,
        size_t edit_count, const struct document_search *search, struct text *ret_text,
        struct problem *ret_problem) {
    struct text text = document->file.text;
    for (size_t i = 0; i < edit_count; i++) {
        struct patch patch = {.document = document, .edit = &edits[i], .text = text};
        document_init(&patch.work, document->arena.pages);
        patch.work.file.name = document->file.name;
        const outcome made = make_edit(&patch, &text, ret_problem);
        document_finish(&patch.work);
        TRY(made);
    }
    struct document check;
    const char *folder = document->file.folder.length == 0 ? NULL : document->file.folder.start;
    document_init(&check, document->arena.pages);
    const outcome read = document_read_text(
            &check, document->file.name.start, folder, text, search, ret_problem);
    document_finish(&check);
    TRY(read);
    *ret_text = text;
    return outcome_good();
}

outcome document_save(struct document *document, const struct document_edit *edits,
        size_t edit_count, const struct document_search *search, const char *path,
        struct problem *ret_problem) {
    struct text text;
    TRY(document_edit(document, edits, edit_count, search, &text, ret_problem));
    return host_write_file(path, text, ret_problem);
}

static bool is_safe_plain(struct text value) {
    static const char *const meant_otherwise[] = {"yes", "no", "true", "false", "null"};
    for (size_t i = 0; i < value.length; i++) {
        const char byte = value.start[i];
        const bool letter = (byte >= 'a' && byte <= 'z') || (byte >= 'A' && byte <= 'Z');
        const bool inner =
                i > 0 && i + 1 < value.length && (byte == ' ' || byte == '-' || byte == '_');
        if (!letter && !inner && !(i > 0 && byte >= '0' && byte <= '9')) {
            return false;
        }
    }
    for (size_t i = 0; i < sizeof meant_otherwise / sizeof meant_otherwise[0]; i++) {
        if (text_is(value, meant_otherwise[i])) {
            return false;
        }
    }
    return value.length > 0;
}

struct text document_quote(struct arena *arena, struct text value) {
    if (is_safe_plain(value)) {
        return text_copy(arena, value);
    }
    struct text_builder builder;
    text_builder_init(&builder, arena);
    text_add_char(&builder, '"');
    for (size_t i = 0; i < value.length; i++) {
        const char byte = value.start[i];
        if (byte == '"' || byte == '\\') {
            text_add_char(&builder, '\\');
            text_add_char(&builder, byte);
        } else if ((unsigned char)byte < 0x20 || byte == 0x7F) {
            text_add_format(&builder, "\\x%02X", (unsigned)(unsigned char)byte);
        } else {
            text_add_char(&builder, byte);
        }
    }
    text_add_char(&builder, '"');
    return text_built(&builder);
}
