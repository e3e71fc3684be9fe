/* An invented house of straight ways, whose lengths can be read off: a hall of 2 x 8 m with the front door in the
 * middle of its front and a keypad in the middle of its back; a store of 3 x 4 m right of it, 100 mm of wall between,
 * with a door; a landing above the hall, up a flight of 3 m that climbs 2.8 m; a shed that only its outside door leads
 * into. */
#include "plan/house_ways.h"
#include "plan/test_rooms.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

static void assert_near(double is, double wanted, double within) {
    if (!(fabs(is - wanted) <= within)) {
        print_error("%.9f, not %.9f\n", is, wanted);
        fail();
    }
}

static const double CLOSE_MM = 0.001;
static const double CLOSE_S = 1e-9;

enum { HALL, STORE, SHED, LANDING, ROOMS };
enum { FRONT_DOOR, STORE_DOOR, SHED_DOOR, OPENINGS };
enum { HALL_PAD, STORE_PAD, SHED_PAD, LANDING_PAD, EYE, PLACES };

struct scene {
    struct site site;
    struct site_door doors[OPENINGS];
    struct site_storey storeys[2];
    struct site_room rooms[ROOMS];
    struct site_opening openings[OPENINGS];
    struct site_stairs stairs[1];
    struct site_furniture furniture[1];
    struct site_place places[PLACES];
    struct site_device devices[1];
    struct site_device_profile profiles[1];
    struct arena arena;
    struct house house;
    struct coverage coverage;
    struct house_ways *ways;
};

static void set_openings(struct scene *scene) {
    for (int i = 0; i < OPENINGS; i++) {
        scene->openings[i] = test_opening(SITE_OPENING_DOOR, HALL, SITE_NONE, SITE_SIDE_UNSAID);
        scene->openings[i].door = i;
        scene->doors[i].outside = i != STORE_DOOR;
    }
    scene->openings[FRONT_DOOR].wall = SITE_SIDE_FRONT;
    scene->openings[STORE_DOOR].to = STORE;
    scene->openings[SHED_DOOR].room = SHED;
    scene->openings[SHED_DOOR].wall = SITE_SIDE_FRONT;
}

static void set_places(struct scene *scene) {
    static const int rooms[] = {HALL, STORE, SHED, LANDING};
    for (int i = 0; i < EYE; i++) {
        scene->places[i] = (struct site_place){
                .device = SITE_NONE, .keypad = i, .room = rooms[i], .wall = SITE_SIDE_BACK};
    }
    scene->places[STORE_PAD].wall = SITE_SIDE_RIGHT;
    /* It looks across the hall from the middle of its left wall, a quarter turn wide. */
    scene->places[EYE] = (struct site_place){
            .device = 0, .keypad = SITE_NONE, .room = HALL, .wall = SITE_SIDE_LEFT};
    scene->profiles[0].sense = SITE_MOTION;
    scene->devices[0].door = SITE_NONE;
}

static void set_scene(struct scene *scene) {
    *scene = (struct scene){.storeys = {{.ceiling_mm = 2500, .slab_mm = 300},
                                    {.floor_mm = 2800, .ceiling_mm = 2500, .slab_mm = 300}}};
    scene->rooms[HALL] = test_room(SITE_ROOM, 0, 2000, 8000);
    scene->rooms[STORE] = test_room(SITE_ROOM, 0, 3000, 4000);
    scene->rooms[STORE].right_of = HALL;
    scene->rooms[SHED] = test_room(SITE_ROOM, 0, 2000, 2000);
    scene->rooms[SHED].left_of = HALL;
    scene->rooms[LANDING] = test_room(SITE_ROOM, 1, 2000, 8000);
    scene->rooms[LANDING].above = HALL;
    set_openings(scene);
    set_places(scene);
    scene->stairs[0] = (struct site_stairs){.room = HALL,
            .to = LANDING,
            .at = {1500, 4500},
            .size = {500, 3000},
            .up = SITE_SIDE_BACK};
    scene->furniture[0] = (struct site_furniture){
            .room = HALL, .at = {0, 5000}, .size = {200, 200}, .height_mm = 800};
    scene->site = (struct site){.doors = scene->doors,
            .door_count = OPENINGS,
            .devices = scene->devices,
            .device_count = 1,
            .device_profiles = scene->profiles,
            .device_profile_count = 1};
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
            .place_count = PLACES};
    arena_init(&scene->arena, TEST_PAGES, 0);
}

/* All of the house moved: what must change no answer. */
static void move_points(struct point *points, size_t count, struct point (*move)(struct point)) {
    for (size_t i = 0; i < count; i++) {
        points[i] = move(points[i]);
    }
}

