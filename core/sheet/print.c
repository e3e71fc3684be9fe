#include "sheet/rows.h"

/* Where the next cell of a line goes. */
struct page {
    struct text_builder *out;
    size_t width;
    size_t at;
};

static void put(struct page *page, struct text text) {
    text_add(page->out, text);
    page->at += text_cells(text);
}

static void end_line(struct page *page) {
    text_add_char(page->out, '\n');
    page->at = 0;
}

static void go_to(struct page *page, size_t column) {
    for (; page->at < column; page->at++) {
        text_add_char(page->out, ' ');
    }
}

/* As much of the text as fits into so many cells, broken at a blank where there is one; at least one character. */
static struct text piece_of(struct text rest, size_t cells) {
    size_t used = 0;
    size_t bytes = 0;
    size_t blank = 0;
    while (bytes < rest.length) {
        const struct text left = {.start = rest.start + bytes, .length = rest.length - bytes};
        const struct text one = {.start = left.start, .length = text_first_bytes(left)};
        const size_t more = text_cells(one);
        if (used + more > cells && bytes > 0) {
            break;
        }
        if (one.start[0] == ' ') {
            blank = bytes;
        }
        used += more;
        bytes += one.length;
    }
    const bool whole = bytes == rest.length || rest.start[bytes] == ' ';
    return (struct text){.start = rest.start, .length = whole || blank == 0 ? bytes : blank};
}

static struct text after(struct text rest, struct text piece) {
    size_t bytes = piece.length;
    while (bytes < rest.length && rest.start[bytes] == ' ') {
        bytes++;
    }
    return (struct text){.start = rest.start + bytes, .length = rest.length - bytes};
}

enum { CELL_MOST = 6 };

/* A line of a table: each cell wraps inside its column. starts: column of each cell; the last ends at the width. */
static void add_cells(
        struct page *page, const struct text *cells, const size_t *starts, size_t count) {
    struct text rest[CELL_MOST];
    bool more = true;
    for (size_t i = 0; i < count; i++) {
        rest[i] = cells[i];
    }
    while (more) {
        more = false;
        for (size_t i = 0; i < count; i++) {
            const size_t end = i + 1 < count ? starts[i + 1] - 1 : page->width;
            if (rest[i].length == 0) {
                continue;
            }
            const struct text piece = piece_of(rest[i], end - starts[i]);
            go_to(page, starts[i]);
            put(page, piece);
            rest[i] = after(rest[i], piece);
            more = more || rest[i].length > 0;
        }
        end_line(page);
    }
}

static void add_paragraph(struct page *page, struct text text) {
    const size_t start = 0;
    add_cells(page, &text, &start, 1);
}

static void add_row(struct page *page, const struct sheet_row *row) {
    const size_t starts[] = {0, 4, page->width * 7 / 16};
    struct text value = row->value;
    if (row->kind == SHEET_FILL_IN) {
        value = text_of("[____________] fill in");
    } else if (row->before.length > 0) {
        value = text_print(
                page->out->arena, "%.*s (was %.*s)", TEXT_ARGS(row->value), TEXT_ARGS(row->before));
    } else if (row->usual) {
        value = text_print(page->out->arena, "%.*s (usual)", TEXT_ARGS(row->value));
    }
    add_cells(page, (struct text[]){text_of("[ ]"), row->label, value}, starts, 3);
}

static bool begins_thing(const struct sheet *sheet, size_t i) {
    const struct sheet_row *row = &sheet->rows[i];
    const struct sheet_row *before = i > 0 ? &sheet->rows[i - 1] : NULL;
    return before == NULL || before->part != row->part || before->number != row->number ||
            !text_equal(before->thing, row->thing);
}

/* What belongs to the panel as a whole has no number. A zone may have number 0. */
static bool has_number(const struct sheet_row *row) {
    return row->part != SHEET_PANEL && row->part != SHEET_SAVE;
}

