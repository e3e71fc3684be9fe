/* Numbers and spoken names: which zone is meant. */
#include "rules/parts.h"

/* Letters without case, as a keypad's voice knows none. */
static bool sounds_alike(struct text a, struct text b) {
    return a.length > 0 && a.length == b.length && text_distance(a, b, 0) == 0;
}

static void look_number_twice(struct rules_finder *finder, const struct rules_check *check) {
    const struct site *site = finder->site;
    for (size_t i = 1; i < site->zone_count; i++) {
        size_t j = 0;
        while (j < i && site->zones[j].number != site->zones[i].number) {
            j++;
        }
        if (j < i) {
            struct words_about about = rules_about_zone(site, i);
            about.named = site->zones[i].name;
            about.other_zone = (int)j;
            about.count = site->zones[i].number;
            rules_add(finder, check, &about, "zones[%zu].number", i);
        }
    }
}

static void look_names(struct rules_finder *finder, const struct rules_check *check) {
    const bool of_one_area = check->variant;
    const struct site *site = finder->site;
    for (size_t i = 1; i < site->zone_count; i++) {
        size_t j = 0;
        while (j < i && !sounds_alike(site->zones[j].name, site->zones[i].name)) {
            j++;
        }
        if (j < i && (site->zones[j].area == site->zones[i].area) == of_one_area) {
            struct words_about about = rules_about_zone(site, i);
            about.named = site->zones[i].name;
            about.other_zone = (int)j;
            rules_add(finder, check, &about, "zones[%zu].says", i);
        }
    }
}

static const struct rules_check rows[] = {
        {
                .id = "zones.number-twice",
                .weight = FINDING_FAULT,
                .headline = "two zones have the number {count}: \"{named}\" and {other-name}",
                .why = "the panel keeps what was keyed in last under a number; the other is lost",
                .remedy = "a number of its own for each zone",
                .source = "common practice",
                .look = look_number_twice,
        },
        {
                .id = "zones.name-twice",
                .weight = FINDING_RISK,
                .headline = "{zone} and {other-zone-short} say the same words",
                .why = "whoever hears or reads \"{named}\" does not know which of the two it is",
                .remedy = "a word more for one of them",
                .source = "common practice",
                .look = look_names,
                .variant = true,
        },
        {
                .id = "zones.name-twice",
                .weight = FINDING_NOTE,
                .headline = "{zone} and {other-zone-short} say the same words, in two areas",
                .why = "the station tells them apart by area or number only",
                .remedy = "a word more for one of them",
                .source = "common practice",
                .look = look_names,
        },
};

const struct rules_checks rules_numbers = RULES_ROWS(rows);
