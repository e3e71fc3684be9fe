/* A change of the site, made on a copy. */
#include "proof/candidates.h"

#include <string.h>

static void behave(struct site *site, const struct proof_edit *edit) {
    struct site_zone *zone = &site->zones[edit->zone];
    zone->behaviour = edit->behaviour;
    for (int mode = 0; mode < SITE_MODE_MAX; mode++) {
        if (zone->in[mode] != SITE_OUT) {
            zone->in[mode] = edit->behaviour;
        }
        if (edit->behaviour == SITE_ENTRY) {
            zone->delay[mode] = edit->delay;
        }
    }
}

static void behave_in_mode(struct site *site, const struct proof_edit *edit) {
    struct site_zone *zone = &site->zones[edit->zone];
    zone->in[edit->mode] = edit->behaviour;
    if (edit->behaviour == SITE_ENTRY) {
        zone->delay[edit->mode] = edit->delay;
    }
}

static void choose(struct site_settings *settings, enum proof_choice choice) {
    switch (choice) {
    case PROOF_CHOICE_EXIT_RESTART:
        settings->exit_restart = true;
        break;
    case PROOF_CHOICE_SECOND_KEEP:
        settings->second_entry = SITE_SECOND_KEEP;
        break;
    case PROOF_CHOICE_ENTRY_OPEN:
        settings->entry_open_allowed = true;
        break;
    case PROOF_CHOICE_MOTION_FREE:
        settings->motion_blocks = false;
        break;
    case PROOF_CHOICE_FAULTS_IGNORED:
        settings->faults = SITE_FAULT_IGNORE;
        break;
    case PROOF_CHOICE_NO_DROP:
        settings->drop_to_part = false;
        break;
    case PROOF_CHOICE_POSTPONE:
        settings->auto_postpone_count++;
        break;
    case PROOF_CHOICE_COUNT:
        break;
    }
}

static void move_keypad(struct site *site, const struct proof_edit *edit) {
    struct site_way *way = &site->ways[edit->way];
    way->leg_count = 0;
    way->last = span_of(1, edit->seconds_s);
}

int proof_contact_profile(const struct site *site) {
    for (size_t i = 0; i < site->device_count; i++) {
        const int profile = site->devices[i].profile;
        if (profile != SITE_NONE && site->device_profiles[profile].kind == SITE_SENSOR &&
                site->device_profiles[profile].sense == SITE_CONTACT) {
            return profile;
        }
    }
    return SITE_NONE;
}

static outcome grow(struct arena *arena, const void *source, size_t count, size_t size,
        void **ret_grown, struct problem *ret_problem) {
    void *grown = NULL;
    TRY(arena_get(arena, count + 1, size, &grown, ret_problem));
    if (count > 0) {
        memcpy(grown, source, count * size);
    }
    *ret_grown = grown;
    return outcome_good();
}

static outcome fit_contact(struct site *site, const struct proof_edit *edit, struct arena *arena,
        struct problem *ret_problem) {
    void *memory = NULL;
    TRY(grow(
            arena, site->devices, site->device_count, sizeof *site->devices, &memory, ret_problem));
    site->devices = memory;
    TRY(grow(arena, site->zones, site->zone_count, sizeof *site->zones, &memory, ret_problem));
    site->zones = memory;
    const struct text name = site->doors[edit->door].name;
    site->devices[site->device_count] = (struct site_device){.name = name,
            .profile = proof_contact_profile(site),
            .door = edit->door,
            .keypad = SITE_NONE,
            .person = SITE_NONE};
    struct site_zone *zone = &site->zones[site->zone_count];
    *zone = (struct site_zone){.number = edit->count,
            .name = name,
            .device = (int)site->device_count,
            .area = edit->area,
            .behaviour = SITE_ENTRY,
            .reports = true,
            .supervised = true,
            .bypassable = true,
            .swinger = true,
            .pulse_count = 1,
            .cross_with = SITE_NONE};
    for (int mode = 0; mode < SITE_MODE_MAX; mode++) {
        zone->in[mode] = SITE_ENTRY;
        zone->delay[mode] = edit->delay;
    }
    site->device_count++;
    site->zone_count++;
    return outcome_good();
}

outcome proof_edit_apply(const struct site *site, const struct proof_edit *edit,
        struct arena *arena, struct site *ret_site, struct problem *ret_problem) {
    struct site copy;
    TRY(site_copy(site, arena, &copy, ret_problem));
    switch (edit->kind) {
    case PROOF_EDIT_BEHAVIOUR:
        behave(&copy, edit);
        break;
    case PROOF_EDIT_IN_MODE:
        behave_in_mode(&copy, edit);
        break;
    case PROOF_EDIT_DELAY:
        copy.settings.delays[edit->delay].seconds_s = edit->seconds_s;
        break;
    case PROOF_EDIT_EXIT:
        copy.settings.modes[edit->mode].exit_delay_s = edit->seconds_s;
        break;
    case PROOF_EDIT_CODE_AREA:
        copy.people[edit->person].areas |= 1U << (unsigned)edit->area;
        break;
    case PROOF_EDIT_CODE_MODE:
        copy.people[edit->person].modes |= 1U << (unsigned)edit->mode;
        break;
    case PROOF_EDIT_HOURS:
        copy.people[edit->person].hours = edit->hours;
        copy.people[edit->person].has_hours = edit->hours.high_s > edit->hours.low_s;
        break;
    case PROOF_EDIT_FOB:
        copy.people[edit->person].has_fob = true;
        copy.people[edit->person].unsets_by_fob = true;
        break;
    case PROOF_EDIT_KEYPAD:
        move_keypad(&copy, edit);
        break;
    case PROOF_EDIT_HOLD:
        copy.zones[edit->zone].hold_s = edit->seconds_s;
        break;
    case PROOF_EDIT_PULSES:
        copy.zones[edit->zone].pulse_count = edit->count;
        break;
    case PROOF_EDIT_CROSS:
        copy.zones[edit->zone].cross_with = edit->partner;
        copy.zones[edit->partner].cross_with = edit->zone;
        break;
    case PROOF_EDIT_CONTACT:
        TRY(fit_contact(&copy, edit, arena, ret_problem));
        break;
    case PROOF_EDIT_SWITCH:
        choose(&copy.settings, edit->choice);
        break;
    case PROOF_EDIT_COUNT:
        break;
    }
    *ret_site = copy;
    return outcome_good();
}
