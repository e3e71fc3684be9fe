/* What is kept of earlier drawings: an invented row of six rooms of 4 x 5 m with doors between, a motion detector in
 * each and a cupboard in the first. Whatever is moved, the answers are those of a drawing that is looked at for the
 * first time, and only what was touched is worked out. */
#include "plan/coverage.h"
#include "plan/house_ways.h"
#include "plan/recall.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

enum { ROOMS = 6, DOORS = ROOMS - 1, WIDE_MM = 4000, DEEP_MM = 5000 };

static bool is_refused; /* every page from now on */

static void *get_page(void *context, size_t size) {
    (void)context;
    return is_refused ? NULL : malloc(size);
}

static void give_page(void *context, void *block, size_t size) {
    (void)context;
    (void)size;
    free(block);
}

static void *get_any_page(void *context, size_t size) {
    (void)context;
    return malloc(size);
}

static const struct pages PAGES = {get_page, give_page, NULL};
static const struct pages ALWAYS = {get_any_page, give_page, NULL};

struct scene {
    struct site site;
    struct site_storey storey;
    struct site_room rooms[ROOMS];
    struct site_opening openings[DOORS];
    struct site_furniture cupboard;
    struct site_place places[ROOMS];
    struct site_device devices[ROOMS];
    struct site_device_profile profile;
};

static void set_scene(struct scene *scene) {
    memset(scene, 0, sizeof *scene);
    scene->storey = (struct site_storey){.ceiling_mm = 2500, .slab_mm = 300};
    scene->profile.sense = SITE_MOTION;
    scene->profile.range_mm = 3500; /* shorter than the room: no two views are alike */
    scene->cupboard =
            (struct site_furniture){.at = {0, 1000}, .size = {600, 1200}, .height_mm = 2000};
    for (int i = 0; i < ROOMS; i++) {
        scene->rooms[i] = (struct site_room){.size = {WIDE_MM, DEEP_MM},
                .size_said = true,
                .right_of = i - 1,
                .left_of = SITE_NONE,
                .behind = SITE_NONE,
                .in_front_of = SITE_NONE,
                .above = SITE_NONE,
                .walls = SITE_NONE,
                .from = SITE_NONE};
        scene->places[i] = (struct site_place){
                .device = i, .keypad = SITE_NONE, .room = i, .corner = SITE_CORNER_BACK_RIGHT};
        scene->devices[i].door = SITE_NONE;
    }
    for (int i = 0; i < DOORS; i++) {
        scene->openings[i] = (struct site_opening){
                .door = SITE_NONE, .room = i, .to = i + 1, .material = SITE_NONE};
    }
    scene->site = (struct site){.devices = scene->devices,
            .device_count = ROOMS,
            .device_profiles = &scene->profile,
            .device_profile_count = 1};
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
            .opening_count = DOORS,
            .furniture = &scene->cupboard,
            .furniture_count = 1,
            .places = scene->places,
            .place_count = ROOMS};
}

static void stand_free(struct scene *scene, int detector, int32_t x_mm, int32_t y_mm) {
    struct site_place *place = &scene->places[detector];
    *place = (struct site_place){.device = detector,
            .keypad = SITE_NONE,
            .room = place->room,
            .at = {x_mm, y_mm},
            .at_said = true};
}

static struct coverage cover(struct scene *scene, struct recall *recall, struct arena *arena) {
    static struct house house;
    struct coverage coverage;
    struct problem problem = {0};
    scene->site.building.recall = recall;
    assert_true(house_make(&scene->site, arena, &house, &problem).good);
    assert_true(coverage_make(&house, arena, &coverage, &problem).good);
    return coverage;
}

