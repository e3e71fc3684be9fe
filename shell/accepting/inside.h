/* What the files of this part share. */
#ifndef LINTEL_ACCEPTING_INSIDE_H
#define LINTEL_ACCEPTING_INSIDE_H

#include "accepting/accepting.h"

/** A signal that was heard, newest first. */
struct heard_signal {
    int64_t id;
    int64_t received_ms;
    struct text says; /* its events, in words */
    struct text frame;
    struct heard_signal *next;
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
    struct arena course_arena; /* of the course and of what was heard */
    struct acceptance_course course;
    struct heard_signal *signals;
    struct noted_act *acts;
    int64_t begun_ms;
    int64_t begun_after; /* the last signal before the beginning */
    int64_t last_signal; /* fed up to this one */
    int64_t last_act;    /* read up to this one */
    int64_t told_signal; /* the newest that was told: what is matched anew is not told again */
    int64_t told_act;
};

#endif
