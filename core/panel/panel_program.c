/* From the site's values to what a panel walks; and what always holds of its state. */
#include "panel/panel_tables.h"

#include <string.h>

static void take_zone(const struct site *site, size_t index, struct panel_zone *ret_zone) {
    const struct site_zone *zone = &site->zones[index];
    const int door = site_zone_door(site, zone);
    for (size_t mode = 0; mode < PANEL_MODE_MAX; mode++) {
        ret_zone->behaviour[mode] = (uint8_t)zone->in[mode];
        ret_zone->delay[mode] = zone->delay[mode] == SITE_NONE ? 0xFF : (uint8_t)zone->delay[mode];
    }
    ret_zone->unset_behaviour = (uint8_t)zone->behaviour;
    ret_zone->area = (uint8_t)zone->area;
    ret_zone->serves = (uint8_t)(zone->serves | 1U << (unsigned)zone->area);
    ret_zone->sense = (uint8_t)site_zone_sense(site, zone);
    ret_zone->device = zone->device == SITE_NONE ? 0xFF : (uint8_t)zone->device;
    ret_zone->door = door == SITE_NONE ? 0xFF : (uint8_t)door;
    ret_zone->cross_with =
            zone->cross_with == SITE_NONE ? PANEL_NO_ZONE : (uint8_t)zone->cross_with;
    ret_zone->pulse_count = (uint8_t)zone->pulse_count;
    ret_zone->pulse_window_s = zone->pulse_window_s;
    ret_zone->follows = (uint16_t)(zone->follows == 0 ? 0xFFFFU : zone->follows);
    ret_zone->hold_s = zone->hold_s;
    ret_zone->chime = zone->chime;
    ret_zone->reports = zone->reports;
    ret_zone->supervised = zone->supervised;
    ret_zone->bypassable = zone->bypassable;
    ret_zone->swinger = zone->swinger;
}

/* Groups are numbered from 1 in the order in which zones name them first. */
static void take_groups(const struct site *site, struct panel_program *program) {
    uint8_t count = 0;
    for (size_t i = 0; i < site->zone_count; i++) {
        const struct text group = site->zones[i].group;
        for (size_t k = 0; k < i && group.length > 0 && program->zones[i].group == 0; k++) {
            if (text_equal(group, site->zones[k].group)) {
                program->zones[i].group = program->zones[k].group;
            }
        }
        if (group.length > 0 && program->zones[i].group == 0) {
            count++;
            program->zones[i].group = count;
        }
    }
    program->grouped = count > 0;
}

static bool is_index_or_none(int index, size_t count) {
    return index == SITE_NONE || (index >= 0 && (size_t)index < count);
}

/* Zones of door 0xFF would count as zones of no door. */
static outcome check_device(
        const struct site *site, const struct site_zone *zone, struct problem *ret_problem) {
    const struct site_device *device = &site->devices[zone->device];
    if (!is_index_or_none(device->profile, site->device_profile_count)) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "the device of zone %d has no such profile",
                zone->number);
    }
    if (!is_index_or_none(site_zone_door(site, zone), 0xFF)) {
        FAIL(ret_problem, PROBLEM_LIMIT, "", "zone %d: only the first 255 doors can be watched",
                zone->number);
    }
    return outcome_good();
}

static outcome check_zone(const struct site *site, size_t index, struct problem *ret_problem) {
    const struct site_zone *zone = &site->zones[index];
    if (zone->area < 0 || (size_t)zone->area >= site->area_count) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "zone %d is in no area", zone->number);
    }
    if (!is_index_or_none(zone->device, site->device_count)) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "zone %d has no such device", zone->number);
    }
    if (zone->device != SITE_NONE) {
        TRY(check_device(site, zone, ret_problem));
    }
    if (!is_index_or_none(zone->cross_with, site->zone_count)) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "zone %d has no such cross-zone partner",
                zone->number);
    }
    if (zone->pulse_count > 5 || zone->pulse_count < 0) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "zone %d counts %d pulses; 1 to 5 are possible",
                zone->number, zone->pulse_count);
    }
    for (size_t mode = 0; mode < PANEL_MODE_MAX; mode++) {
        if ((unsigned)zone->in[mode] >= SITE_BEHAVIOUR_COUNT ||
                (unsigned)zone->behaviour >= SITE_BEHAVIOUR_COUNT ||
                !is_index_or_none(zone->delay[mode], SITE_DELAY_MAX)) {
            FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "zone %d: mode %zu is out of range",
                    zone->number, mode);
        }
    }
    return outcome_good();
}

