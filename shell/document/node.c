#include "document/node.h"

#include "document/gather.h"
#include "document/yaml_slips.h"

#include <errno.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include <libfyaml.h>

/* Brackets opened and not closed, counted without regard to quotes. libfyaml looks ahead over all of them before it
 * gives the first (4 million of them: 7 s), so this is looked at first. Nothing that a person writes comes near. */
enum { OPEN_BRACKETS_MAX = 200 };

struct frame {
    struct node *node;
    struct node *key; /* waits for its value */
};

struct tree {
    struct gatherer *gatherer;
    const struct document_file *file;
    struct node *root;
    struct frame stack[DOCUMENT_DEPTH_MAX];
    size_t depth;
    size_t count;
    size_t aliases;
    int curly_line; /* the last in which a value in curly quotes was told; 0: none */
    bool stopped;   /* told already */
};

static void tell_at(
        struct tree *tree, enum problem_kind kind, int line, int column, const char *what) {
    gather_add(tree->gatherer, kind, tree->file, line, column, "", "%s", what);
}

static void stop(
        struct tree *tree, enum problem_kind kind, int line, int column, const char *what) {
    tell_at(tree, kind, line, column, what);
    tree->stopped = true;
}

/* How many bytes the UTF-8 sequence at `at` has; 0: ill-formed. Source: Unicode 15, table 3-7. */
static size_t sequence_length(struct text text, size_t at) {
    const unsigned char *bytes = (const unsigned char *)text.start + at;
    const size_t left = text.length - at;
    const unsigned char first = bytes[0];
    if (first < 0x80) {
        return 1;
    }
    const size_t length = first >= 0xF0 ? 4 : first >= 0xE0 ? 3 : 2;
    if (first < 0xC2 || first > 0xF4 || left < length) {
        return 0;
    }
    const unsigned char low = first == 0xE0 ? 0xA0 : first == 0xF0 ? 0x90 : 0x80;
    const unsigned char high = first == 0xED ? 0x9F : first == 0xF4 ? 0x8F : 0xBF;
    if (bytes[1] < low || bytes[1] > high) {
        return 0;
    }
    for (size_t i = 2; i < length; i++) {
        if ((bytes[i] & 0xC0U) != 0x80U) {
            return 0;
        }
    }
    return length;
}

static bool is_printable(const unsigned char *bytes) {
    const bool c1 = bytes[0] == 0xC2 && bytes[1] < 0xA0 && bytes[1] != 0x85;
    const bool c0 = bytes[0] < 0x20 && bytes[0] != '\t' && bytes[0] != '\n' && bytes[0] != '\r';
    return !c0 && !c1 && bytes[0] != 0x7F;
}

/* What would make a parser wrong or slow, found before it sees it. */
static void look_over(struct tree *tree) {
    const struct text text = tree->file->text;
    char what[160];
    int line = 1;
    int column = 1;
    int open = 0;
    if (text.length >= 2 && ((unsigned char)text.start[0] ^ (unsigned char)text.start[1]) == 1 &&
            (unsigned char)text.start[0] >= 0xFE) {
        stop(tree, PROBLEM_UNREADABLE, 1, 1, "this is UTF-16; save the file as UTF-8");
        return;
    }
    for (size_t at = 0; at < text.length;) {
        const size_t length = sequence_length(text, at);
        const char byte = text.start[at];
        if (length == 0) {
            (void)snprintf(what, sizeof what,
                    "byte %zu (0x%02X) is not UTF-8; save the file as UTF-8", at + 1,
                    (unsigned)(unsigned char)byte);
            stop(tree, PROBLEM_UNREADABLE, line, column, what);
            return;
        }
        if (!is_printable((const unsigned char *)text.start + at)) {
            (void)snprintf(what, sizeof what,
                    "byte %zu (0x%02X) is a control character: this is not a text file; a site "
                    "file is YAML",
                    at + 1, (unsigned)(unsigned char)byte);
            stop(tree, PROBLEM_UNREADABLE, line, column, what);
            return;
        }
        open += byte == '[' || byte == '{';
        open -= (byte == ']' || byte == '}') && open > 0;
        if (open > OPEN_BRACKETS_MAX) {
            stop(tree, PROBLEM_LIMIT, line, column,
                    "too many brackets are open here; a site file needs 16 at most");
            return;
        }
        line += byte == '\n';
        column = byte == '\n' ? 1 : column + 1;
        at += length;
    }
}

