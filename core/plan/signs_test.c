/* Signs on a drawing: each device once on the plan and once in the legend, none on another, each where it belongs. An
 * invented hall of 6 x 5 m and a cupboard of 1 x 1 m, placed by hand. */
#include "plan/drawing.h"
#include "plan/ways_layer.h"

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

enum { SCALE = 50, ROOMS = 3, PLACES_MOST = 8, ZONES = 3 };
enum { HALL, CLOSET, LOFT };
enum { EYE, LISTENER, HORN, DEVICES };

struct scene {
    struct site site;
    struct house house;
    struct site_storey storeys[2];
    struct site_room rooms[ROOMS];
    struct house_room placed_rooms[ROOMS];
    struct point corners[ROOMS][4];
    struct site_place places[PLACES_MOST];
    struct house_place placed[PLACES_MOST];
    struct site_device devices[DEVICES];
    struct site_device_profile profiles[DEVICES];
    struct site_zone zones[ZONES];
    struct site_keypad keypads[2];
    struct arena arena;
    struct picture picture;
};

static void set_room(struct scene *scene, int room, const char *name, int storey, struct point low,
        struct point high) {
    scene->rooms[room].name = text_of(name);
    scene->corners[room][0] = low;
    scene->corners[room][1] = (struct point){high.x_mm, low.y_mm};
    scene->corners[room][2] = high;
    scene->corners[room][3] = (struct point){low.x_mm, high.y_mm};
    scene->placed_rooms[room] = (struct house_room){.outline = {scene->corners[room], 4},
            .good = true,
            .inside = true,
            .storey = storey,
            .low = low,
            .high = high};
}

static void set_zone(struct scene *scene, int zone, int32_t number, int device, const char *name) {
    scene->zones[zone] =
            (struct site_zone){.number = number, .name = text_of(name), .device = device};
}

static void set_scene(struct scene *scene) {
    memset(scene, 0, sizeof *scene);
    arena_init(&scene->arena, PAGES, 0);
    set_room(scene, HALL, "hall", 0, (struct point){0, 0}, (struct point){6000, 5000});
    set_room(scene, CLOSET, "broom closet", 0, (struct point){6120, 0}, (struct point){6620, 500});
    set_room(scene, LOFT, "loft", 1, (struct point){0, 0}, (struct point){6000, 5000});
    scene->storeys[0].name = text_of("ground");
    scene->storeys[1].name = text_of("upper");
    scene->profiles[EYE].sense = SITE_MOTION;
    scene->profiles[LISTENER].sense = SITE_GLASS;
    scene->profiles[HORN].kind = SITE_SIREN;
    for (int i = 0; i < DEVICES; i++) {
        scene->devices[i] = (struct site_device){.profile = i, .door = SITE_NONE};
    }
    scene->devices[HORN].name = text_of("gable horn");
    set_zone(scene, 0, 7, EYE, "hall");
    set_zone(scene, 1, 12, LISTENER, "pane");
    scene->keypads[0].name = text_of("first pad");
    scene->keypads[1].name = text_of("second pad");
    scene->site = (struct site){.name = text_of("Scene"),
            .invented = true,
            .devices = scene->devices,
            .device_count = DEVICES,
            .device_profiles = scene->profiles,
            .device_profile_count = DEVICES,
            .zones = scene->zones,
            .zone_count = 2,
            .keypads = scene->keypads,
            .keypad_count = 2};
    scene->site.building = (struct site_building){.said = true,
            .storeys = scene->storeys,
            .storey_count = 2,
            .rooms = scene->rooms,
            .room_count = ROOMS,
            .places = scene->places};
    scene->house = (struct house){.site = &scene->site,
            .outer_mm = 300,
            .inner_mm = 120,
            .rooms = scene->placed_rooms,
            .places = scene->placed,
            .high = {6620, 5000}};
}

static void put(struct scene *scene, struct site_place written, int room, struct point at,
        struct point into) {
    const size_t place = scene->site.building.place_count++;
    scene->places[place] = written;
    scene->placed[place] =
            (struct house_place){.good = true, .room = room, .at = at, .into = into, .faces = into};
}

static const struct site_place NOTHING = {.device = SITE_NONE, .keypad = SITE_NONE};

