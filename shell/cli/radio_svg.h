/* lintel radio SITE --svg: a map of each storey, where the weakest of the site's senders would still be heard. */
#ifndef LINTEL_CLI_RADIO_SVG_H
#define LINTEL_CLI_RADIO_SVG_H

#include "base/problem.h"
#include "base/text.h"
#include "site/site.h"

/** Adds the whole SVG. Fails MISSING (no drawing, no panel in it, no radio device whose figures are known), or as
 *  radio_map_make. */
outcome radio_svg_add(
        const struct site *site, struct text_builder *out, struct problem *ret_problem) MUST_CHECK;

#endif
