/* What is seen, held against published outlines with areas by fractions, a sector in a corner in closed form, shadows
 * cut off by GEOS, and looking at points one by one. Random rooms have walls that touch, cross and lie on each other.
 * */
#include "plan/sight.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>
#define GEOS_USE_ONLY_R_API
#include <geos_c.h>

enum { WALLS_MOST = 64, ROUNDS = 120, LOOKS = 60, BOARD_MM = 10000 };

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

struct scene {
    struct segment walls[WALLS_MOST];
    size_t count;
};

static uint32_t draw(uint64_t *seed, uint32_t below) {
    *seed = *seed * UINT64_C(6364136223846793005) + UINT64_C(1442695040888963407); /* Knuth, MMIX */
    return (uint32_t)((*seed >> 33) % below);
}

static void add_ring(struct scene *scene, const struct point *corners, size_t count) {
    for (size_t i = 0; i < count; i++) {
        scene->walls[scene->count++] = outline_edge((struct outline){corners, count}, i);
    }
}

static void add_box(struct scene *scene, int32_t x, int32_t y, int32_t width, int32_t depth) {
    const struct point corners[] = {{x, y}, {x + width, y}, {x + width, y + depth}, {x, y + depth}};
    add_ring(scene, corners, 4);
}

static struct sight_view see(
        const struct scene *scene, const struct sight_viewer *viewer, struct arena *arena) {
    struct sight_view view = {0};
    struct problem problem = {0};
    arena_init(arena, PAGES, 0);
    if (!sight_see(viewer, scene->walls, scene->count, arena, &view, &problem).good) {
        fail_msg("%s", problem.text);
    }
    return view;
}

static double seen_m2(const struct scene *scene, const struct sight_viewer *viewer) {
    struct arena arena;
    const double area_m2 = see(scene, viewer, &arena).area_m2;
    arena_finish(&arena);
    return area_m2;
}

static struct sight_viewer all_round(int32_t x_mm, int32_t y_mm) {
    return (struct sight_viewer){
            .at = {x_mm, y_mm}, .pattern = {.opening_deg = 360, .range_mm = 60000}};
}

/* A unit of the published figures is a metre. Areas as fractions were worked out by hand, by cutting what is seen into
 * triangles. */
static const struct point ROOM[] = {{0, 0}, {10000, 0}, {10000, 10000}, {0, 10000}};
static const struct point L_ROOM[] = {
        {0, 0}, {10000, 0}, {10000, 4000}, {4000, 4000}, {4000, 10000}, {0, 10000}};
static const struct point BAFFLES[] = {{0, 0}, {3000, 0}, {3000, 8000}, {3200, 8000}, {3200, 0},
        {10000, 0}, {10000, 10000}, {6200, 10000}, {6200, 2000}, {6000, 2000}, {6000, 10000},
        {0, 10000}};
/* Outlines of the visibility examples in the manual of the Computational Geometry Algorithms Library (2D Visibility).
 * */
static const struct point SIMPLE[] = {
        {0, 4000}, {0, 0}, {3000, 2000}, {4000, 0}, {4000, 4000}, {1000, 2000}};
static const struct point GENERAL[] = {
        {1000, 2000}, {12000, 3000}, {19000, -2000}, {12000, 6000}, {14000, 14000}, {9000, 5000}};
static const struct point HOLES[2][3] = {
        {{8000, 3000}, {10000, 3000}, {8000, 4000}}, {{10000, 6000}, {11000, 6000}, {11000, 7000}}};

