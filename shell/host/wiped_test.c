/* The memory that held a key, looked at in the moment it is given back. */
#include "host/host.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

static const char secret[] = "0F1E2D3C4B5A69788796A5B4C3D2E1F0";
static void *watched;
static size_t watched_size;
static bool seen;
static bool held;

void __real_free(void *block);
void __wrap_free(void *block);

void __wrap_free(void *block) {
    if (block != NULL && block == watched) {
        seen = true;
        for (size_t i = 0; i + sizeof secret <= watched_size; i++) {
            held = held || memcmp((char *)block + i, secret, sizeof secret) == 0;
        }
        watched = NULL;
    }
    __real_free(block);
}

static void give_back(struct pages pages) {
    enum { SIZE = 4096 };
    seen = false;
    held = false;
    char *block = pages.get(pages.context, SIZE);
    assert_non_null(block);
    memset(block, 1, SIZE);
    memcpy(block + 100, secret, sizeof secret);
    memcpy(block + SIZE - sizeof secret, secret, sizeof secret);
    watched = block;
    watched_size = SIZE;
    pages.give(pages.context, block, SIZE);
    assert_true(seen);
}

static void wiped_before_it_is_given_back(void **state) {
    (void)state;
    give_back(host_wiped_pages());
    assert_false(held);
}

static void the_watch_sees_what_is_not_wiped(void **state) {
    (void)state;
    give_back(host_pages());
    assert_true(held);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(wiped_before_it_is_given_back),
            cmocka_unit_test(the_watch_sees_what_is_not_wiped),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
