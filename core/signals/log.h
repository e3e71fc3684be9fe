/* A line of an event log, as a panel's or receiver's software writes it: fields between separators (RFC 4180, but
 * for line breaks within a field), which of them say what as the panel's profile has it. */
#ifndef LINTEL_SIGNALS_LOG_H
#define LINTEL_SIGNALS_LOG_H

#include "base/problem.h"
#include "base/text.h"
#include "signals/frame.h"

#include <stdint.h>

enum { LOG_LINE_MAX = 1000, LOG_TIME_MAX = 64, LOG_DATA_MAX = 64 };

/** How a log is written. columns: what stands in each, from the left: time, account, code, number, area, or other for
 *  what nobody needs; of several times the texts are joined by a blank. time: how a time looks, YYYY MM DD hh mm ss
 *  (or YY) and what stands between them. words: what a code's field may say instead of a code, "burglary
 *  alarm=1130". */
struct log_ways {
    const struct text *columns;
    size_t column_count;
    struct text time;
    char separator;
    const struct text *words;
    size_t word_count;
};

/** What a line says. local_s: its time as the log's clock showed it, in seconds since 1970-01-01 as if that were UTC.
 *  account: digits, empty where no column has it. token, event: as a frame would carry them ("1130 01 015",
 *  "Nri1/BA015"). All in the row itself. */
struct log_row {
    int64_t local_s;
    struct text account;
    enum frame_token token;
    struct text event;
    char room[LOG_LINE_MAX + 1];
    char time_room[LOG_TIME_MAX];
    char event_room[LOG_DATA_MAX];
};

/** Whether lines can be read so: a time and a code must be among the columns. Fails BAD_VALUE or MISSING; the text says
 *  what to write. */
outcome log_ways_check(const struct log_ways *ways, struct problem *ret_problem) MUST_CHECK;

/** Reads a line, without its end. ways: checked. ret_row: of use on success alone. Fails UNREADABLE, BAD_VALUE,
 *  LIMIT; the text says which field. Codes: Contact ID as "1130", "E130", "R130" or "130" (a new event); SIA as
 *  "BA". Source of the codes' forms: ANSI/SIA DC-05 and DC-03, from memory. */
outcome log_read(const struct log_ways *ways, struct text line, struct log_row *ret_row,
        struct problem *ret_problem) MUST_CHECK;

#endif
