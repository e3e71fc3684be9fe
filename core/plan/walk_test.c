/* Shortest ways held against worked lengths, against a graph of all lines between all corners of walls with thickness
 * in doubles, and against ways along a grid with their proven bound. */
#include "plan/walk.h"

#include "plan/body.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

enum { WALLS_MOST = 600, ROUNDS = 100, BOARD_MM = 8000, STEP_MM = 500 };

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

static struct walk_place place_at(int32_t x_mm, int32_t y_mm) {
    return (struct walk_place){.at = {x_mm, y_mm}};
}

/* The way of a walker on one storey; kept in the arena, which the caller finishes. */
static struct way find_way(const struct scene *scene, int32_t body_mm, struct walk_place from,
        struct walk_place to, struct arena *arena) {
    const struct walk_storey storey = {scene->walls, scene->count};
    const struct walk_plan plan = {.storeys = &storey, .storey_count = 1, .body_mm = body_mm};
    struct problem problem = {0};
    struct walk *walk;
    struct way way = {.length_mm = -1};
    arena_init(arena, PAGES, 0);
    if (!walk_make(&plan, arena, &walk, &problem).good ||
            !walk_find(walk, from, &to, 1, arena, &way, &problem).good) {
        fail_msg("%s", problem.text);
    }
    return way;
}

/* Its length; INFINITY where there is none. */
static double length_of(
        const struct scene *scene, int32_t body_mm, struct walk_place from, struct walk_place to) {
    struct arena arena;
    const struct way way = find_way(scene, body_mm, from, to, &arena);
    const double length_mm = way.count > 0 ? way.length_mm : INFINITY;
    arena_finish(&arena);
    return length_mm;
}

static void expect_way(const struct scene *scene, struct walk_place from, struct walk_place to,
        double length_mm, const struct point *corners, size_t corner_count) {
    struct arena arena;
    const struct way way = find_way(scene, 0, from, to, &arena);
    if (way.count != corner_count + 2 || fabs(way.length_mm - length_mm) > 0.001) {
        fail_msg("%.6f mm over %zu stops, not %.6f over %zu", way.length_mm, way.count, length_mm,
                corner_count + 2);
    }
    for (size_t i = 0; i < corner_count; i++) {
        assert_true(point_equal(way.stops[i + 1].at, corners[i]));
    }
    arena_finish(&arena);
}

/* Lengths worked out by hand; a unit of the figures is a metre. The outline of P4 is the general example of the
 * Computational Geometry Algorithms Library's manual (2D Visibility). */
static void worked_ways_are_found(void **unused) {
    (void)unused;
    struct scene block = {.count = 0};
    add_box(&block, 4000, -1000, 2000, 2000);
    struct arena arena;
    const struct way round = find_way(&block, 0, place_at(0, 0), place_at(10000, 0), &arena);
    assert_true(fabs(round.length_mm - 1000 * (2 * sqrt(17) + 2)) < 1e-6);
    assert_int_equal(round.count, 4);
    arena_finish(&arena);

    static const struct point L_ROOM[] = {
            {0, 0}, {10000, 0}, {10000, 4000}, {4000, 4000}, {4000, 10000}, {0, 10000}};
    struct scene l_room = {.count = 0};
    add_ring(&l_room, L_ROOM, 6);
    expect_way(&l_room, place_at(8000, 2000), place_at(2000, 8000), 4000 * sqrt(5),
            (const struct point[]){{4000, 4000}}, 1);

    static const struct point GENERAL[] = {{1000, 2000}, {12000, 3000}, {19000, -2000},
            {12000, 6000}, {14000, 14000}, {9000, 5000}};
    static const struct point HOLES[2][3] = {{{8000, 3000}, {10000, 3000}, {8000, 4000}},
            {{10000, 6000}, {11000, 6000}, {11000, 7000}}};
    struct scene general = {.count = 0};
    add_ring(&general, GENERAL, 6);
    add_ring(&general, HOLES[0], 3);
    add_ring(&general, HOLES[1], 3);
    expect_way(&general, place_at(2000, 2200), place_at(13500, 13000), 16718.011,
            (const struct point[]){{9000, 5000}}, 1);
}

/* A wall's foot stands on another wall: a line along that wall must not slip past it. As a notch of the outline and
 * as a wall without thickness. */
