/* Limits, refused memory, and the largest sizes; what is found is tested in tests/explore. */
#include "explore/explore.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

/* Counts the blocks out and the calls; refuses call refuse_at (from 1), or all from there on. */
struct heap {
    size_t out;
    size_t calls;
    size_t refuse_at;
    bool for_ever;
};

static void *get(void *context, size_t size) {
    struct heap *heap = context;
    heap->calls++;
    if (heap->refuse_at != 0 &&
            (heap->calls == heap->refuse_at || (heap->for_ever && heap->calls > heap->refuse_at))) {
        return NULL;
    }
    heap->out++;
    return malloc(size);
}

static void give(void *context, void *block, size_t size) {
    struct heap *heap = context;
    (void)size;
    heap->out--;
    free(block);
}

/* People who take a number of steps each, and one promise: not more than so many firings. */
struct people {
    uint8_t count;
    uint8_t steps;
    uint16_t firings_most; /* 0: no such promise */
    uint8_t shortens;      /* how many SHORTENs of the next person's step go with each firing */
    struct span shorter;
    struct span step; /* zeroed: 10 .. 40 s */
    bool never_marks_end;
};

struct people_state {
    uint16_t firings;
    uint8_t steps[64];
};

static void add(struct explore_effects *effects, enum explore_effect_kind kind,
        explore_activity activity, struct span span) {
    effects->overflowed = effects->count == EXPLORE_EFFECT_MAX;
    if (effects->overflowed) {
        return;
    }
    effects->effects[effects->count] = (struct explore_effect){kind, activity, span};
    effects->count++;
}

static struct span step_of(const struct people *people) {
    return people->step.high_s == 0 ? span_of(10, 40) : people->step;
}

static void begin(const void *context, void *state, struct explore_effects *ret_effects) {
    const struct people *people = context;
    (void)state;
    for (explore_activity k = 0; k < people->count; k++) {
        add(ret_effects, EXPLORE_START, k, step_of(people));
    }
    ret_effects->mark = 1;
}

static void fire(const void *context, void *state_bytes, explore_activity activity, uint32_t choice,
        struct explore_effects *ret_effects) {
    const struct people *people = context;
    struct people_state *state = state_bytes;
    (void)choice;
    if (people->steps != 0) {
        state->steps[activity]++;
    }
    if (people->firings_most != 0) {
        state->firings++;
        if (state->firings > people->firings_most) {
            ret_effects->standing = EXPLORE_VIOLATION;
            ret_effects->violation = 9;
        }
    }
    if (people->steps == 0 || state->steps[activity] < people->steps) {
        add(ret_effects, EXPLORE_START, activity, step_of(people));
    }
    for (uint8_t k = 0; k < people->shortens; k++) {
        add(ret_effects, EXPLORE_SHORTEN, (explore_activity)((activity + 1) % people->count),
                people->shorter);
    }
    ret_effects->mark = people->never_marks_end ? 0 : 2;
}

static outcome explore_people(const struct people *people, const struct explore_options *options,
        struct heap *heap, struct arena *arena, struct explore_result *ret_result,
        struct problem *ret_problem) {
    const struct explore_machine machine = {.state_size = sizeof(struct people_state),
            .context = people,
            .begin = begin,
            .fire = fire};
    const struct pages pages = {get, give, heap};
    arena_init(arena, pages, 0);
    return explore_run(&machine, options, pages, arena, ret_result, ret_problem);
}

static struct explore_result result_of(
        const struct people *people, const struct explore_options *options) {
    struct heap heap = {0};
    struct arena arena;
    struct explore_result result;
    assert_true(explore_people(people, options, &heap, &arena, &result, NULL).good);
    result.story = NULL; /* goes with the arena */
    arena_finish(&arena);
    assert_int_equal(heap.out, 0);
    return result;
}

static void a_class_limit_is_undecided_never_proven(void **unused) {
    (void)unused;
    const struct people people = {.count = 2, .steps = 4};
    const struct explore_result whole = result_of(&people, NULL);
    assert_int_equal(whole.verdict, EXPLORE_PROVEN);
    assert_int_equal(whole.reason, EXPLORE_ENDED);
    struct explore_options options = {.class_limit = whole.classes_expanded};
    assert_int_equal(result_of(&people, &options).verdict, EXPLORE_PROVEN);
    for (options.class_limit = 1; options.class_limit < whole.classes_expanded;
            options.class_limit++) {
        const struct explore_result result = result_of(&people, &options);
        assert_int_equal(result.verdict, EXPLORE_UNDECIDED);
        assert_int_equal(result.reason, EXPLORE_CLASS_LIMIT);
        assert_int_equal(result.classes_expanded, options.class_limit);
    }
}