static void put_device(struct scene *scene, int device, struct point at, struct point into) {
    struct site_place written = NOTHING;
    written.device = device;
    put(scene, written, HALL, at, into);
}

static void put_keypad(struct scene *scene, int keypad, struct point at, struct point into) {
    struct site_place written = NOTHING;
    written.keypad = keypad;
    put(scene, written, HALL, at, into);
}

static void draw(
        struct scene *scene, int storey, const struct drawing_layer *layers, size_t layer_count) {
    struct problem problem = {0};
    assert_true(drawing_make(&scene->house, storey, SCALE, layers, layer_count, &scene->arena,
            &scene->picture, &problem)
                        .good);
}

/* How often a text stands on the sheet; ret_first: where it stands first. */
static int times(const struct scene *scene, const char *text, struct point *ret_first) {
    int count = 0;
    for (size_t i = 0; i < scene->picture.count; i++) {
        const struct picture_shape *shape = &scene->picture.shapes[i];
        if (shape->form == PICTURE_TEXT && text_is(shape->text, text)) {
            if (count == 0 && ret_first != NULL) {
                *ret_first = shape->points[0];
            }
            count++;
        }
    }
    return count;
}

static bool in_hall(struct point at) {
    return at.x_mm >= 0 && at.y_mm >= 0 && at.x_mm <= 6000 && at.y_mm <= 5000;
}

static void each_sign_stands_on_the_plan_and_in_the_legend(void **unused) {
    (void)unused;
    static struct scene scene;
    struct point at = {-1, -1};
    struct site_place panel = NOTHING;
    struct site_place things = NOTHING;
    panel.fixture = SITE_FIXTURE_PANEL;
    things.protects = text_of("safe");
    set_scene(&scene);
    put_device(&scene, EYE, (struct point){6000, 5000}, (struct point){-1, -1});
    put_device(&scene, LISTENER, (struct point){3000, 2500}, (struct point){0, 0});
    put_device(&scene, HORN, (struct point){0, 2500}, (struct point){1, 0});
    put_keypad(&scene, 0, (struct point){2000, 0}, (struct point){0, 1});
    put(&scene, panel, HALL, (struct point){4000, 0}, (struct point){0, 1});
    put(&scene, things, HALL, (struct point){1000, 4000}, (struct point){0, 0});
    draw(&scene, 0, NULL, 0);
    static const char *const marks[] = {"7", "12", "S", "K", "P", "W"};
    for (size_t i = 0; i < sizeof marks / sizeof marks[0]; i++) {
        assert_int_equal(times(&scene, marks[i], &at), 2);
        assert_true(in_hall(at));
    }
    assert_int_equal(times(&scene, "hall · motion", NULL), 1);
    assert_int_equal(times(&scene, "pane · glass", NULL), 1);
    assert_int_equal(times(&scene, "gable horn", NULL), 1);
    assert_int_equal(times(&scene, "safe · worth protecting", NULL), 1);
    /* The panel alone is dark, on the plan and in the legend. */
    int dark = 0;
    for (size_t i = 0; i < scene.picture.count; i++) {
        dark += scene.picture.shapes[i].role == PICTURE_SIGN_DARK;
    }
    assert_int_equal(dark, 2);
    /* Nothing of it on the storey above, not in the legend either. */
    draw(&scene, 1, NULL, 0);
    for (size_t i = 0; i < sizeof marks / sizeof marks[0]; i++) {
        assert_int_equal(times(&scene, marks[i], NULL), 0);
    }
    arena_finish(&scene.arena);
}

/* Its tip is where it hangs, and its number lies where it looks. */
static void a_motion_detector_points_where_it_looks(void **unused) {
    static const struct point ways[] = {
            {1, 0}, {1, 1}, {0, 1}, {-1, 1}, {-1, 0}, {-1, -1}, {0, -1}, {1, -1}};
    (void)unused;
    for (size_t i = 0; i < sizeof ways / sizeof ways[0]; i++) {
        static struct scene scene;
        const struct point at = {3000, 2500};
        struct point label = at;
        bool tip = false;
        set_scene(&scene);
        put_device(&scene, EYE, at, ways[i]);
        draw(&scene, 0, NULL, 0);
        assert_true(times(&scene, "7", &label) == 2);
        for (size_t k = 0; k < scene.picture.count; k++) {
            const struct picture_shape *shape = &scene.picture.shapes[k];
            tip = tip || (shape->role == PICTURE_SIGN && point_equal(shape->points[0], at));
        }
        assert_true(tip);
        const struct point step = point_step(at, label);
        assert_true(point_dot(step, ways[i]) > 0);
        assert_true(llabs(point_cross(step, ways[i])) <= 2 * 6000); /* rounding of the label */
        arena_finish(&scene.arena);
    }
}

