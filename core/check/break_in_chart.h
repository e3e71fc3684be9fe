/* How the chance of interrupting an intruder hangs on how long help takes, as a curve for each thing: the sheet that
 * goes with the drawing of break-ins. */
#ifndef LINTEL_CHECK_BREAK_IN_CHART_H
#define LINTEL_CHECK_BREAK_IN_CHART_H

#include "check/break_in_odds.h"
#include "plan/picture.h"

enum { BREAK_IN_CHART_CURVES = 6 };

/** Draws it: the BREAK_IN_CHART_CURVES things that are the least likely saved, at the help that the file says. odds:
 *  one for each of all. False: there is nothing to draw, as nothing that is protected is heard; ret_picture is then
 *  untouched. In the arena, which remembers a refusal. */
bool break_in_chart(const struct site *site, const struct break_ins *all,
        const struct break_in_odds *odds, struct arena *arena, struct picture *ret_picture);

#endif
