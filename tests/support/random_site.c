#include "support/random_site.h"

#include <string.h>

enum { DOOR_MOST = 3, ZONE_MOST = 5, STEP_MOST = 12, PEOPLE_MOST = 2, AREA_MOST = 2 };

/* What is being drawn. `at` is where each person's next step goes; steps are ordered by person at the end. */
struct draft {
    uint64_t state;
    const struct random_wish *wish;
    struct arena *arena;
    struct site *site;
    struct site_routine *routine;
    struct site_step steps[PEOPLE_MOST][STEP_MOST];
    size_t step_count[PEOPLE_MOST];
    int setter; /* the only person who sets */
};

/* From low to high, both included. */
static int32_t draw(struct draft *draft, int32_t low, int32_t high) {
    const uint64_t width = (uint64_t)(high - low) + 1;
    return low + (int32_t)(random_next(&draft->state) % width);
}

static bool chance(struct draft *draft, int32_t percent) {
    return draw(draft, 0, 99) < percent;
}

static struct span draw_span(struct draft *draft, int32_t most_s) {
    const int32_t low = draw(draft, 0, most_s);
    return span_of(low, chance(draft, 35) ? low : draw(draft, low, most_s));
}

struct random_wish random_wish_of(uint64_t number) {
    struct random_wish wish = {.seed = number, .scale = 1, .reactions = number / 12 % 4 == 3};
    const uint64_t turn = number % 12;
    if (turn >= 5) {
        wish.family = turn >= 9 ? RANDOM_CHOICES : (enum random_family)(RANDOM_TRAP + (turn - 5));
        wish.scale = number / 12 % 3 == 2 ? 2 : 1;
    }
    return wish;
}

/* ---- the building and what is keyed in ---- */

static const char *const ROOM_NAMES[ZONE_MOST] = {"front", "side", "hall", "room", "yard"};
static const char *const PEOPLE_NAMES[PEOPLE_MOST] = {"first person", "second person"};

static bool take_arrays(struct draft *draft) {
    struct site *site = draft->site;
    site->device_profile_count = 2;
    site->device_profiles = ARENA_ARRAY(draft->arena, struct site_device_profile, 2);
    site->areas = ARENA_ARRAY(draft->arena, struct site_area, AREA_MOST);
    site->doors = ARENA_ARRAY(draft->arena, struct site_door, DOOR_MOST);
    site->devices = ARENA_ARRAY(draft->arena, struct site_device, ZONE_MOST);
    site->zones = ARENA_ARRAY(draft->arena, struct site_zone, ZONE_MOST);
    site->keypads = ARENA_ARRAY(draft->arena, struct site_keypad, AREA_MOST);
    site->people = ARENA_ARRAY(draft->arena, struct site_person, PEOPLE_MOST);
    site->routines = ARENA_ARRAY(draft->arena, struct site_routine, 1);
    if (site->device_profiles == NULL || site->areas == NULL || site->doors == NULL ||
            site->devices == NULL || site->zones == NULL || site->keypads == NULL ||
            site->people == NULL || site->routines == NULL) {
        return false;
    }
    site->device_profiles[0] =
            (struct site_device_profile){.name = text_of("contact"), .sense = SITE_CONTACT};
    site->device_profiles[1] =
            (struct site_device_profile){.name = text_of("motion"), .sense = SITE_MOTION};
    site->routine_count = 1;
    draft->routine = &site->routines[0];
    return true;
}

static void set_panel(struct draft *draft) {
    struct site *site = draft->site;
    site->name = text_of("random site");
    site->invented = true;
    site->panel = (struct site_panel_profile){
            .name = text_of("any"),
            .zone_most = SITE_ZONE_MAX,
            .area_most = SITE_AREA_MAX,
            .exit_delay = span_of(0, 3600),
            .entry_delay = span_of(0, 3600),
            .abort_window = span_of(0, 3600),
            .behaviours = ~(uint32_t)0,
    };
    struct site_settings *settings = &site->settings;
    *settings = site_settings_usual();
    settings->swinger_limit = 0;
    settings->confirm_window_s = 0;
    settings->lockout_tries = 0;
    settings->modes[SITE_MODE_FULL].exit_delay_s = draw(draft, 0, 12);
    settings->modes[SITE_MODE_PART].exit_delay_s = chance(draft, 50) ? 0 : draw(draft, 1, 6);
    settings->modes[SITE_MODE_NIGHT].exit_delay_s = 0;
    settings->delay_count = 2;
    settings->delays[0] =
            (struct site_delay){.name = text_of("long"), .seconds_s = draw(draft, 1, 8)};
    settings->delays[1] =
            (struct site_delay){.name = text_of("short"), .seconds_s = draw(draft, 0, 6)};
    settings->abort_window_s = draw(draft, 0, 5);
    settings->siren_time_s = draw(draft, 1, 15);
    settings->tolerance_tenths = draft->wish->no_tolerance || chance(draft, 50) ? 0 : 1;
    settings->motion_blocks = chance(draft, 30);
    settings->entry_open_allowed = chance(draft, 50);
    settings->exit_restart = chance(draft, 50);
    settings->drop_to_part = chance(draft, 30);
    settings->off_route = chance(draft, 70) ? SITE_OFF_ROUTE_NOW : SITE_OFF_ROUTE_EN;
    settings->second_entry = chance(draft, 50) ? SITE_SECOND_SHORTEN : SITE_SECOND_KEEP;
    settings->exit_trip = SITE_EXIT_TRIP_ALARM;
}

