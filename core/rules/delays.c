/* Delays: those that nothing uses, those that the panel does not take, followers that wait for nothing. */
#include "rules/parts.h"

#include "base/quantity.h"

/* The bit of a named entry delay in site_zone.follows; 0 there: every one. */
static bool may_start(const struct site *site, const struct site_zone *zone, size_t delay) {
    for (size_t mode = 0; mode < site->settings.mode_count; mode++) {
        if (zone->in[mode] == SITE_ENTRY && zone->delay[mode] == (int)delay) {
            return true;
        }
    }
    return false;
}

static void look_unused(struct rules_finder *finder, const struct rules_check *check) {
    const struct site *site = finder->site;
    for (size_t delay = 0; delay < site->settings.delay_count; delay++) {
        bool used = false;
        for (size_t zone = 0; zone < site->zone_count; zone++) {
            used = used || may_start(site, &site->zones[zone], delay);
        }
        if (!used) {
            struct words_about about = words_about_nothing();
            about.delay = (int)delay;
            rules_add(finder, check, &about, "panel.entry-delays.%.*s",
                    TEXT_ARGS(site->settings.delays[delay].name));
        }
    }
}

static bool starts_entry_in(const struct site_zone *zone, int area) {
    return zone->area == area ||
            (area >= 0 && area < 32 && (zone->serves & (UINT32_C(1) << area)) != 0);
}

/* Whether an entry zone of this area starts a delay that the follower stands on the route of. */
static bool has_route(const struct site *site, const struct site_zone *follower, size_t mode) {
    for (size_t i = 0; i < site->zone_count; i++) {
        const struct site_zone *zone = &site->zones[i];
        const int delay = zone->delay[mode];
        if (zone->in[mode] == SITE_ENTRY && starts_entry_in(zone, follower->area) && delay >= 0 &&
                (follower->follows == 0 || (follower->follows & (UINT32_C(1) << delay)) != 0)) {
            return true;
        }
    }
    return false;
}

static void look_lone_follower(struct rules_finder *finder, const struct rules_check *check) {
    const struct site *site = finder->site;
    for (size_t i = 0; i < site->zone_count; i++) {
        bool follows = false;
        bool alone = false;
        struct words_about about = rules_about_zone(site, i);
        for (size_t mode = 0; mode < site->settings.mode_count && !alone; mode++) {
            follows = site->zones[i].in[mode] == SITE_FOLLOWER;
            alone = follows && !has_route(site, &site->zones[i], mode);
            about.mode = (int)mode;
        }
        if (alone) {
            rules_add(finder, check, &about,
                    site->zones[i].follows == 0 ? "zones[%zu].behaviour" : "zones[%zu].follows", i);
        }
    }
}

static bool is_ever(
        const struct site *site, const struct site_zone *zone, enum site_behaviour behaviour) {
    bool ever = false;
    for (size_t mode = 0; mode < site->settings.mode_count; mode++) {
        ever = ever || zone->in[mode] == behaviour;
    }
    return ever;
}

/* What only an entry zone or only a follower heeds, written elsewhere: somebody counts on it. */
static void look_idle(struct rules_finder *finder, const struct rules_check *check) {
    const struct site *site = finder->site;
    for (size_t i = 0; i < site->zone_count; i++) {
        const struct site_zone *zone = &site->zones[i];
        const bool follows = is_ever(site, zone, SITE_FOLLOWER);
        const struct {
            const char *key;
            enum site_behaviour heeded_by;
            bool idle;
        } keys[] = {
                {"delay", SITE_ENTRY, zone->delay_idle},
                {"follows", SITE_FOLLOWER, zone->follows != 0 && !follows},
                {"hold", SITE_FOLLOWER, zone->hold_s > 0 && !follows},
        };
        for (size_t k = 0; k < sizeof keys / sizeof keys[0]; k++) {
            struct words_about about = rules_about_zone(site, i);
            about.named = text_of(keys[k].key);
            about.detail = text_of(site_behaviour_name(keys[k].heeded_by));
            if (keys[k].idle) {
                rules_add(finder, check, &about, "zones[%zu].%s", i, keys[k].key);
            }
        }
    }
}

