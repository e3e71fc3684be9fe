#include "support/random_late.h"

#include "support/random_site.h"

enum { FRONT, SIDE, HALL, ROOM, ZONES, STEP_MOST = 16 };

struct draft {
    uint64_t state;
    struct arena *arena;
    struct site *site;
    struct site_step steps[STEP_MOST];
    size_t step_count;
};

static int32_t draw(struct draft *draft, int32_t low, int32_t high) {
    return low + (int32_t)(random_next(&draft->state) % ((uint64_t)(high - low) + 1));
}

static bool chance(struct draft *draft, int32_t percent) {
    return draw(draft, 0, 99) < percent;
}

/* ---- the site --------------------------------------------------------------------------------------------------- */

/* Over one that random_site built: its panel, doors and people are taken, its zones are written anew. */
static void set_devices(struct draft *draft) {
    struct site *site = draft->site;
    struct site_device_profile *contact = &site->device_profiles[0];
    struct site_device_profile *motion = &site->device_profiles[1];
    contact->radio = motion->radio = true;
    contact->latency = span_of(0, draw(draft, 0, 2));
    const int32_t latency_s = draw(draft, 0, 3);
    motion->latency = span_of(latency_s, latency_s + draw(draft, 0, 1));
    motion->hold = span_of(0, draw(draft, 0, 3));
    if (chance(draft, 40)) {
        const int32_t sleep_s = draw(draft, 2, 9);
        motion->sleep = span_of(sleep_s, sleep_s);
    }
}

static void set_zone(struct draft *draft, int index, enum site_behaviour behaviour, int door) {
    struct site *site = draft->site;
    struct site_zone *zone = &site->zones[index];
    site->devices[index] = (struct site_device){
            .name = text_of("device"), .profile = door == SITE_NONE, .door = door};
    *zone = (struct site_zone){.number = index + 1,
            .name = text_of("zone"),
            .device = index,
            .behaviour = behaviour,
            .reports = chance(draft, behaviour == SITE_ENTRY ? 40 : 90),
            .bypassable = true,
            .swinger = chance(draft, 50),
            .pulse_count = 1,
            .cross_with = SITE_NONE};
    for (int mode = 0; mode < SITE_MODE_MAX; mode++) {
        zone->in[mode] = behaviour;
        zone->delay[mode] = behaviour == SITE_ENTRY ? index : SITE_NONE;
    }
    zone->follows = behaviour == SITE_FOLLOWER ? (uint32_t)draw(draft, 1, 3) : 0;
}

static void set_zones(struct draft *draft) {
    struct site *site = draft->site;
    site->area_count = 1;
    site->keypad_count = 1;
    site->keypads[0].areas = 1;
    site->zone_count = site->device_count = ZONES;
    set_zone(draft, FRONT, SITE_ENTRY, 0);
    set_zone(draft, SIDE, chance(draft, 70) ? SITE_ENTRY : SITE_FOLLOWER, 1);
    set_zone(draft, HALL, SITE_FOLLOWER, SITE_NONE);
    set_zone(draft, ROOM, chance(draft, 50) ? SITE_FOLLOWER : SITE_INTERIOR, SITE_NONE);
    for (size_t i = 0; i < site->person_count; i++) {
        site->people[i].areas = 1;
    }
}

static void set_panel(struct draft *draft) {
    struct site_settings *settings = &draft->site->settings;
    settings->tolerance_tenths = chance(draft, 80) ? 0 : 1;
    settings->modes[SITE_MODE_FULL].exit_delay_s = draw(draft, 1, 4);
    settings->delays[0].seconds_s = draw(draft, 2, 9);
    settings->delays[1].seconds_s = draw(draft, 2, 9);
    settings->abort_window_s = chance(draft, 40) ? 0 : draw(draft, 1, 3);
    settings->siren_time_s = draw(draft, 1, 6);
    settings->siren_hold_back_s = chance(draft, 50) ? 0 : draw(draft, 5, 15);
    settings->swinger_limit = chance(draft, 30) ? 1 : 0;
    settings->off_route = chance(draft, 75) ? SITE_OFF_ROUTE_NOW : SITE_OFF_ROUTE_EN;
    settings->motion_blocks = chance(draft, 20);
    settings->drop_to_part = false;
}

/* ---- what people do --------------------------------------------------------------------------------------------- */

static struct site_step *add_step(
        struct draft *draft, int who, int32_t low_s, int32_t spread_s, enum site_act act) {
    const int32_t from_s = low_s < 0 ? 0 : low_s;
    struct site_step *step =
            &draft->steps[draft->step_count < STEP_MOST ? draft->step_count++ : STEP_MOST - 1];
    *step = (struct site_step){.who = who,
            .in = span_of(from_s, from_s + (chance(draft, 70) ? 0 : spread_s)),
            .has_in = true,
            .after_step = SITE_NONE,
            .when_area = SITE_NONE,
            .if_area = SITE_NONE,
            .act = act,
            .door = SITE_NONE,
            .zone = SITE_NONE,
            .way = SITE_NONE,
            .keypad = SITE_NONE};
    return step;
}