static void published_rooms_are_seen_as_worked_out(void **unused) {
    (void)unused;
    struct scene pillar = {.count = 0};
    struct scene l_room = {.count = 0};
    struct scene simple = {.count = 0};
    struct scene general = {.count = 0};
    struct scene baffles = {.count = 0};
    add_ring(&pillar, ROOM, 4);
    add_box(&pillar, 6000, 4500, 1000, 1000);
    add_ring(&l_room, L_ROOM, 6);
    add_ring(&simple, SIMPLE, 6);
    add_ring(&general, GENERAL, 6);
    add_ring(&general, HOLES[0], 3);
    add_ring(&general, HOLES[1], 3);
    add_ring(&baffles, BAFFLES, 12);
    const struct {
        const struct scene *scene;
        struct point at;
        double area_m2;
    } CASES[] = {
            {&pillar, {5000, 5000}, 88},
            {&l_room, {8000, 2000}, 44},
            {&l_room, {2000, 2000}, 64},
            {&simple, {500, 2000}, 4},
            {&general, {9000, 4000}, 1859.0 / 102},
            {&general, {7000, 3000}, 8},
            {&general, {11500, 4000}, 2013407.0 / 69654},
            {&baffles, {1000, 1000}, 214.0 / 7},
    };
    for (size_t i = 0; i < sizeof CASES / sizeof *CASES; i++) {
        const struct sight_viewer viewer = all_round(CASES[i].at.x_mm, CASES[i].at.y_mm);
        const double area_m2 = seen_m2(CASES[i].scene, &viewer);
        if (fabs(area_m2 - CASES[i].area_m2) > 1e-8) {
            fail_msg("case %zu: %.9f m2, not %.9f", i + 1, area_m2, CASES[i].area_m2);
        }
    }
}

/* A needle is no area: the ray through (1, 2) and (3, 2) of the simple outline goes on to (4, 2), and no corner is
 * there. */
static void a_needle_is_left_out(void **unused) {
    (void)unused;
    struct scene simple = {.count = 0};
    struct arena arena;
    add_ring(&simple, SIMPLE, 6);
    const struct sight_viewer viewer = all_round(500, 2000);
    const struct sight_view view = see(&simple, &viewer, &arena);
    for (size_t i = 0; i < view.count; i++) {
        assert_true(view.corners[i].x_mm < 3000.5);
    }
    arena_finish(&arena);
}

/* A 90 degree unit of 12 m in the corner of a room of 10 m x 10 m: 10 sqrt(44) + 72 (pi / 2 - 2 acos(10 / 12)). */
static void a_sector_in_a_corner_is_the_closed_form(void **unused) {
    (void)unused;
    struct scene room = {.count = 0};
    add_ring(&room, ROOM, 4);
    const struct sight_viewer viewer = {.at = {0, 0}, .pattern = {45, 90, 12000}};
    const double pi = acos(-1);
    const double wanted_m2 = 10 * sqrt(44) + 72 * (pi / 2 - 2 * acos(10.0 / 12));
    assert_true(fabs(wanted_m2 - 95.0911) < 5e-5);
    assert_true(fabs(seen_m2(&room, &viewer) - wanted_m2) < 0.005);
    /* The other way it looks out of the room: nothing stands there. */
    const struct sight_viewer back = {.at = {0, 0}, .pattern = {225, 90, 12000}};
    assert_true(fabs(seen_m2(&room, &back) - pattern_area_m2(&back.pattern)) < 0.02);
}

static void what_hangs_on_a_wall_sees_one_side(void **unused) {
    (void)unused;
    struct scene two = {.count = 0};
    add_box(&two, 0, 0, 5000, 4000);
    add_box(&two, 5000, 0, 5000, 4000);
    struct sight_viewer viewer = all_round(5000, 1000);
    assert_true(fabs(seen_m2(&two, &viewer) - 40) < 1e-8);
    viewer.into = (struct point){-1, 0};
    assert_true(fabs(seen_m2(&two, &viewer) - 20) < 1e-8);
    viewer.at = (struct point){5000, 4000};
    viewer.into = (struct point){1, -1};
    assert_true(fabs(seen_m2(&two, &viewer) - 20) < 1e-8);
    /* By its pattern: what of 200 degrees is behind the wall is not seen. */
    viewer = (struct sight_viewer){.at = {0, 2000}, .pattern = {0, 200, 60000}};
    assert_true(fabs(seen_m2(&two, &viewer) - 20) < 1e-8);
    /* The free end of a wall hides nothing but what is behind it. */
    struct scene end = {.count = 0};
    add_box(&end, 0, 0, 4000, 4000);
    end.walls[end.count++] = (struct segment){{2000, 0}, {2000, 2000}};
    viewer = all_round(2000, 2000);
    viewer.into = (struct point){0, 1};
    assert_true(fabs(seen_m2(&end, &viewer) - 16) < 1e-8);
}

