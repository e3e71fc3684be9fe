/* For each zone's device what carries it, so that it stands beside the zone: how much of its radio link is left over,
 * and for how many years its battery lasts. Null where it is not known. */
#include "web/view.h"

#include "power/site_cells.h"
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
    } else {
        json_add_null(json, "link_db");
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
        json_close_object(json);
    }
    json_close_array(json);
}
