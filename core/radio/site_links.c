#include "radio/site_links.h"

#include "base/quantity.h"
#include "radio/constants.h"
#include "radio/link.h"

#include <math.h>
#include <stdio.h>

struct radio_world radio_world_usual(void) {
    return (struct radio_world){.loss = {5, 15},
            .spread_db = 8,
            .bad_share_ratio = 0.02,
            .bad_dwell_s = 7200,
            .bad_loss_db = 20,
            .edition = RADIO_EDITION_NEWEST};
}

static struct radio_spot antenna_of(const struct house *house, size_t place) {
    const int32_t height_mm = house->site->supply.antenna_mm;
    struct radio_spot spot = radio_spot_of(house, place);
    if (height_mm > 0) {
        spot.z_mm = house->site->building.storeys[spot.storey].floor_mm + height_mm;
    }
    return spot;
}

bool radio_panel_spot(const struct house *house, struct radio_spot *ret_spot) {
    bool found = false;
    for (size_t i = 0; house != NULL && i < house->site->building.place_count; i++) {
        const struct site_place *place = &house->site->building.places[i];
        const bool panel = place->fixture == SITE_FIXTURE_PANEL;
        if (house->places[i].good && (panel || (place->keypad >= 0 && !found))) {
            *ret_spot = antenna_of(house, i);
            found = true;
            if (panel) {
                return true;
            }
        }
    }
    return found;
}

/* "brick, 2 stud": names of what is crossed, in the order of the way, like ones side by side counted. */
static struct text crosses_of(const struct site_building *building,
        const struct radio_crossing *crossings, size_t count, struct arena *arena) {
    struct text_builder out;
    text_builder_init(&out, arena);
    for (size_t i = 0; i < count;) {
        const struct text name = radio_crossing_name(building, &crossings[i]);
        size_t same = 1;
        while (i + same < count &&
                text_equal(radio_crossing_name(building, &crossings[i + same]), name)) {
            same++;
        }
        text_add_string(&out, i == 0 ? "" : ", ");
        if (same > 1) {
            text_add_format(&out, "%zu ", same);
        }
        text_add(&out, name.length > 0 ? name : text_of("wall not said"));
        i += same;
    }
    return out.length > 0 ? text_built(&out) : text_of("nothing");
}

static const struct site_link *said_of(const struct site *site, size_t device) {
    for (size_t i = 0; i < site->link_count; i++) {
        if (site->links[i].device == (int)device) {
            return &site->links[i];
        }
    }
    return NULL;
}

static double of(struct measure measure) {
    return (double)measure.low / MEASURE_UNIT;
}

/* Frequency, power and sensitivity: as asked, else by the profiles. False: not all are known. */
static bool find_figures(const struct site *site, const struct site_device_profile *profile,
        const struct radio_world *world, struct radio_site_link *link) {
    link->hz = world->has_mhz ? world->mhz * 1e6 : of(profile->frequency) * 1e6;
    link->power_dbm = world->has_power ? world->power_dbm : of(profile->radiates);
    link->sensitivity_dbm =
            world->has_sensitivity ? world->sensitivity_dbm : of(site->panel.receives);
    return (world->has_mhz || profile->frequency.said) &&
            (world->has_power || profile->radiates.said) &&
            (world->has_sensitivity || site->panel.receives.said);
}

static struct text typed_crosses(const struct site_link *said, struct arena *arena) {
    struct text_builder out;
    text_builder_init(&out, arena);
    for (size_t i = 0; i < said->through_count; i++) {
        text_add_string(&out, i == 0 ? "" : ", ");
        text_add(&out, said->through[i]);
    }
    if (said->floors > 0) {
        text_add_format(&out, "%s%d floor%s", said->through_count > 0 ? ", " : "", said->floors,
                said->floors == 1 ? "" : "s");
    }
    return out.length > 0 ? text_built(&out) : text_of("nothing");
}

static outcome cross_typed(const struct site *site, const struct site_link *said,
        const struct radio_barriers *barriers, struct radio_stretched *stretched,
        struct radio_site_link *link, struct problem *ret_problem) {
    link->typed = true;
    link->distance_m = said->distance_mm / 1000.0;
    for (size_t i = 0; i < said->through_count; i++) {
        struct problem problem = {0};
        if (!radio_add_named(barriers, said->through[i], &link->in_the_way, stretched, &problem)
                        .good) {
            char place[40];
            (void)snprintf(place, sizeof place, "links[%zu].through", (size_t)(said - site->links));
            FAIL(ret_problem, problem.kind, place, "%s", problem.text);
        }
    }
    for (int32_t i = 0; i < said->floors; i++) {
        TRY(radio_add_named(barriers, text_of("floor"), &link->in_the_way, stretched, ret_problem));
    }
    link->crosses = typed_crosses(said, barriers->arena);
    return outcome_good();
}

static outcome cross_drawn(const struct house *house, const struct radio_spot *panel,
        const struct radio_spot *spot, const struct radio_barriers *barriers,
        struct radio_stretched *stretched, struct radio_site_link *link,
        struct problem *ret_problem) {
    struct radio_crossing crossings[RADIO_CROSSED_MOST];
    size_t count = 0;
    link->distance_m = radio_spot_distance_m(spot, panel);
    TRY(radio_cross(house, spot, panel, crossings, &count, ret_problem));
    for (size_t i = 0; i < count; i++) {
        TRY(radio_add_crossing(barriers, &crossings[i], &link->in_the_way, stretched, ret_problem));
    }
    link->crosses = crosses_of(barriers->building, crossings, count, barriers->arena);
    return outcome_good();
}

