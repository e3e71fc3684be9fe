/* Text as slices, and a builder that grows in an arena. Never depends on the locale. */
#ifndef LINTEL_BASE_TEXT_H
#define LINTEL_BASE_TEXT_H

#include "base/arena.h"

#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>

/** A slice of UTF-8. Not NUL-terminated; {NULL, 0} is the empty text. */
struct text {
    const char *start;
    size_t length;
};

/** The slice over a NUL-terminated string; borrows it for the life of the slice. */
struct text text_of(const char *string);

/** Same bytes. */
bool text_equal(struct text a, struct text b);
bool text_is(struct text a, const char *string);

/** Whether the first bytes of a text are those of another; the empty text begins every one. */
bool text_begins(struct text whole, struct text beginning);

/** A copy in the arena, NUL-terminated one byte past its length; {NULL, 0} when memory is refused. */
struct text text_copy(struct arena *arena, struct text source);

/** How many single-letter changes (insert, drop, replace, swap of neighbours) lead from a to b, at most `most` + 1, in
 *  characters, whatever bytes they take; Latin, Greek and Cyrillic letters compare without case, a final sigma as any
 *  other. More than 63 characters count as far apart. Sources: Damerau 1964, restricted edit distance; for the letters,
 *  Unicode CaseFolding.txt, simple folding. */
size_t text_distance(struct text a, struct text b, size_t most);

/** How many letters a slip may change of the word: a third, one at least and three at most; of a single letter none, as
 *  any other would do. Further away it is another word (house practice). */
size_t text_reach(struct text word);

/** How many columns of a terminal the text takes, each code point counted as one. */
size_t text_columns(struct text a);

/** How many cells a terminal gives the text: two for wide characters (East Asian scripts, full-width forms, pictures),
 *  none for combining marks, one for the rest. Source: Unicode UAX 11, classes W and F, by blocks; not for emoji
 *  sequences. */
size_t text_cells(struct text a);

/** Length in bytes of the first character (UTF-8 lead byte and its continuation); a: not empty. */
size_t text_first_bytes(struct text a);

/** Puts dots where a terminal would be steered: control characters but the line feed, of ASCII and of Latin-1 as UTF-8
 *  writes them. In place; ill-formed UTF-8 is left as it is. Source: ECMA-48, C0, C1 and DEL. */
void text_tame(char *bytes, size_t length);

/** Text that grows. `failed` stays set once memory was refused; later additions are dropped, so a caller
 *  may check once at the end. */
struct text_builder {
    struct arena *arena;
    char *start;
    size_t length;
    size_t capacity;
    bool failed;
};

void text_builder_init(struct text_builder *builder, struct arena *arena);
void text_add(struct text_builder *builder, struct text addition);
void text_add_string(struct text_builder *builder, const char *addition);
void text_add_char(struct text_builder *builder, char addition);
void text_add_format(struct text_builder *builder, const char *format, ...)
        __attribute__((format(printf, 2, 3)));
void text_add_format_list(struct text_builder *builder, const char *format, va_list arguments)
        __attribute__((format(printf, 2, 0)));

/** What was built so far, NUL-terminated one byte past its length; valid until the next addition. */
struct text text_built(struct text_builder *builder);

/** Prints into the arena; {NULL, 0} when memory is refused. */
struct text text_print(struct arena *arena, const char *format, ...)
        __attribute__((format(printf, 2, 3)));

/** For printf: "%.*s", TEXT_ARGS(slice). */
#define TEXT_ARGS(slice) (int)(slice).length, ((slice).start == NULL ? "" : (slice).start)

#endif
