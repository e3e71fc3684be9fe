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
 *  digest; one of a log, which had no frame, against its digest alone. Fails UNREADABLE; the text says which. */
outcome signal_line_judge(const struct archive_signal *signal, struct problem *ret_problem)
        MUST_CHECK;

/** What the peer of a signal begins with that is a line of an event log; its frame is that line. */
#define SIGNAL_LINE_LOG "log "

bool signal_line_of_log(const struct archive_signal *signal);

/** The digest of such a signal, out of its other fields. */
uint64_t signal_line_log_digest(const struct archive_signal *signal);

/** A frame's L field as a number. digits: hex, six at most. */
uint32_t signal_line_prefix(struct text digits);

/** Bytes out of hex digits, blanks between them skipped; false where they are none, or memory was refused. */
bool signal_line_from_hex(struct arena *arena, struct text hex, struct text *ret_bytes);

#endif
