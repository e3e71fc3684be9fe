/* The links of a whole site: every radio device of the drawing to its panel. Words as a quick sum's, distances and
 * walls from the drawing. */
#ifndef LINTEL_SUMS_RADIO_SITE_H
#define LINTEL_SUMS_RADIO_SITE_H

#include "plan/house.h"
#include "sums/sums.h"

/** Its options; no `work` of its own, as it wants a house. */
extern const struct sums_sum sums_radio_site;

/** words: behind the site's name. ret_answer: gives, in the arena. Fails as sums_run, or MISSING: the drawing has
 *  no panel or no radio device in its place. */
outcome sums_run_radio_site(const struct house *house, const struct text *words, size_t count,
        struct arena *arena, struct sums_answer *ret_answer, struct problem *ret_problem)
        MUST_CHECK;

#endif
