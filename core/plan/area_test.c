/* Blind floor held against closed forms and against asking point by point; GEOS, which works it out, is no referee
 * here. */
#include "plan/area.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

enum { ROUNDS = 120, LOOKS = 400, BOXES_MOST = 6, VIEWS_MOST = 4 };

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

static uint32_t draw(uint64_t *seed, uint32_t below) {
    *seed = *seed * UINT64_C(6364136223846793005) + UINT64_C(1442695040888963407); /* Knuth, MMIX */
    return (uint32_t)((*seed >> 33) % below);
}

static const struct point SQUARE[] = {{0, 0}, {10000, 0}, {10000, 10000}, {0, 10000}};
static const struct point L_ROOM[] = {
        {0, 0}, {10000, 0}, {10000, 4000}, {4000, 4000}, {4000, 10000}, {0, 10000}};

/* A room with boxes in it that go up to the ceiling, and detectors. */
struct scene {
    struct arena arena;
    struct outline room;
    struct point corners[BOXES_MOST][4];
    struct outline boxes[BOXES_MOST];
    size_t box_count;
    struct segment walls[16 + 4 * BOXES_MOST];
    size_t wall_count;
    struct sight_view views[VIEWS_MOST];
    size_t view_count;
};

static void add_walls(struct scene *scene, struct outline outline) {
    for (size_t i = 0; i < outline.count; i++) {
        scene->walls[scene->wall_count++] = outline_edge(outline, i);
    }
}

static void begin_scene(struct scene *scene, const struct point *room, size_t count) {
    memset(scene, 0, sizeof *scene);
    arena_init(&scene->arena, PAGES, 0);
    scene->room = (struct outline){room, count};
    add_walls(scene, scene->room);
}

static void add_box(struct scene *scene, int32_t x, int32_t y, int32_t width, int32_t depth) {
    struct point *corners = scene->corners[scene->box_count];
    corners[0] = (struct point){x, y};
    corners[1] = (struct point){x + width, y};
    corners[2] = (struct point){x + width, y + depth};
    corners[3] = (struct point){x, y + depth};
    scene->boxes[scene->box_count] = (struct outline){corners, 4};
    add_walls(scene, scene->boxes[scene->box_count++]);
}

static void add_view(struct scene *scene, struct sight_viewer viewer) {
    assert_true(sight_see(&viewer, scene->walls, scene->wall_count, &scene->arena,
            &scene->views[scene->view_count++], NULL)
                        .good);
}

static struct area blind_of(struct scene *scene, struct area *ret_floor) {
    struct area blind = {.area_m2 = -1};
    struct problem problem = {0};
    if (!area_blind(scene->room, scene->boxes, scene->box_count, scene->views, scene->view_count,
                &scene->arena, ret_floor, &blind, &problem)
                    .good) {
        fail_msg("%s", problem.text);
    }
    return blind;
}

static void expect_blind(
        struct scene *scene, double floor_m2, double blind_m2, double tolerance_m2) {
    struct area floor_area;
    const struct area blind = blind_of(scene, &floor_area);
    if (fabs(floor_area.area_m2 - floor_m2) > 1e-9 ||
            fabs(blind.area_m2 - blind_m2) > tolerance_m2) {
        fail_msg("%.6f m2 of floor, %.6f blind; not %.6f and %.6f", floor_area.area_m2,
                blind.area_m2, floor_m2, blind_m2);
    }
    arena_finish(&scene->arena);
}

