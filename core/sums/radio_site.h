/* The links of a whole site: every radio device to its panel. Words as a quick sum's; figures from the profiles,
 * distances and walls from the drawing, or from what is typed under links. */
#ifndef LINTEL_SUMS_RADIO_SITE_H
#define LINTEL_SUMS_RADIO_SITE_H

#include "plan/house.h"
#include "sums/sums.h"

/** Its options; no `work` of its own, as it wants a site. */
extern const struct sums_sum sums_radio_site;

/** house: NULL without a drawing. words: behind the site's name. ret_answer: gives, in the arena. Fails as sums_run, or
 *  MISSING: there is no link to work out; the text says what to add. */
outcome sums_run_radio_site(const struct site *site, const struct house *house,
        const struct text *words, size_t count, struct arena *arena, struct sums_answer *ret_answer,
        struct problem *ret_problem) MUST_CHECK;

#endif
