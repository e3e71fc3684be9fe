/* Which ways are in use, in an invented hall of 2 x 8 m: the front door in the middle of its front, a garden door in
 * the middle of its left wall, a window beside it; a keypad in the middle of the back wall and one in the middle of the
 * right wall, the panel where the back keypad is. Lengths can be read off; paces are those of site/pace.h. */
#include "plan/test_rooms.h"
#include "plan/used_ways.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

static void assert_near(double is, double wanted) {
    if (!(fabs(is - wanted) <= 0.001)) {
        print_error("%.9f, not %.9f\n", is, wanted);
        fail();
    }
}

enum { FRONT_DOOR, GARDEN_DOOR, WINDOW, DOORS };
enum { BACK_PAD, RIGHT_PAD, PADS };
enum { PANEL = PADS, PLACES };
enum { ADULT, WITH_STICK, CAT, PEOPLE };
enum { WAYS_MOST = 3, STEPS_MOST = 4 };

struct scene {
    struct site site;
    struct site_door doors[DOORS];
    struct site_keypad keypads[PADS];
    struct site_person people[PEOPLE];
    struct site_way ways[WAYS_MOST];
    struct site_routine routine;
    struct site_step steps[STEPS_MOST];
    struct site_storey storey;
    struct site_room room;
    struct site_opening openings[DOORS];
    struct site_place places[PLACES];
    struct arena arena;
};

static void set_building(struct scene *scene) {
    static const enum site_side sides[] = {SITE_SIDE_FRONT, SITE_SIDE_LEFT, SITE_SIDE_LEFT};
    scene->storey = (struct site_storey){.ceiling_mm = 2500, .slab_mm = 300};
    scene->room = test_room(SITE_ROOM, 0, 2000, 8000);
    for (int i = 0; i < DOORS; i++) {
        scene->doors[i].outside = true;
        scene->openings[i] = test_opening(SITE_OPENING_DOOR, 0, SITE_NONE, sides[i]);
        scene->openings[i].door = i;
    }
    scene->openings[WINDOW].kind = SITE_OPENING_WINDOW;
    scene->openings[WINDOW].from_left_mm = 500;
    scene->openings[WINDOW].from_left_said = true;
    for (int i = 0; i < PLACES; i++) {
        scene->places[i] = (struct site_place){.device = SITE_NONE,
                .keypad = i < PADS ? i : SITE_NONE,
                .wall = i == RIGHT_PAD ? SITE_SIDE_RIGHT : SITE_SIDE_BACK};
    }
    scene->places[PANEL].fixture = SITE_FIXTURE_PANEL;
    scene->site.building = (struct site_building){.said = true,
            .outer = SITE_NONE,
            .inner = SITE_NONE,
            .outer_mm = 250,
            .inner_mm = 100,
            .storeys = &scene->storey,
            .storey_count = 1,
            .rooms = &scene->room,
            .room_count = 1,
            .openings = scene->openings,
            .opening_count = DOORS,
            .places = scene->places,
            .place_count = PLACES};
}

static void set_scene(struct scene *scene) {
    *scene = (struct scene){.routine = {.step_count = 0}};
    scene->routine.steps = scene->steps;
    scene->people[WITH_STICK].walks.walker = SITE_WALKER_STICK;
    scene->people[CAT].animal = true;
    scene->site = (struct site){.doors = scene->doors,
            .door_count = DOORS,
            .keypads = scene->keypads,
            .keypad_count = PADS,
            .people = scene->people,
            .person_count = PEOPLE,
            .ways = scene->ways,
            .routines = &scene->routine,
            .routine_count = 1};
    set_building(scene);
    arena_init(&scene->arena, TEST_PAGES, 0);
}

static void add_way(struct scene *scene, int door, int keypad) {
    scene->ways[scene->site.way_count++] = (struct site_way){.door = door, .keypad = keypad};
}

static void add_step(struct scene *scene, int who, enum site_act act, int way, int door) {
    scene->steps[scene->routine.step_count++] =
            (struct site_step){.who = who, .act = act, .way = way, .door = door};
}

static struct used_ways make(struct scene *scene) {
    struct house house;
    struct used_ways ways;
    struct problem problem = {0};
    assert_true(house_make(&scene->site, &scene->arena, &house, &problem).good);
    assert_int_equal(house.fault_count, 0);
    assert_true(used_ways_make(&house, NULL, &scene->arena, &ways, &problem).good);
    return ways;
}

/* 8 m from the door to the back, walked by an adult and by one with a stick: the fast of the one, the slow of the
 * other. The cat comes the same way and is no walker. */
static void a_typed_way_has_its_length_and_its_walkers(void **state) {
    (void)state;
    struct scene scene;
    set_scene(&scene);
    add_way(&scene, FRONT_DOOR, BACK_PAD);
    add_step(&scene, ADULT, SITE_ACT_COME, 0, SITE_NONE);
    add_step(&scene, WITH_STICK, SITE_ACT_GO, 0, SITE_NONE);
    add_step(&scene, CAT, SITE_ACT_COME, 0, SITE_NONE);
    const struct used_ways ways = make(&scene);
    const struct site_speed fast = site_walker_pace(SITE_WALKER_ADULT).level;
    const struct site_speed slow = site_walker_pace(SITE_WALKER_STICK).level;
    assert_true(slow.slow_mm_s < fast.slow_mm_s);
    assert_int_equal(ways.count, 1);
    assert_true(ways.ways[0].drawn);
    assert_int_equal(ways.ways[0].people, 1U << ADULT | 1U << WITH_STICK);
    assert_near(ways.ways[0].way.way.length_mm, 8000);
    assert_near(used_way_seconds(&ways.ways[0]).low_s, 8000.0 / fast.fast_mm_s);
    assert_near(used_way_seconds(&ways.ways[0]).high_s, 8000.0 / slow.slow_mm_s);
    arena_finish(&scene.arena);
}