static void assert_same_area(const struct area *a, const struct area *b) {
    assert_true(!(a->area_m2 < b->area_m2) && !(b->area_m2 < a->area_m2));
    assert_int_equal(a->ring_count, b->ring_count);
    for (size_t i = 0; i < a->ring_count; i++) {
        assert_int_equal(a->rings[i].count, b->rings[i].count);
        assert_int_equal(a->rings[i].is_hole, b->rings[i].is_hole);
        assert_memory_equal(a->rings[i].corners, b->rings[i].corners,
                a->rings[i].count * sizeof(struct sight_corner));
    }
}

/* To the last bit as of a drawing that nobody has looked at. */
static void assert_as_new(struct scene *scene, struct recall *recall) {
    struct arena own;
    struct arena plain;
    arena_init(&own, ALWAYS, 0);
    arena_init(&plain, ALWAYS, 0);
    const struct coverage got = cover(scene, recall, &own);
    const struct coverage wanted = cover(scene, NULL, &plain);
    assert_int_equal(wanted.view_count, ROOMS);
    assert_int_equal(got.view_count, wanted.view_count);
    for (size_t i = 0; i < got.view_count; i++) {
        assert_int_equal(got.views[i].view.count, wanted.views[i].view.count);
        assert_memory_equal(got.views[i].view.corners, wanted.views[i].view.corners,
                got.views[i].view.count * sizeof(struct sight_corner));
        assert_memory_equal(&got.views[i].room_m2, &wanted.views[i].room_m2, sizeof(double));
        assert_memory_equal(&got.views[i].hidden, &wanted.views[i].hidden, sizeof(double));
    }
    for (size_t i = 0; i < ROOMS; i++) {
        assert_same_area(&got.rooms[i].blind, &wanted.rooms[i].blind);
    }
    arena_finish(&own);
    arena_finish(&plain);
}

static struct recall *make(void) {
    struct recall *recall;
    struct problem problem = {0};
    assert_true(recall_make(PAGES, &recall, &problem).good);
    return recall;
}

/* Room 4 has no tall furniture and its doors are shut: its detector is one view, and one question about its room's
 * floor. Everything else is known. */
static void only_what_is_touched_is_worked_out(void **state) {
    (void)state;
    struct scene scene;
    struct recall *recall = make();
    set_scene(&scene);
    assert_as_new(&scene, recall);
    const size_t whole = recall_tally(recall).worked_out + recall_tally(recall).known;
    assert_true(recall_tally(recall).worked_out >= 2 * ROOMS);
    recall_turn(recall);
    assert_as_new(&scene, recall);
    assert_int_equal(recall_tally(recall).worked_out, 0);
    assert_int_equal(recall_tally(recall).known, whole);
    recall_turn(recall);
    stand_free(&scene, 4, 1000, 2000);
    assert_as_new(&scene, recall);
    assert_int_equal(recall_tally(recall).worked_out, 2);
    recall_turn(recall);
    assert_as_new(&scene, recall);
    assert_int_equal(recall_tally(recall).worked_out, 0);
    recall_drop(recall);
}

/* What was not asked for in the last look is gone in the next: a detector that comes back is worked out again. */
static void what_is_not_asked_for_is_forgotten(void **state) {
    (void)state;
    struct scene scene;
    struct recall *recall = make();
    set_scene(&scene);
    const struct site_place before = scene.places[4];
    assert_as_new(&scene, recall);
    stand_free(&scene, 4, 1000, 2000);
    recall_turn(recall);
    assert_as_new(&scene, recall);
    recall_turn(recall);
    assert_as_new(&scene, recall);
    scene.places[4] = before;
    recall_turn(recall);
    assert_as_new(&scene, recall);
    assert_true(recall_tally(recall).worked_out > 0);
    recall_drop(recall);
}