static void add_heading(struct page *page, const struct sheet_row *row) {
    end_line(page);
    if (!has_number(row)) {
        add_paragraph(page, text_of(row->part == SHEET_PANEL ? "PANEL" : "AT THE END"));
        return;
    }
    static const char *const names[SHEET_PART_COUNT] = {
            "", "AREA", "ENTRY DELAY", "ZONE", "DEVICE", "KEYPAD", "USER", "TEMPORARY CHANGE", ""};
    add_paragraph(page,
            text_print(page->out->arena, "%s %d  %.*s", names[row->part], row->number,
                    TEXT_ARGS(row->thing)));
}

static void add_schedule_line(struct page *page, const struct site *site,
        const struct site_zone *zone, const size_t *starts) {
    struct arena *arena = page->out->arena;
    const struct site_device *device =
            zone->device == SITE_NONE ? NULL : &site->devices[zone->device];
    const int delay = zone->delay[SITE_MODE_FULL];
    const char *const none = "-";
    const struct text cells[CELL_MOST] = {
            text_print(arena, "%d", zone->number),
            zone->name,
            device == NULL ? text_of(none) : site->device_profiles[device->profile].name,
            zone->area >= 0 ? site->areas[zone->area].name : text_of(none),
            delay == SITE_NONE ? text_of(site_behaviour_name(zone->behaviour))
                               : text_print(arena, "%s %d s", site_behaviour_name(zone->behaviour),
                                         site->settings.delays[delay].seconds_s),
            text_print(arena, "%s%s%s%s", zone->reports ? "R" : "-", zone->chime ? "C" : "-",
                    zone->supervised ? "S" : "-", zone->bypassable ? "B" : "-"),
    };
    add_cells(page, cells, starts, CELL_MOST);
}

static void add_schedule_table(struct page *page, const struct site *site) {
    const int *order = sheet_zone_order(site, page->out->arena);
    const size_t flags = page->width - 4;
    const size_t step = (flags - 4) / 4;
    const size_t starts[CELL_MOST] = {0, 4, 4 + step, 4 + 2 * step, 4 + 3 * step, flags};
    const struct text titles[CELL_MOST] = {text_of("no"), text_of("name"), text_of("device"),
            text_of("area"), text_of("behaviour"), text_of("RCSB")};
    end_line(page);
    add_paragraph(page, text_of("ZONE SCHEDULE"));
    add_cells(page, titles, starts, CELL_MOST);
    for (size_t i = 0; order != NULL && i < site->zone_count; i++) {
        add_schedule_line(page, site, &site->zones[order[i]], starts);
    }
    add_paragraph(page, text_of("R reports, C chimes, S supervised, B may be bypassed"));
}

void sheet_add_text(struct text_builder *out, const struct site *site, const struct sheet *sheet,
        bool against, size_t width) {
    struct page page = {.out = out, .width = width};
    add_paragraph(&page,
            text_print(out->arena, "%.*s%s", TEXT_ARGS(site->name),
                    site->invented ? " (invented)" : ""));
    add_paragraph(&page,
            text_print(out->arena, "%s for panel %.*s",
                    against ? "What has to be keyed differently" : "Programming sheet",
                    TEXT_ARGS(site->panel.name)));
    if (sheet->row_count == 0) {
        add_paragraph(&page, text_of("Nothing has to be keyed differently."));
        return;
    }
    add_paragraph(&page,
            text_of("Put the account on test with the monitoring station first. "
                    "Local codes and the maker's instructions win over this sheet. "
                    "(usual): as a panel is usually delivered; look all the same."));
    for (size_t i = 0; i < sheet->row_count; i++) {
        if (begins_thing(sheet, i)) {
            add_heading(&page, &sheet->rows[i]);
        }
        add_row(&page, &sheet->rows[i]);
    }
    if (!against) {
        add_schedule_table(&page, site);
    }
}

void sheet_add_schedule(struct text_builder *out, const struct site *site, size_t width) {
    struct page page = {.out = out, .width = width};
    add_paragraph(&page,
            text_print(out->arena, "%.*s%s", TEXT_ARGS(site->name),
                    site->invented ? " (invented)" : ""));
    add_schedule_table(&page, site);
}

