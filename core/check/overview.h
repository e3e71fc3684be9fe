/* Many sites at a glance: a line each, the worst first, and a total. Values in, text out; reading and checking them is
 * the shell's. */
#ifndef LINTEL_CHECK_OVERVIEW_H
#define LINTEL_CHECK_OVERVIEW_H

#include "base/json.h"
#include "check/check.h"
#include "check/layout.h"

/** One site. file: as it was named or found. unreadable: it could not be read or checked: problem tells the first thing
 *  that is wrong, problem_count how many there are (0: the file as a whole); the rest is then not looked at. unsettled:
 *  routines and break-ins that are not. stopped: somebody asked to stop before its end. */
struct overview_site {
    struct text file;
    struct text name;
    bool invented;
    bool unreadable;
    struct text problem;
    size_t problem_count;
    size_t weights[FINDING_WEIGHT_COUNT];
    size_t waived;
    size_t routines;
    size_t wrong;
    size_t unsettled;
    bool stopped;
};

/** What stays of a report: its counts and the site's name, whose text must outlive it. */
struct overview_site overview_of(
        const struct site *site, const struct check_report *report, struct text file);

/** The exit status that a site stands for: 2 unreadable, 1 faults, 130 stopped, 3 not settled, 0. */
int overview_exit_status(const struct overview_site *site);

/** The worst of them, in the order 130, 2, 1, 3, 0. */
int overview_worst(const struct overview_site *sites, size_t count);

/** The worst first: unreadable, more faults, not settled, more risks, more notes; then by file name. */
void overview_sort(struct overview_site *sites, size_t count);

/** A line each, in their order, and the total. */
void overview_show(const struct overview_site *sites, size_t count, struct layout *layout);

/** docs/json.md, "several sites". */
void overview_json(const struct overview_site *sites, size_t count, struct json_writer *json);

#endif
