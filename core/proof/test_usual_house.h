/* For the tests of the usual routines: a house programmed as it should be, and asking about it. */
#ifndef LINTEL_PROOF_TEST_USUAL_HOUSE_H
#define LINTEL_PROOF_TEST_USUAL_HOUSE_H

#include "proof/proof.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

enum { FRONT, SIDE, WINDOW, ANNEX_DOOR, DOORS };
enum { Z_FRONT, Z_SIDE, Z_HALL, Z_KITCHEN, Z_WINDOW, Z_ANNEX, Z_ROOM, ZONES };
enum { MOTHER, FATHER, DAUGHTER, LODGER, CLEANER, DRIVER, DOG, FORCED, PEOPLE };
enum { HOUSE, ANNEX, AREAS };
enum { BY_FRONT, BY_SIDE, BY_ANNEX, DELAYS };
enum { FRONT_WAY, SIDE_WAY, ANNEX_WAY, WAYS };
enum { HALL_KEYPAD, ANNEX_KEYPAD, KEYPADS };
enum { PER_WAY = 5, ONCE = 13, USUAL = PER_WAY * WAYS + ONCE };

struct house {
    struct site site;
    struct site_device_profile profiles[2];
    struct site_area areas[AREAS];
    struct site_door doors[DOORS];
    struct site_device devices[ZONES];
    struct site_zone zones[ZONES];
    struct site_keypad keypads[KEYPADS];
    struct site_person people[PEOPLE];
    struct site_way ways[WAYS];
    struct site_routine routines[1];
    struct site_step steps[5];
    struct site_removal removals[2];
};

static inline struct text say(const char *string) {
    return text_of(string);
}

static inline void add_zone(struct house *house, int zone, const char *name, int door, int area,
        enum site_behaviour behaviour, int delay) {
    const bool motion = door == SITE_NONE;
    house->devices[zone] = (struct site_device){.name = say(name), .profile = motion, .door = door};
    struct site_zone *it = &house->zones[zone];
    *it = (struct site_zone){.number = zone + 1,
            .name = say(name),
            .device = zone,
            .area = area,
            .behaviour = behaviour,
            .hold_s = behaviour == SITE_FOLLOWER ? 3 : 0,
            .reports = true,
            .swinger = true,
            .bypassable = true,
            .pulse_count = 1,
            .cross_with = SITE_NONE};
    for (int mode = 0; mode < SITE_MODE_MAX; mode++) {
        it->in[mode] = site_usual_in(behaviour, mode);
        it->delay[mode] = delay;
    }
}

static inline void add_person(struct house *house, int person, const char *name, uint32_t areas) {
    house->people[person] = (struct site_person){.name = say(name),
            .notices = span_of(2, 3),
            .codes = span_of(4, 7),
            .fobs = span_of(1, 3),
            .areas = areas,
            .has_code = areas != 0};
}

static inline void add_way(
        struct house *house, int way, const char *name, int door, int zone, int keypad) {
    house->ways[way] = (struct site_way){.name = say(name),
            .door = door,
            .keypad = keypad,
            .closes = span_of(1, 3),
            .leg_count = zone == SITE_NONE ? 0 : 1,
            .last = span_of(1, 3)};
    house->ways[way].legs[0] =
            (struct site_leg){.zone = zone, .door = SITE_NONE, .in = span_of(2, 4)};
}

static inline void write_step(struct house *house, int step, int who, enum site_act act, int way) {
    house->steps[step] = (struct site_step){.who = who,
            .after_step = SITE_NONE,
            .when_area = SITE_NONE,
            .if_area = SITE_NONE,
            .act = act,
            .door = SITE_NONE,
            .zone = SITE_NONE,
            .way = way,
            .keypad = SITE_NONE};
}

static inline void write_routine(struct house *house) {
    write_step(house, 0, MOTHER, SITE_ACT_SET, SITE_NONE);
    house->steps[0].keypad = HALL_KEYPAD;
    house->steps[0].mode = SITE_MODE_NIGHT;
    write_step(house, 1, MOTHER, SITE_ACT_COME, FRONT_WAY);
    write_step(house, 2, DAUGHTER, SITE_ACT_COME, SIDE_WAY);
    write_step(house, 3, CLEANER, SITE_ACT_COME, FRONT_WAY);
    write_step(house, 4, LODGER, SITE_ACT_COME, ANNEX_WAY);
    house->routines[0] = (struct site_routine){
            .name = say("as written"), .steps = house->steps, .step_count = 5};
}