static void no_way_slips_past_the_foot_of_a_wall(void **unused) {
    (void)unused;
    static const struct point BAFFLES[] = {{0, 0}, {3000, 0}, {3000, 8000}, {3200, 8000}, {3200, 0},
            {10000, 0}, {10000, 10000}, {6200, 10000}, {6200, 2000}, {6000, 2000}, {6000, 10000},
            {0, 10000}};
    static const struct point CORNERS[] = {{3000, 8000}, {3200, 8000}, {6000, 2000}};
    struct scene notched = {.count = 0};
    add_ring(&notched, BAFFLES, 12);
    const double length_mm = 17263.566;
    /* The last corner is passed on both sides of the baffle's end: (6, 2) and (6.2, 2). */
    struct arena arena;
    const struct way way =
            find_way(&notched, 0, place_at(1000, 1000), place_at(9000, 1000), &arena);
    assert_true(fabs(way.length_mm - length_mm) < 0.001);
    for (size_t i = 0; i < 3; i++) {
        assert_true(point_equal(way.stops[i + 1].at, CORNERS[i]));
    }
    arena_finish(&arena);

    struct scene thin = {.count = 0};
    add_box(&thin, 0, 0, 10000, 10000);
    thin.walls[thin.count++] = (struct segment){{3000, 0}, {3000, 8000}};
    struct walk_place from = place_at(1000, 0);
    struct walk_place to = place_at(5000, 0);
    from.into = (struct point){0, 1};
    to.into = (struct point){0, 1};
    expect_way(&thin, from, to, 4000 * sqrt(17), CORNERS, 1);
}

/* The referee: walls a thousandth of a millimetre thick on either side, so that those that touch overlap; all lines
 * between all their corners and the two places, in doubles; Dijkstra by looking for the least each time. */
static const double THICK_MM = 0.001;

struct dot {
    double x, y;
};

/* Whether the line has a piece inside of the thick wall. */
static bool cut_by(struct dot a, struct dot b, struct segment wall) {
    const double length = point_distance_mm(wall.from, wall.to);
    const double ux = (wall.to.x_mm - wall.from.x_mm) / length;
    const double uy = (wall.to.y_mm - wall.from.y_mm) / length;
    const double inner = THICK_MM * 0.999;
    const double along[2] = {(a.x - wall.from.x_mm) * ux + (a.y - wall.from.y_mm) * uy,
            (b.x - wall.from.x_mm) * ux + (b.y - wall.from.y_mm) * uy};
    const double across[2] = {(a.y - wall.from.y_mm) * ux - (a.x - wall.from.x_mm) * uy,
            (b.y - wall.from.y_mm) * ux - (b.x - wall.from.x_mm) * uy};
    const double limits[4] = {
            along[0] + inner, length + inner - along[0], across[0] + inner, inner - across[0]};
    const double rates[4] = {
            along[0] - along[1], along[1] - along[0], across[0] - across[1], across[1] - across[0]};
    double enters = 0;
    double leaves = 1;
    for (size_t i = 0; i < 4; i++) {
        if (fabs(rates[i]) < 1e-12) {
            if (limits[i] < 0) {
                return false;
            }
        } else if (rates[i] < 0) {
            enters = fmax(enters, limits[i] / rates[i]);
        } else {
            leaves = fmin(leaves, limits[i] / rates[i]);
        }
    }
    return leaves - enters > 1e-12;
}

static bool line_is_free(const struct scene *scene, struct dot a, struct dot b) {
    for (size_t i = 0; i < scene->count; i++) {
        if (cut_by(a, b, scene->walls[i])) {
            return false;
        }
    }
    return true;
}

enum { PLACES_MOST = 4 * 40 + 2 };

static size_t list_corners(const struct scene *scene, struct dot *ret_places) {
    size_t count = 0;
    for (size_t i = 0; i < scene->count; i++) {
        const struct segment wall = scene->walls[i];
        const double length = point_distance_mm(wall.from, wall.to);
        const double ux = (wall.to.x_mm - wall.from.x_mm) / length * THICK_MM;
        const double uy = (wall.to.y_mm - wall.from.y_mm) / length * THICK_MM;
        for (int k = 0; k < 4; k++) {
            const double end = k < 2 ? -1 : 1;
            const double side = k % 2 == 0 ? -1 : 1;
            const struct point at = k < 2 ? wall.from : wall.to;
            ret_places[count++] =
                    (struct dot){at.x_mm + end * ux - side * uy, at.y_mm + end * uy + side * ux};
        }
    }
    return count;
}

