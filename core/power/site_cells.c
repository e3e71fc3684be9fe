#include "power/site_cells.h"

#include "base/date.h"
#include "base/quantity.h"

#include <math.h>

const double POWER_USABLE_LOW_RATIO = 0.8;
const double POWER_USABLE_HIGH_RATIO = 0.9;
const double POWER_LEAD_LOW_YEARS = 3;
const double POWER_LEAD_HIGH_YEARS = 5;

/* Trips a day that are not in routines. House practice: a door of a family, people before a motion detector for twelve
 * hours, a keypad, a fob; anything else is tested now and then. */
static const double DOOR_DAY = 30;
static const double IN_SIGHT_S = 12.0 * 3600;
static const double MOTION_DAY = 400;
static const double KEYPAD_DAY = 20;
static const double FOB_DAY = 10;
static const double OTHER_DAY = 1;

static bool is_behind(const struct site *site, int zone, size_t device) {
    return zone != SITE_NONE && site->zones[zone].device == (int)device;
}

static size_t in_legs(
        const struct site *site, const struct site_leg *legs, size_t leg_count, size_t device) {
    const int door = site->devices[device].door;
    size_t count = 0;
    for (size_t i = 0; i < leg_count; i++) {
        count += door != SITE_NONE && legs[i].door == door ? 2 : 0; /* opened and closed */
        count += is_behind(site, legs[i].zone, device);
    }
    return count;
}

static size_t in_way(const struct site *site, int which, size_t device) {
    const int door = site->devices[device].door;
    if (which == SITE_NONE) {
        return 0;
    }
    const struct site_way *way = &site->ways[which];
    return in_legs(site, way->legs, way->leg_count, device) +
            (door != SITE_NONE && way->door == door ? 2 : 0);
}

static size_t in_act(const struct site *site, const struct site_step *step, size_t device) {
    const int door = site->devices[device].door;
    switch (step->act) {
    case SITE_ACT_OPEN:
    case SITE_ACT_CLOSE:
        return door != SITE_NONE && step->door == door;
    case SITE_ACT_PASS:
    case SITE_ACT_PRESS:
        return is_behind(site, step->zone, device);
    case SITE_ACT_COME:
    case SITE_ACT_GO:
        return in_way(site, step->way, device);
    case SITE_ACT_WAIT:
    case SITE_ACT_WALK:
    case SITE_ACT_UNSET:
    case SITE_ACT_SET:
    case SITE_ACT_MISTYPE:
    case SITE_ACT_BYPASS:
    case SITE_ACT_POSTPONE:
    case SITE_ACT_TAMPER:
    case SITE_ACT_MAINS_LOST:
    case SITE_ACT_MAINS_BACK:
    case SITE_ACT_JAMMED:
    case SITE_ACT_JAM_OVER:
    case SITE_ACT_PATH_LOST:
    case SITE_ACT_PATH_BACK:
    case SITE_ACT_COUNT:
        return 0;
    }
    return 0;
}

static size_t in_step(const struct site *site, const struct site_step *step, size_t device) {
    const struct site_route *route = step->route;
    return in_act(site, step, device) +
            (route == NULL ? 0 : in_legs(site, route->legs, route->leg_count, device));
}

static double usual_most(const struct site_device_profile *profile, int door) {
    const double away_s = profile->hold.low_s + profile->sleep.low_s;
    if (profile->kind == SITE_KEYPAD_DEVICE) {
        return KEYPAD_DAY;
    }
    if (profile->kind == SITE_FOB) {
        return FOB_DAY;
    }
    if (profile->sense == SITE_MOTION) {
        return away_s > 0 ? fmin(MOTION_DAY, IN_SIGHT_S / away_s) : MOTION_DAY;
    }
    return profile->sense == SITE_CONTACT && door != SITE_NONE ? DOOR_DAY : OTHER_DAY;
}

