/* How a device is fitted: room for its housing, the gap to its magnet, steel, heat and cold. */
#include "rules/parts.h"

/* What steel leaves of a contact's gap. Source: US federal guide specification (rules.md 5.1, S60), a pair of figures
 * that loses a quarter; the trade says a half (common practice). In between nobody can tell before it is fitted. */
enum { STEEL_LEAVES_BEST_PERCENT = 75, STEEL_LEAVES_WORST_PERCENT = 50 };

static const struct site_device_profile *profile_of(const struct site *site, size_t device) {
    const int profile = site->devices[device].profile;
    return profile == SITE_NONE ? NULL : &site->device_profiles[profile];
}

static struct measure share(struct measure whole, int64_t low_percent, int64_t high_percent) {
    return (struct measure){.low = (int32_t)(whole.low * low_percent / 100),
            .high = (int32_t)(whole.low * high_percent / 100),
            .said = true};
}

static void look_wide(struct rules_finder *finder, const struct rules_check *check) {
    const struct site *site = finder->site;
    for (size_t i = 0; i < site->device_count; i++) {
        const struct site_device_profile *profile = profile_of(site, i);
        const struct measure frame = site->devices[i].frame_width;
        if (profile == NULL || !profile->width.said || !frame.said ||
                profile->width.high <= frame.low) {
            continue;
        }
        struct words_about about = words_about_nothing();
        about.named = site->devices[i].name;
        about.detail = text_print(finder->arena, "%.*s needs %.*s, the frame has %.*s",
                TEXT_ARGS(profile->name),
                TEXT_ARGS(rules_measure(finder, QUANTITY_LENGTH_M, profile->width)),
                TEXT_ARGS(rules_measure(finder, QUANTITY_LENGTH_M, frame)));
        rules_add(finder, check, &about, "devices[%zu].frame-width", i);
    }
}

static void add_gap(struct rules_finder *finder, const struct rules_check *check, size_t device,
        struct text limit, struct measure sure) {
    const struct site_device *it = &finder->site->devices[device];
    struct words_about about = words_about_nothing();
    about.named = it->name;
    about.detail = text_print(finder->arena, "the gap is %.*s; %.*s",
            TEXT_ARGS(rules_measure(finder, QUANTITY_LENGTH_M, it->magnet_gap)), TEXT_ARGS(limit));
    about.other = text_print(finder->arena, "%.*s",
            TEXT_ARGS(rules_measure(finder, QUANTITY_LENGTH_M,
                    (struct measure){.low = sure.low, .high = sure.low, .said = true})));
    rules_add(finder, check, &about, "devices[%zu].magnet-gap", device);
}

static void look_gap(struct rules_finder *finder, const struct rules_check *check) {
    const struct site *site = finder->site;
    for (size_t i = 0; i < site->device_count; i++) {
        const struct site_device_profile *profile = profile_of(site, i);
        const struct measure gap = site->devices[i].magnet_gap;
        if (profile != NULL && profile->gap.said && gap.said && gap.high > profile->gap.low) {
            add_gap(finder, check, i,
                    text_print(finder->arena, "%.*s closes at %.*s at most",
                            TEXT_ARGS(profile->name),
                            TEXT_ARGS(rules_measure(finder, QUANTITY_LENGTH_M, profile->gap))),
                    site->devices[i].on_steel ? share(profile->gap, STEEL_LEAVES_WORST_PERCENT,
                                                        STEEL_LEAVES_WORST_PERCENT)
                                              : profile->gap);
        }
    }
}