static void closed_forms_are_met(void **unused) {
    (void)unused;
    struct scene scene;
    begin_scene(&scene, SQUARE, 4);
    expect_blind(&scene, 100, 100, 1e-9);

    /* A 90 degree unit of 12 m in a corner leaves 100 - 10 sqrt(44) - 72 (pi / 2 - 2 acos(10 / 12)). */
    const double corner_m2 = 100 - 10 * sqrt(44) - 72 * (acos(-1) / 2 - 2 * acos(10.0 / 12));
    begin_scene(&scene, SQUARE, 4);
    add_view(&scene, (struct sight_viewer){.at = {0, 0}, .pattern = {45, 90, 12000}});
    expect_blind(&scene, 100, corner_m2, 0.005);

    /* A pillar of 1 m2 hides 11 m2 from the middle, and nothing of the floor is under it. */
    begin_scene(&scene, SQUARE, 4);
    add_box(&scene, 6000, 4500, 1000, 1000);
    add_view(&scene, (struct sight_viewer){.at = {5000, 5000}, .pattern = {0, 360, 30000}});
    expect_blind(&scene, 99, 11, 1e-6);

    /* The L-shaped room: 44 of 64 m2 are seen from (8, 2), everything from the corner's square. */
    begin_scene(&scene, L_ROOM, 6);
    add_view(&scene, (struct sight_viewer){.at = {8000, 2000}, .pattern = {0, 360, 30000}});
    expect_blind(&scene, 64, 20, 1e-6);
    begin_scene(&scene, L_ROOM, 6);
    add_view(&scene, (struct sight_viewer){.at = {8000, 2000}, .pattern = {0, 360, 30000}});
    add_view(&scene, (struct sight_viewer){.at = {2000, 2000}, .pattern = {0, 360, 30000}});
    expect_blind(&scene, 64, 0, 1e-6);

    /* A box before its eye hides 2 m at 1 m off, 10 m at 5 m off, and then the whole width: 24 + 50 less the box. */
    begin_scene(&scene, SQUARE, 4);
    add_box(&scene, 4000, 1000, 2000, 500);
    add_view(&scene, (struct sight_viewer){.at = {5000, 0}, .pattern = {90, 180, 30000}});
    expect_blind(&scene, 99, 24 + 50 - 1, 1e-6);

    /* Two sectors of 60 degrees and 4 m that touch in the eye, and nothing between: it looks back at its wall. */
    begin_scene(&scene, SQUARE, 4);
    add_view(&scene,
            (struct sight_viewer){.at = {5000, 0}, .into = {0, 1}, .pattern = {270, 300, 4000}});
    expect_blind(&scene, 100, 100 - 2 * acos(-1) * 16 / 6, 0.005);
}

static void a_ring_of_blind_floor_has_a_hole(void **unused) {
    (void)unused;
    struct scene scene;
    struct area floor_area;
    begin_scene(&scene, SQUARE, 4);
    add_view(&scene, (struct sight_viewer){.at = {5000, 5000}, .pattern = {0, 360, 2000}});
    const struct area blind = blind_of(&scene, &floor_area);
    assert_true(fabs(blind.area_m2 - (100 - 4 * acos(-1))) < 0.01);
    assert_int_equal(blind.ring_count, 2);
    assert_false(blind.rings[0].is_hole);
    assert_true(blind.rings[1].is_hole);
    assert_true(area_holds(&blind, (struct point){1000, 1000}));
    assert_false(area_holds(&blind, (struct point){5000, 5000}));
    assert_false(area_holds(&blind, (struct point){-1000, 1000}));
    arena_finish(&scene.arena);
}

static void draw_scene(struct scene *scene, uint64_t *seed) {
    if (draw(seed, 2) > 0) {
        begin_scene(scene, SQUARE, 4);
    } else {
        begin_scene(scene, L_ROOM, 6);
    }
    for (size_t n = draw(seed, BOXES_MOST); n > 0; n--) {
        const int32_t x = (int32_t)draw(seed, 17) * 500;
        add_box(scene, x, (int32_t)draw(seed, 17) * 500, 500 + (int32_t)draw(seed, 4) * 500,
                500 + (int32_t)draw(seed, 4) * 500);
    }
    static const double OPENINGS_DEG[] = {7, 90, 110, 360};
    for (size_t n = draw(seed, VIEWS_MOST + 1); n > 0; n--) {
        struct sight_viewer viewer = {
                .pattern = {draw(seed, 3600) / 10.0, OPENINGS_DEG[draw(seed, 4)],
                        2000 + (int32_t)draw(seed, 12000)},
                .into = {1 + (int32_t)draw(seed, 7001), 7013}};
        viewer.at.x_mm = (int32_t)draw(seed, 21) * 500;
        viewer.at.y_mm = (int32_t)draw(seed, 21) * 500;
        add_view(scene, viewer);
    }
}

