#include "web/line.h"

#include <string.h>

enum { PARTS = 3 };

struct line line_of(struct text data) {
    return (struct line){.parts = {text_of("data: "), data, text_of("\n\n")}};
}

struct line line_of_begun(struct text object) {
    return (struct line){.parts = {text_of("data: "), object, text_of("}\n\n")}};
}

struct line line_of_nothing(void) {
    return (struct line){.parts = {text_of(": still here"), {0}, text_of("\n\n")}};
}

static void skip_empty(struct line *line) {
    while (line->part < PARTS && line->at == line->parts[line->part].length) {
        line->part++;
        line->at = 0;
    }
}

bool line_is_over(const struct line *line) {
    struct line rest = *line;
    skip_empty(&rest);
    return rest.part == PARTS;
}

size_t line_copy(struct line *line, char *room, size_t most) {
    size_t count = 0;
    for (skip_empty(line); line->part < PARTS && count < most; skip_empty(line)) {
        const struct text part = line->parts[line->part];
        const size_t left = part.length - line->at;
        const size_t now = left < most - count ? left : most - count;
        memcpy(room + count, part.start + line->at, now);
        count += now;
        line->at += now;
    }
    return count;
}

size_t line_from_json(struct text json, char *out) {
    size_t length = 0;
    bool indent = false;
    for (size_t i = 0; i < json.length; i++) {
        const char byte = json.start[i];
        indent = byte == '\n' || (indent && byte == ' ');
        if (!indent) {
            out[length++] = byte;
        }
    }
    return length;
}
