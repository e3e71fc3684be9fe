/* Chimes that cannot be, and chimes that nobody bears. */
#include "rules/parts.h"
#include "rules/zones.h"

/* A trip there is an alarm at every hour, or the thing opens only when it is one. */
static bool can_never_chime(const struct site *site, const struct site_zone *zone) {
    const struct site_device_profile *profile = site_zone_profile(site, zone);
    return zone->chime &&
            (rules_is_always_watched(zone->behaviour) ||
                    (profile != NULL &&
                            (site_zone_sense(site, zone) == SITE_SMOKE ||
                                    site_zone_sense(site, zone) == SITE_GAS_SENSE ||
                                    site_zone_sense(site, zone) == SITE_WATER ||
                                    site_zone_sense(site, zone) == SITE_BUTTON)));
}

static bool chimes_at_each_step(const struct site *site, const struct site_zone *zone) {
    const struct site_device_profile *profile = site_zone_profile(site, zone);
    return zone->chime && profile != NULL && !can_never_chime(site, zone) &&
            (site_zone_sense(site, zone) == SITE_MOTION ||
                    site_zone_sense(site, zone) == SITE_SHOCK ||
                    site_zone_sense(site, zone) == SITE_GLASS);
}

static const struct rules_check rows[] = {
        {
                .id = "zones.chime-never",
                .weight = FINDING_RISK,
                .headline = "{zone} is meant to chime and never will",
                .why = "it does not open in daily life, or its trip is an alarm at every hour "
                       "({behaviour})",
                .remedy = "chime: no there; a chime belongs to the contact of a door",
                .source = "common practice",
                .look = rules_look_zones,
                .question = can_never_chime,
                .key = "chime",
        },
        {
                .id = "zones.chime-each-step",
                .weight = FINDING_NOTE,
                .headline = "{zone} chimes at each step while {is-unset}",
                .why = "it is no contact: it trips again and again",
                .remedy = "a chime at the contact of the door instead",
                .source = "common practice",
                .look = rules_look_zones,
                .question = chimes_at_each_step,
                .key = "chime",
        },
};

const struct rules_checks rules_chime = RULES_ROWS(rows);