static struct node *new_node(struct tree *tree, enum node_kind kind) {
    if (tree->count++ >= DOCUMENT_VALUE_MAX) {
        char what[80];
        (void)snprintf(
                what, sizeof what, "more than %d values in one file", (int)DOCUMENT_VALUE_MAX);
        stop(tree, PROBLEM_LIMIT, 0, 0, what);
        return NULL;
    }
    struct node *node = ARENA_NEW(&tree->gatherer->document->arena, struct node);
    if (node == NULL) {
        tree->gatherer->refused = true;
        tree->stopped = true;
        return NULL;
    }
    node->kind = kind;
    node->file = tree->file;
    return node;
}

static bool mark_node(struct node *node, struct fy_token *token) {
    const struct fy_mark *start = token == NULL ? NULL : fy_token_start_mark(token);
    const struct fy_mark *end = token == NULL ? NULL : fy_token_end_mark(token);
    if (start == NULL || end == NULL) {
        return false;
    }
    node->line = start->line + 1;
    node->column = start->column + 1;
    node->start = start->input_pos;
    node->end = end->input_pos;
    return true;
}

/* A value that is not written stands right behind the colon of its key, or behind the key. */
static void mark_behind_key(struct node *node, const struct node *key, struct text text) {
    size_t at = key->end;
    while (at < text.length && text.start[at] == ' ') {
        at++;
    }
    const bool colon = at < text.length && text.start[at] == ':';
    node->start = colon ? at + 1 : key->end;
    node->end = node->start;
    node->line = key->line;
    node->column = key->column + (int)(node->start - key->start);
}

/* An entry that is not written stands behind its dash: the first one in a line after the entry before. Looks past
 * remarks; where it finds none, the place is that of the entry before. */
static void mark_behind_dash(struct node *node, const struct node *before, struct text text) {
    int line = before->line;
    size_t at = before->start;
    node->line = before->line;
    node->column = before->column;
    node->start = node->end = before->end;
    while (at < text.length) {
        size_t first = at;
        while (first < text.length && text.start[first] == ' ') {
            first++;
        }
        if (line > before->line && at >= before->end && first < text.length &&
                text.start[first] == '-') {
            node->line = line;
            node->column = (int)(first - at) + 1;
            node->start = node->end = first + 1;
            return;
        }
        const char *newline = memchr(text.start + at, '\n', text.length - at);
        at = newline == NULL ? text.length : (size_t)(newline - text.start) + 1;
        line++;
    }
}

static void mark_nothing(const struct tree *tree, struct node *node) {
    if (tree->depth == 0) {
        return;
    }
    const struct frame *frame = &tree->stack[tree->depth - 1];
    const struct node *parent = frame->node;
    if (frame->key != NULL) {
        mark_behind_key(node, frame->key, tree->file->text);
    } else if (parent->kind == NODE_LIST && parent->last != NULL) {
        mark_behind_dash(node, parent->last, tree->file->text);
    } else {
        const struct node *near = parent->last == NULL ? parent : parent->last;
        node->line = near->line;
        node->column = near->column;
        node->start = node->end = parent->last == NULL ? parent->start : parent->last->end;
    }
}

/* "- name: x" and below it keys in the same column. */
static bool is_line_of_list(const struct tree *tree, const struct node *map) {
    return !map->flow && tree->depth > 1 && tree->stack[tree->depth - 1].node == map &&
            tree->stack[tree->depth - 2].node->kind == NODE_LIST;
}

