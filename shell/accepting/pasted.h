/* What a monitoring station received, pasted as its list, where the panel cannot be pointed at this machine. Each line
 * that is understood counts as a signal at its time, its text standing for the frame. */
#ifndef LINTEL_ACCEPTING_PASTED_H
#define LINTEL_ACCEPTING_PASTED_H

#include "acceptance/history.h"
#include "accepting/accepting.h"

/** A pasted line. at_ms: since 1970-01-01 UTC, its time taken as this machine's local time. says: its event. */
struct pasted_line {
    struct history_line read;
    int64_t at_ms;
    struct text says;
};

/** A pasted list, its lines as they came; oldest or newest first is both fine. taken: how many lines are understood
 *  and of this acceptance. */
struct pasted {
    struct pasted_line *lines;
    size_t count;
    size_t taken;
};

/** Reads a list for the site's account; nothing is stored. Feed before: lines from before the acceptance began are not
 *  taken. source: borrows and keeps. ret_pasted: in the arena. Fails as history_read. */
outcome pasted_read(const struct accepting *accepting, struct text source, struct arena *arena,
        struct pasted *ret_pasted, struct problem *ret_problem) MUST_CHECK;

/** Stores what was taken; the same again is there once. by: whoever pasted it. ret_added: how many were new. Fails
 *  MISSING (no name, or nothing was begun), SYSTEM, UNREADABLE, MEMORY. */
outcome pasted_store(struct accepting *accepting, const struct pasted *pasted, struct text by,
        struct arena *arena, size_t *ret_added, struct problem *ret_problem) MUST_CHECK;

/** "lines" and "taken" as members of an open object: each line with its "number", "raw", and "at_ms" with what it
 *  "says", or "why" it is not taken. */
void pasted_add_json(const struct pasted *pasted, struct json_writer *json);

#endif
