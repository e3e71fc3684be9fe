#include "house.h"

enum { DOOR_FRONT, DOOR_YARD, DOOR_FLAT, DOOR_WINDOWS };
enum { ZONE_FRONT, ZONE_HALL, ZONE_YARD, ZONE_FLAT, ZONE_LANDING };
enum { PROFILE_CONTACT, PROFILE_MOTION };
enum { WIDE = -1 };

/* One step of a course. high_s WIDE: from low_s to low_s and the width asked for. what: door or zone. */
struct script_step {
    enum site_act act;
    int what;
    int32_t low_s;
    int32_t high_s;
};

struct script {
    const struct script_step *steps;
    uint32_t expects;
    bool starts_set;
};

/* Walking and keying times are common practice. */
static const struct script_step COMES_HOME[HOUSE_STEPS_MOST] = {
        {SITE_ACT_OPEN, DOOR_FRONT, 0, WIDE},
        {SITE_ACT_CLOSE, DOOR_FRONT, 1, 3},
        {SITE_ACT_PASS, ZONE_HALL, 2, 3},
        {SITE_ACT_UNSET, 0, 4, 9},
        {SITE_ACT_WAIT, 0, 0, WIDE},
        {SITE_ACT_OPEN, DOOR_YARD, 2, 5},
        {SITE_ACT_CLOSE, DOOR_YARD, 1, 3},
        {SITE_ACT_PASS, ZONE_HALL, 2, 5},
        {SITE_ACT_PASS, ZONE_LANDING, 0, WIDE},
        {SITE_ACT_OPEN, DOOR_FRONT, 5, 9},
        {SITE_ACT_CLOSE, DOOR_FRONT, 1, 3},
        {SITE_ACT_WAIT, 0, 1, 2},
};

static const struct script_step LATE[HOUSE_STEPS_MOST] = {
        {SITE_ACT_OPEN, DOOR_FRONT, 0, WIDE},
        {SITE_ACT_CLOSE, DOOR_FRONT, 1, 3},
        {SITE_ACT_PASS, ZONE_HALL, 2, 3},
        {SITE_ACT_UNSET, 0, 10, 25},
        {SITE_ACT_WAIT, 0, 0, WIDE},
        {SITE_ACT_PASS, ZONE_HALL, 2, 5},
        {SITE_ACT_OPEN, DOOR_FRONT, 5, 9},
        {SITE_ACT_CLOSE, DOOR_FRONT, 1, 3},
        {SITE_ACT_WAIT, 0, 0, WIDE},
        {SITE_ACT_WAIT, 0, 1, 2},
        {SITE_ACT_WAIT, 0, 1, 2},
        {SITE_ACT_WAIT, 0, 1, 2},
};

static const struct script_step ALARM[HOUSE_STEPS_MOST] = {
        {SITE_ACT_OPEN, DOOR_FRONT, 0, WIDE},
        {SITE_ACT_CLOSE, DOOR_FRONT, 1, 3},
        {SITE_ACT_PASS, ZONE_LANDING, 0, WIDE},
        {SITE_ACT_OPEN, DOOR_YARD, 2, 5},
        {SITE_ACT_CLOSE, DOOR_YARD, 1, 3},
        {SITE_ACT_PASS, ZONE_HALL, 0, WIDE},
        {SITE_ACT_OPEN, DOOR_FLAT, 5, 20},
        {SITE_ACT_CLOSE, DOOR_FLAT, 1, 3},
        {SITE_ACT_UNSET, 0, 4, 40},
        {SITE_ACT_WAIT, 0, 1, 2},
        {SITE_ACT_WAIT, 0, 1, 2},
        {SITE_ACT_WAIT, 0, 1, 2},
};