static bool is_duplicate(struct tree *tree, const struct node *map, const struct node *key) {
    char quoted[GATHER_QUOTE_MAX * 4];
    for (const struct node *child = map->first; child != NULL; child = child->next) {
        if (text_equal(child->key->text, key->text)) {
            gather_add(tree->gatherer, PROBLEM_BAD_VALUE, tree->file, key->line, key->column, "",
                    "the key%s%s stands here and already in line %d; keep one of them%s",
                    tree->file->secret ? "" : " ",
                    tree->file->secret ? "" : gather_quote(key->text, quoted), child->key->line,
                    is_line_of_list(tree, map) ? ", or begin a new line of the list with \"- \""
                                               : "");
            return true;
        }
    }
    return false;
}

static bool ends_in_digit(const struct node *node) {
    const size_t length = node->text.length;
    return node->kind == NODE_TEXT && node->plain && length > 0 &&
            node->text.start[length - 1] >= '0' && node->text.start[length - 1] <= '9';
}

static bool is_digit(char letter) {
    return letter >= '0' && letter <= '9';
}

/* The entry of a flow mapping that begins here: up to a comma with no digit behind it, or a bracket. */
static struct text entry_at(struct text source, size_t start) {
    size_t end = start;
    while (end < source.length && strchr("]}\r\n", source.start[end]) == NULL &&
            (source.start[end] != ',' ||
                    (end + 1 < source.length && is_digit(source.start[end + 1])))) {
        end++;
    }
    while (end > start && source.start[end - 1] == ' ') {
        end--;
    }
    return (struct text){.start = source.start + start, .length = end - start};
}

/* "1,2 cm" is "1.2 cm"; "23,24" may also be two. */
static void tell_decimal(struct tree *tree, const struct node *node, struct text entry) {
    char quoted[GATHER_QUOTE_MAX * 4];
    struct text_builder point;
    struct text_builder list;
    bool whole = true;
    text_builder_init(&point, &tree->gatherer->document->arena);
    text_builder_init(&list, &tree->gatherer->document->arena);
    for (size_t i = 0; i < entry.length; i++) {
        const size_t unseen = gather_unseen(entry, i);
        if (unseen > 0) {
            i += unseen - 1;
            continue;
        }
        const bool comma = entry.start[i] == ',';
        text_add_char(&point, comma ? '.' : entry.start[i]);
        text_add_string(&list, comma ? ", " : "");
        if (!comma) {
            text_add_char(&list, entry.start[i]);
        }
        whole = whole && (comma || is_digit(entry.start[i]));
    }
    const struct text decimal = text_built(&point);
    const struct text several = whole ? text_built(&list) : (struct text){0};
    gather_add(tree->gatherer, PROBLEM_UNREADABLE, tree->file, node->line, node->column, "",
            "%s: a decimal is written with a point, not with a comma: %.*s%s%.*s%s",
            gather_quote(entry, quoted), TEXT_ARGS(decimal),
            whole ? "; several values in brackets: [" : "", TEXT_ARGS(several), whole ? "]" : "");
}

/* {gap: 1,2 cm} is for YAML a gap of 1 and a key "2 cm", {size: 4,2 x 3,6 m} one of 4 and two keys. Told once, at the
 * value that it was to be. */
static bool is_decimal_tail(
        struct tree *tree, struct node *map, const struct node *key, const struct node *node) {
    const struct text source = tree->file->text;
    const size_t at = key->start;
    struct node *before = map->last;
    if (!node->null || !key->plain || before == NULL || tree->file->secret) {
        return false;
    }
    if (before->kind == NODE_BROKEN && at < before->end) {
        return true;
    }
    if (!ends_in_digit(before) || before->end + 1 != at || at >= source.length ||
            source.start[at - 1] != ',' || !is_digit(source.start[at])) {
        return false;
    }
    const struct text entry = entry_at(source, before->start);
    tell_decimal(tree, before, entry);
    before->kind = NODE_BROKEN;
    before->end = before->start + entry.length;
    return true;
}

/* {name: “a, b”} is for YAML a name of “a and a key b”. The value was told. */
static bool is_curly_tail(const struct tree *tree, const struct node *map, const struct node *key,
        const struct node *node) {
    const struct text source = tree->file->text;
    return node->null && key->plain && map->last != NULL && map->last->kind == NODE_BROKEN &&
            yaml_slip_curly((struct text){.start = source.start + map->last->start,
                    .length = map->last->end - map->last->start});
}