/* Up to the end of an entry time that is still to run so long, less what a message takes. */
static void tread_late(struct draft *draft, int32_t rest_s) {
    const int32_t latency_s = draft->site->device_profiles[1].latency.low_s;
    int32_t gone_s = 0;
    if (chance(draft, 40)) {
        const bool open = chance(draft, 60);
        gone_s = draw(draft, 0, 2);
        add_step(draft, 0, gone_s, 1, open ? SITE_ACT_OPEN : SITE_ACT_CLOSE)->door = open ? 1 : 0;
    }
    add_step(draft, 0, rest_s - gone_s - latency_s + draw(draft, -2, 2), 2, SITE_ACT_PASS)->zone =
            chance(draft, 75) ? HALL : ROOM;
    if (chance(draft, 40)) {
        add_step(draft, 0, draw(draft, 0, 3), 1, SITE_ACT_PASS)->zone = HALL;
    }
    if (chance(draft, 25)) {
        add_step(draft, 0, draw(draft, 0, 2), 1, SITE_ACT_CLOSE)->door = 0;
    }
    if (chance(draft, 70)) {
        add_step(draft, 0, draw(draft, 0, 8), 2, SITE_ACT_UNSET)->keypad = 0;
    }
}

/* A trip that swings the zone out comes first, now and then. */
static void come_late(struct draft *draft) {
    struct site *site = draft->site;
    site->routines[0].starts[0] = (struct site_start){.set = true, .mode = SITE_MODE_FULL};
    add_step(draft, 0, 0, 1, SITE_ACT_OPEN)->door = 0;
    if (site->settings.swinger_limit > 0 && chance(draft, 60)) {
        add_step(draft, 0, 0, 0, SITE_ACT_CLOSE)->door = 0;
        const int32_t over_s = site->settings.delays[0].seconds_s + site->settings.siren_time_s;
        add_step(draft, 0, over_s + draw(draft, 0, 4), 1, SITE_ACT_OPEN)->door = 0;
    }
    tread_late(draft, site->settings.delays[0].seconds_s);
}

static void leave_it_open(struct draft *draft) {
    struct site *site = draft->site;
    const int32_t exit_s = site->settings.modes[SITE_MODE_FULL].exit_delay_s;
    site->routines[0].starts[0].set = false;
    if (chance(draft, 50)) {
        add_step(draft, 0, 0, 1, SITE_ACT_PASS)->zone = HALL;
    }
    struct site_step *set = add_step(draft, 0, draw(draft, 0, 6), 1, SITE_ACT_SET);
    set->keypad = 0;
    set->mode = SITE_MODE_FULL;
    const int32_t opens_s = draw(draft, 0, exit_s - 1);
    const int door = chance(draft, 70) ? 0 : 1;
    add_step(draft, 0, opens_s, 0, SITE_ACT_OPEN)->door = door;
    if (chance(draft, 40)) {
        add_step(draft, 0, 0, 1, SITE_ACT_PASS)->zone = HALL;
    }
    tread_late(draft, exit_s - opens_s + site->settings.delays[0].seconds_s);
}

static bool hand_over(struct draft *draft) {
    struct site_routine *routine = &draft->site->routines[0];
    if (draft->site->person_count > 1 && chance(draft, 40)) {
        const int32_t last = (int32_t)draft->step_count - 1;
        struct site_step *set = add_step(draft, 1, draw(draft, 0, 4), 2, SITE_ACT_SET);
        set->keypad = 0;
        set->mode = SITE_MODE_FULL;
        set->after_step = chance(draft, 80) ? last : SITE_NONE;
    }
    routine->steps = ARENA_ARRAY(draft->arena, struct site_step, draft->step_count);
    routine->step_count = draft->step_count;
    for (size_t i = 0; i < draft->step_count && routine->steps != NULL; i++) {
        routine->steps[i] = draft->steps[i];
    }
    return routine->steps != NULL;
}

bool random_late_build(uint64_t number, struct arena *arena, struct site *ret_site) {
    const struct random_wish wish = {.family = RANDOM_PLAIN, .seed = number, .scale = 1};
    struct draft draft = {
            .state = number * 0x9E6C63D0876A9A47U + 5, .arena = arena, .site = ret_site};
    if (!random_site_build(&wish, arena, ret_site)) {
        return false;
    }
    set_devices(&draft);
    set_zones(&draft);
    set_panel(&draft);
    if (chance(&draft, 60)) {
        come_late(&draft);
    } else {
        leave_it_open(&draft);
    }
    return hand_over(&draft);
}
