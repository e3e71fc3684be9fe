/* Undo and redo as a row of texts. */
#include "web/history.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

static void add(struct history *history, const char *text) {
    char says[32];
    (void)snprintf(says, sizeof says, "%s done", text);
    assert_true(history_add(history, text_of(text), text_of(says), NULL).good);
}

static void back_and_forth(void **state) {
    (void)state;
    struct history history = {0};
    assert_null(history_next(&history, false).start);
    add(&history, "one");
    assert_int_equal(history_steps(&history, false), 0);
    add(&history, "two");
    add(&history, "three");
    assert_true(text_is(history_next(&history, false), "two"));
    assert_true(text_is(history_says(&history, false), "three done"));
    assert_int_equal(history_says(&history, true).length, 0);
    history_step(&history, false);
    assert_true(text_is(history_next(&history, true), "three"));
    assert_true(text_is(history_says(&history, true), "three done"));
    assert_true(text_is(history_says(&history, false), "two done"));
    history_step(&history, false);
    assert_int_equal(history_steps(&history, true), 2);
    assert_null(history_next(&history, false).start);
    history_step(&history, false);
    assert_int_equal(history.at, 0);
    history_finish(&history);
}

static void a_new_edit_drops_what_was_taken_back(void **state) {
    (void)state;
    struct history history = {0};
    add(&history, "one");
    add(&history, "two");
    history_step(&history, false);
    add(&history, "other");
    assert_int_equal(history_steps(&history, true), 0);
    assert_true(text_is(history_next(&history, false), "one"));
    history_finish(&history);
}

static void the_oldest_makes_room(void **state) {
    (void)state;
    struct history history = {0};
    char text[16];
    for (int i = 0; i < HISTORY_MOST + 50; i++) {
        (void)snprintf(text, sizeof text, "%d", i);
        add(&history, text);
    }
    assert_int_equal(history.count, HISTORY_MOST);
    assert_true(text_is(history.texts[0], "50"));
    assert_true(text_is(history.says[0], "50 done"));
    assert_int_equal(history_steps(&history, false), HISTORY_MOST - 1);
    history_finish(&history);
}

static void no_more_bytes_than_are_allowed(void **state) {
    (void)state;
    struct history history = {0};
    const size_t length = HISTORY_BYTES_MOST / 8;
    char *large = calloc(1, length);
    assert_non_null(large);
    for (int i = 0; i < 20; i++) {
        large[0] = (char)i;
        assert_true(
                history_add(&history, (struct text){large, length}, (struct text){0}, NULL).good);
        assert_true(history.bytes <= HISTORY_BYTES_MOST);
    }
    assert_int_equal(history.count, 8);
    assert_int_equal(history.texts[history.at].start[0], 19);
    free(large);
    history_finish(&history);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(back_and_forth),
            cmocka_unit_test(a_new_edit_drops_what_was_taken_back),
            cmocka_unit_test(the_oldest_makes_room),
            cmocka_unit_test(no_more_bytes_than_are_allowed),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
