/* The zone schedule for programs: a record for each zone. */
#include "sheet/rows.h"

/* One zone's fields, in the order of the columns. */
enum {
    NUMBER,
    NAME,
    DEVICE,
    MODEL,
    INPUT,
    RADIO,
    SERIAL,
    OPENING,
    AREA,
    BEHAVIOUR,
    DELAY,
    REPORTS,
    CHIME,
    SUPERVISED,
    BYPASSABLE,
    FIELD_COUNT
};

static const char *const columns[FIELD_COUNT] = {
        [NUMBER] = "number",
        [NAME] = "name",
        [DEVICE] = "device",
        [MODEL] = "model",
        [INPUT] = "input",
        [RADIO] = "radio",
        [SERIAL] = "serial",
        [OPENING] = "opening",
        [AREA] = "area",
        [BEHAVIOUR] = "behaviour",
        [DELAY] = "delay_s",
        [REPORTS] = "reports",
        [CHIME] = "chime",
        [SUPERVISED] = "supervised",
        [BYPASSABLE] = "bypassable",
};

static struct text number_text(struct arena *arena, int32_t number) {
    return text_print(arena, "%d", number);
}

static struct text yes(bool is) {
    return text_of(is ? "yes" : "no");
}

static void fill(const struct site *site, const struct site_zone *zone, struct arena *arena,
        struct text fields[FIELD_COUNT]) {
    const struct site_device_profile *profile = site_zone_profile(site, zone);
    const struct site_device *device =
            zone->device == SITE_NONE ? NULL : &site->devices[zone->device];
    const int door = site_zone_door(site, zone);
    const int delay = zone->delay[SITE_MODE_FULL];
    for (int i = 0; i < FIELD_COUNT; i++) {
        fields[i] = (struct text){0};
    }
    fields[NUMBER] = number_text(arena, zone->number);
    fields[NAME] = zone->name;
    if (device != NULL) {
        fields[DEVICE] = device->name;
        fields[SERIAL] = device->serial;
        fields[INPUT] = number_text(arena, zone->input < 1 ? 1 : zone->input);
    }
    if (profile != NULL) {
        fields[MODEL] = profile->name;
        fields[RADIO] = yes(profile->radio);
    }
    if (door != SITE_NONE) {
        fields[OPENING] = site->doors[door].name;
    }
    if (zone->area >= 0 && (size_t)zone->area < site->area_count) {
        fields[AREA] = site->areas[zone->area].name;
    }
    fields[BEHAVIOUR] = text_of(site_behaviour_name(zone->behaviour));
    if (delay != SITE_NONE) {
        fields[DELAY] = number_text(arena, site->settings.delays[delay].seconds_s);
    }
    fields[REPORTS] = yes(zone->reports);
    fields[CHIME] = yes(zone->chime);
    fields[SUPERVISED] = yes(zone->supervised);
    fields[BYPASSABLE] = yes(zone->bypassable);
}

void sheet_add_schedule_csv(struct text_builder *out, const struct site *site) {
    const int *order = sheet_zone_order(site, out->arena);
    struct text fields[FIELD_COUNT];
    for (int i = 0; i < FIELD_COUNT; i++) {
        csv_add_field(out, text_of(columns[i]), i + 1 == FIELD_COUNT);
    }
    for (size_t i = 0; order != NULL && i < site->zone_count; i++) {
        fill(site, &site->zones[order[i]], out->arena, fields);
        for (int k = 0; k < FIELD_COUNT; k++) {
            csv_add_field(out, fields[k], k + 1 == FIELD_COUNT);
        }
    }
}

static void add_json_field(struct json_writer *json, int field, struct text text,
        const struct site *site, const struct site_zone *zone) {
    const bool is_number = field == NUMBER || field == INPUT || field == DELAY;
    const bool is_yes = field == RADIO || field >= REPORTS;
    if (text.start == NULL && field != NAME) {
        json_add_null(json, columns[field]);
    } else if (field == NUMBER) {
        json_add_integer(json, columns[field], zone->number);
    } else if (field == INPUT) {
        json_add_integer(json, columns[field], zone->input < 1 ? 1 : zone->input);
    } else if (is_number) {
        json_add_integer(
                json, columns[field], site->settings.delays[zone->delay[SITE_MODE_FULL]].seconds_s);
    } else if (is_yes) {
        json_add_bool(json, columns[field], text_is(text, "yes"));
    } else {
        json_add_text(json, columns[field], text);
    }
}

void sheet_add_schedule_json(struct json_writer *json, const struct site *site) {
    const int *order = sheet_zone_order(site, json->out->arena);
    struct text fields[FIELD_COUNT];
    json_open_array(json, "schedule");
    for (size_t i = 0; order != NULL && i < site->zone_count; i++) {
        const struct site_zone *zone = &site->zones[order[i]];
        fill(site, zone, json->out->arena, fields);
        json_open_object(json, NULL);
        for (int k = 0; k < FIELD_COUNT; k++) {
            add_json_field(json, k, fields[k], site, zone);
        }
        json_close_object(json);
    }
    json_close_array(json);
}
