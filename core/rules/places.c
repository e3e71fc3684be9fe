/* Sirens for each area, and how many of each thing the panel takes. Keypads for each area: modes.c. */
#include "rules/parts.h"

static bool is_kind(const struct site *site, size_t device, enum site_kind kind) {
    const int profile = site->devices[device].profile;
    return profile != SITE_NONE && site->device_profiles[profile].kind == kind;
}

static int count_kind(const struct site *site, enum site_kind kind) {
    int count = 0;
    for (size_t i = 0; i < site->device_count; i++) {
        count += is_kind(site, i, kind);
    }
    return count;
}

static bool has_siren(const struct site *site, size_t area) {
    for (size_t i = 0; i < site->device_count; i++) {
        if (is_kind(site, i, SITE_SIREN) && (site->devices[i].areas >> area & 1U) != 0) {
            return true;
        }
    }
    return false;
}

/* One siren anywhere, or the panel's own: then each area must have one. */
static void look_no_siren_in_area(struct rules_finder *finder, const struct rules_check *check) {
    const struct site *site = finder->site;
    const bool own = (site->panel.built_in & SITE_BUILT_IN_SIREN) != 0;
    for (size_t area = 0; area < site->area_count && !own && count_kind(site, SITE_SIREN) > 0;
            area++) {
        if (!has_siren(site, area)) {
            struct words_about about = words_about_nothing();
            about.areas = UINT32_C(1) << area;
            rules_add(finder, check, &about, "areas[%zu]", area);
        }
    }
}

/* Known only where the profile speaks of sirens at all. */
static void look_no_siren(struct rules_finder *finder, const struct rules_check *check) {
    const struct site *site = finder->site;
    if (site->zone_count > 0 && site->panel.siren_most > 0 &&
            (site->panel.built_in & SITE_BUILT_IN_SIREN) == 0 &&
            count_kind(site, SITE_SIREN) == 0) {
        struct words_about about = words_about_nothing();
        about.named = site->panel.name;
        rules_add(finder, check, &about, "devices");
    }
}

static void too_many(struct rules_finder *finder, const struct rules_check *check, int count,
        int32_t most, const char *what, const char *place) {
    struct words_about about = words_about_nothing();
    if (most <= 0 || count <= most) {
        return;
    }
    about.named = text_print(finder->arena, "%d %s", count, what);
    about.detail =
            text_print(finder->arena, "%.*s takes %d", TEXT_ARGS(finder->site->panel.name), most);
    rules_add(finder, check, &about, "%s", place);
}

/* Each group once, at the first zone that names it. */
static int count_groups(const struct site *site, size_t *ret_beyond, int32_t most) {
    int count = 0;
    for (size_t i = 0; i < site->zone_count; i++) {
        bool named = site->zones[i].group.length == 0;
        for (size_t k = 0; k < i && !named; k++) {
            named = text_equal(site->zones[i].group, site->zones[k].group);
        }
        if (!named && count++ == most) {
            *ret_beyond = i; /* the first that the panel does not take */
        }
    }
    return count;
}

static void look_groups(struct rules_finder *finder, const struct rules_check *check) {
    const struct site_panel_profile *panel = &finder->site->panel;
    size_t beyond = 0;
    const int count = count_groups(finder->site, &beyond, panel->group_most);
    if (!panel->group_most_said || count <= panel->group_most) {
        return;
    }
    struct words_about about = rules_about_zone(finder->site, beyond);
    about.named = text_print(
            finder->arena, count == 1 ? "1 confirmation group" : "%d confirmation groups", count);
    about.detail = panel->group_most == 0
            ? text_print(finder->arena, "%.*s has no confirmation groups", TEXT_ARGS(panel->name))
            : text_print(finder->arena, "%.*s takes %d", TEXT_ARGS(panel->name), panel->group_most);
    rules_add(finder, check, &about, "zones[%zu].confirms", beyond);
}

static void look_too_many(struct rules_finder *finder, const struct rules_check *check) {
    const struct site *site = finder->site;
    const struct site_panel_profile *panel = &site->panel;
    int users = 0;
    int fobs = 0;
    for (size_t i = 0; i < site->person_count; i++) {
        users += site->people[i].has_code || site->people[i].has_fob;
        fobs += site->people[i].has_fob;
    }
    const int fob_devices = count_kind(site, SITE_FOB);
    const int own = (panel->built_in & SITE_BUILT_IN_KEYPAD) != 0 ? 1 : 0;
    too_many(finder, check, (int)site->area_count, panel->area_most, "areas", "areas");
    too_many(finder, check, (int)site->keypad_count - own, panel->keypad_most,
            own == 1 ? "keypads beside its own" : "keypads", "keypads");
    too_many(finder, check, count_kind(site, SITE_SIREN), panel->siren_most, "sirens", "devices");
    too_many(finder, check, fob_devices > fobs ? fob_devices : fobs, panel->fob_most, "fobs",
            "people");
    too_many(finder, check, users, panel->user_most, "users", "people");
}

static const struct rules_check rows[] = {
        {
                .id = "areas.no-siren",
                .weight = FINDING_FAULT,
                .headline = "an alarm in {areas} is heard by nobody",
                .why = "no siren sounds for it, and the panel has none of its own",
                .remedy = "its name among the areas of a siren, or a siren for it",
                .source = "common practice",
                .look = look_no_siren_in_area,
        },
        {
                .id = "devices.no-siren",
                .weight = FINDING_RISK,
                .headline = "the file names no siren: an alarm is heard by nobody",
                .why = "{named} has none of its own",
                .remedy = "the sirens among the devices, each with a profile of kind siren",
                .source = "common practice",
                .look = look_no_siren,
        },
        {
                .id = "panel.too-many",
                .weight = FINDING_FAULT,
                .headline = "{named} are more than the panel takes",
                .why = "{detail}",
                .remedy = "fewer of them, or a larger panel",
                .source = "the panel's profile",
                .look = look_too_many,
        },
        {
                .id = "panel.too-many",
                .weight = FINDING_FAULT,
                .headline = "{named} cannot be keyed in",
                .why = "{detail}",
                .remedy = "fewer of them, or none: then any two detectors of an area confirm each "
                          "other",
                .source = "the panel's profile",
                .look = look_groups,
        },
};

const struct rules_checks rules_places = RULES_ROWS(rows);
