/* Radio: whether the panel understands a device, and waits long enough for it. */
#include "rules/parts.h"

static bool hears(const struct site_panel_profile *panel, struct text family) {
    for (size_t i = 0; i < panel->family_count; i++) {
        if (text_equal(panel->families[i], family)) {
            return true;
        }
    }
    return false;
}

static struct text families(struct rules_finder *finder) {
    const struct site_panel_profile *panel = &finder->site->panel;
    struct text_builder list;
    text_builder_init(&list, finder->arena);
    for (size_t i = 0; i < panel->family_count; i++) {
        text_add_format(&list, "%s%.*s", i == 0 ? "" : ", ", TEXT_ARGS(panel->families[i]));
    }
    return panel->family_count == 0 ? text_of("no radio") : text_built(&list);
}

static void look_family(struct rules_finder *finder, const struct rules_check *check) {
    const struct site *site = finder->site;
    for (size_t i = 0; i < site->device_count && site->panel.families_said; i++) {
        const int index = site->devices[i].profile;
        const struct site_device_profile *profile =
                index == SITE_NONE ? NULL : &site->device_profiles[index];
        if (profile == NULL || !profile->radio || profile->family.length == 0 ||
                hears(&site->panel, profile->family)) {
            continue;
        }
        struct words_about about = words_about_nothing();
        about.named = site->devices[i].name;
        about.detail = text_print(finder->arena, "%.*s speaks %.*s; %.*s hears %.*s",
                TEXT_ARGS(profile->name), TEXT_ARGS(profile->family), TEXT_ARGS(site->panel.name),
                TEXT_ARGS(families(finder)));
        rules_add(finder, check, &about, "devices[%zu].profile", i);
    }
}

static void look_check_in(struct rules_finder *finder, const struct rules_check *check) {
    const struct site *site = finder->site;
    const int32_t window_s = site->settings.supervision_window_s;
    for (size_t i = 0; i < site->zone_count && window_s > 0; i++) {
        const struct site_device_profile *profile = site_zone_profile(site, &site->zones[i]);
        if (profile == NULL || !profile->radio || !site->zones[i].supervised ||
                profile->check_in_s <= window_s) {
            continue;
        }
        struct words_about about = rules_about_zone(site, i);
        about.named = profile->name;
        about.seconds_s = profile->check_in_s;
        about.least_s = window_s;
        rules_add(finder, check, &about, "panel.supervision-window");
    }
}

static const struct rules_check rows[] = {
        {
                .id = "devices.family-not-heard",
                .weight = FINDING_FAULT,
                .headline = "the panel never hears \"{named}\"",
                .why = "{detail}",
                .remedy = "a device of a family that the panel hears; a sensor taken over from an "
                          "older system stays only if its family is among them",
                .source = "the profiles of panel and device",
                .look = look_family,
        },
        {
                .id = "devices.check-in-too-slow",
                .weight = FINDING_FAULT,
                .headline = "{zone} is reported missing although nothing is wrong",
                .why = "{named} speaks every {seconds}, and the panel waits only {least}",
                .remedy = "a supervision window of {seconds} and more",
                .price = "a device that is lost is noticed so much later",
                .source = "common practice",
                .look = look_check_in,
        },
};

const struct rules_checks rules_radio = RULES_ROWS(rows);
