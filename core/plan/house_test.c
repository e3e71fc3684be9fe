/* Where things come to stand, worked out by hand. */
#include "plan/house.h"
#include "plan/test_rooms.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <string.h>

#include <cmocka.h>

static void *get_page(void *context, size_t size) {
    long *left = context;
    if (left != NULL && (*left)-- <= 0) {
        return NULL;
    }
    return malloc(size);
}

static void give_page(void *context, void *block, size_t size) {
    (void)context;
    (void)size;
    free(block);
}

static const struct pages pages = {.get = get_page, .give = give_page};

enum { HALL, SHOP, YARD, LANDING, ROOF, ROOMS };
enum { FRONT, BETWEEN, YARD_DOOR, UPPER_WINDOW, ROOF_WINDOW, LIGHT, OPENINGS };

/* A hall of 2 x 5 m at the origin, a shop of 4 x 3 m right of it (100 mm of wall), a yard behind the shop (250 mm), a
 * landing above the hall, a flat roof beside it. */
struct scene {
    struct site site;
    struct site_storey storeys[2];
    struct site_room rooms[ROOMS];
    struct site_opening openings[OPENINGS];
    struct site_stairs stairs[1];
    struct site_furniture furniture[1];
    struct site_place places[4];
    struct arena arena;
    struct house house;
};

static void set_scene(struct scene *scene) {
    *scene = (struct scene){.storeys = {{.ceiling_mm = 2500, .slab_mm = 300},
                                    {.floor_mm = 2800, .ceiling_mm = 2500, .slab_mm = 300}}};
    scene->rooms[HALL] = test_room(SITE_ROOM, 0, 2000, 5000);
    scene->rooms[SHOP] = test_room(SITE_ROOM, 0, 4000, 3000);
    scene->rooms[SHOP].right_of = HALL;
    scene->rooms[SHOP].shift_mm = 1000;
    scene->rooms[YARD] = test_room(SITE_YARD, 0, 6000, 3000);
    scene->rooms[YARD].behind = SHOP;
    scene->rooms[LANDING] = test_room(SITE_ROOM, 1, 0, 0);
    scene->rooms[LANDING].above = HALL;
    scene->rooms[ROOF] = test_room(SITE_FLAT_ROOF, 1, 4000, 4000);
    scene->rooms[ROOF].right_of = LANDING;
    scene->openings[FRONT] = test_opening(SITE_OPENING_DOOR, HALL, SITE_NONE, SITE_SIDE_FRONT);
    scene->openings[FRONT].from_left_mm = 300;
    scene->openings[FRONT].from_left_said = true;
    scene->openings[BETWEEN] = test_opening(SITE_OPENING_DOOR, HALL, SHOP, SITE_SIDE_UNSAID);
    scene->openings[YARD_DOOR] = test_opening(SITE_OPENING_DOOR, SHOP, SITE_NONE, SITE_SIDE_BACK);
    scene->openings[UPPER_WINDOW] =
            test_opening(SITE_OPENING_WINDOW, LANDING, SITE_NONE, SITE_SIDE_LEFT);
    scene->openings[ROOF_WINDOW] =
            test_opening(SITE_OPENING_WINDOW, LANDING, SITE_NONE, SITE_SIDE_RIGHT);
    scene->openings[LIGHT] =
            test_opening(SITE_OPENING_ROOF_LIGHT, LANDING, SITE_NONE, SITE_SIDE_UNSAID);
    scene->stairs[0] = (struct site_stairs){.room = HALL,
            .to = LANDING,
            .at = {0, 1500},
            .size = {900, 3000},
            .up = SITE_SIDE_BACK};
    scene->furniture[0] = (struct site_furniture){
            .room = SHOP, .at = {1000, 500}, .size = {2000, 600}, .height_mm = 1100};
    const struct site_place nothing = {.device = SITE_NONE, .keypad = SITE_NONE, .room = SHOP};
    for (size_t i = 0; i < 4; i++) {
        scene->places[i] = nothing;
    }
    scene->places[0].corner = SITE_CORNER_BACK_LEFT;
    scene->places[1].wall = SITE_SIDE_RIGHT;
    scene->places[1].from_left_mm = 500;
    scene->places[1].from_left_said = true;
    scene->places[2].at = (struct site_point){500, 700};
    scene->places[2].at_said = true;
    scene->places[2].towards = (struct site_point){3500, 2700};
    scene->places[2].towards_said = true;
    scene->places[3].faces = SITE_FACES_FRONT;
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
            .furniture = scene->furniture,
            .furniture_count = 1,
            .places = scene->places,
            .place_count = 4};
}

static void make(struct scene *scene) {
    struct problem problem = {0};
    arena_init(&scene->arena, pages, 0);
    assert_true(house_make(&scene->site, &scene->arena, &scene->house, &problem).good);
}

static void assert_point(struct point at, int32_t x_mm, int32_t y_mm) {
    assert_int_equal(at.x_mm, x_mm);
    assert_int_equal(at.y_mm, y_mm);
}

static void rooms_stand_beside_each_other(void **state) {
    (void)state;
    struct scene scene;
    set_scene(&scene);
    make(&scene);
    const struct house_room *rooms = scene.house.rooms;
    assert_int_equal(scene.house.fault_count, 0);
    assert_point(rooms[HALL].high, 2000, 5000);
    assert_point(rooms[SHOP].low, 2100, 1000);
    assert_point(rooms[SHOP].high, 6100, 4000);
    assert_point(rooms[YARD].low, 2100, 4250);
    assert_point(rooms[LANDING].high, 2000, 5000);
    assert_point(rooms[ROOF].low, 2250, 0);
    assert_int_equal(outline_twice_area_mm2(rooms[SHOP].outline), 2 * 12000000);
    assert_int_equal(house_room_at(&scene.house, 0, (struct point){3000, 2000}), SHOP);
    assert_int_equal(house_room_at(&scene.house, 1, (struct point){3000, 2000}), ROOF);
    assert_int_equal(house_room_at(&scene.house, 0, (struct point){2050, 2000}), HOUSE_OUTSIDE);
    assert_point(scene.house.low, 0, 0);
    assert_point(scene.house.high, 8100, 7250);
    arena_finish(&scene.arena);
}

