/* What stands between two places, worked out by hand on a small house; and the same from both ends. */
#include "radio/crossed.h"
#include "radio/test_scene.h"

static size_t cross(const struct scene *scene, struct radio_spot from, struct radio_spot to,
        struct radio_crossing *crossings) {
    struct radio_crossing back[RADIO_CROSSED_MOST];
    size_t count = 0;
    size_t again = 0;
    assert_true(radio_cross(&scene->house, &from, &to, crossings, &count, NULL).good);
    assert_true(radio_cross(&scene->house, &to, &from, back, &again, NULL).good);
    assert_int_equal(count, again);
    for (size_t i = 0; i < count; i++) {
        assert_int_equal(crossings[i].kind, back[count - 1 - i].kind);
        assert_int_equal(crossings[i].material, back[count - 1 - i].material);
        assert_true(fabs(crossings[i].angle_deg - back[count - 1 - i].angle_deg) < 0.01);
    }
    return count;
}

static void a_straight_way_crosses_the_walls_between(void **unused) {
    (void)unused;
    struct scene scene;
    struct radio_crossing crossings[RADIO_CROSSED_MOST];
    set_scene(&scene);
    const struct radio_spot hall = {0, HALL, 1000, 3000, 1000};
    const struct radio_spot store = {0, STORE, 7500, 3000, 1000};
    assert_int_equal(cross(&scene, hall, store, crossings), 2);
    for (size_t i = 0; i < 2; i++) {
        assert_int_equal(crossings[i].kind, RADIO_CROSSING_WALL);
        assert_int_equal(crossings[i].material, STUD);
        assert_true(fabs(crossings[i].thickness_m - 0.1) < 1e-9);
        assert_true(crossings[i].angle_deg < 1);
    }
    assert_true(fabs(radio_spot_distance_m(&hall, &store) - 6.5) < 1e-9);
    const struct radio_spot same = {0, HALL, 2500, 500, 1000};
    assert_int_equal(cross(&scene, hall, same, crossings), 0);
    arena_finish(&scene.arena);
}

static void a_slanting_way_is_told_its_angle(void **unused) {
    (void)unused;
    struct scene scene;
    struct radio_crossing crossings[RADIO_CROSSED_MOST];
    set_scene(&scene);
    const struct radio_spot hall = {0, HALL, 2000, 1500, 1000};
    const struct radio_spot shop = {0, SHOP, 4000, 3500, 1000};
    assert_int_equal(cross(&scene, hall, shop, crossings), 1);
    assert_true(fabs(crossings[0].angle_deg - 45) < 0.1);
    /* and in height: 2 m across, 2 m up */
    const struct radio_spot low = {0, HALL, 2000, 3000, 200};
    const struct radio_spot high = {0, SHOP, 4000, 3000, 2200};
    assert_int_equal(cross(&scene, low, high, crossings), 1);
    assert_true(fabs(crossings[0].angle_deg - 45) < 0.1);
    arena_finish(&scene.arena);
}

static void leaves_count_and_gaps_do_not(void **unused) {
    (void)unused;
    struct scene scene;
    struct radio_crossing crossings[RADIO_CROSSED_MOST];
    set_scene(&scene);
    /* Along the front, through the door and then through the gap. */
    const struct house_opening *door = &scene.house.openings[BETWEEN];
    assert_true(door->good);
    const double y_mm = (door->near[0].y_mm + door->near[1].y_mm) / 2.0;
    const struct radio_spot hall = {0, HALL, 1000, y_mm, 1000};
    const struct radio_spot store = {0, STORE, 7500, y_mm, 1000};
    assert_int_equal(cross(&scene, hall, store, crossings), 1);
    assert_int_equal(crossings[0].kind, RADIO_CROSSING_LEAF);
    assert_int_equal(crossings[0].opening, BETWEEN);
    assert_int_equal(crossings[0].material, SITE_NONE);
    /* Above the head of both it is wall again. */
    const struct radio_spot hall_high = {0, HALL, 1000, y_mm, 2400};
    const struct radio_spot store_high = {0, STORE, 7500, y_mm, 2400};
    assert_int_equal(cross(&scene, hall_high, store_high, crossings), 2);
    assert_int_equal(crossings[0].kind, RADIO_CROSSING_WALL);
    arena_finish(&scene.arena);
}