static bool is_offered(struct span offered, int32_t seconds_s) {
    return seconds_s >= offered.low_s && seconds_s <= offered.high_s;
}

/* "the panel NAME takes 30 to 240 s" goes into {named}. */
static void add_beyond(struct rules_finder *finder, const struct rules_check *check,
        const char *what, int32_t seconds_s, struct span offered, const char *place,
        struct text name) {
    struct text_builder offer;
    struct words_about about = words_about_nothing();
    if (is_offered(offered, seconds_s)) {
        return;
    }
    text_builder_init(&offer, finder->arena);
    text_add_string(&offer, what);
    about.seconds_s = seconds_s;
    about.named = text_built(&offer);
    about.least_s = seconds_s < offered.low_s ? offered.low_s : offered.high_s;
    rules_add(
            finder, check, &about, "%s%s%.*s", place, name.length > 0 ? "." : "", TEXT_ARGS(name));
}

static void look_beyond_panel(struct rules_finder *finder, const struct rules_check *check) {
    static const char *const exits[] = {
            "panel.exit-delay", "panel.part-exit-delay", "panel.night-exit-delay"};
    const struct site *site = finder->site;
    const struct site_settings *settings = &site->settings;
    const struct text whole = {0};
    if (site->panel.zone_most == 0) {
        return; /* no profile was read */
    }
    for (size_t mode = 0; mode < settings->mode_count; mode++) {
        const int32_t exit_s = settings->modes[mode].exit_delay_s;
        if (exit_s == 0 && mode != SITE_MODE_FULL) {
            continue; /* part and night: 0 s means at once, which every panel can */
        }
        add_beyond(finder, check, "the exit delay", exit_s, site->panel.exit_delay,
                mode <= SITE_MODE_NIGHT ? exits[mode] : "panel.modes", whole);
    }
    for (size_t delay = 0; delay < settings->delay_count; delay++) {
        add_beyond(finder, check, "an entry delay", settings->delays[delay].seconds_s,
                site->panel.entry_delay, "panel.entry-delays", settings->delays[delay].name);
    }
    add_beyond(finder, check, "the abort window", settings->abort_window_s,
            site->panel.abort_window, "panel.abort-window", whole);
}

static const struct rules_check rows[] = {
        {
                .id = "delays.beyond-panel",
                .weight = FINDING_FAULT,
                .headline = "{named} of {seconds} cannot be keyed into this panel",
                .why = "the panel's profile ends at {least} there",
                .remedy = "{least}, or a panel that offers more",
                .source = "the panel's profile",
                .look = look_beyond_panel,
        },
        {
                .id = "delays.follows-nothing",
                .weight = FINDING_FAULT,
                .headline = "{zone} waits for a door that does not exist: siren at once",
                .why = "it is a follower{in-mode}, but no entry zone of {areas} starts a delay "
                       "that it follows",
                .remedy = "name the entry delay of its own door in follows, or make it interior",
                .source = "common practice",
                .look = look_lone_follower,
        },
        {
                .id = "delays.idle",
                .weight = FINDING_NOTE,
                .headline = "{zone}: its {named} does nothing",
                .why = "its behaviour is {behaviour}; {named} is heeded where that is {detail} "
                       "alone",
                .remedy = "take it out, or make the zone {detail}",
                .source = "common practice",
                .look = look_idle,
        },
        {
                .id = "delays.unused",
                .weight = FINDING_NOTE,
                .headline = "no zone uses {delay}",
                .why = "no entry zone starts it in any mode",
                .remedy = "take it out, or name it at the zone that it was meant for",
                .source = "common practice",
                .look = look_unused,
        },
};

const struct rules_checks rules_delays = RULES_ROWS(rows);
