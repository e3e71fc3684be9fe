/* A signal of the archive as one line of JSON: what `lintel archive export` writes, import reads and `listen --json`
 * prints. docs/json.md has the keys. */
#ifndef LINTEL_CLI_SIGNAL_LINE_H
#define LINTEL_CLI_SIGNAL_LINE_H

#include "archive/archive.h"
#include "base/text.h"

/** Adds the line, its end included. The builder's `failed` tells where memory was refused. */
void signal_line_add(struct text_builder *out, const struct archive_signal *signal);

/** Reads a line. ret_signal: its texts in the arena; untouched on failure. The frame must be whole, and what the line
 *  says of it must be what it says. Fails UNREADABLE (the text says what is wrong), MEMORY. */
outcome signal_line_read(struct text line, struct arena *arena, struct archive_signal *ret_signal,
        struct problem *ret_problem) MUST_CHECK;

/** Holds a signal against its own frame: sum and length, account, sequence, time and, of a frame in clear, data and
 *  digest. Fails UNREADABLE; the text says which. */
outcome signal_line_judge(const struct archive_signal *signal, struct problem *ret_problem)
        MUST_CHECK;

#endif
