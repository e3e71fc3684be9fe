/* Doors to the outside: those that nothing watches, and entry time that nobody needs. */
#include "rules/parts.h"
#include "rules/zones.h"

static bool has_zone(const struct site *site, size_t door) {
    bool has = false;
    for (size_t i = 0; i < site->zone_count; i++) {
        has = has || site_zone_door(site, &site->zones[i]) == (int)door;
    }
    return has;
}

/* The first zone on the door that is left out in full although no other one watches it then; SITE_NONE: watched. */
static int left_out(const struct site *site, size_t door) {
    int out = SITE_NONE;
    for (size_t i = 0; i < site->zone_count; i++) {
        const struct site_zone *zone = &site->zones[i];
        if (site_zone_door(site, zone) != (int)door) {
            continue;
        }
        if (rules_is_always_watched(zone->behaviour) || zone->in[SITE_MODE_FULL] != SITE_OUT) {
            return SITE_NONE;
        }
        out = out == SITE_NONE ? (int)i : out;
    }
    return out;
}

static void look_no_detector(struct rules_finder *finder, const struct rules_check *check) {
    const struct site *site = finder->site;
    for (size_t door = 0; door < site->door_count; door++) {
        if (site->doors[door].outside && !has_zone(site, door)) {
            struct words_about about = words_about_nothing();
            about.door = (int)door;
            rules_add(finder, check, &about, "doors[%zu]", door);
        }
    }
}

static void look_left_out(struct rules_finder *finder, const struct rules_check *check) {
    const struct site *site = finder->site;
    for (size_t door = 0; door < site->door_count; door++) {
        const int zone = site->doors[door].outside ? left_out(site, door) : SITE_NONE;
        if (zone != SITE_NONE && !rules_is_out_for_good(site, &site->zones[zone])) {
            struct words_about about = rules_about_zone(site, (size_t)zone);
            about.door = (int)door;
            about.mode = SITE_MODE_FULL;
            rules_add(finder, check, &about, "zones[%d].in", zone);
        }
    }
}

static bool way_uses(const struct site_way *way, int door) {
    bool uses = way->door == door;
    for (size_t i = 0; i < way->leg_count; i++) {
        uses = uses || way->legs[i].door == door;
    }
    return uses;
}

static bool is_used(const struct site *site, int door) {
    bool used = false;
    for (size_t i = 0; i < site->way_count; i++) {
        used = used || way_uses(&site->ways[i], door);
    }
    for (size_t i = 0; i < site->routine_count; i++) {
        for (size_t j = 0; j < site->routines[i].step_count; j++) {
            const struct site_step *step = &site->routines[i].steps[j];
            used = used || (step->act == SITE_ACT_OPEN && step->door == door);
        }
    }
    return used;
}

/* Without a single way nobody has said yet who comes and goes by what. */
static void look_entry_unused(struct rules_finder *finder, const struct rules_check *check) {
    const struct site *site = finder->site;
    for (size_t i = 0; i < site->zone_count && site->way_count > 0; i++) {
        const struct site_zone *zone = &site->zones[i];
        const int door = site_zone_door(site, zone);
        const int delay = zone->delay[SITE_MODE_FULL];
        if (zone->in[SITE_MODE_FULL] == SITE_ENTRY && door >= 0 && delay >= 0 &&
                !is_used(site, door)) {
            struct words_about about = rules_about_zone(site, i);
            about.door = door;
            about.seconds_s = site->settings.delays[delay].seconds_s;
            rules_add(finder, check, &about, "zones[%zu].behaviour", i);
        }
    }
}

static const struct rules_check rows[] = {
        {
                .id = "doors.no-detector",
                .weight = FINDING_RISK,
                .headline = "nothing watches {door}",
                .why = "it leads outside, and no zone has a device on it: who comes in there is "
                       "heard further inside at best",
                .remedy = "a contact on it and a zone, or a detector that covers the room behind",
                .source = "common practice; CLC/TS 50131-7 has contacts on perimeter doors from "
                          "grade 1 on (from memory, unverified)",
                .look = look_no_detector,
        },
        {
                .id = "doors.left-out",
                .weight = FINDING_RISK,
                .headline = "nobody watches {door} when everything is {is-set}",
                .why = "{zone} is left out in mode full",
                .remedy = "entry or perimeter there in mode full",
                .source = "common practice",
                .look = look_left_out,
        },
        {
                .id = "doors.entry-unused",
                .weight = FINDING_NOTE,
                .headline = "nobody comes in by {door}: its entry time of {seconds} serves a "
                            "burglar only",
                .why = "{zone} has behaviour entry, and no way or routine uses the door",
                .remedy = "behaviour perimeter: the siren sounds at once",
                .price = "whoever does come home that way causes a false alarm",
                .source = "common practice",
                .look = look_entry_unused,
        },
};

const struct rules_checks rules_openings = RULES_ROWS(rows);
