/* An invented house of two rooms and a loft, placed by hand, and what its detectors see of it, worked out by hand. */
#include "plan/coverage_corner.h"

#include <math.h>
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

enum { PARLOUR, STUDY, YARD, LOFT, ROOMS };
enum { ARCH, FRONT_DOOR, LEFT_WINDOW, STUDY_WINDOW, OPENINGS };
enum { RADIATOR, CUPBOARD, BLOCKS };
enum { MOTION, LISTENER, DEVICES };

/* The parlour is 10 x 10 m, the study 4 x 10 m beyond 100 mm of wall, the loft over the parlour. */
struct scene {
    struct site site;
    struct house house;
    struct site_room rooms[ROOMS];
    struct house_room placed_rooms[ROOMS];
    struct site_opening openings[OPENINGS];
    struct house_opening placed_openings[OPENINGS];
    struct site_furniture furniture[BLOCKS];
    struct house_block blocks[BLOCKS];
    struct site_storey storeys[2];
    struct site_place places[3];
    struct house_place placed[3];
    struct site_device devices[DEVICES];
    struct site_device_profile profiles[DEVICES];
    struct point corners[ROOMS][4];
    struct arena arena;
};

static void set_box(struct point *corners, int32_t x, int32_t y, int32_t width, int32_t depth) {
    corners[0] = (struct point){x, y};
    corners[1] = (struct point){x + width, y};
    corners[2] = (struct point){x + width, y + depth};
    corners[3] = (struct point){x, y + depth};
}

static void set_room(struct scene *scene, int room, int storey, bool inside, const int32_t *box) {
    set_box(scene->corners[room], box[0], box[1], box[2], box[3]);
    scene->placed_rooms[room] = (struct house_room){
            .outline = {scene->corners[room], 4}, .good = true, .inside = inside, .storey = storey};
}

static void set_openings(struct scene *scene) {
    static const enum site_opening_kind KINDS[] = {
            SITE_OPENING_GAP, SITE_OPENING_DOOR, SITE_OPENING_WINDOW, SITE_OPENING_WINDOW};
    static const struct house_opening PLACED[] = {
            {.good = true,
                    .room = PARLOUR,
                    .other = STUDY,
                    .near = {{10000, 5000}, {10000, 4000}},
                    .far = {{10100, 5000}, {10100, 4000}}},
            {.good = true,
                    .room = PARLOUR,
                    .other = YARD,
                    .near = {{5500, 0}, {4500, 0}},
                    .far = {{5500, -250}, {4500, -250}}},
            {.good = true,
                    .room = PARLOUR,
                    .other = HOUSE_OUTSIDE,
                    .near = {{0, 3000}, {0, 5000}},
                    .far = {{-250, 3000}, {-250, 5000}}},
            {.good = true,
                    .room = STUDY,
                    .other = HOUSE_OUTSIDE,
                    .near = {{14100, 6000}, {14100, 5000}},
                    .far = {{14350, 6000}, {14350, 5000}}},
    };
    for (size_t i = 0; i < OPENINGS; i++) {
        scene->openings[i].kind = KINDS[i];
        scene->openings[i].material = SITE_NONE;
        scene->placed_openings[i] = PLACED[i];
    }
}

