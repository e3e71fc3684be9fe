/* What is noted of a frame is of the moment at which it is taken, however long it took to store those before it. */
#include "listener/inside.h"

#include "host/host.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include <cmocka.h>

static const char *const frames[] = {"\nC4390025\"ADM-CID\"0001L0#777[#777|1130 01 015]\r",
        "\n8FC60025\"ADM-CID\"0002L0#777[#777|1130 01 015]\r"};

static int64_t stored_ms;

/** Whoever reads what is printed takes his time. */
static void take_long(void *context, const struct archive_signal *signals, size_t count) {
    const struct timespec long_time = {.tv_nsec = 200000000};
    (void)context;
    (void)signals;
    (void)count;
    (void)nanosleep(&long_time, NULL);
    stored_ms = listener_utc_ms();
}

static void take(struct listener *listener, const char *frame) {
    struct addressee from = {0};
    assert_int_equal(uv_ip4_addr("127.0.0.1", 9, (struct sockaddr_in *)&from.address), 0);
    assert_int_equal(
            listener_take(listener, text_of(frame), &from, "udp 127.0.0.1:9"), RECEIVER_STORE);
}

static void what_finds_the_batch_full_is_of_after_it(void **state) {
    char folder[] = "/tmp/lintel-listener-XXXXXX";
    char path[64];
    char command[64];
    struct arena arena;
    struct accounts accounts;
    struct listener *listener = NULL;
    struct listener_options options = listener_usual();
    (void)state;
    assert_non_null(mkdtemp(folder));
    (void)snprintf(path, sizeof path, "%s/signals.db", folder);
    arena_init(&arena, host_pages(), 0);
    assert_true(accounts_read(text_of("account 777 clear"), &arena, &accounts, NULL).good);
    options.tcp = false;
    options.accounts = &accounts;
    options.hooks.stored = take_long;
    assert_true(archive_open(path, ARCHIVE_NEW, &options.archive, NULL).good);
    assert_true(listener_create(&options, &listener, NULL).good);

    take(listener, frames[0]);
    listener->batch.used = sizeof listener->batch.room;
    take(listener, frames[1]);
    assert_int_equal(listener->counts.stored, 1);
    assert_int_equal(listener->batch.signal_count, 1);
    const struct archive_signal *signal = &listener->batch.signals[0];
    assert_true(signal->received_ms >= stored_ms);
    /* its two clocks were read at one instant, so they are as far apart as they are now */
    const int64_t apart = listener_utc_ms() - host_passed_ms();
    assert_in_range(signal->received_ms - signal->steady_ms - apart + 100, 0, 200);

    listener_destroy(listener);
    archive_close(options.archive);
    arena_finish(&arena);
    (void)snprintf(command, sizeof command, "rm -rf %s", folder);
    assert_int_equal(system(command), 0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(what_finds_the_batch_full_is_of_after_it),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