/* What makes a spreadsheet take a cell for a formula, the wide forms included. */
static bool runs_as_formula(struct text field) {
    static const char *const starts[] = {"=", "+", "-", "@", "\t", "\r", "＝", "＋", "－", "＠"};
    for (size_t i = 0; i < sizeof starts / sizeof starts[0]; i++) {
        const struct text start = text_of(starts[i]);
        if (field.length >= start.length &&
                text_equal((struct text){.start = field.start, .length = start.length}, start)) {
            return true;
        }
    }
    return false;
}

void csv_add_field(struct text_builder *out, struct text field, bool last) {
    bool quoted = false;
    for (size_t i = 0; i < field.length; i++) {
        const char c = field.start[i];
        quoted = quoted || c == '"' || c == ',' || c == '\r' || c == '\n';
    }
    text_add_string(out, quoted ? "\"" : "");
    text_add_string(out, runs_as_formula(field) ? "'" : "");
    for (size_t i = 0; i < field.length; i++) {
        if (field.start[i] == '"') {
            text_add_char(out, '"');
        }
        text_add_char(out, field.start[i]);
    }
    text_add_string(out, quoted ? "\"" : "");
    text_add_string(out, last ? "\r\n" : ",");
}

void sheet_add_csv(struct text_builder *out, const struct sheet *sheet) {
    text_add_string(out, "part,number,thing,kind,key,label,value,usual,before\r\n");
    for (size_t i = 0; i < sheet->row_count; i++) {
        const struct sheet_row *row = &sheet->rows[i];
        csv_add_field(out, text_of(sheet_part_name(row->part)), false);
        if (has_number(row)) {
            text_add_format(out, "%d", row->number);
        }
        text_add_char(out, ',');
        csv_add_field(out, row->thing, false);
        csv_add_field(out, text_of(sheet_kind_name(row->kind)), false);
        csv_add_field(out, row->key, false);
        csv_add_field(out, row->label, false);
        csv_add_field(out, row->value, false);
        csv_add_field(out, text_of(row->usual ? "yes" : "no"), false);
        csv_add_field(out, row->before, true);
    }
}

static void add_json_row(struct json_writer *json, const struct sheet_row *row) {
    json_open_object(json, NULL);
    json_add_string(json, "part", sheet_part_name(row->part));
    if (has_number(row)) {
        json_add_integer(json, "number", row->number);
    } else {
        json_add_null(json, "number");
    }
    json_add_text(json, "thing", row->thing);
    json_add_string(json, "kind", sheet_kind_name(row->kind));
    json_add_text(json, "key", row->key);
    json_add_text(json, "label", row->label);
    json_add_text(json, "value", row->value);
    json_add_bool(json, "usual", row->usual);
    json_add_text(json, "before", row->before);
    json_close_object(json);
}

void sheet_add_lines_json(struct json_writer *json, const struct sheet *sheet) {
    json_open_array(json, "lines");
    for (size_t i = 0; i < sheet->row_count; i++) {
        add_json_row(json, &sheet->rows[i]);
    }
    json_close_array(json);
}

void sheet_add_json(struct json_writer *json, const struct site *site, const struct sheet *sheet,
        struct text file, struct text older) {
    enum { FORMAT = 1 };
    json_open_object(json, NULL);
    json_add_integer(json, "format", FORMAT);
    json_add_text(json, "file", file);
    if (older.length == 0) {
        json_add_null(json, "against");
    } else {
        json_add_text(json, "against", older);
    }
    json_add_text(json, "name", site->name);
    json_add_bool(json, "invented", site->invented);
    json_add_text(json, "panel", site->panel.name);
    sheet_add_lines_json(json, sheet);
    if (older.length == 0) {
        sheet_add_schedule_json(json, site);
    }
    json_close_object(json);
    text_add_char(json->out, '\n');
}
