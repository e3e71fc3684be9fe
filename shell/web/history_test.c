/* Undo and redo: each page its own steps, what others did stays. */
#include "web/history.h"

#include "host/host.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

static void add_by(struct history *history, const char *by, const char *text) {
    char says[64];
    (void)snprintf(says, sizeof says, "%s done", text);
    const struct history_note note = {.by = text_of(by), .says = text_of(says)};
    assert_true(history_add(history, text_of(text), &note, NULL).good);
}

static void add(struct history *history, const char *text) {
    add_by(history, "", text);
}

/** "": refused. */
static void turn_by(struct history *history, const char *by, bool forward, const char *wanted) {
    struct arena arena;
    struct text text = {0};
    struct problem problem = {0};
    arena_init(&arena, host_pages(), 0);
    const bool done = history_turn(history, text_of(by), forward, &arena, &text, &problem).good;
    assert_int_equal(done, wanted[0] != '\0');
    if (done) {
        assert_true(text_is(text, wanted));
        assert_true(history_turned(history, text_of(by), forward, text, NULL).good);
        assert_true(text_is(history_present(history), wanted));
    }
    arena_finish(&arena);
}

static void turn(struct history *history, bool forward, const char *wanted) {
    turn_by(history, "", forward, wanted);
}

static size_t steps(const struct history *history, const char *by, bool forward) {
    return history_steps(history, text_of(by), forward);
}

static void back_and_forth(void **state) {
    (void)state;
    struct history history = {0};
    turn(&history, false, "");
    add(&history, "one");
    assert_int_equal(steps(&history, "", false), 0); /* as it was found */
    add(&history, "two");
    add(&history, "three");
    assert_true(text_is(history_next(&history, (struct text){0}, false)->note.says, "three done"));
    assert_null(history_next(&history, (struct text){0}, true));
    turn(&history, false, "two");
    assert_true(text_is(history_next(&history, (struct text){0}, true)->note.says, "three done"));
    turn(&history, false, "one");
    assert_int_equal(steps(&history, "", true), 2);
    turn(&history, false, "");
    turn(&history, true, "two");
    turn(&history, true, "three");
    turn(&history, true, "");
    history_finish(&history);
}

static void a_new_edit_drops_what_was_taken_back(void **state) {
    (void)state;
    struct history history = {0};
    add(&history, "one");
    add(&history, "two");
    turn(&history, false, "one");
    add(&history, "other");
    assert_int_equal(steps(&history, "", true), 0);
    turn(&history, false, "one");
    history_finish(&history);
}

static void each_takes_back_its_own(void **state) {
    (void)state;
    struct history history = {0};
    add(&history, "a: 1\nb: 1\n");
    add_by(&history, "ann", "a: 2\nb: 1\n");
    add_by(&history, "ben", "a: 2\nb: 2\n");
    assert_int_equal(steps(&history, "ann", false), 1);
    turn_by(&history, "ann", false, "a: 1\nb: 2\n");
    turn_by(&history, "ann", false, "");
    turn_by(&history, "ben", false, "a: 1\nb: 1\n");
    turn_by(&history, "ann", true, "a: 2\nb: 1\n");
    turn_by(&history, "ben", true, "a: 2\nb: 2\n");
    turn_by(&history, "eve", false, "");
    /* What one does anew leaves the other what can be made again. */
    turn_by(&history, "ben", false, "a: 2\nb: 1\n");
    add_by(&history, "ann", "a: 3\nb: 1\n");
    turn_by(&history, "ben", true, "a: 3\nb: 2\n");
    history_finish(&history);
}

static void the_same_value_changed_since_is_told_by_name(void **state) {
    (void)state;
    struct history history = {0};
    struct arena arena;
    struct text text = {0};
    struct problem problem = {0};
    add(&history, "a: 1\nb: 1\n");
    add_by(&history, "ann", "a: 2\nb: 1\n");
    add_by(&history, "ben", "a: 2\nb: 2\n");
    add_by(&history, "ben", "a: 3\nb: 2\n");
    arena_init(&arena, host_pages(), 0);
    assert_false(history_turn(&history, text_of("ann"), false, &arena, &text, &problem).good);
    assert_int_equal(problem.kind, PROBLEM_BAD_VALUE);
    assert_non_null(strstr(problem.text, "a: 3\nb: 2\n done"));
    arena_finish(&arena);
    turn_by(&history, "ben", false, "a: 2\nb: 2\n");
    turn_by(&history, "ann", false, "a: 1\nb: 2\n");
    history_finish(&history);
}

static void what_another_program_did_is_nobodys_step(void **state) {
    (void)state;
    struct history history = {0};
    add(&history, "a: 1\nb: 1\n");
    add_by(&history, "ann", "a: 2\nb: 1\n");
    assert_true(history_add(&history, text_of("a: 2\nb: 7\n"), NULL, NULL).good);
    turn_by(&history, "ann", false, "a: 1\nb: 7\n");
    turn_by(&history, "ann", true, "a: 2\nb: 7\n");
    assert_true(history_add(&history, text_of("a: 7\nb: 7\n"), NULL, NULL).good);
    turn_by(&history, "ann", false, "");
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
    assert_true(text_is(history.steps[0].note.says, "50 done"));
    history_finish(&history);
}

static void no_more_bytes_than_are_allowed(void **state) {
    (void)state;
    struct history history = {0};
    const struct history_note note = {0};
    const size_t length = HISTORY_BYTES_MOST / 8;
    char *large = calloc(1, length);
    assert_non_null(large);
    for (int i = 0; i < 20; i++) {
        large[0] = (char)i;
        assert_true(history_add(&history, (struct text){large, length}, &note, NULL).good);
        assert_true(history.bytes <= HISTORY_BYTES_MOST);
    }
    assert_int_equal(history.count, 7); /* from the first of eight texts to the last */
    assert_int_equal(history_present(&history).start[0], 19);
    free(large);
    history_finish(&history);
    assert_int_equal(history.bytes, 0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(back_and_forth),
            cmocka_unit_test(a_new_edit_drops_what_was_taken_back),
            cmocka_unit_test(each_takes_back_its_own),
            cmocka_unit_test(the_same_value_changed_since_is_told_by_name),
            cmocka_unit_test(what_another_program_did_is_nobodys_step),
            cmocka_unit_test(the_oldest_makes_room),
            cmocka_unit_test(no_more_bytes_than_are_allowed),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
