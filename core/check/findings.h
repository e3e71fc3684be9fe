/* What is wrong, at risk or worth knowing, made from the answers of the proof and from the settings themselves. */
#ifndef LINTEL_CHECK_FINDINGS_H
#define LINTEL_CHECK_FINDINGS_H

#include "check/check.h"

/** Fills findings, finding_count and weights of a report whose answers are counted, and by_rules where it is NULL.
 *  Routines that go wrong for one cause (same promise, same zone, same line of the file to blame) are one finding. */
outcome findings_make(const struct site *site, struct arena *arena, struct check_report *report,
        struct problem *ret_problem) MUST_CHECK;

/** "can happen when the baker keys the code to unset 27 to 40 s after the start of the entry time; always at 34 to
 *  40 s", or empty. */
struct text findings_range(
        const struct site *site, const struct proof_answer *answer, struct arena *arena);

/** Whether somebody comes in and its entry time runs out since no step of it keys a code. Written in a hurry, it mostly
 *  was forgotten. */
bool findings_nobody_unsets(const struct proof_answer *answer);

/** The place of the cause in the site file: "zones[1].behaviour". */
struct text findings_place(const struct site *site, const struct check_routine *routine,
        const struct proof_answer *answer, const struct story_cause *cause, struct arena *arena);

#endif
