/* Round an invented house of one room, 4 x 6 m, outer walls of 250 mm: a front door and a back door in the middle of
 * their walls. A body of 450 mm keeps 475 mm off the inner faces, and cuts the corners as an eight-cornered stamp does:
 * from 197 mm (475 x tan 22.5 degrees) beyond each corner. Lengths worked out by hand. */
#include "plan/outside_ways.h"
#include "plan/test_rooms.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

enum { ROOM, YARD, ROOMS };
enum { FRONT_DOOR, BACK_DOOR, WINDOW, OPENINGS };

struct scene {
    struct site site;
    struct site_door doors[OPENINGS];
    struct site_storey storey;
    struct site_room rooms[ROOMS];
    struct site_opening openings[OPENINGS];
    struct site_furniture furniture[1];
    struct arena arena;
};

static void set_scene(struct scene *scene) {
    *scene = (struct scene){.storey = {.ceiling_mm = 2500, .slab_mm = 300}};
    scene->rooms[ROOM] = test_room(SITE_ROOM, 0, 4000, 6000);
    scene->rooms[YARD] = test_room(SITE_YARD, 0, 6000, 5000);
    scene->rooms[YARD].behind = ROOM;
    scene->openings[FRONT_DOOR] = test_opening(SITE_OPENING_DOOR, ROOM, SITE_NONE, SITE_SIDE_FRONT);
    scene->openings[BACK_DOOR] = test_opening(SITE_OPENING_DOOR, ROOM, SITE_NONE, SITE_SIDE_BACK);
    scene->openings[WINDOW] = test_opening(SITE_OPENING_WINDOW, ROOM, SITE_NONE, SITE_SIDE_LEFT);
    for (int i = 0; i < OPENINGS; i++) {
        scene->openings[i].door = i;
        scene->doors[i].outside = true;
    }
    scene->site.doors = scene->doors;
    scene->site.door_count = OPENINGS;
    scene->site.building = (struct site_building){.said = true,
            .outer = SITE_NONE,
            .inner = SITE_NONE,
            .outer_mm = 250,
            .inner_mm = 100,
            .storeys = &scene->storey,
            .storey_count = 1,
            .rooms = scene->rooms,
            .room_count = ROOMS,
            .openings = scene->openings,
            .opening_count = OPENINGS,
            .furniture = scene->furniture};
}

/* The length from a door to another; 0: there is no way. */
static double length_of(struct scene *scene, int from, int to) {
    struct house house;
    struct outside_ways *ways = NULL;
    struct way way;
    struct problem problem = {0};
    arena_init(&scene->arena, TEST_PAGES, 0);
    assert_true(house_make(&scene->site, &scene->arena, &house, &problem).good);
    assert_true(outside_ways_make(&house, &scene->arena, &ways, &problem).good);
    assert_true(outside_ways_find(ways, from, to, &scene->arena, &way, &problem).good);
    const double length_mm = way.count == 0 ? 0 : way.length_mm;
    arena_finish(&scene->arena);
    return length_mm;
}

static const double PAST_MM = 196.75; /* beyond a corner */
static const double CUT_MM = 393.5;   /* across it: 278.25 x sqrt 2 */
static const double OFF_MM = 225;     /* from the wall's outer face */

static void assert_near(double is, double wanted) {
    static const double SPOTS_MM = 30; /* free spots before a door are tried in steps */
    if (!(fabs(is - wanted) <= SPOTS_MM)) {
        print_error("%.1f, not %.1f\n", is, wanted);
        fail();
    }
}

static void round_either_side(void **state) {
    struct scene scene;
    (void)state;
    set_scene(&scene);
    assert_near(length_of(&scene, FRONT_DOOR, BACK_DOOR),
            2 * (OFF_MM + 2000 + PAST_MM + CUT_MM) + 6000 + 2 * PAST_MM);
}

/* A neighbour on one side leaves the other; on both there is no way. A neighbour's house reaches 60 m. */
static void neighbours(void **state) {
    struct scene scene;
    (void)state;
    set_scene(&scene);
    scene.openings[FRONT_DOOR].from_left_mm =
            100; /* seen from within facing the front: at its right end, x 3 to 3.9 m */
    scene.openings[FRONT_DOOR].from_left_said = true;
    const double short_mm = 2 * (OFF_MM + PAST_MM + CUT_MM) + 550 + 2000 + 6000 + 2 * PAST_MM;
    assert_near(length_of(&scene, FRONT_DOOR, BACK_DOOR), short_mm);
    scene.rooms[ROOM].party = 1U << SITE_SIDE_RIGHT;
    assert_near(length_of(&scene, FRONT_DOOR, BACK_DOOR), short_mm + 3450 - 550);
    scene.rooms[ROOM].party |= 1U << SITE_SIDE_LEFT;
    assert_true(length_of(&scene, FRONT_DOOR, BACK_DOOR) == 0);
}

/* A shed in the yard, 5 m long, stands before the back door's side of the way. */
static void what_stands_in_the_yard(void **state) {
    struct scene scene;
    (void)state;
    set_scene(&scene);
    const double free_mm = length_of(&scene, FRONT_DOOR, BACK_DOOR);
    scene.furniture[0] = (struct site_furniture){.room = YARD, .at = {0, 0}, .size = {1000, 3000}};
    scene.rooms[ROOM].party = 1U << SITE_SIDE_RIGHT;
    scene.site.building.furniture_count = 1;
    assert_true(length_of(&scene, FRONT_DOOR, BACK_DOOR) > free_mm + 2000);
}

/* Nobody walks out of a window, nor from a floor that is not level with the ground. */
static void no_ground_before_it(void **state) {
    struct scene scene;
    (void)state;
    set_scene(&scene);
    assert_true(length_of(&scene, FRONT_DOOR, WINDOW) == 0);
    scene.storey.floor_mm = OUTSIDE_STEP_MM;
    assert_true(length_of(&scene, FRONT_DOOR, BACK_DOOR) > 0);
    scene.storey.floor_mm = OUTSIDE_STEP_MM + 1;
    assert_true(length_of(&scene, FRONT_DOOR, BACK_DOOR) == 0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(round_either_side),
            cmocka_unit_test(neighbours),
            cmocka_unit_test(what_stands_in_the_yard),
            cmocka_unit_test(no_ground_before_it),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
