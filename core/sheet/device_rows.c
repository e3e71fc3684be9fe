/* What one does to a device: enrol it, fit its magnet, put its battery in. */
#include "sheet/rows.h"

#include "base/date.h"
#include "base/quantity.h"
#include "power/site_cells.h"

static struct text measure_text(
        struct rows *rows, enum quantity_kind kind, struct measure measure) {
    struct text_builder out;
    text_builder_init(&out, rows->arena);
    quantity_add_measure(&out, kind, measure);
    return text_built(&out);
}

static struct text times(struct rows *rows, int32_t count) {
    return count == 1    ? text_of("once")
            : count == 2 ? text_of("twice")
                         : text_print(rows->arena, "%d times", count);
}

/* How the panel gets to know it, as its profile says; without that, either way. */
static struct text enrolment(struct rows *rows, const struct site_device *device,
        const struct site_device_profile *profile) {
    const bool typed = (profile->enrols & SITE_ENROL_SERIAL) != 0 || profile->enrols == 0;
    const bool learnt = (profile->enrols & SITE_ENROL_ACTIVATE) != 0 || profile->enrols == 0;
    struct text_builder out;
    text_builder_init(&out, rows->arena);
    if (typed && device->serial.length == 0) {
        text_add_string(&out, "read the serial number off the sticker and write it down");
        if (profile->serial_format.length > 0) {
            text_add_format(&out, " (it looks like %.*s)", TEXT_ARGS(profile->serial_format));
        }
        text_add_string(&out, learnt ? "; type it, or " : "; type it");
    } else if (typed) {
        text_add_string(&out, learnt ? "type the serial number, or " : "type the serial number");
    }
    if (learnt) {
        text_add_string(&out, "let the panel learn it: activate the device ");
        if (profile->activations > 0) {
            text_add(&out, times(rows, profile->activations));
        } else {
            text_add_string(&out, "as its manual says");
        }
    }
    return text_built(&out);
}

void rows_enrol(struct rows *rows, const struct site_device *device,
        const struct site_device_profile *profile) {
    const bool known = device->serial.length > 0;
    if (profile->family.length > 0) {
        rows_setting(rows, "family", "radio family", profile->family, false);
    }
    rows_add(rows, known ? SHEET_SETTING : SHEET_FILL_IN, "serial", text_of("serial number"),
            device->serial, false);
    rows_add(rows, SHEET_STEP, "enrol", text_of("enrol"), enrolment(rows, device, profile), false);
    rows_add(rows, SHEET_STEP, "confirm", text_of("confirm"),
            text_of("the panel shows the same serial number as the sticker"), false);
}

/* For a label on it: "by 2032-03-01 (lasts 6.1 to 9.4 years)"; after how long where nobody wrote when it was put in. */
static void add_change(struct rows *rows, const struct site_device *device) {
    const size_t index = (size_t)(device - rows->site->devices);
    struct power_site_cell cell;
    enum power_lack lack = POWER_LACKS_NOTHING;
    struct text_builder out;
    if (!power_site_cell(rows->site, index, &cell, &lack, NULL).good ||
            lack != POWER_LACKS_NOTHING) {
        return;
    }
    text_builder_init(&out, rows->arena);
    if (device->battery_day == DATE_NONE) {
        text_add_format(&out, "%.1f years after it is put in", cell.life.change_years);
    } else {
        text_add_string(&out, "by ");
        date_add(&out, power_due_day(device->battery_day, cell.life.change_years));
    }
    text_add_format(
            &out, " (lasts %.1f to %.1f years)", cell.life.least_years, cell.life.most_years);
    rows_add(rows, SHEET_STEP, "battery-change", text_of("change it"), text_built(&out), false);
}

void rows_battery(struct rows *rows, const struct site_device *device,
        const struct site_device_profile *profile) {
    if (profile->battery.length == 0) {
        return;
    }
    rows_add(rows, SHEET_STEP, "battery", text_of("battery"),
            profile->batteries > 1 ? text_print(rows->arena, "%d of type %.*s", profile->batteries,
                                             TEXT_ARGS(profile->battery))
                                   : profile->battery,
            false);
    add_change(rows, device);
}

