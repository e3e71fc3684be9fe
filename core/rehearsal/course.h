/* What befalls a panel in a rehearsal, second by second: made of a routine's story or of a break-in's. */
#ifndef LINTEL_REHEARSAL_COURSE_H
#define LINTEL_REHEARSAL_COURSE_H

#include "check/break_ins.h"
#include "check/story.h"
#include "proof/proof.h"

/** How it ends for the panel. */
enum rehearsal_end {
    REHEARSAL_GOES_ON, /* nobody does anything more; the panel goes on by itself until it is calm */
    REHEARSAL_SMASHED, /* at end_s: nothing leaves any more */
    REHEARSAL_LINE_CUT, /* at end_s: the path is lost for good */
};

/** routine: whose steps the lines name; its source says how areas and doors stand at the beginning. lines: acts, what
 *  the devices report and how long the panel's timers run, by time; the panel's answers among them are passed over, as
 *  the panel answers by itself. beside: an intruder's acts in words, by time. blows: what listens for blows feels a
 *  gross one. calendar_s: when the panel sets by its calendar, or -1. */
struct rehearsal_course {
    struct proof_routine routine;
    const struct proof_line *lines;
    size_t count;
    const struct story_line *beside;
    size_t beside_count;
    bool blows;
    int32_t calendar_s;
    enum rehearsal_end end;
    int32_t end_s;
};

/** The course that an answer's story tells (proof_tell's, or that of a finding). Borrows the answer's arrays. */
void rehearsal_of_routine(const struct site *site, const struct proof_answer *answer,
        struct rehearsal_course *ret_course);

/** The course of a break-in's least detected way; it->told must be there. In the arena. Fails MISSING (there is no
 *  way), MEMORY. */
outcome rehearsal_of_break_in(const struct site *site, const struct break_in *it,
        struct arena *arena, struct rehearsal_course *ret_course, struct problem *ret_problem)
        MUST_CHECK;

#endif
