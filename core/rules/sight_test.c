/* What is said where the drawing is beyond what can be computed. What is found in drawings: tests/whole/sight.py. */
#include "plan/house.h"
#include "rules/rules.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

static void *get_page(void *context, size_t size) {
    (void)context;
    return malloc(size);
}

static void give_page(void *context, void *block, size_t size) {
    (void)context;
    (void)size;
    free(block);
}

/* All rows look at a house without coverage. */
static void look(struct rules_finder *finder) {
    const struct rules_check *check = NULL;
    for (size_t i = 0; (check = rules_check_at(i)) != NULL; i++) {
        if (strncmp(check->id, "sight.", 6) == 0) {
            check->look(finder, check);
        }
    }
}

static void what_is_not_computed_is_told(void **unused) {
    (void)unused;
    struct arena arena;
    static struct site site;
    const struct house house = {.site = &site};
    arena_init(&arena, (struct pages){.get = get_page, .give = give_page}, 0);
    struct rules_finder finder = {.site = &site, .arena = &arena, .blind_reason = "too many walls"};
    look(&finder);
    assert_int_equal(finder.count, 0); /* no drawing: said elsewhere */
    finder.house = &house;
    look(&finder);
    assert_int_equal(finder.count, 1);
    assert_true(text_is(finder.findings[0].id, "sight.not-computed"));
    assert_true(text_is(finder.findings[0].why, "too many walls"));
    arena_finish(&arena);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(what_is_not_computed_is_told),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
