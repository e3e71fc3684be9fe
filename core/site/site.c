#include "site/site.h"

#include <assert.h>
#include <string.h>

struct site_settings site_settings_usual(void) {
    /* clang-format off */
    const struct site_settings usual = {
        .modes = {
            [SITE_MODE_FULL]  = {{"full", 4}, 60},  /* CP-01-2019 4.2.2.1, from memory: rules.md 1.2 */
            [SITE_MODE_PART]  = {{"part", 4}, 0},   /* common practice */
            [SITE_MODE_NIGHT] = {{"night", 5}, 0},  /* common practice */
        },
        .mode_count           = 3,
        .delay_count          = 0,
        .abort_window_s       = 30,       /* CP-01-2019 4.2.5.1: rules.md 1.2 */
        .cancel_window_s      = 300,      /* CP-01 4.2.5.4, from memory */
        .recent_closing_s     = 120,      /* CP-01, from memory */
        .siren_time_s         = 900,      /* EN 50131-4 upper end; UL commercial lower end: rules.md 2.3, 3 */
        .siren_hold_back_s    = 0,        /* common practice: off unless wanted; at most 10 min, rules.md 2.4 */
        .swinger_limit        = 2,        /* CP-01 4.3.2 from 2010 on */
        .swinger_reset_s      = 28800,    /* CP-01 4.3.2, from memory: 8 h */
        .cross_window_s       = 60,       /* common practice: no number in the standard as recalled */
        .confirm_window_s     = 0,
        .lockout_tries        = 10,       /* EN 50131-3, from memory, unsure: rules.md 2.3 */
        .lockout_s            = 90,       /* the same row */
        .supervision_window_s = 43200,    /* common practice: 12 h */
        .mains_delay_s        = 1800,     /* common practice, inside the 60 min of rules.md 2.4 */
        .mains_jitter_s       = 0,        /* common practice: off unless wanted */
        .power_mask_s         = 60,       /* CP-01 4.4.3 */
        .final_door_s         = 5,        /* common practice */
        .auto_set_at_s        = -1,
        .auto_set_area        = SITE_NONE,
        .auto_warn_s          = 600,      /* common practice */
        .auto_postpone_s      = 1800,     /* common practice */
        .auto_postpone_count  = 3,        /* common practice */
        .signals_kept         = 32,       /* common practice: a panel keeps some tens */
        .jamming_noticed      = true,     /* common practice */
        .tolerance_tenths     = 1,        /* CP-01 3.1.2, 2009 draft: 10 % */
        .exit_restart         = true,     /* CP-01 4.2.2.3: default on */
        .drop_to_part         = true,     /* CP-01 4.2.2.5: default on */
        .entry_open_allowed   = true,     /* common practice: one leaves by it */
    };
    /* clang-format on */
    return usual;
}

enum site_behaviour site_usual_in(enum site_behaviour behaviour, int mode) {
    assert(behaviour < SITE_BEHAVIOUR_COUNT);
    assert(mode >= 0 && mode < SITE_MODE_MAX);
    const bool somebody_inside = mode == SITE_MODE_PART || mode == SITE_MODE_NIGHT;
    const bool inside = behaviour == SITE_INTERIOR || behaviour == SITE_FOLLOWER;
    return somebody_inside && inside ? SITE_OUT : behaviour;
}

bool site_numbers_has(const struct site_numbers *numbers, int32_t number) {
    return number >= 0 && number <= SITE_NUMBER_MAX &&
            (numbers->bits[number / 64] >> (number % 64) & 1U) != 0;
}

void site_numbers_add(struct site_numbers *numbers, int32_t number) {
    if (number >= 0 && number <= SITE_NUMBER_MAX) {
        numbers->bits[number / 64] |= UINT64_C(1) << (number % 64);
    }
}

bool site_number_is_there(const struct site_panel_profile *panel, int32_t number) {
    return (panel->zone_most == 0 || number <= panel->zone_most) &&
            (panel->numbers.said ? site_numbers_has(&panel->numbers, number) : number >= 1);
}

