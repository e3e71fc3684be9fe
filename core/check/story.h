/* Stories: what the proof found, as lines that a customer understands. Who does what at which door, what the panel
 * does, what is heard, what is sent, and because of what. Values in, lines out; how they stand on a page is
 * layout's. */
#ifndef LINTEL_CHECK_STORY_H
#define LINTEL_CHECK_STORY_H

#include "check/layout.h"
#include "proof/proof.h"
#include "site/site.h"

enum story_form {
    STORY_SHORT, /* only what matters to how it ends */
    STORY_FULL,  /* every act and everything heard, shown or sent */
    STORY_ALL,   /* durations drawn, timers, acts that did not happen, too */
};

/** One line. at_s: seconds since the routine began. clock: the same for people; empty when it is that of the line
 *  before. what: what happens; because: why, or what follows from it (may be empty). bad: it breaks the promise.
 *  of_panel: of a break-in: how the panel stands, learns or answers, not what the intruder does. */
struct story_line {
    int32_t at_s;
    struct text clock;
    struct text what;
    struct text because;
    bool bad;
    bool of_panel;
};

struct story {
    struct story_line *lines;
    size_t count;
};

/** Tells the answer's story. An answer without one gives a story without lines. Arrays and texts are in the arena;
 *  those of the site are borrowed. Fails PROBLEM_MEMORY. */
outcome story_tell(const struct site *site, const struct proof_answer *answer, enum story_form form,
        struct arena *arena, struct story *ret_story, struct problem *ret_problem) MUST_CHECK;

/** What is known of the output that broke the promise. why: PANEL_WHY_NONE where nothing did. person: who moved
 *  what the zone senses, or acted last before it, or SITE_NONE. seconds_s: of the timer that ended there, or -1.
 *  behaviour, mode: of the zone then. door: that of the zone, or SITE_NONE. areas: those in which a code was not
 *  taken. overtaken: a door that had been opened (setting refused: closed) and of which the panel had not heard
 *  yet, or SITE_NONE. unwatched: a door by which whoever had set leaves and which starts nothing, or SITE_NONE. */
struct story_cause {
    enum panel_reason why;
    int zone;
    int area;
    int person;
    int mode;
    int delay;
    int door;
    uint32_t areas;
    int32_t seconds_s;
    int32_t at_s;
    int overtaken;
    int unwatched;
    enum site_behaviour behaviour;
};

/** Reads the cause from the answer's story and culprit. */
struct story_cause story_cause_of(const struct site *site, const struct proof_answer *answer);

/** Prints the lines, each beginning at column `indent`. */
void story_lay_out(const struct story *story, size_t indent, struct layout *layout);

/** The same where others of the story stand above and below: the clock takes `clock` columns. */
void story_lay_out_beside(
        const struct story *story, size_t indent, size_t clock, struct layout *layout);

#endif
