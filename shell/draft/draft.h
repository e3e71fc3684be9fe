/* A first site file, as it is asked for by `lintel new` and by the blank page, and its text. */
#ifndef LINTEL_DRAFT_DRAFT_H
#define LINTEL_DRAFT_DRAFT_H

#include "base/span.h"
#include "base/text.h"
#include "site/site.h"

#include <stdbool.h>
#include <stdint.h>

enum {
    DRAFT_PEOPLE_MOST = 32,
    DRAFT_DOORS_MOST = SITE_DELAY_MAX,
    DRAFT_DETECTORS_MOST = 64,
    DRAFT_MODE_CHOICES = 32
};

/** A door, window or shutter. users: bit per person; none: nobody comes in by it. walk: from opening it to the keypad.
 *  contact: profile of what watches it; empty: nothing does. radio: whether that speaks by radio. */
struct draft_door {
    struct text name;
    uint32_t users;
    struct span walk;
    struct text contact;
    bool radio;
    size_t area;
};

/** A device that watches a room. doors: bit per door, on the way from which to the keypad one passes it; after: from
 *  opening the door to being seen. */
struct draft_detector {
    struct text name;
    struct text profile;
    enum site_sense sense;
    bool radio;
    uint32_t doors;
    struct span after;
    size_t area;
};

/** Another way to set beside full, of one area. doors_out, detectors_out: bit per door and detector that is left
 *  out in it; all others stay on duty. */
struct draft_mode {
    bool used;
    size_t area;
    uint64_t doors_out;
    uint64_t detectors_out;
};

/** standard: a rule set that the site is held against beside the house's own; empty: none. model: what the panel can
 *  do, for the numbers of the zones. siren: its profile; empty: none. bathroom: bit per
 *  detector that is passed at night, and left out then. leaves_s, returns_s: times of day at which the house is left
 *  empty and somebody comes back. children, animals: bit per person who is one. ground: the ground floor inside, wall
 *  to wall, as one writes it ("9 x 7 m"); empty: nothing is drawn. */
struct draft {
    struct text name;
    struct text words;
    struct text panel;
    struct text standard;
    struct site_panel_profile model;
    struct text areas[SITE_AREA_MAX];
    size_t area_count;
    struct text people[DRAFT_PEOPLE_MOST];
    size_t person_count;
    uint32_t children;
    uint32_t animals;
    struct text ground;
    struct text keypads[SITE_AREA_MAX]; /* one for each area */
    struct draft_door doors[DRAFT_DOORS_MOST];
    size_t door_count;
    size_t last_area; /* of what was asked last: the next is mostly in it too */
    struct draft_detector detectors[DRAFT_DETECTORS_MOST];
    size_t detector_count;
    struct text siren;
    struct draft_mode night;
    struct draft_mode part;
    uint64_t bathroom;
    int32_t entry_s;
    int32_t exit_s;
    int32_t abort_s;
    int32_t leaves_s;
    int32_t returns_s;
};

/** How many zones it has. */
size_t draft_zone_count(const struct draft *draft);

/** Whether anybody comes in by any door. */
bool draft_is_used(const struct draft *draft);

/** Entry and exit delay that suit the slowest way, and who walks it with a stick: walk, notice and code as people
 *  usually take (common practice; docs/site-file.md, people[]), a wrong code first, and the panel's clock a tenth
 *  fast; up to the next 5 s. */
int32_t draft_usual_entry_s(const struct draft *draft);
int32_t draft_usual_exit_s(const struct draft *draft);
/** What the entry delay leaves of 60 s, at most 30 s, within what the panel takes. Source: CP-01, note to the entry
 *  delay (from memory, unverified): the two together at most 60 s. */
int32_t draft_usual_abort_s(const struct draft *draft, struct span range);

/** The site file, with comments that say what to do next. */
void draft_write(const struct draft *draft, struct text_builder *out);

#endif