static void a_violation_within_the_limit_counts(void **unused) {
    (void)unused;
    const struct people people = {.count = 2, .steps = 4, .firings_most = 3};
    const struct explore_options options = {.class_limit = 8};
    const struct explore_result result = result_of(&people, &options);
    assert_int_equal(result.verdict, EXPLORE_REFUTED);
    assert_int_equal(result.violation, 9);
    assert_int_equal(result.story_count, 5);
}

static void a_byte_limit_is_undecided_and_kept(void **unused) {
    (void)unused;
    const struct people people = {.count = 3, .steps = 5};
    const struct explore_result whole = result_of(&people, NULL);
    assert_int_equal(whole.verdict, EXPLORE_PROVEN);
    for (size_t limit = 1; limit < whole.bytes_peak; limit += 3000) {
        const struct explore_options options = {.byte_limit = limit};
        const struct explore_result result = result_of(&people, &options);
        assert_int_equal(result.verdict, EXPLORE_UNDECIDED);
        assert_int_equal(result.reason, EXPLORE_BYTE_LIMIT);
        assert_true(result.bytes_peak <= limit);
    }
    const struct explore_options options = {.byte_limit = whole.bytes_peak};
    assert_int_equal(result_of(&people, &options).verdict, EXPLORE_PROVEN);
}

struct asked {
    size_t times;
    size_t done;
    size_t stop_at;
};

static bool count_asking(void *context, size_t classes_done, size_t classes_waiting) {
    struct asked *asked = context;
    assert_true(classes_done > asked->done && classes_waiting > 0);
    asked->done = classes_done;
    asked->times++;
    return asked->times != asked->stop_at;
}

static void it_asks_now_and_then_and_stops(void **unused) {
    (void)unused;
    const struct people people = {.count = 3, .steps = 8};
    struct asked asked = {0};
    struct explore_options options = {.keep_going = count_asking, .keep_going_context = &asked};
    const struct explore_result whole = result_of(&people, &options);
    assert_int_equal(whole.verdict, EXPLORE_PROVEN);
    assert_int_equal(asked.times, (whole.classes_expanded - 1) / 256);
    asked = (struct asked){.stop_at = 2};
    const struct explore_result result = result_of(&people, &options);
    assert_int_equal(result.verdict, EXPLORE_UNDECIDED);
    assert_int_equal(result.reason, EXPLORE_ASKED_TO_STOP);
    assert_int_equal(result.classes_expanded, 512);
}

static void too_many_activities_are_undecided(void **unused) {
    (void)unused;
    struct people people = {.count = EXPLORE_ACTIVE_MAX, .steps = 0, .firings_most = 1};
    struct explore_result result = result_of(&people, NULL);
    assert_int_equal(result.verdict, EXPLORE_REFUTED);
    assert_int_equal(result.story_count, 3);
    people.count++;
    result = result_of(&people, NULL);
    assert_int_equal(result.verdict, EXPLORE_UNDECIDED);
    assert_int_equal(result.reason, EXPLORE_ACTIVE_LIMIT);
}

static void a_machine_that_loops_is_explored_to_the_end(void **unused) {
    (void)unused;
    const struct people people = {.count = 2, .steps = 0};
    const struct explore_result result = result_of(&people, NULL);
    assert_int_equal(result.verdict, EXPLORE_PROVEN);
    assert_int_equal(result.keys, 1);
}

static void a_story_has_a_longest_length(void **unused) {
    (void)unused;
    struct people people = {.count = 1, .steps = 0, .firings_most = EXPLORE_STORY_MAX - 2};
    struct explore_result result = result_of(&people, NULL);
    assert_int_equal(result.verdict, EXPLORE_REFUTED);
    assert_int_equal(result.story_count, EXPLORE_STORY_MAX);
    people.firings_most++;
    result = result_of(&people, NULL);
    assert_int_equal(result.verdict, EXPLORE_UNDECIDED);
    assert_int_equal(result.reason, EXPLORE_CLASS_LIMIT);
}

/* 354 times ten weeks is within 2^31 s, 356 times is past them. */
static void a_story_has_a_latest_instant(void **unused) {
    (void)unused;
    struct people people = {
            .count = 1, .firings_most = 353, .step = span_of(SPAN_LONGEST_S, SPAN_LONGEST_S)};
    assert_int_equal(result_of(&people, NULL).verdict, EXPLORE_REFUTED);
    people.firings_most = 355;
    const struct explore_result result = result_of(&people, NULL);
    assert_int_equal(result.verdict, EXPLORE_UNDECIDED);
    assert_int_equal(result.reason, EXPLORE_CLASS_LIMIT);
    assert_int_equal(result.story_count, 0);
}