static void what_it_cannot_do_it_says(void **unused) {
    (void)unused;
    struct scene room = {.count = 0};
    add_ring(&room, ROOM, 4);
    struct scene far = room;
    far.walls[0].to.x_mm = PLAN_REACH_MM + 1;
    const struct {
        const struct scene *scene;
        struct sight_viewer viewer;
        size_t wall_count;
        const char *word;
        enum problem_kind kind;
    } WRONG[] = {
            {&room, {{0, 5000}, {0, 0}, {90, 80, 9000}}, 4, "along its own wall",
                    PROBLEM_BAD_VALUE},
            {&room, {{PLAN_REACH_MM + 1, 0}, {0, 0}, {90, 80, 9000}}, 4, "within",
                    PROBLEM_BAD_VALUE},
            {&far, {{10, 10}, {0, 0}, {90, 80, 9000}}, 4, "within", PROBLEM_BAD_VALUE},
            {&room, {{10, 10}, {0, 0}, {90, 0, 9000}}, 4, "opening", PROBLEM_BAD_VALUE},
            {&room, {{10, 10}, {0, 0}, {90, 80, 9000}}, SIGHT_WALLS_MOST + 1, "walls",
                    PROBLEM_LIMIT},
    };
    for (size_t i = 0; i < sizeof WRONG / sizeof *WRONG; i++) {
        struct arena arena;
        struct problem problem = {0};
        struct sight_view view = {.area_m2 = -1};
        arena_init(&arena, PAGES, 0);
        assert_false(sight_see(&WRONG[i].viewer, WRONG[i].scene->walls, WRONG[i].wall_count, &arena,
                &view, &problem)
                             .good);
        assert_int_equal(problem.kind, WRONG[i].kind);
        assert_non_null(strstr(problem.text, WRONG[i].word));
        assert_true(view.area_m2 < 0);
        arena_finish(&arena);
    }
}

static void too_many_crossings_are_a_stated_limit(void **unused) {
    (void)unused;
    enum { LINES = 230 };
    static struct segment walls[2 * LINES];
    for (int32_t i = 0; i < LINES; i++) {
        walls[i] = (struct segment){{20 * i, -50}, {20 * i, 20 * LINES}};
        walls[LINES + i] = (struct segment){{-50, 20 * i}, {20 * LINES, 20 * i}};
    }
    struct arena arena;
    struct problem problem = {0};
    struct sight_view view;
    arena_init(&arena, PAGES, 0);
    const struct sight_viewer viewer = {.at = {-1000, -1000}, .pattern = {45, 90, 12000}};
    assert_false(sight_see(&viewer, walls, 2 * LINES, &arena, &view, &problem).good);
    assert_int_equal(problem.kind, PROBLEM_LIMIT);
    arena_finish(&arena);
}

/* Memory that ends anywhere is a problem, never a crash. */
static void memory_may_end_anywhere(void **unused) {
    (void)unused;
    struct scene room = {.count = 0};
    add_ring(&room, GENERAL, 6);
    add_ring(&room, HOLES[0], 3);
    const struct sight_viewer viewer = all_round(7000, 3000);
    size_t refused = 0;
    for (size_t limit = 1;; limit += 1024) {
        struct arena arena;
        struct problem problem = {0};
        struct sight_view view;
        arena_init(&arena, PAGES, limit);
        const bool good = sight_see(&viewer, room.walls, room.count, &arena, &view, &problem).good;
        arena_finish(&arena);
        if (good) {
            break;
        }
        assert_int_equal(problem.kind, PROBLEM_MEMORY);
        refused++;
    }
    assert_in_range(refused, 3, 1000);
}

static struct point draw_point(uint64_t *seed, uint32_t step_mm) {
    const int32_t x = (int32_t)(draw(seed, BOARD_MM / step_mm + 1) * step_mm);
    return (struct point){x, (int32_t)(draw(seed, BOARD_MM / step_mm + 1) * step_mm)};
}

