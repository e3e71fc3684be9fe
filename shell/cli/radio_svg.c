#include "cli/radio_svg.h"

#include "base/quantity.h"
#include "cli/svg.h"
#include "radio/fit.h"
#include "radio/map.h"

enum { CELL_MM = 100 };

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
        const struct radio_barriers *barriers, struct radio_map *maps,
        struct problem *ret_problem) {
    for (size_t i = 0; i < house->site->building.storey_count; i++) {
        TRY(radio_map_make(
                house, (int)i, panel, CELL_MM, barriers, barriers->arena, &maps[i], ret_problem));
    }
    return outcome_good();
}

static outcome draw(const struct house *house, const struct radio_map_drawn *drawn,
        struct text_builder *out, struct problem *ret_problem) {
    const size_t count = house->site->building.storey_count;
    const struct drawing_layer layer = radio_map_layer(drawn);
    const int32_t scale = drawing_scale(house);
    struct picture *pictures = ARENA_ARRAY(out->arena, struct picture, count);
    if (pictures == NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory to draw the map");
    }
    for (size_t i = 0; i < count; i++) {
        TRY(drawing_make(house, (int)i, scale, &layer, 1, out->arena, &pictures[i], ret_problem));
    }
    svg_add(out, pictures, count, house->site->name);
    return outcome_good();
}

outcome radio_svg_add(
        const struct site *site, struct text_builder *out, struct problem *ret_problem) {
    const struct site_device_profile *sender = weakest_sender(site);
    struct radio_world world = radio_world_usual();
    struct radio_fit fit;
    struct house house;
    struct radio_spot panel;
    if (!site->building.said || sender == NULL || !site->panel.receives.said) {
        FAIL(ret_problem, PROBLEM_MISSING, "", "a map wants a drawing, and profiles that say %s",
                "frequency, radiates and receives; docs/radio.md shows how");
    }
    TRY(house_make(site, out->arena, &house, ret_problem));
    if (!radio_panel_spot(&house, &panel)) {
        FAIL(ret_problem, PROBLEM_MISSING, "building.places",
                "the drawing does not say where the panel is; add {is: panel, room: ...} under "
                "building.places");
    }
    TRY(radio_site_fit(site, &house, &world, out->arena, &fit, ret_problem));
    struct radio_map *maps = ARENA_ARRAY(out->arena, struct radio_map, site->building.storey_count);
    if (maps == NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory for the map");
    }
    const struct radio_barriers barriers = {.building = &site->building,
            .frequency_hz = (double)sender->frequency.low / MEASURE_UNIT * 1e6,
            .edition = world.edition,
            .arena = out->arena};
    TRY(make_maps(&house, &panel, &barriers, maps, ret_problem));
    const double budget_db =
            (double)(sender->radiates.low - site->panel.receives.low) / MEASURE_UNIT -
            world.loss.high_db - fit.shift_db - radio_behind_loss(site->supply.behind).high_db;
    const struct radio_map_drawn drawn = {
            .maps = maps, .map_count = site->building.storey_count, .budget_db = budget_db};
    return draw(&house, &drawn, out, ret_problem);
}