outcome panel_program_of_site(const struct site *site, const struct panel_tables *tables,
        struct panel_program *ret_program, struct problem *ret_problem) {
    if (site->zone_count > PANEL_ZONE_MAX || site->area_count > PANEL_AREA_MAX ||
            site->area_count == 0 || site->person_count > PANEL_USER_MAX ||
            site->device_count > 0xFF) {
        FAIL(ret_problem, PROBLEM_LIMIT, "",
                "a panel has at most %d zones, 1 to %d areas, %d users and 255 devices",
                PANEL_ZONE_MAX, PANEL_AREA_MAX, PANEL_USER_MAX);
    }
    for (size_t i = 0; i < site->zone_count; i++) {
        TRY(check_zone(site, i, ret_problem));
    }
    memset(ret_program, 0, sizeof *ret_program);
    ret_program->tables = tables == NULL ? &panel_tables_standard : tables;
    ret_program->settings = site->settings;
    ret_program->zone_count = (uint8_t)site->zone_count;
    ret_program->area_count = (uint8_t)site->area_count;
    ret_program->user_count = (uint8_t)site->person_count;
    for (size_t i = 0; i < site->zone_count; i++) {
        take_zone(site, i, &ret_program->zones[i]);
    }
    take_groups(site, ret_program);
    for (size_t i = 0; i < site->area_count; i++) {
        if (site->areas[i].common && site->area_count > 1) {
            ret_program->common_areas = (uint8_t)(ret_program->common_areas | 1U << i);
        }
    }
    for (size_t i = 0; i < site->person_count; i++) {
        const uint32_t areas = site->people[i].areas;
        const uint32_t modes = site->people[i].modes;
        ret_program->user_areas[i] = (uint8_t)(areas | ret_program->common_areas);
        ret_program->user_modes[i] = (uint8_t)(modes == 0 ? (1U << PANEL_MODE_MAX) - 1U : modes);
        ret_program->user_duress[i] = site->people[i].duress;
    }
    return outcome_good();
}

static bool subset(const struct panel_zones *part, const struct panel_zones *whole) {
    return (part->word[0] & ~whole->word[0]) == 0 && (part->word[1] & ~whole->word[1]) == 0;
}

static bool area_holds(const struct panel_program *program, const struct panel_area_state *area,
        const char **ret_broken) {
    *ret_broken = area->phase >= PANEL_PHASE_COUNT          ? "a phase is out of range"
            : area->alarm >= PANEL_ALARM_COUNT              ? "an alarm state is out of range"
            : area->sound >= PANEL_SOUND_COUNT              ? "a sound is out of range"
            : area->mode >= program->settings.mode_count    ? "a mode is out of range"
            : area->phase == PANEL_UNSET && area->mode != 0 ? "an unset area is in a mode"
            : area->phase != PANEL_ENTERING && area->routes != 0
            ? "a route's entry runs outside entry"
            : area->phase != PANEL_EXITING && area->from != 0
            ? "an exit's origin is kept after the exit"
            : ((area->flags & PANEL_AREA_HELD_BACK) != 0) !=
                    (area->sound == PANEL_SILENT && (area->flags & PANEL_AREA_INSIDE) != 0)
            ? "a siren waits and sounds, or does neither"
            : (area->flags & PANEL_AREA_WARNING) == 0 && (area->flags & PANEL_AREA_WARN_DUE) != 0
            ? "a warning is due that does not run"
            : NULL;
    return *ret_broken == NULL;
}

/* Nothing waits while the path stands, and beyond what waits all is 0. */
static bool queue_holds(const struct panel_program *program, const struct panel_state *state) {
    if (state->queued > PANEL_QUEUE_MAX || state->queued > program->settings.signals_kept ||
            (state->queued > 0 && (state->flags & PANEL_PATH_LOST) == 0)) {
        return false;
    }
    for (size_t i = state->queued; i < PANEL_QUEUE_MAX; i++) {
        if (state->queue[i] != 0) {
            return false;
        }
    }
    return true;
}

bool panel_invariants_hold(const struct panel_program *program, const struct panel_state *state,
        const char **ret_broken) {
    const struct panel_zones none = {0};
    struct panel_zones all = none;
    for (unsigned zone = 0; zone < program->zone_count; zone++) {
        panel_zones_add(&all, zone);
    }
    for (unsigned area = 0; area < program->area_count; area++) {
        if (!area_holds(program, &state->areas[area], ret_broken)) {
            return false;
        }
    }
    *ret_broken = !subset(&state->open, &all)            ? "a zone outside the program is open"
            : !subset(&state->lasting, &state->bypassed) ? "a lasting bypass is not bypassed"
            : !subset(&state->recent, &state->held)      ? "a recent alarm is not held"
            : !subset(&state->forced, &state->bypassed)  ? "a forced bypass is not bypassed"
            : !subset(&state->after_siren, &state->open) ? "a closed zone is out after the siren"
            : program->user_count < 64 && state->off_hours >> program->user_count != 0
            ? "hours are kept of a user outside the program"
            : !queue_holds(program, state) ? "what waits for the path is not in order"
                                           : NULL;
    return *ret_broken == NULL;
}
