/* The grid held against asking every wall: none that a line or a box meets may be missed, also out of its bounds. */
#include "plan/grid.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

enum { WALLS_MOST = 120, ROUNDS = 120, LINES = 60 };

static void *get_page(void *context, size_t size) {
    (void)context;
    return malloc(size);
}

static void give_page(void *context, void *block, size_t size) {
    (void)context;
    (void)size;
    free(block);
}

static uint32_t draw(uint64_t *seed, uint32_t below) {
    *seed = *seed * UINT64_C(6364136223846793005) + UINT64_C(1442695040888963407); /* Knuth, MMIX */
    return (uint32_t)((*seed >> 33) % below);
}

static struct point draw_point(uint64_t *seed, uint32_t side) {
    const int32_t x = (int32_t)draw(seed, 2 * side + 1) - (int32_t)side;
    return (struct point){x, (int32_t)draw(seed, 2 * side + 1) - (int32_t)side};
}

struct visited {
    bool walls[WALLS_MOST];
    size_t calls;
    size_t stop_after;
};

static bool visit(void *context, uint32_t wall) {
    struct visited *visited = context;
    visited->walls[wall] = true;
    return ++visited->calls != visited->stop_after;
}

static bool in_box(struct segment wall, struct point low, struct point high) {
    const struct point corners[] = {low, {high.x_mm, low.y_mm}, high, {low.x_mm, high.y_mm}};
    bool meets = wall.from.x_mm >= low.x_mm && wall.from.x_mm <= high.x_mm &&
            wall.from.y_mm >= low.y_mm && wall.from.y_mm <= high.y_mm;
    for (size_t i = 0; i < 4; i++) {
        meets = meets || segment_meets(wall, outline_edge((struct outline){corners, 4}, i));
    }
    return meets;
}

static void no_wall_is_missed(void **unused) {
    (void)unused;
    uint64_t seed = 41;
    size_t visits = 0;
    size_t asked = 0;
    for (size_t round = 0; round < ROUNDS; round++) {
        static const uint32_t SIDES[] = {20, 3000, 10000, PLAN_REACH_MM};
        struct segment walls[WALLS_MOST];
        const size_t count = draw(&seed, WALLS_MOST + 1);
        const uint32_t side = SIDES[round % 4];
        for (size_t i = 0; i < count; i++) {
            walls[i].from = draw_point(&seed, side);
            walls[i].to = walls[i].from; /* a post */
            if (draw(&seed, 2) > 0) {
                walls[i].to = draw_point(&seed, side);
            } else if (draw(&seed, 2) > 0) {
                walls[i].to.y_mm = (int32_t)draw(&seed, side);
            }
        }
        struct arena arena;
        struct grid grid;
        arena_init(&arena, (struct pages){get_page, give_page, NULL}, 0);
        assert_true(grid_make(walls, count, &arena, &grid, NULL).good);
        for (size_t k = 0; k < LINES; k++) {
            const uint32_t reach = 2 * side < PLAN_REACH_MM ? 2 * side : PLAN_REACH_MM;
            const struct segment line = {draw_point(&seed, reach), draw_point(&seed, reach)};
            struct visited along = {.calls = 0};
            assert_true(grid_along(&grid, line, visit, &along));
            struct visited box = {.calls = 0};
            const struct point high = {line.from.x_mm + (int32_t)draw(&seed, side),
                    line.from.y_mm + (int32_t)draw(&seed, side)};
            assert_true(grid_in_box(&grid, line.from, high, visit, &box));
            for (size_t i = 0; i < count; i++) {
                assert_true(along.walls[i] || !segment_meets(walls[i], line));
                assert_true(box.walls[i] || !in_box(walls[i], line.from, high));
                visits += along.walls[i];
            }
            asked += count;
        }
        arena_finish(&arena);
    }
    /* And it is of use: less than half of the walls are asked, long ones among them. */
    assert_true(visits < asked / 2);
}

static void a_visit_ends_when_told(void **unused) {
    (void)unused;
    const struct segment walls[] = {{{0, 0}, {900, 0}}, {{0, 10}, {900, 10}}, {{0, 20}, {900, 20}}};
    struct arena arena;
    struct grid grid;
    arena_init(&arena, (struct pages){get_page, give_page, NULL}, 0);
    assert_true(grid_make(walls, 3, &arena, &grid, NULL).good);
    struct visited visited = {.stop_after = 2};
    assert_false(grid_along(&grid, (struct segment){{0, 0}, {900, 20}}, visit, &visited));
    assert_int_equal(visited.calls, 2);
    visited.calls = 0;
    assert_false(
            grid_in_box(&grid, (struct point){0, 0}, (struct point){900, 20}, visit, &visited));
    assert_int_equal(visited.calls, 2);
    arena_finish(&arena);
}

static void memory_may_end_anywhere(void **unused) {
    (void)unused;
    const struct segment walls[] = {{{0, 0}, {9000, 4000}}, {{0, 0}, {4000, 9000}}};
    for (size_t limit = 1; limit < 64; limit += 8) {
        struct arena arena;
        struct grid grid;
        struct problem problem = {0};
        arena_init(&arena, (struct pages){get_page, give_page, NULL}, limit);
        assert_false(grid_make(walls, 2, &arena, &grid, &problem).good);
        assert_int_equal(problem.kind, PROBLEM_MEMORY);
        arena_finish(&arena);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(no_wall_is_missed),
            cmocka_unit_test(a_visit_ends_when_told),
            cmocka_unit_test(memory_may_end_anywhere),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