/* A room with loose walls, boxes on boxes, and corners on a coarse board, so that much touches and lies in line. */
static struct scene draw_scene(uint64_t *seed) {
    struct scene scene = {.count = 0};
    if (draw(seed, 3) > 0) {
        add_ring(&scene, ROOM, 4);
    }
    const uint32_t step_mm = draw(seed, 2) > 0 ? 1000 : 1;
    for (size_t n = draw(seed, 7); n > 0; n--) {
        const struct point at = draw_point(seed, step_mm);
        add_box(&scene, at.x_mm, at.y_mm, 500 + (int32_t)draw(seed, 4) * 500,
                500 + (int32_t)draw(seed, 4) * 500);
    }
    for (size_t n = draw(seed, 12); n > 0; n--) {
        const struct point from = draw_point(seed, step_mm);
        scene.walls[scene.count++] = (struct segment){from, draw_point(seed, step_mm)};
    }
    return scene;
}

static struct sight_viewer draw_viewer(uint64_t *seed) {
    static const double OPENINGS_DEG[] = {7, 90, 110, 200, 300, 360};
    struct sight_viewer viewer = {.at = draw_point(seed, draw(seed, 2) > 0 ? 1000 : 1),
            .pattern = {draw(seed, 3600) / 10.0, OPENINGS_DEG[draw(seed, 6)],
                    1000 + (int32_t)draw(seed, 14000)}};
    viewer.into = (struct point){1 + (int32_t)draw(seed, 7001), 7013};
    return viewer;
}

/* Whether a wall that the viewer is on has the point on its other side: both are behind each other's directions then.
 * The scene's walls through the viewer leave a slice with `into` in it; the point must be in that slice. */
static bool in_the_slice(
        const struct scene *scene, const struct sight_viewer *viewer, double angle) {
    const double into = atan2(viewer->into.y_mm, viewer->into.x_mm);
    const double pi = acos(-1);
    double left = 2 * pi;
    double right = 2 * pi;
    for (size_t i = 0; i < scene->count; i++) {
        if (!segment_holds(scene->walls[i], viewer->at)) {
            continue;
        }
        const struct point ends[2] = {scene->walls[i].from, scene->walls[i].to};
        for (size_t k = 0; k < 2; k++) {
            const struct point step = point_step(viewer->at, ends[k]);
            if (step.x_mm != 0 || step.y_mm != 0) {
                const double off = fmod(atan2(step.y_mm, step.x_mm) - into + 4 * pi, 2 * pi);
                left = off < left ? off : left;
                right = 2 * pi - off < right ? 2 * pi - off : right;
            }
        }
    }
    const double off = fmod(angle - into + 4 * pi, 2 * pi);
    return off < left || off > 2 * pi - right;
}

/* Looking along the line, in doubles: within the pattern, and no wall between. */
static bool looks_free(
        const struct scene *scene, const struct sight_viewer *viewer, struct point at) {
    const double pi = acos(-1);
    const struct point step = point_step(viewer->at, at);
    const double angle = atan2(step.y_mm, step.x_mm);
    double off = fmod(angle * 180 / pi - viewer->pattern.facing_deg + 3780, 360) - 180;
    if (fabs(off) > viewer->pattern.opening_deg / 2 ||
            point_distance_mm(viewer->at, at) > viewer->pattern.range_mm ||
            !in_the_slice(scene, viewer, angle)) {
        return false;
    }
    for (size_t i = 0; i < scene->count; i++) {
        if (!segment_holds(scene->walls[i], viewer->at) &&
                segment_meets((struct segment){viewer->at, at}, scene->walls[i])) {
            return false;
        }
    }
    return true;
}

/* How near a point is to the edge of what is seen. */
static double off_edge_mm(const struct sight_view *view, struct point at) {
    double least_mm = 1e9;
    for (size_t i = 0; i < view->count; i++) {
        const struct sight_corner a = view->corners[i];
        const struct sight_corner b = view->corners[i + 1 < view->count ? i + 1 : 0];
        const double x = b.x_mm - a.x_mm;
        const double y = b.y_mm - a.y_mm;
        const double size = x * x + y * y;
        double along = size > 0 ? ((at.x_mm - a.x_mm) * x + (at.y_mm - a.y_mm) * y) / size : 0;
        along = along < 0 ? 0 : along > 1 ? 1 : along;
        const double off_mm = hypot(a.x_mm + along * x - at.x_mm, a.y_mm + along * y - at.y_mm);
        least_mm = off_mm < least_mm ? off_mm : least_mm;
    }
    return least_mm;
}

