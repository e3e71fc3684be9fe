/* Lines typed by hand into a rehearsal: who does what, in the words of a routine's steps.
 *
 *     front door opens
 *     anna keys in hall
 *     wait 20 s
 *
 * What was typed is a routine with exact times, and is told as every other: whoever plays it tells it anew after each
 * line, and goes on with what comes. */
#ifndef LINTEL_REHEARSAL_TYPED_H
#define LINTEL_REHEARSAL_TYPED_H

#include "rehearsal/course.h"

enum typed_kind {
    TYPED_NOTHING, /* an empty line, or one that begins with # */
    TYPED_ACT,     /* something is done */
    TYPED_WAIT,    /* wait_s: for so long; TYPED_TO_NEXT: until the next thing happens */
    TYPED_START,   /* how an area or a door stands at the beginning */
    TYPED_HELP,    /* what can be typed is asked for */
    TYPED_UNKNOWN, /* it cannot be understood */
};

enum { TYPED_TO_NEXT = -1, TYPED_STEP_MAX = 2 };

/** A line that was read. steps: for TYPED_ACT, each so long after the line. */
struct typed_line {
    enum typed_kind kind;
    struct proof_step steps[TYPED_STEP_MAX];
    int32_t after_s[TYPED_STEP_MAX];
    size_t count;
    int32_t wait_s;
    int area; /* TYPED_START: an area, or SITE_NONE */
    struct site_start start;
    int door; /* or a door that stands open */
};

/** All that was typed. site: that of the file with one person more, "somebody", who has neither code nor fob and does
 *  what nobody is named for. */
struct typed {
    struct site site;
    struct site_routine source;
    struct proof_routine routine;
    int32_t done_s[SITE_PEOPLE_MAX]; /* of each person's last step */
};

/** Nothing is typed yet. site: borrowed. Fails LIMIT (no room for one person more), MEMORY. */
outcome typed_begin(const struct site *site, struct arena *arena, struct typed *ret_typed,
        struct problem *ret_problem) MUST_CHECK;

/** Reads one line. TYPED_UNKNOWN: *wanted says what is wrong with it and what can be written in its place. */
struct typed_line typed_read(
        const struct typed *typed, struct text line, struct text_builder *wanted);

/** All that can be typed, with the names of this site. */
void typed_help(const struct typed *typed, struct text_builder *out);

/** Takes an act at that second, later than every line before. Fails LIMIT (as many as a routine has room for). */
outcome typed_add(struct typed *typed, const struct typed_line *line, int32_t at_s,
        struct problem *ret_problem) MUST_CHECK;

/** Takes how an area or a door stands at the beginning; nothing has been done yet. */
void typed_start(struct typed *typed, const struct typed_line *line);

/** What has been typed, as a course; to be told anew after each act. In the arena. Fails as proof_tell. */
outcome typed_course(const struct typed *typed, struct arena *arena,
        struct rehearsal_course *ret_course, struct problem *ret_problem) MUST_CHECK;

#endif