/* A long morning of edits: detectors, a cupboard, a door and a wall are moved, one after the other. */
static void whatever_is_moved_the_answers_are_new(void **state) {
    (void)state;
    struct scene scene;
    struct recall *recall = make();
    uint64_t seed = 11;
    size_t known = 0;
    set_scene(&scene);
    for (int round = 0; round < 40; round++) {
        seed = seed * 6364136223846793005ULL + 1442695040888963407ULL;
        const int32_t far_mm = (int32_t)(seed >> 40 & 1023U);
        const int which = (int)(seed >> 33) % ROOMS;
        switch ((seed >> 55) % 4) {
        case 0:
            scene.cupboard.at.y_mm = 500 + far_mm;
            break;
        case 1:
            scene.openings[which % DOORS].from_left_said = true;
            scene.openings[which % DOORS].from_left_mm = 1000 + far_mm;
            scene.openings[which % DOORS].kind =
                    far_mm % 2 == 0 ? SITE_OPENING_GAP : SITE_OPENING_DOOR;
            break;
        case 2:
            scene.rooms[which].size.x_mm = WIDE_MM + far_mm;
            break;
        default:
            stand_free(&scene, which, 1000 + far_mm, 3000 - far_mm);
        }
        assert_as_new(&scene, recall);
        known += recall_tally(recall).known;
        recall_turn(recall);
    }
    assert_true(known > 100);
    recall_drop(recall);
}

/* A room of 4 x 3 m with two openings, a cupboard between, and a detector that sees its right half. */
struct moves_scene {
    struct point corners[4];
    struct segment blocks[1];
    struct sight_corner seen[4];
    struct sight_view view;
    struct room_side sides[2];
    unsigned partners[1];
};

static void set_moves(struct moves_scene *scene) {
    *scene = (struct moves_scene){.corners = {{0, 0}, {4000, 0}, {4000, 3000}, {0, 3000}},
            .blocks = {{{2000, 1000}, {2000, 3000}}},
            .seen = {{2000, 0}, {4000, 0}, {4000, 3000}, {2000, 3000}},
            .sides = {{.spots = {{200, 2000}}, .spot_count = 1},
                    {.spots = {{3800, 2000}}, .spot_count = 1}}};
    scene->view = (struct sight_view){{4000, 0}, scene->seen, 4, 6};
}

/* As worked out anew, to the last bit; whether it was known. */
static bool moves_were_known(const struct moves_scene *scene, struct recall *recall) {
    const struct room_floor floor = {.outline = {scene->corners, 4},
            .blocks = scene->blocks,
            .block_count = 1,
            .views = &scene->view,
            .partners = scene->partners,
            .view_count = 1,
            .sides = scene->sides,
            .side_count = 2,
            .start_count = 2};
    const size_t known = recall_tally(recall).known;
    struct problem problem = {0};
    struct room_moves got;
    struct room_moves wanted;
    struct arena arena;
    arena_init(&arena, ALWAYS, 0);
    assert_true(recall_moves(recall, &floor, &arena, &got, &problem).good);
    assert_true(room_moves_find(&floor, &arena, &wanted, &problem).good);
    assert_true(wanted.count > 0);
    assert_int_equal(got.count, wanted.count);
    for (size_t i = 0; i < got.count; i++) {
        const struct room_move *a = &got.list[i];
        const struct room_move *b = &wanted.list[i];
        assert_int_equal(a->from, b->from);
        assert_int_equal(a->to, b->to);
        assert_int_equal(a->seen, b->seen);
        assert_memory_equal(&a->way.length_mm, &b->way.length_mm, sizeof(double));
        assert_int_equal(a->way.count, b->way.count);
        for (size_t k = 0; k < a->way.count; k++) {
            assert_true(point_equal(a->way.stops[k].at, b->way.stops[k].at));
        }
    }
    arena_finish(&arena);
    return recall_tally(recall).known > known;
}

