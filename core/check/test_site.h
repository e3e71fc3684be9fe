/* A small house for the tests of this folder, and pages for them. Invented; nobody here is real. */
#ifndef LINTEL_CHECK_TEST_SITE_H
#define LINTEL_CHECK_TEST_SITE_H

#include "proof/proof.h"
#include "site/site.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

static inline void *test_get(void *context, size_t size) {
    (void)context;
    return test_malloc(size);
}

static inline void test_give(void *context, void *block, size_t size) {
    (void)context;
    (void)size;
    test_free(block);
}

static inline struct pages test_pages(void) {
    return (struct pages){.get = test_get, .give = test_give};
}

enum { YARD_DOOR, SIDE_DOOR, DOOR_COUNT };
enum { YARD_ZONE, PASSAGE_ZONE, SIDE_ZONE, TILL_ZONE, FLAT_ZONE, ZONE_COUNT };
enum { SHOP, FLAT, AREA_COUNT };
enum { BAKER, APPRENTICE, ROBIN, PERSON_COUNT };

/* Everything that a test's site points to. */
struct test_site {
    struct site site;
    struct site_area areas[AREA_COUNT];
    struct site_door doors[DOOR_COUNT];
    struct site_device_profile profiles[3];
    struct site_device devices[ZONE_COUNT];
    struct site_zone zones[ZONE_COUNT];
    struct site_keypad keypads[1];
    struct site_person people[PERSON_COUNT];
    struct site_routine routine;
    struct text rules[1];
};

static inline void test_zone(
        struct test_site *it, int index, const char *name, enum site_behaviour behaviour) {
    struct site_zone *zone = &it->zones[index];
    *zone = (struct site_zone){.number = index + 1,
            .name = text_of(name),
            .device = index,
            .area = SHOP,
            .behaviour = behaviour,
            .reports = true,
            .cross_with = SITE_NONE};
    for (int mode = 0; mode < SITE_MODE_MAX; mode++) {
        zone->in[mode] = behaviour;
        zone->delay[mode] = behaviour == SITE_ENTRY ? 0 : SITE_NONE;
    }
}

/* The site points into *it, which must not move. */
static inline void test_site_fill(struct test_site *it, enum site_words words) {
    memset(it, 0, sizeof *it);
    it->areas[SHOP].name = text_of("shop");
    it->areas[FLAT].name = text_of("flat");
    it->doors[YARD_DOOR] = (struct site_door){.name = text_of("yard door"), .outside = true};
    it->doors[SIDE_DOOR] = (struct site_door){.name = text_of("side door"), .outside = true};
    it->profiles[0] =
            (struct site_device_profile){.name = text_of("contact"), .sense = SITE_CONTACT};
    it->profiles[1] = (struct site_device_profile){.name = text_of("motion"), .sense = SITE_MOTION};
    it->profiles[2] = (struct site_device_profile){.name = text_of("button"), .sense = SITE_BUTTON};
    it->devices[YARD_ZONE] = (struct site_device){.profile = 0, .door = YARD_DOOR};
    it->devices[PASSAGE_ZONE] = (struct site_device){.profile = 1, .door = SITE_NONE};
    it->devices[SIDE_ZONE] = (struct site_device){.profile = 0, .door = SIDE_DOOR};
    it->devices[TILL_ZONE] = (struct site_device){.profile = 2, .door = SITE_NONE};
    it->devices[FLAT_ZONE] = (struct site_device){.profile = 1, .door = SITE_NONE};
    test_zone(it, YARD_ZONE, "yard door", SITE_ENTRY);
    test_zone(it, PASSAGE_ZONE, "passage", SITE_FOLLOWER);
    test_zone(it, SIDE_ZONE, "side door", SITE_PERIMETER);
    test_zone(it, TILL_ZONE, "till", SITE_HOLD_UP);
    test_zone(it, FLAT_ZONE, "landing", SITE_INTERIOR);
    it->zones[FLAT_ZONE].area = FLAT;
    it->keypads[0] = (struct site_keypad){.name = text_of("passage keypad"), .areas = 1U << SHOP};
    it->people[BAKER] =
            (struct site_person){.name = text_of("baker"), .areas = 1U << SHOP, .has_code = true};
    it->people[APPRENTICE] = (struct site_person){.name = text_of("apprentice"), .has_code = true};
    it->people[ROBIN] = (struct site_person){
            .name = text_of("Robin"), .areas = 3, .has_code = true, .has_fob = true};
    it->rules[0] = text_of("house");
    it->routine = (struct site_routine){.name = text_of("first batch")};
    it->routine.starts[SHOP] = (struct site_start){.set = true, .mode = SITE_MODE_FULL};
    it->site = (struct site){.name = text_of("Test bakery"),
            .invented = true,
            .words = words,
            .rules = it->rules,
            .rule_count = 1,
            .panel = {.name = text_of("test-panel")},
            .settings = site_settings_usual(),
            .device_profiles = it->profiles,
            .device_profile_count = 3,
            .areas = it->areas,
            .area_count = AREA_COUNT,
            .doors = it->doors,
            .door_count = DOOR_COUNT,
            .devices = it->devices,
            .device_count = ZONE_COUNT,
            .zones = it->zones,
            .zone_count = ZONE_COUNT,
            .keypads = it->keypads,
            .keypad_count = 1,
            .people = it->people,
            .person_count = PERSON_COUNT,
            .routines = &it->routine,
            .routine_count = 1};
    it->site.settings.delays[0] = (struct site_delay){.name = text_of("yard"), .seconds_s = 30};
    it->site.settings.delay_count = 1;
}

#endif
