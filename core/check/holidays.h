/* Holidays that are keyed into the panel: whether there is one still to come. */
#ifndef LINTEL_CHECK_HOLIDAYS_H
#define LINTEL_CHECK_HOLIDAYS_H

#include "check/check.h"

/** Whether the site has holidays, and the last of them is over on that day: a panel forgets nothing and knows no next
 *  year. One that comes every year is always to come. today_day: DATE_NONE: nothing is over. ret_finding: a note,
 *  filled if so. Source: common practice. */
bool holidays_are_over(const struct site *site, int32_t today_day, struct arena *arena,
        struct check_finding *ret_finding);

#endif
