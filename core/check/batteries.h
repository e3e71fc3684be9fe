/* Batteries that are due: those of devices and of the panel whose day to change has come. */
#ifndef LINTEL_CHECK_BATTERIES_H
#define LINTEL_CHECK_BATTERIES_H

#include "check/check.h"

/** What is due on that day, by when each was put in and how long it lasts at its careful end (power/site_cells.h); with
 *  each what else the same visit changes. today_day: DATE_NONE: nothing is due. ret_findings: gives, room for
 *  device_count + 1. */
void batteries_say(const struct site *site, int32_t today_day, struct arena *arena,
        struct check_finding *ret_findings, size_t *ret_count);

#endif
