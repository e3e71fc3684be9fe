/* What several checks ask of a zone. Internal to core/rules. */
#ifndef LINTEL_RULES_ZONES_H
#define LINTEL_RULES_ZONES_H

#include "rules/rules.h"

/** A question about one zone. */
typedef bool rules_zone_question(const struct site *site, const struct site_zone *zone);

/** One finding for each zone of which the question is true. key: what of the zone to look at, "reports". */
void rules_add_zones(struct rules_finder *finder, const struct rules_check *check,
        rules_zone_question *question, const char *key);

/** Fire, gas, carbon monoxide: where lives depend on it. */
bool rules_is_life_safety(enum site_behaviour behaviour);

/** Watched whatever the mode says: 24-hour, hold-up, medical, fire and the rest of that kind. */
bool rules_is_always_watched(enum site_behaviour behaviour);

/** Left out in every mode of the panel. */
bool rules_is_out_for_good(const struct site *site, const struct site_zone *zone);

#endif
