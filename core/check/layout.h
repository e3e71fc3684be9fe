/* Layout: text in columns of a terminal. Wraps words, hangs the later lines under the first, never passes the width.
 * Knows nothing of what it prints. Colour marks what words say already, never more. */
#ifndef LINTEL_CHECK_LAYOUT_H
#define LINTEL_CHECK_LAYOUT_H

#include "base/text.h"

enum { LAYOUT_WIDTH = 80, LAYOUT_WIDTH_MOST = 100 };

enum layout_ink {
    LAYOUT_PLAIN,
    LAYOUT_BAD,
    LAYOUT_UNSURE,
    LAYOUT_GOOD,
    LAYOUT_QUIET,
    LAYOUT_STRONG,
    LAYOUT_INK_COUNT
};

/** Where and how: width in columns (at least 40), colour: ANSI colours may be written. column: where the next
 *  character goes; kept by the functions below. */
struct layout {
    struct text_builder *out;
    size_t width;
    bool colour;
    size_t column;
};

/** Text that stays on the line, even past the width: labels and clocks that the caller knows to be short. */
void layout_put(struct layout *layout, struct text text, enum layout_ink ink);
void layout_put_string(struct layout *layout, const char *string, enum layout_ink ink);

/** Blanks up to a column; none when it is passed already. */
void layout_to(struct layout *layout, size_t column);

/** Words, wrapped at the width; lines after the first begin at column `hang`. A word longer than a line is cut. */
void layout_words(struct layout *layout, struct text text, size_t hang, enum layout_ink ink);

void layout_end_line(struct layout *layout);

#endif
