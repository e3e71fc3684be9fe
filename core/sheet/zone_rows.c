#include "sheet/rows.h"

#include "base/quantity.h"

/* Life safety and buttons are neither left out by a user nor by the swinger limit: the site file's own default. */
static bool is_spared(enum site_behaviour behaviour) {
    return behaviour == SITE_HOLD_UP || behaviour == SITE_MEDICAL || behaviour == SITE_FIRE ||
            behaviour == SITE_GAS || behaviour == SITE_CO;
}

static struct text opening_of(struct rows *rows, int watched) {
    if (watched == SITE_NONE) {
        return text_of("no opening: watches a room");
    }
    const struct site_door *door = &rows->site->doors[watched];
    return text_print(rows->arena, "%.*s, %s", TEXT_ARGS(door->name),
            door->outside ? "leads outside" : "inside");
}

static void add_input(struct rows *rows, const struct site_zone *zone,
        const struct site_device_profile *profile) {
    const size_t input = zone->input < 1 ? 1 : (size_t)zone->input;
    const struct text says =
            input <= profile->input_count ? profile->inputs[input - 1].says : (struct text){0};
    rows_setting(rows, "device-input", "input of the device",
            text_print(
                    rows->arena, "%zu%s%.*s", input, says.length > 0 ? ": " : "", TEXT_ARGS(says)),
            false);
}

static void add_device(struct rows *rows, const struct site_zone *zone) {
    if (zone->device == SITE_NONE) {
        rows_add(rows, SHEET_FILL_IN, "device", text_of("device"), (struct text){0}, false);
        return;
    }
    const struct site_device *device = &rows->site->devices[zone->device];
    const struct site_device_profile *profile = &rows->site->device_profiles[device->profile];
    rows_setting(rows, "device", "device",
            text_print(
                    rows->arena, "%.*s (%.*s)", TEXT_ARGS(device->name), TEXT_ARGS(profile->name)),
            false);
    if (profile->input_count > 1) {
        add_input(rows, zone, profile);
    }
    rows_setting(rows, "senses", "senses",
            text_of(site_sense_name(site_zone_sense(rows->site, zone))), false);
    rows_setting(
            rows, "opening", "opening", opening_of(rows, site_zone_door(rows->site, zone)), false);
    if (zone->input < 2 && profile->sense == SITE_CONTACT &&
            (profile->marked != SITE_MARK_UNSAID || profile->gap.said)) {
        rows_magnet(rows, device, profile);
    }
    rows_battery(rows, device, profile);
    if (profile->radio) {
        rows_enrol(rows, device, profile);
        return;
    }
    rows_add(rows, SHEET_FILL_IN, "input", text_of("wired input"), (struct text){0}, false);
    rows_add(rows, SHEET_STEP, "wire", text_of("wire"),
            text_of("connect the loop to that input, then trip the device: the panel shows this "
                    "zone"),
            false);
}

static void add_modes(struct rows *rows, const struct site_zone *zone) {
    const struct site_settings *settings = &rows->site->settings;
    for (size_t i = 0; i < settings->mode_count; i++) {
        const struct text mode = settings->modes[i].name;
        rows_add(rows, SHEET_SETTING, text_print(rows->arena, "in.%.*s", TEXT_ARGS(mode)).start,
                text_print(rows->arena, "in %.*s", TEXT_ARGS(mode)),
                text_of(zone->in[i] == SITE_OUT ? "out (not watched)"
                                                : site_behaviour_name(zone->in[i])),
                zone->in[i] == site_usual_in(zone->behaviour, (int)i));
        if (zone->in[i] == SITE_ENTRY && zone->delay[i] != SITE_NONE) {
            rows_add(rows, SHEET_SETTING,
                    text_print(rows->arena, "delay.%.*s", TEXT_ARGS(mode)).start,
                    text_print(rows->arena, "entry delay in %.*s", TEXT_ARGS(mode)),
                    text_print(rows->arena, "%d (%.*s)", zone->delay[i] + 1,
                            TEXT_ARGS(settings->delays[zone->delay[i]].name)),
                    false);
        }
    }
}

