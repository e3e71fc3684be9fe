/* One peer: frames come out whole however the bytes come in, and who is a burden is told. */
#include "signals/peer.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include <cmocka.h>

static const struct peer_limits limits = {.stranger_ms = 1000,
        .idle_ms = 5000,
        .slow_ms = 200,
        .noise = 100,
        .rate = 10};
static struct peer peer;

/** Feeds all of it; how many frames came out, each held against what is expected next. */
static size_t feed(struct text bytes, int64_t now_ms, const char *const *expected) {
    size_t count = 0;
    struct text frame;
    do {
        peer_take(&peer, &bytes, now_ms);
        while (peer_next(&peer, now_ms, &frame)) {
            if (expected != NULL) {
                assert_true(text_is(frame, expected[count]));
            }
            count++;
        }
    } while (bytes.length > 0);
    return count;
}

static const char *const frames[] = {"\nfirst\r", "\nsecond one\r", "\n\r", "\nlast\r"};
static const char stream[] = "noise\nfirst\r??\r\nsecond one\r\n\r\nbroken\nlast\r";

static void frames_split_at_every_byte(void **state) {
    (void)state;
    const size_t length = sizeof stream - 1;
    for (size_t cut = 0; cut <= length; cut++) {
        peer_begin(&peer, &limits, 0);
        size_t first = feed((struct text){stream, cut}, 0, frames);
        assert_int_equal(
                first + feed((struct text){stream + cut, length - cut}, 0, frames + first), 4);
        assert_int_equal(peer.noise, 5 + 3 + 7);
    }
    peer_begin(&peer, &limits, 0);
    size_t count = 0;
    for (size_t i = 0; i < length; i++) {
        count += feed((struct text){stream + i, 1}, 0, frames + count);
    }
    assert_int_equal(count, 4);
}

static void a_hundred_frames_in_one_piece(void **state) {
    (void)state;
    static char bytes[100 * 200];
    size_t length = 0;
    for (int i = 0; i < 100; i++) {
        length += (size_t)snprintf(bytes + length, sizeof bytes - length, "\n%0150d\r", i);
    }
    peer_begin(&peer, &limits, 0);
    assert_int_equal(feed((struct text){bytes, length}, 0, NULL), 100);
}

static void what_never_ends_is_given_up(void **state) {
    (void)state;
    static char bytes[3 * FRAME_MAX];
    memset(bytes, 'x', sizeof bytes);
    bytes[0] = '\n';
    peer_begin(&peer, &limits, 0);
    assert_int_equal(feed((struct text){bytes, sizeof bytes}, 0, NULL), 0);
    assert_int_equal(peer_end(&peer, &limits, 0), PEER_NOISY);
    assert_int_equal(feed(text_of("\nfirst\r"), 0, frames), 1);
    peer_was_good(&peer);
    assert_int_equal(peer_end(&peer, &limits, 0), PEER_STAYS);
    peer_was_noise(&peer, 101);
    assert_int_equal(peer_end(&peer, &limits, 0), PEER_NOISY);
}

/* One byte each 100 ms: the frame is late, though the peer is never silent. */
static void one_byte_at_a_time_is_too_slow(void **state) {
    (void)state;
    peer_begin(&peer, &limits, 0);
    peer_was_good(&peer);
    for (int64_t i = 0; i < 3; i++) {
        assert_int_equal(feed((struct text){&"\nabcd"[i], 1}, i * 100, NULL), 0);
        assert_int_equal(peer_end(&peer, &limits, i * 100), PEER_STAYS);
    }
    assert_int_equal(feed(text_of("d"), 201, NULL), 0);
    assert_int_equal(peer_end(&peer, &limits, 201), PEER_SLOW);
    /* a frame that ended in time does not count for the next */
    assert_int_equal(feed(text_of("\r\nhalf"), 202, NULL), 1);
    assert_int_equal(peer_end(&peer, &limits, 402), PEER_STAYS);
    assert_int_equal(peer_end(&peer, &limits, 403), PEER_SLOW);
}

static void strangers_are_given_less_time_than_friends(void **state) {
    (void)state;
    peer_begin(&peer, &limits, 10);
    assert_int_equal(peer_end(&peer, &limits, 1010), PEER_STAYS);
    assert_int_equal(peer_end(&peer, &limits, 1011), PEER_STRANGE);
    assert_int_equal(feed(text_of("\nfirst\r"), 900, NULL), 1);
    peer_was_good(&peer);
    assert_int_equal(peer_end(&peer, &limits, 5900), PEER_STAYS);
    assert_int_equal(peer_end(&peer, &limits, 5901), PEER_IDLE);
    const struct peer_limits none = {0};
    assert_int_equal(peer_end(&peer, &none, INT64_MAX / 2), PEER_STAYS);
}

static void so_many_frames_a_second(void **state) {
    (void)state;
    peer_begin(&peer, &limits, 0);
    size_t let = 0;
    for (int64_t now_ms = 0; now_ms < 10000; now_ms++) {
        let += peer_may(&peer.rate, &limits, now_ms);
    }
    assert_in_range(let, 10 + 99, 10 + 100); /* ten at once, then ten a second */
    for (int i = 0; i < 20; i++) {
        (void)peer_may(&peer.rate, &limits, 10000);
    }
    assert_false(peer_may(&peer.rate, &limits, 10050));
    assert_true(peer_may(&peer.rate, &limits, 10101));
    /* an hour of silence saves up no more than one second */
    size_t after = 0;
    for (int i = 0; i < 100; i++) {
        after += peer_may(&peer.rate, &limits, INT64_C(3600000));
    }
    assert_int_equal(after, 10);
    const struct peer_limits none = {0};
    assert_true(peer_may(&peer.rate, &none, 0));
}

/* Above the rate nothing is looked at; what is not whole yet may still be the beginning of something. */
static void whole_frames_are_skipped(void **state) {
    (void)state;
    struct text bytes = text_of("\n\r\nfirst\r??\n\r\nla");
    peer_begin(&peer, &limits, 0);
    peer_take(&peer, &bytes, 0);
    assert_int_equal(peer_skip(&peer, 0), 3);
    assert_int_equal(peer.noise, 2 + 7 + 2 + 2);
    assert_int_equal(feed(text_of("st\r"), 1, frames + 3), 1);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(frames_split_at_every_byte),
            cmocka_unit_test(a_hundred_frames_in_one_piece),
            cmocka_unit_test(what_never_ends_is_given_up),
            cmocka_unit_test(one_byte_at_a_time_is_too_slow),
            cmocka_unit_test(strangers_are_given_less_time_than_friends),
            cmocka_unit_test(so_many_frames_a_second),
            cmocka_unit_test(whole_frames_are_skipped),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