static const struct script_step FALSE_ALARM[HOUSE_STEPS_MOST] = {
        {SITE_ACT_OPEN, DOOR_YARD, 0, WIDE},
        {SITE_ACT_CLOSE, DOOR_YARD, 1, 3},
        {SITE_ACT_PASS, ZONE_HALL, 2, 3},
        {SITE_ACT_UNSET, 0, 4, 9},
        {SITE_ACT_PASS, ZONE_LANDING, 0, WIDE},
        {SITE_ACT_OPEN, DOOR_FRONT, 2, 5},
        {SITE_ACT_CLOSE, DOOR_FRONT, 1, 3},
        {SITE_ACT_PASS, ZONE_HALL, 2, 5},
        {SITE_ACT_WAIT, 0, 1, 2},
        {SITE_ACT_WAIT, 0, 1, 2},
        {SITE_ACT_WAIT, 0, 1, 2},
        {SITE_ACT_WAIT, 0, 1, 2},
};

static const struct script_step FREE[HOUSE_STEPS_MOST] = {
        {SITE_ACT_OPEN, DOOR_FRONT, 0, WIDE},
        {SITE_ACT_CLOSE, DOOR_FRONT, 1, 3},
        {SITE_ACT_PASS, ZONE_HALL, 2, 3},
        {SITE_ACT_UNSET, 0, 4, 9},
        {SITE_ACT_WAIT, 0, 0, WIDE},
        {SITE_ACT_SET, 0, 0, WIDE},
        {SITE_ACT_OPEN, DOOR_FRONT, 5, 9},
        {SITE_ACT_CLOSE, DOOR_FRONT, 1, 3},
        {SITE_ACT_OPEN, DOOR_FRONT, 0, WIDE},
        {SITE_ACT_CLOSE, DOOR_FRONT, 1, 3},
        {SITE_ACT_PASS, ZONE_HALL, 2, 3},
        {SITE_ACT_UNSET, 0, 4, 9},
};

static const uint32_t EVERYTHING = SITE_EXPECT_SIREN | SITE_EXPECT_ALARM | SITE_EXPECT_TROUBLE |
        SITE_EXPECT_EXIT_ERROR | SITE_EXPECT_REFUSED;

static const struct script SCRIPTS[HOUSE_COURSE_COUNT] = {
        [HOUSE_COMES_HOME] = {COMES_HOME, 0, true},
        [HOUSE_LATE] = {LATE, 0, true},
        [HOUSE_DAY] = {COMES_HOME, 0, true},
        [HOUSE_ALARM] = {ALARM, SITE_EXPECT_SIREN | SITE_EXPECT_ALARM, true},
        [HOUSE_ALARM_DAY] = {ALARM, SITE_EXPECT_SIREN | SITE_EXPECT_ALARM, true},
        [HOUSE_FALSE_ALARM] = {FALSE_ALARM, SITE_EXPECT_SIREN, true},
        [HOUSE_FREE] = {FREE, EVERYTHING, true},
};

static const char *const ZONE_NAMES[HOUSE_ZONES_LEAST] = {
        "front door", "hall", "yard door", "flat door", "landing"};
static const char *const PEOPLE_NAMES[HOUSE_PEOPLE_MOST] = {
        "first", "second", "third", "fourth", "fifth", "sixth"};

static bool take_arrays(const struct house_wish *wish, struct arena *arena, struct site *site) {
    site->area_count = 2;
    site->door_count = DOOR_WINDOWS + 1;
    site->device_profile_count = 2;
    site->device_count = site->zone_count = wish->zones;
    site->keypad_count = 1;
    site->person_count = wish->people;
    site->routine_count = 1;
    site->areas = ARENA_ARRAY(arena, struct site_area, site->area_count);
    site->doors = ARENA_ARRAY(arena, struct site_door, site->door_count);
    site->device_profiles =
            ARENA_ARRAY(arena, struct site_device_profile, site->device_profile_count);
    site->devices = ARENA_ARRAY(arena, struct site_device, site->device_count);
    site->zones = ARENA_ARRAY(arena, struct site_zone, site->zone_count);
    site->keypads = ARENA_ARRAY(arena, struct site_keypad, site->keypad_count);
    site->people = ARENA_ARRAY(arena, struct site_person, site->person_count);
    site->routines = ARENA_ARRAY(arena, struct site_routine, site->routine_count);
    return !arena->refused;
}

