/* The ways of a break-in out of houses made by hand, with answers worked out by hand. */
#include "plan/portals.h"

#include "plan/room_moves.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

static void *get_page(void *context, size_t size) {
    (void)context;
    return malloc(size);
}

static void give_page(void *context, void *block, size_t size) {
    (void)context;
    (void)size;
    free(block);
}

static const struct pages PAGES = {get_page, give_page, NULL};

enum { BARN, LOFT, YARD, ROOMS };
enum { WINDOW, YARD_DOOR, LOFT_WINDOW, INNER_HATCH, OPENINGS };
enum { TROVE, PANEL, PLACES };
enum { ROWS = 3, VIEWS = 2 };

/* A barn of 30 x 12 m with a window in its left wall, 1.5 to 2.5 m from the front, and a door to a yard behind; a loft
 * above with a window out of reach; a hatch and stairs between. The trove is in the barn, 3 m from its right wall and 2
 * m from its front; the panel in the loft. Views are rectangles, as no real detector's: easy to walk round. */
struct scene {
    struct site site;
    struct house house;
    struct site_material rows[ROWS];
    struct site_room rooms[ROOMS];
    struct house_room placed_rooms[ROOMS];
    struct point corners[ROOMS][4];
    struct site_opening openings[OPENINGS];
    struct house_opening placed_openings[OPENINGS];
    struct site_stairs stairs;
    struct house_stairs placed_stairs;
    struct site_furniture furniture;
    struct house_block block;
    struct site_place places[PLACES];
    struct house_place placed[PLACES];
    struct site_zone zones[VIEWS];
    struct coverage coverage;
    struct coverage_view views[VIEWS];
    struct sight_corner seen[VIEWS][4];
    struct coverage_pane pane;
    struct portals portals;
    struct arena arena;
};

static void set_box(struct point *corners, int32_t x, int32_t y, int32_t width, int32_t depth) {
    corners[0] = (struct point){x, y};
    corners[1] = (struct point){x + width, y};
    corners[2] = (struct point){x + width, y + depth};
    corners[3] = (struct point){x, y + depth};
}

static void set_rooms(struct scene *scene) {
    static const int32_t BOXES[ROOMS][4] = {
            {0, 0, 30000, 12000}, {0, 0, 30000, 12000}, {0, 12300, 30000, 5000}};
    static const char *const NAMES[ROOMS] = {"barn", "loft", "yard"};
    for (int i = 0; i < ROOMS; i++) {
        set_box(scene->corners[i], BOXES[i][0], BOXES[i][1], BOXES[i][2], BOXES[i][3]);
        scene->placed_rooms[i] = (struct house_room){.outline = {scene->corners[i], 4},
                .good = true,
                .inside = i != YARD,
                .storey = i == LOFT};
        scene->rooms[i] = (struct site_room){.name = text_of(NAMES[i]), .from = SITE_NONE};
    }
    scene->rooms[YARD].kind = SITE_YARD;
    scene->rooms[YARD].climb = span_of(10, 20);
    scene->rooms[YARD].climb_said = true;
}