/* sure: beyond the better end of what steel leaves; else between its two ends. Beyond the plain gap: look_gap. */
static void look_steel(struct rules_finder *finder, const struct rules_check *check) {
    const bool sure = check->variant;
    const struct site *site = finder->site;
    for (size_t i = 0; i < site->device_count; i++) {
        const struct site_device_profile *profile = profile_of(site, i);
        const struct site_device *device = &site->devices[i];
        if (profile == NULL || !profile->gap.said || !device->magnet_gap.said ||
                !device->on_steel || device->magnet_gap.high > profile->gap.low) {
            continue;
        }
        const struct measure left = profile->gap_on_steel.said
                ? profile->gap_on_steel
                : share(profile->gap, STEEL_LEAVES_WORST_PERCENT, STEEL_LEAVES_BEST_PERCENT);
        if (device->magnet_gap.high <= left.low || (device->magnet_gap.high > left.high) != sure) {
            continue;
        }
        add_gap(finder, check, i,
                text_print(finder->arena, "of the %.*s of %.*s steel leaves %.*s",
                        TEXT_ARGS(rules_measure(finder, QUANTITY_LENGTH_M, profile->gap)),
                        TEXT_ARGS(profile->name),
                        TEXT_ARGS(rules_measure(finder, QUANTITY_LENGTH_M, left))),
                left);
    }
}

static void look_temperature(struct rules_finder *finder, const struct rules_check *check) {
    const struct site *site = finder->site;
    for (size_t i = 0; i < site->device_count; i++) {
        const struct site_device_profile *profile = profile_of(site, i);
        const struct measure place = site->devices[i].place_at;
        if (profile == NULL || !profile->works_at.said || !place.said ||
                (place.low >= profile->works_at.low && place.high <= profile->works_at.high)) {
            continue;
        }
        struct words_about about = words_about_nothing();
        about.named = site->devices[i].name;
        about.detail = text_print(finder->arena, "%.*s works at %.*s, its place gets %.*s",
                TEXT_ARGS(profile->name),
                TEXT_ARGS(rules_measure(finder, QUANTITY_TEMPERATURE_C, profile->works_at)),
                TEXT_ARGS(rules_measure(finder, QUANTITY_TEMPERATURE_C, place)));
        about.other = text_of(place.low < profile->works_at.low ? "cold" : "hot");
        rules_add(finder, check, &about, "devices[%zu].at", i);
    }
}

static const struct rules_check rows[] = {
        {
                .id = "devices.wider-than-frame",
                .weight = FINDING_FAULT,
                .headline = "\"{named}\" does not fit on its frame",
                .why = "{detail}",
                .remedy = "a slimmer model, or one that is let in",
                .source = "the device's profile",
                .look = look_wide,
        },
        {
                .id = "devices.gap-too-wide",
                .weight = FINDING_FAULT,
                .headline = "\"{named}\" reads open while the door is shut, or rattles in the wind",
                .why = "{detail}",
                .remedy = "the magnet nearer: {other} at most; or a contact for a wider gap",
                .source = "the device's profile",
                .look = look_gap,
        },
        {
                .id = "devices.gap-on-steel",
                .weight = FINDING_FAULT,
                .headline = "\"{named}\" reads open while the door is shut: it sits on steel",
                .why = "{detail}",
                .remedy = "a spacer of wood or plastic under contact and magnet, or a gap of "
                          "{other} at most, or a contact for a wider gap",
                .price = "a spacer makes it stick out further",
                .source = "US federal guide specification (minus 25 %) and common practice "
                          "(minus 50 %)",
                .look = look_steel,
                .variant = true,
        },
        {
                .id = "devices.gap-on-steel",
                .weight = FINDING_RISK,
                .headline = "\"{named}\" may rattle in the wind: it sits on steel",
                .why = "{detail}; where in between, nobody knows before it is fitted",
                .remedy = "a spacer of wood or plastic under contact and magnet, or a gap of "
                          "{other} at most, or a contact for a wider gap",
                .price = "a spacer makes it stick out further",
                .source = "US federal guide specification (minus 25 %) and common practice "
                          "(minus 50 %)",
                .look = look_steel,
        },
        {
                .id = "devices.too-hot-or-cold",
                .weight = FINDING_RISK,
                .headline = "\"{named}\" may fail when it gets {other}",
                .why = "{detail}",
                .remedy = "a model for that place, or another place",
                .source = "the device's profile",
                .look = look_temperature,
        },
};

const struct rules_checks rules_fitting = RULES_ROWS(rows);
