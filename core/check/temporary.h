/* Temporary changes: applied to the site's values while they last, and said. What the panel then does follows from the
 * values, so there is no second model of it. */
#ifndef LINTEL_CHECK_TEMPORARY_H
#define LINTEL_CHECK_TEMPORARY_H

#include "check/check.h"

/** The site as it is on a day. A zone on bypass or soak is out in every mode and does not chime: it then makes nothing
 *  happen, and its cross-zone partner acts alone, as for any zone that cannot trip. A guest on none of whose days it
 *  is, and who has left, have neither code nor fob, and routines in which they take part rest. DATE_NONE: as written.
 *  ret_site: a copy whose texts are the original's, or the same site. Fails when memory is refused. */
outcome temporary_apply(const struct site *site, int32_t today_day, struct arena *arena,
        struct site *ret_site, struct problem *ret_problem) MUST_CHECK;

/** What is to be said of each: planned, in force (a note; a risk where life safety is out of service), lasting (a risk,
 *  with the day since when) or over (a risk: is the panel as it was before?). ret_findings: room for as many as the
 *  site has temporary changes. With DATE_NONE nothing is said. Source: common practice. */
void temporary_say(const struct site *site, int32_t today_day, struct arena *arena,
        struct check_finding *ret_findings, size_t *ret_count);

#endif
