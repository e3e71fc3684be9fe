#include "document/yaml_slips.h"

#include <stdio.h>
#include <string.h>

/* A line of the text, without its break. number from 1; indent: of its first character that is no blank, in bytes. */
struct line {
    struct text text;
    size_t start;
    size_t indent;
    int number;
};

/* What the parser said and where; the line it stopped in. */
struct halt {
    struct text text;
    struct line line;
    int column;
    const char *message;
    const struct node *open;
};

static struct line line_from(struct text text, size_t start, int number) {
    const char *end =
            start >= text.length ? NULL : memchr(text.start + start, '\n', text.length - start);
    const size_t stop = end == NULL ? text.length : (size_t)(end - text.start);
    struct line line = {
            .text = {.start = text.start + start, .length = stop > start ? stop - start : 0},
            .start = start,
            .number = number};
    while (line.indent < line.text.length && line.text.start[line.indent] == ' ') {
        line.indent++;
    }
    return line;
}

static struct line line_at(struct text text, int number) {
    size_t start = 0;
    int at = 1;
    while (at < number && start < text.length) {
        const char *end = memchr(text.start + start, '\n', text.length - start);
        start = end == NULL ? text.length : (size_t)(end - text.start) + 1;
        at++;
    }
    return line_from(text, start, at);
}

static char first_of(const struct line *line) {
    return line->indent < line->text.length ? line->text.start[line->indent] : '\0';
}

/* Nothing in it, or a remark. */
static bool is_idle(const struct line *line) {
    const char first = first_of(line);
    return first == '\0' || first == '\r' || first == '#';
}

/* The next line with something in it; number 0: there is none. */
static struct line line_after(struct text text, struct line line) {
    do {
        const size_t next = line.start + line.text.length + 1;
        if (next >= text.length) {
            return (struct line){0};
        }
        line = line_from(text, next, line.number + 1);
    } while (is_idle(&line));
    return line;
}

static struct line line_before(struct text text, struct line line) {
    do {
        if (line.start == 0) {
            return (struct line){0};
        }
        size_t start = line.start - 1;
        while (start > 0 && text.start[start - 1] != '\n') {
            start--;
        }
        line = line_from(text, start, line.number - 1);
    } while (is_idle(&line));
    return line;
}

static bool says(const struct halt *halt, const char *part) {
    return strstr(halt->message, part) != NULL;
}

static bool slip_at(struct yaml_slip *slip, int line, size_t column, const char *what) {
    *slip = (struct yaml_slip){.line = line, .column = (int)column};
    (void)snprintf(slip->what, sizeof slip->what, "%s", what);
    return true;
}

/* ---- what stands where it must not */

/* The bytes of a curly double quote, or of a single one that opens, at the place; 0: none. */
static size_t curly_at(struct text text, size_t at) {
    static const char *const quotes[] = {
            "\xE2\x80\x9C", "\xE2\x80\x9D", "\xE2\x80\x9E", "\xE2\x80\x98"};
    for (size_t i = 0; i < sizeof quotes / sizeof quotes[0]; i++) {
        const size_t length = strlen(quotes[i]);
        if (text.length - at >= length && memcmp(text.start + at, quotes[i], length) == 0) {
            return length;
        }
    }
    return 0;
}

bool yaml_slip_curly(struct text text) {
    return text.length > 0 && curly_at(text, 0) > 0;
}

/* Within straight quotes curly ones are what they look like, unless the straight one is never closed. */
static bool find_curly(const struct halt *halt, struct yaml_slip *slip) {
    const bool unclosed = says(halt, "without closing quote");
    bool quoted = false;
    size_t columns = 1;
    for (size_t at = 0; at < halt->line.text.length; at++) {
        quoted = quoted != (halt->line.text.start[at] == '"');
        if ((!quoted || unclosed) && curly_at(halt->line.text, at) > 0) {
            return slip_at(slip, halt->line.number, columns, YAML_SLIP_CURLY);
        }
        columns += ((unsigned char)halt->line.text.start[at] & 0xC0U) != 0x80U;
    }
    return false;
}