static double brute_length(const struct scene *scene, struct point from, struct point to) {
    struct dot places[PLACES_MOST];
    double lengths[PLACES_MOST];
    bool done[PLACES_MOST] = {false};
    size_t count = list_corners(scene, places);
    places[count++] = (struct dot){to.x_mm, to.y_mm};
    places[count++] = (struct dot){from.x_mm, from.y_mm};
    for (size_t i = 0; i < count; i++) {
        lengths[i] = i + 1 == count ? 0 : INFINITY;
    }
    for (;;) {
        size_t next = count;
        for (size_t i = 0; i < count; i++) {
            if (!done[i] && lengths[i] < (next < count ? lengths[next] : INFINITY)) {
                next = i;
            }
        }
        if (next == count || next == count - 2) {
            return lengths[count - 2];
        }
        done[next] = true;
        for (size_t i = 0; i < count; i++) {
            const double length = lengths[next] +
                    hypot(places[i].x - places[next].x, places[i].y - places[next].y);
            if (!done[i] && length < lengths[i] && line_is_free(scene, places[next], places[i])) {
                lengths[i] = length;
            }
        }
    }
}

/* Corners on a coarse board, so that much touches, crosses and lies in line, and what does not is far apart. */
static struct point draw_corner(uint64_t *seed) {
    const int32_t x = (int32_t)draw(seed, BOARD_MM / STEP_MM + 1) * STEP_MM;
    return (struct point){x, (int32_t)draw(seed, BOARD_MM / STEP_MM + 1) * STEP_MM};
}

static struct scene draw_scene(uint64_t *seed) {
    struct scene scene = {.count = 0};
    if (draw(seed, 3) > 0) {
        add_box(&scene, 0, 0, BOARD_MM, BOARD_MM);
    }
    for (size_t n = draw(seed, 5); n > 0; n--) {
        const struct point at = draw_corner(seed);
        add_box(&scene, at.x_mm, at.y_mm, STEP_MM * (1 + (int32_t)draw(seed, 5)),
                STEP_MM * (1 + (int32_t)draw(seed, 5)));
    }
    for (size_t n = draw(seed, 17); n > 0; n--) {
        struct segment wall = {draw_corner(seed), draw_corner(seed)};
        if (draw(seed, 2) > 0) {
            wall.to.x_mm = wall.from.x_mm; /* straight walls meet more often */
        } else if (draw(seed, 2) > 0) {
            wall.to.y_mm = wall.from.y_mm;
        }
        if (!point_equal(wall.from, wall.to)) {
            scene.walls[scene.count++] = wall;
        }
    }
    return scene;
}

static struct point draw_free(const struct scene *scene, uint64_t *seed) {
    for (;;) {
        const struct point at = {(int32_t)draw(seed, BOARD_MM), (int32_t)draw(seed, BOARD_MM)};
        bool on_wall = false;
        for (size_t i = 0; i < scene->count; i++) {
            const struct dot dot = {at.x_mm, at.y_mm};
            on_wall = on_wall ||
                    cut_by(dot, (struct dot){dot.x + 0.01, dot.y + 0.01}, scene->walls[i]);
        }
        if (!on_wall) {
            return at;
        }
    }
}

static void ways_are_those_of_all_lines(void **unused) {
    (void)unused;
    uint64_t seed = 21;
    size_t bent = 0;
    size_t none = 0;
    for (size_t round = 0; round < ROUNDS; round++) {
        const struct scene scene = draw_scene(&seed);
        const struct point from = draw_free(&scene, &seed);
        const struct point to = draw_free(&scene, &seed);
        const double ours = length_of(
                &scene, 0, (struct walk_place){.at = from}, (struct walk_place){.at = to});
        const double theirs = brute_length(&scene, from, to);
        if (isinf(ours) != isinf(theirs) || (!isinf(ours) && fabs(ours - theirs) > 0.1)) {
            fail_msg("round %zu: (%d, %d) to (%d, %d): %.4f mm, by all lines %.4f", round,
                    from.x_mm, from.y_mm, to.x_mm, to.y_mm, ours, theirs);
        }
        none += isinf(ours) ? 1 : 0;
        bent += !isinf(ours) && ours > point_distance_mm(from, to) + 1;
    }
    assert_in_range(bent, ROUNDS / 4, ROUNDS);
    assert_in_range(none, ROUNDS / 20, ROUNDS / 2);
}

