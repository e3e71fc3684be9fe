#include "check/layout.h"

/* Only those of ECMA-48 that every terminal has. */
static const char *const inks[LAYOUT_INK_COUNT] = {
        [LAYOUT_PLAIN] = "",
        [LAYOUT_BAD] = "\033[1;31m",
        [LAYOUT_UNSURE] = "\033[33m",
        [LAYOUT_GOOD] = "\033[32m",
        [LAYOUT_QUIET] = "\033[2m",
        [LAYOUT_STRONG] = "\033[1m",
};

static bool is_inked(const struct layout *layout, enum layout_ink ink) {
    return layout->colour && ink != LAYOUT_PLAIN;
}

static void begin_ink(struct layout *layout, enum layout_ink ink) {
    if (is_inked(layout, ink)) {
        text_add_string(layout->out, inks[ink]);
    }
}

static void end_ink(struct layout *layout, enum layout_ink ink) {
    if (is_inked(layout, ink)) {
        text_add_string(layout->out, "\033[0m");
    }
}

/** What is said comes from files and from the wire as well. */
static void add_tame(struct layout *layout, struct text text) {
    const size_t before = layout->out->length;
    text_add(layout->out, text);
    if (layout->out->length > before) {
        text_tame(layout->out->start + before, layout->out->length - before);
    }
}

void layout_put(struct layout *layout, struct text text, enum layout_ink ink) {
    begin_ink(layout, ink);
    add_tame(layout, text);
    end_ink(layout, ink);
    layout->column += text_cells(text);
}

void layout_put_string(struct layout *layout, const char *string, enum layout_ink ink) {
    layout_put(layout, text_of(string), ink);
}

void layout_end_line(struct layout *layout) {
    text_add_char(layout->out, '\n');
    layout->column = 0;
}

void layout_to(struct layout *layout, size_t column) {
    while (layout->column < column) {
        text_add_char(layout->out, ' ');
        layout->column++;
    }
}

/* The bytes of at most so many cells at the start; marks stay with their letter. */
static size_t bytes_of_cells(struct text text, size_t cells) {
    size_t length = 0;
    size_t used = 0;
    while (length < text.length) {
        const struct text rest = {.start = text.start + length, .length = text.length - length};
        const struct text one = {.start = rest.start, .length = text_first_bytes(rest)};
        used += text_cells(one);
        if (used > cells) {
            break;
        }
        length += one.length;
    }
    return length;
}

static struct text next_word(struct text *rest) {
    while (rest->length > 0 && rest->start[0] == ' ') {
        rest->start++;
        rest->length--;
    }
    size_t length = 0;
    while (length < rest->length && rest->start[length] != ' ') {
        length++;
    }
    const struct text word = {.start = rest->start, .length = length};
    rest->start += length;
    rest->length -= length;
    return word;
}

static void new_line(struct layout *layout, size_t hang, enum layout_ink ink) {
    end_ink(layout, ink);
    layout_end_line(layout);
    layout_to(layout, hang);
    begin_ink(layout, ink);
}

void layout_words(struct layout *layout, struct text text, size_t hang, enum layout_ink ink) {
    bool first = true;
    begin_ink(layout, ink);
    for (struct text word = next_word(&text); word.length > 0; word = next_word(&text)) {
        const size_t gap = first ? 0 : 1;
        if (layout->column + gap + text_cells(word) > layout->width && layout->column > hang) {
            new_line(layout, hang, ink);
        } else if (!first) {
            text_add_char(layout->out, ' ');
            layout->column++;
        }
        while (layout->column + text_cells(word) > layout->width) {
            size_t length = bytes_of_cells(word, layout->width - layout->column);
            if (length == 0 && layout->column <= hang) {
                length = text_first_bytes(word); /* wider than the line: it has to go somewhere */
            }
            const struct text piece = {.start = word.start, .length = length};
            add_tame(layout, piece);
            layout->column += text_cells(piece);
            word.start += length;
            word.length -= length;
            if (word.length == 0) {
                break;
            }
            new_line(layout, hang, ink);
        }
        add_tame(layout, word);
        layout->column += text_cells(word);
        first = false;
    }
    end_ink(layout, ink);
}
