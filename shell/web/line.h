/* One server-sent event, copied out as there is room for it. Source: WHATWG HTML, server-sent events: a "data:" line
 * and an empty one; a line that begins with a colon says nothing. */
#ifndef LINTEL_WEB_LINE_H
#define LINTEL_WEB_LINE_H

#include "base/text.h"

/** parts: what stands before the data, the data, what ends it. data: without a line break, kept until it is over. */
struct line {
    struct text parts[3];
    size_t part;
    size_t at;
};

struct line line_of(struct text data);

/** Of an object whose last brace is missing. */
struct line line_of_begun(struct text object);

/** One that says nothing but that somebody is still there. */
struct line line_of_nothing(void);

/** Whether all of it is copied; a zeroed one is over. */
bool line_is_over(const struct line *line);

/** Copies what fits, at most `most` bytes, at least one; gives how many. */
size_t line_copy(struct line *line, char *room, size_t most);

/** JSON without the line breaks and indents that are between its parts, in strings there is none: out has room for all
 *  of it. Gives the length. */
size_t line_from_json(struct text json, char *out);

#endif
