/* The texts that the file had, for undo and redo: the steps that led from one to the next, each with who did it and
 * what it does. Whoever takes a step back takes their own last one back, whatever others did since. */
#ifndef LINTEL_WEB_HISTORY_H
#define LINTEL_WEB_HISTORY_H

#include "base/arena.h"
#include "base/problem.h"
#include "base/text.h"

#include <stdbool.h>
#include <stddef.h>

enum { HISTORY_MOST = 1000, HISTORY_BYTES_MOST = 64 * 1024 * 1024 };

/** by: a word of the page that did it, may be empty: all who say nothing are one. says: what it does, as undo will call
 *  it; empty: nobody said. */
struct history_note {
    struct text by;
    struct text says;
};

struct history_text; /* shared by the steps that lead to it and from it */

/** note: in memory of its own. undone: it was taken back, and can be made again. */
struct history_step {
    struct history_text *before;
    struct history_text *after;
    struct history_note note;
    bool undone;
};

/** steps: from malloc, the oldest first. present: what the file is, or NULL. A zeroed history is empty. */
struct history {
    struct history_step *steps;
    size_t count;
    struct history_text *present;
    size_t bytes; /* of all texts */
};

/** What the file is; {NULL, 0}: nothing is known yet. */
struct text history_present(const struct history *history);

/** Another text is present, by a step of the note; what its doer had taken back is dropped, and the oldest step where
 *  there is no room. note NULL: nobody's step, another program's; nobody takes it back. Fails MEMORY; the history is
 *  then as it was. */
outcome history_add(struct history *history, struct text text, const struct history_note *note,
        struct problem *ret_problem) MUST_CHECK;

/** The step that `by` would take back next, or (forward) make again; NULL: there is none. */
const struct history_step *history_next(
        const struct history *history, struct text by, bool forward);

/** How many there are. */
size_t history_steps(const struct history *history, struct text by, bool forward);

/** What the file would be after that step: all that was done since stays. ret_text: in the arena, or of the history.
 *  Fails MISSING (there is none), BAD_VALUE (somebody changed the same since: the text says what they did, and what to
 *  do), MEMORY. */
outcome history_turn(const struct history *history, struct text by, bool forward,
        struct arena *arena, struct text *ret_text, struct problem *ret_problem) MUST_CHECK;

/** Whether the text of history_turn is one that the file had, before or after that step. */
bool history_knows(const struct history *history, struct text by, bool forward, struct text text);

/** Notes that it was done, and that the file is the text of history_turn. Fails MEMORY. */
outcome history_turned(struct history *history, struct text by, bool forward, struct text text,
        struct problem *ret_problem) MUST_CHECK;

void history_finish(struct history *history);

#endif