static void append(struct node *parent, struct node *node) {
    if (parent->last == NULL) {
        parent->first = node;
    } else {
        parent->last->next = node;
    }
    parent->last = node;
    parent->count++;
}

static void add_to_map(struct tree *tree, struct frame *frame, struct node *node) {
    if (frame->key == NULL) {
        frame->key = node;
        return;
    }
    struct node *key = frame->key;
    frame->key = NULL;
    if (key->kind != NODE_TEXT) {
        if (key->kind != NODE_BROKEN) {
            tell_at(tree, PROBLEM_BAD_VALUE, key->line, key->column,
                    "a key must be one word, not a list or mapping");
        }
        return;
    }
    if (is_decimal_tail(tree, frame->node, key, node) ||
            is_curly_tail(tree, frame->node, key, node) || is_duplicate(tree, frame->node, key)) {
        return;
    }
    if (frame->node->count == DOCUMENT_KEY_MAX) {
        stop(tree, PROBLEM_LIMIT, key->line, key->column, "more than 256 keys in one mapping");
        return;
    }
    node->key = key;
    append(frame->node, node);
}

static void add_node(struct tree *tree, struct node *node) {
    if (tree->depth == 0) {
        tree->root = node;
        return;
    }
    struct frame *frame = &tree->stack[tree->depth - 1];
    if (frame->node->kind == NODE_LIST) {
        append(frame->node, node);
    } else {
        add_to_map(tree, frame, node);
    }
}

static void refuse_marks(struct tree *tree, struct fy_token *anchor, struct fy_token *tag) {
    const struct fy_mark *mark = anchor == NULL ? NULL : fy_token_start_mark(anchor);
    if (mark != NULL) {
        tell_at(tree, PROBLEM_BAD_VALUE, mark->line + 1, mark->column,
                "anchors (&) are not read; write the value out where it is wanted");
    }
    mark = tag == NULL ? NULL : fy_token_start_mark(tag);
    if (mark != NULL) {
        tell_at(tree, PROBLEM_BAD_VALUE, mark->line + 1, mark->column + 1,
                "tags (!) are not read; write the value alone");
    }
}

static struct text scalar_text(struct tree *tree, struct fy_token *token) {
    size_t length = 0;
    const char *bytes = fy_token_get_text(token, &length);
    if (bytes == NULL && token != NULL) {
        /* Only where there is no memory; a value must not turn into nothing. */
        tree->gatherer->refused = true;
    }
    return bytes == NULL ? (struct text){0}
                         : text_copy(&tree->gatherer->document->arena,
                                   (struct text){.start = bytes, .length = length});
}

static bool is_break(char byte) {
    return byte == '\n' || byte == '\r';
}

static bool is_blank(char byte) {
    return byte == ' ' || byte == '\t';
}

/* What stands between single quotes; source: YAML 1.2.2, 7.3.2 and 6.5. Done here because libfyaml 0.7.12 reads two
 * doubled quotes side by side wrongly (and leaks at many): 'a''''b' gives a''' and loses the rest. */
static struct text single_quoted(struct tree *tree, struct text inside) {
    char *start = ARENA_ARRAY(&tree->gatherer->document->arena, char, inside.length + 1);
    size_t length = 0;
    size_t at = 0;
    while (start != NULL && at < inside.length) {
        if (!is_break(inside.start[at])) {
            start[length++] = inside.start[at];
            at += inside.start[at] == '\'' ? 2 : 1;
            continue;
        }
        while (length > 0 && is_blank(start[length - 1])) {
            length--;
        }
        size_t breaks = 0;
        for (; at < inside.length && (is_break(inside.start[at]) || is_blank(inside.start[at]));
                at++) {
            breaks += inside.start[at] == '\n' ||
                    (inside.start[at] == '\r' &&
                            (at + 1 == inside.length || inside.start[at + 1] != '\n'));
        }
        start[length++] = breaks == 1 ? ' ' : '\n';
        for (; breaks > 2; breaks--) {
            start[length++] = '\n';
        }
    }
    return start == NULL ? (struct text){0} : (struct text){.start = start, .length = length};
}