static inline void furnish(struct house *house) {
    house->profiles[0] = (struct site_device_profile){
            .name = say("contact"), .sense = SITE_CONTACT, .radio = true, .latency = span_of(0, 1)};
    house->profiles[1] = (struct site_device_profile){.name = say("motion"),
            .sense = SITE_MOTION,
            .hold = span_of(2, 5),
            .latency = span_of(0, 1)};
    house->areas[HOUSE].name = say("house");
    house->areas[ANNEX].name = say("annex");
    house->doors[FRONT] = (struct site_door){.name = say("front door"), .outside = true};
    house->doors[SIDE] = (struct site_door){.name = say("side door"), .outside = true};
    house->doors[WINDOW] = (struct site_door){.name = say("kitchen window")};
    house->doors[ANNEX_DOOR] = (struct site_door){.name = say("annex door"), .outside = true};
    add_zone(house, Z_FRONT, "front door", FRONT, HOUSE, SITE_ENTRY, BY_FRONT);
    add_zone(house, Z_SIDE, "side door", SIDE, HOUSE, SITE_ENTRY, BY_SIDE);
    add_zone(house, Z_HALL, "hall", SITE_NONE, HOUSE, SITE_FOLLOWER, SITE_NONE);
    add_zone(house, Z_KITCHEN, "kitchen", SITE_NONE, HOUSE, SITE_FOLLOWER, SITE_NONE);
    add_zone(house, Z_WINDOW, "kitchen window", WINDOW, HOUSE, SITE_PERIMETER, SITE_NONE);
    add_zone(house, Z_ANNEX, "annex door", ANNEX_DOOR, ANNEX, SITE_ENTRY, BY_ANNEX);
    add_zone(house, Z_ROOM, "annex room", SITE_NONE, ANNEX, SITE_INTERIOR, SITE_NONE);
    house->keypads[HALL_KEYPAD] =
            (struct site_keypad){.name = say("hall keypad"), .areas = 1U << HOUSE};
    house->keypads[ANNEX_KEYPAD] =
            (struct site_keypad){.name = say("annex keypad"), .areas = 1U << ANNEX};
    add_way(house, FRONT_WAY, "front way", FRONT, Z_HALL, HALL_KEYPAD);
    add_way(house, SIDE_WAY, "side way", SIDE, Z_KITCHEN, HALL_KEYPAD);
    add_way(house, ANNEX_WAY, "annex way", ANNEX_DOOR, SITE_NONE, ANNEX_KEYPAD);
}

static inline void people(struct house *house) {
    add_person(house, MOTHER, "mother", 1U << HOUSE);
    add_person(house, FATHER, "father", 1U << HOUSE);
    house->people[FATHER].has_fob = true;
    add_person(house, DAUGHTER, "daughter", 1U << HOUSE);
    add_person(house, LODGER, "lodger", 1U << ANNEX);
    add_person(house, CLEANER, "cleaner", 1U << HOUSE);
    add_person(house, DRIVER, "driver", 0);
    add_person(house, DOG, "dog", 0);
    house->people[DOG].animal = true;
    add_person(house, FORCED, "mother under threat", 1U << HOUSE);
    house->people[FORCED].duress = true;
}

static inline void program(struct site_settings *settings) {
    *settings = site_settings_usual();
    settings->delay_count = DELAYS;
    settings->delays[BY_FRONT] = (struct site_delay){say("front"), 45};
    settings->delays[BY_SIDE] = (struct site_delay){say("side"), 45};
    settings->delays[BY_ANNEX] = (struct site_delay){say("annex"), 45};
    settings->abort_window_s = 15;
    settings->fob_way = SITE_FOB_TIMED;
    settings->auto_set_at_s = 23 * 3600;
    settings->auto_set_area = HOUSE;
}

static inline void build(struct house *house) {
    memset(house, 0, sizeof *house);
    furnish(house);
    people(house);
    write_routine(house);
    house->site = (struct site){.name = say("house"),
            .invented = true,
            .device_profiles = house->profiles,
            .device_profile_count = 2,
            .areas = house->areas,
            .area_count = AREAS,
            .doors = house->doors,
            .door_count = DOORS,
            .devices = house->devices,
            .device_count = ZONES,
            .zones = house->zones,
            .zone_count = ZONES,
            .keypads = house->keypads,
            .keypad_count = KEYPADS,
            .people = house->people,
            .person_count = PEOPLE,
            .ways = house->ways,
            .way_count = WAYS,
            .routines = house->routines,
            .routine_count = 1,
            .removals = house->removals};
    program(&house->site.settings);
}

/* ---- asking ---- */

struct counted {
    long left; /* pages until one is refused; -1: never */
    long out;
};

/* Each test file gives them: malloc and free, counted. */
static void *get_page(void *context, size_t size);
static void give_page(void *context, void *block, size_t size);

struct asked {
    struct counted counted;
    struct pages pages;
    struct arena arena;
    const struct site *site;
    struct proof_usual *usual;
    size_t count;
};

static inline void ask(struct asked *asked, const struct site *site) {
    struct problem problem = {0};
    memset(asked, 0, sizeof *asked);
    asked->counted.left = -1;
    asked->pages = (struct pages){.get = get_page, .give = give_page, .context = &asked->counted};
    asked->site = site;
    arena_init(&asked->arena, asked->pages, 0);
    assert_true(
            proof_usual_routines(site, &asked->arena, &asked->usual, &asked->count, &problem).good);
}

static inline void finish(struct asked *asked) {
    arena_finish(&asked->arena);
    assert_int_equal(asked->counted.out, 0);
}

static inline struct proof_usual *named(struct asked *asked, const char *name) {
    for (size_t i = 0; i < asked->count; i++) {
        if (text_is(asked->usual[i].routine.name, name)) {
            return &asked->usual[i];
        }
    }
    fail_msg("no usual routine is called \"%s\"", name);
    return NULL;
}

static inline struct proof_answer prove(struct asked *asked, const struct proof_usual *usual) {
    const struct proof_options options = {.no_margin = true, .no_range = true};
    struct problem problem = {0};
    struct proof_answer answer = {0};
    struct proof_routine *routine = ARENA_NEW(&asked->arena, struct proof_routine);
    assert_non_null(routine);
    if (!proof_unfold(asked->site, &usual->routine, routine, &problem).good) {
        fail_msg("%.*s: %s", TEXT_ARGS(usual->routine.name), problem.text);
    }
    if (!proof_run(asked->site, NULL, routine, &options, asked->pages, &asked->arena, &answer,
                &problem)
                    .good) {
        fail_msg("%.*s: %s", TEXT_ARGS(usual->routine.name), problem.text);
    }
    return answer;
}

#endif
