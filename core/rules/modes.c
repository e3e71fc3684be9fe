/* Zones that are never watched, in no mode or in none that anybody uses; areas that nobody can set. */
#include "rules/parts.h"
#include "rules/zones.h"

static uint32_t bit(int index) {
    return index >= 0 && index < 32 ? UINT32_C(1) << index : 0;
}

/* The areas on which a step that sets acts; where the step does not say, as many as may be. */
static uint32_t areas_of(const struct site *site, const struct site_step *step) {
    const uint32_t all = (bit((int)site->area_count) - 1) | bit((int)site->area_count - 1);
    return step->areas != 0 ? step->areas : all;
}

/* The modes that somebody sets this area in: those of the routines, and full, which every site uses. */
static uint32_t modes_of(const struct site *site, int area) {
    uint32_t modes = bit(SITE_MODE_FULL);
    for (size_t i = 0; i < site->routine_count; i++) {
        const struct site_routine *routine = &site->routines[i];
        modes |= routine->starts[area].set ? bit(routine->starts[area].mode) : 0;
        for (size_t j = 0; j < routine->step_count; j++) {
            const struct site_step *step = &routine->steps[j];
            if (step->act == SITE_ACT_SET && (areas_of(site, step) & bit(area)) != 0) {
                modes |= bit(step->mode);
            }
        }
    }
    return modes;
}

static bool is_never_watched(const struct site *site, const struct site_zone *zone) {
    return !zone->set_aside && rules_is_out_for_good(site, zone);
}

static bool is_out_where_used(const struct site *site, const struct site_zone *zone) {
    const uint32_t used =
            zone->area >= 0 && zone->area < SITE_AREA_MAX ? modes_of(site, zone->area) : 0;
    bool live = rules_is_always_watched(zone->behaviour);
    for (size_t mode = 0; mode < site->settings.mode_count; mode++) {
        live = live || ((used & bit((int)mode)) != 0 && zone->in[mode] != SITE_OUT);
    }
    return !live && !rules_is_out_for_good(site, zone);
}

static bool somebody_sets(const struct site *site, int area) {
    bool can = site->areas[area].common || site->settings.auto_set_area == area;
    for (size_t i = 0; i < site->keypad_count; i++) {
        can = can || (site->keypads[i].areas & bit(area)) != 0;
    }
    for (size_t i = 0; i < site->person_count; i++) {
        can = can || (site->people[i].has_fob && (site->people[i].areas & bit(area)) != 0);
    }
    return can;
}

/* A site without any keypad is not finished yet; an area left out of several is a mistake. */
static void look_no_keypad(struct rules_finder *finder, const struct rules_check *check) {
    const struct site *site = finder->site;
    for (size_t area = 0; area < site->area_count && site->keypad_count > 0; area++) {
        if (!somebody_sets(site, (int)area)) {
            struct words_about about = words_about_nothing();
            about.area = (int)area;
            rules_add(finder, check, &about, "areas[%zu]", area);
        }
    }
}

static void look_no_zone(struct rules_finder *finder, const struct rules_check *check) {
    const struct site *site = finder->site;
    for (size_t area = 0; area < site->area_count && site->zone_count > 0; area++) {
        bool has = false;
        for (size_t i = 0; i < site->zone_count; i++) {
            has = has || site->zones[i].area == (int)area ||
                    (site->zones[i].serves & bit((int)area)) != 0;
        }
        if (!has) {
            struct words_about about = words_about_nothing();
            about.area = (int)area;
            rules_add(finder, check, &about, "areas[%zu]", area);
        }
    }
}

/* A common area sets with the last of the others; where there is none, the panel takes it as any area. */
static void look_common_alone(struct rules_finder *finder, const struct rules_check *check) {
    if (finder->site->area_count == 1 && finder->site->areas[0].common) {
        struct words_about about = words_about_nothing();
        about.area = 0;
        rules_add(finder, check, &about, "areas[0].common");
    }
}

static void look_no_zone_at_all(struct rules_finder *finder, const struct rules_check *check) {
    if (finder->site->zone_count == 0) {
        rules_add(finder, check, NULL, "%s", "");
    }
}

/* Without either nothing is played: an empty list of what goes wrong would say nothing. */
static void look_nobody_comes(struct rules_finder *finder, const struct rules_check *check) {
    const struct site *site = finder->site;
    if (site->zone_count > 0 && site->way_count == 0 && site->routine_count == 0) {
        rules_add(finder, check, NULL, "%s", "");
    }
}

static const struct rules_check rows[] = {
        {
                .id = "site.no-zone",
                .weight = FINDING_FAULT,
                .headline = "nothing is watched: the site has no zone",
                .why = "no door, no room and no button can cause an alarm",
                .remedy = "what is to be watched, under zones",
                .source = "common practice",
                .look = look_no_zone_at_all,
        },
        {
                .id = "site.nobody-comes",
                .weight = FINDING_RISK,
                .headline = "nobody comes or goes in this file, so no false alarm can be found",
                .why = "it has neither ways nor routines: only the settings were looked at",
                .remedy = "how people walk in, under ways",
                .source = "common practice",
                .look = look_nobody_comes,
        },
        {
                .id = "zones.never-watched",
                .weight = FINDING_FAULT,
                .headline = "{zone} is watched in no mode",
                .why = "it is left out however the panel is {is-set}",
                .remedy = "a behaviour, or no such zone",
                .source = "common practice",
                .look = rules_look_zones,
                .question = is_never_watched,
                .key = "behaviour",
        },
        {
                .id = "zones.unused-modes",
                .weight = FINDING_RISK,
                .headline = "{zone} is watched only in modes that nobody uses",
                .why = "it is left out in full, and no routine of {areas} {sets} another mode in "
                       "which it is live",
                .remedy = "a behaviour in full, or a routine that uses the other mode",
                .source = "common practice",
                .look = rules_look_zones,
                .question = is_out_where_used,
                .key = "in",
        },
        {
                .id = "areas.no-keypad",
                .weight = FINDING_FAULT,
                .headline = "nobody can {set} or {unset} {areas}",
                .why = "no keypad acts on it and nobody has a fob for it",
                .remedy = "name it at a keypad, or give somebody a fob",
                .source = "common practice",
                .look = look_no_keypad,
        },
        {
                .id = "areas.no-zone",
                .weight = FINDING_RISK,
                .headline = "nothing is watched when {areas} is {is-set}",
                .why = "no zone belongs to it",
                .remedy = "zones for it, or no such area",
                .source = "common practice",
                .look = look_no_zone,
        },
        {
                .id = "areas.common-alone",
                .weight = FINDING_RISK,
                .headline = "{areas} is common, but there is no other area to share it",
                .why = "a common area {sets} with the last of the others; here \"common\" does "
                       "nothing",
                .remedy = "the area that is missing, or no \"common\"",
                .source = "common practice",
                .look = look_common_alone,
        },
};

const struct rules_checks rules_modes = RULES_ROWS(rows);
