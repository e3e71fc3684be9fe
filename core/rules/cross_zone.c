/* Cross-zone pairs: two detectors that must trip one after the other. */
#include "rules/parts.h"
#include "rules/zones.h"

/* Each pair once, as the lower index of the two. */
static bool is_first_of_pair(const struct site *site, size_t zone) {
    const int partner = site->zones[zone].cross_with;
    return partner > (int)zone && (size_t)partner < site->zone_count;
}

static struct words_about about_pair(const struct site *site, size_t zone) {
    struct words_about about = rules_about_zone(site, zone);
    about.other_zone = site->zones[zone].cross_with;
    about.seconds_s = site->settings.cross_window_s;
    return about;
}

static bool is_live(const struct site_zone *zone, size_t mode) {
    return rules_is_always_watched(zone->behaviour) || zone->in[mode] != SITE_OUT;
}

/* The mode in which `zone` is live and its partner is not, or SITE_NONE. */
static int mode_alone(const struct site *site, const struct site_zone *zone) {
    const struct site_zone *partner = &site->zones[zone->cross_with];
    for (size_t mode = 0; mode < site->settings.mode_count; mode++) {
        if (is_live(zone, mode) && !is_live(partner, mode)) {
            return (int)mode;
        }
    }
    return SITE_NONE;
}

static void look_partner_out(struct rules_finder *finder, const struct rules_check *check) {
    const struct site *site = finder->site;
    for (size_t i = 0; i < site->zone_count; i++) {
        const int partner = site->zones[i].cross_with;
        if (partner < 0 || (size_t)partner >= site->zone_count ||
                site->zones[partner].area != site->zones[i].area) {
            continue;
        }
        struct words_about about = about_pair(site, i);
        about.mode = mode_alone(site, &site->zones[i]);
        if (about.mode != SITE_NONE) {
            rules_add(finder, check, &about, "zones[%zu].cross-with", i);
        }
    }
}

static void look_two_areas(struct rules_finder *finder, const struct rules_check *check) {
    const struct site *site = finder->site;
    for (size_t i = 0; i < site->zone_count; i++) {
        if (is_first_of_pair(site, i) &&
                site->zones[i].area != site->zones[site->zones[i].cross_with].area) {
            const struct words_about about = about_pair(site, i);
            rules_add(finder, check, &about, "zones[%zu].cross-with", i);
        }
    }
}

static void look_window_off(struct rules_finder *finder, const struct rules_check *check) {
    const struct site *site = finder->site;
    for (size_t i = 0; i < site->zone_count; i++) {
        if (is_first_of_pair(site, i) && site->settings.cross_window_s == 0) {
            const struct words_about about = about_pair(site, i);
            rules_add(finder, check, &about, "panel.cross-window");
        }
    }
}

/* Where on a way a zone is met: 0 at its door, 1 for the first leg and so on; -1: not on this way. */
static int place_on_way(const struct site *site, const struct site_way *way, int zone) {
    const int door = site_zone_door(site, &site->zones[zone]);
    int place = door >= 0 && door == way->door ? 0 : -1;
    for (size_t i = 0; i < way->leg_count && place < 0; i++) {
        const struct site_leg *leg = &way->legs[i];
        if (leg->zone == zone || (door >= 0 && leg->door == door)) {
            place = (int)i + 1;
        }
    }
    return place;
}

/* The walk from one of the pair to the other on this way; false: it does not pass both. */
static bool walk_between(const struct site *site, const struct site_way *way, int zone, int partner,
        struct span *ret_walk) {
    int from = place_on_way(site, way, zone);
    int to = place_on_way(site, way, partner);
    struct span walk = {0, 0};
    if (from < 0 || to < 0) {
        return false;
    }
    if (from > to) {
        const int swapped = from;
        from = to;
        to = swapped;
    }
    for (int i = from; i < to; i++) {
        walk.low_s += way->legs[i].in.low_s;
        walk.high_s += way->legs[i].in.high_s;
    }
    *ret_walk = walk;
    return true;
}

