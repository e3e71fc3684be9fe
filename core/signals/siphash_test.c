/* SipHash-2-4 against the vectors of its paper (appendix A) and of its reference implementation, from memory: key 00 01
 * .. 0F, messages 00, 01 .. of growing length. */
#include "signals/siphash.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

static const struct siphash_key KEY = {
        {UINT64_C(0x0706050403020100), UINT64_C(0x0F0E0D0C0B0A0908)}};

static void the_published_vectors(void **state) {
    (void)state;
    static const struct {
        size_t length;
        uint64_t hash;
    } rows[] = {
            {0, UINT64_C(0x726FDB47DD0E0E31)}, {1, UINT64_C(0x74F839C593DC67FD)},
            {8, UINT64_C(0x93F5F5799A932462)},
            {15, UINT64_C(0xA129CA6149BE45E5)}, /* the paper's own */
    };
    char message[16];
    for (size_t i = 0; i < sizeof message; i++) {
        message[i] = (char)i;
    }
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        assert_true(siphash(KEY, (struct text){message, rows[i].length}) == rows[i].hash);
    }
}

static void another_key_another_hash(void **state) {
    (void)state;
    const struct siphash_key other = {{KEY.half[0], KEY.half[1] ^ 1}};
    assert_true(siphash(KEY, text_of("alarm")) != siphash(other, text_of("alarm")));
    assert_true(siphash(KEY, text_of("alarm")) != siphash(KEY, text_of("alarn")));
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(the_published_vectors),
            cmocka_unit_test(another_key_another_hash),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
