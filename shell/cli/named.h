/* What a site's routines and protected things are called, for commands that take one by its name. */
#ifndef LINTEL_CLI_NAMED_H
#define LINTEL_CLI_NAMED_H

#include "check/check.h"
#include "cli/cli.h"

enum named_kind {
    NAMED_NOTHING,
    NAMED_ROUTINE, /* index: of the plan's routines */
    NAMED_ABSENT,  /* of those that are not looked at */
    NAMED_GOAL,    /* of the things that are protected */
};

struct named {
    enum named_kind kind;
    size_t index;
};

/** Finds a name among the plan's routines in the words of the site or of the other word set, and among what is
 *  protected. plan: of this site and day. Upper and lower case are one. Fails MEMORY, LIMIT. */
outcome named_find(const struct site *site, const struct check_plan *plan, int32_t today_day,
        const char *name, struct arena *arena, struct named *ret_named, struct problem *ret_problem)
        MUST_CHECK;

/** Says on stderr that nothing is called so, what is called nearly so, and that lintel tell lists them. Gives
 *  CLI_UNREADABLE. */
int named_unknown(const struct cli_site *site, const struct check_plan *plan, const char *command,
        const char *name);

/** The protected thing, its ways looked for. ret_found: holds it as list[goal]; in the arena. Stopped by Ctrl-C. */
outcome named_look(const struct site *site, struct arena *arena, struct break_ins *ret_found,
        struct problem *ret_problem) MUST_CHECK;

#endif
