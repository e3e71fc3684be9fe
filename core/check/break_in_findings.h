/* What is wrong with how a site hears break-ins, as findings. */
#ifndef LINTEL_CHECK_BREAK_IN_FINDINGS_H
#define LINTEL_CHECK_BREAK_IN_FINDINGS_H

#include "check/check.h"

/** Findings about the break-ins that were looked at. ret_said: room for all->count + 1, filled with *ret_count; texts
 *  are in the arena. */
void break_ins_say(const struct site *site, const struct break_ins *all, struct arena *arena,
        struct check_finding *ret_said, size_t *ret_count);

#endif