/* How near a point is to any edge that may bound the answer. */
static bool near_ring(const struct sight_corner *corners, size_t count, struct point at) {
    const struct sight_view ring = {.corners = corners, .count = count};
    const bool inside = sight_view_holds(&ring, at);
    for (int32_t k = 0; k < 4; k++) {
        const struct point beside = {at.x_mm + (k % 2 * 2 - 1), at.y_mm + (k / 2 * 2 - 1)};
        if (sight_view_holds(&ring, beside) != inside) {
            return true;
        }
    }
    return false;
}

static bool blind_by_looking(const struct scene *scene, struct point at, bool *ret_near) {
    bool blind = outline_place(scene->room, at) == PLACE_INSIDE;
    *ret_near = outline_place(scene->room, at) == PLACE_ON_EDGE;
    for (size_t i = 0; i < scene->box_count; i++) {
        const enum place place = outline_place(scene->boxes[i], at);
        blind = blind && place == PLACE_OUTSIDE;
        *ret_near = *ret_near || place == PLACE_ON_EDGE;
    }
    for (size_t i = 0; i < scene->view_count; i++) {
        const struct sight_view *view = &scene->views[i];
        blind = blind && !sight_view_holds(view, at);
        *ret_near = *ret_near || near_ring(view->corners, view->count, at);
    }
    return blind;
}

static double rings_m2(const struct area *area) {
    double mm2 = 0;
    for (size_t i = 0; i < area->ring_count; i++) {
        const struct area_ring *ring = &area->rings[i];
        double twice = 0;
        for (size_t k = 0; k < ring->count; k++) {
            const struct sight_corner a = ring->corners[k];
            const struct sight_corner b = ring->corners[(k + 1) % ring->count];
            twice += a.x_mm * b.y_mm - a.y_mm * b.x_mm;
        }
        assert_int_equal(twice < 0, ring->is_hole);
        mm2 += twice / 2;
    }
    return mm2 / 1e6;
}

static void every_point_is_blind_that_nobody_sees(void **unused) {
    (void)unused;
    uint64_t seed = 61;
    size_t blind_points = 0;
    size_t looks = 0;
    for (size_t round = 0; round < ROUNDS; round++) {
        static struct scene scene;
        struct area floor_area;
        draw_scene(&scene, &seed);
        const struct area blind = blind_of(&scene, &floor_area);
        for (size_t look = 0; look < LOOKS; look++) {
            const struct point at = {
                    (int32_t)draw(&seed, 11000) - 500, (int32_t)draw(&seed, 11000) - 500};
            bool near_edge;
            const bool wanted = blind_by_looking(&scene, at, &near_edge);
            if (near_edge) {
                continue;
            }
            if (area_holds(&blind, at) != wanted) {
                fail_msg("round %zu: (%d, %d) is %sblind", round, at.x_mm, at.y_mm,
                        wanted ? "" : "not ");
            }
            blind_points += wanted;
            looks++;
        }
        assert_true(fabs(rings_m2(&blind) - blind.area_m2) < 1e-6);
        assert_true(blind.area_m2 <= floor_area.area_m2 + 1e-6);
        arena_finish(&scene.arena);
    }
    assert_in_range(blind_points, looks / 10, looks);
}

/* One detector more never makes more blind, and their order does not matter. */
static void another_detector_never_blinds(void **unused) {
    (void)unused;
    uint64_t seed = 62;
    for (size_t round = 0; round < ROUNDS; round++) {
        static struct scene scene;
        struct area floor_area;
        draw_scene(&scene, &seed);
        const double all_m2 = blind_of(&scene, &floor_area).area_m2;
        if (scene.view_count > 1) {
            const struct sight_view swap = scene.views[0];
            scene.views[0] = scene.views[scene.view_count - 1];
            scene.views[scene.view_count - 1] = swap;
            assert_true(fabs(blind_of(&scene, &floor_area).area_m2 - all_m2) < 1e-3);
        }
        if (scene.view_count > 0) {
            scene.view_count--;
            assert_true(blind_of(&scene, &floor_area).area_m2 > all_m2 - 1e-3);
        }
        arena_finish(&scene.arena);
    }
}