int32_t site_free_number(const struct site *site, bool either, bool radio) {
    struct site_numbers taken = {.said = true};
    for (size_t i = 0; i < site->zone_count; i++) {
        site_numbers_add(&taken, site->zones[i].number);
    }
    for (int32_t number = 0; number <= SITE_NUMBER_MAX; number++) {
        if (site_number_is_there(&site->panel, number) && !site_numbers_has(&taken, number) &&
                (either || site_slot_takes(&site->panel, number, radio))) {
            return number;
        }
    }
    return SITE_NONE;
}

bool site_slot_takes(const struct site_panel_profile *panel, int32_t number, bool radio) {
    const struct site_numbers *own = radio ? &panel->radio : &panel->wired;
    const struct site_numbers *other = radio ? &panel->wired : &panel->radio;
    if (own->said) {
        return site_numbers_has(own, number);
    }
    return !other->said || !site_numbers_has(other, number);
}

const struct site_device_profile *site_zone_profile(
        const struct site *site, const struct site_zone *zone) {
    const int profile = zone->device == SITE_NONE ? SITE_NONE : site->devices[zone->device].profile;
    return profile == SITE_NONE ? NULL : &site->device_profiles[profile];
}

enum site_sense site_zone_sense(const struct site *site, const struct site_zone *zone) {
    const struct site_device_profile *profile = site_zone_profile(site, zone);
    if (profile == NULL) {
        return SITE_CONTACT;
    }
    return zone->input > 1 && (size_t)zone->input <= profile->input_count
            ? profile->inputs[zone->input - 1].sense
            : profile->sense;
}

bool site_overlooks(const struct site *site, int zone, int person) {
    if (zone < 0 || person < 0 || (size_t)zone >= site->zone_count ||
            (size_t)person >= site->person_count) {
        return false;
    }
    const struct site_device_profile *profile = site_zone_profile(site, &site->zones[zone]);
    const struct site_person *who = &site->people[person];
    return profile != NULL && site_zone_sense(site, &site->zones[zone]) == SITE_MOTION &&
            profile->overlooks.said && who->animal && who->weighs.said &&
            who->weighs.high <= profile->overlooks.low;
}

int site_zone_door(const struct site *site, const struct site_zone *zone) {
    if (zone->device == SITE_NONE) {
        return SITE_NONE;
    }
    return zone->input > 1 ? zone->door : site->devices[zone->device].door;
}

static outcome copy_array(struct arena *arena, const void *source, size_t count, size_t size,
        void **ret_copy, struct problem *ret_problem) {
    void *copy = NULL;
    TRY(arena_get(arena, count, size, &copy, ret_problem));
    if (count > 0) {
        memcpy(copy, source, count * size);
    }
    *ret_copy = copy;
    return outcome_good();
}

/* clang-format off */
#define COPY(field, count) \
    TRY(copy_array(arena, site->field, site->count, sizeof *site->field, &memory, ret_problem)); \
    copy.field = memory
/* clang-format on */

outcome site_copy(const struct site *site, struct arena *arena, struct site *ret_copy,
        struct problem *ret_problem) {
    struct site copy = *site;
    void *memory = NULL;
    COPY(device_profiles, device_profile_count);
    COPY(areas, area_count);
    COPY(doors, door_count);
    COPY(devices, device_count);
    COPY(zones, zone_count);
    COPY(keypads, keypad_count);
    COPY(people, person_count);
    COPY(ways, way_count);
    COPY(routines, routine_count);
    COPY(removals, removal_count);
    *ret_copy = copy;
    return outcome_good();
}

struct text site_event(const struct site *site, enum site_behaviour behaviour) {
    const struct text delivered = site->panel.events[behaviour];
    const struct text keyed = site->station.events[behaviour];
    const struct text event = keyed.length > 0 ? keyed : delivered;
    return delivered.length == 0 || text_is(event, "none") ? (struct text){0} : event;
}

