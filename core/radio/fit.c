#include "radio/fit.h"

#include "base/quantity.h"

#include <assert.h>
#include <math.h>

const double RADIO_BUILDING_SPREAD_DB = 6;

struct radio_fit radio_fit_of(const double *residuals_db, size_t count, double spread_db) {
    static const double NORMAL_95 = 1.959964; /* the normal distribution's two-sided 95 % */
    const double building = 1 / (RADIO_BUILDING_SPREAD_DB * RADIO_BUILDING_SPREAD_DB);
    const double places = (double)count / (spread_db * spread_db);
    double sum_db = 0;
    assert(spread_db > 0);
    for (size_t i = 0; i < count; i++) {
        sum_db += residuals_db[i];
    }
    const double mean_db = count > 0 ? sum_db / (double)count : 0;
    return (struct radio_fit){.count = count,
            .mean_db = mean_db,
            .shift_db = mean_db * places / (places + building),
            .sure_db = NORMAL_95 / sqrt(places + building)};
}

int radio_link_is_off(const struct radio_site_link *link, double spread_db, double shift_db) {
    return link->low_dbm < link->computed_low_dbm + shift_db - spread_db      ? -1
            : link->high_dbm > link->computed_high_dbm + shift_db + spread_db ? 1
                                                                              : 0;
}

outcome radio_site_fit(const struct site *site, const struct house *house,
        const struct radio_world *world, struct arena *arena, struct radio_fit *ret_fit,
        struct problem *ret_problem) {
    struct radio_world plain = *world;
    struct radio_spot panel;
    struct radio_stretched stretched = {.count = 0};
    const bool placed = radio_panel_spot(house, &panel);
    double *residuals_db = ARENA_ARRAY(arena, double, site->link_count + 1);
    size_t count = 0;
    plain.shift_db = 0;
    if (residuals_db == NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory for the measurements");
    }
    for (size_t i = 0; i < site->device_count; i++) {
        struct radio_site_link link;
        enum radio_lack lack = RADIO_LACKS_NOTHING;
        TRY(radio_site_link(site, house, placed ? &panel : NULL, i, &plain, arena, &stretched,
                &link, &lack, ret_problem));
        if (lack == RADIO_LACKS_NOTHING && link.measured && count < site->link_count &&
                radio_link_is_off(&link, world->spread_db, 0) == 0) {
            const struct measure measured = link.said->measured;
            residuals_db[count++] = (link.computed_low_dbm + link.computed_high_dbm) / 2 -
                    ((double)measured.low + measured.high) / 2 / MEASURE_UNIT;
        }
    }
    *ret_fit = radio_fit_of(residuals_db, count, world->spread_db);
    return outcome_good();
}
