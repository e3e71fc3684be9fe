/* Rooms that are cut off, in an invented house: a hall of 2 x 6 m with the front door and the keypad, a kitchen of
 * 4 x 3 m right of it, 100 mm of wall between, with a back door; a landing above the hall, a bedroom right of the
 * landing; a shed 5 m off with a door of its own. Each case leaves something out. */
#include "plan/house.h"
#include "plan/test_rooms.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

enum { HALL, KITCHEN, SHED, LANDING, BEDROOM, ROOMS };
enum { FRONT_DOOR, BACK_DOOR, SHED_DOOR, KITCHEN_DOOR, BEDROOM_DOOR, OPENINGS };
enum { HALL_PAD, SECOND_PAD, PLACES };

struct scene {
    struct site site;
    struct site_storey storeys[2];
    struct site_room rooms[ROOMS];
    struct site_opening openings[OPENINGS];
    struct site_stairs stairs[1];
    struct site_place places[PLACES];
    struct arena arena;
    struct house house;
};

static void set_scene(struct scene *scene) {
    *scene = (struct scene){.storeys = {{.ceiling_mm = 2500, .slab_mm = 300},
                                    {.floor_mm = 2800, .ceiling_mm = 2500, .slab_mm = 300}}};
    scene->rooms[HALL] = test_room(SITE_ROOM, 0, 2000, 6000);
    scene->rooms[KITCHEN] = test_room(SITE_ROOM, 0, 4000, 3000);
    scene->rooms[KITCHEN].right_of = HALL;
    scene->rooms[SHED] = test_room(SITE_ROOM, 0, 2000, 2000);
    scene->rooms[SHED].at = (struct site_point){-7000, 0};
    scene->rooms[LANDING] = test_room(SITE_ROOM, 1, 0, 0);
    scene->rooms[LANDING].above = HALL;
    scene->rooms[BEDROOM] = test_room(SITE_ROOM, 1, 4000, 4000);
    scene->rooms[BEDROOM].right_of = LANDING;
    scene->openings[FRONT_DOOR] = test_opening(SITE_OPENING_DOOR, HALL, SITE_NONE, SITE_SIDE_FRONT);
    scene->openings[BACK_DOOR] =
            test_opening(SITE_OPENING_DOOR, KITCHEN, SITE_NONE, SITE_SIDE_BACK);
    scene->openings[SHED_DOOR] = test_opening(SITE_OPENING_DOOR, SHED, SITE_NONE, SITE_SIDE_FRONT);
    scene->openings[KITCHEN_DOOR] =
            test_opening(SITE_OPENING_DOOR, KITCHEN, HALL, SITE_SIDE_UNSAID);
    scene->openings[BEDROOM_DOOR] =
            test_opening(SITE_OPENING_DOOR, BEDROOM, LANDING, SITE_SIDE_UNSAID);
    scene->stairs[0] = (struct site_stairs){.room = HALL,
            .to = LANDING,
            .at = {0, 1500},
            .size = {900, 3000},
            .up = SITE_SIDE_BACK};
    scene->places[HALL_PAD] = (struct site_place){
            .device = SITE_NONE, .keypad = 0, .room = HALL, .wall = SITE_SIDE_LEFT};
    scene->places[SECOND_PAD] = (struct site_place){
            .device = SITE_NONE, .keypad = 1, .room = KITCHEN, .wall = SITE_SIDE_FRONT};
    scene->site.building = (struct site_building){.said = true,
            .outer = SITE_NONE,
            .inner = SITE_NONE,
            .outer_mm = 250,
            .inner_mm = 100,
            .storeys = scene->storeys,
            .storey_count = 2,
            .rooms = scene->rooms,
            .room_count = ROOMS,
            .openings = scene->openings,
            .opening_count = OPENINGS,
            .stairs = scene->stairs,
            .stairs_count = 1,
            .places = scene->places,
            .place_count = 1};
}

/* A door becomes a window, which nobody walks through. */
static void leave_out(struct scene *scene, int opening) {
    scene->openings[opening].kind = SITE_OPENING_WINDOW;
}

static void make(struct scene *scene) {
    struct problem problem = {0};
    arena_init(&scene->arena, TEST_PAGES, 0);
    assert_true(house_make(&scene->site, &scene->arena, &scene->house, &problem).good);
}

static void assert_cut_off(const struct scene *scene, uint32_t rooms) {
    for (int i = 0; i < ROOMS; i++) {
        assert_int_equal(scene->house.rooms[i].cut_off, (rooms >> i & 1U) != 0);
    }
}

