#include "base/problem.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

static outcome fail_with(
        enum problem_kind kind, const char *place, const char *text, struct problem *ret_problem) {
    FAIL(ret_problem, kind, place, "%s", text);
}

static outcome try_twice(struct problem *ret_problem, int *ret_reached) {
    TRY(outcome_good());
    *ret_reached = 1;
    TRY(fail_with(PROBLEM_MISSING, "zones[1]", "no such door", ret_problem));
    *ret_reached = 2;
    return outcome_good();
}

static void first_cause_wins(void **state) {
    (void)state;
    struct problem problem = {0};
    assert_false(fail_with(PROBLEM_BAD_VALUE, "zones[1].delay", "first", &problem).good);
    assert_false(fail_with(PROBLEM_SYSTEM, "people[2]", "second", &problem).good);
    assert_int_equal(problem.kind, PROBLEM_BAD_VALUE);
    assert_string_equal(problem.text, "first");
    assert_string_equal(problem.place, "zones[1].delay");
}

static void try_returns_at_the_failure(void **state) {
    (void)state;
    struct problem problem = {0};
    int reached = 0;
    assert_false(try_twice(&problem, &reached).good);
    assert_int_equal(reached, 1);
    assert_int_equal(problem.kind, PROBLEM_MISSING);
}

static void nowhere_to_put_it_is_still_a_failure(void **state) {
    (void)state;
    assert_false(fail_with(PROBLEM_MEMORY, "", "", NULL).good);
}

static void what_it_quotes_steers_no_terminal(void **state) {
    (void)state;
    struct problem problem = {0};
    assert_false(fail_with(PROBLEM_UNREADABLE, "", "not \"\033[2J\"", &problem).good);
    assert_string_equal(problem.text, "not \".[2J\"");
}

static void long_text_and_place_are_cut_and_ended(void **state) {
    (void)state;
    struct problem problem = {0};
    char text[2 * sizeof problem.text];
    char place[2 * sizeof problem.place];
    memset(text, 't', sizeof text);
    memset(place, 'p', sizeof place);
    text[sizeof text - 1] = '\0';
    place[sizeof place - 1] = '\0';
    assert_false(fail_with(PROBLEM_BAD_VALUE, place, text, &problem).good);
    assert_int_equal(strlen(problem.text), sizeof problem.text - 1);
    assert_int_equal(strlen(problem.place), sizeof problem.place - 1);
}

/* The build maps source names, so that no binary carries the path of the machine it was built on. */
static void source_is_relative_to_the_repository(void **state) {
    (void)state;
    struct problem problem = {0};
    assert_false(fail_with(PROBLEM_SYSTEM, "", "", &problem).good);
    assert_string_equal(problem.source_file, "core/base/problem_test.c");
    assert_true(problem.source_line > 0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(first_cause_wins),
            cmocka_unit_test(try_returns_at_the_failure),
            cmocka_unit_test(nowhere_to_put_it_is_still_a_failure),
            cmocka_unit_test(what_it_quotes_steers_no_terminal),
            cmocka_unit_test(long_text_and_place_are_cut_and_ended),
            cmocka_unit_test(source_is_relative_to_the_repository),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