enum { SIDE = 14, CELL_MM = 1000 };

/* Filled cells of a board; none touches another at a corner alone. */
static void draw_cells(bool filled[SIDE][SIDE], uint64_t *seed) {
    for (size_t x = 0; x < SIDE; x++) {
        for (size_t y = 0; y < SIDE; y++) {
            filled[x][y] = draw(seed, 10) < 3;
        }
    }
    for (bool again = true; again;) {
        again = false;
        for (size_t x = 0; x + 1 < SIDE; x++) {
            for (size_t y = 0; y + 1 < SIDE; y++) {
                bool *a = &filled[x][y];
                bool *b = &filled[x + 1][y];
                if (*a != *b && filled[x + 1][y + 1] == *a && filled[x][y + 1] == *b) {
                    *(*a ? b : a) = true;
                    again = true;
                }
            }
        }
    }
}

static bool is_free(bool filled[SIDE][SIDE], int x, int y) {
    return x >= 0 && y >= 0 && x < SIDE && y < SIDE && !filled[x][y];
}

/* A step from one corner of cells to another: along a side that has a free cell, or across a free cell. */
static bool may_step(bool filled[SIDE][SIDE], int x, int y, int dx, int dy) {
    if (dx != 0 && dy != 0) {
        return is_free(filled, dx > 0 ? x : x - 1, dy > 0 ? y : y - 1);
    }
    if (dx != 0) {
        return is_free(filled, dx > 0 ? x : x - 1, y) || is_free(filled, dx > 0 ? x : x - 1, y - 1);
    }
    return is_free(filled, x, dy > 0 ? y : y - 1) || is_free(filled, x - 1, dy > 0 ? y : y - 1);
}

/* A corner of cells, all four of them free: from others a walker may also slip between two filled cells. */
static struct point draw_cell_corner(bool filled[SIDE][SIDE], uint64_t *seed) {
    for (;;) {
        const int x = 1 + (int)draw(seed, SIDE - 1);
        const int y = 1 + (int)draw(seed, SIDE - 1);
        if (is_free(filled, x, y) && is_free(filled, x - 1, y) && is_free(filled, x, y - 1) &&
                is_free(filled, x - 1, y - 1)) {
            return (struct point){x, y};
        }
    }
}

/* The shortest way along sides and diagonals, by going over the board until nothing changes. */
static double grid_length(bool filled[SIDE][SIDE], struct point from, struct point to) {
    double lengths[SIDE + 1][SIDE + 1];
    for (size_t x = 0; x <= SIDE; x++) {
        for (size_t y = 0; y <= SIDE; y++) {
            lengths[x][y] = INFINITY;
        }
    }
    lengths[from.x_mm][from.y_mm] = 0;
    for (bool again = true; again;) {
        again = false;
        for (int x = 0; x <= SIDE; x++) {
            for (int y = 0; y <= SIDE; y++) {
                for (int k = 0; k < 9; k++) {
                    const int dx = k / 3 - 1;
                    const int dy = k % 3 - 1;
                    if (k == 4 || x + dx < 0 || y + dy < 0 || x + dx > SIDE || y + dy > SIDE ||
                            !may_step(filled, x, y, dx, dy)) {
                        continue;
                    }
                    const double length =
                            lengths[x][y] + CELL_MM * (dx != 0 && dy != 0 ? sqrt(2) : 1);
                    if (length < lengths[x + dx][y + dy] - 1e-9) {
                        lengths[x + dx][y + dy] = length;
                        again = true;
                    }
                }
            }
        }
    }
    return lengths[to.x_mm][to.y_mm];
}

/* A way along the sides and diagonals of free cells is at least the shortest way and at most 1 / cos(pi / 8) = 1.0824
 * times it (Nash 2012; Bailey, Tovey, Uras, Koenig and Nash 2015). */
