/* The loop of a wired zone: where its end-of-line resistor sits. The panel tells a cut and a short from rest by the
 * resistor's share of the voltage; what lies beyond the resistor it does not see. Not for volts and ohms. */
#include "rules/parts.h"

/* variant: of radio; else of wires. A zone without a device is told of elsewhere. */
static bool is_of(const struct site *site, size_t zone, bool radio) {
    const struct site_device_profile *profile = site_zone_profile(site, &site->zones[zone]);
    return profile != NULL && profile->radio == radio;
}

static void look_end(
        struct rules_finder *finder, const struct rules_check *check, enum site_loop_end end) {
    for (size_t i = 0; i < finder->site->zone_count; i++) {
        if (finder->site->zones[i].loop_end == end && is_of(finder->site, i, false)) {
            const struct words_about about = rules_about_zone(finder->site, i);
            rules_add(finder, check, &about, "zones[%zu].end-of-line", i);
        }
    }
}

static void look_at_panel(struct rules_finder *finder, const struct rules_check *check) {
    look_end(finder, check, SITE_LOOP_END_PANEL);
}

static void look_none(struct rules_finder *finder, const struct rules_check *check) {
    look_end(finder, check, SITE_LOOP_END_NONE);
}

static void look_radio(struct rules_finder *finder, const struct rules_check *check) {
    for (size_t i = 0; i < finder->site->zone_count; i++) {
        const enum site_loop_end end = finder->site->zones[i].loop_end;
        const bool own = finder->site->zones[i].input <= 1; /* a further input may have a wire */
        if (own && (end == SITE_LOOP_END_DEVICE || end == SITE_LOOP_END_PANEL) &&
                is_of(finder->site, i, true)) {
            const struct words_about about = rules_about_zone(finder->site, i);
            rules_add(finder, check, &about, "zones[%zu].end-of-line", i);
        }
    }
}

static const struct rules_check rows[] = {
        {
                .id = "zones.resistor-at-panel",
                .weight = FINDING_RISK,
                .headline = "a shorted cable of {zone} goes unnoticed",
                .why = "its end-of-line resistor sits at the panel: whatever happens to the cable "
                       "beyond it, a short looks like a door that is shut",
                .remedy = "the resistor in the housing of the device, at the far end of the cable",
                .source = "common practice",
                .look = look_at_panel,
        },
        {
                .id = "zones.resistor-none",
                .weight = FINDING_RISK,
                .headline = "a shorted cable of {zone} goes unnoticed",
                .why = "its loop has no end-of-line resistor: a short looks like a door that is "
                       "shut",
                .remedy = "a resistor in the housing of the device, and the panel's input keyed "
                          "for it",
                .source = "common practice",
                .look = look_none,
        },
        {
                .id = "zones.resistor-on-radio",
                .weight = FINDING_NOTE,
                .headline = "{zone} has an end-of-line resistor, and no loop",
                .why = "its device is a radio one",
                .remedy = "leave end-of-line out, or name the wired device that is there",
                .source = "the device's profile",
                .look = look_radio,
        },
};

const struct rules_checks rules_loops = RULES_ROWS(rows);