static void set_openings(struct scene *scene) {
    scene->rows[0] = (struct site_material){
            .name = text_of("glass"), .forced = span_of(5, 15), .forced_said = true, .glass = true};
    scene->rows[1] = (struct site_material){
            .name = text_of("hollow door"), .forced = span_of(10, 30), .forced_said = true};
    scene->rows[2] = (struct site_material){
            .name = text_of("steel"), .forced = span_of(60, 120), .forced_said = true};
    scene->openings[WINDOW] = (struct site_opening){.name = text_of("window"),
            .kind = SITE_OPENING_WINDOW,
            .door = SITE_NONE,
            .material = SITE_NONE};
    scene->openings[YARD_DOOR] = (struct site_opening){
            .name = text_of("yard door"), .kind = SITE_OPENING_DOOR, .door = 3, .material = 2};
    scene->openings[LOFT_WINDOW] = scene->openings[WINDOW];
    scene->openings[INNER_HATCH] = (struct site_opening){.name = text_of("hatch"),
            .kind = SITE_OPENING_HATCH,
            .door = SITE_NONE,
            .material = SITE_NONE};
    scene->placed_openings[WINDOW] = (struct house_opening){.good = true,
            .reached = true,
            .room = BARN,
            .other = HOUSE_OUTSIDE,
            .near = {{0, 1500}, {0, 2500}},
            .far = {{-300, 1500}, {-300, 2500}}};
    scene->placed_openings[YARD_DOOR] = (struct house_opening){.good = true,
            .reached = true,
            .room = BARN,
            .other = YARD,
            .near = {{1000, 12000}, {2000, 12000}},
            .far = {{1000, 12300}, {2000, 12300}}};
    scene->placed_openings[LOFT_WINDOW] = scene->placed_openings[WINDOW];
    scene->placed_openings[LOFT_WINDOW].room = LOFT;
    scene->placed_openings[LOFT_WINDOW].reached = false;
    scene->placed_openings[INNER_HATCH] = (struct house_opening){.good = true,
            .flat = true,
            .room = BARN,
            .other = LOFT,
            .near = {{20000, 5000}, {21000, 6000}},
            .far = {{20000, 5000}, {21000, 6000}}};
    scene->stairs = (struct site_stairs){
            .name = text_of("stairs"), .room = BARN, .to = LOFT, .up = SITE_SIDE_RIGHT};
    set_box(scene->placed_stairs.corners, 1000, 4000, 4000, 1000);
    scene->placed_stairs.good = true;
    scene->placed_stairs.run_mm = 4000;
    scene->placed_stairs.rise_mm = 3000; /* 5 m: 1.67 s */
}

static void set_things(struct scene *scene) {
    scene->furniture = (struct site_furniture){.room = BARN, .height_mm = 2000};
    set_box(scene->block.corners, 25000, 8000, 1000, 1000);
    scene->block.good = true;
    scene->places[TROVE] = (struct site_place){
            .device = SITE_NONE, .keypad = SITE_NONE, .protects = text_of("trove"), .takes_s = 90};
    scene->placed[TROVE] = (struct house_place){.good = true, .room = BARN, .at = {27000, 2000}};
    scene->places[PANEL] = (struct site_place){
            .device = SITE_NONE, .keypad = SITE_NONE, .fixture = SITE_FIXTURE_PANEL};
    scene->placed[PANEL] = (struct house_place){.good = true, .room = LOFT, .at = {15000, 12000}};
    for (int i = 0; i < VIEWS; i++) {
        scene->zones[i] = (struct site_zone){.device = i, .cross_with = SITE_NONE};
        scene->views[i] = (struct coverage_view){.sense = SITE_MOTION, .device = i};
    }
}

static struct scene *build(void) {
    struct scene *scene = calloc(1, sizeof *scene);
    arena_init(&scene->arena, PAGES, 0);
    set_rooms(scene);
    set_openings(scene);
    set_things(scene);
    scene->site = (struct site){.zones = scene->zones, .zone_count = VIEWS, .area_count = 1};
    scene->site.building = (struct site_building){.said = true,
            .rooms = scene->rooms,
            .room_count = ROOMS,
            .openings = scene->openings,
            .opening_count = OPENINGS,
            .stairs = &scene->stairs,
            .stairs_count = 1,
            .furniture = &scene->furniture,
            .furniture_count = 1,
            .places = scene->places,
            .place_count = PLACES,
            .materials = {.rows = scene->rows, .row_count = ROWS}};
    scene->house = (struct house){.site = &scene->site,
            .rooms = scene->placed_rooms,
            .openings = scene->placed_openings,
            .stairs = &scene->placed_stairs,
            .furniture = &scene->block,
            .places = scene->placed};
    scene->coverage = (struct coverage){.views = scene->views};
    return scene;
}

/* A detector of the barn sees this rectangle. */
static void set_view(struct scene *scene, int view, const int32_t box[4]) {
    struct point corners[4];
    set_box(corners, box[0], box[1], box[2], box[3]);
    for (size_t i = 0; i < 4; i++) {
        scene->seen[view][i] = (struct sight_corner){corners[i].x_mm, corners[i].y_mm};
    }
    scene->views[view].view = (struct sight_view){
            .at = corners[0], .corners = scene->seen[view], .count = 4, .area_m2 = 1};
    scene->coverage.view_count = (size_t)view + 1;
}

