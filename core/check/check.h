/* The check: every verdict of a site gathered into findings that a technician can act on.
 *
 * Four parts, so that whoever has several cores can share the second and the fourth: check_plan_make lists the
 * routines, written and usual; check_prove proves one of them and touches nothing else; check_gather weighs the
 * answers and makes the findings; check_remedy looks for the remedy of one finding and touches nothing else.
 * check_site does all four on one core. */
#ifndef LINTEL_CHECK_CHECK_H
#define LINTEL_CHECK_CHECK_H

#include "base/finding.h"
#include "check/break_ins.h"
#include "check/story.h"
#include "proof/proof.h"
#include "site/site.h"

struct carried;
struct check_report;

enum {
    /* House practice: fewer seconds to spare than this are a risk; people are not machines. */
    CHECK_MARGIN_SMALL_S = 3,
    /* Exit status after an interrupt: 128 and the number of the signal (POSIX shells). */
    CHECK_EXIT_STOPPED = 130,
};

/** proof: how each routine is proven. no_usual: only the routines in the file. no_remedy: findings without remedies.
 *  today_day: for waivers and temporary changes (base/date.h); DATE_NONE: they neither begin nor end.
 *  proof.keep_going is asked before each proof and during each search; once it says no, the rest is not settled.
 *  verdicts: told by check_site as soon as they are there, where what takes longest (remedies, and what hangs on a
 *  single device) is still to be looked for; the report is good for that call; NULL: nobody waits for it.
 *  progress: told by check_site how many of how many routines are done, before the first and after each; NULL:
 *  likewise. */
struct check_options {
    struct proof_options proof;
    bool no_usual;
    bool no_remedy;
    int32_t today_day;
    void (*verdicts)(void *context, const struct check_report *report);
    void *verdicts_context;
    void (*progress)(void *context, size_t done, size_t of);
    void *progress_context;
};

/** A routine and where it comes from. index: in site.routines (usual false), or in the list of usual ones. */
struct check_routine {
    const struct site_routine *source;
    bool usual;
    size_t index;
};

/** A routine that was not looked at. A usual one, because of what the site lacks, or removed: by the file, with its
 *  reason. rests: a described one, whose guest is away. */
struct check_absent {
    struct text name;
    struct text reason;
    struct text removed_as; /* removed: as the file calls it */
    bool removed;
    bool rests;
};

/** complete: it has every routine that the site has; else what is not found may just not have been looked at. */
struct check_plan {
    struct check_routine *routines;
    size_t routine_count;
    struct check_absent *absent;
    size_t absent_count;
    int32_t today_day;
    bool complete;
    struct break_ins break_ins; /* filled by check_break_ins; none otherwise */
    struct finding *by_rules;   /* once they are found, by check_gather; NULL before */
    size_t by_rules_count;
    const struct carried *carried; /* once it is worked out, by check_gather; NULL before */
};

/** A finding with what belongs to it. story: empty where there is none. range: when it happens, in a sentence, or
 *  empty. also: answers with the same cause, told by name only. about: what it concerns, see about.h. waiver: who
 *  answers for it, or NULL. */
struct check_finding {
    struct finding base;
    struct text about;
    const struct site_waiver *waiver;
    struct story story;
    struct text range;
    const size_t *also;
    size_t also_count;
};

/** What was found. answers, routines: one each, in the same order. findings: by weight, then by routine; behind
 *  the finding_count that count stand the waived_count that are waived, by weight too. well,
 *  wrong, unsettled: counts of answers. stopped: somebody asked to stop. tightest: the answer that goes well with
 *  the fewest seconds to spare, or FINDING_NO_ANSWER. by_rules: what the rules found, as it is among the findings.
 *  carried: radio links and the time without mains. */
struct check_report {
    struct check_routine *routines;
    struct proof_answer *answers;
    size_t answer_count;
    struct check_absent *absent;
    size_t absent_count;
    struct check_finding *findings;
    size_t finding_count;
    size_t waived_count;
    int32_t today_day;
    bool complete;
    size_t weights[FINDING_WEIGHT_COUNT];
    size_t written;
    size_t usual;
    size_t well;
    size_t wrong;
    size_t unsettled;
    size_t tightest;
    bool stopped;
    struct break_ins break_ins;
    struct finding *by_rules;
    size_t by_rules_count;
    const struct carried *carried;
};

/** Lists what is to be proven. Everything given is in the arena or borrowed from the site. */
outcome check_plan_make(const struct site *site, const struct check_options *options,
        struct arena *arena, struct check_plan *ret_plan, struct problem *ret_problem) MUST_CHECK;

/** Proves one routine of the plan. Independent of every other call: own arena, own pages, own ret_answer. */
outcome check_prove(const struct site *site, const struct check_plan *plan, size_t which,
        const struct check_options *options, struct pages pages, struct arena *arena,
        struct proof_answer *ret_answer, struct problem *ret_problem) MUST_CHECK;

/** Looks at the break-ins of the site and keeps them in the plan. A site without any: nothing to do. */
outcome check_break_ins(const struct site *site, const struct check_options *options,
        struct pages pages, struct arena *arena, struct check_plan *plan,
        struct problem *ret_problem) MUST_CHECK;

/** Makes the findings, without remedies. answers: one for each routine of the plan, kept by the report. */
outcome check_gather(const struct site *site, const struct check_plan *plan,
        struct proof_answer *answers, struct arena *arena, struct check_report *ret_report,
        struct problem *ret_problem) MUST_CHECK;

/** Looks for the remedy of findings[which] and writes it into that finding; nothing to do for those that have no
 *  routine which goes wrong, with no_remedy, or once keep_going says no. Independent of every call for another
 *  finding: own arena, own pages. */
outcome check_remedy(const struct site *site, struct check_report *report, size_t which,
        const struct check_options *options, struct pages pages, struct arena *arena,
        struct problem *ret_problem) MUST_CHECK;

/** All of it. options: NULL = defaults. The report is in the arena; pages serve the searches. */
outcome check_site(const struct site *site, const struct check_options *options, struct pages pages,
        struct arena *arena, struct check_report *ret_report, struct problem *ret_problem)
        MUST_CHECK;

/** The exit status that the report stands for: 0 no fault, 1 faults, 3 no fault but something not settled, 130
 *  stopped before the end. */
int check_exit_status(const struct check_report *report);

#endif
