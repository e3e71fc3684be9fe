#include "plan/drawn_way.h"

#include <math.h>

/* The walk from one place of the way to another, outward to whole seconds. A hundredth more or less is rounding. */
static struct span between(
        const struct house_way *way, struct site_pace pace, double from_mm, double to_mm) {
    static const double ROUNDING_S = 0.01;
    const struct house_seconds from = house_way_seconds(way, pace, from_mm);
    const struct house_seconds to = house_way_seconds(way, pace, to_mm);
    return span_of((int32_t)floor(to.low_s - from.low_s + ROUNDING_S),
            (int32_t)ceil(to.high_s - from.high_s - ROUNDING_S));
}

/* What stands at a place of the way. */
struct passed {
    double at_mm;
    int zone;
    int door;
};

static int zone_of(const struct site *site, int device) {
    for (size_t i = 0; i < site->zone_count; i++) {
        if (site->zones[i].device == device) {
            return (int)i;
        }
    }
    return SITE_NONE;
}

/* The next detector or door after so many have been told, by where they stand: a door before a detector at one place.
 * False: there is none. */
static bool next(const struct site *site, const struct coverage *coverage,
        const struct house_way *way, size_t *door, size_t *seen, struct passed *ret_passed) {
    while (*door < way->passed_count &&
            site->building.openings[way->passed[*door].opening].door < 0) {
        (*door)++;
    }
    while (*seen < way->seen_count &&
            zone_of(site, coverage->views[way->seen[*seen].view].device) == SITE_NONE) {
        (*seen)++;
    }
    const bool has_door = *door < way->passed_count;
    const bool has_seen = *seen < way->seen_count;
    if (has_door && (!has_seen || way->passed[*door].at_mm <= way->seen[*seen].first_mm)) {
        const struct house_passed *it = &way->passed[(*door)++];
        *ret_passed =
                (struct passed){it->at_mm, SITE_NONE, site->building.openings[it->opening].door};
    } else if (has_seen) {
        const struct house_seen *it = &way->seen[(*seen)++];
        *ret_passed = (struct passed){
                it->first_mm, zone_of(site, coverage->views[it->view].device), SITE_NONE};
    }
    return has_door || has_seen;
}

bool drawn_way_legs(const struct site *site, const struct coverage *coverage,
        const struct house_way *way, struct site_pace pace, struct site_way *ret_way) {
    struct passed passed = {0, SITE_NONE, SITE_NONE};
    double at_mm = 0;
    size_t door = 0;
    size_t seen = 0;
    bool all = true;
    ret_way->leg_count = 0;
    while (next(site, coverage, way, &door, &seen, &passed)) {
        if (ret_way->leg_count == SITE_LEG_MAX) {
            all = false;
            break;
        }
        ret_way->legs[ret_way->leg_count++] = (struct site_leg){.zone = passed.zone,
                .door = passed.door,
                .in = between(way, pace, at_mm, passed.at_mm)};
        at_mm = passed.at_mm;
    }
    ret_way->last = between(way, pace, at_mm, way->way.length_mm);
    return all;
}