static const struct site_break_ins *make(struct scene *scene) {
    struct problem problem = {0};
    if (!portals_make(&scene->house, &scene->coverage, &scene->arena, &scene->portals, &problem)
                    .good) {
        fail_msg("%s", problem.text);
    }
    return &scene->portals.said;
}

static void pull_down(struct scene *scene) {
    arena_finish(&scene->arena);
    free(scene);
}

static int opening_named(const struct site_break_ins *said, const char *name) {
    for (size_t i = 0; i < said->opening_count; i++) {
        if (text_is(said->openings[i].name, name)) {
            return (int)i;
        }
    }
    return SITE_NONE;
}

/* The seconds of the way from an opening to the trove that these zones, and no others, notice; -1: none. */
static int32_t to_trove_s(const struct site_break_ins *said, const char *from, uint64_t seen) {
    int32_t takes_s = -1;
    for (size_t i = 0; i < said->move_count; i++) {
        const struct site_break_in_move *move = &said->moves[i];
        if (move->from == opening_named(said, from) && move->reaches == TROVE &&
                move->seen[0] == seen) {
            assert_int_equal(move->room, BARN);
            assert_int_equal(takes_s, -1); /* once */
            takes_s = move->takes_s;
        }
    }
    return takes_s;
}

static void openings_are_those_that_can_be_reached(void **unused) {
    (void)unused;
    struct scene *scene = build();
    const struct site_break_ins *said = make(scene);
    assert_int_equal(said->opening_count, 5); /* not the window of the loft */

    const struct site_break_in_opening *window = &said->openings[opening_named(said, "window")];
    assert_int_equal(window->from, SITE_NONE);
    assert_int_equal(window->to, BARN);
    assert_int_equal(window->force_s, 5); /* usual for a window: glass */
    assert_true(window->pane);
    assert_int_equal(window->cross_s, 1);
    assert_int_equal(scene->portals.opening[opening_named(said, "window")], WINDOW);

    const struct site_break_in_opening *door = &said->openings[opening_named(said, "yard door")];
    assert_int_equal(door->from, YARD);
    assert_int_equal(door->to, BARN);
    assert_int_equal(door->door, 3);
    assert_int_equal(door->force_s, 60); /* as it is written: steel */
    assert_false(door->pane);

    const struct site_break_in_opening *gate = &said->openings[opening_named(said, "yard")];
    assert_int_equal(gate->from, SITE_NONE);
    assert_int_equal(gate->to, YARD);
    assert_int_equal(gate->force_s, 10);
    assert_true(gate->bare);
    assert_true(said->rooms[YARD].ground);

    const struct site_break_in_opening *hatch = &said->openings[opening_named(said, "hatch")];
    assert_int_equal(hatch->from, BARN);
    assert_int_equal(hatch->to, LOFT);
    assert_int_equal(hatch->force_s, 0); /* within the house it just opens */

    const struct site_break_in_opening *stairs = &said->openings[opening_named(said, "stairs")];
    assert_int_equal(stairs->cross_s, 1);
    assert_true(stairs->bare);
    pull_down(scene);
}

static void goals_are_what_is_protected_and_the_panel(void **unused) {
    (void)unused;
    struct scene *scene = build();
    const struct site_break_ins *said = make(scene);
    assert_int_equal(said->goal_count, PLACES);
    assert_true(text_is(said->goals[TROVE].name, "trove"));
    assert_int_equal(said->goals[TROVE].kind, SITE_BREAK_IN_THING);
    assert_int_equal(said->goals[TROVE].takes_s, 90);
    assert_true(text_is(said->goals[PANEL].name, "panel"));
    assert_int_equal(said->goals[PANEL].kind, SITE_BREAK_IN_PANEL);
    assert_int_equal(said->goals[PANEL].room, LOFT);
    assert_int_equal(said->start_count, 1);
    assert_true(said->starts[0].areas[0].set);
    pull_down(scene);
}