static void from_outside_it_is_the_outer_wall_or_the_front_door(void **unused) {
    (void)unused;
    struct scene scene;
    struct radio_crossing crossings[RADIO_CROSSED_MOST];
    set_scene(&scene);
    const struct radio_spot hall = {0, HALL, 2500, 2000, 1000};
    const struct radio_spot before = {0, HOUSE_OUTSIDE, 2500, -3000, 1000};
    assert_int_equal(cross(&scene, before, hall, crossings), 1);
    assert_int_equal(crossings[0].kind, RADIO_CROSSING_WALL);
    assert_int_equal(crossings[0].material, BRICK);
    assert_true(fabs(crossings[0].thickness_m - 0.25) < 1e-9);
    const struct house_opening *front = &scene.house.openings[FRONT];
    const double x_mm = (front->near[0].x_mm + front->near[1].x_mm) / 2.0;
    const struct radio_spot inside = {0, HALL, x_mm, 2000, 1000};
    const struct radio_spot step = {0, HOUSE_OUTSIDE, x_mm, -3000, 1000};
    assert_int_equal(cross(&scene, step, inside, crossings), 1);
    assert_int_equal(crossings[0].kind, RADIO_CROSSING_LEAF);
    arena_finish(&scene.arena);
}

/* What hangs on a wall is in its room: the way to the next room begins with that wall, whole. */
static void what_hangs_on_a_wall_is_in_its_room(void **unused) {
    (void)unused;
    struct scene scene;
    struct radio_crossing crossings[RADIO_CROSSED_MOST];
    set_scene(&scene);
    const struct radio_spot panel = {0, HALL, 3000, 3000, 1000};
    const struct radio_spot window = {0, SHOP, 4600, 4000, 1000};
    assert_int_equal(cross(&scene, panel, window, crossings), 1);
    assert_int_equal(crossings[0].kind, RADIO_CROSSING_WALL);
    assert_int_equal(crossings[0].material, STUD);
    const struct radio_spot near = {0, HALL, 1000, 0, 1000};
    assert_int_equal(cross(&scene, panel, near, crossings), 0);
    const struct radio_spot other_side = {0, SHOP, 3100, 3000, 1000};
    assert_int_equal(cross(&scene, panel, other_side, crossings), 1);
    arena_finish(&scene.arena);
}

static void upwards_it_is_a_floor(void **unused) {
    (void)unused;
    struct scene scene;
    struct radio_crossing crossings[RADIO_CROSSED_MOST];
    set_scene(&scene);
    const struct radio_spot below = {0, HALL, 1500, 2000, 1000};
    const struct radio_spot above = {1, LANDING, 1500, 2000, 3800};
    assert_int_equal(cross(&scene, below, above, crossings), 1);
    assert_int_equal(crossings[0].kind, RADIO_CROSSING_FLOOR);
    assert_true(crossings[0].angle_deg < 0.1);
    assert_true(fabs(crossings[0].thickness_m - 0.3) < 1e-9);
    arena_finish(&scene.arena);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(a_straight_way_crosses_the_walls_between),
            cmocka_unit_test(a_slanting_way_is_told_its_angle),
            cmocka_unit_test(leaves_count_and_gaps_do_not),
            cmocka_unit_test(from_outside_it_is_the_outer_wall_or_the_front_door),
            cmocka_unit_test(what_hangs_on_a_wall_is_in_its_room),
            cmocka_unit_test(upwards_it_is_a_floor),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
