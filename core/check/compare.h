/* Two reports of one house, an older and a newer: which findings are gone, which are new, which differ, and what
 * every routine had and has to spare. Findings are matched by id and by what they concern (about.h), routines by name,
 * so that a zone inserted above makes nothing new. */
#ifndef LINTEL_CHECK_COMPARE_H
#define LINTEL_CHECK_COMPARE_H

#include "check/check.h"

/** A finding on both sides, or on one: the other is NULL. */
struct compare_finding {
    const struct check_finding *before;
    const struct check_finding *now;
};

/** A routine on both sides, or on one: the other is NULL. usual: it is not described in the files. */
struct compare_routine {
    struct text name;
    bool usual;
    const struct proof_answer *before;
    const struct proof_answer *now;
};

/** gone: only in the older; fresh: only in the newer; changed: in both, but of another weight or wording, or waived in
 *  one alone; same: how many are as they were. routines: the newer's in their order, then those that are gone. */
struct compare {
    struct compare_finding *gone;
    size_t gone_count;
    struct compare_finding *fresh;
    size_t fresh_count;
    struct compare_finding *changed;
    size_t changed_count;
    size_t same;
    struct compare_routine *routines;
    size_t routine_count;
};

/** Compares. Both reports: borrowed, must outlive ret_compare. ret_compare: in the arena. Fails when memory is
 *  refused. */
outcome compare_reports(const struct check_report *older, const struct check_report *newer,
        struct arena *arena, struct compare *ret_compare, struct problem *ret_problem) MUST_CHECK;

/** Whether verdict, margin and the timer that is tight are the same. */
bool compare_is_same(const struct compare_routine *routine);

#endif
