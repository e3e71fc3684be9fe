/* Somebody types into a rehearsal, at a terminal or from a file: when each line is read, and what becomes of it. */
#ifndef LINTEL_CLI_REHEARSE_TYPE_H
#define LINTEL_CLI_REHEARSE_TYPE_H

#include "rehearsal/rehearsal.h"
#include "rehearsal/typed.h"

enum { TYPIST_LINE_BYTES = 1000 };

/** file: that the lines are read from. last_s: the second of the last act, or up to which was waited. over: no line
 *  comes any more. misread: lines that could not be understood. arenas: of the course that is played, and of
 *  the next. */
struct typist {
    struct typed typed;
    int file;
    bool terminal;
    char bytes[TYPIST_LINE_BYTES];
    size_t used;
    size_t number;
    bool over;
    bool waited;
    int32_t last_s;
    size_t misread;
    struct arena arenas[2];
    size_t current;
    struct rehearsal_course course;
};

/** Opens the lines; path "-": standard input. Finish it in any case. Fails MISSING, SYSTEM, LIMIT, MEMORY. */
outcome typist_begin(const struct site *site, const char *path, struct arena *arena,
        struct typist *ret_typist, struct problem *ret_problem) MUST_CHECK;
void typist_finish(struct typist *typist);

/** The second from which on the next line is taken: one after the last act, or that which was waited for. */
int32_t typist_due_s(const struct typist *typist);

/** Whether a whole line is there. */
bool typist_has_line(const struct typist *typist);

/** Reads what is there; blocks where nothing is. */
void typist_read(struct typist *typist);

/** Takes one line at now_s: an act changes the course of the rehearsal. arena: of the rehearsal. Fails LIMIT,
 *  MEMORY. */
outcome typist_take(struct typist *typist, struct rehearsal *rehearsal, int32_t now_s,
        struct arena *arena, struct problem *ret_problem) MUST_CHECK;

#endif