static void two_typed_ways_between_the_same_ends_are_one(void **state) {
    (void)state;
    struct scene scene;
    set_scene(&scene);
    add_way(&scene, FRONT_DOOR, BACK_PAD);
    add_way(&scene, FRONT_DOOR, RIGHT_PAD);
    add_way(&scene, FRONT_DOOR, BACK_PAD);
    add_step(&scene, ADULT, SITE_ACT_COME, 0, SITE_NONE);
    add_step(&scene, WITH_STICK, SITE_ACT_COME, 2, SITE_NONE);
    const struct used_ways ways = make(&scene);
    assert_int_equal(ways.count, 2);
    assert_int_equal(ways.ways[0].people, 1U << ADULT | 1U << WITH_STICK);
    assert_int_equal(
            ways.ways[0].pace.level.slow_mm_s, site_walker_pace(SITE_WALKER_STICK).level.slow_mm_s);
    assert_int_equal(ways.ways[1].keypad, RIGHT_PAD);
    assert_int_equal(ways.ways[1].people, 0); /* nobody is known: an adult */
    assert_int_equal(
            ways.ways[1].pace.level.slow_mm_s, site_walker_pace(SITE_WALKER_ADULT).level.slow_mm_s);
    arena_finish(&scene.arena);
}

/* From the garden door the right keypad is 2 m away, the back one more than 4; a window is opened, but not walked. */
static void a_door_that_is_opened_leads_to_the_nearest_keypad(void **state) {
    (void)state;
    struct scene scene;
    set_scene(&scene);
    add_step(&scene, WITH_STICK, SITE_ACT_OPEN, SITE_NONE, GARDEN_DOOR);
    add_step(&scene, ADULT, SITE_ACT_OPEN, SITE_NONE, WINDOW);
    add_step(&scene, ADULT, SITE_ACT_CLOSE, SITE_NONE, FRONT_DOOR);
    const struct used_ways ways = make(&scene);
    assert_int_equal(ways.count, 1);
    assert_int_equal(ways.ways[0].door, GARDEN_DOOR);
    assert_int_equal(ways.ways[0].keypad, RIGHT_PAD);
    assert_int_equal(ways.ways[0].people, 1U << WITH_STICK);
    assert_near(ways.ways[0].way.way.length_mm, 2000);
    arena_finish(&scene.arena);
}

static void a_door_with_a_typed_way_is_not_told_again(void **state) {
    (void)state;
    struct scene scene;
    set_scene(&scene);
    add_way(&scene, GARDEN_DOOR, BACK_PAD);
    add_step(&scene, ADULT, SITE_ACT_OPEN, SITE_NONE, GARDEN_DOOR);
    const struct used_ways ways = make(&scene);
    assert_int_equal(ways.count, 1);
    assert_int_equal(ways.ways[0].keypad, BACK_PAD);
    arena_finish(&scene.arena);
}

static void without_keypads_it_leads_to_the_panel(void **state) {
    (void)state;
    struct scene scene;
    set_scene(&scene);
    scene.site.keypad_count = 0;
    scene.places[BACK_PAD].keypad = SITE_NONE;
    scene.places[RIGHT_PAD].keypad = SITE_NONE;
    add_step(&scene, ADULT, SITE_ACT_OPEN, SITE_NONE, FRONT_DOOR);
    const struct used_ways ways = make(&scene);
    assert_int_equal(ways.count, 1);
    assert_int_equal(ways.ways[0].keypad, SITE_NONE);
    assert_near(ways.ways[0].way.way.length_mm, 8000);
    arena_finish(&scene.arena);
}

/* A way into a room, one whose door nobody named, one to a keypad that has no place. */
static void what_is_not_drawn_says_so(void **state) {
    (void)state;
    struct scene scene;
    set_scene(&scene);
    add_way(&scene, FRONT_DOOR, SITE_NONE);
    add_way(&scene, SITE_NONE, BACK_PAD);
    add_way(&scene, FRONT_DOOR, RIGHT_PAD);
    scene.places[RIGHT_PAD].keypad = SITE_NONE;
    const struct used_ways ways = make(&scene);
    assert_int_equal(ways.count, 1);
    assert_int_equal(ways.ways[0].keypad, RIGHT_PAD);
    assert_false(ways.ways[0].drawn);
    assert_int_equal(ways.ways[0].way.way.count, 0);
    arena_finish(&scene.arena);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(a_typed_way_has_its_length_and_its_walkers),
            cmocka_unit_test(two_typed_ways_between_the_same_ends_are_one),
            cmocka_unit_test(a_door_that_is_opened_leads_to_the_nearest_keypad),
            cmocka_unit_test(a_door_with_a_typed_way_is_not_told_again),
            cmocka_unit_test(without_keypads_it_leads_to_the_panel),
            cmocka_unit_test(what_is_not_drawn_says_so),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