static void set_places(struct draft *draft) {
    struct site *site = draft->site;
    site->area_count = draft->wish->family == RANDOM_PLAIN && chance(draft, 25) ? 2 : 1;
    if (draft->wish->family == RANDOM_KIOSK) {
        site->area_count = chance(draft, 60) ? 2 : 1;
    }
    site->areas[0].name = text_of("house");
    site->areas[1].name = text_of("shop");
    site->door_count = DOOR_MOST;
    for (size_t i = 0; i < DOOR_MOST; i++) {
        site->doors[i] = (struct site_door){.name = text_of(ROOM_NAMES[i]), .outside = i < 2};
    }
    const uint32_t all = (1U << site->area_count) - 1U;
    site->keypad_count = site->area_count == 2 && chance(draft, 60) ? 2 : 1;
    for (size_t i = 0; i < site->keypad_count; i++) {
        site->keypads[i].name = text_of(i == 0 ? "keypad" : "second keypad");
        site->keypads[i].areas = site->keypad_count == 2 ? 1U << i : all;
    }
    site->person_count = chance(draft, 60) ? 2 : 1;
    for (size_t i = 0; i < site->person_count; i++) {
        site->people[i] = (struct site_person){
                .name = text_of(PEOPLE_NAMES[i]), .areas = all, .has_code = true};
    }
}

/* Door zones stand on doors 0 to 2 in order, then motion detectors. */
static void add_zone(struct draft *draft, enum site_behaviour behaviour, int door, int area) {
    struct site *site = draft->site;
    const size_t i = site->zone_count++;
    site->devices[i] = (struct site_device){
            .name = text_of(ROOM_NAMES[i]), .profile = door == SITE_NONE, .door = door};
    site->device_count = site->zone_count;
    struct site_zone *zone = &site->zones[i];
    *zone = (struct site_zone){.number = (int32_t)i + 1,
            .name = text_of(ROOM_NAMES[i]),
            .device = (int)i,
            .area = area,
            .behaviour = behaviour,
            .reports = true,
            .bypassable = true,
            .pulse_count = 1,
            .cross_with = SITE_NONE};
    const int delay = behaviour == SITE_ENTRY ? (chance(draft, 65) ? 0 : 1) : SITE_NONE;
    for (int mode = 0; mode < SITE_MODE_MAX; mode++) {
        zone->in[mode] = site_usual_in(behaviour, mode);
        zone->delay[mode] = delay;
    }
    if (behaviour == SITE_FOLLOWER) {
        zone->follows = chance(draft, 60) ? 0U : 1U;
        zone->hold_s = chance(draft, 40) ? draw(draft, 1, 4) : 0;
    }
    if (chance(draft, 20)) {
        if (behaviour == SITE_ENTRY && chance(draft, 50)) {
            zone->delay[SITE_MODE_PART] = delay == 0 ? 1 : 0;
        } else if (behaviour == SITE_ENTRY) {
            zone->in[SITE_MODE_PART] = SITE_PERIMETER;
            zone->delay[SITE_MODE_PART] = SITE_NONE;
        } else if (behaviour == SITE_PERIMETER) {
            zone->in[SITE_MODE_PART] = SITE_OUT;
        }
    }
}