/* A backslash that joins two lines: 0.7.12 loses letters there, so it is refused. */
static void refuse_joined_lines(struct tree *tree, const struct node *node) {
    const char *text = tree->file->text.start;
    for (size_t at = node->start; at + 1 < node->end; at++) {
        if (text[at] == '\\' && is_break(text[at + 1])) {
            tell_at(tree, PROBLEM_BAD_VALUE, node->line, node->column,
                    "a backslash at the end of a line is not read here; leave it out, the lines "
                    "are joined anyway");
            return;
        }
        at += text[at] == '\\';
    }
}

/* A value in curly quotes, which would be part of it. A key is told as one that there is not. */
static void refuse_curly(struct tree *tree, struct node *node) {
    const struct frame *frame = tree->depth == 0 ? NULL : &tree->stack[tree->depth - 1];
    const bool key = frame != NULL && frame->node->kind == NODE_MAP && frame->key == NULL;
    if (!key && node->plain && yaml_slip_curly(node->text)) {
        tell_at(tree, PROBLEM_BAD_VALUE, node->line, node->column, YAML_SLIP_CURLY);
        node->kind = NODE_BROKEN;
        tree->curly_line = node->line;
    }
}

static void on_scalar(struct tree *tree, const struct fy_event *event) {
    struct node *node = new_node(tree, NODE_TEXT);
    if (node == NULL) {
        return;
    }
    struct fy_token *token = event->scalar.value;
    const enum fy_scalar_style style = fy_token_scalar_style(token);
    node->plain = style == FYSS_PLAIN;
    node->block = style == FYSS_LITERAL || style == FYSS_FOLDED;
    if (!mark_node(node, token)) {
        mark_nothing(tree, node);
    } else if (style == FYSS_SINGLE_QUOTED || style == FYSS_DOUBLE_QUOTED) {
        /* The marks are those of what stands inside the quotes. */
        node->start--;
        node->end++;
        node->column--;
    }
    if (style == FYSS_DOUBLE_QUOTED) {
        refuse_joined_lines(tree, node);
    }
    node->text = style != FYSS_SINGLE_QUOTED
            ? scalar_text(tree, token)
            : single_quoted(tree,
                      (struct text){.start = tree->file->text.start + node->start + 1,
                              .length = node->end - node->start - 2});
    if (node->text.start == NULL) {
        tree->gatherer->refused = true;
        tree->stopped = true;
        return;
    }
    node->null = node->plain &&
            (node->text.length == 0 || text_is(node->text, "~") || text_is(node->text, "null"));
    refuse_marks(tree, event->scalar.anchor, event->scalar.tag);
    refuse_curly(tree, node);
    add_node(tree, node);
}

static void on_alias(struct tree *tree, const struct fy_event *event) {
    struct node *node = new_node(tree, NODE_BROKEN);
    if (node == NULL) {
        return;
    }
    (void)mark_node(node, event->alias.anchor);
    node->column--; /* the mark is that of the name behind the star */
    tell_at(tree, PROBLEM_BAD_VALUE, node->line, node->column,
            "aliases (*) are not read; write the value out where it is wanted");
    if (++tree->aliases > DOCUMENT_PROBLEM_MAX) {
        tree->stopped = true;
        return;
    }
    add_node(tree, node);
}

static void on_open(struct tree *tree, enum node_kind kind, struct fy_token *token,
        struct fy_token *anchor, struct fy_token *tag) {
    struct node *node = new_node(tree, kind);
    if (node == NULL) {
        return;
    }
    (void)mark_node(node, token);
    node->flow = node->end > node->start;
    refuse_marks(tree, anchor, tag);
    if (tree->depth == DOCUMENT_DEPTH_MAX) {
        char what[96];
        (void)snprintf(what, sizeof what,
                "nested more than %d deep; a site file needs no more than 8",
                (int)DOCUMENT_DEPTH_MAX);
        stop(tree, PROBLEM_LIMIT, node->line, node->column, what);
        return;
    }
    add_node(tree, node);
    tree->stack[tree->depth++] = (struct frame){.node = node};
}