static void ways_along_a_grid_are_longer_within_the_bound(void **unused) {
    (void)unused;
    uint64_t seed = 22;
    const double bound = 1 / cos(acos(-1) / 8);
    double worst = 1;
    size_t found = 0;
    for (size_t round = 0; round < ROUNDS; round++) {
        bool filled[SIDE][SIDE];
        struct scene scene = {.count = 0};
        draw_cells(filled, &seed);
        add_box(&scene, 0, 0, SIDE * CELL_MM, SIDE * CELL_MM);
        for (int32_t x = 0; x < SIDE; x++) {
            for (int32_t y = 0; y < SIDE && scene.count + 4 <= WALLS_MOST; y++) {
                if (filled[x][y]) {
                    add_box(&scene, x * CELL_MM, y * CELL_MM, CELL_MM, CELL_MM);
                }
            }
        }
        const struct point from = draw_cell_corner(filled, &seed);
        const struct point to = draw_cell_corner(filled, &seed);
        const double grid = grid_length(filled, from, to);
        const double ours = length_of(&scene, 0, place_at(from.x_mm * CELL_MM, from.y_mm * CELL_MM),
                place_at(to.x_mm * CELL_MM, to.y_mm * CELL_MM));
        if (isinf(grid)) {
            continue;
        }
        found++;
        if (ours > grid + 0.001 || grid > ours * bound + 0.001) {
            fail_msg("round %zu: %.3f mm, along the grid %.3f", round, ours, grid);
        }
        worst = ours > 0 && grid / ours > worst ? grid / ours : worst;
    }
    assert_in_range(found, ROUNDS / 2, ROUNDS);
    assert_true(worst > 1.07);
}

/* Rows of a published set of grid-path cases (Sturtevant 2012, 2D grids, arena map), as given there: from (1, 11) to
 * (1, 12) is 1, from (1, 13) to (4, 12) is 3.41421 along a grid; both lie on open floor. */
static void published_grid_rows_bound_our_ways(void **unused) {
    (void)unused;
    struct scene open = {.count = 0};
    add_box(&open, 0, 0, 49000, 49000);
    const double straight = length_of(&open, 0, place_at(1000, 11000), place_at(1000, 12000));
    const double slant = length_of(&open, 0, place_at(1000, 13000), place_at(4000, 12000));
    assert_true(fabs(straight - 1000) < 1e-9);
    assert_true(slant <= 3414.21 && 3414.21 <= slant * 1.0824);
}

static struct point same(struct point a) {
    return a;
}

static struct scene moved(const struct scene *scene, struct point (*move)(struct point)) {
    struct scene other = {.count = scene->count};
    for (size_t i = 0; i < scene->count; i++) {
        other.walls[i] = (struct segment){move(scene->walls[i].from), move(scene->walls[i].to)};
    }
    return other;
}

/* Moving the drawing, walking back, and a wall more: what may change and what may not; with and without a body. */
static void moves_change_nothing_and_walls_never_help(void **unused) {
    (void)unused;
    struct point (*const MOVES[])(struct point) = {same, point_quarter_turn, point_mirror};
    uint64_t seed = 23;
    for (size_t round = 0; round < ROUNDS; round++) {
        struct scene scene = draw_scene(&seed);
        const struct point from = draw_free(&scene, &seed);
        const struct point to = draw_free(&scene, &seed);
        const int32_t body_mm = round % 2 == 0 ? 0 : 300;
        const double length = length_of(
                &scene, body_mm, (struct walk_place){.at = from}, (struct walk_place){.at = to});
        for (size_t i = 0; i < 3; i++) {
            const struct scene other = moved(&scene, MOVES[i]);
            const double moved_length =
                    length_of(&other, body_mm, (struct walk_place){.at = MOVES[i](to)},
                            (struct walk_place){.at = MOVES[i](from)});
            /* Without a body. With one, a place by a wall may be reached from a spot on its other side. */
            if (body_mm == 0 && isinf(length)
                            ? !isinf(moved_length)
                            : body_mm == 0 && fabs(length - moved_length) > 1e-6) {
                fail_msg("round %zu, move %zu: %.6f and %.6f", round, i, length, moved_length);
            }
        }
        const double slim = length_of(
                &scene, 0, (struct walk_place){.at = from}, (struct walk_place){.at = to});
        assert_true(0 != isinf(length) || length > slim - 1e-6);
        scene.walls[scene.count++] = (struct segment){draw_corner(&seed), draw_corner(&seed)};
        const double more = length_of(
                &scene, 0, (struct walk_place){.at = from}, (struct walk_place){.at = to});
        assert_true(0 != isinf(more) || more > slim - 1e-6);
    }
}