static void set_zones(struct draft *draft) {
    const int last = (int)draft->site->area_count - 1;
    add_zone(draft, SITE_ENTRY, 0, 0);
    add_zone(draft, chance(draft, 40) ? SITE_ENTRY : SITE_PERIMETER, 1, last);
    const int32_t most = draw(draft, 2, ZONE_MOST);
    if (most > 2) {
        add_zone(draft, SITE_FOLLOWER, chance(draft, 40) ? 2 : SITE_NONE, 0);
    }
    if (most > 3) {
        /* An interior contact that is open where nobody left: alarm or part set? The page leaves it open. */
        const bool contact = draft->site->zones[2].device >= 0 &&
                draft->site->devices[2].door == SITE_NONE && !draft->site->settings.drop_to_part &&
                chance(draft, 40);
        add_zone(draft, SITE_INTERIOR, contact ? 2 : SITE_NONE, last);
    }
    if (most > 4) {
        add_zone(draft, chance(draft, 50) ? SITE_PERIMETER : SITE_FOLLOWER, SITE_NONE, 0);
    }
    if (chance(draft, 10)) {
        for (size_t i = 0; i < draft->site->zone_count; i++) {
            draft->site->zones[i].reports = false;
        }
    }
}

/* ---- what people do ---- */

static struct site_step *add_step(struct draft *draft, int who, enum site_act act, struct span in) {
    if (draft->step_count[who] == STEP_MOST) {
        return &draft->steps[who][STEP_MOST - 1];
    }
    struct site_step *step = &draft->steps[who][draft->step_count[who]++];
    *step = (struct site_step){.who = who,
            .in = in,
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

static void add_door(struct draft *draft, int who, enum site_act act, int door, struct span in) {
    add_step(draft, who, act, in)->door = door;
}

static void add_code(
        struct draft *draft, int who, enum site_act act, int mode, int keypad, struct span in) {
    struct site_step *step = add_step(draft, who, act, in);
    step->keypad = keypad;
    step->mode = mode;
}

static bool zone_moves(const struct site *site, size_t zone) {
    return site->devices[site->zones[zone].device].door == SITE_NONE;
}

/* Walks past one of the motion detectors, where there is one. */
static void add_pass(struct draft *draft, int who, struct span in) {
    const struct site *site = draft->site;
    const size_t first = (size_t)draw(draft, 0, (int32_t)site->zone_count - 1);
    for (size_t k = 0; k < site->zone_count; k++) {
        const size_t zone = (first + k) % site->zone_count;
        if (zone_moves(site, zone)) {
            add_step(draft, who, SITE_ACT_PASS, in)->zone = (int)zone;
            return;
        }
    }
}

static int draw_door(struct draft *draft) {
    return chance(draft, 60) ? 0 : draw(draft, 0, DOOR_MOST - 1);
}

static int draw_keypad(struct draft *draft) {
    return draw(draft, 0, (int32_t)draft->site->keypad_count - 1);
}

static void come_home(struct draft *draft, int who, int32_t most_s) {
    const int door = draw_door(draft);
    add_door(draft, who, SITE_ACT_OPEN, door, draw_span(draft, most_s));
    if (chance(draft, 70)) {
        add_door(draft, who, SITE_ACT_CLOSE, door, draw_span(draft, most_s / 2));
    }
    if (chance(draft, 50)) {
        add_pass(draft, who, draw_span(draft, most_s / 2));
    }
    if (chance(draft, 90)) {
        add_code(draft, who, SITE_ACT_UNSET, 0, draw_keypad(draft), draw_span(draft, most_s));
    }
}

static void go_out(struct draft *draft, int who, int32_t most_s) {
    const int door = draw_door(draft);
    add_code(draft, who, SITE_ACT_SET, chance(draft, 70) ? SITE_MODE_FULL : SITE_MODE_PART,
            draw_keypad(draft), draw_span(draft, most_s));
    if (chance(draft, 30)) {
        add_pass(draft, who, draw_span(draft, most_s / 2));
    }
    if (chance(draft, 85)) {
        add_door(draft, who, SITE_ACT_OPEN, door, draw_span(draft, most_s));
        if (chance(draft, 85)) {
            add_door(draft, who, SITE_ACT_CLOSE, door, draw_span(draft, most_s / 2));
        }
    }
}

static void look_out(struct draft *draft, int who, int32_t most_s) {
    const int door = draw_door(draft);
    add_door(draft, who, SITE_ACT_OPEN, door, draw_span(draft, most_s));
    add_door(draft, who, SITE_ACT_CLOSE, door, draw_span(draft, most_s));
}

static void add_anything(struct draft *draft, int who, int32_t most_s) {
    switch (draw(draft, 0, 4)) {
    case 0:
        add_door(draft, who, SITE_ACT_OPEN, draw_door(draft), draw_span(draft, most_s));
        return;
    case 1:
        add_door(draft, who, SITE_ACT_CLOSE, draw_door(draft), draw_span(draft, most_s));
        return;
    case 2:
        add_pass(draft, who, draw_span(draft, most_s));
        return;
    case 3:
        add_code(draft, who, SITE_ACT_UNSET, 0, draw_keypad(draft), draw_span(draft, most_s));
        return;
    case 4:
        add_code(draft, who, SITE_ACT_SET, draw(draft, SITE_MODE_FULL, SITE_MODE_PART),
                draw_keypad(draft), draw_span(draft, most_s));
        return;
    }
}

static void act_plainly(struct draft *draft) {
    for (size_t i = 0; i < draft->site->person_count; i++) {
        const int who = (int)i;
        const size_t most = (size_t)draw(draft, 1, 4);
        while (draft->step_count[who] < most) {
            const int32_t kind = draw(draft, 0, 9);
            if (kind < 4) {
                come_home(draft, who, 6);
            } else if (kind < 7) {
                go_out(draft, who, 6);
            } else if (kind < 8) {
                look_out(draft, who, 6);
            } else {
                add_anything(draft, who, 6);
            }
        }
        if (draft->step_count[who] > 5) {
            draft->step_count[who] = 5;
        }
    }
}

/* ---- families built to break reductions ---- */

static void have_two_people(struct site *site) {
    site->person_count = 2;
    site->people[1] = site->people[0];
    site->people[1].name = text_of(PEOPLE_NAMES[1]);
}

/* The page's own case, every time divided by ten but for a random shift of the second person: two steps of 1 to 2 s,
 * then set (exit 3 s); the door opens at 5 s and closes soon. Whether the end of the exit time can fall between the
 * two is decided by a timer that starts only later. */
static void act_trap(struct draft *draft) {
    struct site *site = draft->site;
    const int32_t unit = draw(draft, 1, 4);
    have_two_people(site);
    site->settings.drop_to_part = false;
    site->settings.modes[SITE_MODE_FULL].exit_delay_s = 3 * unit;
    site->settings.delays[0].seconds_s = draw(draft, 2, 8);
    draft->routine->starts[0].set = false;
    add_step(draft, 0, SITE_ACT_WAIT, span_of(unit, 2 * unit));
    add_step(draft, 0, SITE_ACT_WAIT, span_of(unit, 2 * unit));
    add_code(draft, 0, SITE_ACT_SET, SITE_MODE_FULL, 0, span_of(0, 0));
    const int32_t opens_s = draw(draft, 4 * unit, 8 * unit);
    const int32_t open_for_s = draw(draft, 0, 2);
    add_door(draft, 1, SITE_ACT_OPEN, 0, span_of(opens_s, opens_s));
    add_door(draft, 1, SITE_ACT_CLOSE, 0, span_of(open_for_s, open_for_s));
    const int32_t code_s = draw(draft, 0, 2);
    add_code(draft, 1, SITE_ACT_UNSET, 0, 0, span_of(code_s, code_s));
}

/* Every span is one number, tolerance mostly off: the code comes on the second of the deadline or one beside it. */
static void act_ties(struct draft *draft) {
    struct site *site = draft->site;
    if (chance(draft, 70)) {
        site->settings.tolerance_tenths = 0;
    }
    const int32_t delay_s = draw(draft, 2, 8);
    site->settings.delays[0].seconds_s = delay_s;
    for (int mode = 0; mode < SITE_MODE_MAX; mode++) {
        site->zones[0].delay[mode] = site->zones[0].in[mode] == SITE_ENTRY ? 0 : SITE_NONE;
    }
    if (chance(draft, 50)) {
        draft->routine->starts[0] = (struct site_start){.set = true, .mode = SITE_MODE_FULL};
        const int32_t closes_s = draw(draft, 0, delay_s);
        const int32_t code_s = delay_s - closes_s + draw(draft, -1, 1);
        add_door(draft, 0, SITE_ACT_OPEN, 0, span_of(1, draw(draft, 1, 3)));
        add_door(draft, 0, SITE_ACT_CLOSE, 0, span_of(closes_s, closes_s));
        add_code(draft, 0, SITE_ACT_UNSET, 0, 0,
                span_of(code_s < 0 ? 0 : code_s, code_s < 0 ? 0 : code_s));
    } else {
        const int32_t exit_s = draw(draft, 2, 9);
        site->settings.modes[SITE_MODE_FULL].exit_delay_s = exit_s;
        draft->routine->starts[0].set = false;
        add_code(draft, 0, SITE_ACT_SET, SITE_MODE_FULL, 0, span_of(1, 2));
        const int32_t opens_s = draw(draft, 0, exit_s);
        const int32_t closes_s = exit_s - opens_s + draw(draft, -1, 1);
        add_door(draft, 0, SITE_ACT_OPEN, 0, span_of(opens_s, opens_s));
        add_door(draft, 0, SITE_ACT_CLOSE, 0,
                span_of(closes_s < 0 ? 0 : closes_s, closes_s < 0 ? 0 : closes_s));
    }
    if (site->person_count == 2) {
        look_out(draft, 1, 4);
    }
}

/* Entry, its end, the abort window that this end starts; the siren is expected, the code comes near the end. */
static void act_cascade(struct draft *draft) {
    struct site *site = draft->site;
    site->settings.off_route = SITE_OFF_ROUTE_NOW;
    site->settings.abort_window_s = draw(draft, 1, 6);
    draft->routine->expects = SITE_EXPECT_SIREN;
    draft->routine->starts[0] =
            (struct site_start){.set = chance(draft, 60), .mode = SITE_MODE_FULL};
    if (!draft->routine->starts[0].set) {
        go_out(draft, 0, 3);
    }
    add_door(draft, 0, SITE_ACT_OPEN, 0, draw_span(draft, 6));
    add_door(draft, 0, SITE_ACT_CLOSE, 0, draw_span(draft, 2));
    const int32_t sum_s = site->settings.delays[0].seconds_s + site->settings.abort_window_s;
    const int32_t code_s = sum_s - draw(draft, 0, 6);
    add_code(draft, 0, SITE_ACT_UNSET, 0, 0,
            span_of(code_s < 0 ? 0 : code_s, (code_s < 0 ? 0 : code_s) + 1));
    if (site->person_count == 2) {
        look_out(draft, 1, 5);
        if (chance(draft, 40)) {
            add_pass(draft, 1, draw_span(draft, 3));
        }
    }
}

static void act_chain(struct draft *draft) {
    while (draft->step_count[0] < 8) {
        if (chance(draft, 50)) {
            come_home(draft, 0, 2);
        } else {
            go_out(draft, 0, 2);
        }
    }
    if (draft->site->person_count == 2) {
        look_out(draft, 1, 5);
    }
}

/* One person, every span one number or two beside each other, around the instant that the choice moves. */
static struct span near(struct draft *draft, int32_t instant_s) {
    const int32_t low = instant_s + draw(draft, -1, 1);
    return span_of(low < 0 ? 0 : low, (low < 0 ? 0 : low) + draw(draft, 0, 1));
}

static void begin_set(struct draft *draft, int mode) {
    draft->routine->starts[0] = (struct site_start){.set = true, .mode = mode};
}

/* The first door gives the long delay, the second the short one; the code comes near one of the two ends. */
static void choose_second_entry(struct draft *draft) {
    struct site *site = draft->site;
    const int32_t long_s = draw(draft, 5, 9);
    const int32_t short_s = draw(draft, 0, 3);
    const int32_t between_s = draw(draft, 0, 3);
    begin_set(draft, SITE_MODE_FULL);
    site->settings.delays[0].seconds_s = long_s;
    site->settings.delays[1].seconds_s = short_s;
    for (int mode = 0; mode < SITE_MODE_MAX; mode++) {
        site->zones[0].in[mode] = site->zones[1].in[mode] = SITE_ENTRY;
        site->zones[0].delay[mode] = 0;
        site->zones[1].delay[mode] = 1;
    }
    site->zones[1].behaviour = SITE_ENTRY;
    add_door(draft, 0, SITE_ACT_OPEN, 0, span_of(1, 1));
    add_door(draft, 0, SITE_ACT_OPEN, 1, span_of(between_s, between_s));
    if (chance(draft, 40)) {
        add_pass(draft, 0, span_of(0, 0));
    }
    add_code(draft, 0, SITE_ACT_UNSET, 0, 0,
            near(draft, chance(draft, 50) ? short_s - 1 : long_s - between_s - 1));
}

/* Forgotten keys: out, in, out again; the door closes for good between the two ends of the exit time. */
static void choose_restart(struct draft *draft) {
    struct site *site = draft->site;
    const int32_t exit_s = draw(draft, 4, 9);
    const int mode = draw(draft, SITE_MODE_FULL, SITE_MODE_PART);
    draft->routine->starts[0].set = false;
    site->settings.modes[mode].exit_delay_s = exit_s;
    site->settings.exit_restart = chance(draft, 80);
    site->zones[0].in[SITE_MODE_PART] = SITE_ENTRY;
    site->zones[0].delay[SITE_MODE_PART] = 0;
    const bool open_before = chance(draft, 30);
    if (open_before) {
        add_door(draft, 0, SITE_ACT_OPEN, 0, span_of(1, 1));
    }
    add_code(draft, 0, SITE_ACT_SET, mode, 0, span_of(1, 1));
    if (!open_before) {
        add_door(draft, 0, SITE_ACT_OPEN, 0, span_of(0, 1));
    }
    const int32_t again_s = draw(draft, 1, exit_s - 2);
    add_door(draft, 0, SITE_ACT_CLOSE, 0, span_of(0, 0));
    add_door(draft, 0, SITE_ACT_OPEN, 0, span_of(again_s, again_s));
    if (chance(draft, 30)) { /* a third opening changes nothing */
        add_door(draft, 0, SITE_ACT_CLOSE, 0, span_of(0, 0));
        add_door(draft, 0, SITE_ACT_OPEN, 0, span_of(1, 2));
    }
    add_door(draft, 0, SITE_ACT_CLOSE, 0,
            near(draft, chance(draft, 60) ? exit_s - 1 : exit_s - again_s - 1));
}

/* The hall detector overtakes the door's contact by about its hold. */
static void choose_hold(struct draft *draft) {
    struct site *site = draft->site;
    begin_set(draft, SITE_MODE_FULL);
    for (size_t i = 0; i < site->zone_count; i++) {
        if (site->zones[i].behaviour == SITE_FOLLOWER && zone_moves(site, i)) {
            site->zones[i].hold_s = draw(draft, 0, 4);
            add_step(draft, 0, SITE_ACT_PASS, span_of(1, 1))->zone = (int)i;
            add_door(draft, 0, SITE_ACT_OPEN, 0, near(draft, site->zones[i].hold_s - 1));
            add_code(draft, 0, SITE_ACT_UNSET, 0, 0, span_of(0, 1));
            return;
        }
    }
    come_home(draft, 0, 4);
}

/* Part set has its own exit time and its own entry delay; going to full keeps what part protects. */
static void choose_part(struct draft *draft) {
    struct site *site = draft->site;
    const int32_t exit_s = draw(draft, 1, 6);
    site->settings.modes[SITE_MODE_PART].exit_delay_s = exit_s;
    if (chance(draft, 40)) {
        draft->routine->starts[0].set = false;
        add_code(draft, 0, SITE_ACT_SET, SITE_MODE_PART, 0, span_of(1, 1));
        add_door(draft, 0, SITE_ACT_OPEN, draw(draft, 0, 1), near(draft, exit_s - 1));
        add_door(draft, 0, SITE_ACT_CLOSE, 0, span_of(0, 1));
        add_code(draft, 0, SITE_ACT_UNSET, 0, 0, span_of(0, 1));
    } else if (chance(draft, 50)) {
        begin_set(draft, SITE_MODE_PART);
        add_door(draft, 0, SITE_ACT_OPEN, 0, span_of(1, 1));
        add_code(draft, 0, SITE_ACT_UNSET, 0, 0,
                near(draft, site->settings.delays[draw(draft, 0, 1)].seconds_s - 1));
    } else {
        begin_set(draft, SITE_MODE_PART);
        add_code(draft, 0, SITE_ACT_SET, SITE_MODE_FULL, 0, span_of(1, 1));
        add_door(draft, 0, SITE_ACT_OPEN, chance(draft, 80) ? 0 : 1,
                near(draft, site->settings.modes[SITE_MODE_FULL].exit_delay_s - 1));
        add_door(draft, 0, SITE_ACT_CLOSE, 0, span_of(0, 1));
        add_code(draft, 0, SITE_ACT_UNSET, 0, 0, span_of(0, 3));
    }
}

/* The door moves just before or just after the end of the exit time: has somebody left, does it stand open? */
static void choose_end_of_exit(struct draft *draft) {
    struct site *site = draft->site;
    const int32_t exit_s = draw(draft, 0, 8);
    draft->routine->starts[0].set = false;
    site->settings.modes[SITE_MODE_FULL].exit_delay_s = exit_s;
    if (chance(draft, 40)) {
        add_door(draft, 0, SITE_ACT_OPEN, draw(draft, 0, DOOR_MOST - 1), span_of(1, 1));
    }
    add_code(draft, 0, SITE_ACT_SET, SITE_MODE_FULL, 0, span_of(0, 1));
    const int door = chance(draft, 60) ? 0 : draw(draft, 0, DOOR_MOST - 1);
    if (chance(draft, 50)) {
        add_door(draft, 0, SITE_ACT_OPEN, door, span_of(0, 0));
    }
    add_door(draft, 0, SITE_ACT_CLOSE, door, near(draft, exit_s - 1));
}

static void act_choices(struct draft *draft) {
    draft->site->person_count = 1;
    if (chance(draft, 60)) {
        draft->site->settings.tolerance_tenths = 0;
    }
    switch (draw(draft, 0, 4)) {
    case 0:
        choose_second_entry(draft);
        return;
    case 1:
        choose_restart(draft);
        return;
    case 2:
        choose_hold(draft);
        return;
    case 3:
        choose_part(draft);
        return;
    case 4:
        choose_end_of_exit(draft);
        return;
    }
}

/* ---- what the page leaves open is not asked ---- */

/* Only one person sets, and only where the area is known to be unset (or from part to full where it began so). */
static void keep_to_the_page(struct draft *draft) {
    const struct site *site = draft->site;
    bool may_set[AREA_MOST];
    for (size_t a = 0; a < site->area_count; a++) {
        may_set[a] = !draft->routine->starts[a].set;
    }
    bool fresh_part = site->area_count == 1 && draft->routine->starts[0].set &&
            draft->routine->starts[0].mode == SITE_MODE_PART && draft->routine->expects == 0;
    for (size_t i = 0; i < site->person_count; i++) {
        for (size_t k = 0; k < draft->step_count[i]; k++) {
            struct site_step *step = &draft->steps[i][k];
            const uint32_t areas = step->keypad < 0 ? 0U : site->keypads[step->keypad].areas;
            bool fine = (int)i == draft->setter;
            for (size_t a = 0; a < site->area_count && step->act == SITE_ACT_SET; a++) {
                fine = fine && ((areas >> a & 1U) == 0 || may_set[a]);
            }
            if (step->act == SITE_ACT_SET && !fine && (int)i == draft->setter && fresh_part) {
                step->mode = SITE_MODE_FULL;
                fine = true;
            }
            if (step->act == SITE_ACT_SET && !fine) {
                step->act = SITE_ACT_WAIT;
                step->keypad = SITE_NONE;
            } else if ((step->act == SITE_ACT_SET || step->act == SITE_ACT_UNSET) &&
                    (int)i == draft->setter) {
                const bool certain = !step->maybe && step->if_sign == SITE_SIGN_NONE;
                for (size_t a = 0; a < site->area_count; a++) {
                    if ((areas >> a & 1U) != 0) {
                        may_set[a] = step->act == SITE_ACT_UNSET && certain;
                    }
                }
                fresh_part = false;
            }
        }
    }
}

/* From part to full, the part set goes on protecting while the exit time runs: its zones must mean the same. */
static void keep_part_and_full_alike(struct draft *draft) {
    struct site *site = draft->site;
    if (!draft->routine->starts[0].set || draft->routine->starts[0].mode != SITE_MODE_PART) {
        return;
    }
    for (size_t i = 0; i < site->zone_count; i++) {
        struct site_zone *zone = &site->zones[i];
        for (int mode = 0; mode < SITE_MODE_MAX; mode++) {
            zone->in[mode] = site_usual_in(zone->behaviour, mode);
            zone->delay[mode] = zone->delay[SITE_MODE_FULL];
        }
    }
}

static void add_reactions(struct draft *draft) {
    for (size_t i = 0; i < draft->site->person_count; i++) {
        for (size_t k = 0; k < draft->step_count[i]; k++) {
            struct site_step *step = &draft->steps[i][k];
            if (chance(draft, 12)) {
                step->maybe = true;
            }
            if (!draft->wish->reactions) {
                continue;
            }
            static const enum site_sign SIGNS[] = {SITE_SIGN_SET, SITE_SIGN_UNSET,
                    SITE_SIGN_EXIT_TONE, SITE_SIGN_ENTRY_TONE, SITE_SIGN_SIREN, SITE_SIGN_READY,
                    SITE_SIGN_NOT_READY};
            if (chance(draft, 15)) {
                step->if_sign = SIGNS[draw(draft, 0, 6)];
                step->if_area = 0;
                step->if_not = chance(draft, 30);
            } else if (chance(draft, 8)) {
                step->when = SIGNS[draw(draft, 0, 6)];
                step->when_area = 0;
            }
        }
    }
}

/* ---- putting it together ---- */

static bool hand_over(struct draft *draft) {
    struct site_routine *routine = draft->routine;
    const struct site *site = draft->site;
    routine->name = text_of("comings and goings");
    for (size_t i = 0; i < site->person_count; i++) {
        routine->step_count += draft->step_count[i];
    }
    routine->steps = ARENA_ARRAY(draft->arena, struct site_step, routine->step_count);
    if (routine->steps == NULL) {
        return false;
    }
    size_t at = 0;
    for (size_t i = 0; i < site->person_count; i++) {
        memcpy(&routine->steps[at], draft->steps[i],
                draft->step_count[i] * sizeof(struct site_step));
        at += draft->step_count[i];
    }
    /* A step of the second person may wait for one of the first: never the other way, so nobody waits in a ring. */
    if (draft->wish->reactions && site->person_count == 2 && draft->step_count[0] > 0 &&
            chance(draft, 30)) {
        const int32_t first = (int32_t)draft->step_count[0];
        routine->steps[draw(draft, first, (int32_t)routine->step_count - 1)].after_step =
                draw(draft, 0, first - 1);
    }
    return true;
}

static void scale_span(struct span *span, int32_t scale) {
    *span = span_of(span->low_s * scale, span->high_s * scale);
}

static void scale_times(struct site *site, int32_t scale) {
    for (size_t i = 0; i < site->settings.mode_count; i++) {
        site->settings.modes[i].exit_delay_s *= scale;
    }
    for (size_t i = 0; i < site->settings.delay_count; i++) {
        site->settings.delays[i].seconds_s *= scale;
    }
    site->settings.abort_window_s *= scale;
    site->settings.siren_time_s *= scale;
    for (size_t i = 0; i < site->zone_count; i++) {
        site->zones[i].hold_s *= scale;
    }
    for (size_t i = 0; i < site->routines[0].step_count; i++) {
        scale_span(&site->routines[0].steps[i].in, scale);
    }
}

/* Two come in, each by a door of his own or by the same, of one area or two, and key a code in time or too late. */
static void act_kiosk(struct draft *draft) {
    struct site *site = draft->site;
    const int other = chance(draft, 75);
    have_two_people(site);
    site->zones[1].behaviour = SITE_ENTRY;
    site->zones[1].in[SITE_MODE_FULL] = SITE_ENTRY;
    site->zones[1].delay[SITE_MODE_FULL] = 0;
    for (int who = 0; who < 2; who++) {
        const int door = who == 0 ? 0 : other;
        const int32_t low_s = draw(draft, 0, site->settings.delays[0].seconds_s + 2);
        draft->routine->starts[who] = (struct site_start){.set = true, .mode = SITE_MODE_FULL};
        add_door(draft, who, SITE_ACT_OPEN, door, draw_span(draft, 9));
        add_code(draft, who, SITE_ACT_UNSET, 0, site->keypad_count == 2 ? door : 0,
                span_of(low_s, low_s + draw(draft, 0, 4)));
    }
}

static void act(struct draft *draft) {
    switch (draft->wish->family) {
    case RANDOM_PLAIN:
        act_plainly(draft);
        return;
    case RANDOM_TRAP:
        act_trap(draft);
        return;
    case RANDOM_TIES:
        act_ties(draft);
        return;
    case RANDOM_CASCADE:
        act_cascade(draft);
        return;
    case RANDOM_CHAIN:
        act_chain(draft);
        return;
    case RANDOM_CHOICES:
        act_choices(draft);
        return;
    case RANDOM_KIOSK:
        act_kiosk(draft);
        return;
    case RANDOM_FAMILY_COUNT:
        return;
    }
}

bool random_site_build(const struct random_wish *wish, struct arena *arena, struct site *ret_site) {
    struct draft draft = {.wish = wish, .arena = arena, .site = ret_site};
    draft.state = wish->seed * 0x2545F4914F6CDD1DU + (uint64_t)wish->family;
    *ret_site = (struct site){.words = SITE_WORDS_UK};
    if (!take_arrays(&draft)) {
        return false;
    }
    set_panel(&draft);
    set_places(&draft);
    set_zones(&draft);
    for (size_t a = 0; a < ret_site->area_count; a++) {
        draft.routine->starts[a].set = chance(&draft, 50);
        draft.routine->starts[a].mode =
                draft.routine->starts[a].set && chance(&draft, 25) ? SITE_MODE_PART : 0;
    }
    draft.routine->expects = chance(&draft, 40) ? SITE_EXPECT_SIREN : 0U;
    draft.setter = draw(&draft, 0, (int32_t)ret_site->person_count - 1);
    if (wish->family != RANDOM_PLAIN) {
        draft.setter = 0;
    }
    act(&draft);
    if (draft.routine->expects != 0) {
        /* What exactly sounds and is sent after an inside warning is not settled to the second. */
        ret_site->settings.off_route = SITE_OFF_ROUTE_NOW;
    }
    if (wish->family == RANDOM_PLAIN || wish->family == RANDOM_CHAIN) {
        add_reactions(&draft);
    }
    keep_to_the_page(&draft);
    keep_part_and_full_alike(&draft);
    if (!hand_over(&draft)) {
        return false;
    }
    scale_times(ret_site, wish->scale > 1 ? wish->scale : 1);
    if (wish->users) {
        random_site_draw_users(wish, ret_site);
    }
    random_site_draw_witnesses(wish, ret_site);
    return !wish->lines || random_site_draw_lines(wish, arena, ret_site);
}
