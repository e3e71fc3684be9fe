/* Break-ins of a site: every protected thing, whether it is heard in time that somebody comes for it, and if not how.
 *
 * The output is for whoever protects the site: what the panel and its devices do, and when; nothing else. */
#ifndef LINTEL_CHECK_BREAK_INS_H
#define LINTEL_CHECK_BREAK_INS_H

#include "breakin/additions.h"
#include "check/story.h"

enum break_ins_verdict {
    BREAK_INS_IN_TIME,
    BREAK_INS_LATE,    /* heard only after he has it, or too late for help to come */
    BREAK_INS_UNHEARD, /* a way in that nobody hears */
    BREAK_INS_PANEL_FIRST, /* in time by itself; but the panel or its line can be reached before its signal has left */
    BREAK_INS_NO_WAY,
    BREAK_INS_NOT_SETTLED,
    BREAK_INS_VERDICT_COUNT
};

/** One line of `protect`. start: of site->break_ins.starts, the worst. needs_tolerance: only if the panel's clocks
 *  are off. panel: BREAK_INS_PANEL_FIRST: which line is the panel. story: of the least detected way, replayed; its
 *  lines for people are in `told`, second by second; no lines: there is no way. quickest_told: the same of the
 *  quickest way, where it is another. additions: of one that is late or unheard, the fewest further detectors with
 *  which it is heard in time; longer_s: or so much more that holding him up there would have to take; 0: that would
 *  not help. hangs_on: of one that is heard in time, the devices without any one of which it would not be. */
struct break_in {
    size_t goal;
    size_t start;
    enum break_ins_verdict verdict;
    bool needs_tolerance;
    size_t panel;
    struct breakin_answer answer;
    struct breakin_story story;
    struct story told;
    struct story quickest_told;
    struct additions additions;
    int32_t longer_s;
    const int *hangs_on;
    size_t hangs_on_count;
};

/** Every line of `protect`, in their order. count 0: they are not computed; why_not then says why and what to write, a
 *  static text, else NULL. asked: though the site asks for them. cut: a search hit its limit; then neither what hangs
 *  on a single device nor remedies were looked for. */
struct break_ins {
    struct rooms rooms;
    struct break_in *list;
    size_t count;
    const char *why_not;
    bool asked;
    bool cut;
};

/** keep_going: false stops what is not settled yet; may be NULL. no_remedy: neither additions nor longer_s. ways_only:
 *  nor hangs_on. */
struct break_ins_options {
    bool (*keep_going)(void *context, size_t done, size_t waiting);
    void *keep_going_context;
    bool no_remedy;
    bool ways_only;
};

/** Looks at all of them. In the arena. Fails PROBLEM_MEMORY, PROBLEM_LIMIT; PROBLEM_BAD_VALUE when a way does not come
 *  out the same when it is played. */
outcome break_ins_look(const struct site *site, const struct break_ins_options *options,
        struct pages pages, struct arena *arena, struct break_ins *ret_break_ins,
        struct problem *ret_problem) MUST_CHECK;

/** Goes on where a look with ways_only ended: what hangs on a single device, and (but for no_remedy) what would help.
 *  break_ins: of the same site and arena. Fails as break_ins_look. */
outcome break_ins_look_further(const struct site *site, const struct break_ins_options *options,
        struct pages pages, struct arena *arena, struct break_ins *break_ins,
        struct problem *ret_problem) MUST_CHECK;

/** The site with the break-ins that its drawing gives, where it has one in which something is protected, or the panel
 *  has its place, and no rooms by hand; otherwise as it is. What break-ins: does not say is as usual: everything is
 *  set, a signal that has left is heard, somebody is there at once. A drawing beyond a limit: too_large, and none are
 *  given. ret_site: a copy in part, the rest is the original's. Fails PROBLEM_MEMORY, PROBLEM_SYSTEM. */
outcome break_ins_from_drawing(const struct site *site, struct arena *arena, struct site *ret_site,
        struct problem *ret_problem) MUST_CHECK;

/** Where a line of what is protected stands in the site file: "break-ins.protect[0]". In the arena. */
struct text break_ins_place(const struct site *site, size_t goal, struct arena *arena);

/** Whether one is heard in time only as far as the drawing goes: it is in a room to which a way may be missing. */
bool break_in_is_cut_off(const struct site *site, const struct break_in *it);

/** How many of them are not settled; 1 where none is computed though the site asks for them. */
size_t break_ins_unsettled(const struct break_ins *break_ins);

/** Whether a limit of its search was hit: one that is heard in time has at least so much to spare, one that is late may
 *  be later still, and one that is not settled could not be. */
bool break_in_is_open(const struct break_in *it);

/** "heard in time", "heard too late", "unheard", ...; a static text. */
const char *break_ins_verdict_name(enum break_ins_verdict verdict);

/** What is said of one in a sentence: "safe: heard in time, 30 s to spare". In the arena. */
struct text break_ins_sentence(
        const struct site *site, const struct break_in *it, struct arena *arena);

/** What would help, and what it costs; empty: nothing that was tried. In the arena. */
struct text break_ins_remedy(
        const struct site *site, const struct break_in *it, struct arena *arena);
const char *break_ins_price(const struct break_in *it);

/** The story of a course for people. In the arena. Fails PROBLEM_MEMORY. */
outcome break_ins_tell(const struct site *site, const struct rooms *rooms, size_t goal,
        size_t start, const struct breakin_course *course, const struct breakin_story *story,
        struct arena *arena, struct story *ret_told, struct problem *ret_problem) MUST_CHECK;

#endif