/* Round the end of a wall, for a round body of radius r: two tangents and the arc between them. */
static double round_the_end(double r) {
    const double far = hypot(3000, 1100);
    const double turn = 2 * acos(-1) - 2 * atan2(3000, 1100) - 2 * acos(r / far);
    return 2 * sqrt(far * far - r * r) + r * turn;
}

static void a_body_needs_its_width(void **unused) {
    (void)unused;
    struct scene end = {.count = 1, .walls = {{{0, 0}, {0, -20000}}}};
    const double way = length_of(&end, 600, place_at(-3000, -1100), place_at(3000, -1100));
    assert_true(fabs(round_the_end(0) -
                        length_of(&end, 0, place_at(-3000, -1100), place_at(3000, -1100))) < 1e-6);
    /* Eight corners about a circle of 300 mm, within one of 300 / cos(22.5 degrees). */
    assert_true(way > round_the_end(299.5) && way < round_the_end(300.5 * 1.0824));

    struct scene rooms = {.count = 0};
    add_box(&rooms, 0, 0, 8000, 4000);
    rooms.walls[rooms.count++] = (struct segment){{4000, 0}, {4000, 1600}};
    rooms.walls[rooms.count++] = (struct segment){{4000, 2400}, {4000, 4000}};
    const struct walk_place from = place_at(1000, 600);
    const struct walk_place to = place_at(7000, 600);
    assert_true(isfinite(length_of(&rooms, 600, from, to)));
    assert_true(isfinite(length_of(&rooms, 798, from, to)));
    assert_true(!isfinite(length_of(&rooms, 800, from, to)));
    /* A gap of a millimetre, as a wall's end rounded to whole ones leaves it. */
    rooms.walls[rooms.count++] = (struct segment){{4000, 1600}, {4000, 2399}};
    assert_true(isfinite(length_of(&rooms, 0, from, to)));
    assert_true(!isfinite(length_of(&rooms, 300, from, to)));
}

/* What hangs on a wall is used from the side it looks into; the spot in front is reached with a step. */
static void a_keypad_is_used_from_its_side(void **unused) {
    (void)unused;
    struct scene rooms = {.count = 0};
    add_box(&rooms, 0, 0, 8000, 4000);
    rooms.walls[rooms.count++] = (struct segment){{4000, 0}, {4000, 3000}};
    const struct walk_place from = place_at(1000, 1000);
    struct walk_place keypad = place_at(4000, 1000);
    assert_true(fabs(length_of(&rooms, 0, from, keypad) - 3000) < 1e-6);
    keypad.into = (struct point){-1, 0};
    assert_true(fabs(length_of(&rooms, 0, from, keypad) - 3000) < 1e-6);
    assert_true(fabs(length_of(&rooms, 0, keypad, from) - 3000) < 1e-6);
    assert_true(fabs(length_of(&rooms, 600, from, keypad) - 3000) < 1e-6);
    keypad.into = (struct point){1, 0};
    const double round = hypot(3000, 2000) + 2000;
    assert_true(fabs(length_of(&rooms, 0, from, keypad) - round) < 1e-6);
    assert_true(fabs(length_of(&rooms, 0, keypad, from) - round) < 1e-6);
    const double wide = length_of(&rooms, 600, from, keypad);
    assert_true(wide > round && wide < round + 300 * 4);
}

/* In a corner too narrow for the body the spot amid the free ones is stood on, in a mirror and turned as well. */
static void a_tight_place_is_used_alike_however_the_drawing_lies(void **unused) {
    (void)unused;
    struct scene room = {.count = 0};
    struct point from = {3000, 1000};
    struct point to = {100, 300};
    add_box(&room, 0, 0, 4000, 4000);
    const double length =
            length_of(&room, 450, (struct walk_place){.at = from}, (struct walk_place){.at = to});
    assert_true(length > point_distance_mm(from, to));
    for (int i = 0; i < 8; i++) {
        struct point (*const move)(struct point) = i == 3 ? point_mirror : point_quarter_turn;
        room = moved(&room, move);
        from = move(from);
        to = move(to);
        const double other = length_of(
                &room, 450, (struct walk_place){.at = from}, (struct walk_place){.at = to});
        if (fabs(other - length) > 1e-6) {
            fail_msg("move %d: %.6f, not %.6f", i, other, length);
        }
    }
}