static void move_house(struct scene *scene, struct point (*move)(struct point)) {
    for (int i = 0; i < ROOMS; i++) {
        struct outline *outline = &scene->house.rooms[i].outline;
        struct point *corners = ARENA_ARRAY(&scene->arena, struct point, outline->count);
        for (size_t k = 0; k < outline->count; k++) {
            corners[k] = move(outline->corners[k]);
        }
        outline->corners = corners;
    }
    for (int i = 0; i < OPENINGS; i++) {
        move_points(scene->house.openings[i].near, 2, move);
        move_points(scene->house.openings[i].far, 2, move);
    }
    for (int i = 0; i < PLACES; i++) {
        move_points(&scene->house.places[i].at, 1, move);
        move_points(&scene->house.places[i].into, 1, move);
        move_points(&scene->house.places[i].faces, 1, move);
    }
    move_points(scene->house.furniture[0].corners, 4, move);
    move_points(scene->house.stairs[0].corners, 4, move);
    move_points(&scene->house.stairs[0].foot, 1, move);
    move_points(&scene->house.stairs[0].head, 1, move);
}

static void make(struct scene *scene, struct point (*move)(struct point)) {
    struct problem problem = {0};
    assert_true(house_make(&scene->site, &scene->arena, &scene->house, &problem).good);
    if (move != NULL) {
        move_house(scene, move);
    }
    assert_true(coverage_make(&scene->house, &scene->arena, &scene->coverage, &problem).good);
    assert_true(house_ways_make(&scene->house, &scene->arena, &scene->ways, &problem).good);
}

static struct house_way find(struct scene *scene, int door, int keypad) {
    struct house_way way;
    struct walk_place from;
    struct walk_place to;
    struct problem problem = {0};
    assert_true(house_ways_door(&scene->house, door, &from));
    assert_true(house_ways_keypad(&scene->house, keypad, &to));
    assert_true(
            house_ways_find(scene->ways, from, to, &scene->coverage, &scene->arena, &way, &problem)
                    .good);
    return way;
}

/* From the front door straight on to the keypad at the back: 8 m. */
static void a_straight_way_is_as_long_as_the_room(void **state) {
    (void)state;
    struct scene scene;
    set_scene(&scene);
    make(&scene, NULL);
    const struct house_way way = find(&scene, FRONT_DOOR, HALL_PAD);
    assert_near(way.way.length_mm, 8000, CLOSE_MM);
    assert_false(way.tight);
    assert_int_equal(way.passed_count, 0);
    assert_int_equal(way.way.stops[0].at.y_mm, 0);
    assert_int_equal(way.way.stops[way.way.count - 1].at.y_mm, 8000);
    assert_near(way.way.stops[way.way.count - 1].after_mm, 8000, CLOSE_MM);
    arena_finish(&scene.arena);
}

/* The detector hangs at (0, 4000) and looks right, 45 degrees to either side: at x = 1000 it sees from 3 m to 5 m, but
 * the low furniture hides nobody. */
static void what_sees_it_is_told_from_where_to_where(void **state) {
    (void)state;
    struct scene scene;
    set_scene(&scene);
    make(&scene, NULL);
    const struct house_way way = find(&scene, FRONT_DOOR, HALL_PAD);
    assert_int_equal(way.seen_count, 1);
    assert_near(way.seen[0].first_mm, 3000, 1);
    assert_near(way.seen[0].last_mm, 5000, 1);
    arena_finish(&scene.arena);
}

/* Seconds are lengths over speeds: 8 m at 0.9 to 1.4 m/s. Stairs: the hypotenuse of 3 and 2.8 m at their own speed. */
static void seconds_are_length_over_speed(void **state) {
    (void)state;
    struct scene scene;
    set_scene(&scene);
    make(&scene, NULL);
    const struct site_pace adult = site_walker_pace(SITE_WALKER_ADULT);
    const struct house_way level = find(&scene, FRONT_DOOR, HALL_PAD);
    const struct house_seconds taken = house_way_seconds(&level, adult, level.way.length_mm);
    assert_near(taken.low_s, 8.0 / 1.4, CLOSE_S);
    assert_near(taken.high_s, 8.0 / 0.9, CLOSE_S);
    assert_near(house_way_seconds(&level, adult, 4500).high_s, 4.5 / 0.9, CLOSE_S);
    const struct house_way up = find(&scene, FRONT_DOOR, LANDING_PAD);
    const double slope_mm = sqrt(3000.0 * 3000.0 + 2800.0 * 2800.0);
    assert_near(house_way_stairs_mm(&up, up.way.length_mm), slope_mm, 500);
    const double stairs_mm = house_way_stairs_mm(&up, up.way.length_mm);
    assert_near(house_way_seconds(&up, adult, up.way.length_mm).high_s,
            (up.way.length_mm - stairs_mm) / 900 + stairs_mm / 800, CLOSE_S);
    arena_finish(&scene.arena);
}

