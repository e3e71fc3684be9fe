/* A small house for the tests of this folder. Invented. */
#ifndef LINTEL_RADIO_TEST_SCENE_H
#define LINTEL_RADIO_TEST_SCENE_H

#include "plan/house.h"
#include "plan/test_rooms.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

enum { HALL, SHOP, STORE, LANDING, ROOMS };
enum { BETWEEN, FRONT, GAP, OPENINGS };
enum { BRICK, STUD };

static inline struct site_opening opening_of(
        enum site_opening_kind kind, int room, int to, enum site_side wall, int32_t left_mm) {
    struct site_opening opening = test_opening(kind, room, to, wall);
    opening.from_left_mm = left_mm;
    opening.from_left_said = true;
    return opening;
}

/* Hall, shop and store of 3 x 4 m in a row, 100 mm of wall between, 250 mm round; a landing above the hall. A door
 * from hall to shop at the front end of their wall, a gap from shop to store at the front end, a front door of the
 * hall. */
struct scene {
    struct site site;
    struct site_storey storeys[2];
    struct site_room rooms[ROOMS];
    struct site_opening openings[OPENINGS];
    struct site_material materials[2];
    struct arena arena;
    struct house house;
};

static inline void set_scene(struct scene *scene) {
    struct problem problem = {0};
    *scene = (struct scene){
            .storeys = {{.floor_said = true, .ceiling_mm = 2500, .slab_mm = 300},
                    {.floor_mm = 2800, .floor_said = true, .ceiling_mm = 2500, .slab_mm = 300}},
            .materials = {{.name = text_of("brick")}, {.name = text_of("stud")}}};
    scene->rooms[HALL] = test_room(SITE_ROOM, 0, 3000, 4000);
    scene->rooms[SHOP] = test_room(SITE_ROOM, 0, 3000, 4000);
    scene->rooms[SHOP].right_of = HALL;
    scene->rooms[STORE] = test_room(SITE_ROOM, 0, 3000, 4000);
    scene->rooms[STORE].right_of = SHOP;
    scene->rooms[LANDING] = test_room(SITE_ROOM, 1, 0, 0);
    scene->rooms[LANDING].above = HALL;
    /* on a right-hand wall, left is the back when seen from within: 2900 mm from it the opening ends near the front */
    scene->openings[BETWEEN] = opening_of(SITE_OPENING_DOOR, HALL, SHOP, SITE_SIDE_UNSAID, 2900);
    scene->openings[FRONT] = opening_of(SITE_OPENING_DOOR, HALL, SITE_NONE, SITE_SIDE_FRONT, 1000);
    scene->openings[GAP] = opening_of(SITE_OPENING_GAP, SHOP, STORE, SITE_SIDE_UNSAID, 2900);
    scene->site.building = (struct site_building){.said = true,
            .materials = {.rows = scene->materials, .row_count = 2},
            .outer = BRICK,
            .inner = STUD,
            .outer_mm = 250,
            .inner_mm = 100,
            .storeys = scene->storeys,
            .storey_count = 2,
            .rooms = scene->rooms,
            .room_count = ROOMS,
            .openings = scene->openings,
            .opening_count = OPENINGS};
    arena_init(&scene->arena, TEST_PAGES, 0);
    if (!house_make(&scene->site, &scene->arena, &scene->house, &problem).good) {
        fail_msg("%s", problem.text);
    }
    assert_int_equal(scene->house.fault_count, 1); /* no stairs lead to the landing */
}

#endif
