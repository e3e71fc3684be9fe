/* Who came first is answered though others go on for ever: reading ends after a tenth of a second. */
#include "listener/inside.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <time.h>

#include <cmocka.h>

enum { ROUND_MS = 10, MILLION = 1000000 };

static int rounds;
static int rounds_with_news;

/** A round that takes its time, as one full of frames that are refused does, and brings something as long as it may. */
static void burden(uv_idle_t *handle) {
    struct listener *listener = handle->data;
    const struct timespec while_it_takes = {.tv_nsec = ROUND_MS * MILLION};
    (void)nanosleep(&while_it_takes, NULL);
    listener->batch.count += rounds++ < rounds_with_news;
}

static void read_with(int with_news, bool somebody_waits) {
    struct listener *listener = calloc(1, sizeof *listener);
    uv_idle_t idle = {.data = listener};
    assert_non_null(listener);
    assert_int_equal(uv_loop_init(&listener->loop), 0);
    assert_int_equal(uv_idle_init(&listener->loop, &idle), 0);
    assert_int_equal(uv_idle_start(&idle, burden), 0);
    listener->somebody_waits = somebody_waits;
    rounds = 0;
    rounds_with_news = with_news;
    listener_read(listener);
    uv_close((uv_handle_t *)&idle, NULL);
    (void)uv_run(&listener->loop, UV_RUN_DEFAULT);
    assert_int_equal(uv_loop_close(&listener->loop), 0);
    free(listener);
}

static void reading_ends_after_a_tenth_of_a_second(void **state) {
    (void)state;
    read_with(1000000, false);
    assert_in_range(rounds, 2, 100 / ROUND_MS + 1);
}

static void reading_ends_where_nothing_comes(void **state) {
    (void)state;
    read_with(0, false);
    assert_int_equal(rounds, 1);
    read_with(2, false);
    assert_int_equal(rounds, 3);
}

/* Places of those who leave with answers to come are free after the commit, so it is not put off. */
static void reading_ends_where_somebody_waits_for_a_place(void **state) {
    (void)state;
    read_with(1000000, true);
    assert_int_equal(rounds, 1);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(reading_ends_after_a_tenth_of_a_second),
            cmocka_unit_test(reading_ends_where_nothing_comes),
            cmocka_unit_test(reading_ends_where_somebody_waits_for_a_place),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
