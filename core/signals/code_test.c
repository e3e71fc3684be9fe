/* The code tables: every row is found by its code, and only by it. */
#include "signals/code.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

static void every_contact_id_code_is_found(void **state) {
    (void)state;
    size_t count = 0;
    size_t found = 0;
    const struct signal_code *rows = signal_contact_id_codes(&count);
    for (uint16_t code = 0; code <= 1000; code++) {
        const struct signal_code *row = signal_contact_id(code);
        if (row != NULL) {
            assert_int_equal(atoi(row->code), code);
            assert_true(row >= rows && row < rows + count);
            found++;
        }
    }
    assert_int_equal(found, count);
    assert_true(count > 200);
}

static void every_sia_code_is_found(void **state) {
    (void)state;
    size_t count = 0;
    const struct signal_code *rows = signal_sia_codes(&count);
    for (size_t i = 0; i < count; i++) {
        assert_ptr_equal(signal_sia(text_of(rows[i].code)), &rows[i]);
    }
    assert_null(signal_sia(text_of("ZY")));
    assert_null(signal_sia(text_of("BAA")));
    assert_null(signal_sia(text_of("B")));
    assert_null(signal_sia((struct text){0}));
}

/* Source: ANSI/SIA DC-05-1999.09 and DC-03, from memory, sure. */
static void what_everybody_knows(void **state) {
    (void)state;
    assert_string_equal(signal_contact_id(131)->meaning, "perimeter");
    assert_int_equal(signal_contact_id(131)->number, SIGNAL_NUMBER_ZONE);
    assert_int_equal(signal_contact_id(401)->number, SIGNAL_NUMBER_USER);
    assert_int_equal(signal_contact_id(652)->sure, SIGNAL_SURE_UNSURE);
    assert_string_equal(signal_sia(text_of("BA"))->meaning, "intrusion alarm");
    assert_int_equal(signal_sia(text_of("CL"))->number, SIGNAL_NUMBER_USER);
    assert_int_equal(signal_sia(text_of("GR"))->sure, SIGNAL_SURE_PATTERN);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(every_contact_id_code_is_found),
            cmocka_unit_test(every_sia_code_is_found),
            cmocka_unit_test(what_everybody_knows),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
