/* Confirmation groups: detectors that confirm each other's alarms. */
#include "rules/parts.h"
#include "rules/zones.h"

/* Life safety, hold-up and medical signal by themselves and take no part in confirming. */
static bool takes_part(const struct site_zone *zone) {
    return zone->behaviour < SITE_HOLD_UP;
}

static bool is_named(const struct site_zone *zone) {
    return zone->group.length > 0;
}

static bool any_is_named(const struct site *site) {
    for (size_t i = 0; i < site->zone_count; i++) {
        if (is_named(&site->zones[i])) {
            return true;
        }
    }
    return false;
}

static bool is_in_area(const struct site_zone *zone, size_t area) {
    return zone->area == (int)area || (zone->serves >> area & 1U) != 0;
}

/* As the panel has it: of different devices, and not on one door. */
static bool are_independent(
        const struct site *site, const struct site_zone *a, const struct site_zone *b) {
    const int door = site_zone_door(site, a);
    return a->device != b->device && (door == SITE_NONE || door != site_zone_door(site, b));
}

/* Whether the group of this zone has two detectors in the area that confirm each other. */
static bool has_witnesses(const struct site *site, const struct site_zone *of, size_t area) {
    for (size_t i = 0; i < site->zone_count; i++) {
        const struct site_zone *one = &site->zones[i];
        if (!takes_part(one) || !is_in_area(one, area) || !text_equal(one->group, of->group)) {
            continue;
        }
        for (size_t k = 0; k < i; k++) {
            const struct site_zone *other = &site->zones[k];
            if (takes_part(other) && is_in_area(other, area) &&
                    text_equal(other->group, of->group) && are_independent(site, one, other)) {
                return true;
            }
        }
    }
    return false;
}

static bool is_first_in_area(const struct site *site, size_t zone, size_t area) {
    for (size_t i = 0; i < zone; i++) {
        if (site->zones[i].area == (int)area &&
                text_equal(site->zones[i].group, site->zones[zone].group)) {
            return false;
        }
    }
    return true;
}

/* Each group once in each area to which a zone of it belongs. */
static void look_alone(struct rules_finder *finder, const struct rules_check *check) {
    const struct site *site = finder->site;
    for (size_t i = 0; i < site->zone_count && site->settings.confirm_window_s > 0; i++) {
        const struct site_zone *zone = &site->zones[i];
        if (!is_named(zone) || zone->area < 0 || !is_first_in_area(site, i, (size_t)zone->area) ||
                has_witnesses(site, zone, (size_t)zone->area)) {
            continue;
        }
        struct words_about about = rules_about_zone(site, i);
        about.named = zone->group;
        about.areas = UINT32_C(1) << zone->area;
        rules_add(finder, check, &about, "zones[%zu].confirms", i);
    }
}

static void look_window_off(struct rules_finder *finder, const struct rules_check *check) {
    const struct site *site = finder->site;
    if (any_is_named(site) && site->settings.confirm_window_s == 0) {
        rules_add(finder, check, NULL, "panel.confirm-window");
    }
}

static void look_left_out(struct rules_finder *finder, const struct rules_check *check) {
    const struct site *site = finder->site;
    struct site_numbers numbers = {0};
    size_t first = site->zone_count;
    for (size_t i = 0; i < site->zone_count; i++) {
        if (takes_part(&site->zones[i]) && !is_named(&site->zones[i])) {
            site_numbers_add(&numbers, site->zones[i].number);
            first = first == site->zone_count ? i : first;
        }
    }
    if (any_is_named(site) && site->settings.confirm_window_s > 0 && first < site->zone_count) {
        struct words_about about = rules_about_zone(site, first);
        about.named = rules_numbers_text(finder, &numbers);
        rules_add(finder, check, &about, "zones[%zu]", first);
    }
}

#define CONFIRM_SOURCE                                                                             \
    "common practice: two independent detectors that see one way through the house"

static const struct rules_check rows[] = {
        {
                .id = "confirming.alone",
                .weight = FINDING_RISK,
                .headline = "nothing in {areas} confirms an alarm of group \"{named}\"",
                .why = "{zone} has no second detector in that group there: of another device, not "
                       "on the same door",
                .remedy = "a second detector in the group, or another group for {zone}",
                .source = CONFIRM_SOURCE,
                .look = look_alone,
        },
        {
                .id = "confirming.window-off",
                .weight = FINDING_RISK,
                .headline = "the confirmation groups do nothing",
                .why = "the confirmation window is 0 s",
                .remedy = "a confirmation window of 30 min, or no groups",
                .source = CONFIRM_SOURCE,
                .look = look_window_off,
        },
        {
                .id = "confirming.left-out",
                .weight = FINDING_NOTE,
                .headline = "zones that confirm nothing: {named}",
                .why = "other zones name a confirmation group, these name none: nothing confirms "
                       "them either",
                .remedy = "a group for each of them, where that is not meant",
                .source = CONFIRM_SOURCE,
                .look = look_left_out,
        },
};

const struct rules_checks rules_confirming = RULES_ROWS(rows);
