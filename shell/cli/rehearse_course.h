/* The course of a rehearsal by name: a routine or a protected thing of the site file. */
#ifndef LINTEL_CLI_REHEARSE_COURSE_H
#define LINTEL_CLI_REHEARSE_COURSE_H

#include "cli/cli.h"
#include "cli/crew.h"
#include "rehearsal/course.h"

/** name: of a routine or protected thing. paced: a pace was asked for; else a routine that goes wrong goes its shortest
 *  course in which it does, others middling quick. */
struct rehearse_wanted {
    const char *name;
    bool paced;
    enum proof_pace pace;
    int32_t today_day;
};

/** Finds it and says on stdout which course it is. crew: of one; the course lives in its arena. The site becomes that
 *  of the day. Gives CLI_GOOD, or another exit status after saying why not. */
int rehearse_find_course(struct cli_site *site, const struct rehearse_wanted *wanted,
        struct crew *crew, struct rehearsal_course *ret_course);

#endif
