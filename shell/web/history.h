/* The texts that the file had, for undo and redo: a row of them, what was done to come to each, and where in it the
 * file stands. */
#ifndef LINTEL_WEB_HISTORY_H
#define LINTEL_WEB_HISTORY_H

#include "base/problem.h"
#include "base/text.h"

#include <stdbool.h>
#include <stddef.h>

enum { HISTORY_MOST = 1000, HISTORY_BYTES_MOST = 64 * 1024 * 1024 };

/** texts: from malloc; texts[at] is what the file is. says: what was done to come to each, in the same memory; empty:
 *  nobody said. A zeroed history is empty. */
struct history {
    struct text *texts;
    struct text *says;
    size_t count;
    size_t at;
    size_t bytes;
};

/** Puts a text behind the present one; what was undone before is dropped, and the oldest where there is no room. Fails
 *  MEMORY; the history is then as it was. */
outcome history_add(struct history *history, struct text text, struct text says,
        struct problem *ret_problem) MUST_CHECK;

/** The text one step back or forward, or {NULL, 0}. */
struct text history_next(const struct history *history, bool forward);

/** What the next step takes back or makes again, as it was said; empty where there is none. */
struct text history_says(const struct history *history, bool forward);

/** Goes there. */
void history_step(struct history *history, bool forward);

/** How many steps there are. */
size_t history_steps(const struct history *history, bool forward);

void history_finish(struct history *history);

#endif
