/* A small clean house for the tests of this folder: nothing in it is to be found until a test spoils it. Invented. */
#ifndef LINTEL_RULES_TEST_RULES_H
#define LINTEL_RULES_TEST_RULES_H

#include "rules/rules.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

enum { CONTACT, MOTION, BUTTON, SMOKE, PROFILE_COUNT };
enum { FRONT_DOOR, GARDEN_DOOR, HOUSE_DOOR_COUNT };
enum { FRONT, HALL, GARDEN, ATTIC, PANIC, ALARM, HOUSE_ZONE_COUNT };
enum { OWNER, GUEST, HOUSE_PERSON_COUNT };

/** Everything that the site points to; must not move. */
struct house {
    struct site site;
    struct site_area areas[2];
    struct site_door doors[HOUSE_DOOR_COUNT];
    struct site_device_profile profiles[PROFILE_COUNT];
    struct site_device devices[HOUSE_ZONE_COUNT];
    struct site_zone zones[HOUSE_ZONE_COUNT];
    struct site_keypad keypads[1];
    struct site_person people[HOUSE_PERSON_COUNT];
    struct site_way ways[2];
    struct site_routine routines[1];
    struct site_step steps[4];
    struct arena arena;
    struct finding *findings;
    size_t count;
};

static inline void *house_get(void *context, size_t size) {
    (void)context;
    return malloc(size);
}

static inline void house_give(void *context, void *block, size_t size) {
    (void)context;
    (void)size;
    free(block);
}

static inline void house_zone(struct house *house, int index, const char *name, int profile,
        int door, enum site_behaviour behaviour) {
    const bool signals_itself = behaviour >= SITE_HOLD_UP;
    house->devices[index] =
            (struct site_device){.name = text_of(name), .profile = profile, .door = door};
    house->zones[index] = (struct site_zone){.number = index + 1,
            .name = text_of(name),
            .device = index,
            .behaviour = behaviour,
            .reports = true,
            .supervised = true,
            .bypassable = !signals_itself,
            .swinger = !signals_itself,
            .pulse_count = 1,
            .cross_with = SITE_NONE};
    for (int mode = 0; mode < SITE_MODE_MAX; mode++) {
        house->zones[index].in[mode] = site_usual_in(behaviour, mode);
        house->zones[index].delay[mode] = behaviour == SITE_ENTRY ? 0 : SITE_NONE;
    }
}

/* In by the front door, through the hall, unset: so the door is used and full is a mode that somebody sets. */
static inline void house_people(struct house *house) {
    house->keypads[0] = (struct site_keypad){.name = text_of("hall keypad"), .areas = 3};
    house->people[OWNER] =
            (struct site_person){.name = text_of("owner"), .areas = 1, .has_code = true};
    house->people[GUEST] =
            (struct site_person){.name = text_of("guest"), .areas = 1, .has_code = true};
    house->ways[0] = (struct site_way){.name = text_of("front way"),
            .door = FRONT_DOOR,
            .keypad = 0,
            .closes = {1, 3},
            .legs = {{.zone = HALL, .door = SITE_NONE, .in = {2, 4}}},
            .leg_count = 1,
            .last = {1, 2}};
    house->routines[0] = (struct site_routine){
            .name = text_of("comes home"), .steps = house->steps, .step_count = 1};
    house->routines[0].starts[0] = (struct site_start){.set = true, .mode = SITE_MODE_FULL};
    house->steps[0] = (struct site_step){.who = OWNER,
            .act = SITE_ACT_COME,
            .way = 0,
            .door = SITE_NONE,
            .zone = SITE_NONE,
            .keypad = SITE_NONE,
            .after_step = SITE_NONE};
}