static void on_close(struct tree *tree, struct fy_token *token) {
    struct node *node = tree->stack[--tree->depth].node;
    const struct fy_mark *end = token == NULL ? NULL : fy_token_end_mark(token);
    if (node->flow && end != NULL) {
        node->end = end->input_pos;
    } else if (node->last != NULL) {
        node->end = node->last->end;
    }
}

static void on_document(struct tree *tree, const struct fy_event *event) {
    if (tree->root == NULL) {
        return;
    }
    const struct fy_mark *mark = event->document_start.document_start == NULL
            ? NULL
            : fy_token_start_mark(event->document_start.document_start);
    stop(tree, PROBLEM_BAD_VALUE, mark == NULL ? 0 : mark->line + 1, 1,
            "a second document begins here; one file is one site: remove this line and what "
            "follows it");
}

static void on_event(struct tree *tree, const struct fy_event *event) {
    switch (event->type) {
    case FYET_DOCUMENT_START:
        on_document(tree, event);
        break;
    case FYET_MAPPING_START:
        on_open(tree, NODE_MAP, event->mapping_start.mapping_start, event->mapping_start.anchor,
                event->mapping_start.tag);
        break;
    case FYET_SEQUENCE_START:
        on_open(tree, NODE_LIST, event->sequence_start.sequence_start, event->sequence_start.anchor,
                event->sequence_start.tag);
        break;
    case FYET_MAPPING_END:
        on_close(tree, event->mapping_end.mapping_end);
        break;
    case FYET_SEQUENCE_END:
        on_close(tree, event->sequence_end.sequence_end);
        break;
    case FYET_SCALAR:
        on_scalar(tree, event);
        break;
    case FYET_ALIAS:
        on_alias(tree, event);
        break;
    case FYET_NONE:
    case FYET_STREAM_START:
    case FYET_STREAM_END:
    case FYET_DOCUMENT_END:
        break;
    }
}

/* Where the text shows no slip the parser's own words are kept, as somebody may know them; what to do is added. */
static const char *remedy_of(const char *message) {
    static const struct {
        const char *part;
        const char *remedy;
    } remedies[] = {
            {"tab character", "; use blanks"},
            {"nested block mapping on the same line",
                    "; a value with \": \" in it stands in quotes"},
            {"multiline plain key",
                    "; write each \"key: value\" on a line of its own, indented with blanks"},
            {"without closing quote", "; close it"},
            {"quoted scalar", "; close the quote in the line in which it opens"},
            {"indentation", "; keys of one mapping begin in the same column"},
            {"indendation in sequence", "; the dashes of one list begin in the same column"},
            {"missing comma", "; separate by commas, and close the bracket that is open here"},
            {"expected node content", "; an entry before this place has nothing in it"},
            {"cannot start with", "; a value that begins with it stands in quotes"},
    };
    for (size_t i = 0; i < sizeof remedies / sizeof remedies[0]; i++) {
        if (strstr(message, remedies[i].part) != NULL) {
            return remedies[i].remedy;
        }
    }
    return "";
}

static void tell_syntax(struct tree *tree, struct fy_diag *diag) {
    void *iterator = NULL;
    const struct fy_diag_error *error = fy_diag_errors_iterate(diag, &iterator);
    const struct node *top = tree->depth > 0 ? tree->stack[tree->depth - 1].node : NULL;
    const char *message =
            error == NULL || error->msg == NULL ? "not readable from here on" : error->msg;
    struct yaml_slip slip;
    tree->stopped = true;
    if (error != NULL && error->line == tree->curly_line) {
        return; /* {name: “a: b”} is refused again behind the quote */
    }
    if (error != NULL &&
            yaml_slip_find(tree->file->text, error->line, error->column, message,
                    top != NULL && top->flow ? top : NULL, &slip)) {
        gather_add(tree->gatherer, PROBLEM_UNREADABLE, tree->file, slip.line, slip.column, "",
                "this is not YAML: %s", slip.what);
        return;
    }
    gather_add(tree->gatherer, PROBLEM_UNREADABLE, tree->file, error == NULL ? 0 : error->line,
            error == NULL ? 0 : error->column, "", "this is not YAML%s%s%s",
            tree->file->secret ? "" : ": ", tree->file->secret ? "" : message, remedy_of(message));
}