/* A value over several lines is told at its first, so the next one is looked at as well. */
static bool find_tab(const struct halt *halt, struct yaml_slip *slip) {
    const struct line lines[] = {halt->line, line_after(halt->text, halt->line)};
    for (size_t i = 0; i < sizeof lines / sizeof lines[0]; i++) {
        if (first_of(&lines[i]) == '\t') {
            return slip_at(slip, lines[i].number, lines[i].indent + 1,
                    "a tab stands here; indent with blanks");
        }
    }
    return false;
}

/* ---- keys and their colons */

/* Where the first key of the line begins: behind the dashes of its lists. */
static size_t key_start(const struct line *line) {
    size_t at = line->indent;
    while (at + 1 < line->text.length && line->text.start[at] == '-' &&
            line->text.start[at + 1] == ' ') {
        at++;
        while (at < line->text.length && line->text.start[at] == ' ') {
            at++;
        }
    }
    return at;
}

static bool is_key_letter(char letter) {
    return (letter >= 'a' && letter <= 'z') || (letter >= 'A' && letter <= 'Z') || letter == '-';
}

/* The bytes of the word with which the line begins, behind its dashes. */
static size_t key_length(const struct line *line) {
    const size_t start = key_start(line);
    size_t end = start;
    while (end < line->text.length && is_key_letter(line->text.start[end])) {
        end++;
    }
    return end - start;
}

static bool lacks_blank(const struct line *line) {
    const size_t colon = key_start(line) + key_length(line);
    return key_length(line) > 0 && colon + 1 < line->text.length &&
            line->text.start[colon] == ':' && line->text.start[colon + 1] != ' ' &&
            line->text.start[colon + 1] != '\r';
}

static bool find_colon(const struct halt *halt, struct yaml_slip *slip) {
    const struct line lines[] = {halt->line, line_after(halt->text, halt->line)};
    for (size_t i = 0; i < sizeof lines / sizeof lines[0]; i++) {
        if (halt->open == NULL && lacks_blank(&lines[i])) {
            return slip_at(slip, lines[i].number, key_start(&lines[i]) + key_length(&lines[i]) + 2,
                    "write a blank after the colon");
        }
    }
    const bool colon = memchr(halt->line.text.start, ':', halt->line.text.length) != NULL;
    if (halt->open == NULL && !colon && key_length(&halt->line) > 0 &&
            (says(halt, "multiline plain key") || says(halt, "expected ':'"))) {
        return slip_at(slip, halt->line.number,
                key_start(&halt->line) + key_length(&halt->line) + 1,
                "a colon and a blank are missing behind the key in this line");
    }
    return false;
}

/* ---- lines that begin in the wrong column */

static bool is_further(const struct line *line, const struct line *than, struct yaml_slip *slip) {
    if (line->number == 0 || than->number == 0 || line->indent <= key_start(than)) {
        return false;
    }
    (void)slip_at(slip, line->number, line->indent + 1, "");
    (void)snprintf(slip->what, sizeof slip->what,
            "this line is indented further than line %d; begin it in the same column, %zu",
            than->number, key_start(than) + 1);
    return true;
}

/* "profile: x", and the next line further in: for YAML that goes on with x, so the first of them is refused; not where
 * a remark stands between. */
static bool find_indent(const struct halt *halt, struct yaml_slip *slip) {
    const struct line after = line_after(halt->text, halt->line);
    const struct line before = line_before(halt->text, halt->line);
    if (halt->open != NULL) {
        return false;
    }
    return (says(halt, "multiline plain key") && is_further(&after, &halt->line, slip)) ||
            (says(halt, "invalid indentation") && is_further(&halt->line, &before, slip));
}

#define LIST_GOES_ON "a list goes on here: begin the line with \"- \""

