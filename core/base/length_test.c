#include "base/length.h"

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

static const struct pages pages = {.get = get_page, .give = give_page};

static void assert_length(const char *source, int32_t length_mm) {
    int32_t read_mm = -1;
    struct problem problem = {0};
    if (!length_read(text_of(source), &read_mm, &problem).good) {
        fail_msg("%s is refused: %s", source, problem.text);
    }
    assert_int_equal(read_mm, length_mm);
}

static void assert_refused(const char *source, const char *words) {
    int32_t read_mm = -1;
    struct problem problem = {0};
    assert_false(length_read(text_of(source), &read_mm, &problem).good);
    assert_int_equal(read_mm, -1);
    if (strstr(problem.text, words) == NULL) {
        fail_msg("%s: %s", source, problem.text);
    }
}

static void metric(void **state) {
    (void)state;
    assert_length("4.2 m", 4200);
    assert_length("850 mm", 850);
    assert_length("85cm", 850);
    assert_length("0 m", 0);
    assert_length("2.483 m", 2483);
    assert_length("10000 m", LENGTH_MOST_MM);
    assert_refused("4.2", "has no unit; write a length: mm, cm or m, for example 4.2 m");
    assert_refused("850", "has no unit; write a length: mm, cm or m, for example 850 mm");
    assert_refused("12.5 mm", "finer than a millimetre");
    assert_refused("4,2 m", "with a point");
    assert_refused("2..3 m", "from-to");
    assert_refused("10000.001 m", "longer than 10 km");
    assert_refused("30 s", "a length is expected");
    assert_refused("-1 m", "negative");
    assert_refused("", "nothing is written");
}

/* An inch is 25.4 mm exactly, a foot twelve of them: 0.3048 m. Source: international yard and pound agreement, 1959. */
static void feet_and_inches(void **state) {
    (void)state;
    assert_length("10 ft", 3048);
    assert_length("13 ft 9 in", 4191);
    assert_length("1 in", 25);     /* 25.4 */
    assert_length("0.5 in", 13);   /* 12.7 */
    assert_length("9.5 ft", 2896); /* 2895.6 */
    assert_length("5 in", 127);
    assert_refused("9 ft 12 in", "");
    assert_refused("9.5 ft 3 in", "");
    assert_refused("9 ft 3", "");
    assert_refused("9 in 3 ft", "");
    assert_refused("33000 ft", "longer than 10 km");
}

static void assert_pair(const char *source, int32_t right_mm, int32_t back_mm) {
    int32_t right = 77;
    int32_t back = 77;
    struct problem problem = {0};
    if (!length_read_pair(text_of(source), &right, &back, &problem).good) {
        fail_msg("%s is refused: %s", source, problem.text);
    }
    assert_int_equal(right, right_mm);
    assert_int_equal(back, back_mm);
}

static void assert_no_pair(const char *source) {
    int32_t right = 77;
    int32_t back = 77;
    struct problem problem = {0};
    assert_false(length_read_pair(text_of(source), &right, &back, &problem).good);
    assert_int_equal(right, 77);
    assert_int_equal(back, 77);
    assert_true(problem.text[0] != '\0');
}

static void pairs(void **state) {
    (void)state;
    assert_pair("4.2 x 3.1 m", 4200, 3100);
    assert_pair("4.2x3.1m", 4200, 3100);
    assert_pair("420 cm x 3.1 m", 4200, 3100);
    assert_pair("-1.5 x 0 m", -1500, 0);
    assert_pair(" 0 x -250 mm ", 0, -250);
    assert_pair("13 ft 9 in x 10 ft", 4191, 3048);
    assert_pair("9 x 10 ft", 2743, 3048);
    assert_no_pair("4.2 m");
    assert_no_pair("4.2 x 3.1");
    assert_no_pair("4.2 m x 3.1");
    assert_no_pair("4.2 x 3.1 x 2 m");
    assert_no_pair("9 x 10 ft 3 in"); /* nine of which? */
    assert_no_pair("x");
    assert_no_pair("");
    assert_no_pair("--1 x 2 m");
}

static void printed_lengths_read_back(void **state) {
    (void)state;
    static const int32_t lengths[] = {
            0, 1, 25, 850, 999, 1000, 1001, 1010, 1100, 2483, 100000, LENGTH_MOST_MM};
    for (size_t i = 0; i < sizeof lengths / sizeof lengths[0]; i++) {
        struct arena arena;
        struct text_builder builder;
        struct problem problem = {0};
        int32_t right = 0;
        int32_t back = 0;
        arena_init(&arena, pages, 0);
        text_builder_init(&builder, &arena);
        length_add(&builder, lengths[i]);
        assert_true(length_read(text_built(&builder), &right, &problem).good);
        assert_int_equal(right, lengths[i]);
        text_builder_init(&builder, &arena);
        length_add_pair(&builder, -lengths[i], lengths[i]);
        assert_true(length_read_pair(text_built(&builder), &right, &back, &problem).good);
        assert_int_equal(right, -lengths[i]);
        assert_int_equal(back, lengths[i]);
        arena_finish(&arena);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(metric),
            cmocka_unit_test(feet_and_inches),
            cmocka_unit_test(pairs),
            cmocka_unit_test(printed_lengths_read_back),
    };
    return cmocka_run_group_tests_name("length", tests, NULL, NULL);
}