static void parse(struct tree *tree, struct fy_parser *parser, struct fy_diag *diag) {
    /* libfyaml does not write to the text, though it asks for no const. */
    if (fy_parser_set_string(parser, tree->file->text.start, tree->file->text.length) != 0) {
        tree->gatherer->refused = true;
        return;
    }
    bool ended = false;
    while (!ended && !tree->stopped) {
        errno = 0;
        struct fy_event *event = fy_parser_parse(parser);
        if (event == NULL && errno != ENOMEM) {
            tell_syntax(tree, diag);
            return;
        }
        if (event != NULL) {
            ended = event->type == FYET_STREAM_END;
            on_event(tree, event);
            fy_parser_event_free(parser, event);
        }
        /* Without memory libfyaml 0.7.12 may also give an event whose value is missing: it would be read as nothing. */
        if (errno == ENOMEM) {
            tree->gatherer->refused = true;
            return;
        }
    }
}

static void parse_text(struct tree *tree) {
    struct fy_diag_cfg diag_cfg;
    fy_diag_cfg_default(&diag_cfg);
    diag_cfg.fp = NULL;
    diag_cfg.colorize = false;
    struct fy_diag *diag = fy_diag_create(&diag_cfg);
    if (diag == NULL) {
        tree->gatherer->refused = true;
        return;
    }
    fy_diag_set_collect_errors(diag, true);
    const struct fy_parse_cfg cfg = {
            .search_path = "",
            .flags = FYPCF_QUIET | FYPCF_COLLECT_DIAG | FYPCF_DEFAULT_VERSION_1_2 | FYPCF_JSON_NONE,
            .diag = diag,
    };
    struct fy_parser *parser = fy_parser_create(&cfg);
    if (parser == NULL) {
        tree->gatherer->refused = true;
    } else {
        parse(tree, parser, diag);
        fy_parser_destroy(parser);
    }
    fy_diag_destroy(diag);
}

const struct node *node_read(struct gatherer *gatherer, const struct document_file *file) {
    struct tree tree = {.gatherer = gatherer, .file = file};
    look_over(&tree);
    if (!tree.stopped) {
        parse_text(&tree);
    }
    if (tree.stopped || gatherer->refused) {
        return NULL;
    }
    if (tree.root == NULL || tree.root->null) {
        gather_add(gatherer, PROBLEM_UNREADABLE, file, 0, 0, "",
                "the file is empty; docs/site-file.md tells what belongs in it");
        return NULL;
    }
    return tree.root;
}

const struct node *node_child(const struct node *map, const char *key) {
    if (map == NULL || map->kind != NODE_MAP) {
        return NULL;
    }
    for (const struct node *child = map->first; child != NULL; child = child->next) {
        if (text_is(child->key->text, key)) {
            return child;
        }
    }
    return NULL;
}

const struct node *node_item(const struct node *list, size_t index) {
    if (list == NULL || list->kind != NODE_LIST) {
        return NULL;
    }
    const struct node *child = list->first;
    for (size_t i = 0; child != NULL && i < index; i++) {
        child = child->next;
    }
    return child;
}

bool node_equal(const struct node *a, const struct node *b) {
    if (a == NULL || b == NULL) {
        return a == b;
    }
    if (a->kind != b->kind || a->count != b->count || a->null != b->null ||
            !text_equal(a->text, b->text)) {
        return false;
    }
    const struct node *x = a->first;
    const struct node *y = b->first;
    while (x != NULL && y != NULL) {
        if ((x->key != NULL && !text_equal(x->key->text, y->key->text)) || !node_equal(x, y)) {
            return false;
        }
        x = x->next;
        y = y->next;
    }
    return x == y;
}
