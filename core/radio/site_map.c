#include "radio/site_map.h"

#include "base/quantity.h"
#include "radio/fit.h"

/* The radio device that sends weakest, or NULL. */
static const struct site_device_profile *weakest_sender(const struct site *site) {
    const struct site_device_profile *weakest = NULL;
    for (size_t i = 0; i < site->device_count; i++) {
        const int index = site->devices[i].profile;
        const struct site_device_profile *profile =
                index == SITE_NONE ? NULL : &site->device_profiles[index];
        if (profile != NULL && profile->radio && profile->frequency.said &&
                profile->radiates.said &&
                (weakest == NULL || profile->radiates.low < weakest->radiates.low)) {
            weakest = profile;
        }
    }
    return weakest;
}

static outcome make_maps(const struct house *house, const struct radio_spot *panel,
        const struct radio_barriers *barriers, int32_t cell_mm, struct radio_map *maps,
        struct problem *ret_problem) {
    for (size_t i = 0; i < house->site->building.storey_count; i++) {
        TRY(radio_map_make(
                house, (int)i, panel, cell_mm, barriers, barriers->arena, &maps[i], ret_problem));
    }
    return outcome_good();
}

/* What may be lost between the weakest sender and the panel until nothing arrives. */
static outcome find_budget(const struct house *house, const struct site_device_profile *sender,
        struct arena *arena, double *ret_budget_db, struct problem *ret_problem) {
    const struct site *site = house->site;
    const struct radio_world world = radio_world_usual();
    struct radio_fit fit;
    TRY(radio_site_fit(site, house, &world, arena, &fit, ret_problem));
    *ret_budget_db = (double)(sender->radiates.low - site->panel.receives.low) / MEASURE_UNIT -
            world.loss.high_db - fit.shift_db - radio_behind_loss(site->supply.behind).high_db +
            (double)site->supply.gain.low / MEASURE_UNIT;
    return outcome_good();
}

outcome radio_site_map(const struct house *house, int32_t cell_mm, struct arena *arena,
        struct drawing_layer *ret_layer, struct problem *ret_problem) {
    const struct site *site = house->site;
    const struct site_device_profile *sender = weakest_sender(site);
    struct radio_spot panel;
    if (sender == NULL || !site->panel.receives.said) {
        FAIL(ret_problem, PROBLEM_MISSING, "",
                "a map of radio wants radio devices, and profiles that say frequency, radiates and "
                "receives; docs/radio.md shows how");
    }
    if (!radio_panel_spot(house, &panel)) {
        FAIL(ret_problem, PROBLEM_MISSING, "building.places",
                "the drawing does not say where the panel is; add {is: panel, room: ...} under "
                "building.places");
    }
    struct radio_map *maps = ARENA_ARRAY(arena, struct radio_map, site->building.storey_count);
    struct radio_map_drawn *drawn = ARENA_NEW(arena, struct radio_map_drawn);
    if (maps == NULL || drawn == NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory for the map");
    }
    const struct radio_barriers barriers = {.building = &site->building,
            .frequency_hz = (double)sender->frequency.low / MEASURE_UNIT * 1e6,
            .edition = RADIO_EDITION_NEWEST,
            .arena = arena};
    TRY(make_maps(house, &panel, &barriers, cell_mm, maps, ret_problem));
    *drawn = (struct radio_map_drawn){.maps = maps, .map_count = site->building.storey_count};
    TRY(find_budget(house, sender, arena, &drawn->budget_db, ret_problem));
    drawn->note = text_print(arena,
            "Radio: %.*s (the weakest sender: %g dBm at %g MHz), %g m above the floor; what is "
            "left "
            "over at the panel, careful end.",
            TEXT_ARGS(sender->name), (double)sender->radiates.low / MEASURE_UNIT,
            (double)sender->frequency.low / MEASURE_UNIT, RADIO_MAP_HEIGHT_MM / 1000.0)
                          .start;
    *ret_layer = radio_map_layer(drawn);
    return outcome_good();
}
