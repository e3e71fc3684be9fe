#include "rules/zones.h"

#include "rules/parts.h"

bool rules_is_life_safety(enum site_behaviour behaviour) {
    return behaviour == SITE_FIRE || behaviour == SITE_GAS || behaviour == SITE_CO;
}

bool rules_is_always_watched(enum site_behaviour behaviour) {
    return behaviour == SITE_ALWAYS || behaviour >= SITE_HOLD_UP;
}

bool rules_is_watched_in_full(const struct site_zone *zone) {
    return rules_is_always_watched(zone->behaviour) || zone->in[SITE_MODE_FULL] != SITE_OUT;
}

bool rules_device_is_watched(const struct site *site, int device) {
    bool is = false;
    for (size_t i = 0; device >= 0 && i < site->zone_count; i++) {
        is = is || (site->zones[i].device == device && rules_is_watched_in_full(&site->zones[i]));
    }
    return is;
}

bool rules_is_out_for_good(const struct site *site, const struct site_zone *zone) {
    bool out = !rules_is_always_watched(zone->behaviour);
    for (size_t mode = 0; mode < site->settings.mode_count; mode++) {
        out = out && zone->in[mode] == SITE_OUT;
    }
    return out;
}

void rules_look_zones(struct rules_finder *finder, const struct rules_check *check) {
    const struct site *site = finder->site;
    for (size_t i = 0; i < site->zone_count; i++) {
        if (check->question(site, &site->zones[i])) {
            struct words_about about = rules_about_zone(site, i);
            about.door = site_zone_door(site, &site->zones[i]);
            about.seconds_s = site->settings.abort_window_s;
            rules_add(finder, check, &about, "zones[%zu].%s", i, check->key);
        }
    }
}
