/* The power of a whole site: currents of the panel and of all that it feeds, from the profiles, and the battery they
 * want; the batteries of devices with the days to change them, cables and loops. */
#ifndef LINTEL_SUMS_POWER_SITE_H
#define LINTEL_SUMS_POWER_SITE_H

#include "site/site.h"
#include "sums/sums.h"

/** Its options: those of power standby but for the currents. It has no `work` of its own, as it wants a site. */
extern const struct sums_sum sums_power_site;

/** words: behind the site's name. ret_answer: gives, in the arena. Fails as sums_run, or MISSING: no profile says a
 *  current. */
outcome sums_run_power_site(const struct site *site, const struct text *words, size_t count,
        struct arena *arena, struct sums_answer *ret_answer, struct problem *ret_problem)
        MUST_CHECK;

#endif
