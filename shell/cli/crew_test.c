/* The crew: each task done once, the lowest failure told, nothing begun after one. */
#include "cli/crew.h"

#include "host/host.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

enum { TASKS = 200, FAILING = 17 };

struct board {
    int done[TASKS];
    bool fails;
};

static outcome mark(void *context, size_t task, struct arena *arena, struct problem *ret_problem) {
    struct board *board = context;
    void *memory = NULL;
    TRY(arena_get(arena, 100, 8, &memory, ret_problem));
    board->done[task]++;
    if (board->fails && task >= FAILING) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "task %zu", task);
    }
    return outcome_good();
}

static void does_each_task_once(void **state) {
    const size_t members[] = {1, 2, 7, CREW_MOST};
    (void)state;
    for (size_t i = 0; i < sizeof members / sizeof members[0]; i++) {
        struct board board = {.fails = false};
        struct crew crew;
        struct problem problem = {0};
        crew_init(&crew, members[i], host_pages());
        const struct crew_work work = {.count = TASKS, .do_task = mark, .context = &board};
        assert_true(crew_do(&crew, &work, &problem).good);
        for (size_t task = 0; task < TASKS; task++) {
            assert_int_equal(board.done[task], 1);
        }
        crew_finish(&crew);
    }
}

static void tells_the_lowest_failure_and_begins_nothing_after(void **state) {
    (void)state;
    struct board board = {.fails = true};
    struct crew crew;
    struct problem problem = {0};
    crew_init(&crew, 4, host_pages());
    const struct crew_work work = {.count = TASKS, .do_task = mark, .context = &board};
    assert_false(crew_do(&crew, &work, &problem).good);
    assert_string_equal(problem.text, "task 17");
    assert_int_equal(board.done[FAILING], 1);
    /* The three others may each be one task further, no more. */
    for (size_t task = FAILING + 4; task < TASKS; task++) {
        assert_int_equal(board.done[task], 0);
    }
    crew_finish(&crew);
}

static void has_nothing_to_do(void **state) {
    (void)state;
    struct crew crew;
    crew_init(&crew, 2, host_pages());
    const struct crew_work work = {.count = 0, .do_task = mark};
    assert_true(crew_do(&crew, &work, NULL).good);
    crew_finish(&crew);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(does_each_task_once),
            cmocka_unit_test(tells_the_lowest_failure_and_begins_nothing_after),
            cmocka_unit_test(has_nothing_to_do),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
