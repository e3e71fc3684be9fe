/* What a finding concerns, in words that one can type and that stay when the file grows: "zone 6 behaviour" wherever
 * zone 6 stands in the list. With the finding's id it names the finding: for waivers and for comparing two files. */
#ifndef LINTEL_CHECK_ABOUT_H
#define LINTEL_CHECK_ABOUT_H

#include "check/check.h"

/** A path of the core as words: "zones[5].in.night" is "zone 6 in night" (the zone's number), "ways[0].legs[1]" is
 *  "way yard way legs 2", "panel.abort-window" is "panel abort-window"; a path that leads to nothing stays as it is.
 *  In the arena or borrowed; empty for an empty path. */
struct text about_place(const struct site *site, struct text path, struct arena *arena);

/** What the finding concerns: its place in words; where that is not of the zone to blame, that zone too. A small margin
 *  concerns its timer ("entry time, area shop"), and what has no place its routine ("routine first batch"). Empty: the
 *  whole site. In the arena. */
struct text about_finding(const struct site *site, const struct check_report *report,
        const struct check_finding *finding, struct arena *arena);

#endif
