/* Alarms that nobody is told of, and devices whose silence nobody notices. */
#include "rules/parts.h"
#include "rules/zones.h"

static bool nothing_reports(const struct site *site) {
    bool reports = false;
    for (size_t i = 0; i < site->zone_count; i++) {
        reports = reports || site->zones[i].reports;
    }
    return !reports;
}

/* On a site where nothing reports that is one decision, not many mistakes. */
static bool keeps_silent(const struct site *site, const struct site_zone *zone) {
    return !zone->reports && !nothing_reports(site) && !rules_is_out_for_good(site, zone);
}

static bool calls_for_help(enum site_behaviour behaviour) {
    return rules_is_life_safety(behaviour) || behaviour == SITE_HOLD_UP ||
            behaviour == SITE_MEDICAL;
}

static bool is_silent_call(const struct site *site, const struct site_zone *zone) {
    return keeps_silent(site, zone) && calls_for_help(zone->behaviour);
}

static bool is_silent_alarm(const struct site *site, const struct site_zone *zone) {
    return keeps_silent(site, zone) && !calls_for_help(zone->behaviour);
}

static bool is_unsupervised(const struct site *site, const struct site_zone *zone) {
    const struct site_device_profile *profile = site_zone_profile(site, zone);
    return profile != NULL && profile->radio && !zone->supervised &&
            !rules_is_out_for_good(site, zone);
}

static void look_no_account(struct rules_finder *finder, const struct rules_check *check) {
    const struct site *site = finder->site;
    if (site->panel.account_lengths.said && site->station.account.length == 0 &&
            !nothing_reports(site)) {
        rules_add(finder, check, NULL, "panel");
    }
}

static void look_account_length(struct rules_finder *finder, const struct rules_check *check) {
    const struct site *site = finder->site;
    const int32_t digits = (int32_t)site->station.account.length;
    if (site->panel.account_lengths.said && digits > 0 &&
            !site_numbers_has(&site->panel.account_lengths, digits)) {
        struct words_about about = words_about_nothing();
        about.count = digits;
        about.named = site->panel.name;
        about.detail = rules_numbers_text(finder, &site->panel.account_lengths);
        rules_add(finder, check, &about, "panel.account");
    }
}

/* Whether the zone's alarms can be of this behaviour, in whatever mode, and are sent. */
static bool reports_as(
        const struct site *site, const struct site_zone *zone, enum site_behaviour behaviour) {
    bool is = zone->behaviour == behaviour;
    for (size_t mode = 0; mode < site->settings.mode_count; mode++) {
        is = is || zone->in[mode] == behaviour;
    }
    return is && zone->reports && !rules_is_out_for_good(site, zone);
}

/* One finding for each behaviour, at the first zone that has it. */
static void look_no_event(struct rules_finder *finder, const struct rules_check *check) {
    const struct site *site = finder->site;
    for (int i = SITE_OUT + 1; i < SITE_BEHAVIOUR_COUNT && site->panel.events_said; i++) {
        const enum site_behaviour behaviour = (enum site_behaviour)i;
        struct text_builder list;
        size_t first = site->zone_count;
        size_t count = 0;
        text_builder_init(&list, finder->arena);
        for (size_t k = 0; k < site->zone_count && site_event(site, behaviour).length == 0; k++) {
            if (reports_as(site, &site->zones[k], behaviour)) {
                first = count == 0 ? k : first;
                text_add_format(&list, "%s%d", count++ == 0 ? "" : ", ", site->zones[k].number);
            }
        }
        if (count > 0) {
            struct words_about about = rules_about_zone(site, first);
            about.behaviour = behaviour;
            about.named = text_built(&list);
            about.other = text_of(count == 1 ? "zone" : "zones");
            about.detail = site->panel.events[i].length > 0
                    ? text_print(finder->arena,
                              "events: {%s: ...} under panel, as the station "
                              "wants it",
                              site_behaviour_name(behaviour))
                    : text_of("another behaviour, or a panel that sends this one");
            rules_add(finder, check, &about, "zones[%zu].behaviour", first);
        }
    }
}

static void look_none(struct rules_finder *finder, const struct rules_check *check) {
    if (finder->site->zone_count > 0 && nothing_reports(finder->site)) {
        rules_add(finder, check, NULL, "zones");
    }
}

static void look_supervision_off(struct rules_finder *finder, const struct rules_check *check) {
    const struct site *site = finder->site;
    bool wanted = false;
    for (size_t i = 0; i < site->zone_count; i++) {
        const struct site_device_profile *profile = site_zone_profile(site, &site->zones[i]);
        wanted = wanted || (profile != NULL && profile->radio && site->zones[i].supervised);
    }
    if (wanted && site->settings.supervision_window_s == 0) {
        rules_add(finder, check, NULL, "panel.supervision-window");
    }
}

static const struct rules_check rows[] = {
        {
                .id = "zones.not-reporting",
                .weight = FINDING_FAULT,
                .headline = "{zone} calls nobody",
                .why = "its alarm ({behaviour}) is not sent to the station",
                .remedy = "reports: yes",
                .source = "common practice",
                .look = rules_look_zones,
                .question = is_silent_call,
                .key = "reports",
        },
        {
                .id = "zones.not-reporting",
                .weight = FINDING_RISK,
                .headline = "{zone} only makes a noise: nobody is told",
                .why = "its alarm is not sent to the station",
                .remedy = "reports: yes",
                .source = "common practice",
                .look = rules_look_zones,
                .question = is_silent_alarm,
                .key = "reports",
        },
        {
                .id = "station.no-account",
                .weight = FINDING_NOTE,
                .headline = "the station does not know whose alarm it is",
                .why = "zones report, and no account is said",
                .remedy = "account: under panel, as the station gave it",
                .source = "common practice",
                .look = look_no_account,
        },
        {
                .id = "station.account-length",
                .weight = FINDING_FAULT,
                .headline = "the account has {count} digits and cannot be keyed in",
                .why = "{named} takes {detail}",
                .remedy = "the account as the station gave it",
                .source = "the panel's profile",
                .look = look_account_length,
        },
        {
                .id = "station.no-event",
                .weight = FINDING_FAULT,
                .headline = "an alarm of {behaviour} is sent as nothing: {other} {named}",
                .why = "the panel's table of event codes has none for {behaviour}",
                .remedy = "{detail}",
                .source = "the panel's profile",
                .look = look_no_event,
        },
        {
                .id = "zones.none-reports",
                .weight = FINDING_NOTE,
                .headline = "no alarm of this site is sent to a station",
                .why = "no zone reports: sirens only, and neighbours who may hear them",
                .remedy = "reports: yes, where somebody is to come",
                .source = "common practice",
                .look = look_none,
        },
        {
                .id = "zones.not-supervised",
                .weight = FINDING_RISK,
                .headline = "{zone} can be dead for a year and nobody notices",
                .why = "its radio device is not supervised: a flat battery, or a device that was "
                       "taken away, is as quiet as a shut door",
                .remedy = "supervised: yes",
                .source = "common practice",
                .look = rules_look_zones,
                .question = is_unsupervised,
                .key = "supervised",
        },
        {
                .id = "settings.supervision-off",
                .weight = FINDING_RISK,
                .headline = "a lost radio device is never noticed",
                .why = "the supervision window is 0 s: the panel misses no device, however long "
                       "it is silent",
                .remedy = "a supervision window of 12 h, or what the rules of the site ask for",
                .source = "common practice",
                .look = look_supervision_off,
        },
};

const struct rules_checks rules_reporting = RULES_ROWS(rows);
