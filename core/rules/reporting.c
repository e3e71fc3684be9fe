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