/* From the door to the foot of the flight, up it, and on: 0 -> (1750, 4500), 3 m and 2.8 m, then to (1000, 8000). A
 * point would walk hypot(750, 4500) + slope + hypot(750, 500); a body a little more, as it keeps off the walls. */
static void stairs_join_storeys(void **state) {
    (void)state;
    struct scene scene;
    set_scene(&scene);
    make(&scene, NULL);
    const struct house_way up = find(&scene, FRONT_DOOR, LANDING_PAD);
    const double least_mm = hypot(750, 4500) + hypot(3000, 2800) + hypot(750, 500);
    assert_true(up.way.length_mm >= least_mm - CLOSE_MM);
    assert_true(up.way.length_mm <= least_mm + 400);
    assert_int_equal(up.way.stops[up.way.count - 1].storey, 1);
    arena_finish(&scene.arena);
}

/* The store's door stands in the middle of the wall that both rooms share: from (2000, 2000) to (2100, 2000). Its
 * keypad is in the middle of its right wall: straight on. */
static void inner_doors_are_passed_outer_ones_are_not(void **state) {
    (void)state;
    struct scene scene;
    set_scene(&scene);
    make(&scene, NULL);
    const struct house_way way = find(&scene, FRONT_DOOR, STORE_PAD);
    assert_int_equal(way.passed_count, 1);
    assert_int_equal(way.passed[0].opening, STORE_DOOR);
    assert_true(way.passed[0].at_mm >= hypot(1000, 2000) - 500);
    assert_true(way.way.length_mm >= hypot(1000, 2000));
    const struct house_way shed = find(&scene, FRONT_DOOR, SHED_PAD);
    assert_int_equal(shed.way.count, 0);
    const struct house_way within = find(&scene, SHED_DOOR, SHED_PAD);
    assert_near(within.way.length_mm, 2000, CLOSE_MM);
    arena_finish(&scene.arena);
}

static void a_way_too_narrow_for_a_body_is_told(void **state) {
    (void)state;
    struct scene scene;
    set_scene(&scene);
    /* From wall to stairs and on to 300 mm from the other wall: nobody's shoulders come through. */
    scene.furniture[0].at = (struct site_point){300, 5000};
    scene.furniture[0].size = (struct site_point){1200, 500};
    make(&scene, NULL);
    const struct house_way way = find(&scene, FRONT_DOOR, HALL_PAD);
    assert_true(way.tight);
    assert_true(way.way.length_mm > 8000);
    assert_near(way.way.length_mm, hypot(700, 5000) + 500 + hypot(700, 2500), CLOSE_MM);
    arena_finish(&scene.arena);
}

static void mirror_and_rotation_change_nothing(void **state) {
    (void)state;
    struct point (*const moves[])(struct point) = {point_quarter_turn, point_mirror};
    static const int pads[] = {HALL_PAD, STORE_PAD, LANDING_PAD};
    struct scene scene;
    set_scene(&scene);
    make(&scene, NULL);
    for (size_t m = 0; m < sizeof moves / sizeof moves[0]; m++) {
        struct scene moved;
        set_scene(&moved);
        make(&moved, moves[m]);
        for (size_t i = 0; i < sizeof pads / sizeof pads[0]; i++) {
            const struct house_way one = find(&scene, FRONT_DOOR, pads[i]);
            const struct house_way other = find(&moved, FRONT_DOOR, pads[i]);
            assert_near(one.way.length_mm, other.way.length_mm, CLOSE_MM);
            assert_int_equal(one.passed_count, other.passed_count);
            assert_int_equal(one.seen_count, other.seen_count);
            for (size_t k = 0; k < one.seen_count; k++) {
                assert_near(one.seen[k].first_mm, other.seen[k].first_mm, 1);
                assert_near(one.seen[k].last_mm, other.seen[k].last_mm, 1);
            }
        }
        arena_finish(&moved.arena);
    }
    arena_finish(&scene.arena);
}

static void what_is_not_drawn_has_no_place(void **state) {
    (void)state;
    struct scene scene;
    struct walk_place place;
    set_scene(&scene);
    scene.openings[STORE_DOOR].width_mm = 9000;
    make(&scene, NULL);
    assert_false(house_ways_door(&scene.house, STORE_DOOR, &place));
    assert_false(house_ways_door(&scene.house, 99, &place));
    assert_false(house_ways_keypad(&scene.house, 99, &place));
    arena_finish(&scene.arena);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(a_straight_way_is_as_long_as_the_room),
            cmocka_unit_test(what_sees_it_is_told_from_where_to_where),
            cmocka_unit_test(seconds_are_length_over_speed),
            cmocka_unit_test(stairs_join_storeys),
            cmocka_unit_test(inner_doors_are_passed_outer_ones_are_not),
            cmocka_unit_test(a_way_too_narrow_for_a_body_is_told),
            cmocka_unit_test(mirror_and_rotation_change_nothing),
            cmocka_unit_test(what_is_not_drawn_has_no_place),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