static void every_point_is_seen_that_can_be_looked_at(void **unused) {
    (void)unused;
    uint64_t seed = 11;
    size_t seen = 0;
    size_t looks = 0;
    for (size_t round = 0; round < 4 * ROUNDS; round++) {
        const struct scene scene = draw_scene(&seed);
        const struct sight_viewer viewer = draw_viewer(&seed);
        struct arena arena;
        const struct sight_view view = see(&scene, &viewer, &arena);
        for (size_t look = 0; look < LOOKS; look++) {
            const struct point at = draw_point(&seed, 1);
            /* Arc and sides of the pattern are rounded by up to 2.5 mm. */
            if (off_edge_mm(&view, at) < 4 || point_equal(at, viewer.at) ||
                    fabs(point_distance_mm(at, viewer.at) - viewer.pattern.range_mm) < 4) {
                continue;
            }
            const bool free_look = looks_free(&scene, &viewer, at);
            if (sight_view_holds(&view, at) != free_look) {
                fail_msg("round %zu: (%d, %d) from (%d, %d)", round, at.x_mm, at.y_mm,
                        viewer.at.x_mm, viewer.at.y_mm);
            }
            seen += free_look;
            looks++;
        }
        arena_finish(&arena);
    }
    assert_in_range(seen, looks / 20, looks / 2);
}

static GEOSGeometry *polygon_of(
        GEOSContextHandle_t geos, const double (*corners)[2], size_t count) {
    GEOSCoordSequence *ring = GEOSCoordSeq_create_r(geos, (unsigned)count + 1, 2);
    for (size_t i = 0; i <= count; i++) {
        GEOSCoordSeq_setXY_r(geos, ring, (unsigned)i, corners[i % count][0], corners[i % count][1]);
    }
    return GEOSGeom_createPolygon_r(geos, GEOSGeom_createLinearRing_r(geos, ring), NULL, 0);
}

/* What a wall hides: from its ends away from the viewer, past the range. */
static GEOSGeometry *shadow_of(
        GEOSContextHandle_t geos, const struct sight_viewer *viewer, struct segment wall) {
    const struct point ends[2] = {wall.from, wall.to};
    double corners[5][2];
    double middle[2] = {0, 0};
    for (size_t i = 0; i < 2; i++) {
        const double x = ends[i].x_mm - viewer->at.x_mm;
        const double y = ends[i].y_mm - viewer->at.y_mm;
        const double size = hypot(x, y);
        corners[i == 0 ? 0 : 4][0] = ends[i].x_mm;
        corners[i == 0 ? 0 : 4][1] = ends[i].y_mm;
        corners[i == 0 ? 1 : 3][0] = viewer->at.x_mm + x / size * 1e6;
        corners[i == 0 ? 1 : 3][1] = viewer->at.y_mm + y / size * 1e6;
        middle[0] += x / size;
        middle[1] += y / size;
    }
    const double size = hypot(middle[0], middle[1]);
    corners[2][0] = viewer->at.x_mm + middle[0] / size * 1e6;
    corners[2][1] = viewer->at.y_mm + middle[1] / size * 1e6;
    return polygon_of(geos, (const double(*)[2])corners, 5);
}

/* The pattern less every shadow, by GEOS. */
static double seen_by_geos_m2(
        GEOSContextHandle_t geos, const struct scene *scene, const struct sight_viewer *viewer) {
    struct point arc[PATTERN_CORNERS_MOST];
    double corners[PATTERN_CORNERS_MOST + 1][2];
    size_t count = pattern_arc(&viewer->pattern, arc);
    for (size_t i = 0; i < count; i++) {
        corners[i][0] = viewer->at.x_mm + arc[i].x_mm;
        corners[i][1] = viewer->at.y_mm + arc[i].y_mm;
    }
    if (!pattern_is_round(&viewer->pattern)) {
        corners[count][0] = viewer->at.x_mm;
        corners[count++][1] = viewer->at.y_mm;
    }
    GEOSGeometry *seen = polygon_of(geos, (const double(*)[2])corners, count);
    for (size_t i = 0; i < scene->count; i++) {
        if (point_turn(scene->walls[i].from, scene->walls[i].to, viewer->at) == 0) {
            continue;
        }
        GEOSGeometry *shadow = shadow_of(geos, viewer, scene->walls[i]);
        GEOSGeometry *rest = GEOSDifference_r(geos, seen, shadow);
        assert_non_null(rest);
        GEOSGeom_destroy_r(geos, shadow);
        GEOSGeom_destroy_r(geos, seen);
        seen = rest;
    }
    double area_mm2 = -1;
    assert_int_equal(GEOSArea_r(geos, seen, &area_mm2), 1);
    GEOSGeom_destroy_r(geos, seen);
    return area_mm2 / 1e6;
}

