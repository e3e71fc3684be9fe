/* What lintel power SITE lists beside the standby: batteries of devices with the days to change them and the visits
 * that can share, cables, loops. Internal to core/sums. */
#ifndef LINTEL_SUMS_POWER_PARTS_H
#define LINTEL_SUMS_POWER_PARTS_H

#include "site/site.h"
#include "sums/parts.h"

/** Each device's battery: years from-to, what they come from, and when to change it. Fails as power_site_cell. */
outcome sums_add_cells(const struct site *site, struct sums_answer *answer,
        struct problem *ret_problem) MUST_CHECK;

/** What arrives at each device. Fails as power_site_cables. */
outcome sums_add_cables(const struct site *site, struct sums_answer *answer,
        struct problem *ret_problem) MUST_CHECK;

/** The two closest states of each loop. Fails as power_site_loop. */
outcome sums_add_loops(const struct site *site, struct sums_answer *answer,
        struct problem *ret_problem) MUST_CHECK;

#endif