const char *site_behaviour_name(enum site_behaviour behaviour) {
    static const char *const names[SITE_BEHAVIOUR_COUNT] = {
            [SITE_OUT] = "out",
            [SITE_ENTRY] = "entry",
            [SITE_PERIMETER] = "perimeter",
            [SITE_FOLLOWER] = "follower",
            [SITE_INTERIOR] = "interior",
            [SITE_ALWAYS] = "24-hour",
            [SITE_DAY] = "day",
            [SITE_HOLD_UP] = "hold-up",
            [SITE_MEDICAL] = "medical",
            [SITE_FIRE] = "fire",
            [SITE_GAS] = "gas",
            [SITE_CO] = "co",
            [SITE_FLOOD] = "flood",
            [SITE_COLD] = "cold",
    };
    assert(behaviour < SITE_BEHAVIOUR_COUNT);
    return names[behaviour];
}

const char *site_sense_name(enum site_sense sense) {
    static const char *const names[SITE_SENSE_COUNT] = {
            [SITE_CONTACT] = "contact",
            [SITE_SMOKE] = "smoke",
            [SITE_GAS_SENSE] = "gas",
            [SITE_WATER] = "water",
            [SITE_MOTION] = "motion",
            [SITE_SHOCK] = "shock",
            [SITE_GLASS] = "glass",
            [SITE_BUTTON] = "button",
    };
    assert(sense < SITE_SENSE_COUNT);
    return names[sense];
}

const char *site_sign_name(enum site_sign sign) {
    static const char *const names[SITE_SIGN_COUNT] = {
            [SITE_SIGN_NONE] = "none",
            [SITE_SIGN_SET] = "set",
            [SITE_SIGN_UNSET] = "unset",
            [SITE_SIGN_EXIT_TONE] = "exit tone",
            [SITE_SIGN_ENTRY_TONE] = "entry tone",
            [SITE_SIGN_SIREN] = "siren",
            [SITE_SIGN_READY] = "ready",
            [SITE_SIGN_NOT_READY] = "not ready",
            [SITE_SIGN_CHIME] = "chime",
            [SITE_SIGN_WARNING] = "warning",
            [SITE_SIGN_REFUSED] = "refused",
            [SITE_SIGN_DOOR_OPEN] = "door open",
    };
    assert(sign < SITE_SIGN_COUNT);
    return names[sign];
}

const char *site_act_name(enum site_act act) {
    static const char *const names[SITE_ACT_COUNT] = {
            [SITE_ACT_WAIT] = "wait",
            [SITE_ACT_OPEN] = "open",
            [SITE_ACT_CLOSE] = "close",
            [SITE_ACT_PASS] = "pass",
            [SITE_ACT_COME] = "come",
            [SITE_ACT_GO] = "go",
            [SITE_ACT_WALK] = "walk",
            [SITE_ACT_UNSET] = "unset",
            [SITE_ACT_SET] = "set",
            [SITE_ACT_MISTYPE] = "mistype",
            [SITE_ACT_PRESS] = "press",
            [SITE_ACT_BYPASS] = "bypass",
            [SITE_ACT_POSTPONE] = "postpone",
            [SITE_ACT_TAMPER] = "tamper",
            [SITE_ACT_MAINS_LOST] = "mains lost",
            [SITE_ACT_MAINS_BACK] = "mains back",
            [SITE_ACT_JAMMED] = "jamming starts",
            [SITE_ACT_JAM_OVER] = "jamming ends",
            [SITE_ACT_PATH_LOST] = "path lost",
            [SITE_ACT_PATH_BACK] = "path back",
    };
    assert(act < SITE_ACT_COUNT);
    return names[act];
}

bool site_sense_is_level(enum site_sense sense) {
    switch (sense) {
    case SITE_CONTACT:
    case SITE_SMOKE:
    case SITE_GAS_SENSE:
    case SITE_WATER:
        return true;
    case SITE_MOTION:
    case SITE_SHOCK:
    case SITE_GLASS:
    case SITE_BUTTON:
    case SITE_SENSE_COUNT:
        return false;
    }
    return false;
}

const char *site_kind_name(enum site_kind kind) {
    static const char *const names[SITE_KIND_COUNT] = {
            [SITE_SENSOR] = "sensor",
            [SITE_FOB] = "fob",
            [SITE_KEYPAD_DEVICE] = "keypad",
            [SITE_SIREN] = "siren",
    };
    assert(kind < SITE_KIND_COUNT);
    return names[kind];
}
