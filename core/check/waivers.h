/* Waivers: findings that somebody answers for with a reason, a name and a last day. They are listed apart and do not
 * count; a waiver that has ended, or whose finding is gone or has changed, is a finding of its own. Which day it is the
 * caller says: there is no clock here. */
#ifndef LINTEL_CHECK_WAIVERS_H
#define LINTEL_CHECK_WAIVERS_H

#include "check/check.h"

/** Sets the waiver of every finding of the report that one covers, and gives what is to be said of the waivers
 *  themselves. The report's findings know already what they concern (about); report->today_day DATE_NONE: no waiver has
 *  ended. "Gone" is said only where everything was looked at: report->complete, and for findings of routines none of
 *  them not settled. Findings about waivers and a check that was stopped cannot be waived.
 *  ret_findings: room for as many as the site has waivers; in the arena are their texts. */
void waivers_judge(const struct site *site, struct check_report *report, struct arena *arena,
        struct check_finding *ret_findings, size_t *ret_count);

/** The line to paste under `waived:` for a finding, with reason, name and last day left to fill in:
 *  {finding: ..., about: "...", weight: ..., routines: [...], reason: "", by: "", until: YYYY-MM-DD}. answers: of
 *  the report. Empty when it cannot be waived. In the arena. */
struct text waivers_line(const struct check_finding *finding, const struct proof_answer *answers,
        struct arena *arena);

/** Whether it can be waived at all. */
bool waivers_can(const struct check_finding *finding);

#endif