static bool hangs_on_a_wall(const struct scene *scene, struct point at) {
    for (size_t i = 0; i < scene->count; i++) {
        if (segment_holds(scene->walls[i], at)) {
            return true;
        }
    }
    return false;
}

static void what_is_seen_is_the_pattern_less_the_shadows(void **unused) {
    (void)unused;
    GEOSContextHandle_t geos = GEOS_init_r();
    uint64_t seed = 12;
    for (size_t round = 0; round < ROUNDS; round++) {
        const struct scene scene = draw_scene(&seed);
        const struct sight_viewer viewer = draw_viewer(&seed);
        if (hangs_on_a_wall(&scene, viewer.at)) {
            continue; /* a wall through the viewer has no shadow */
        }
        const double ours_m2 = seen_m2(&scene, &viewer);
        const double theirs_m2 = seen_by_geos_m2(geos, &scene, &viewer);
        if (fabs(ours_m2 - theirs_m2) > 1e-6) {
            fail_msg("round %zu: %.9f m2, by shadows %.9f", round, ours_m2, theirs_m2);
        }
    }
    GEOS_finish_r(geos);
}

static void another_wall_never_shows_more(void **unused) {
    (void)unused;
    uint64_t seed = 13;
    size_t less = 0;
    for (size_t round = 0; round < 4 * ROUNDS; round++) {
        struct scene scene = draw_scene(&seed);
        const struct sight_viewer viewer = draw_viewer(&seed);
        const double before_m2 = seen_m2(&scene, &viewer);
        const struct point from = draw_point(&seed, 1000);
        scene.walls[scene.count++] = (struct segment){from, draw_point(&seed, 1000)};
        const double after_m2 = seen_m2(&scene, &viewer);
        assert_true(after_m2 < before_m2 + 1e-9);
        less += after_m2 < before_m2 - 1e-3;
    }
    assert_true(less > ROUNDS / 2);
}

static void a_wall_in_two_halves_is_the_same_wall(void **unused) {
    (void)unused;
    uint64_t seed = 14;
    for (size_t round = 0; round < ROUNDS; round++) {
        struct scene scene = draw_scene(&seed);
        const struct sight_viewer viewer = draw_viewer(&seed);
        const double whole_m2 = seen_m2(&scene, &viewer);
        for (size_t i = scene.count; i > 0; i--) {
            const struct segment wall = scene.walls[i - 1];
            const struct point middle = {
                    (wall.from.x_mm + wall.to.x_mm) / 2, (wall.from.y_mm + wall.to.y_mm) / 2};
            if (segment_holds(wall, middle) && scene.count < WALLS_MOST) {
                scene.walls[i - 1].to = middle;
                scene.walls[scene.count++] = (struct segment){middle, wall.to};
            }
        }
        assert_true(fabs(seen_m2(&scene, &viewer) - whole_m2) < 1e-9);
    }
}

static struct scene moved(const struct scene *scene, struct point (*move)(struct point)) {
    struct scene other = {.count = scene->count};
    for (size_t i = 0; i < scene->count; i++) {
        other.walls[i] = (struct segment){move(scene->walls[i].from), move(scene->walls[i].to)};
    }
    return other;
}