/* Two storeys, a stair of 5 m; many places at once. */
static void stairs_join_storeys(void **unused) {
    (void)unused;
    struct scene scenes[2] = {{.count = 0}, {.count = 0}};
    add_box(&scenes[0], 0, 0, 8000, 4000);
    add_box(&scenes[1], 0, 0, 8000, 4000);
    scenes[1].walls[scenes[1].count++] = (struct segment){{4000, 0}, {4000, 3000}};
    const struct walk_storey storeys[2] = {
            {scenes[0].walls, scenes[0].count}, {scenes[1].walls, scenes[1].count}};
    const struct walk_link stair = {{0, {7000, 1000}, {0, 0}}, {1, {5000, 1000}, {0, 0}}, 5000};
    const struct walk_plan plan = {storeys, 2, &stair, 1, 0};
    const struct walk_place targets[] = {{1, {3000, 1000}, {0, 0}}, {0, {1000, 3000}, {0, 0}},
            {1, {5000, 1000}, {0, 0}}, {0, {1000, 1000}, {0, 0}}, {0, {9000, 1000}, {0, 0}}};
    struct arena arena;
    struct walk *walk;
    struct way ways[5];
    arena_init(&arena, PAGES, 0);
    assert_true(walk_make(&plan, &arena, &walk, NULL).good);
    assert_int_equal(walk_corner_count(walk), 4 + 4 + 1 + 2);
    assert_true(walk_find(walk, targets[3], targets, 5, &arena, ways, NULL).good);
    assert_true(fabs(ways[0].length_mm - (6000 + 5000 + 2 * hypot(1000, 2000))) < 1e-6);
    assert_int_equal(ways[0].count, 5);
    assert_int_equal(ways[0].stops[1].storey, 0);
    assert_int_equal(ways[0].stops[2].storey, 1);
    assert_true(point_equal(ways[0].stops[3].at, (struct point){4000, 3000}));
    assert_true(fabs(ways[1].length_mm - 2000) < 1e-6);
    assert_true(fabs(ways[2].length_mm - 11000) < 1e-6);
    assert_true(ways[3].count > 0 && ways[3].length_mm < 1e-9);
    assert_int_equal(ways[4].count, 0);
    /* And back down, with what the walk has learnt. */
    assert_true(walk_find(walk, targets[0], &targets[3], 1, &arena, ways, NULL).good);
    assert_true(fabs(ways[0].length_mm - (6000 + 5000 + 2 * hypot(1000, 2000))) < 1e-6);
    arena_finish(&arena);
}

/* Every length is that of its legs, and what a walk has learnt changes no later answer. */
static void many_ways_at_once_are_the_single_ones(void **unused) {
    (void)unused;
    uint64_t seed = 24;
    for (size_t round = 0; round < ROUNDS / 5; round++) {
        const struct scene scene = draw_scene(&seed);
        const struct walk_storey storey = {scene.walls, scene.count};
        const struct walk_plan plan = {.storeys = &storey, .storey_count = 1};
        struct walk_place places[6];
        struct arena arena;
        struct walk *walk;
        arena_init(&arena, PAGES, 0);
        assert_true(walk_make(&plan, &arena, &walk, NULL).good);
        for (size_t i = 0; i < 6; i++) {
            places[i] = (struct walk_place){.at = draw_free(&scene, &seed)};
        }
        for (size_t i = 0; i < 6; i++) {
            struct way ways[6];
            assert_true(walk_find(walk, places[i], places, 6, &arena, ways, NULL).good);
            for (size_t k = 0; k < 6; k++) {
                const double single = length_of(&scene, 0, places[i], places[k]);
                assert_true(ways[k].count > 0 ? fabs(single - ways[k].length_mm) < 1e-6
                                              : !isfinite(single));
                for (size_t stop = 1; stop < ways[k].count; stop++) {
                    const struct way_stop *stops = ways[k].stops;
                    assert_true(
                            fabs(stops[stop].after_mm - stops[stop - 1].after_mm -
                                    point_distance_mm(stops[stop].at, stops[stop - 1].at)) < 1e-6);
                }
            }
        }
        arena_finish(&arena);
    }
}