/* 26.2 m from 200 mm behind the window to an arm's length from the trove, 200 mm less for where he stands, at 3 m/s:
 * 8.7 s. */
static void ways_take_their_length_over_the_speed(void **unused) {
    (void)unused;
    struct scene *scene = build();
    const struct site_break_ins *said = make(scene);
    assert_int_equal(to_trove_s(said, "window", 0), 8);
    assert_int_equal(said->notice_count, 0);
    pull_down(scene);
}

/* Over the blind floor behind what is seen: (200, 2350) by (12000, 11000) and (18000, 11000) to (26576, 2424), 32.8 m,
 * and at most 0.2 m more for keeping half a body off. */
static void he_creeps_along_blind_floor(void **unused) {
    (void)unused;
    struct scene *scene = build();
    set_view(scene, 0, (const int32_t[]){12000, 0, 6000, 11000});
    const struct site_break_ins *said = make(scene);
    assert_int_equal(to_trove_s(said, "window", 1), 8);
    assert_int_equal(to_trove_s(said, "window", 0), 10);
    pull_down(scene);
}

static void he_needs_room_to_creep(void **unused) {
    (void)unused;
    struct scene *scene = build();
    set_view(scene, 0, (const int32_t[]){12000, 0, 6000, 11750});
    const struct site_break_ins *said = make(scene);
    assert_int_equal(to_trove_s(said, "window", 1), 8);
    assert_int_equal(to_trove_s(said, "window", 0), -1);
    pull_down(scene);
}

/* What is seen elsewhere is no reason to be seen; by the European course he may want to be. */
static void he_keeps_out_of_what_he_need_not_cross(void **unused) {
    (void)unused;
    struct scene *scene = build();
    set_view(scene, 0, (const int32_t[]){12000, 6000, 6000, 6000});
    const struct site_break_ins *said = make(scene);
    assert_int_equal(to_trove_s(said, "window", 0), 8);
    assert_int_equal(to_trove_s(said, "window", 1), -1);
    scene->site.settings.off_route = SITE_OFF_ROUTE_EN;
    said = make(scene);
    assert_int_equal(to_trove_s(said, "window", 0), 8);
    assert_int_equal(to_trove_s(said, "window", 1), 8);
    pull_down(scene);
}

/* Whoever comes in by an opening that lies in view as a whole is seen, whatever he does then. */
static void an_opening_in_view_is_noticed(void **unused) {
    (void)unused;
    struct scene *scene = build();
    set_view(scene, 0, (const int32_t[]){0, 0, 3000, 4000});
    const struct site_break_ins *said = make(scene);
    assert_int_equal(said->notice_count, 1);
    assert_int_equal(said->notices[0].opening, opening_named(said, "window"));
    assert_int_equal(said->notices[0].zone, 0);
    set_view(scene, 0, (const int32_t[]){0, 0, 3000, 2200}); /* not all of it */
    said = make(scene);
    assert_int_equal(said->notice_count, 0);
    assert_int_equal(to_trove_s(said, "window", 0), 8);
    pull_down(scene);
}

/* Two that count only together are passed one after the other where their views do not meet. */
static void partners_count_where_both_see_him_at_once(void **unused) {
    (void)unused;
    struct scene *scene = build();
    scene->zones[0].cross_with = 1;
    set_view(scene, 0, (const int32_t[]){5000, 0, 3000, 12000});
    set_view(scene, 1, (const int32_t[]){12000, 0, 6000, 12000});
    const struct site_break_ins *said = make(scene);
    assert_int_equal(to_trove_s(said, "window", 1), 8);
    assert_int_equal(to_trove_s(said, "window", 2), 8);
    assert_int_equal(to_trove_s(said, "window", 3), -1);
    set_view(scene, 1, (const int32_t[]){7000, 0, 11000, 12000});
    said = make(scene);
    assert_int_equal(to_trove_s(said, "window", 3), 8);
    assert_int_equal(to_trove_s(said, "window", 1), -1);
    assert_int_equal(to_trove_s(said, "window", 2), -1);
    scene->zones[0].cross_with = SITE_NONE;
    set_view(scene, 1, (const int32_t[]){12000, 0, 6000, 12000});
    said = make(scene);
    assert_int_equal(to_trove_s(said, "window", 3), 8);
    assert_int_equal(to_trove_s(said, "window", 1), -1);
    pull_down(scene);
}

