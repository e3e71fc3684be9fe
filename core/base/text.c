#include "base/text.h"

#include <stdint.h>
#include <stdio.h>
#include <string.h>

struct text text_of(const char *string) {
    return (struct text){.start = string, .length = strlen(string)};
}

bool text_equal(struct text a, struct text b) {
    return a.length == b.length && (a.length == 0 || memcmp(a.start, b.start, a.length) == 0);
}

bool text_is(struct text a, const char *string) {
    return text_equal(a, text_of(string));
}

struct text text_copy(struct arena *arena, struct text source) {
    char *copy = ARENA_ARRAY(arena, char, source.length + 1);
    if (copy == NULL) {
        return (struct text){0};
    }
    if (source.length > 0) {
        memcpy(copy, source.start, source.length);
    }
    return (struct text){.start = copy, .length = source.length};
}

static char lower(char letter) {
    return letter >= 'A' && letter <= 'Z' ? (char)(letter - 'A' + 'a') : letter;
}

static size_t least(size_t a, size_t b) {
    return a < b ? a : b;
}

size_t text_distance(struct text a, struct text b, size_t most) {
    enum { LONGEST = 63 };
    if (a.length > LONGEST || b.length > LONGEST) {
        return most + 1;
    }
    size_t rows[3][LONGEST + 1];
    for (size_t j = 0; j <= b.length; j++) {
        rows[0][j] = j;
    }
    size_t *before = rows[2];
    size_t *last = rows[0];
    size_t *row = rows[1];
    for (size_t i = 1; i <= a.length; i++) {
        row[0] = i;
        for (size_t j = 1; j <= b.length; j++) {
            const char x = lower(a.start[i - 1]);
            const char y = lower(b.start[j - 1]);
            row[j] = least(least(last[j] + 1, row[j - 1] + 1), last[j - 1] + (x != y));
            if (i > 1 && j > 1 && x == lower(b.start[j - 2]) && lower(a.start[i - 2]) == y) {
                row[j] = least(row[j], before[j - 2] + 1);
            }
        }
        size_t *spare = before;
        before = last;
        last = row;
        row = spare;
    }
    return least(last[b.length], most + 1);
}

size_t text_columns(struct text a) {
    size_t columns = 0;
    for (size_t i = 0; i < a.length; i++) {
        columns += ((unsigned char)a.start[i] & 0xC0U) != 0x80U;
    }
    return columns;
}

size_t text_first_bytes(struct text a) {
    size_t bytes = 1;
    while (bytes < a.length && ((unsigned char)a.start[bytes] & 0xC0U) == 0x80U) {
        bytes++;
    }
    return bytes;
}

static uint32_t code_point_of(struct text one) {
    const unsigned char first = (unsigned char)one.start[0];
    uint32_t code = one.length == 1 ? first
            : one.length == 2       ? first & 0x1FU
            : one.length == 3       ? first & 0x0FU
                                    : first & 0x07U;
    for (size_t i = 1; i < one.length; i++) {
        code = code << 6 | ((unsigned char)one.start[i] & 0x3FU);
    }
    return code;
}

static size_t cells_of(uint32_t code) {
    static const struct {
        uint32_t first;
        uint32_t last;
        size_t cells;
    } blocks[] = {
            {0x0300, 0x036F, 0},   /* combining marks */
            {0x1100, 0x115F, 2},   /* Hangul initials */
            {0x200B, 0x200F, 0},   /* marks of no width */
            {0x20D0, 0x20F0, 0},   /* combining marks for symbols */
            {0x2E80, 0x3029, 2},   /* radicals, East Asian punctuation */
            {0x302A, 0x302D, 0},   /* tone marks */
            {0x302E, 0x303E, 2},   /* more punctuation */
            {0x3041, 0x3098, 2},   /* hiragana */
            {0x3099, 0x309A, 0},   /* voicing marks */
            {0x309B, 0x4DBF, 2},   /* katakana to extension A */
            {0x4E00, 0xA4CF, 2},   /* unified ideographs, Yi */
            {0xAC00, 0xD7A3, 2},   /* Hangul syllables */
            {0xF900, 0xFAFF, 2},   /* compatibility ideographs */
            {0xFE30, 0xFE6F, 2},   /* vertical and small forms */
            {0xFF01, 0xFF60, 2},   /* full-width forms */
            {0xFFE0, 0xFFE6, 2},   /* full-width signs */
            {0x1F300, 0x1F64F, 2}, /* pictures */
            {0x1F900, 0x1F9FF, 2}, /* more pictures */
            {0x20000, 0x3FFFD, 2}, /* further ideographs */
    };
    for (size_t i = 0; i < sizeof blocks / sizeof blocks[0]; i++) {
        if (code >= blocks[i].first && code <= blocks[i].last) {
            return blocks[i].cells;
        }
    }
    return 1;
}

size_t text_cells(struct text a) {
    size_t cells = 0;
    while (a.length > 0) {
        const size_t bytes = text_first_bytes(a);
        cells += cells_of(code_point_of((struct text){.start = a.start, .length = bytes}));
        a.start += bytes;
        a.length -= bytes;
    }
    return cells;
}

void text_builder_init(struct text_builder *builder, struct arena *arena) {
    *builder = (struct text_builder){.arena = arena};
}

static bool make_room(struct text_builder *builder, size_t more) {
    if (builder->failed) {
        return false;
    }
    if (builder->capacity - builder->length > more) {
        return true;
    }
    size_t capacity = builder->capacity == 0 ? 128 : builder->capacity;
    while (capacity - builder->length <= more) {
        if (capacity > SIZE_MAX / 4) {
            builder->failed = true;
            return false;
        }
        capacity *= 2;
    }
    char *start = ARENA_ARRAY(builder->arena, char, capacity);
    if (start == NULL) {
        builder->failed = true;
        return false;
    }
    if (builder->length > 0) {
        memcpy(start, builder->start, builder->length);
    }
    builder->start = start;
    builder->capacity = capacity;
    return true;
}

void text_add(struct text_builder *builder, struct text addition) {
    if (addition.length > 0 && make_room(builder, addition.length)) {
        memcpy(builder->start + builder->length, addition.start, addition.length);
        builder->length += addition.length;
        builder->start[builder->length] = '\0';
    }
}

void text_add_string(struct text_builder *builder, const char *addition) {
    text_add(builder, text_of(addition));
}

void text_add_char(struct text_builder *builder, char addition) {
    text_add(builder, (struct text){.start = &addition, .length = 1});
}

void text_add_format_list(struct text_builder *builder, const char *format, va_list arguments) {
    va_list again;
    va_copy(again, arguments);
    const int length = vsnprintf(NULL, 0, format, arguments);
    if (length > 0 && make_room(builder, (size_t)length)) {
        (void)vsnprintf(builder->start + builder->length, (size_t)length + 1, format, again);
        builder->length += (size_t)length;
    }
    va_end(again);
}

void text_add_format(struct text_builder *builder, const char *format, ...) {
    va_list arguments;
    va_start(arguments, format);
    text_add_format_list(builder, format, arguments);
    va_end(arguments);
}

struct text text_built(struct text_builder *builder) {
    if (builder->failed) {
        return (struct text){0};
    }
    return builder->length == 0 ? text_of("")
                                : (struct text){.start = builder->start, .length = builder->length};
}

struct text text_print(struct arena *arena, const char *format, ...) {
    struct text_builder builder;
    va_list arguments;
    text_builder_init(&builder, arena);
    va_start(arguments, format);
    text_add_format_list(&builder, format, arguments);
    va_end(arguments);
    return text_built(&builder);
}
