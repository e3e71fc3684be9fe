/* Zone numbers: which there are in the panel, and whether they take a wired or a radio device. */
#include "rules/parts.h"

/* The numbers of the panel that take a wired (a radio) device. either: every number. */
static struct site_numbers numbers_for(
        const struct site_panel_profile *panel, bool either, bool radio) {
    struct site_numbers numbers = {.said = true};
    for (int32_t number = 0; number <= SITE_NUMBER_MAX; number++) {
        if (site_number_is_there(panel, number) &&
                (either || site_slot_takes(panel, number, radio))) {
            site_numbers_add(&numbers, number);
        }
    }
    return numbers;
}

static void look_number(struct rules_finder *finder, const struct rules_check *check) {
    const struct site *site = finder->site;
    const struct site_numbers numbers = numbers_for(&site->panel, true, false);
    for (size_t i = 0; i < site->zone_count; i++) {
        const struct site_device_profile *profile = site_zone_profile(site, &site->zones[i]);
        const bool either = profile == NULL;
        const int32_t spare = site_free_number(site, either, !either && profile->radio);
        if (!site_number_is_there(&site->panel, site->zones[i].number)) {
            struct words_about about = rules_about_zone(site, i);
            about.named = text_print(finder->arena, "%.*s has %.*s", TEXT_ARGS(site->panel.name),
                    TEXT_ARGS(rules_numbers_text(finder, &numbers)));
            about.detail = spare == SITE_NONE
                    ? text_of("another panel: every number of this one that takes it is used")
                    : text_print(finder->arena, "a number that is free: %d", spare);
            rules_add(finder, check, &about, "zones[%zu].number", i);
        }
    }
}

static void look_slot(struct rules_finder *finder, const struct rules_check *check) {
    const bool radio = check->variant;
    const struct site *site = finder->site;
    const struct site_numbers numbers = numbers_for(&site->panel, false, radio);
    const int32_t spare = site_free_number(site, false, radio);
    for (size_t i = 0; i < site->zone_count; i++) {
        const struct site_zone *zone = &site->zones[i];
        const struct site_device_profile *profile = site_zone_profile(site, zone);
        if (profile == NULL || profile->radio != radio ||
                !site_number_is_there(&site->panel, zone->number) ||
                site_slot_takes(&site->panel, zone->number, radio)) {
            continue;
        }
        struct words_about about = rules_about_zone(site, i);
        about.named = text_print(finder->arena, "\"%.*s\" %s; %.*s takes such devices at %.*s",
                TEXT_ARGS(site->devices[zone->device].name),
                radio ? "is a radio device" : "is wired", TEXT_ARGS(site->panel.name),
                TEXT_ARGS(rules_numbers_text(finder, &numbers)));
        about.detail = spare == SITE_NONE
                ? text_of(radio ? "a wired device there: no number for radio is free"
                                : "a radio device there: no number with a terminal is free")
                : text_print(finder->arena, "number %d: it %s and is free", spare,
                          radio ? "takes radio" : "has a terminal");
        rules_add(finder, check, &about, "zones[%zu].number", i);
    }
}

static const struct rules_check rows[] = {
        {
                .id = "zones.number-not-there",
                .weight = FINDING_FAULT,
                .headline = "{zone} cannot be keyed in: the panel has no such number",
                .why = "{named}",
                .remedy = "{detail}",
                .source = "the panel's profile",
                .look = look_number,
        },
        {
                .id = "devices.slot-kind",
                .weight = FINDING_FAULT,
                .headline = "{zone} never enrols: its number takes wired devices only",
                .why = "{named}",
                .remedy = "{detail}",
                .source = "the profiles of panel and device",
                .look = look_slot,
                .variant = true,
        },
        {
                .id = "devices.slot-kind",
                .weight = FINDING_FAULT,
                .headline = "{zone} cannot be connected: its number takes radio devices only",
                .why = "{named}",
                .remedy = "{detail}",
                .source = "the profiles of panel and device",
                .look = look_slot,
        },
};

const struct rules_checks rules_slots = RULES_ROWS(rows);