/* Eight things in one spot: no two marks within a sign's width, all within the room, and counted. */
static void signs_give_way_to_each_other(void **unused) {
    (void)unused;
    static struct scene scene;
    enum { THINGS = 8 };
    static const char *const marks[THINGS] = {"12", "S", "K1", "K2", "P", "R", "M", "W"};
    static const enum site_fixture fixtures[] = {
            SITE_FIXTURE_PANEL, SITE_FIXTURE_ROUTER, SITE_FIXTURE_MAINS};
    struct site_place written = NOTHING;
    const struct point spot = {0, 2500};
    const struct point in = {1, 0};
    struct point at[THINGS] = {{-1, -1}};
    bool leader = false;
    set_scene(&scene);
    put_device(&scene, LISTENER, spot, in);
    put_device(&scene, HORN, spot, in);
    put_keypad(&scene, 0, spot, in);
    put_keypad(&scene, 1, spot, in);
    for (size_t i = 0; i < sizeof fixtures / sizeof fixtures[0]; i++) {
        written.fixture = fixtures[i];
        put(&scene, written, HALL, spot, in);
    }
    written = NOTHING;
    written.protects = text_of("safe");
    put(&scene, written, HALL, spot, in);
    draw(&scene, 0, NULL, 0);
    for (size_t i = 0; i < THINGS; i++) {
        assert_int_equal(times(&scene, marks[i], &at[i]), 2);
        assert_true(in_hall(at[i]));
        for (size_t k = 0; k < i; k++) {
            assert_true(point_distance_mm(at[i], at[k]) > picture_paper(&scene.picture, 40));
        }
    }
    for (size_t i = 0; i < scene.picture.count; i++) {
        const struct picture_shape *shape = &scene.picture.shapes[i];
        leader = leader ||
                (shape->role == PICTURE_LEADER && point_distance_mm(shape->points[0], spot) < 500);
    }
    assert_true(leader); /* whoever was moved far has a line to where it hangs */
    arena_finish(&scene.arena);
}

/* A pad so near beside the panel that it gives way, in the corner of the hall: the line to it does not run under the
 * panel's sign. */
static void no_leader_runs_under_another_sign(void **unused) {
    (void)unused;
    static struct scene scene;
    struct site_place panel = NOTHING;
    struct point dark = {-1, -1};
    panel.fixture = SITE_FIXTURE_PANEL;
    set_scene(&scene);
    put(&scene, panel, HALL, (struct point){5474, 0}, (struct point){0, 1});
    put_keypad(&scene, 0, (struct point){5808, 0}, (struct point){0, 1});
    draw(&scene, 0, NULL, 0);
    assert_int_equal(times(&scene, "P", &dark), 2);
    for (size_t i = 0; i < scene.picture.count; i++) {
        const struct picture_shape *shape = &scene.picture.shapes[i];
        for (int32_t step = 0; shape->role == PICTURE_LEADER && step <= 20; step++) {
            const struct point by = point_step(shape->points[0], shape->points[1]);
            const struct point at = {shape->points[0].x_mm + by.x_mm * step / 20,
                    shape->points[0].y_mm + by.y_mm * step / 20};
            assert_true(point_distance_mm(at, dark) > picture_paper(&scene.picture, 20));
        }
    }
    arena_finish(&scene.arena);
}