static void set_scene(struct scene *scene) {
    static const int32_t BOXES[ROOMS][4] = {{0, 0, 10000, 10000}, {10100, 0, 4000, 10000},
            {-5000, -8250, 25000, 8000}, {0, 0, 10000, 10000}};
    memset(scene, 0, sizeof *scene);
    arena_init(&scene->arena, PAGES, 0);
    for (int i = 0; i < ROOMS; i++) {
        set_room(scene, i, i == LOFT ? 1 : 0, i != YARD, BOXES[i]);
    }
    set_openings(scene);
    scene->furniture[RADIATOR] = (struct site_furniture){
            .name = text_of("old Radiator"), .room = PARLOUR, .height_mm = 600};
    scene->furniture[CUPBOARD] = (struct site_furniture){
            .name = text_of("cupboard"), .room = PARLOUR, .height_mm = 1800};
    set_box(scene->blocks[RADIATOR].corners, 8500, 0, 1000, 100);
    set_box(scene->blocks[CUPBOARD].corners, 1000, 2500, 500, 3000);
    scene->blocks[RADIATOR].good = true;
    scene->storeys[0].ceiling_mm = scene->storeys[1].ceiling_mm = 2500;
    scene->profiles[MOTION].sense = SITE_MOTION;
    scene->profiles[LISTENER].sense = SITE_GLASS;
    scene->devices[LISTENER].profile = LISTENER;
    struct site_building *building = &scene->site.building;
    *building = (struct site_building){.said = true,
            .storeys = scene->storeys,
            .storey_count = 2,
            .rooms = scene->rooms,
            .room_count = ROOMS,
            .openings = scene->openings,
            .opening_count = OPENINGS,
            .furniture = scene->furniture,
            .furniture_count = BLOCKS,
            .places = scene->places};
    scene->site.devices = scene->devices;
    scene->site.device_count = DEVICES;
    scene->site.device_profiles = scene->profiles;
    scene->house = (struct house){.site = &scene->site,
            .rooms = scene->placed_rooms,
            .openings = scene->placed_openings,
            .furniture = scene->blocks,
            .places = scene->placed};
}

static void hang(struct scene *scene, int device, struct point at, struct point into) {
    const size_t place = scene->site.building.place_count++;
    scene->places[place] = (struct site_place){.device = device, .keypad = SITE_NONE};
    scene->placed[place] = (struct house_place){
            .good = true, .room = PARLOUR, .at = at, .into = into, .faces = into};
}

static struct coverage cover(struct scene *scene) {
    struct coverage coverage = {.views = NULL};
    struct problem problem = {0};
    if (!coverage_make(&scene->house, &scene->arena, &coverage, &problem).good) {
        fail_msg("%s", problem.text);
    }
    return coverage;
}

static void nobody_sees_a_house_without_detectors(void **unused) {
    (void)unused;
    static struct scene scene;
    set_scene(&scene);
    const struct coverage coverage = cover(&scene);
    assert_int_equal(coverage.view_count, 0);
    assert_true(coverage.rooms[PARLOUR].good && coverage.rooms[LOFT].good);
    assert_false(coverage.rooms[YARD].good);
    assert_true(fabs(coverage.rooms[PARLOUR].floor_m2 - 100) < 1e-9);
    assert_true(fabs(coverage.rooms[STUDY].blind.area_m2 - 40) < 1e-9);
    arena_finish(&scene.arena);
}