/* Levels and margins, once distance and losses are known. */
static void add_up(const struct site *site, const struct site_device_profile *profile,
        const struct radio_world *world, struct radio_site_link *link) {
    link->gain = (struct radio_loss){
            of(site->supply.gain), (double)site->supply.gain.high / MEASURE_UNIT};
    const double least_db = link->free_db + link->in_the_way.low_db + link->behind.low_db +
            world->loss.low_db + world->shift_db - link->gain.high_db;
    const double most_db = link->free_db + link->in_the_way.high_db + link->behind.high_db +
            world->loss.high_db + world->shift_db - link->gain.low_db;
    link->computed_low_dbm = link->power_dbm - most_db;
    link->computed_high_dbm = link->power_dbm - least_db;
    link->measured = link->said != NULL && link->said->measured.said;
    link->low_dbm = link->measured ? of(link->said->measured) : link->computed_low_dbm;
    link->high_dbm = link->measured ? (double)link->said->measured.high / MEASURE_UNIT
                                    : link->computed_high_dbm;
    link->low_db = link->low_dbm - link->sensitivity_dbm;
    link->high_db = link->high_dbm - link->sensitivity_dbm;
    link->back = profile->receives.said && site->panel.radiates.said;
    if (link->back) {
        const double left_db = of(site->panel.radiates) - of(profile->receives);
        link->back_low_db = left_db - most_db;
        link->back_high_db = left_db - least_db;
    }
    if (link->back && link->said != NULL && link->said->measured_back.said) {
        link->back_low_db = of(link->said->measured_back) - of(profile->receives);
        link->back_high_db =
                (double)link->said->measured_back.high / MEASURE_UNIT - of(profile->receives);
    }
}

static struct radio_loss behind_both(const struct site *site, size_t device) {
    const struct site_device *it = &site->devices[device];
    const bool steel = it->on_steel && it->behind == SITE_BEHIND_NOTHING;
    const struct radio_loss here = radio_behind_loss(steel ? SITE_BEHIND_STEEL : it->behind);
    const struct radio_loss there = radio_behind_loss(site->supply.behind);
    return (struct radio_loss){here.low_db + there.low_db, here.high_db + there.high_db};
}

outcome radio_site_link(const struct site *site, const struct house *house,
        const struct radio_spot *panel, size_t device, const struct radio_world *world,
        struct arena *arena, struct radio_stretched *stretched, struct radio_site_link *ret_link,
        enum radio_lack *ret_lack, struct problem *ret_problem) {
    const int index = site->devices[device].profile;
    const struct site_device_profile *profile =
            index == SITE_NONE ? NULL : &site->device_profiles[index];
    struct radio_site_link link = {.device = device, .said = said_of(site, device)};
    struct radio_spot spot;
    *ret_lack = profile == NULL || !profile->radio            ? RADIO_LACKS_RADIO
            : !find_figures(site, profile, world, &link)      ? RADIO_LACKS_FIGURES
            : link.said != NULL && link.said->distance_mm > 0 ? RADIO_LACKS_NOTHING
            : house == NULL || panel == NULL                  ? RADIO_LACKS_PANEL
            : !radio_device_spot(house, device, &spot)        ? RADIO_LACKS_PLACE
                                                              : RADIO_LACKS_NOTHING;
    if (*ret_lack != RADIO_LACKS_NOTHING) {
        return outcome_good();
    }
    const struct radio_barriers barriers = {.building = &site->building,
            .frequency_hz = link.hz,
            .edition = world->edition,
            .floor = world->floor,
            .arena = arena};
    if (link.said != NULL && link.said->distance_mm > 0) {
        TRY(cross_typed(site, link.said, &barriers, stretched, &link, ret_problem));
    } else {
        TRY(cross_drawn(house, panel, &spot, &barriers, stretched, &link, ret_problem));
    }
    /* Nearer than one wavelength the sum means nothing; so near it is not in doubt either. */
    link.distance_m = fmax(RADIO_LIGHT_M_S / link.hz, link.distance_m);
    TRY(radio_free_space_db(link.distance_m, link.hz, &link.free_db, ret_problem));
    link.behind = behind_both(site, device);
    add_up(site, profile, world, &link);
    *ret_link = link;
    return outcome_good();
}

bool radio_is_supervised(const struct site *site, size_t device) {
    const int profile = site->devices[device].profile;
    const int32_t check_in_s = profile == SITE_NONE ? 0 : site->device_profiles[profile].check_in_s;
    bool supervised = false;
    for (size_t i = 0; i < site->zone_count; i++) {
        supervised =
                supervised || (site->zones[i].device == (int)device && site->zones[i].supervised);
    }
    return supervised && check_in_s > 0 && check_in_s <= site->settings.supervision_window_s;
}

outcome radio_site_missing(const struct site *site, size_t device, const struct radio_world *world,
        double margin_db, struct radio_called_missing *ret_called, struct problem *ret_problem) {
    const struct radio_check_ins check_ins = {
            .interval_s = site->device_profiles[site->devices[device].profile].check_in_s,
            .window_s = site->settings.supervision_window_s,
            .missed_good_ratio = 1 - radio_arrives_ratio(margin_db, 0),
            .missed_bad_ratio = 1 - radio_arrives_ratio(margin_db - world->bad_loss_db, 0),
            .bad_share_ratio = world->bad_share_ratio,
            .bad_dwell_s = world->bad_dwell_s};
    return radio_call_missing(&check_ins, ret_called, ret_problem);
}
