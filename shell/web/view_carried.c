/* For each zone's device what carries it, so that it stands beside the zone: how much of its radio link is left over,
 * for how many years its battery lasts, and what one would measure there: the level at the panel, the loop at rest, the
 * volts at the end of its cable. Null where it is not known. */
#include "web/view.h"

#include "power/site_cables.h"
#include "power/site_cells.h"
#include "power/site_loops.h"
#include "radio/fit.h"

static void add_range(
        struct json_writer *json, const char *name, double low, double high, int decimals) {
    json_open_object(json, name);
    json_add_number(json, "low", low, decimals);
    json_add_number(json, "high", high, decimals);
    json_close_object(json);
}

static void add_link(const struct site *site, const struct house *house,
        const struct radio_spot *panel, const struct radio_world *world, int device,
        struct arena *arena, struct json_writer *json) {
    struct radio_stretched stretched = {.count = 0};
    struct radio_site_link link;
    enum radio_lack lack = RADIO_LACKS_RADIO;
    if (device != SITE_NONE &&
            radio_site_link(site, house, panel, (size_t)device, world, arena, &stretched, &link,
                    &lack, NULL)
                    .good &&
            lack == RADIO_LACKS_NOTHING) {
        add_range(json, "link_db", link.low_db, link.high_db, 1);
        add_range(json, "level_dbm", link.computed_low_dbm, link.computed_high_dbm, 1);
    } else {
        json_add_null(json, "link_db");
        json_add_null(json, "level_dbm");
    }
}

static void add_battery(const struct site *site, int device, struct json_writer *json) {
    struct power_site_cell cell;
    enum power_lack lack = POWER_LACKS_BATTERY;
    if (device != SITE_NONE && power_site_cell(site, (size_t)device, &cell, &lack, NULL).good &&
            lack == POWER_LACKS_NOTHING) {
        add_range(json, "battery_years", cell.life.least_years, cell.life.most_years, 1);
    } else {
        json_add_null(json, "battery_years");
    }
}

static void add_loop(const struct site *site, size_t zone, struct json_writer *json) {
    struct power_site_loop loop;
    bool there = false;
    if (power_site_loop(site, zone, &loop, &there, NULL).good && there) {
        const struct power_window *normal = &loop.windows[POWER_STATE_NORMAL];
        add_range(json, "rest_ohm", normal->low_ohm, normal->high_ohm, 0);
    } else {
        json_add_null(json, "rest_ohm");
    }
}

/* The run that feeds a device; cable_count: none does, or what it brings cannot be worked out. */
static size_t run_to(const struct site *site, int device, struct power_site_cable *cables) {
    size_t found = site->cable_count;
    for (size_t i = 0; i < site->cable_count && device != SITE_NONE; i++) {
        found = site->cables[i].to == device ? i : found;
    }
    return site->panel.volts.said && power_site_cables(site, cables, NULL).good ? found
                                                                                : site->cable_count;
}

static void add_cable(const struct site *site, int device, struct json_writer *json) {
    struct power_site_cable cables[SITE_CABLE_MAX];
    const size_t run = run_to(site, device, cables);
    if (run < site->cable_count) {
        add_range(json, "end_volts", cables[run].low_v, cables[run].high_v, 1);
        json_add_number(json, "cable", (double)run, 0);
    } else {
        json_add_null(json, "end_volts");
        json_add_null(json, "cable");
    }
}

void view_add_carried(const struct site *site, struct arena *arena, struct json_writer *json) {
    struct radio_world world = radio_world_usual();
    struct radio_fit fit = {.count = 0};
    struct house house;
    struct radio_spot panel;
    const struct house *drawn =
            site->building.said && house_make(site, arena, &house, NULL).good ? &house : NULL;
    const bool placed = radio_panel_spot(drawn, &panel);
    if (radio_site_fit(site, drawn, &world, arena, &fit, NULL).good) {
        world.shift_db = fit.shift_db;
    }
    json_open_array(json, "carried");
    for (size_t i = 0; i < site->zone_count; i++) {
        json_open_object(json, NULL);
        add_link(site, drawn, placed ? &panel : NULL, &world, site->zones[i].device, arena, json);
        add_battery(site, site->zones[i].device, json);
        add_loop(site, i, json);
        add_cable(site, site->zones[i].device, json);
        json_close_object(json);
    }
    json_close_array(json);
}