/* 90 degrees and 12 m in the parlour's back left corner leave 100 - 10 sqrt(44) - 72 (pi / 2 - 2 acos(10 / 12)) m2. */
static void floor_nobody_sees_is_measured(void **unused) {
    (void)unused;
    static struct scene scene;
    const double blind_m2 = 100 - 10 * sqrt(44) - 72 * (acos(-1) / 2 - 2 * acos(10.0 / 12));
    set_scene(&scene);
    hang(&scene, MOTION, (struct point){0, 10000}, (struct point){1, -1});
    struct coverage coverage = cover(&scene);
    assert_int_equal(coverage.view_count, 1);
    assert_true(coverage.views[0].assumed);
    assert_true(fabs(coverage.rooms[PARLOUR].blind.area_m2 - blind_m2) < 0.01);
    /* Through the arch it sees a little of the study; through a closed door nothing; nothing of the storey above. */
    assert_in_range((int)(1000 * coverage.rooms[STUDY].blind.area_m2), 39000, 39990);
    assert_true(fabs(coverage.rooms[LOFT].blind.area_m2 - 100) < 1e-9);
    scene.openings[ARCH].kind = SITE_OPENING_DOOR;
    coverage = cover(&scene);
    assert_true(fabs(coverage.rooms[STUDY].blind.area_m2 - 40) < 1e-9);
    /* A profile that says 6 m: a quarter of a circle. */
    scene.profiles[MOTION].range_mm = 6000;
    coverage = cover(&scene);
    assert_true(coverage.views[0].assumed);
    assert_true(fabs(coverage.rooms[PARLOUR].blind.area_m2 - (100 - acos(-1) * 9)) < 0.01);
    /* And 60 degrees: a sixth of one. Of a curtain without a figure, 12 degrees. */
    scene.profiles[MOTION].angle = (struct measure){60000, 60000, true};
    coverage = cover(&scene);
    assert_false(coverage.views[0].assumed);
    assert_true(fabs(coverage.rooms[PARLOUR].blind.area_m2 - (100 - acos(-1) * 6)) < 0.01);
    scene.profiles[MOTION].angle.said = false;
    scene.profiles[MOTION].curtain = true;
    coverage = cover(&scene);
    assert_true(fabs(coverage.rooms[PARLOUR].blind.area_m2 - (100 - acos(-1) * 1.2)) < 0.01);
    scene.profiles[MOTION] = (struct site_device_profile){.sense = SITE_MOTION};
    /* What goes up to the ceiling is no floor; what is lower is, and hides what is behind it. */
    scene.blocks[CUPBOARD].good = true;
    coverage = cover(&scene);
    assert_true(fabs(coverage.rooms[PARLOUR].floor_m2 - 100) < 1e-9);
    assert_true(coverage.rooms[PARLOUR].blind.area_m2 > blind_m2 + 2);
    scene.furniture[CUPBOARD].height_mm = 2500;
    coverage = cover(&scene);
    assert_true(fabs(coverage.rooms[PARLOUR].floor_m2 - 98.5) < 1e-9);
    scene.furniture[CUPBOARD].height_mm = COVERAGE_TALL_MM - 1;
    coverage = cover(&scene);
    assert_true(fabs(coverage.rooms[PARLOUR].blind.area_m2 - blind_m2) < 0.01);
    arena_finish(&scene.arena);
}

/* A cupboard from wall to wall across the parlour: behind it are 50 m2, of which the range leaves out some. */
static void what_furniture_hides_is_a_share(void **unused) {
    (void)unused;
    static struct scene scene;
    const double blind_m2 = 100 - 10 * sqrt(44) - 72 * (acos(-1) / 2 - 2 * acos(10.0 / 12));
    set_scene(&scene);
    hang(&scene, MOTION, (struct point){0, 10000}, (struct point){1, -1});
    struct coverage coverage = cover(&scene);
    assert_true(fabs(coverage.views[0].room_m2 - (100 - blind_m2)) < 0.01);
    assert_true(coverage.views[0].hidden < 1e-9);
    set_box(scene.blocks[CUPBOARD].corners, 0, 5000, 10000, 500);
    scene.blocks[CUPBOARD].good = true;
    coverage = cover(&scene);
    assert_true(fabs(coverage.views[0].room_m2 - 45) < 0.01);
    assert_true(fabs(coverage.views[0].hidden - (1 - 45 / (95 - blind_m2))) < 1e-3);
    arena_finish(&scene.arena);
}

static void who_looks_into_the_wall_sees_nothing(void **unused) {
    (void)unused;
    static struct scene scene;
    set_scene(&scene);
    hang(&scene, MOTION, (struct point){0, 5000}, (struct point){1, 0});
    scene.placed[0].faces = (struct point){-1, 0};
    const struct coverage coverage = cover(&scene);
    assert_int_equal(coverage.view_count, 1);
    assert_true(coverage.views[0].view.area_m2 <= 0 && coverage.views[0].room_m2 < 1e-9);
    assert_true(fabs(coverage.rooms[PARLOUR].blind.area_m2 - 100) < 1e-9);
    arena_finish(&scene.arena);
}

/* From the back left a cupboard from wall to wall leaves 45 m2; from the front, where the range ends less of the room,
 * all but it. Which of the two front corners is better is decided by the arch in the right wall alone: neither. */
