#include "document/gather.h"

#include <stdio.h>
#include <string.h>

size_t gather_unseen(struct text text, size_t at) {
    static const char *const characters[] = {"\xD8\x9C", "\xE2\x80\x8E", "\xE2\x80\x8F",
            "\xE2\x80\xA8", "\xE2\x80\xA9", "\xE2\x80\xAA", "\xE2\x80\xAB", "\xE2\x80\xAC",
            "\xE2\x80\xAD", "\xE2\x80\xAE", "\xE2\x81\xA6", "\xE2\x81\xA7", "\xE2\x81\xA8",
            "\xE2\x81\xA9", "\xEF\xBB\xBF"};
    const unsigned char byte = (unsigned char)text.start[at];
    const size_t left = text.length - at;
    if (byte < 0x20 || byte == 0x7F) {
        return 1;
    }
    /* U+0080 to U+009F; their bytes are C2 80 to C2 9F. */
    if (byte == 0xC2 && left > 1 && (unsigned char)text.start[at + 1] < 0xA0) {
        return 2;
    }
    for (size_t i = 0; i < sizeof characters / sizeof characters[0]; i++) {
        const size_t length = strlen(characters[i]);
        if (left >= length && memcmp(text.start + at, characters[i], length) == 0) {
            return length;
        }
    }
    return 0;
}

const char *gather_quote(struct text value, char buffer[GATHER_QUOTE_MAX * 4]) {
    enum { MOST = 40 };
    size_t at = 0;
    size_t characters = 0;
    buffer[at++] = '"';
    for (size_t i = 0; i < value.length; i++) {
        const unsigned char byte = (unsigned char)value.start[i];
        const bool begins = (byte & 0xC0U) != 0x80U;
        if (begins && characters == MOST) {
            memcpy(buffer + at, "...", 3);
            at += 3;
            break;
        }
        characters += begins;
        const size_t unseen = gather_unseen(value, i);
        buffer[at++] = unseen > 0 ? '?' : value.start[i];
        i += unseen > 0 ? unseen - 1 : 0;
    }
    buffer[at++] = '"';
    buffer[at] = '\0';
    return buffer;
}

static struct document_problem *next_problem(struct gatherer *gatherer) {
    struct document *document = gatherer->document;
    if (document->problems == NULL) {
        document->problems =
                ARENA_ARRAY(&document->arena, struct document_problem, DOCUMENT_PROBLEM_MAX);
        if (document->problems == NULL) {
            gatherer->refused = true;
            return NULL;
        }
    }
    if (document->problem_count == DOCUMENT_PROBLEM_MAX) {
        document->more_problems = true;
        return NULL;
    }
    return &document->problems[document->problem_count];
}

void gather_add(struct gatherer *gatherer, enum problem_kind kind, const struct document_file *file,
        int line, int column, const char *path, const char *format, ...) {
    struct document_problem *problem = next_problem(gatherer);
    if (problem == NULL) {
        return;
    }
    struct document *document = gatherer->document;
    struct text_builder builder;
    va_list arguments;
    text_builder_init(&builder, &document->arena);
    va_start(arguments, format);
    text_add_format_list(&builder, format, arguments);
    va_end(arguments);
    *problem = (struct document_problem){
            .kind = kind,
            .file = file->name,
            .line = line,
            .column = column,
            .path = text_copy(&document->arena, text_of(path)),
            .what = text_built(&builder),
    };
    if (problem->path.start == NULL || problem->what.length == 0) {
        gatherer->refused = true;
        return;
    }
    document->problem_count++;
}

/* Keys and file names are not ours: nothing of them may move a terminal's cursor. */
static void add_seen(struct text_builder *builder, struct text text) {
    for (size_t i = 0; i < text.length; i++) {
        const size_t unseen = gather_unseen(text, i);
        text_add_char(builder, unseen > 0 ? '?' : text.start[i]);
        i += unseen > 0 ? unseen - 1 : 0;
    }
}

void document_problem_add(struct text_builder *builder, const struct document_problem *problem) {
    add_seen(builder, problem->file);
    if (problem->line > 0) {
        text_add_format(builder, ":%d:%d", problem->line, problem->column);
    }
    text_add_string(builder, ": ");
    if (problem->path.length > 0) {
        add_seen(builder, problem->path);
        text_add_string(builder, ": ");
    }
    text_add(builder, problem->what);
}

/* The site's own file first, then the others by name; in each by line and column. What was found first stays first. */
static bool comes_before(const struct document *document, const struct document_problem *a,
        const struct document_problem *b) {
    const bool own_a = text_equal(a->file, document->file.name);
    const bool own_b = text_equal(b->file, document->file.name);
    if (own_a != own_b) {
        return own_a;
    }
    if (!text_equal(a->file, b->file)) {
        const size_t shared = a->file.length < b->file.length ? a->file.length : b->file.length;
        const int order = memcmp(a->file.start, b->file.start, shared);
        return order != 0 ? order < 0 : a->file.length < b->file.length;
    }
    return a->line != b->line ? a->line < b->line : a->column < b->column;
}

static void sort_problems(struct document *document) {
    for (size_t i = 1; i < document->problem_count; i++) {
        const struct document_problem moved = document->problems[i];
        size_t place = i;
        while (place > 0 && comes_before(document, &moved, &document->problems[place - 1])) {
            document->problems[place] = document->problems[place - 1];
            place--;
        }
        document->problems[place] = moved;
    }
}

outcome gather_outcome(const struct gatherer *gatherer, struct problem *ret_problem) {
    struct document *document = gatherer->document;
    if (gatherer->refused) {
        document->problem_count = 0;
        FAIL(ret_problem, PROBLEM_MEMORY, "", "there is no memory left to read %.*s",
                TEXT_ARGS(document->file.name));
    }
    if (document->problem_count == 0) {
        return outcome_good();
    }
    sort_problems(document);
    const struct document_problem *first = &document->problems[0];
    char path[sizeof ret_problem->place];
    (void)snprintf(path, sizeof path, "%.*s", TEXT_ARGS(first->path));
    if (first->line > 0) {
        FAIL(ret_problem, first->kind, path, "%.*s:%d:%d: %.*s", TEXT_ARGS(first->file),
                first->line, first->column, TEXT_ARGS(first->what));
    }
    FAIL(ret_problem, first->kind, path, "%.*s: %.*s", TEXT_ARGS(first->file),
            TEXT_ARGS(first->what));
}

void gather_offer(struct gather_nearest *nearest, struct text name) {
    const size_t most = text_reach(nearest->wanted);
    const size_t distance = text_distance(nearest->wanted, name, most);
    if (distance <= most && (nearest->best.start == NULL || distance < nearest->distance)) {
        nearest->best = name;
        nearest->distance = distance;
    }
}

const char *gather_hint(
        const struct gather_nearest *nearest, char buffer[GATHER_QUOTE_MAX * 4 + 32]) {
    char quoted[GATHER_QUOTE_MAX * 4];
    buffer[0] = '\0';
    if (nearest->best.start != NULL) {
        (void)snprintf(buffer, GATHER_QUOTE_MAX * 4 + 32, "; did you mean %s?",
                gather_quote(nearest->best, quoted));
    }
    return buffer;
}
