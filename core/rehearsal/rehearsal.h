/* A rehearsal: the panel of a site played in time, by the same panel_step as every proof, while a course befalls it.
 * It has no clock and sends nothing: whoever plays it says what time it is, sends the signals that leave, and says when
 * the path to the receiver is lost and back; then signals wait in the panel as they would there.
 *
 * The panel's timers run as the course's story has them, those that it does not have at their nominal time. Supervised
 * devices keep checking in. */
#ifndef LINTEL_REHEARSAL_REHEARSAL_H
#define LINTEL_REHEARSAL_REHEARSAL_H

#include "panel/player.h"
#include "rehearsal/course.h"

enum {
    REHEARSAL_LINE_MAX = 8000,
    REHEARSAL_SIGNAL_MAX = 128,
    /* So long it goes on at most when nothing befalls the panel any more: the siren's time, the report of a loss of
     * mains, not the hours until a swinger's count begins anew (house practice). */
    REHEARSAL_AFTER_S = 7200,
};

/** A signal that has left the panel. behaviour: of its zone at that instant (SITE_OUT: it names none), on which hangs
 *  what it may be sent as. */
struct rehearsal_signal {
    struct event event;
    int32_t at_s;
    enum site_behaviour behaviour;
};

/** Read freely, changed only by the functions below. happened: what has been so far; its story grows.
 *  signals: left and
 *  not taken yet, in order. full: more happened than there is room for; nothing more is told. */
struct rehearsal {
    const struct site *site;
    struct panel_program program;
    struct player player;
    struct rehearsal_course course;
    size_t next;
    size_t next_beside;
    bool calendar_came;
    bool ended;
    struct proof_answer happened;
    struct proof_line *lines;
    size_t told;
    size_t told_beside;
    struct rehearsal_signal signals[REHEARSAL_SIGNAL_MAX];
    size_t signal_count;
    bool away; /* the receiver is */
    bool cut;  /* the line is, by the course */
    bool full;
};

/** Begins at second 0. The course and its arrays are borrowed. ret_rehearsal: must stay where it is. Fails BAD_VALUE
 *  (of the panel's program), MEMORY. */
outcome rehearsal_begin(const struct site *site, const struct rehearsal_course *course,
        struct arena *arena, struct rehearsal *ret_rehearsal, struct problem *ret_problem)
        MUST_CHECK;

/** Takes another course, whose lines up to the present second are those that have been: somebody has gone on typing. */
void rehearsal_take_course(struct rehearsal *rehearsal, const struct rehearsal_course *course);

/** The second at which something comes next; false: nothing does any more, it is over. */
bool rehearsal_next(const struct rehearsal *rehearsal, int32_t *ret_at_s);

/** Time passes to that second, and what comes at it happens. at_s: not after what rehearsal_next says. */
void rehearsal_pass(struct rehearsal *rehearsal, int32_t at_s);

/** The receiver cannot be reached, or can again. */
void rehearsal_path(struct rehearsal *rehearsal, bool lost);

/** Takes the oldest signal that left; false: none is there. */
bool rehearsal_take_signal(struct rehearsal *rehearsal, struct rehearsal_signal *ret_signal);

/** How many signals wait in the panel for the path. */
size_t rehearsal_waiting(const struct rehearsal *rehearsal);

/** What was not told yet, in words: the intruder's acts, then what the people did and the panel made of it. In the
 *  arena. Fails MEMORY. */
outcome rehearsal_tell(struct rehearsal *rehearsal, struct arena *arena, struct story *ret_acts,
        struct story *ret_story, struct problem *ret_problem) MUST_CHECK;

#endif
