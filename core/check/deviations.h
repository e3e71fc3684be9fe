/* Where a site differs from the firm's standard programming. */
#ifndef LINTEL_CHECK_DEVIATIONS_H
#define LINTEL_CHECK_DEVIATIONS_H

#include "check/check.h"

/** A note for each deviation of the site, in the order of the file. ret_findings: room for site->deviation_count. */
void deviations_say(
        const struct site *site, struct arena *arena, struct check_finding *ret_findings);

#endif
