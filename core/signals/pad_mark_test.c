/* What is marked as one is known as that and as nothing else, also behind a block that somebody put before it. The
 * blocks are not encrypted here: `room` is what comes out, and what it was chained to is in the frame. */
#include "signals/pad_mark.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include <cmocka.h>

enum { BLOCKS_MOST = 3 };

/** Whether the last blocks of so many end as marked. chained: the block before the last but one, as hex says it. */
static bool ends(enum pad_mark asked, const char pad[PAD_MARKED], size_t blocks, uint8_t chained) {
    static uint8_t room[FRAME_CLEAR_MAX];
    char hex[2 * BLOCKS_MOST * FRAME_BLOCK + 1];
    const size_t length = blocks * FRAME_BLOCK;
    const size_t at = blocks < 2 ? 0 : length - 2 * (size_t)FRAME_BLOCK;
    for (size_t i = 0; i < length; i++) {
        (void)snprintf(hex + 2 * i, 3, "%02X", chained);
    }
    memset(room, 0, sizeof room);
    for (size_t i = 0; i < PAD_MARKED; i++) {
        room[at + i] = (uint8_t)((uint8_t)pad[i] ^ (at == 0 ? 0 : chained));
    }
    const struct frame frame = {.encrypted = true, .cipher = {hex, 2 * length}};
    return pad_ends_marked(asked, &frame, room);
}

static void each_is_known_as_what_it_is(void **state) {
    (void)state;
    for (int mark = 0; mark < PAD_MARK_COUNT; mark++) {
        char pad[PAD_MARKED + 1] = "abcdefghij";
        for (int asked = 0; asked < PAD_MARK_COUNT; asked++) {
            assert_false(ends((enum pad_mark)asked, pad, 2, 0));
        }
        pad_mark((enum pad_mark)mark, pad);
        assert_memory_equal(pad, "abcde", 5);
        assert_null(strpbrk(pad, "[]|"));
        for (int asked = 0; asked < PAD_MARK_COUNT; asked++) {
            assert_int_equal(ends((enum pad_mark)asked, pad, 2, 0), asked == mark);
            assert_int_equal(ends((enum pad_mark)asked, pad, 3, 0xA5), asked == mark);
            assert_false(ends((enum pad_mark)asked, pad, 1, 0));
        }
        pad[PAD_MARKED - 1] = (char)(pad[PAD_MARKED - 1] ^ 1);
        assert_false(ends((enum pad_mark)mark, pad, 2, 0));
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(each_is_known_as_what_it_is),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
