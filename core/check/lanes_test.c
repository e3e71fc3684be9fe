/* Bars of a story made by hand: who is where from when to when. */
#include "check/lanes.h"

#include "check/test_answer.h"

struct scene {
    struct test_site house;
    struct test_answer it;
    struct arena arena;
    struct lanes lanes;
};

static void scene_make(struct scene *scene) {
    struct problem problem = {0};
    test_site_fill(&scene->house, SITE_WORDS_UK);
    test_side_door(&scene->it, &scene->house.routine);
    arena_init(&scene->arena, test_pages(), 0);
    assert_true(lanes_make(
            &scene->house.site, &scene->it.answer, &scene->arena, &scene->lanes, &problem)
                        .good);
}

static const struct lane_bar *find(
        const struct scene *scene, enum lane_kind lane, const char *of, const char *says) {
    for (size_t i = 0; i < scene->lanes.count; i++) {
        const struct lane_bar *bar = &scene->lanes.bars[i];
        if (bar->lane == lane && text_is(lane_name(&scene->house.site, bar), of) &&
                text_is(bar->says, says)) {
            return bar;
        }
    }
    return NULL;
}

static void a_door_stands_open_from_the_act_that_opens_it(void **state) {
    (void)state;
    struct scene scene;
    scene_make(&scene);
    const struct lane_bar *act = find(&scene, LANE_PERSON, "apprentice", "opens the side door");
    const struct lane_bar *door = find(&scene, LANE_DOOR, "side door", "open");
    assert_non_null(act);
    assert_non_null(door);
    assert_int_equal(door->from_s, act->to_s);
    assert_int_equal(door->to_s, LANES_TO_THE_END);
    assert_string_equal(act->list, "doors");
    assert_int_equal(act->at, door->of);
    arena_finish(&scene.arena);
}

static void the_siren_breaks_the_promise_in_the_second_of_the_door(void **state) {
    (void)state;
    struct scene scene;
    scene_make(&scene);
    const struct lane_bar *door = find(&scene, LANE_DOOR, "side door", "open");
    size_t bad = 0;
    for (size_t i = 0; i < scene.lanes.count; i++) {
        const struct lane_bar *bar = &scene.lanes.bars[i];
        if (bar->bad) {
            bad++;
            assert_int_equal(bar->lane, LANE_SOUND);
            assert_string_equal(bar->state, "siren");
            assert_int_equal(bar->from_s, door->from_s);
        }
    }
    assert_int_equal(bad, 1);
    arena_finish(&scene.arena);
}

static void an_area_is_what_the_routine_begins_with(void **state) {
    (void)state;
    struct scene scene;
    scene_make(&scene);
    const struct lane_bar *shop = find(&scene, LANE_AREA, "shop", "set (full)");
    assert_non_null(shop);
    assert_string_equal(shop->state, "set");
    assert_int_equal(shop->from_s, 0);
    assert_non_null(find(&scene, LANE_AREA, "flat", "unset"));
    arena_finish(&scene.arena);
}

static void bars_come_by_lane_and_by_their_beginning(void **state) {
    (void)state;
    struct scene scene;
    scene_make(&scene);
    for (size_t i = 1; i < scene.lanes.count; i++) {
        const struct lane_bar *a = &scene.lanes.bars[i - 1];
        const struct lane_bar *b = &scene.lanes.bars[i];
        assert_true(a->lane < b->lane ||
                (a->lane == b->lane && (a->of < b->of || a->from_s <= b->from_s)));
        assert_true(b->from_s <= b->to_s);
    }
    arena_finish(&scene.arena);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(a_door_stands_open_from_the_act_that_opens_it),
            cmocka_unit_test(the_siren_breaks_the_promise_in_the_second_of_the_door),
            cmocka_unit_test(an_area_is_what_the_routine_begins_with),
            cmocka_unit_test(bars_come_by_lane_and_by_their_beginning),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
