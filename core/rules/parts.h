/* The ideas that checks are about, one file each. Internal to core/rules. */
#ifndef LINTEL_RULES_PARTS_H
#define LINTEL_RULES_PARTS_H

#include "plan/point.h"
#include "radio/site_links.h"
#include "rules/rules.h"

#define RULES_ROWS(array)                                                                          \
    { .rows = (array), .count = sizeof(array) / sizeof((array)[0]) }

extern const struct rules_checks rules_airtime;
extern const struct rules_checks rules_cables;
extern const struct rules_checks rules_cells;
extern const struct rules_checks rules_chime;
extern const struct rules_checks rules_codes;
extern const struct rules_checks rules_confirming;
extern const struct rules_checks rules_cross_zone;
extern const struct rules_checks rules_delays;
extern const struct rules_checks rules_devices;
extern const struct rules_checks rules_drawing;
extern const struct rules_checks rules_fitting;
extern const struct rules_checks rules_hours;
extern const struct rules_checks rules_kinds;
extern const struct rules_checks rules_life_safety;
extern const struct rules_checks rules_limits;
extern const struct rules_checks rules_links;
extern const struct rules_checks rules_loops;
extern const struct rules_checks rules_modes;
extern const struct rules_checks rules_numbers;
extern const struct rules_checks rules_offers;
extern const struct rules_checks rules_openings;
extern const struct rules_checks rules_places;
extern const struct rules_checks rules_radio;
extern const struct rules_checks rules_reporting;
extern const struct rules_checks rules_settings;
extern const struct rules_checks rules_sight;
extern const struct rules_checks rules_slots;
extern const struct rules_checks rules_spoken;
extern const struct rules_checks rules_supply;
extern const struct rules_checks rules_walks;
extern const struct rules_checks rules_ways_in;

/** About one zone. */
static inline struct words_about rules_about_zone(const struct site *site, size_t zone) {
    struct words_about about = words_about_nothing();
    about.zone = (int)zone;
    about.area = site->zones[zone].area;
    about.behaviour = site->zones[zone].behaviour;
    return about;
}

/** A radio link that was worked out, or why it could not be, and where that stands in the file. */
struct rules_link {
    struct radio_site_link it;
    struct text refused;
    struct text place;
};

/** Works out every radio link of the finder's site, once for all checks. */
void rules_links_make(struct rules_finder *finder);

/** Gives the finding that was added last, about this link of the finder, a remedy by edits, where one was found by
 *  which the link has what is wanted. */
void rules_mend_link(struct rules_finder *finder, const struct rules_link *link, double wanted_db);

/** Whether every rule set of the site that has a row for it (enum site_setting, SITE_LIMIT_...) lets the value be. */
bool rules_limits_allow(const struct site *site, int of, int32_t value);

/** "12.7 mm", "-10..50 °C", in the finder's arena. */
struct text rules_measure(
        const struct rules_finder *finder, enum quantity_kind kind, struct measure measure);

/** "the kitchen window"; "1.2 m"; "at 1.2 x 3 m on storey ground" (with one storey the point alone), in the finder's
 *  arena. */
struct text rules_named(const struct rules_finder *finder, struct text name);
struct text rules_length(const struct rules_finder *finder, int32_t length_mm);
struct text rules_where(const struct rules_finder *finder, int room, struct point at);

/** Whether somebody who comes through an opening is heard by what watches it when everything is set: a zone on its
 *  door, or a glass-break detector that hears its pane. The finder has coverage. */
bool rules_opening_is_watched(const struct rules_finder *finder, size_t opening);

/** "1 to 6, 9 and 12, "no number", in the finder's arena. */
struct text rules_numbers_text(
        const struct rules_finder *finder, const struct site_numbers *numbers);

#endif
