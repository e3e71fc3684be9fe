/* The programming sheet: what is keyed into the panel, line by line, in the order in which it is keyed: the panel's
 * settings, areas, entry delays, zones by number, devices that are no sensors, keypads, users, temporary changes with
 * what is keyed back after them, and saving at the end. The same value is printed as text, CSV and JSON. Tied to no
 * maker's menu. Not for judging what is keyed in: that is check.
 *
 * What the site file does not say (a serial number, the input of a wired device) is a line to fill in. Codes are not in
 * the file and not on the sheet. */
#ifndef LINTEL_SHEET_SHEET_H
#define LINTEL_SHEET_SHEET_H

#include "base/json.h"
#include "base/text.h"
#include "site/site.h"

/** The parts of the sheet, in keying order. */
enum sheet_part {
    SHEET_PANEL,
    SHEET_AREA,
    SHEET_DELAY,
    SHEET_ZONE,
    SHEET_DEVICE, /* keypads, fobs and sirens, as devices */
    SHEET_KEYPAD,
    SHEET_USER,
    SHEET_TEMPORARY,
    SHEET_SAVE,
    SHEET_PART_COUNT
};

/** What a line asks for: a setting keyed in; a value to find out on site and write down; something to do; a thing
 *  of the older sheet to clear. */
enum sheet_kind { SHEET_SETTING, SHEET_FILL_IN, SHEET_STEP, SHEET_CLEAR, SHEET_KIND_COUNT };

/** One line. number: of the zone, or its place in the list (from 1); 0: the panel's own. thing: the name of the zone,
 *  area, keypad, user. key: stable, for programs ("exit-delay"). value: with its unit. usual: it is what a panel as
 *  delivered has (site_settings_usual, and the defaults of the site file for zones). changed: it differs from the older
 *  sheet or is new; before: what the older one said, empty where it had no such line. */
struct sheet_row {
    enum sheet_part part;
    enum sheet_kind kind;
    int32_t number;
    struct text thing;
    struct text key;
    struct text label;
    struct text value;
    struct text before;
    bool usual;
    bool changed;
};

struct sheet {
    struct sheet_row *rows;
    size_t row_count;
};

/** The whole sheet. site: borrows; its texts must outlive the sheet. ret_sheet: gives, in the arena. Fails when memory
 *  is refused. */
outcome sheet_make(const struct site *site, struct arena *arena, struct sheet *ret_sheet,
        struct problem *ret_problem) MUST_CHECK;

/** Only what has to be keyed differently than the older sheet says, in the newer one's order: lines that differ, steps
 *  of things that are new or whose device differs, and what is to be cleared first. Zones are matched by number, areas
 *  and entry delays by their place, everything else by name. On another model of panel everything is keyed anew. Empty
 *  when nothing differs. Both sites: borrows, their texts must outlive the sheet. Fails when memory is refused. */
outcome sheet_differences(const struct site *site, const struct site *older, struct arena *arena,
        struct sheet *ret_sheet, struct problem *ret_problem) MUST_CHECK;

/** Zone numbers in order: an array of zone indexes, as many as zones, in the arena; NULL when memory is refused. */
int *sheet_zone_order(const struct site *site, struct arena *arena);

/* ---- printing. against: only differences are in the sheet. width: columns, 40 or more. */

/** The sheet and, unless against, the zone schedule. Never wider than the width; wide characters count as two. */
void sheet_add_text(struct text_builder *out, const struct site *site, const struct sheet *sheet,
        bool against, size_t width);
/** The zone schedule alone. */
void sheet_add_schedule(struct text_builder *out, const struct site *site, size_t width);
/** The same as CSV: a heading line, then a record for each zone. */
void sheet_add_schedule_csv(struct text_builder *out, const struct site *site);
/** The same as a member "schedule" of the open object. */
void sheet_add_schedule_json(struct json_writer *json, const struct site *site);
/** The lines of the sheet as a member "lines" of the open object. */
void sheet_add_lines_json(struct json_writer *json, const struct sheet *sheet);
/** RFC 4180: a heading line, then a record for each line of the sheet; CRLF. */
void sheet_add_csv(struct text_builder *out, const struct sheet *sheet);
/** docs/json.md, "lintel sheet". file: as named; older: the older file, or empty. */
void sheet_add_json(struct json_writer *json, const struct site *site, const struct sheet *sheet,
        struct text file, struct text older);

/** "panel", "area", "entry delay" ...: a part's name for programs and headings. */
const char *sheet_part_name(enum sheet_part part);
const char *sheet_kind_name(enum sheet_kind kind);

#endif
