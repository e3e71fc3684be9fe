/* Escapes in addresses, against RFC 3986, section 2.1. */
#include "web/escapes.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

static void names_with_escapes(void **state) {
    (void)state;
    static const struct {
        const char *from;
        const char *name; /* NULL: it is none */
    } rows[] = {
            {"house.yaml", "house.yaml"},
            {"a%20b", "a b"},
            {"%C3%a4", "\xc3\xa4"},
            {"100%25", "100%"},
            {"%2e%2E%2f", "../"},
            {"", NULL},
            {"%", NULL},
            {"a%2", NULL},
            {"%2g", NULL},
            {"%g2", NULL},
            {"a%%41", NULL},
            {"12345678901", NULL},
            {"1234567890", "1234567890"},
            {"123456789%30", "1234567890"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char name[10];
        size_t length = 0;
        const bool good =
                escapes_out(rows[i].from, strlen(rows[i].from), name, sizeof name, &length);
        assert_int_equal(good, rows[i].name != NULL);
        if (good) {
            assert_int_equal(length, strlen(rows[i].name));
            assert_memory_equal(name, rows[i].name, length);
        }
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(names_with_escapes)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
