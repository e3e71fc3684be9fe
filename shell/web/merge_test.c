/* One change made in another text that came of the same: worked by hand, and both ways round by rule. */
#include "web/merge.h"

#include "host/host.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

static const char base[] = "zones:\n"
                           "  - {number: 1, behaviour: entry, delay: front}\n"
                           "  - {number: 2, behaviour: follower}\n"
                           "  - {number: 3, says: \"store, back\"}\n"
                           "name: kiosk\n";

/** base with the first `what` replaced; in one of a row of rooms, good for a few calls. */
static struct text with(const char *what, const char *instead) {
    static char rooms[8][sizeof base + 200];
    static size_t next;
    char *room = rooms[next++ % 8];
    const char *at = strstr(base, what);
    assert_non_null(at);
    (void)snprintf(
            room, sizeof rooms[0], "%.*s%s%s", (int)(at - base), base, instead, at + strlen(what));
    return text_of(room);
}

static const char *merged(struct text mine, struct text theirs) {
    static char result[sizeof base + 400];
    struct arena arena;
    struct text text;
    arena_init(&arena, host_pages(), 0);
    const bool done = merge_change(text_of(base), mine, theirs, &arena, &text);
    if (done) {
        (void)snprintf(result, sizeof result, "%.*s", TEXT_ARGS(text));
    }
    arena_finish(&arena);
    return done ? result : NULL;
}

static void other_lines_and_other_values_of_a_line_stay(void **state) {
    (void)state;
    assert_string_equal(merged(with("follower", "interior"), with("kiosk", "shop")),
            "zones:\n"
            "  - {number: 1, behaviour: entry, delay: front}\n"
            "  - {number: 2, behaviour: interior}\n"
            "  - {number: 3, says: \"store, back\"}\n"
            "name: shop\n");
    assert_string_equal(merged(with("behaviour: entry", "behaviour: perimeter"),
                                with("delay: front", "delay: yard")),
            "zones:\n"
            "  - {number: 1, behaviour: perimeter, delay: yard}\n"
            "  - {number: 2, behaviour: follower}\n"
            "  - {number: 3, says: \"store, back\"}\n"
            "name: kiosk\n");
}

/* "entry" to "perimeter" and "entry" to "none" share no byte; still it is one value. */
static void the_same_value_is_not_mixed_of_two(void **state) {
    (void)state;
    assert_null(merged(with("entry", "perimeter"), with("entry", "none")));
    assert_null(merged(with("kiosk", "kiosk two"), with("kiosk", "old kiosk")));
    assert_null(merged(with("\"store, back\"", "\"store, front\""),
            with("\"store, back\"", "\"shop, back\"")));
    assert_null(merged(with(", delay: front", ""), with("delay: front", "delay: yard")));
    assert_null(merged(
            with("  - {number: 2, behaviour: follower}\n", ""), with("follower", "interior")));
}

static void the_same_change_twice_is_made_once(void **state) {
    (void)state;
    const struct text same = with("follower", "interior");
    assert_string_equal(merged(same, same), same.start);
}

static void whole_lines_come_and_go(void **state) {
    (void)state;
    static const char added[] = "name: kiosk\nnote: new\n";
    assert_string_equal(merged(with("  - {number: 2, behaviour: follower}\n", ""),
                                with("name: kiosk\n", added)),
            "zones:\n"
            "  - {number: 1, behaviour: entry, delay: front}\n"
            "  - {number: 3, says: \"store, back\"}\n"
            "name: kiosk\n"
            "note: new\n");
    assert_null(merged(
            with("name: kiosk\n", added), with("name: kiosk\n", "name: kiosk\nmore: yes\n")));
}

static void it_ends_without_memory(void **state) {
    (void)state;
    struct arena arena;
    struct text text = text_of("as it was");
    arena_init(&arena, host_pages(), 64);
    assert_true(merge_change(
            text_of(base), with("kiosk", "shop"), with("follower", "interior"), &arena, &text));
    assert_null(text.start);
    arena_finish(&arena);
}

/* By rule: of many random pairs of changes to different lines both are there, whichever is made in the other. */
static void both_ways_round_it_is_the_same(void **state) {
    (void)state;
    enum { LINES = 12, ROUNDS = 500, PIECE = 32 };
    unsigned seed = 1;
    for (int round = 0; round < ROUNDS; round++) {
        char texts[4][LINES * 3 * PIECE] = {"", "", "", ""}; /* base, mine, theirs, both */
        struct arena arena;
        struct text one;
        struct text other;
        for (int line = 0; line < LINES; line++) {
            seed = seed * 1103515245U + 12345U; /* ISO/IEC 9899:2018, 7.22.2.2 */
            const unsigned kind = seed >> 16 & 7U;
            const int who = line % 2 + 1;
            for (int text = 0; text < 4; text++) {
                const bool changed = (text == who || text == 3) && kind < 3;
                char *end = texts[text] + strlen(texts[text]);
                if (changed && kind != 0) {
                    (void)snprintf(end, PIECE, "w%d: %d\n", line, who);
                }
                end = texts[text] + strlen(texts[text]);
                /* 0: taken out; 1: one put before it; 2: put in its place. Every line has a fixed one behind it. */
                (void)snprintf(
                        end, PIECE, changed && kind != 1 ? "--%d\n" : "v%d\n--%d\n", line, line);
            }
        }
        arena_init(&arena, host_pages(), 0);
        assert_true(merge_change(
                text_of(texts[0]), text_of(texts[1]), text_of(texts[2]), &arena, &one));
        assert_true(merge_change(
                text_of(texts[0]), text_of(texts[2]), text_of(texts[1]), &arena, &other));
        assert_string_equal(one.start, texts[3]);
        assert_string_equal(other.start, texts[3]);
        arena_finish(&arena);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(other_lines_and_other_values_of_a_line_stay),
            cmocka_unit_test(the_same_value_is_not_mixed_of_two),
            cmocka_unit_test(the_same_change_twice_is_made_once),
            cmocka_unit_test(whole_lines_come_and_go),
            cmocka_unit_test(it_ends_without_memory),
            cmocka_unit_test(both_ways_round_it_is_the_same),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
