/* Measured walking times: which of them are said. */
#include "check/measured.h"

#include "check/test_site.h"

#include <stdlib.h>

static void *get(void *context, size_t size) {
    (void)context;
    return malloc(size);
}

static void give(void *context, void *block, size_t size) {
    (void)context;
    (void)size;
    free(block);
}

static void what_lies_outside_its_estimate_is_said(void **state) {
    (void)state;
    static const struct {
        struct span estimated;
        struct span measured;
        size_t count;
    } rows[] = {
            {{2, 4}, {3, 3}, 0},
            {{2, 4}, {2, 4}, 0},
            {{2, 4}, {4, 4}, 0},
            {{2, 4}, {5, 5}, 1},
            {{2, 4}, {1, 1}, 1},
            {{2, 4}, {3, 5}, 1},
            {{2, 4}, {1, 3}, 1},
    };
    struct test_site *house = malloc(sizeof *house);
    struct site_way *way = calloc(1, sizeof *way);
    struct arena arena;
    assert_non_null(house);
    assert_non_null(way);
    arena_init(&arena, (struct pages){.get = get, .give = give}, 0);
    test_site_fill(house, SITE_WORDS_UK);
    way->name = text_of("yard way");
    way->leg_count = 1;
    way->spread_tenths = 2;
    way->legs[0].zone = PASSAGE_ZONE;
    way->legs[0].door = SITE_NONE;
    house->site.ways = way;
    house->site.way_count = 1;
    struct site_walk *const walks[] = {&way->closing, &way->ending, &way->legs[0].walk};
    static const char *const places[] = {
            "ways[0].closes-measured", "ways[0].last-measured", "ways[0].legs[0].measured"};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        for (size_t k = 0; k < 3; k++) {
            struct check_finding said[3];
            *walks[k] = (struct site_walk){.estimated = rows[i].estimated,
                    .measured = rows[i].measured,
                    .has_estimated = true,
                    .has_measured = true};
            assert_int_equal(measured_count(&house->site), rows[i].count);
            if (rows[i].count == 1) {
                measured_say(&house->site, &arena, said);
                assert_true(text_is(said[0].base.place, places[k]));
                assert_int_equal(said[0].base.weight, FINDING_NOTE);
            }
            walks[k]->has_estimated = false; /* nothing to compare with */
            assert_int_equal(measured_count(&house->site), 0);
            *walks[k] = (struct site_walk){0};
        }
    }
    arena_finish(&arena);
    free(way);
    free(house);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(what_lies_outside_its_estimate_is_said),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
