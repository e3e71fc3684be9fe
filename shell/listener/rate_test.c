/* Who shares a rate, and how refusals are told apart. Networks of 64 bits and addresses of IPv4 within IPv6: RFC
 * 4291, 2.5.4 and 2.5.5.2. */
#include "listener/inside.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

static struct listener *listener;

static int begin(void **state) {
    (void)state;
    listener = calloc(1, sizeof *listener);
    listener->receiver.secret = (struct siphash_key){{1, 2}};
    return listener == NULL;
}

static int end(void **state) {
    (void)state;
    free(listener);
    return 0;
}

static struct peer_rate *rate_of(const char *address, int port) {
    struct sockaddr_storage of = {0};
    if (uv_ip4_addr(address, port, (struct sockaddr_in *)&of) != 0) {
        assert_int_equal(uv_ip6_addr(address, port, (struct sockaddr_in6 *)&of), 0);
    }
    return listener_rate_of(listener, &of);
}

static void a_network_is_one_sender(void **state) {
    (void)state;
    struct peer_rate *rate = rate_of("2001:db8:1:2::1", 1);
    assert_ptr_equal(rate_of("2001:db8:1:2::1", 2), rate);
    assert_ptr_equal(rate_of("2001:db8:1:2:ffff:ffff:ffff:ffff", 3), rate);
    assert_ptr_equal(rate_of("127.0.0.1", 1), rate_of("127.0.0.1", 2));
    assert_ptr_equal(rate_of("::ffff:192.0.2.1", 1), rate_of("192.0.2.1", 1));
}

/** How many rates a thousand senders share. The two numbers of each stand between these. */
static size_t rates_of(const char *before, const char *between, const char *after) {
    static bool used[RATE_SLOTS];
    size_t count = 0;
    memset(used, 0, sizeof used);
    for (int i = 0; i < 1000; i++) {
        char address[64];
        (void)snprintf(
                address, sizeof address, "%s%d%s%d%s", before, i / 250, between, i % 250, after);
        const size_t slot = (size_t)(rate_of(address, 1) - listener->udp_rates);
        count += !used[slot];
        used[slot] = true;
    }
    return count;
}

static void others_have_their_own(void **state) {
    (void)state;
    assert_true(rates_of("192.0.", ".", "") > 800);
    assert_true(rates_of("::ffff:192.0.", ".", "") > 800);
    assert_true(rates_of("2001:db8:", ":", "::1") > 800);
    assert_int_equal(rates_of("2001:db8:1:2:", "::", ""), 1);
}

/* Else whoever has many addresses would know which of them shares the rate of a panel. */
static void who_shares_one_follows_from_the_secret(void **state) {
    (void)state;
    size_t same = 0;
    for (int i = 0; i < 100; i++) {
        char address[32];
        (void)snprintf(address, sizeof address, "192.0.2.%d", i);
        listener->receiver.secret.half[0] = 1;
        const struct peer_rate *rate = rate_of(address, 1);
        listener->receiver.secret.half[0] = 3;
        same += rate == rate_of(address, 1);
    }
    assert_true(same < 5);
}

static void refuse(const char *name, size_t count) {
    listener_refuse(listener, RECEIVER_TOO_MANY, count, name, (struct text){0}, text_of("?"));
}

/* Whoever makes up many senders hides who else was refused, but not that; and nothing stands under another's name. */
static void what_is_not_told_apart_is_told_as_others(void **state) {
    (void)state;
    const struct refusals *refusals = &listener->refusals;
    const struct archive_refusal *last = &refusals->rows[REFUSALS_MOST - 1];
    for (int i = 0; i < REFUSALS_MOST - 1; i++) {
        char name[32];
        (void)snprintf(name, sizeof name, "udp 192.0.2.1:%d", i);
        refuse(name, 1);
    }
    assert_int_equal(refusals->count, REFUSALS_MOST - 1);
    refuse("udp 192.0.2.2:1", 3);
    refuse("udp 192.0.2.3:1", 4);
    refuse("udp 192.0.2.1:62", 5);
    assert_int_equal(refusals->count, REFUSALS_MOST);
    assert_int_equal(refusals->rows[REFUSALS_MOST - 2].count, 1 + 5);
    assert_int_equal(last->count, 3 + 4);
    assert_true(text_is(last->peer, "others"));
    assert_true(text_begins(last->reason, text_of("others, ")));
    assert_int_equal(last->sample.length, 0);
    assert_int_equal(listener->counts.refused, REFUSALS_MOST - 1 + 3 + 4 + 5);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test_setup_teardown(a_network_is_one_sender, begin, end),
            cmocka_unit_test_setup_teardown(others_have_their_own, begin, end),
            cmocka_unit_test_setup_teardown(who_shares_one_follows_from_the_secret, begin, end),
            cmocka_unit_test_setup_teardown(what_is_not_told_apart_is_told_as_others, begin, end),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
