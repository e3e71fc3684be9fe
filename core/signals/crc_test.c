/* The check sum against figures from outside. */
#include "signals/crc.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>

#include <cmocka.h>

/* Source: the catalogue of parametrised CRC algorithms, check value of the reflected 8005 polynomial begun at 0. */
static void the_catalogue_s_check_value(void **state) {
    (void)state;
    assert_int_equal(signals_crc(text_of("123456789")), 0xBB3D);
    assert_int_equal(signals_crc((struct text){0}), 0);
}

/* Source: the table in DC-07 whose entry for 100 is printed BE01 and was corrected to EB01; entry i is the sum of
 * the one byte i. */
static void the_corrected_entry_of_the_printed_table(void **state) {
    (void)state;
    static const char bytes[] = {1, 2, 3, 4, 5, 6, 7, 100};
    static const uint16_t sums[] = {0xC0C1, 0xC181, 0x0140, 0xC301, 0x03C0, 0x0280, 0xC241, 0xEB01};
    for (size_t i = 0; i < sizeof bytes; i++) {
        assert_int_equal(signals_crc((struct text){&bytes[i], 1}), sums[i]);
    }
}

/** By long division, bit by bit, as the clause has it. */
static uint16_t divided(struct text bytes) {
    uint16_t rest = 0;
    for (size_t i = 0; i < bytes.length; i++) {
        for (int bit = 0; bit < 8; bit++) {
            const bool odd = ((rest ^ (uint8_t)bytes.start[i] >> bit) & 1) != 0;
            rest = (uint16_t)(odd ? rest >> 1 ^ 0xA001 : rest >> 1);
        }
    }
    return rest;
}

/* Source: ANSI/SIA DC-09, clause 5.5.1.2: x^16 + x^15 + x^2 + 1. Every byte, alone and behind every other. */
static void as_divided(void **state) {
    (void)state;
    for (int first = 0; first < 256; first++) {
        for (int second = 0; second < 256; second++) {
            const char bytes[2] = {(char)first, (char)second};
            const struct text text = {bytes, second == 0 ? 1 : 2};
            assert_int_equal(signals_crc(text), divided(text));
        }
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(the_catalogue_s_check_value),
            cmocka_unit_test(as_divided),
            cmocka_unit_test(the_corrected_entry_of_the_printed_table),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
