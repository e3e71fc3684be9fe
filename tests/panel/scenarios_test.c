/* Runs every scenario with its expectations; then what must hold of all that was heard. */
#include "scene.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

static void run_scenario(void **state) {
    const struct scenario *scenario = *state;
    static struct scene scene; /* static: a failed expectation leaves by a jump */
    scene_run(&scene, scenario, NULL, true);
}

static size_t scenario_count(void) {
    size_t count = 0;
    for (size_t i = 0; i < SCENARIO_LISTS; i++) {
        count += scenario_list_of(i)->count;
    }
    return count;
}

/* page (Outputs): "Each output names its cause: the input and the setting that made it" */
static void every_output_names_its_cause(void **state) {
    (void)state;
    struct scene *scene = malloc(sizeof *scene);
    assert_non_null(scene);
    size_t nameless = 0;
    for (size_t i = 0; i < SCENARIO_LISTS; i++) {
        for (size_t j = 0; j < scenario_list_of(i)->count; j++) {
            scene_run(scene, &scenario_list_of(i)->list[j], NULL, false);
            for (size_t k = 0; k < scene->heard_count; k++) {
                const struct panel_output *o = &scene->heard[k].output;
                const bool loud = o->kind == PANEL_OUT_SIGNAL ||
                        (o->kind == PANEL_OUT_INSIDE && o->on) ||
                        (o->kind == PANEL_OUT_SOUND && o->sound != PANEL_SILENT);
                if (loud && (o->why == PANEL_WHY_NONE || !scene->heard[k].by_input)) {
                    fprintf(stderr, "%s: output kind %d, event %d at %d has no cause\n",
                            scene->name, (int)o->kind, (int)o->event.kind,
                            (int)scene->heard[k].at_s);
                    nameless++;
                }
            }
        }
    }
    free(scene);
    assert_int_equal(nameless, 0);
}

/* Same story, same outputs: nothing is remembered but the state. */
static void same_scene_twice(void **state) {
    (void)state;
    struct scene *one = malloc(sizeof *one);
    struct scene *two = malloc(sizeof *two);
    assert_non_null(one);
    assert_non_null(two);
    for (size_t i = 0; i < SCENARIO_LISTS; i++) {
        for (size_t j = 0; j < scenario_list_of(i)->count; j++) {
            scene_run(one, &scenario_list_of(i)->list[j], NULL, false);
            scene_run(two, &scenario_list_of(i)->list[j], NULL, false);
            assert_int_equal(one->heard_count, two->heard_count);
            assert_memory_equal(&one->player.state, &two->player.state, sizeof one->player.state);
        }
    }
    free(one);
    free(two);
}

int main(void) {
    const size_t count = scenario_count();
    struct CMUnitTest *tests = calloc(count + 2, sizeof *tests);
    if (tests == NULL) {
        return 1;
    }
    size_t filled = 0;
    for (size_t i = 0; i < SCENARIO_LISTS; i++) {
        for (size_t j = 0; j < scenario_list_of(i)->count; j++) {
            const struct scenario *scenario = &scenario_list_of(i)->list[j];
            tests[filled++] = (struct CMUnitTest){.name = scenario->name,
                    .test_func = run_scenario,
                    .initial_state = (void *)(uintptr_t)scenario};
        }
    }
    tests[filled++] = (struct CMUnitTest)cmocka_unit_test(every_output_names_its_cause);
    tests[filled++] = (struct CMUnitTest)cmocka_unit_test(same_scene_twice);
    const int failed = _cmocka_run_group_tests("panel", tests, filled, NULL, NULL);
    free(tests);
    return failed;
}
