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

bool text_begins(struct text whole, struct text beginning) {
    return whole.length >= beginning.length &&
            text_equal((struct text){.start = whole.start, .length = beginning.length}, beginning);
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

static size_t least(size_t a, size_t b) {
    return a < b ? a : b;
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

/* The small letter of a capital one. Every `step`th from `first` on is a capital. */
static uint32_t lower(uint32_t code) {
    static const struct {
        uint32_t first;
        uint32_t last;
        uint32_t step;
        uint32_t further;
    } capitals[] = {
            {0x0041, 0x005A, 1, 32}, /* ASCII */
            {0x00C0, 0x00D6, 1, 32}, /* Latin with marks, up to the multiplication sign */
            {0x00D8, 0x00DE, 1, 32},
            {0x0100, 0x012E, 2, 1}, /* Latin Extended-A: capital and small letter side by side */
            {0x0132, 0x0136, 2, 1},
            {0x0139, 0x0147, 2, 1},
            {0x014A, 0x0176, 2, 1},
            {0x0179, 0x017D, 2, 1},
            {0x0386, 0x0386, 1, 38}, /* Greek with accents */
            {0x0388, 0x038A, 1, 37},
            {0x038C, 0x038C, 1, 64},
            {0x038E, 0x038F, 1, 63},
            {0x0391, 0x03A1, 1, 32}, /* Greek */
            {0x03A3, 0x03AB, 1, 32},
            {0x03C2, 0x03C2, 1, 1},  /* sigma at the end of a word */
            {0x0400, 0x040F, 1, 80}, /* Cyrillic */
            {0x0410, 0x042F, 1, 32},
    };
    for (size_t i = 0; i < sizeof capitals / sizeof capitals[0]; i++) {
        if (code >= capitals[i].first && code <= capitals[i].last &&
                (code - capitals[i].first) % capitals[i].step == 0) {
            return code + capitals[i].further;
        }
    }
    return code;
}

enum { LONGEST = 63 };

/* Its letters, small; false: more than LONGEST. */
static bool spell(struct text a, uint32_t ret_letters[LONGEST], size_t *ret_count) {
    size_t count = 0;
    while (a.length > 0) {
        const struct text one = {.start = a.start, .length = text_first_bytes(a)};
        if (count == LONGEST) {
            return false;
        }
        ret_letters[count++] = lower(code_point_of(one));
        a.start += one.length;
        a.length -= one.length;
    }
    *ret_count = count;
    return true;
}

size_t text_distance(struct text a, struct text b, size_t most) {
    uint32_t from[LONGEST];
    uint32_t to[LONGEST];
    size_t from_count = 0;
    size_t to_count = 0;
    if (!spell(a, from, &from_count) || !spell(b, to, &to_count)) {
        return most + 1;
    }
    size_t rows[3][LONGEST + 1];
    for (size_t j = 0; j <= to_count; j++) {
        rows[0][j] = j;
    }
    size_t *before = rows[2];
    size_t *last = rows[0];
    size_t *row = rows[1];
    for (size_t i = 1; i <= from_count; i++) {
        row[0] = i;
        for (size_t j = 1; j <= to_count; j++) {
            const uint32_t x = from[i - 1];
            const uint32_t y = to[j - 1];
            row[j] = least(least(last[j] + 1, row[j - 1] + 1), last[j - 1] + (x != y));
            if (i > 1 && j > 1 && x == to[j - 2] && from[i - 2] == y) {
                row[j] = least(row[j], before[j - 2] + 1);
            }
        }
        size_t *spare = before;
        before = last;
        last = row;
        row = spare;
    }
    return least(last[to_count], most + 1);
}

size_t text_reach(struct text word) {
    enum { MOST = 3 };
    const size_t letters = text_columns(word);
    const size_t third = letters / MOST;
    return letters < 2 ? 0 : third < 1 ? 1 : least(third, MOST);
}

size_t text_columns(struct text a) {
    size_t columns = 0;
    for (size_t i = 0; i < a.length; i++) {
        columns += ((unsigned char)a.start[i] & 0xC0U) != 0x80U;
    }
    return columns;
}

static size_t cells_of(uint32_t code) {
    static const struct {
        uint32_t first;
        uint32_t last;
        size_t cells;
    } blocks[] = {
            {0x0300, 0x036F, 0},   /* combining marks */
            {0x0483, 0x0489, 0},   /* Cyrillic ones */
            {0x1100, 0x115F, 2},   /* Hangul initials */
            {0x1AB0, 0x1ACE, 0},   /* further combining marks */
            {0x1DC0, 0x1DFF, 0},   /* ... and more of them */
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
            {0xFE00, 0xFE0F, 0},   /* which form of the character before */
            {0xFE20, 0xFE2F, 0},   /* half marks */
            {0xFE30, 0xFE6F, 2},   /* vertical and small forms */
            {0xFF01, 0xFF60, 2},   /* full-width forms */
            {0xFFE0, 0xFFE6, 2},   /* full-width signs */
            {0x1F300, 0x1F64F, 2}, /* pictures */
            {0x1F900, 0x1F9FF, 2}, /* more pictures */
            {0x20000, 0x3FFFD, 2}, /* further ideographs */
            {0xE0100, 0xE01EF, 0}, /* which form of the ideograph before */
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

void text_tame(char *bytes, size_t length) {
    for (size_t i = 0; i < length; i++) {
        const unsigned char byte = (unsigned char)bytes[i];
        const unsigned char next = i + 1 < length ? (unsigned char)bytes[i + 1] : 0;
        if ((byte < ' ' && byte != '\n') || byte == 0x7F) {
            bytes[i] = '.';
        } else if (byte == 0xC2 && next >= 0x80 && next <= 0x9F) {
            bytes[i] = '.';
            bytes[i + 1] = '.';
        }
    }
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