/* What the shapes of a sign with this mark cover on the plan, which stands before the legend. */
static struct picture_box covered_by(const struct scene *scene, const char *mark) {
    size_t text = 0;
    while (text < scene->picture.count &&
            !(scene->picture.shapes[text].form == PICTURE_TEXT &&
                    text_is(scene->picture.shapes[text].text, mark))) {
        text++;
    }
    assert_true(text > 0 && text < scene->picture.count);
    const struct picture_shape *shape = &scene->picture.shapes[text - 1];
    assert_true(shape->form == PICTURE_AREA);
    struct picture_box box = {shape->points[0], shape->points[0]};
    for (size_t i = 1; i < shape->count; i++) {
        const struct point at = shape->points[i];
        box.low.x_mm = at.x_mm < box.low.x_mm ? at.x_mm : box.low.x_mm;
        box.low.y_mm = at.y_mm < box.low.y_mm ? at.y_mm : box.low.y_mm;
        box.high.x_mm = at.x_mm > box.high.x_mm ? at.x_mm : box.high.x_mm;
        box.high.y_mm = at.y_mm > box.high.y_mm ? at.y_mm : box.high.y_mm;
    }
    return box;
}

static bool meet(struct picture_box a, struct picture_box b) {
    return a.low.x_mm < b.high.x_mm && b.low.x_mm < a.high.x_mm && a.low.y_mm < b.high.y_mm &&
            b.low.y_mm < a.high.y_mm;
}

/* The panel a little further along the wall from a motion detector each time, until it need not give way: what the
 * detector's quarter disc covers is as wide as it is drawn. */
static void a_sign_keeps_clear_of_all_of_a_quarter_disc(void **unused) {
    (void)unused;
    for (int32_t off_mm = 0; off_mm <= 600; off_mm += 20) {
        static struct scene scene;
        struct site_place panel = NOTHING;
        panel.fixture = SITE_FIXTURE_PANEL;
        set_scene(&scene);
        put_device(&scene, EYE, (struct point){6000, 2500}, (struct point){-1, 0});
        put(&scene, panel, HALL, (struct point){6000, 2500 + off_mm}, (struct point){-1, 0});
        draw(&scene, 0, NULL, 0);
        assert_false(meet(covered_by(&scene, "7"), covered_by(&scene, "P")));
        arena_finish(&scene.arena);
    }
}

static void a_room_too_small_for_its_name_has_a_letter(void **unused) {
    (void)unused;
    static struct scene scene;
    set_scene(&scene);
    draw(&scene, 0, NULL, 0);
    assert_int_equal(times(&scene, "a", NULL), 2);
    assert_int_equal(times(&scene, "broom closet", NULL), 1);
    assert_int_equal(times(&scene, "hall", NULL), 1);
    arena_finish(&scene.arena);
}

/* A flight that ends 100 mm before the back wall: its word on the storey above stands on the flight, not in a wall. */
static void words_beside_stairs_keep_out_of_walls(void **unused) {
    (void)unused;
    static struct scene scene;
    struct point label = {-1, -1};
    struct site_stairs written = {.room = HALL, .to = LOFT};
    struct house_stairs stairs = {.good = true,
            .corners = {{0, 1000}, {900, 1000}, {900, 4900}, {0, 4900}},
            .foot = {450, 1000},
            .head = {450, 4900},
            .run_mm = 3900,
            .rise_mm = 2700};
    set_scene(&scene);
    scene.site.building.stairs = &written;
    scene.site.building.stairs_count = 1;
    scene.house.stairs = &stairs;
    draw(&scene, 0, NULL, 0);
    assert_int_equal(times(&scene, "up", &label), 1);
    assert_int_equal(label.y_mm, 900); /* before its lowest step: there is room */
    draw(&scene, 1, NULL, 0);
    assert_int_equal(times(&scene, "down", &label), 1);
    assert_int_equal(label.y_mm, 4800);
    arena_finish(&scene.arena);
}

/* ---- layers */

static void draw_blind(const void *context, struct picture *picture, int storey) {
    static const struct point points[3] = {{1000, 1000}, {2000, 1000}, {1000, 2000}};
    if (storey == *(const int *)context) {
        picture_add(picture, PICTURE_BLIND, PICTURE_AREA, points, 3, 0);
    }
}

static void draw_heard(const void *context, struct picture *picture, int storey) {
    (void)context;
    (void)storey;
    picture_add_line(picture, PICTURE_HEARD, (struct point){0, 0}, (struct point){900, 900});
}

static size_t first_of(const struct scene *scene, enum picture_role role) {
    size_t i = 0;
    while (i < scene->picture.count && scene->picture.shapes[i].role != role) {
        i++;
    }
    return i;
}