/* A tall cupboard is walked round; one in front of everything is pushed aside. */
static void furniture_is_walked_round(void **unused) {
    (void)unused;
    struct scene *scene = build();
    set_box(scene->block.corners, 10000, 0, 4000, 11000);
    const struct site_break_ins *said = make(scene);
    assert_int_equal(to_trove_s(said, "window", 0), 10);
    scene->furniture.height_mm = 900; /* he climbs over */
    said = make(scene);
    assert_int_equal(to_trove_s(said, "window", 0), 8);
    scene->furniture.height_mm = 2000;
    set_box(scene->block.corners, 10000, 0, 4000, 12000);
    said = make(scene);
    assert_int_equal(to_trove_s(said, "window", 0), 8);
    pull_down(scene);
}

static void panes_in_range_are_heard(void **unused) {
    (void)unused;
    struct scene *scene = build();
    scene->pane = (struct coverage_pane){.opening = WINDOW, .in_range = true, .in_line = true};
    scene->views[0].sense = SITE_GLASS;
    scene->coverage.view_count = 1;
    scene->coverage.panes = &scene->pane;
    scene->coverage.pane_count = 1;
    const struct site_break_ins *said = make(scene);
    assert_int_equal(said->notice_count, 1);
    assert_int_equal(said->notices[0].opening, opening_named(said, "window"));
    scene->pane.in_line = false;
    said = make(scene);
    assert_int_equal(said->notice_count, 0);
    pull_down(scene);
}

/* From the street one comes to any door of the yard at once. */
static void ground_is_crossed_from_anywhere(void **unused) {
    (void)unused;
    struct scene *scene = build();
    const struct site_break_ins *said = make(scene);
    const int gate = opening_named(said, "yard");
    bool found = false;
    for (size_t i = 0; i < said->move_count; i++) {
        const struct site_break_in_move *move = &said->moves[i];
        if (move->room == YARD && move->from == gate &&
                move->to == opening_named(said, "yard door")) {
            assert_int_equal(move->takes_s, 0);
            found = true;
        }
    }
    assert_true(found);
    pull_down(scene);
}

/* The arc of a detector comes down to few corners, all of them its own, and loses little. */
static void sure_views_lie_within_views(void **unused) {
    (void)unused;
    struct scene *scene = build();
    const struct sight_viewer viewer = {
            .at = {0, 0}, .pattern = {.facing_deg = 45, .opening_deg = 90, .range_mm = 12000}};
    struct sight_view view;
    struct outline sure;
    struct problem problem;
    assert_true(sight_see(&viewer, NULL, 0, &scene->arena, &view, &problem).good);
    assert_true(room_moves_sure_view(&view, &scene->arena, &sure, &problem).good);
    assert_in_range(sure.count, 4, 20);
    assert_true(outline_area_m2(sure) <= view.area_m2 + 0.02); /* whole millimetres */
    assert_true(outline_area_m2(sure) >= 0.99 * view.area_m2);
    pull_down(scene);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(openings_are_those_that_can_be_reached),
            cmocka_unit_test(goals_are_what_is_protected_and_the_panel),
            cmocka_unit_test(ways_take_their_length_over_the_speed),
            cmocka_unit_test(he_creeps_along_blind_floor),
            cmocka_unit_test(he_needs_room_to_creep),
            cmocka_unit_test(he_keeps_out_of_what_he_need_not_cross),
            cmocka_unit_test(an_opening_in_view_is_noticed),
            cmocka_unit_test(partners_count_where_both_see_him_at_once),
            cmocka_unit_test(furniture_is_walked_round),
            cmocka_unit_test(panes_in_range_are_heard),
            cmocka_unit_test(ground_is_crossed_from_anywhere),
            cmocka_unit_test(sure_views_lie_within_views),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