void rows_panel_battery(struct rows *rows) {
    const struct site_supply *supply = &rows->site->supply;
    struct text_builder out;
    if (!supply->battery.said) {
        return;
    }
    rows_add(rows, SHEET_STEP, "battery", text_of("battery"),
            text_print(rows->arena, "%g Ah", (double)supply->battery.low / 1000 / MEASURE_UNIT),
            false);
    text_builder_init(&out, rows->arena);
    if (supply->battery_day == DATE_NONE) {
        text_add_format(&out, "%g years after it is put in", POWER_LEAD_LOW_YEARS);
    } else {
        text_add_string(&out, "by ");
        date_add(&out, power_due_day(supply->battery_day, POWER_LEAD_LOW_YEARS));
    }
    text_add_format(&out, " (lasts %g to %g years)", POWER_LEAD_LOW_YEARS, POWER_LEAD_HIGH_YEARS);
    rows_add(rows, SHEET_STEP, "battery-change", text_of("change it"), text_built(&out), false);
}

void rows_magnet(struct rows *rows, const struct site_device *device,
        const struct site_device_profile *profile) {
    static const char *const sides[SITE_MARK_COUNT] = {
            [SITE_MARK_UNSAID] = "on the marked side",
            [SITE_MARK_LEFT] = "on the left, seen from the front, where the housing is marked",
            [SITE_MARK_RIGHT] = "on the right, seen from the front, where the housing is marked",
            [SITE_MARK_EITHER] = "on either side, both are marked",
            [SITE_MARK_END] = "at the marked short end",
            [SITE_MARK_FACING] = "let into the leaf, facing the contact",
    };
    struct text_builder out;
    text_builder_init(&out, rows->arena);
    text_add_string(&out, sides[profile->marked]);
    if (device->magnet_gap.said) {
        text_add_string(&out, "; gap ");
        text_add(&out, measure_text(rows, QUANTITY_LENGTH_M, device->magnet_gap));
    }
    if (profile->gap.said) {
        text_add_string(&out, "; at most ");
        text_add(&out, measure_text(rows, QUANTITY_LENGTH_M, profile->gap));
        text_add_string(&out, device->on_steel && profile->gap_on_steel.said ? " on wood, " : "");
    }
    if (device->on_steel && profile->gap_on_steel.said) {
        text_add(&out, measure_text(rows, QUANTITY_LENGTH_M, profile->gap_on_steel));
        text_add_string(&out, " on steel");
    } else if (device->on_steel) {
        text_add_string(&out, "; it sits on steel, which takes a quarter to a half of that");
    }
    rows_add(rows, SHEET_STEP, "magnet", text_of("magnet"), text_built(&out), false);
}

static struct text belongs_to(struct rows *rows, const struct site_device *device,
        const struct site_device_profile *profile) {
    const struct site *site = rows->site;
    if (profile->kind == SITE_KEYPAD_DEVICE) {
        return device->keypad == SITE_NONE ? (struct text){0} : site->keypads[device->keypad].name;
    }
    if (profile->kind == SITE_FOB) {
        return device->person == SITE_NONE ? (struct text){0} : site->people[device->person].name;
    }
    return rows_areas(rows, device->areas);
}

void rows_devices(struct rows *rows) {
    static const char *const keys[SITE_KIND_COUNT] = {
            [SITE_FOB] = "carried-by", [SITE_KEYPAD_DEVICE] = "keypad", [SITE_SIREN] = "areas"};
    static const char *const labels[SITE_KIND_COUNT] = {[SITE_FOB] = "carried by",
            [SITE_KEYPAD_DEVICE] = "is the keypad",
            [SITE_SIREN] = "sounds for areas"};
    const struct site *site = rows->site;
    rows->part = SHEET_DEVICE;
    rows->number = 0;
    for (size_t i = 0; i < site->device_count; i++) {
        const struct site_device *device = &site->devices[i];
        if (device->profile == SITE_NONE ||
                site->device_profiles[device->profile].kind == SITE_SENSOR) {
            continue;
        }
        const struct site_device_profile *profile = &site->device_profiles[device->profile];
        const struct text owner = belongs_to(rows, device, profile);
        rows->number++;
        rows->thing = device->name;
        rows_setting(rows, "device", "device",
                text_print(rows->arena, "%s (%.*s)", site_kind_name(profile->kind),
                        TEXT_ARGS(profile->name)),
                false);
        rows_add(rows, owner.length > 0 ? SHEET_SETTING : SHEET_FILL_IN, keys[profile->kind],
                text_of(labels[profile->kind]), owner, false);
        rows_battery(rows, device, profile);
        if (profile->radio) {
            rows_enrol(rows, device, profile);
        } else {
            rows_add(
                    rows, SHEET_FILL_IN, "input", text_of("connected at"), (struct text){0}, false);
        }
    }
}