/* Seen from within, the left corner of a front wall is at its right end. */
static void openings_are_in_their_walls(void **state) {
    (void)state;
    struct scene scene;
    set_scene(&scene);
    make(&scene);
    const struct house_opening *openings = scene.house.openings;
    assert_point(openings[FRONT].near[0], 1700, 0);
    assert_point(openings[FRONT].near[1], 800, 0);
    assert_point(openings[FRONT].far[0], 1700, -250);
    assert_int_equal(openings[FRONT].other, HOUSE_OUTSIDE);
    /* Hall and shop share the wall from 1 to 4 m: its middle is at 2.5 m, the left jamb towards the back. */
    assert_point(openings[BETWEEN].near[0], 2000, 2950);
    assert_point(openings[BETWEEN].near[1], 2000, 2050);
    assert_point(openings[BETWEEN].far[1], 2100, 2050);
    assert_false(openings[BETWEEN].reached);
    assert_int_equal(openings[YARD_DOOR].other, YARD); /* found behind the wall */
    assert_point(openings[YARD_DOOR].near[0], 3650, 4000);
    assert_true(openings[YARD_DOOR].reached);
    /* A sill at 2.8 + 0.9 m is out of reach from the ground, and within from the roof. */
    assert_false(openings[UPPER_WINDOW].reached);
    assert_int_equal(openings[ROOF_WINDOW].other, ROOF);
    assert_true(openings[ROOF_WINDOW].reached);
    assert_true(openings[LIGHT].flat);
    assert_point(openings[LIGHT].near[0], 600, 2100);
    assert_point(openings[LIGHT].near[1], 1400, 2900);
    arena_finish(&scene.arena);
}

static void things_are_at_their_points(void **state) {
    (void)state;
    struct scene scene;
    set_scene(&scene);
    make(&scene);
    const struct house_place *places = scene.house.places;
    assert_point(scene.house.stairs[0].foot, 450, 1500);
    assert_point(scene.house.stairs[0].head, 450, 4500);
    assert_int_equal(scene.house.stairs[0].rise_mm, 2800);
    assert_int_equal(scene.house.stairs[0].run_mm, 3000);
    assert_point(scene.house.furniture[0].corners[2], 5100, 2100);
    assert_point(places[0].at, 2100, 4000);
    assert_point(places[0].faces, 1, -1); /* out of the corner */
    /* Seen from within, the left corner of a right wall is at its back. */
    assert_point(places[1].at, 6100, 3500);
    assert_point(places[1].into, -1, 0);
    assert_point(places[2].at, 2600, 1700);
    assert_point(places[2].faces, 3000, 2000);
    assert_point(places[3].at, 4100, 2500);
    assert_point(places[3].into, 0, 0);
    assert_point(places[3].faces, 0, -1);
    arena_finish(&scene.arena);
}

/* Turned by its corners the other way round, an outline is the same room. */
static void corners_may_run_either_way(void **state) {
    (void)state;
    static const struct site_point right_round[] = {{0, 0}, {0, 3000}, {4000, 3000}, {4000, 0}};
    struct scene scene;
    set_scene(&scene);
    scene.rooms[SHOP].size_said = false;
    scene.rooms[SHOP].outline = right_round;
    scene.rooms[SHOP].outline_count = 4;
    make(&scene);
    assert_int_equal(scene.house.fault_count, 0);
    assert_int_equal(outline_twice_area_mm2(scene.house.rooms[SHOP].outline), 2 * 12000000);
    assert_point(scene.house.openings[BETWEEN].near[0], 2000, 2950);
    arena_finish(&scene.arena);
}

/* Rooms that hang on each other far out run off no numbers, and are faults. */
static void far_out(void **state) {
    (void)state;
    struct scene scene;
    set_scene(&scene);
    for (int i = 0; i < ROOMS; i++) {
        scene.rooms[i] = test_room(SITE_ROOM, 0, 10000000, 10000000);
        scene.rooms[i].shift_mm = 10000000;
        scene.rooms[i].right_of = i - 1;
    }
    make(&scene);
    assert_true(scene.house.fault_count >= ROOMS);
    assert_int_equal(scene.house.faults[0].kind, HOUSE_UNITS);
    assert_int_equal(scene.house.faults[0].amount_mm, 10000000);
    arena_finish(&scene.arena);
}

static void memory_may_be_refused(void **state) {
    (void)state;
    bool good = false;
    for (long most = 0; !good; most++) {
        struct scene scene;
        struct problem problem = {0};
        long left = most;
        set_scene(&scene);
        arena_init(&scene.arena,
                (struct pages){.get = get_page, .give = give_page, .context = &left}, 0);
        good = house_make(&scene.site, &scene.arena, &scene.house, &problem).good;
        assert_true(good || problem.kind == PROBLEM_MEMORY);
        arena_finish(&scene.arena);
        assert_true(most < 100);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(rooms_stand_beside_each_other),
            cmocka_unit_test(openings_are_in_their_walls),
            cmocka_unit_test(things_are_at_their_points),
            cmocka_unit_test(corners_may_run_either_way),
            cmocka_unit_test(far_out),
            cmocka_unit_test(memory_may_be_refused),
    };
    return cmocka_run_group_tests_name("house", tests, NULL, NULL);
}
