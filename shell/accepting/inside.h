/* What the files of this part share. However much comes, what is held of it is bounded: the last signals, and one for
 * each that a test awaits. */
#ifndef LINTEL_ACCEPTING_INSIDE_H
#define LINTEL_ACCEPTING_INSIDE_H

#include "accepting/accepting.h"

enum { CAME_MOST = 200 }; /* signals that are shown as they came: the last ones */

/** A signal that was heard. text: what it says, or its frame; allocated, NULL where there was no memory. */
struct heard_signal {
    int64_t id;
    int64_t received_ms;
    char *text;
    size_t length;
};

/** An act of the archive, in the order in which they count. */
struct noted_act {
    struct archive_act act;
    struct noted_act *next;
};

struct accepting {
    bool any_order;
    bool begun;
    struct acceptance acceptance;
    struct archive *archive;
    struct arena list_arena;   /* of the list */
    struct arena acts_arena;   /* of acts since the beginning */
    struct arena course_arena; /* of the course */
    struct acceptance_course course;
    struct heard_signal came[CAME_MOST]; /* in a ring, with what they say */
    size_t came_count;                   /* all that ever came */
    struct heard_signal *ticks; /* by test and by signal of it, with their frames; id 0: none */
    struct noted_act *acts;
    int64_t begun_ms;
    int64_t begun_after; /* the last signal before the beginning */
    int64_t last_signal; /* fed up to this one */
    int64_t looked; /* up to this one there is none that was not fed: others are of other accounts */
    int64_t last_act;    /* read up to this one */
    int64_t told_signal; /* the newest that was told: what is matched anew is not told again */
    int64_t told_act;
};

/** What ticked off that signal of a test; NULL: nothing that is known. */
const struct heard_signal *accepting_tick(
        const struct accepting *accepting, size_t test, size_t signal);

#endif
