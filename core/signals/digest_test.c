/* What counts as the same message sent again. */
#include "signals/digest.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

static struct frame usual(void) {
    struct frame frame = {.token = FRAME_TOKEN_CONTACT_ID,
            .token_text = text_of("ADM-CID"),
            .sequence = 7,
            .prefix = text_of("A5"),
            .account = text_of("1234"),
            .content = {.data = text_of("#1234|1130 01 015"),
                    .extras = {{'I', text_of("HALL")}, {'M', text_of("01")}},
                    .extra_count = 2,
                    .stamped = true,
                    .stamp_s = 1000}};
    return frame;
}

static void sent_again_it_is_the_same(void **state) {
    (void)state;
    struct frame first = usual();
    struct frame again = usual();
    again.content.stamp_s = 1020;
    again.content.pad = text_of("random bytes");
    again.encrypted = true;
    again.prefix = text_of("00A5");
    again.receiver = text_of("1");
    assert_true(frame_digest(&first) == frame_digest(&again));
}

static void another_message_is_another(void **state) {
    (void)state;
    enum { COUNT = 9 };
    struct frame frames[COUNT];
    for (size_t i = 0; i < COUNT; i++) {
        frames[i] = usual();
    }
    frames[1].token_text = text_of("SIA-DCS");
    frames[2].sequence = 8;
    frames[3].prefix = text_of("A50");
    frames[4].account = text_of("1235");
    frames[5].content.data = text_of("#1234|3130 01 015");
    frames[6].content.extra_count = 1;
    frames[7].content.extras[1].letter = 'V';
    /* the same bytes, parted elsewhere */
    frames[8].content.extras[0].value = text_of("HAL");
    frames[8].content.extras[1] = (struct frame_extra){'L', text_of("M01")};
    for (size_t i = 0; i < COUNT; i++) {
        for (size_t k = 0; k < i; k++) {
            assert_true(frame_digest(&frames[i]) != frame_digest(&frames[k]));
        }
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(sent_again_it_is_the_same),
            cmocka_unit_test(another_message_is_another),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
