/* The texts that the file had, for undo and redo: a row of them and where in it the file stands. */
#ifndef LINTEL_WEB_HISTORY_H
#define LINTEL_WEB_HISTORY_H

#include "base/problem.h"
#include "base/text.h"

#include <stdbool.h>
#include <stddef.h>

enum { HISTORY_MOST = 1000, HISTORY_BYTES_MOST = 64 * 1024 * 1024 };

/** texts: from malloc; texts[at] is what the file is. A zeroed history is empty. */
struct history {
    struct text *texts;
    size_t count;
    size_t at;
    size_t bytes;
};

/** Puts a text behind the present one; what was undone before is dropped, and the oldest where there is no room. Fails
 *  MEMORY; the history is then as it was. */
outcome history_add(struct history *history, struct text text, struct problem *ret_problem)
        MUST_CHECK;

/** The text one step back or forward, or {NULL, 0}. */
struct text history_next(const struct history *history, bool forward);

/** Goes there. */
void history_step(struct history *history, bool forward);

/** How many steps there are. */
size_t history_steps(const struct history *history, bool forward);

void history_finish(struct history *history);

#endif