static void quarter_turns_and_mirrors_change_nothing(void **unused) {
    (void)unused;
    uint64_t seed = 15;
    for (size_t round = 0; round < 2 * ROUNDS; round++) {
        const struct scene scene = draw_scene(&seed);
        const struct sight_viewer viewer = draw_viewer(&seed);
        const double area_m2 = seen_m2(&scene, &viewer);
        const struct scene turned = moved(&scene, point_quarter_turn);
        const struct scene mirrored = moved(&scene, point_mirror);
        const struct sight_viewer turned_viewer = {point_quarter_turn(viewer.at),
                point_quarter_turn(viewer.into),
                {viewer.pattern.facing_deg + 90, viewer.pattern.opening_deg,
                        viewer.pattern.range_mm}};
        const struct sight_viewer mirrored_viewer = {point_mirror(viewer.at),
                point_mirror(viewer.into),
                {180 - viewer.pattern.facing_deg, viewer.pattern.opening_deg,
                        viewer.pattern.range_mm}};
        assert_true(fabs(seen_m2(&turned, &turned_viewer) - area_m2) < 1e-9);
        assert_true(fabs(seen_m2(&mirrored, &mirrored_viewer) - area_m2) < 1e-9);
    }
}

static void a_pane_is_seen_as_far_as_nothing_hides_it(void **unused) {
    (void)unused;
    struct scene room = {.count = 0};
    struct arena arena;
    add_ring(&room, ROOM, 4);
    add_box(&room, 6000, 4500, 1000, 1000);
    const struct sight_viewer viewer = all_round(5000, 5000);
    const struct sight_view view = see(&room, &viewer, &arena);
    /* The pillar's corners at 1 m beside and 0.5 m off hide 5 m of the wall at 5 m: from 2.5 to 7.5 m. */
    const struct segment wall = {{10000, 0}, {10000, 10000}};
    const struct segment hidden = {{10000, 3000}, {10000, 7000}};
    const struct segment half = {{10000, 6500}, {10000, 8500}};
    const struct segment pillar = {{6000, 4500}, {6000, 5500}};
    const struct segment edge_on = {{6000, 5000}, {9000, 5000}};
    assert_true(fabs(sight_view_seen_mm(&view, wall) - 5000) < 1e-6);
    assert_true(fabs(sight_view_seen_mm(&view, hidden)) < 1e-6);
    assert_true(fabs(sight_view_seen_mm(&view, half) - 1000) < 1e-6);
    assert_true(fabs(sight_view_seen_mm(&view, pillar) - 1000) < 1e-6);
    assert_true(fabs(sight_view_seen_mm(&view, edge_on)) < 1e-6);
    assert_true(sight_view_holds(&view, (struct point){9000, 2000}));
    assert_false(sight_view_holds(&view, (struct point){9000, 5000}));
    arena_finish(&arena);
}

/* The printed area is that of the printed corners. */
static void the_area_is_that_of_the_corners(void **unused) {
    (void)unused;
    uint64_t seed = 16;
    for (size_t round = 0; round < ROUNDS; round++) {
        const struct scene scene = draw_scene(&seed);
        const struct sight_viewer viewer = draw_viewer(&seed);
        struct arena arena;
        const struct sight_view view = see(&scene, &viewer, &arena);
        double twice_mm2 = 0;
        for (size_t i = 0; i < view.count; i++) {
            const struct sight_corner a = view.corners[i];
            const struct sight_corner b = view.corners[i + 1 < view.count ? i + 1 : 0];
            twice_mm2 += a.x_mm * b.y_mm - a.y_mm * b.x_mm;
        }
        assert_true(fabs(twice_mm2 / 2e6 - view.area_m2) < 1e-6);
        arena_finish(&arena);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(published_rooms_are_seen_as_worked_out),
            cmocka_unit_test(a_needle_is_left_out),
            cmocka_unit_test(a_sector_in_a_corner_is_the_closed_form),
            cmocka_unit_test(what_hangs_on_a_wall_sees_one_side),
            cmocka_unit_test(what_it_cannot_do_it_says),
            cmocka_unit_test(too_many_crossings_are_a_stated_limit),
            cmocka_unit_test(memory_may_end_anywhere),
            cmocka_unit_test(every_point_is_seen_that_can_be_looked_at),
            cmocka_unit_test(what_is_seen_is_the_pattern_less_the_shadows),
            cmocka_unit_test(another_wall_never_shows_more),
            cmocka_unit_test(a_wall_in_two_halves_is_the_same_wall),
            cmocka_unit_test(quarter_turns_and_mirrors_change_nothing),
            cmocka_unit_test(a_pane_is_seen_as_far_as_nothing_hides_it),
            cmocka_unit_test(the_area_is_that_of_the_corners),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