static inline void house_fill(struct house *house) {
    memset(house, 0, sizeof *house);
    arena_init(&house->arena, (struct pages){.get = house_get, .give = house_give}, 0);
    house->areas[0].name = text_of("house");
    house->areas[1].name = text_of("barn");
    house->doors[FRONT_DOOR] = (struct site_door){.name = text_of("front door"), .outside = true};
    house->doors[GARDEN_DOOR] = (struct site_door){.name = text_of("garden door"), .outside = true};
    static const enum site_sense senses[PROFILE_COUNT] = {
            [CONTACT] = SITE_CONTACT,
            [MOTION] = SITE_MOTION,
            [BUTTON] = SITE_BUTTON,
            [SMOKE] = SITE_SMOKE,
    };
    for (int i = 0; i < PROFILE_COUNT; i++) {
        house->profiles[i] =
                (struct site_device_profile){.name = text_of("model"), .sense = senses[i]};
        house->profiles[i].radio = i != MOTION;
    }
    house_zone(house, FRONT, "front door", CONTACT, FRONT_DOOR, SITE_ENTRY);
    house_zone(house, HALL, "hall", MOTION, SITE_NONE, SITE_FOLLOWER);
    house_zone(house, GARDEN, "garden door", CONTACT, GARDEN_DOOR, SITE_PERIMETER);
    house_zone(house, ATTIC, "attic", MOTION, SITE_NONE, SITE_INTERIOR);
    house_zone(house, PANIC, "bedroom", BUTTON, SITE_NONE, SITE_HOLD_UP);
    house_zone(house, ALARM, "kitchen smoke", SMOKE, SITE_NONE, SITE_FIRE);
    house_people(house);
    house->site = (struct site){.name = text_of("Test house"),
            .invented = true,
            .panel = {.name = text_of("test-panel"),
                    .zone_most = 16,
                    .area_most = 2,
                    .exit_delay = {0, 240},
                    .entry_delay = {0, 240},
                    .abort_window = {0, 60}},
            .settings = site_settings_usual(),
            .device_profiles = house->profiles,
            .device_profile_count = PROFILE_COUNT,
            .areas = house->areas,
            .area_count = 1,
            .doors = house->doors,
            .door_count = HOUSE_DOOR_COUNT,
            .devices = house->devices,
            .device_count = HOUSE_ZONE_COUNT,
            .zones = house->zones,
            .zone_count = HOUSE_ZONE_COUNT,
            .keypads = house->keypads,
            .keypad_count = 1,
            .people = house->people,
            .person_count = HOUSE_PERSON_COUNT,
            .ways = house->ways,
            .way_count = 1,
            .routines = house->routines,
            .routine_count = 1};
    house->site.settings.delays[0] = (struct site_delay){.name = text_of("front"), .seconds_s = 30};
    house->site.settings.delay_count = 1;
}

/* One house for a test, made anew for each: cmocka takes it back when a test fails. */
static inline int house_begin(void **state) {
    struct house *house = malloc(sizeof *house);
    house_fill(house);
    *state = house;
    return 0;
}

static inline int house_end(void **state) {
    struct house *house = *state;
    arena_finish(&house->arena);
    free(house);
    return 0;
}

static inline void house_look(struct house *house) {
    struct problem problem = {0};
    assert_true(rules_look(&house->site, &house->arena, &house->findings, &house->count, &problem)
                        .good);
}

static inline void house_print(const struct house *house) {
    for (size_t i = 0; i < house->count; i++) {
        const struct finding *finding = &house->findings[i];
        print_error("%.*s at %.*s: %.*s (%.*s)\n", TEXT_ARGS(finding->id),
                TEXT_ARGS(finding->place), TEXT_ARGS(finding->headline), TEXT_ARGS(finding->why));
    }
}

/** Nothing is found. */
static inline void house_is_clean(struct house *house) {
    house_look(house);
    if (house->count != 0) {
        house_print(house);
        fail();
    }
}

/** Exactly this is found and nothing else; gives it. */
static inline const struct finding *house_has(
        struct house *house, enum finding_weight weight, const char *id, const char *place) {
    house_look(house);
    if (house->count != 1 || !text_is(house->findings[0].id, id) ||
            !text_is(house->findings[0].place, place) || house->findings[0].weight != weight) {
        print_error("expected %s at %s alone, weight %d\n", id, place, (int)weight);
        house_print(house);
        fail();
    }
    return &house->findings[0];
}

#define HOUSE_TEST(function) cmocka_unit_test_setup_teardown(function, house_begin, house_end)

#endif