static void set_panel(struct site *site) {
    site->name = text_of("the benches' house");
    site->invented = true;
    site->panel = (struct site_panel_profile){.name = text_of("any"),
            .zone_most = SITE_ZONE_MAX,
            .area_most = SITE_AREA_MAX,
            .exit_delay = span_of(0, 255),
            .entry_delay = span_of(0, 255),
            .abort_window = span_of(0, 60),
            .behaviours = ~(uint32_t)0};
    struct site_settings *settings = &site->settings;
    *settings = site_settings_usual();
    settings->delay_count = 2;
    settings->delays[0] = (struct site_delay){.name = text_of("front"), .seconds_s = 30};
    settings->delays[1] = (struct site_delay){.name = text_of("flat"), .seconds_s = 45};
    settings->siren_time_s = 180;
    /* What the referee's model has not. */
    settings->swinger_limit = 0;
    settings->confirm_window_s = 0;
    settings->lockout_tries = 0;
    settings->drop_to_part = false;
}

static void set_zone(struct site *site, size_t index) {
    const bool motion = index == ZONE_HALL || index == ZONE_LANDING;
    const bool entry = index == ZONE_FRONT || index == ZONE_FLAT;
    const int door = index == ZONE_FRONT ? DOOR_FRONT
            : index == ZONE_YARD         ? DOOR_YARD
            : index == ZONE_FLAT         ? DOOR_FLAT
                                         : DOOR_WINDOWS;
    const enum site_behaviour behaviour = motion ? SITE_FOLLOWER
            : entry                              ? SITE_ENTRY
                                                 : SITE_PERIMETER;
    const struct text name = text_of(index < HOUSE_ZONES_LEAST ? ZONE_NAMES[index] : "window");
    site->devices[index] = (struct site_device){.name = name,
            .profile = motion ? PROFILE_MOTION : PROFILE_CONTACT,
            .door = motion ? SITE_NONE : door};
    struct site_zone *zone = &site->zones[index];
    *zone = (struct site_zone){.number = (int32_t)index + 1,
            .name = name,
            .device = (int)index,
            .area = index == ZONE_FLAT || index == ZONE_LANDING,
            .behaviour = behaviour,
            .reports = true,
            .bypassable = true,
            .pulse_count = 1,
            .cross_with = SITE_NONE};
    for (int mode = 0; mode < SITE_MODE_MAX; mode++) {
        zone->in[mode] = site_usual_in(behaviour, mode);
        zone->delay[mode] = !entry ? SITE_NONE : index == ZONE_FLAT;
    }
}

static void set_places(const struct house_wish *wish, struct site *site) {
    site->areas[0].name = text_of("house");
    site->areas[1].name = text_of("flat");
    for (size_t i = 0; i < site->door_count; i++) {
        site->doors[i] =
                (struct site_door){.name = text_of(i == DOOR_WINDOWS ? "window" : ZONE_NAMES[i]),
                        .outside = i != DOOR_WINDOWS};
    }
    site->device_profiles[PROFILE_CONTACT] =
            (struct site_device_profile){.name = text_of("contact"), .sense = SITE_CONTACT};
    site->device_profiles[PROFILE_MOTION] =
            (struct site_device_profile){.name = text_of("motion"), .sense = SITE_MOTION};
    if (wish->radio) { /* as the bakery's radio devices */
        site->device_profiles[PROFILE_CONTACT].latency = span_of(0, 2);
        site->device_profiles[PROFILE_MOTION].latency = span_of(0, 1);
        site->device_profiles[PROFILE_MOTION].hold = span_of(2, 4);
        site->device_profiles[PROFILE_MOTION].sleep = span_of(180, 180);
    }
    for (size_t i = 0; i < site->zone_count; i++) {
        set_zone(site, i);
    }
    site->keypads[0] = (struct site_keypad){.name = text_of("keypad"), .areas = 3};
    for (size_t i = 0; i < site->person_count; i++) {
        site->people[i] = (struct site_person){
                .name = text_of(PEOPLE_NAMES[i]), .areas = 3, .has_code = true};
    }
}