static void assert_fault(const struct scene *scene, enum house_fault_kind kind, size_t room,
        int other, struct point at) {
    assert_int_equal(scene->house.fault_count, 1);
    const struct house_fault *fault = &scene->house.faults[0];
    assert_int_equal(fault->kind, kind);
    assert_int_equal(fault->index, room);
    assert_int_equal(fault->other, other);
    assert_true(point_equal(fault->at, at));
}

static void is_good(struct scene *scene) {
    make(scene);
    assert_int_equal(scene->house.fault_count, 0);
    assert_cut_off(scene, 0);
    arena_finish(&scene->arena);
}

static void all_joined(void **state) {
    struct scene scene;
    (void)state;
    set_scene(&scene);
    make(&scene);
    assert_int_equal(scene.house.fault_count, 0);
    assert_cut_off(&scene, 0);
    assert_int_equal(scene.house.rooms[BEDROOM].part, HALL);
    assert_int_equal(scene.house.rooms[KITCHEN].part, HALL);
    assert_int_equal(scene.house.rooms[SHED].part, SHED);
    arena_finish(&scene.arena);
}

/* The kitchen is entered by its back door alone; the wall that it shares with the hall is 3 m, x 2.1 m on its side.
 * What stands behind the hall is good only as far as it is drawn as well: one may come from the kitchen. */
static void inner_door_forgotten(void **state) {
    struct scene scene;
    (void)state;
    set_scene(&scene);
    leave_out(&scene, KITCHEN_DOOR);
    make(&scene);
    assert_fault(&scene, HOUSE_APART, KITCHEN, HALL, (struct point){2100, 1500});
    assert_cut_off(&scene, 1U << HALL | 1U << KITCHEN | 1U << LANDING | 1U << BEDROOM);
    arena_finish(&scene.arena);
}

static void no_door_at_all(void **state) {
    struct scene scene;
    (void)state;
    set_scene(&scene);
    leave_out(&scene, KITCHEN_DOOR);
    leave_out(&scene, BACK_DOOR);
    scene.rooms[KITCHEN].apart = true; /* whatever is said of it: nobody gets in */
    make(&scene);
    assert_fault(&scene, HOUSE_UNREACHED, KITCHEN, HALL, (struct point){2100, 1500});
    arena_finish(&scene.arena);
}

static void nothing_is_missing(void **state) {
    struct scene scene;
    (void)state;
    set_scene(&scene);
    leave_out(&scene, KITCHEN_DOOR);
    scene.rooms[KITCHEN].apart = true;
    is_good(&scene);
    /* A house of its own. */
    scene.rooms[KITCHEN].apart = false;
    scene.site.building.place_count = PLACES;
    is_good(&scene);
    /* Too little wall for a door: 600 mm of it. */
    scene.site.building.place_count = 1;
    scene.rooms[KITCHEN].shift_mm = 5400;
    scene.openings[KITCHEN_DOOR].width_mm = 500;
    is_good(&scene);
}

/* One finding for all that is cut off, where most doors are: from the hall to the landing, not from the kitchen to the
 * bedroom. */
static void stairs_forgotten(void **state) {
    struct scene scene;
    (void)state;
    set_scene(&scene);
    scene.site.building.stairs_count = 0;
    make(&scene);
    assert_fault(&scene, HOUSE_UNREACHED, LANDING, HALL, scene.house.faults[0].at);
    assert_true(outline_place(scene.house.rooms[HALL].outline, scene.house.faults[0].at) ==
            PLACE_INSIDE);
    assert_cut_off(&scene, 1U << HALL | 1U << KITCHEN | 1U << LANDING | 1U << BEDROOM);
    arena_finish(&scene.arena);
}

/* Where no opening is drawn yet, the first walls are no mistake. */
static void just_begun(void **state) {
    struct scene scene;
    (void)state;
    set_scene(&scene);
    scene.site.building.opening_count = 0;
    scene.site.building.stairs_count = 0;
    make(&scene);
    assert_int_equal(scene.house.fault_count, 0);
    arena_finish(&scene.arena);
}

/* A shed without any door stands alone: nobody knows where its door is. */
static void nothing_beside_it(void **state) {
    struct scene scene;
    (void)state;
    set_scene(&scene);
    leave_out(&scene, SHED_DOOR);
    make(&scene);
    assert_fault(&scene, HOUSE_UNREACHED, SHED, HOUSE_OUTSIDE, scene.house.faults[0].at);
    assert_cut_off(&scene, 1U << SHED);
    arena_finish(&scene.arena);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(all_joined),
            cmocka_unit_test(inner_door_forgotten),
            cmocka_unit_test(no_door_at_all),
            cmocka_unit_test(nothing_is_missing),
            cmocka_unit_test(stairs_forgotten),
            cmocka_unit_test(just_begun),
            cmocka_unit_test(nothing_beside_it),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