void power_trips_a_day(const struct site *site, size_t device, double *ret_low, double *ret_high) {
    const struct site_device *it = &site->devices[device];
    size_t count = 0;
    if (it->trips_day > 0) {
        *ret_low = it->trips_day;
        *ret_high = it->trips_day;
        return;
    }
    for (size_t i = 0; i < site->routine_count; i++) {
        for (size_t k = 0; k < site->routines[i].step_count; k++) {
            count += in_step(site, &site->routines[i].steps[k], device);
        }
    }
    *ret_low = (double)count;
    *ret_high = fmax((double)count, usual_most(&site->device_profiles[it->profile], it->door));
}

static double mah(struct measure current, int32_t milliseconds_ms) {
    return (double)current.low / MEASURE_UNIT * milliseconds_ms / 3.6e6;
}

static outcome find_draw(const struct site_device_profile *profile, struct power_site_cell *cell,
        struct problem *ret_problem) {
    struct power_draw draw = {.quiet_ma = (double)profile->quiet.low / MEASURE_UNIT,
            .events_day = cell->events_low,
            .event_mah = cell->event_mah,
            .check_in_s = profile->check_in_s,
            .check_in_mah = cell->check_in_mah};
    TRY(power_year_mah(&draw, &cell->stock.year_low_mah, ret_problem));
    draw.quiet_ma = (double)profile->quiet.high / MEASURE_UNIT;
    draw.events_day = cell->events_high;
    return power_year_mah(&draw, &cell->stock.year_high_mah, ret_problem);
}

outcome power_site_cell(const struct site *site, size_t device, struct power_site_cell *ret_cell,
        enum power_lack *ret_lack, struct problem *ret_problem) {
    static const double ROOM_C = 20;
    const struct site_device *it = &site->devices[device];
    const struct site_device_profile *profile =
            it->profile == SITE_NONE ? NULL : &site->device_profiles[it->profile];
    struct power_site_cell cell = {.device = device};
    if (profile == NULL || profile->battery.length == 0) {
        *ret_lack = POWER_LACKS_BATTERY;
        return outcome_good();
    }
    if (!profile->quiet.said || !profile->sends_at.said) {
        *ret_lack = POWER_LACKS_FIGURES;
        return outcome_good();
    }
    if (!power_cell_find(profile->battery, &cell.cell, NULL).good) {
        *ret_lack = POWER_LACKS_CELL;
        return outcome_good();
    }
    power_trips_a_day(site, device, &cell.events_low, &cell.events_high);
    cell.event_mah = mah(profile->sends_at, profile->event_air_ms);
    cell.check_in_mah = mah(profile->sends_at, profile->check_in_air_ms);
    cell.stock = (struct power_stock){.low_mah = cell.cell->low_mah,
            .high_mah = cell.cell->high_mah,
            .coldest_c = it->place_at.said ? (double)it->place_at.low / MEASURE_UNIT : ROOM_C,
            .warmest_c = it->place_at.said ? (double)it->place_at.high / MEASURE_UNIT : ROOM_C,
            .usable_low_ratio = POWER_USABLE_LOW_RATIO,
            .usable_high_ratio = POWER_USABLE_HIGH_RATIO};
    if (profile->capacity.said) {
        cell.stock.low_mah = (double)profile->capacity.low / MEASURE_UNIT;
        cell.stock.high_mah = (double)profile->capacity.high / MEASURE_UNIT;
    }
    TRY(find_draw(profile, &cell, ret_problem));
    cell.life = power_cell_life(cell.cell, &cell.stock);
    cell.cold = it->place_at.said && cell.stock.coldest_c < cell.cell->weak_c;
    *ret_cell = cell;
    *ret_lack = POWER_LACKS_NOTHING;
    return outcome_good();
}

int32_t power_due_day(int32_t since_day, double years) {
    static const double YEAR_DAYS = 365.25;
    const int32_t last_day = date_of(DATE_YEAR_LAST, 12, 31);
    const double days = floor(years * YEAR_DAYS);
    return days > last_day - since_day ? last_day : since_day + (int32_t)days;
}
