/* Building the lines of a sheet; of this module only. */
#ifndef LINTEL_SHEET_ROWS_H
#define LINTEL_SHEET_ROWS_H

#include "sheet/sheet.h"

/** A sheet that grows. part, number, thing: of the lines added next. A refusal of memory stays in the arena. */
struct rows {
    const struct site *site;
    struct arena *arena;
    struct sheet_row *rows;
    size_t count;
    size_t capacity;
    enum sheet_part part;
    int32_t number;
    struct text thing;
};

void rows_add(struct rows *rows, enum sheet_kind kind, const char *key, struct text label,
        struct text value, bool usual);
/** A setting whose label is a plain word. */
void rows_setting(
        struct rows *rows, const char *key, const char *label, struct text value, bool usual);
/** Seconds as people key them: "45 s", "15 min", "8 h"; 0 reads "0 s". */
struct text rows_seconds(struct rows *rows, int32_t seconds_s);
struct text rows_yes(bool yes);
/** Names of the areas in a set, joined by commas; "all", "none". */
struct text rows_areas(struct rows *rows, uint32_t areas);

/** Every line of one zone. */
void rows_zone(struct rows *rows, const struct site_zone *zone);

/** Radio: the serial number, how it is enrolled, and the look at the sticker. */
void rows_enrol(struct rows *rows, const struct site_device *device,
        const struct site_device_profile *profile);
/** Which battery, if the profile says it, and when to change it, if that can be worked out. device: of the site. */
void rows_battery(struct rows *rows, const struct site_device *device,
        const struct site_device_profile *profile);
/** The panel's own, where the site says it. */
void rows_panel_battery(struct rows *rows);
/** A contact: on which side its magnet goes, and how near. */
void rows_magnet(struct rows *rows, const struct site_device *device,
        const struct site_device_profile *profile);
/** Keypads, fobs and sirens, as devices. */
void rows_devices(struct rows *rows);

/** A field of a CSV record and what follows it. What a spreadsheet would run as a formula begins with an apostrophe
 *  then. Source: RFC 4180; OWASP, "CSV Injection" (from memory, unverified). */
void csv_add_field(struct text_builder *out, struct text field, bool last);

#endif
