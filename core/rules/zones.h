/* What several checks ask of a zone. Internal to core/rules. */
#ifndef LINTEL_RULES_ZONES_H
#define LINTEL_RULES_ZONES_H

#include "rules/rules.h"

/** The look of a row that asks each zone the same: one finding for each zone of which the row's question is true,
 *  placed at the row's key of the zone ("reports"). */
void rules_look_zones(struct rules_finder *finder, const struct rules_check *check);

/** Fire, gas, carbon monoxide: where lives depend on it. */
bool rules_is_life_safety(enum site_behaviour behaviour);

/** Watched whatever the mode says: 24-hour, hold-up, medical, fire and the rest of that kind. */
bool rules_is_always_watched(enum site_behaviour behaviour);

/** Whether a zone is watched when everything is set. */
bool rules_is_watched_in_full(const struct site_zone *zone);

/** Whether a zone of the device is. device: SITE_NONE: no. */
bool rules_device_is_watched(const struct site *site, int device);

/** Left out in every mode of the panel. */
bool rules_is_out_for_good(const struct site *site, const struct site_zone *zone);

#endif