static void what_it_cannot_do_it_says(void **unused) {
    (void)unused;
    const struct segment far = {{0, 0}, {PLAN_REACH_MM + 1, 0}};
    const struct walk_storey fine = {NULL, 0};
    const struct walk_storey wild = {&far, 1};
    const struct walk_storey many = {&far, WALK_WALLS_MOST + 1};
    const struct walk_link nowhere = {{0, {0, 0}, {0, 0}}, {1, {0, 0}, {0, 0}}, 1};
    const struct walk_link short_stair = {{0, {0, 0}, {0, 0}}, {0, {0, 9}, {0, 0}}, -1};
    const struct {
        struct walk_plan plan;
        enum problem_kind kind;
        const char *word;
    } WRONG[] = {
            {{&wild, 1, NULL, 0, 0}, PROBLEM_BAD_VALUE, "within"},
            {{&many, 1, NULL, 0, 0}, PROBLEM_LIMIT, "walls"},
            {{&fine, 1, NULL, 0, -1}, PROBLEM_BAD_VALUE, "wide"},
            {{&fine, 1, NULL, 0, BODY_MOST_MM + 1}, PROBLEM_BAD_VALUE, "wide"},
            {{&fine, WALK_STOREYS_MOST + 1, NULL, 0, 0}, PROBLEM_LIMIT, "storeys"},
            {{&fine, 1, &nowhere, WALK_LINKS_MOST + 1, 0}, PROBLEM_LIMIT, "stairs"},
            {{&fine, 1, &nowhere, 1, 0}, PROBLEM_BAD_VALUE, "storey 1"},
            {{&fine, 1, &short_stair, 1, 0}, PROBLEM_BAD_VALUE, "long"},
    };
    for (size_t i = 0; i < sizeof WRONG / sizeof *WRONG; i++) {
        struct arena arena;
        struct problem problem = {0};
        struct walk *walk = NULL;
        arena_init(&arena, PAGES, 0);
        assert_false(walk_make(&WRONG[i].plan, &arena, &walk, &problem).good);
        assert_int_equal(problem.kind, WRONG[i].kind);
        assert_non_null(strstr(problem.text, WRONG[i].word));
        assert_null(walk);
        arena_finish(&arena);
    }
}

static void memory_may_end_anywhere(void **unused) {
    (void)unused;
    struct scene scene = {.count = 0};
    uint64_t seed = 25;
    while (scene.count < 20) {
        scene = draw_scene(&seed);
    }
    const struct walk_storey storey = {scene.walls, scene.count};
    const struct walk_plan plan = {.storeys = &storey, .storey_count = 1, .body_mm = 300};
    size_t refused = 0;
    bool good = false;
    for (size_t limit = 1; !good; limit += limit < 20000 ? 512 : 8192) {
        struct arena arena;
        struct problem problem = {0};
        struct walk *walk;
        struct way way = {.length_mm = -1};
        const struct walk_place to = place_at(BOARD_MM + 1000, BOARD_MM + 1000);
        arena_init(&arena, PAGES, limit);
        good = walk_make(&plan, &arena, &walk, &problem).good &&
                walk_find(walk, place_at(-1000, -1000), &to, 1, &arena, &way, &problem).good;
        arena_finish(&arena);
        assert_true(good || problem.kind == PROBLEM_MEMORY);
        assert_true(good || way.length_mm < 0);
        refused += !good;
    }
    assert_in_range(refused, 5, 10000);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(worked_ways_are_found),
            cmocka_unit_test(no_way_slips_past_the_foot_of_a_wall),
            cmocka_unit_test(ways_are_those_of_all_lines),
            cmocka_unit_test(ways_along_a_grid_are_longer_within_the_bound),
            cmocka_unit_test(published_grid_rows_bound_our_ways),
            cmocka_unit_test(moves_change_nothing_and_walls_never_help),
            cmocka_unit_test(a_body_needs_its_width),
            cmocka_unit_test(a_keypad_is_used_from_its_side),
            cmocka_unit_test(a_tight_place_is_used_alike_however_the_drawing_lies),
            cmocka_unit_test(stairs_join_storeys),
            cmocka_unit_test(many_ways_at_once_are_the_single_ones),
            cmocka_unit_test(what_it_cannot_do_it_says),
            cmocka_unit_test(memory_may_end_anywhere),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
