/* A transaction that another one was in the way of is done again, also where the server is lost in between; what
 * failed in any other way is not. By a store that does nothing but fail as it is told. */
#include "archive/inside.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>

#include <cmocka.h>

/** fails: how many times the work does. again: because of another. loses: the connection is gone after that. held: it
 *  cannot begin, as another writes. */
static struct {
    int fails;
    bool held;
    bool again;
    bool loses;
    int connected;
    int undone;
    int committed;
} told;

static outcome connect_it(struct archive *archive, struct problem *ret_problem) {
    (void)ret_problem;
    archive->handle = &told;
    told.connected++;
    return outcome_good();
}

static void disconnect_it(struct archive *archive) {
    archive->handle = NULL;
}

static outcome say_version(struct archive *archive, int *ret_version, struct problem *ret_problem) {
    (void)archive;
    (void)ret_problem;
    *ret_version = ARCHIVE_VERSION;
    return outcome_good();
}

static outcome need_connection(struct archive *archive, struct problem *ret_problem) {
    if (archive->handle == NULL) {
        FAIL(ret_problem, PROBLEM_SYSTEM, "", "nobody is there");
    }
    return outcome_good();
}

static outcome begin(struct archive *archive, struct problem *ret_problem) {
    archive->held = told.held;
    if (told.held) {
        FAIL(ret_problem, PROBLEM_SYSTEM, "", "another writes");
    }
    return need_connection(archive, ret_problem);
}

static outcome ask(struct archive *archive, enum archive_statement statement,
        const struct archive_value *values, size_t count, int64_t *ret_number,
        struct problem *ret_problem) {
    (void)statement;
    (void)values;
    (void)count;
    *ret_number = 7;
    return need_connection(archive, ret_problem);
}

static outcome commit(struct archive *archive, struct problem *ret_problem) {
    TRY(need_connection(archive, ret_problem));
    told.committed++;
    return outcome_good();
}

static void undo(struct archive *archive) {
    told.undone++;
    if (told.loses) {
        disconnect_it(archive);
    }
}

static const struct archive_store store = {.connect = connect_it,
        .disconnect = disconnect_it,
        .version = say_version,
        .begin = begin,
        .ask = ask,
        .wait = need_connection,
        .commit = commit,
        .undo = undo,
        .settle = need_connection};

static outcome work(struct archive *archive, void *context, struct problem *ret_problem) {
    (void)context;
    if (told.fails > 0) {
        told.fails--;
        archive->again = told.again;
        FAIL(ret_problem, PROBLEM_SYSTEM, "", "in the way");
    }
    return outcome_good();
}

static struct archive *begin_with(int fails, bool again, bool loses) {
    struct archive *archive = calloc(1, sizeof *archive);
    assert_non_null(archive);
    archive->store = &store;
    told.connected = told.undone = told.committed = 0;
    told.fails = fails;
    told.again = again;
    told.loses = loses;
    assert_true(archive_connect(archive, NULL).good);
    return archive;
}

static void another_in_the_way(void **state) {
    (void)state;
    struct archive *archive = begin_with(3, true, false);
    assert_true(archive_transact(archive, work, NULL, NULL).good);
    assert_int_equal(told.undone, 3);
    assert_int_equal(told.connected, 1);
    assert_int_equal(told.committed, 1);
    assert_false(archive->broken);
    archive_close(archive);
}

static void the_server_is_lost_between_two_tries(void **state) {
    (void)state;
    struct archive *archive = begin_with(2, true, true);
    assert_true(archive_transact(archive, work, NULL, NULL).good);
    assert_int_equal(told.undone, 2);
    assert_int_equal(told.connected, 3); /* at first, and after each loss */
    assert_int_equal(told.committed, 1);
    archive_close(archive);
}

static void another_failure_is_told(void **state) {
    (void)state;
    struct archive *archive = begin_with(1, false, true);
    struct problem problem = {0};
    assert_false(archive_transact(archive, work, NULL, &problem).good);
    assert_string_equal(problem.text, "in the way");
    assert_int_equal(told.committed, 0);
    assert_true(archive->broken);
    /* the next one opens it anew */
    assert_true(archive_transact(archive, work, NULL, NULL).good);
    assert_int_equal(told.connected, 2);
    archive_close(archive);
}

/* It wrote nothing: so it is not opened anew, which brings all to the disk first and may be refused as well. */
static void another_that_writes_breaks_nothing(void **state) {
    (void)state;
    struct archive *archive = begin_with(0, false, false);
    told.held = true;
    assert_false(archive_transact(archive, work, NULL, NULL).good);
    assert_false(archive->broken);
    told.held = false;
    assert_true(archive_transact(archive, work, NULL, NULL).good);
    assert_int_equal(told.connected, 1);
    /* but for what was broken before */
    told.fails = 1;
    assert_false(archive_transact(archive, work, NULL, NULL).good);
    told.held = true;
    assert_false(archive_transact(archive, work, NULL, NULL).good);
    told.held = false;
    assert_true(archive_transact(archive, work, NULL, NULL).good);
    assert_true(told.connected > 1);
    archive_close(archive);
}

static void not_for_ever(void **state) {
    (void)state;
    struct archive *archive = begin_with(100000, true, false);
    assert_false(archive_transact(archive, work, NULL, NULL).good);
    assert_int_equal(told.undone, 100);
    archive_close(archive);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(another_in_the_way),
            cmocka_unit_test(the_server_is_lost_between_two_tries),
            cmocka_unit_test(another_failure_is_told),
            cmocka_unit_test(another_that_writes_breaks_nothing),
            cmocka_unit_test(not_for_ever),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
