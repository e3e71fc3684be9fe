/* Proving a site with a crew: routines and remedies are spread over the cores, a single search never. */
#ifndef LINTEL_CLI_PROVE_H
#define LINTEL_CLI_PROVE_H

#include "check/check.h"
#include "cli/crew.h"
#include "document/document.h"

/** For proof_options: no once somebody pressed Ctrl-C. */
bool prove_keeps_going(void *context, size_t classes_done, size_t classes_waiting);

/** Makes a site that was read the one of the day: temporary changes applied. options->today_day. */
outcome prove_as_today(struct document *document, int32_t today_day, struct problem *ret_problem)
        MUST_CHECK;

/** As check_site, but shared out, with a line of progress on stderr, and stopped by Ctrl-C
 *  (terminal_catch_interrupt). The report lives in the crew's arenas. options->proof.keep_going is replaced. */
outcome prove_site(const struct site *site, const struct check_options *options, struct crew *crew,
        struct check_report *ret_report, struct problem *ret_problem) MUST_CHECK;

/** The same for one routine of the plan; the report then holds just that one. */
outcome prove_one(const struct site *site, const struct check_plan *plan, size_t which,
        const struct check_options *options, struct crew *crew, struct check_report *ret_report,
        struct problem *ret_problem) MUST_CHECK;

#endif