static void add_follower(struct rows *rows, const struct site_zone *zone) {
    struct text_builder routes;
    text_builder_init(&routes, rows->arena);
    for (size_t i = 0; i < rows->site->settings.delay_count; i++) {
        if ((zone->follows >> i & 1U) != 0) {
            text_add_string(&routes, routes.length > 0 ? ", " : "");
            text_add(&routes, rows->site->settings.delays[i].name);
        }
    }
    const bool every = zone->follows == 0;
    rows_setting(rows, "follows", "follows entry delay",
            every ? text_of("every one") : text_built(&routes), every);
    rows_setting(rows, "hold", "waits for its door", rows_seconds(rows, zone->hold_s),
            zone->hold_s == 0);
}

static void add_choices(struct rows *rows, const struct site_zone *zone) {
    const bool usual_left_out = !is_spared(zone->behaviour);
    rows_setting(rows, "reports", "reports to the station", rows_yes(zone->reports), zone->reports);
    rows_setting(rows, "chime", "chime", rows_yes(zone->chime), !zone->chime);
    rows_setting(rows, "supervised", "supervised", rows_yes(zone->supervised), zone->supervised);
    rows_setting(rows, "bypassable", "may be bypassed", rows_yes(zone->bypassable),
            zone->bypassable == usual_left_out);
    rows_setting(rows, "swinger", "swinger limit applies", rows_yes(zone->swinger),
            zone->swinger == usual_left_out);
    rows_setting(rows, "pulses", "trips at",
            zone->pulse_count == 1 ? text_of("1 pulse")
                                   : text_print(rows->arena, "%d pulses within %d s",
                                             zone->pulse_count, zone->pulse_window_s),
            zone->pulse_count == 1);
    const bool alone = zone->cross_with == SITE_NONE;
    rows_setting(rows, "cross-with", "cross-zone partner",
            alone ? text_of("none")
                  : text_print(rows->arena, "zone %d", rows->site->zones[zone->cross_with].number),
            alone);
    const bool ungrouped = zone->group.length == 0;
    rows_setting(rows, "confirms", "confirmation group", ungrouped ? text_of("none") : zone->group,
            ungrouped);
    struct text_builder response;
    text_builder_init(&response, rows->arena);
    quantity_add_milliseconds(&response, zone->loop_response_ms);
    const bool unsaid = zone->loop_response_ms == 0;
    rows_setting(rows, "loop-response", "loop response",
            unsaid ? text_of("as delivered") : text_built(&response), unsaid);
    static const char *const ends[SITE_LOOP_END_COUNT] = {
            [SITE_LOOP_END_DEVICE] = "at the device",
            [SITE_LOOP_END_PANEL] = "at the panel",
            [SITE_LOOP_END_NONE] = "none",
    };
    if (zone->loop_end != SITE_LOOP_END_UNSAID) {
        rows_setting(
                rows, "end-of-line", "end-of-line resistor", text_of(ends[zone->loop_end]), false);
    }
    if (zone->serves != 0) {
        rows_setting(rows, "serves", "starts entry also in", rows_areas(rows, zone->serves), false);
    }
}

void rows_zone(struct rows *rows, const struct site_zone *zone) {
    const struct site *site = rows->site;
    rows->number = zone->number;
    rows->thing = zone->name;
    rows_setting(rows, "number", "zone number", text_print(rows->arena, "%d", zone->number), false);
    add_device(rows, zone);
    rows_setting(rows, "says", "spoken name", zone->name, false);
    rows_setting(rows, "area", "area",
            zone->area >= 0 && (size_t)zone->area < site->area_count ? site->areas[zone->area].name
                                                                     : text_of("none"),
            false);
    rows_setting(
            rows, "behaviour", "behaviour", text_of(site_behaviour_name(zone->behaviour)), false);
    add_modes(rows, zone);
    bool follows = false;
    for (size_t i = 0; i < site->settings.mode_count; i++) {
        follows = follows || zone->in[i] == SITE_FOLLOWER;
    }
    if (follows) {
        add_follower(rows, zone);
    }
    add_choices(rows, zone);
}