static struct site_step *add_step(struct site_routine *routine, size_t who, enum site_act act) {
    struct site_step *step = &routine->steps[routine->step_count++];
    *step = (struct site_step){.who = (int)who,
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

static void add_scripted(const struct house_wish *wish, struct site_routine *routine, size_t who,
        const struct script_step *from) {
    struct site_step *step = add_step(routine, who, from->act);
    step->in =
            span_of(from->low_s, from->high_s == WIDE ? from->low_s + wish->width_s : from->high_s);
    switch (from->act) {
    case SITE_ACT_OPEN:
    case SITE_ACT_CLOSE:
        step->door = from->what;
        break;
    case SITE_ACT_PASS:
        step->zone = from->what;
        break;
    case SITE_ACT_UNSET:
    case SITE_ACT_SET:
        step->keypad = 0;
        break;
    case SITE_ACT_WAIT:
    case SITE_ACT_COME:
    case SITE_ACT_GO:
    case SITE_ACT_WALK:
    case SITE_ACT_MISTYPE:
    case SITE_ACT_PRESS:
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
        break;
    }
}

/* The first person waits for the last step of each other one, then sets and goes. */
static void add_last_one_out(const struct house_wish *wish, struct site_routine *routine) {
    static const struct script_step GOES[] = {{SITE_ACT_UNSET, 0, 2, 5}, {SITE_ACT_SET, 0, 2, 5},
            {SITE_ACT_OPEN, DOOR_FRONT, 5, 20}, {SITE_ACT_CLOSE, DOOR_FRONT, 1, 3}};
    for (size_t other = 1; other < wish->people; other++) {
        struct site_step *step = add_step(routine, 0, SITE_ACT_WAIT);
        step->in = span_of(0, 0);
        step->after_step = (int)(wish->steps * (other + 1)) - 1;
    }
    for (size_t i = wish->course == HOUSE_ALARM_DAY ? 0 : 1; i < sizeof GOES / sizeof *GOES; i++) {
        add_scripted(wish, routine, 0, &GOES[i]);
    }
}

bool house_build(const struct house_wish *wish, struct arena *arena, struct site *ret_site) {
    const struct script *script = &SCRIPTS[wish->course];
    *ret_site = (struct site){0};
    if (!take_arrays(wish, arena, ret_site)) {
        return false;
    }
    set_panel(ret_site);
    set_places(wish, ret_site);
    struct site_routine *routine = &ret_site->routines[0];
    *routine = (struct site_routine){
            .name = text_of("bench"), .says = text_of("A bench."), .expects = script->expects};
    for (size_t area = 0; area < SITE_AREA_MAX; area++) {
        routine->starts[area] =
                (struct site_start){.set = script->starts_set && area < 2, .mode = SITE_MODE_FULL};
    }
    routine->steps =
            ARENA_ARRAY(arena, struct site_step, wish->people * wish->steps + HOUSE_STEPS_MOST);
    if (routine->steps == NULL) {
        return false;
    }
    for (size_t who = 0; who < wish->people; who++) {
        for (size_t i = 0; i < wish->steps; i++) {
            add_scripted(wish, routine, who, &script->steps[i]);
        }
    }
    if (wish->course == HOUSE_DAY || wish->course == HOUSE_ALARM_DAY ||
            wish->course == HOUSE_FALSE_ALARM) {
        add_last_one_out(wish, routine);
    }
    return true;
}