/* Whatever they depend on is changed in turn: each change is worked out, and known the next time. */
static void moves_within_a_room(void **state) {
    (void)state;
    struct moves_scene scene;
    struct recall *recall = make();
    set_moves(&scene);
    int32_t *const changed[] = {&scene.corners[2].x_mm, &scene.blocks[0].from.y_mm,
            &scene.sides[0].spots[0].y_mm, &scene.view.at.y_mm};
    assert_false(moves_were_known(&scene, recall));
    for (size_t i = 0; i < sizeof changed / sizeof changed[0]; i++) {
        recall_turn(recall);
        assert_true(moves_were_known(&scene, recall));
        *changed[i] += 10;
        assert_false(moves_were_known(&scene, recall));
    }
    scene.seen[0].x_mm += 500;
    assert_false(moves_were_known(&scene, recall));
    assert_true(moves_were_known(&scene, recall));
    recall_drop(recall);
}

static void without_memory_it_answers_all_the_same(void **state) {
    (void)state;
    struct scene scene;
    struct recall *recall = make();
    set_scene(&scene);
    is_refused = true;
    assert_as_new(&scene, recall);
    recall_turn(recall);
    assert_as_new(&scene, recall);
    assert_int_equal(recall_tally(recall).known, 0);
    struct recall *none = NULL;
    struct problem problem = {0};
    assert_false(recall_make(PAGES, &none, &problem).good);
    is_refused = false;
    recall_drop(recall);
    recall_drop(NULL);
}

/* The way from the first room to the last one, in whole as it is found without anything kept. */
static struct house_way walk_through(
        struct scene *scene, struct recall *recall, struct arena *arena) {
    struct house house;
    struct house_ways *ways = NULL;
    struct house_way way;
    struct walk_place from;
    struct walk_place to;
    struct problem problem = {0};
    scene->site.building.recall = recall;
    assert_true(house_make(&scene->site, arena, &house, &problem).good);
    assert_true(house_ways_room(&house, 0, &from));
    assert_true(house_ways_room(&house, ROOMS - 1, &to));
    assert_true(house_ways_make(&house, arena, &ways, &problem).good);
    assert_true(house_ways_find(ways, from, to, NULL, arena, &way, &problem).good);
    scene->site.building.recall = NULL;
    return way;
}

static void assert_same_walk(struct scene *scene, struct recall *recall) {
    struct arena own;
    struct arena plain;
    arena_init(&own, ALWAYS, 0);
    arena_init(&plain, ALWAYS, 0);
    const struct house_way got = walk_through(scene, recall, &own);
    const struct house_way wanted = walk_through(scene, NULL, &plain);
    assert_true(wanted.way.count > 1);
    assert_int_equal(got.way.count, wanted.way.count);
    assert_int_equal(got.passed_count, wanted.passed_count);
    for (size_t i = 0; i < got.way.count; i++) {
        assert_true(point_equal(got.way.stops[i].at, wanted.way.stops[i].at));
        assert_memory_equal(
                &got.way.stops[i].after_mm, &wanted.way.stops[i].after_mm, sizeof(double));
    }
    arena_finish(&own);
    arena_finish(&plain);
}

/* A way is on no detector, but on what stands in the rooms. */
static void a_way_is_worked_out_when_its_walls_change(void **state) {
    (void)state;
    struct scene scene;
    struct recall *recall = make();
    set_scene(&scene);
    assert_same_walk(&scene, recall);
    assert_true(recall_tally(recall).worked_out > 0);
    recall_turn(recall);
    stand_free(&scene, 4, 1000, 2000);
    assert_same_walk(&scene, recall);
    assert_int_equal(recall_tally(recall).worked_out, 0);
    assert_true(recall_tally(recall).known > 0);
    recall_turn(recall);
    scene.cupboard.size.x_mm += 400;
    assert_same_walk(&scene, recall);
    assert_true(recall_tally(recall).worked_out > 0);
    recall_drop(recall);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(only_what_is_touched_is_worked_out),
            cmocka_unit_test(a_way_is_worked_out_when_its_walls_change),
            cmocka_unit_test(what_is_not_asked_for_is_forgotten),
            cmocka_unit_test(whatever_is_moved_the_answers_are_new),
            cmocka_unit_test(moves_within_a_room),
            cmocka_unit_test(without_memory_it_answers_all_the_same),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