static void layers_lie_in_their_place_and_are_explained(void **unused) {
    (void)unused;
    static struct scene scene;
    static const struct drawing_row rows[] = {{PICTURE_BLIND, PICTURE_AREA, "blind"},
            {PICTURE_HEARD, PICTURE_LINE, "heard"}, {PICTURE_SEEN, PICTURE_AREA, "seen"}};
    const int storey = 0;
    const struct drawing_layer layers[2] = {
            {.under = draw_blind, .context = &storey, .rows = rows, .row_count = 3},
            {.over = draw_heard}};
    set_scene(&scene);
    put_device(&scene, EYE, (struct point){6000, 5000}, (struct point){-1, -1});
    draw(&scene, 0, layers, 2);
    assert_true(first_of(&scene, PICTURE_FLOOR) < first_of(&scene, PICTURE_BLIND));
    assert_true(first_of(&scene, PICTURE_BLIND) < first_of(&scene, PICTURE_HEARD));
    assert_true(first_of(&scene, PICTURE_HEARD) < first_of(&scene, PICTURE_SIGN));
    assert_int_equal(times(&scene, "blind", NULL), 1);
    assert_int_equal(times(&scene, "heard", NULL), 1);
    assert_int_equal(times(&scene, "seen", NULL), 0); /* nothing of it is drawn */
    draw(&scene, 1, layers, 2);
    assert_int_equal(times(&scene, "blind", NULL), 0);
    arena_finish(&scene.arena);
}

/* A detector and three things on its spot, which give way; a way at every distance from them, there and back: its
 * figures are on none. */
static void figures_of_a_way_stand_on_no_sign(void **unused) {
    (void)unused;
    for (int32_t i = 0; i < 100; i++) {
        static struct scene scene;
        static const char *const marks[] = {"7", "K1", "K2", "P"};
        const struct point spot = {3000, 2500};
        const struct point in = {0, 1};
        const int32_t y_mm = 1600 + 20 * i;
        const int32_t ends[2] = {i % 2 == 0 ? 2000 : 4000, i % 2 == 0 ? 4000 : 2000};
        struct site_place panel = NOTHING;
        const struct way_stop stops[2] = {{0, {ends[0], y_mm}, 0}, {0, {ends[1], y_mm}, 2000}};
        struct used_way used = {.pace = site_walker_pace(SITE_WALKER_ADULT),
                .drawn = true,
                .way = {.way = {stops, 2, 2000}}};
        const struct used_ways ways = {&used, 1};
        const struct ways_drawn drawn = {&scene.house, &ways};
        size_t text = 0;
        panel.fixture = SITE_FIXTURE_PANEL;
        set_scene(&scene);
        put_device(&scene, EYE, spot, in);
        put_keypad(&scene, 0, spot, in);
        put_keypad(&scene, 1, spot, in);
        put(&scene, panel, HALL, spot, in);
        const struct drawing_layer layer = ways_layer(&drawn);
        draw(&scene, 0, &layer, 1);
        while (text < scene.picture.count && scene.picture.shapes[text].form != PICTURE_TEXT) {
            text++;
        }
        assert_true(text < scene.picture.count);
        const struct picture_shape *figures = &scene.picture.shapes[text];
        const struct point at = figures->points[0];
        const int32_t half_mm = (int32_t)text_columns(figures->text) * figures->width_mm / 4;
        const struct picture_box box = {{at.x_mm - half_mm, at.y_mm - figures->width_mm / 2},
                {at.x_mm + half_mm, at.y_mm + figures->width_mm / 2}};
        for (size_t k = 0; k < sizeof marks / sizeof marks[0]; k++) {
            assert_false(meet(box, covered_by(&scene, marks[k])));
        }
        arena_finish(&scene.arena);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(each_sign_stands_on_the_plan_and_in_the_legend),
            cmocka_unit_test(a_motion_detector_points_where_it_looks),
            cmocka_unit_test(signs_give_way_to_each_other),
            cmocka_unit_test(no_leader_runs_under_another_sign),
            cmocka_unit_test(a_sign_keeps_clear_of_all_of_a_quarter_disc),
            cmocka_unit_test(figures_of_a_way_stand_on_no_sign),
            cmocka_unit_test(a_room_too_small_for_its_name_has_a_letter),
            cmocka_unit_test(words_beside_stairs_keep_out_of_walls),
            cmocka_unit_test(layers_lie_in_their_place_and_are_explained),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
