/* The time that a frame carries, and the window in which a receiver takes it. */
#ifndef LINTEL_SIGNALS_STAMP_H
#define LINTEL_SIGNALS_STAMP_H

#include "base/text.h"
#include "signals/fault.h"

#include <stdint.h>

enum {
    STAMP_LENGTH = 20, /* _HH:MM:SS,MM-DD-YYYY */
    /* A panel that was not told the time yet may begin to count there: in clear it is heard all the same. */
    STAMP_YEAR_FIRST = 1970,
    /* Whether the two ends themselves pass is not known from the text: taken as inclusive. */
    STAMP_AHEAD_MOST_S = 20,
    STAMP_BEHIND_MOST_S = 40,
};

/** Reads "_10:15:30,03-07-2024", month before day, of the years 1970 to 2199. source: all of it and no more. at:
 *  where it stands, for the fault. ret_seconds: since 1970-01-01 00:00 UTC, leap seconds not counted; untouched on
 *  failure. Source: ANSI/SIA DC-09, clause 5.5.1.8. */
bool stamp_read(struct text source, size_t at, int64_t *ret_seconds, struct signal_fault *ret_fault)
        MUST_CHECK;

/** Writes it; stamp_read reads it back. seconds: of those years. ret_bytes: not ended by a NUL. */
void stamp_write(int64_t seconds, char ret_bytes[STAMP_LENGTH]);

/** Whether a receiver whose clock says now_s takes an encrypted frame of the time frame_s: at most 20 s ahead and 40 s
 *  behind. Source: ANSI/SIA DC-09, clause 5.5.1.8 (rule) and 5.5.3.2; the figures from memory, sure. */
bool stamp_in_window(int64_t frame_s, int64_t now_s);

#endif
