/* lintel power SITE --svg: a calendar of the site's batteries, a row each, and the visits that change them. */
#ifndef LINTEL_CLI_POWER_SVG_H
#define LINTEL_CLI_POWER_SVG_H

#include "base/problem.h"
#include "base/text.h"
#include "site/site.h"

/** Adds the whole SVG. Fails MISSING: of no battery of the site it is written when it was put in; or
 *  MEMORY. */
outcome power_svg_add(
        const struct site *site, struct text_builder *out, struct problem *ret_problem) MUST_CHECK;

#endif
