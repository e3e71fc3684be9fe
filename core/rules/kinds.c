/* Kinds: what a device senses against what its zone is for and what it is fitted to. */
#include "rules/parts.h"

#define BIT(sense) (UINT32_C(1) << (sense))

enum { OPENS = BIT(SITE_CONTACT) | BIT(SITE_MOTION) | BIT(SITE_SHOCK) | BIT(SITE_GLASS) };

/* Of what watches for intruders, what makes no sense behind a behaviour. A contact may be the relay of whatever speaks
 * in closed and open. Smoke, gas, water and buttons are looked at elsewhere (life_safety.c). Source: common
 * practice. */
static const uint32_t senseless[SITE_BEHAVIOUR_COUNT] = {
        [SITE_ENTRY] = BIT(SITE_SHOCK) | BIT(SITE_GLASS),
        [SITE_HOLD_UP] = OPENS & ~BIT(SITE_CONTACT),
        [SITE_MEDICAL] = OPENS & ~BIT(SITE_CONTACT),
        [SITE_FLOOD] = OPENS & ~BIT(SITE_CONTACT),
};

static void look_behaviour(struct rules_finder *finder, const struct rules_check *check) {
    const struct site *site = finder->site;
    for (size_t i = 0; i < site->zone_count; i++) {
        const struct site_zone *zone = &site->zones[i];
        const struct site_device_profile *profile = site_zone_profile(site, zone);
        const enum site_sense sense = site_zone_sense(site, zone);
        if (profile != NULL && profile->kind == SITE_SENSOR &&
                (senseless[zone->behaviour] & BIT(sense)) != 0) {
            struct words_about about = rules_about_zone(site, i);
            about.named = text_print(finder->arena, "%s, and its device senses %s",
                    site_behaviour_name(zone->behaviour), site_sense_name(sense));
            rules_add(finder, check, &about, "zones[%zu].behaviour", i);
        }
    }
}

/* Fobs and keypads may have a button of their own; sirens only sound. */
static void look_not_a_sensor(struct rules_finder *finder, const struct rules_check *check) {
    const struct site *site = finder->site;
    for (size_t i = 0; i < site->zone_count; i++) {
        const struct site_zone *zone = &site->zones[i];
        const struct site_device_profile *profile = site_zone_profile(site, zone);
        const bool by_button = zone->behaviour == SITE_HOLD_UP || zone->behaviour == SITE_MEDICAL ||
                zone->behaviour == SITE_FIRE;
        if (profile != NULL && profile->kind != SITE_SENSOR &&
                (profile->kind == SITE_SIREN || !by_button)) {
            struct words_about about = rules_about_zone(site, i);
            about.named = text_of(site_kind_name(profile->kind));
            rules_add(finder, check, &about, "zones[%zu].device", i);
        }
    }
}

static void look_contact_on_nothing(struct rules_finder *finder, const struct rules_check *check) {
    const struct site *site = finder->site;
    for (size_t i = 0; i < site->zone_count; i++) {
        const struct site_zone *zone = &site->zones[i];
        const struct site_device_profile *profile = site_zone_profile(site, zone);
        const bool burglary = zone->behaviour >= SITE_ENTRY && zone->behaviour <= SITE_DAY;
        if (profile != NULL && profile->kind == SITE_SENSOR && burglary &&
                site_zone_sense(site, zone) == SITE_CONTACT &&
                site_zone_door(site, zone) == SITE_NONE) {
            const struct words_about about = rules_about_zone(site, i);
            rules_add(finder, check, &about, "zones[%zu].device", i);
        }
    }
}

static void look_not_for_openings(struct rules_finder *finder, const struct rules_check *check) {
    const struct site *site = finder->site;
    for (size_t i = 0; i < site->zone_count; i++) {
        const struct site_zone *zone = &site->zones[i];
        const uint32_t sense = BIT(site_zone_sense(site, zone));
        if (zone->device != SITE_NONE && site_zone_door(site, zone) != SITE_NONE &&
                (sense & OPENS) == 0) {
            struct words_about about = rules_about_zone(site, i);
            about.door = site_zone_door(site, zone);
            about.named = text_of(site_sense_name(site_zone_sense(site, zone)));
            rules_add(finder, check, &about, "devices[%d].on", zone->device);
        }
    }
}

static const struct rules_check rows[] = {
        {
                .id = "zones.device-for-behaviour",
                .weight = FINDING_RISK,
                .headline = "{zone} has a device that does not fit what the zone is for",
                .why = "it is {named}",
                .remedy = "another behaviour, or another device",
                .source = "common practice",
                .look = look_behaviour,
        },
        {
                .id = "zones.not-a-sensor",
                .weight = FINDING_FAULT,
                .headline = "nothing trips {zone}: its device is a {named}",
                .why = "only a sensor or a button stands behind a zone",
                .remedy = "a sensor, or no such zone; a {named} is enrolled as what it is",
                .source = "common practice",
                .look = look_not_a_sensor,
        },
        {
                .id = "zones.contact-on-nothing",
                .weight = FINDING_NOTE,
                .headline = "no routine ever opens {zone}: its contact is on no door",
                .why = "the file does not say what it watches",
                .remedy = "on: and the door or window, with its device",
                .source = "common practice",
                .look = look_contact_on_nothing,
        },
        {
                .id = "devices.not-for-openings",
                .weight = FINDING_RISK,
                .headline = "{zone} does not feel {door} open: it senses {named}",
                .why = "only a contact, a shock or glass-break detector or a curtain watches an "
                       "opening",
                .remedy = "a contact there; this device watches a room",
                .source = "common practice",
                .look = look_not_for_openings,
        },
};

const struct rules_checks rules_kinds = RULES_ROWS(rows);