/* never: even the fastest walk is too long for the window at its longest; else the slowest is too long for the window
 * at its shortest (the panel's clock may be off). */
static void look_short(struct rules_finder *finder, const struct rules_check *check) {
    const bool never = check->variant;
    enum { TENTHS = 10 };
    const struct site *site = finder->site;
    const int32_t window_s = site->settings.cross_window_s;
    const int32_t off_s = window_s * site->settings.tolerance_tenths / TENTHS;
    for (size_t i = 0; i < site->zone_count && window_s > 0; i++) {
        struct span walks = {INT32_MAX, -1};
        struct span walk;
        for (size_t way = 0; is_first_of_pair(site, i) && way < site->way_count; way++) {
            if (walk_between(site, &site->ways[way], (int)i, site->zones[i].cross_with, &walk)) {
                walks.low_s = walk.low_s < walks.low_s ? walk.low_s : walks.low_s;
                walks.high_s = walk.high_s > walks.high_s ? walk.high_s : walks.high_s;
            }
        }
        const bool for_good = walks.high_s >= 0 && walks.low_s > window_s + off_s;
        const bool at_times = walks.high_s > window_s - off_s && !for_good;
        if (never ? for_good : at_times) {
            struct words_about about = about_pair(site, i);
            about.least_s = walks.high_s;
            rules_add(finder, check, &about, "panel.cross-window");
        }
    }
}

#define CROSS_SOURCE                                                                               \
    "common practice; CP-01 clause 4.3.1 leaves the window open (from memory, unverified)"

static const struct rules_check rows[] = {
        {
                .id = "cross-zone.window-off",
                .weight = FINDING_FAULT,
                .headline = "{zone} and {other-zone-short} never cause an alarm",
                .why = "they are a cross-zone pair, and the cross-zone window is 0 s",
                .remedy = "a cross-zone window longer than the walk between them",
                .source = CROSS_SOURCE,
                .look = look_window_off,
        },
        {
                .id = "cross-zone.window-short",
                .weight = FINDING_FAULT,
                .headline = "who walks from {zone} to {other-zone-short} is never heard",
                .why = "the cross-zone window of {seconds} is over before even a fast walker is "
                       "there; a slow one needs {least}",
                .remedy = "a cross-zone window of more than {least}",
                .price = "two chance trips further apart are an alarm, too",
                .source = CROSS_SOURCE,
                .look = look_short,
                .variant = true,
        },
        {
                .id = "cross-zone.window-short",
                .weight = FINDING_RISK,
                .headline = "who walks slowly from {zone} to {other-zone-short} is not heard",
                .why = "a slow walker needs {least} and the cross-zone window is {seconds}, less "
                       "what the panel's clock may be off",
                .remedy = "a longer cross-zone window",
                .price = "two chance trips further apart are an alarm, too",
                .source = CROSS_SOURCE,
                .look = look_short,
        },
        {
                .id = "cross-zone.two-areas",
                .weight = FINDING_RISK,
                .headline = "{zone} and {other-zone-short} are a pair of two areas",
                .why = "while one area is {is-unset} its zone is no second witness, and the other "
                       "counts alone",
                .remedy = "a pair within one area, whose detectors see the same space",
                .source = CROSS_SOURCE,
                .look = look_two_areas,
        },
        {
                .id = "cross-zone.partner-out",
                .weight = FINDING_NOTE,
                .headline = "{zone} counts alone when {is-set}{in-mode}",
                .why = "its cross-zone partner, {other-zone}, is left out there: one chance trip "
                       "is an alarm",
                .remedy = "leave both out or neither",
                .source = CROSS_SOURCE,
                .look = look_partner_out,
        },
};

const struct rules_checks rules_cross_zone = RULES_ROWS(rows);