/* The line goes on with a list and has no dash; or a list goes on behind it. */
static bool find_dash(const struct halt *halt, struct yaml_slip *slip) {
    const struct line before = line_before(halt->text, halt->line);
    const bool refused = says(halt, "expected key") || says(halt, "missing ':'") ||
            says(halt, "expected '-'") || says(halt, "end of block sequence");
    if (halt->open != NULL || !refused || before.number == 0) {
        return false;
    }
    if (first_of(&halt->line) != '-' && first_of(&before) == '-') {
        return slip_at(slip, halt->line.number, halt->line.indent + 1, LIST_GOES_ON);
    }
    /* "- a", "b", "- c": refused at the third. */
    const struct line first = line_before(halt->text, before);
    if (first_of(&halt->line) == '-' && first_of(&before) != '-' && first.number > 0 &&
            first_of(&first) == '-' && before.indent == halt->line.indent &&
            first.indent == halt->line.indent) {
        return slip_at(slip, before.number, before.indent + 1, LIST_GOES_ON);
    }
    return false;
}

/* ---- brackets */

/* A bracket that closes another than the one that is open, or none. */
static bool find_closing(const struct halt *halt, struct yaml_slip *slip) {
    const size_t at = (size_t)(halt->column - 1);
    const char here = at < halt->line.text.length ? halt->line.text.start[at] : '\0';
    if (here != ']' && here != '}') {
        return false;
    }
    const bool mismatched = says(halt, "mismatched");
    (void)slip_at(slip, halt->line.number, at + 1, "");
    if (mismatched) {
        (void)snprintf(slip->what, sizeof slip->what, "a %c is missing before this %c",
                here == ']' ? '}' : ']', here);
    } else if (says(halt, "extra closing")) {
        (void)snprintf(slip->what, sizeof slip->what, "this %c closes nothing; take it out", here);
    }
    return slip->what[0] != '\0';
}

static bool find_remark(const struct halt *halt, const struct line *line, struct yaml_slip *slip) {
    for (size_t at = (size_t)halt->open->column; at + 1 < line->text.length; at++) {
        if (line->text.start[at] == ' ' && line->text.start[at + 1] == '#') {
            return slip_at(slip, line->number, at + 2,
                    "a remark begins here, up to the end of the line; a value with # stands in "
                    "quotes");
        }
    }
    return false;
}

/* A bracket that no line closes is noticed lines later, often in a list or mapping that is in order. */
static bool find_open(const struct halt *halt, struct yaml_slip *slip) {
    if (halt->open == NULL || halt->line.number <= halt->open->line || says(halt, "quoted")) {
        return false;
    }
    const struct line opened = line_at(halt->text, halt->open->line);
    const char closing = halt->open->kind == NODE_MAP ? '}' : ']';
    const struct line before = line_before(halt->text, halt->line);
    if (find_remark(halt, &opened, slip)) {
        return true;
    }
    (void)slip_at(slip, opened.number, (size_t)halt->open->column, "");
    if (says(halt, "missing comma") && halt->line.indent > opened.indent) {
        (void)snprintf(slip->what, sizeof slip->what,
                "the bracket that opens here is not closed; a comma or a %c is missing at the end "
                "of line %d",
                closing, before.number);
    } else {
        (void)snprintf(slip->what, sizeof slip->what,
                "the bracket that opens here is not closed; a %c is missing at the end of line %d "
                "or so",
                closing, opened.number);
    }
    return true;
}

bool yaml_slip_find(struct text text, int line, int column, const char *message,
        const struct node *open, struct yaml_slip *ret_slip) {
    static bool (*const looks[])(const struct halt *, struct yaml_slip *) = {
            find_curly, find_tab, find_colon, find_indent, find_dash, find_closing, find_open};
    const struct halt halt = {.text = text,
            .line = line_at(text, line),
            .column = column,
            .message = message,
            .open = open};
    struct yaml_slip slip;
    for (size_t i = 0; i < sizeof looks / sizeof looks[0]; i++) {
        if (looks[i](&halt, &slip)) {
            *ret_slip = slip;
            return true;
        }
    }
    return false;
}