/* A probe of a machine that loops looks back ever further; before the seconds leave 32 bits it says so. */
static void a_probe_looks_back_only_so_far(void **unused) {
    (void)unused;
    const struct people people = {.count = 1,
            .step = span_of(SPAN_LONGEST_S - 1, SPAN_LONGEST_S),
            .never_marks_end = true};
    const struct explore_options options = {.probe = true};
    const struct explore_result result = result_of(&people, &options);
    assert_int_equal(result.verdict, EXPLORE_UNDECIDED);
    assert_int_equal(result.reason, EXPLORE_CLASS_LIMIT);
    assert_in_range(result.levels, 50, 500);
}

/* Each firing shortens many times over: the story's matrix and its list of drawn durations are at their largest. */
static void as_many_effects_as_allowed(void **unused) {
    (void)unused;
    struct people people = {.count = EXPLORE_ACTIVE_MAX,
            .steps = 3,
            .firings_most = 1,
            .shortens = EXPLORE_EFFECT_MAX - 1,
            .shorter = span_of(20, 20)};
    struct explore_result result = result_of(&people, NULL);
    assert_int_equal(result.verdict, EXPLORE_REFUTED);
    assert_int_equal(result.story_count, 3);
    people.shortens++;
    people.firings_most = 2;
    result = result_of(&people, NULL);
    assert_int_equal(result.verdict, EXPLORE_UNDECIDED);
    assert_int_equal(result.reason, EXPLORE_ACTIVE_LIMIT);
}

/* Each SHORTEN that can go both ways doubles the ways of its firing: there is a limit, and it is said. */
static void too_many_ways_of_one_firing_are_undecided(void **unused) {
    (void)unused;
    struct people people = {.count = 2, .steps = 2, .shortens = 8, .shorter = span_of(5, 20)};
    assert_int_equal(result_of(&people, NULL).verdict, EXPLORE_PROVEN);
    people.shortens = EXPLORE_EFFECT_MAX - 1;
    const struct explore_result result = result_of(&people, NULL);
    assert_int_equal(result.verdict, EXPLORE_UNDECIDED);
    assert_int_equal(result.reason, EXPLORE_CLASS_LIMIT);
}

/* Refuses each page in turn, once and for ever: a problem, nothing lost, the result untouched. */
static void a_refused_page_is_a_problem(const struct people *people, bool probe) {
    const struct explore_options options = {.probe = probe};
    struct explore_result untouched;
    memset(&untouched, 0x5A, sizeof untouched);
    for (int for_ever = 0; for_ever < 2; for_ever++) {
        size_t refuse_at = 1;
        while (true) {
            struct heap heap = {.refuse_at = refuse_at, .for_ever = for_ever != 0};
            struct arena arena;
            struct explore_result result;
            struct problem problem = {0};
            memset(&result, 0x5A, sizeof result);
            const bool good =
                    explore_people(people, &options, &heap, &arena, &result, &problem).good;
            arena_finish(&arena);
            assert_int_equal(heap.out, 0);
            if (heap.calls < refuse_at) {
                assert_true(good);
                break;
            }
            assert_false(good);
            assert_int_equal(problem.kind, PROBLEM_MEMORY);
            assert_memory_equal(&result, &untouched, sizeof result);
            refuse_at++;
        }
        assert_true(refuse_at > 4);
    }
}

static void every_page_can_be_refused(void **unused) {
    (void)unused;
    const struct people proven = {.count = 3, .steps = 4};
    const struct people refuted = {
            .count = 3, .steps = 5, .firings_most = 9, .shortens = 1, .shorter = span_of(5, 20)};
    const struct people long_story = {.count = 1, .firings_most = 700};
    a_refused_page_is_a_problem(&long_story, false);
    a_refused_page_is_a_problem(&proven, false);
    a_refused_page_is_a_problem(&proven, true);
    a_refused_page_is_a_problem(&refuted, false);
    a_refused_page_is_a_problem(&refuted, true);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(a_class_limit_is_undecided_never_proven),
            cmocka_unit_test(a_violation_within_the_limit_counts),
            cmocka_unit_test(a_byte_limit_is_undecided_and_kept),
            cmocka_unit_test(it_asks_now_and_then_and_stops),
            cmocka_unit_test(too_many_activities_are_undecided),
            cmocka_unit_test(a_machine_that_loops_is_explored_to_the_end),
            cmocka_unit_test(a_story_has_a_longest_length),
            cmocka_unit_test(a_story_has_a_latest_instant),
            cmocka_unit_test(a_probe_looks_back_only_so_far),
            cmocka_unit_test(as_many_effects_as_allowed),
            cmocka_unit_test(too_many_ways_of_one_firing_are_undecided),
            cmocka_unit_test(every_page_can_be_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
