/* A picture keeps what it is given, in its order, and knows how far it reaches. */
#include "plan/picture.h"

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

static void it_keeps_copies_in_order(void **unused) {
    (void)unused;
    enum { MANY = 300 }; /* more than it has room for at first */
    struct arena arena;
    struct picture picture;
    arena_init(&arena, PAGES, 0);
    picture_init(&picture, &arena, 50);
    for (int32_t i = 0; i < MANY; i++) {
        struct point points[3] = {{i, 0}, {i + 10, 0}, {i, -i}};
        picture_add(&picture, PICTURE_FLOOR, PICTURE_AREA, points, 3, i);
        points[0].x_mm = -999; /* the picture has its own */
    }
    assert_int_equal(picture.count, MANY);
    for (int32_t i = 0; i < MANY; i++) {
        assert_int_equal(picture.shapes[i].points[0].x_mm, i);
        assert_int_equal(picture.shapes[i].width_mm, i);
        assert_int_equal(picture.shapes[i].count, 3);
    }
    assert_true(picture.low.x_mm == 0 && picture.low.y_mm == -(MANY - 1));
    assert_true(picture.high.x_mm == MANY - 1 + 10 && picture.high.y_mm == 0);
    arena_finish(&arena);
}

static void rings_stay_apart(void **unused) {
    (void)unused;
    struct arena arena;
    struct picture picture;
    struct point points[7] = {{0, 0}, {9, 0}, {9, 9}, {0, 9}, {2, 2}, {2, 4}, {4, 4}};
    size_t rings[2] = {4, 3};
    arena_init(&arena, PAGES, 0);
    picture_init(&picture, &arena, 50);
    picture_add_rings(&picture, PICTURE_BLIND, points, rings, 2);
    rings[0] = 99;
    points[4].x_mm = 99;
    assert_int_equal(picture.count, 1);
    const struct picture_shape *shape = &picture.shapes[0];
    assert_int_equal(shape->form, PICTURE_RINGS);
    assert_int_equal(shape->ring_count, 2);
    assert_true(shape->rings[0] == 4 && shape->rings[1] == 3 && shape->count == 7);
    assert_int_equal(shape->points[4].x_mm, 2);
    arena_finish(&arena);
}

/* Ten letters of 100 mm are taken as 600 mm wide. */
static void text_reaches_as_far_as_its_anchor_says(void **unused) {
    static const struct {
        enum picture_anchor anchor;
        int32_t left_mm;
        int32_t right_mm;
    } rows[] = {{PICTURE_BEGIN, 1000, 1600}, {PICTURE_MIDDLE, 700, 1300}, {PICTURE_END, 400, 1000}};
    (void)unused;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct arena arena;
        struct picture picture;
        arena_init(&arena, PAGES, 0);
        picture_init(&picture, &arena, 50);
        picture_add_text(&picture, PICTURE_SMALL, (struct point){1000, 0}, rows[i].anchor, 100,
                text_of("ten letter"));
        assert_int_equal(picture.low.x_mm, rows[i].left_mm);
        assert_int_equal(picture.high.x_mm, rows[i].right_mm);
        assert_true(picture.low.y_mm == -50 && picture.high.y_mm == 50);
        arena_finish(&arena);
    }
}

static void paper_is_to_scale(void **unused) {
    (void)unused;
    const struct picture picture = {.scale = 100};
    assert_int_equal(picture_paper(&picture, 25), 250); /* 2.5 mm at 1:100 */
}

static void memory_may_end(void **unused) {
    (void)unused;
    struct arena arena;
    struct picture picture;
    static const struct point points[2] = {{0, 0}, {1, 1}};
    static const size_t rings[1] = {2};
    arena_init(&arena, PAGES, 1);
    picture_init(&picture, &arena, 50);
    picture_add(&picture, PICTURE_FLOOR, PICTURE_LINE, points, 2, 0);
    picture_add_rings(&picture, PICTURE_BLIND, points, rings, 1);
    picture_add_text(&picture, PICTURE_SMALL, points[0], PICTURE_END, 100, text_of("a"));
    assert_int_equal(picture.count, 0);
    assert_true(arena.refused);
    arena_finish(&arena);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(it_keeps_copies_in_order),
            cmocka_unit_test(rings_stay_apart),
            cmocka_unit_test(text_reaches_as_far_as_its_anchor_says),
            cmocka_unit_test(paper_is_to_scale),
            cmocka_unit_test(memory_may_end),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