static void what_two_rooms_share_is_measured(void **unused) {
    (void)unused;
    static const struct point RIGHT[] = {{10000, 0}, {15000, 0}, {15000, 10000}, {10000, 10000}};
    static const struct point ACROSS[] = {{9000, 2000}, {15000, 2000}, {15000, 5000}, {9000, 5000}};
    struct arena arena;
    struct area common;
    arena_init(&arena, PAGES, 0);
    const struct outline square = {SQUARE, 4};
    assert_true(area_common(square, (struct outline){RIGHT, 4}, &arena, &common, NULL).good);
    assert_int_equal(common.ring_count, 0);
    assert_true(fabs(common.area_m2) < 1e-9);
    assert_true(area_common(square, (struct outline){ACROSS, 4}, &arena, &common, NULL).good);
    assert_int_equal(common.ring_count, 1);
    assert_true(fabs(common.area_m2 - 3) < 1e-9);
    assert_true(area_common(square, (struct outline){L_ROOM, 6}, &arena, &common, NULL).good);
    assert_true(fabs(common.area_m2 - 64) < 1e-9);
    arena_finish(&arena);
}

static void what_it_cannot_do_it_says(void **unused) {
    (void)unused;
    struct arena arena;
    struct area floor_area = {.area_m2 = -1};
    struct area blind = {.area_m2 = -1};
    struct problem problem = {0};
    arena_init(&arena, PAGES, 0);
    const struct outline square = {SQUARE, 4};
    assert_false(area_blind(
            (struct outline){SQUARE, 2}, NULL, 0, NULL, 0, &arena, &floor_area, &blind, &problem)
                         .good);
    assert_int_equal(problem.kind, PROBLEM_BAD_VALUE);
    problem = (struct problem){0};
    assert_false(area_blind(
            square, NULL, 0, NULL, AREA_OUTLINES_MOST + 1, &arena, &floor_area, &blind, &problem)
                         .good);
    assert_int_equal(problem.kind, PROBLEM_LIMIT);
    /* An outline that crosses itself is not for GEOS: it says so or gives something, and nothing leaks. */
    static const struct point BOW[] = {{0, 0}, {4000, 4000}, {4000, 0}, {0, 4000}};
    (void)!area_blind(
            (struct outline){BOW, 4}, &square, 1, NULL, 0, &arena, &floor_area, &blind, &problem)
            .good;
    arena_finish(&arena);
}

static void memory_may_end_anywhere(void **unused) {
    (void)unused;
    struct scene scene;
    begin_scene(&scene, SQUARE, 4);
    add_box(&scene, 6000, 4500, 1000, 1000);
    add_view(&scene, (struct sight_viewer){.at = {5000, 5000}, .pattern = {0, 360, 3000}});
    size_t refused = 0;
    bool good = false;
    for (size_t limit = 1; !good; limit += 256) {
        struct arena arena;
        struct area floor_area = {.area_m2 = -1};
        struct area blind;
        struct problem problem = {0};
        arena_init(&arena, PAGES, limit);
        good = area_blind(scene.room, scene.boxes, scene.box_count, scene.views, scene.view_count,
                &arena, &floor_area, &blind, &problem)
                       .good;
        arena_finish(&arena);
        assert_true(good || problem.kind == PROBLEM_MEMORY);
        assert_true(good || floor_area.area_m2 < 0);
        refused += !good;
    }
    assert_in_range(refused, 3, 10000);
    arena_finish(&scene.arena);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(closed_forms_are_met),
            cmocka_unit_test(a_ring_of_blind_floor_has_a_hole),
            cmocka_unit_test(every_point_is_blind_that_nobody_sees),
            cmocka_unit_test(another_detector_never_blinds),
            cmocka_unit_test(what_two_rooms_share_is_measured),
            cmocka_unit_test(what_it_cannot_do_it_says),
            cmocka_unit_test(memory_may_end_anywhere),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
