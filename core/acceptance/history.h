/* A monitoring station's list of what it received, as it is printed or pasted: one event a line. Which column is what
 * is told by a heading, or by what stands in it. Nothing is taken that was not understood: each line says what it is
 * read as, or why it is not. */
#ifndef LINTEL_ACCEPTANCE_HISTORY_H
#define LINTEL_ACCEPTANCE_HISTORY_H

#include "base/arena.h"
#include "signals/frame.h"

enum { HISTORY_LINES_MAX = 2000, HISTORY_LINE_MAX = 500 };

/** One line. number: from 1; raw: as it came. why: empty where it is understood; else the rest is not set. local_s:
 *  its time as the station's clock showed it, in seconds since 1970-01-01 as if that were UTC. token, data: as a frame
 *  would carry the event ("#4021|1130 01 007"). Texts: in the arena, or borrowed of what was pasted. */
struct history_line {
    size_t number;
    struct text raw;
    struct text why;
    int64_t local_s;
    enum frame_token token;
    struct text data;
};

/** How to read. account: of the site, whose lines are taken. day_first: 03/04/2026 is the third of April. today_day:
 *  the day of lines that have a time alone. */
struct history_how {
    struct text account;
    bool day_first;
    int32_t today_day;
};

/** Reads a list. source: borrows and keeps. ret_lines: those that are not empty and no heading, in their order. Fails
 *  LIMIT (too many lines), MEMORY. Source of the words: common practice; of the codes: signals/code.h. */
outcome history_read(struct text source, struct history_how how, struct arena *arena,
        struct history_line **ret_lines, size_t *ret_count, struct problem *ret_problem) MUST_CHECK;

#endif