static void the_best_corner_sees_most(void **unused) {
    (void)unused;
    static struct scene scene;
    struct coverage_corner corner;
    struct problem problem = {0};
    const double arc_m2 = 10 * sqrt(44) + 72 * (acos(-1) / 2 - 2 * acos(10.0 / 12));
    set_scene(&scene);
    hang(&scene, MOTION, (struct point){0, 10000}, (struct point){1, -1});
    set_box(scene.blocks[CUPBOARD].corners, 0, 8000, 10000, 500);
    scene.blocks[CUPBOARD].good = true;
    const struct coverage coverage = cover(&scene);
    assert_true(
            coverage_best_corner(&scene.house, &coverage.views[0], &scene.arena, &corner, &problem)
                    .good);
    assert_int_equal(corner.at.y_mm, 0);
    assert_true(fabs(corner.floor_m2 - 100) < 1e-6);
    /* From there the cupboard hides itself and what is behind it, up to y 10: of the quarter disc what lies below 8. */
    assert_true(corner.seen_m2 <= fmin(80, arc_m2) && corner.seen_m2 > 79);
    arena_finish(&scene.arena);
}

static void panes_are_heard_in_range_and_in_line(void **unused) {
    (void)unused;
    static struct scene scene;
    set_scene(&scene);
    hang(&scene, LISTENER, (struct point){5000, 5000}, (struct point){0, 0});
    struct coverage coverage = cover(&scene);
    assert_int_equal(coverage.pane_count, 1); /* the study's is in another room */
    assert_int_equal(coverage.panes[0].opening, LEFT_WINDOW);
    assert_true(fabs(coverage.panes[0].distance_mm - hypot(5000, 1000)) < 1e-6);
    assert_true(fabs(coverage.panes[0].seen_mm - 2000) < 1e-6);
    assert_true(coverage.panes[0].in_range && coverage.panes[0].in_line);
    /* It sees no floor: only motion detectors do. */
    assert_true(fabs(coverage.rooms[PARLOUR].blind.area_m2 - 100) < 1e-9);
    scene.blocks[CUPBOARD].good = true;
    coverage = cover(&scene);
    assert_false(coverage.panes[0].in_line);
    scene.profiles[LISTENER].range_mm = 5000;
    scene.blocks[CUPBOARD].good = false;
    coverage = cover(&scene);
    assert_false(coverage.panes[0].in_range);
    arena_finish(&scene.arena);
}

/* A glazed door breaks as a window does, from whichever side it was drawn; a wooden hatch does not. */
static void glass_is_heard_whatever_it_closes(void **unused) {
    (void)unused;
    static struct scene scene;
    static struct site_material rows[] = {{.glass = true}, {.glass = false}};
    set_scene(&scene);
    scene.site.building.materials = (struct site_materials){.rows = rows, .row_count = 2};
    scene.openings[FRONT_DOOR].material = 0;
    scene.openings[LEFT_WINDOW].material = 1;
    hang(&scene, LISTENER, (struct point){5000, 5000}, (struct point){0, 0});
    struct coverage coverage = cover(&scene);
    assert_int_equal(coverage.pane_count, 1);
    assert_int_equal(coverage.panes[0].opening, FRONT_DOOR);
    assert_true(fabs(coverage.panes[0].distance_mm - 5000) < 1e-6);
    assert_true(coverage.panes[0].in_range && coverage.panes[0].in_line);
    struct house_opening *door = &scene.placed_openings[FRONT_DOOR];
    *door = (struct house_opening){.good = true,
            .room = YARD,
            .other = PARLOUR,
            .near = {door->far[0], door->far[1]},
            .far = {door->near[0], door->near[1]}};
    coverage = cover(&scene);
    assert_int_equal(coverage.pane_count, 1);
    assert_true(fabs(coverage.panes[0].distance_mm - 5000) < 1e-6);
    scene.openings[FRONT_DOOR].material = 1;
    coverage = cover(&scene);
    assert_int_equal(coverage.pane_count, 0);
    arena_finish(&scene.arena);
}

static bool noted(const struct coverage *coverage, enum coverage_note_kind kind, size_t index,
        double *ret_amount) {
    for (size_t i = 0; i < coverage->note_count; i++) {
        if (coverage->notes[i].kind == kind && coverage->notes[i].index == index) {
            *ret_amount = coverage->notes[i].amount;
            return true;
        }
    }
    return false;
}

