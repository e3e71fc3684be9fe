/* Batteries that are due: those of devices and of the panel whose day to change has come, and which comes next. */
#ifndef LINTEL_CHECK_BATTERIES_H
#define LINTEL_CHECK_BATTERIES_H

#include "check/check.h"

/** What is due on that day, by when each was put in and how long it lasts at its careful end (power/site_cells.h); with
 *  each what else the same visit changes. today_day: DATE_NONE: nothing is due. ret_findings: gives, room for
 *  device_count + 1. */
void batteries_say(const struct site *site, int32_t today_day, struct arena *arena,
        struct check_finding *ret_findings, size_t *ret_count);

/** The next day, that one included, on which a battery is to be changed, and whose; DATE_NONE: none that is known.
 *  today_day: a date. ret_says: "the battery of "hall" is to be changed", in the arena; untouched
 *  where none is. */
int32_t batteries_next_day(
        const struct site *site, int32_t today_day, struct arena *arena, struct text *ret_says);

#endif