static void what_a_detector_should_not_look_at_is_noted(void **unused) {
    (void)unused;
    static struct scene scene;
    double amount = 0;
    /* Opposite the front door: whoever comes in walks straight at it. */
    set_scene(&scene);
    hang(&scene, MOTION, (struct point){5000, 10000}, (struct point){0, -1});
    struct coverage coverage = cover(&scene);
    assert_true(noted(&coverage, COVERAGE_NOTE_ALONG, FRONT_DOOR, &amount));
    assert_true(fabs(amount) < 1e-9);
    assert_true(noted(&coverage, COVERAGE_NOTE_HEAT, RADIATOR, &amount));
    assert_true(fabs(amount - 1000) < 1);
    /* Its left side, at 45 degrees, meets the left wall 5 m off: where the window begins. */
    assert_true(noted(&coverage, COVERAGE_NOTE_GLASS, LEFT_WINDOW, &amount));
    assert_true(fabs(amount - 2000) < 2);
    arena_finish(&scene.arena);
    /* In the right wall, across the way in, and with the left window in sight. */
    set_scene(&scene);
    hang(&scene, MOTION, (struct point){10000, 2000}, (struct point){-1, 0});
    coverage = cover(&scene);
    assert_false(noted(&coverage, COVERAGE_NOTE_ALONG, FRONT_DOOR, &amount));
    assert_true(noted(&coverage, COVERAGE_NOTE_GLASS, LEFT_WINDOW, &amount));
    assert_true(fabs(amount - 2000) < 1e-3);
    assert_false(noted(&coverage, COVERAGE_NOTE_GLASS, STUDY_WINDOW, &amount));
    arena_finish(&scene.arena);
}

/* Past a detector at the side: the sine of the angle by hand. */
static void crossing_is_the_mean_sine(void **unused) {
    (void)unused;
    static struct scene scene;
    set_scene(&scene);
    hang(&scene, MOTION, (struct point){5000, 10000}, (struct point){0, -1});
    const struct coverage coverage = cover(&scene);
    const struct sight_view *view = &coverage.views[0].view;
    /* From (3, 7) to (7, 7), 3 m off: the mean of 3 / sqrt(x2 + 9) over -2 .. 2 is 3 asinh(2 / 3) / 2. */
    const double across =
            coverage_crossing(view, (struct point){3000, 7000}, (struct point){7000, 7000});
    assert_true(fabs(across - 1.5 * asinh(2.0 / 3)) < 1e-4);
    assert_true(coverage_crossing(view, (struct point){20000, 0}, (struct point){20000, 9000}) < 0);
    arena_finish(&scene.arena);
}

static void memory_may_end_anywhere(void **unused) {
    (void)unused;
    static struct scene scene;
    set_scene(&scene);
    hang(&scene, MOTION, (struct point){0, 10000}, (struct point){1, -1});
    hang(&scene, LISTENER, (struct point){5000, 5000}, (struct point){0, 0});
    size_t refused = 0;
    bool good = false;
    for (size_t limit = 1; !good; limit += 2048) {
        struct arena arena;
        struct coverage coverage;
        struct problem problem = {0};
        arena_init(&arena, PAGES, limit);
        good = coverage_make(&scene.house, &arena, &coverage, &problem).good;
        assert_true(good || problem.kind == PROBLEM_MEMORY);
        arena_finish(&arena);
        refused += !good;
    }
    assert_in_range(refused, 10, 10000);
    arena_finish(&scene.arena);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(nobody_sees_a_house_without_detectors),
            cmocka_unit_test(floor_nobody_sees_is_measured),
            cmocka_unit_test(what_furniture_hides_is_a_share),
            cmocka_unit_test(who_looks_into_the_wall_sees_nothing),
            cmocka_unit_test(the_best_corner_sees_most),
            cmocka_unit_test(panes_are_heard_in_range_and_in_line),
            cmocka_unit_test(glass_is_heard_whatever_it_closes),
            cmocka_unit_test(what_a_detector_should_not_look_at_is_noted),
            cmocka_unit_test(crossing_is_the_mean_sine),
            cmocka_unit_test(memory_may_end_anywhere),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
