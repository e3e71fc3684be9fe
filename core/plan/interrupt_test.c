/* Interruption held against a handbook's worksheet, worked examples, drawing at random, and GSL's normal
 * distribution. */
#include "plan/interrupt.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>
#include <gsl/gsl_cdf.h>

enum { TRIALS = 200000, ROUNDS = 300, TASKS_MOST = 8 };

/* The worksheet of the handbook (Garcia; inputs and 0.476 from memory, unverified; further places worked out again). */
static const struct interrupt_task WORKSHEET[] = {
        {0, INTERRUPT_BEGIN, 10, 3},    /* cut fence */
        {0, INTERRUPT_BEGIN, 12, 3.6},  /* run to building */
        {0.9, INTERRUPT_BEGIN, 90, 27}, /* open door */
        {0, INTERRUPT_BEGIN, 10, 3},    /* run to inner area */
        {0.9, INTERRUPT_BEGIN, 90, 27}, /* open door */
        {0, INTERRUPT_BEGIN, 120, 36},  /* act at target */
};
enum { WORKSHEET_COUNT = sizeof WORKSHEET / sizeof *WORKSHEET };

/* A house: garden, door (contact as it opens), hall (motion half way), search, leave. */
static const struct interrupt_task HOUSE[] = {
        {0, INTERRUPT_BEGIN, 20, 6},
        {0.9, INTERRUPT_END, 60, 18},
        {0.8, INTERRUPT_MIDDLE, 20, 6},
        {0, INTERRUPT_BEGIN, 180, 54},
        {0, INTERRUPT_BEGIN, 60, 18},
};

static double probability(const struct interrupt_task *tasks, size_t count,
        struct interrupt_response response, struct interrupt_part *parts) {
    double ratio = -1;
    struct problem problem = {0};
    if (!interrupt_probability(tasks, count, &response, parts, &ratio, &problem).good) {
        fail_msg("%s", problem.text);
    }
    return ratio;
}

static void the_worksheet_is_met(void **unused) {
    (void)unused;
    struct interrupt_part parts[WORKSHEET_COUNT];
    const struct interrupt_response guards = {300, 90, 0.95, false};
    assert_true(fabs(probability(WORKSHEET, WORKSHEET_COUNT, guards, parts) - 0.47604) < 5e-6);
    static const double LEFT_S[] = {332, 322, 310, 220, 210, 120};
    for (size_t i = 0; i < WORKSHEET_COUNT; i++) {
        assert_true(fabs(parts[i].left_s - LEFT_S[i]) < 1e-9);
    }
    assert_true(fabs(parts[2].in_time_ratio - 0.5382) < 5e-5);
    assert_true(fabs(parts[4].in_time_ratio - 0.1855) < 5e-5);
    assert_true(fabs(parts[2].share_ratio - 0.46018) < 5e-6);
    assert_true(fabs(parts[4].share_ratio - 0.01586) < 5e-6);
    assert_true(fabs(parts[0].share_ratio) < 1e-12);

    const struct interrupt_response each = {300, 90, 0.95, true};
    assert_true(fabs(probability(WORKSHEET, WORKSHEET_COUNT, each, NULL) - 0.48318) < 5e-6);
    const struct interrupt_response quick = {200, 60, 0.95, false};
    assert_true(fabs(probability(WORKSHEET, WORKSHEET_COUNT, quick, NULL) - 0.83051) < 5e-6);
    struct interrupt_task fenced[WORKSHEET_COUNT];
    memcpy(fenced, WORKSHEET, sizeof fenced);
    fenced[0].detect_ratio = 0.5;
    assert_true(fabs(probability(fenced, WORKSHEET_COUNT, guards, NULL) - 0.53274) < 5e-6);
}

static void the_house_is_met(void **unused) {
    (void)unused;
    const struct interrupt_response far = {300, 90, 0.95, false};
    const struct interrupt_response near = {180, 54, 0.95, false};
    assert_true(fabs(probability(HOUSE, 5, far, NULL) - 0.3268) < 5e-5);
    assert_true(fabs(probability(HOUSE, 5, near, NULL) - 0.7846) < 5e-5);
}

static double draw_ratio(uint64_t *seed) {
    *seed = *seed * UINT64_C(6364136223846793005) + UINT64_C(1442695040888963407); /* Knuth, MMIX */
    return (double)(*seed >> 11) * 0x1p-53;
}

/* Box and Muller 1958. */
static double draw_normal(uint64_t *seed) {
    const double radius = sqrt(-2 * log(1 - draw_ratio(seed)));
    return radius * cos(2 * acos(-1) * draw_ratio(seed));
}

/* One attack: is there a sensor that notices, is heard, and leaves help the time? Once one was noticed and told,
 * later ones do not matter: help is on its way. */
static bool attack(const struct interrupt_task *tasks, size_t count,
        const struct interrupt_response *response, uint64_t *seed) {
    double halves_s[TASKS_MOST][2];
    for (size_t i = 0; i < count; i++) {
        /* What is left of a task noticed in the middle deviates by half, as its first half does then. */
        const double off = tasks[i].deviation_s / 2 * draw_normal(seed);
        halves_s[i][1] = tasks[i].time_s / 2 + off;
        halves_s[i][0] = tasks[i].time_s / 2 + off;
    }
    const double response_s = response->time_s + response->deviation_s * draw_normal(seed);
    const bool told_once = draw_ratio(seed) < response->talk_ratio;
    for (size_t i = 0; i < count; i++) {
        const bool told =
                response->each_tries ? draw_ratio(seed) < response->talk_ratio : told_once;
        if (!(draw_ratio(seed) < tasks[i].detect_ratio) || !told) {
            continue;
        }
        double left_s = tasks[i].when == INTERRUPT_BEGIN ? halves_s[i][0] + halves_s[i][1]
                : tasks[i].when == INTERRUPT_MIDDLE      ? halves_s[i][1]
                                                         : 0;
        for (size_t k = i + 1; k < count; k++) {
            left_s += halves_s[k][0] + halves_s[k][1];
        }
        return left_s > response_s;
    }
    return false;
}

static void drawing_at_random_gives_the_same(void **unused) {
    (void)unused;
    static const struct interrupt_response RESPONSES[] = {
            {300, 90, 0.95, false}, {300, 90, 0.95, true}, {180, 54, 0.7, true}};
    uint64_t seed = 71;
    for (size_t i = 0; i < 6; i++) {
        const struct interrupt_task *tasks = i % 2 == 0 ? WORKSHEET : HOUSE;
        const size_t count = i % 2 == 0 ? WORKSHEET_COUNT : 5;
        const struct interrupt_response *response = &RESPONSES[i / 2];
        size_t caught = 0;
        for (size_t trial = 0; trial < TRIALS; trial++) {
            caught += attack(tasks, count, response, &seed);
        }
        const double drawn = (double)caught / TRIALS;
        const double wanted = probability(tasks, count, *response, NULL);
        /* Five standard errors. */
        if (fabs(drawn - wanted) > 5 * sqrt(0.25 / TRIALS)) {
            fail_msg("case %zu: %.5f drawn, %.5f worked out", i, drawn, wanted);
        }
    }
}

static void chances_are_those_of_the_normal_distribution(void **unused) {
    (void)unused;
    for (int i = -60; i <= 60; i++) {
        const double z = i / 10.0;
        const struct interrupt_task task = {1, INTERRUPT_BEGIN, 1000 + 100 * z, 80};
        const struct interrupt_response response = {1000, 60, 1, false};
        const double wanted = gsl_cdf_ugaussian_P(z);
        assert_true(fabs(probability(&task, 1, response, NULL) - wanted) < 1e-12);
        /* Noticed half way: half of the time and of the deviation is left. At the end: nothing. */
        const struct interrupt_task half = {1, INTERRUPT_MIDDLE, 2000 + 200 * z, 160};
        assert_true(fabs(probability(&half, 1, response, NULL) - wanted) < 1e-12);
        const struct interrupt_task none = {1, INTERRUPT_END, 1000, 500};
        const struct interrupt_response at_once = {90, 60, 1, false};
        assert_true(fabs(probability(&none, 1, at_once, NULL) - gsl_cdf_ugaussian_P(-1.5)) < 1e-12);
    }
}

/* Yard, door, hall, safe, noticed as each begins; the handbook's deterministic example (worked out again). */
static const struct interrupt_task LAYERS[] = {
        {0.2, INTERRUPT_BEGIN, 30, 0},
        {0.9, INTERRUPT_BEGIN, 60, 0},
        {0.8, INTERRUPT_BEGIN, 20, 0},
        {0.5, INTERRUPT_BEGIN, 120, 0},
};

static void the_critical_point_moves_with_the_response(void **unused) {
    (void)unused;
    static const struct {
        double response_s;
        size_t task;
        double left_s;
        double ratio;
    } ROWS[] = {
            {90, 3, 120, 0.992},
            {119.9, 3, 120, 0.992},
            {120, 2, 140, 0.984}, /* exactly as much time as help needs is too late */
            {150, 1, 200, 0.920},
            {210, 0, 230, 0.200},
            {240, INTERRUPT_NEVER, 0, 0},
    };
    for (size_t i = 0; i < sizeof ROWS / sizeof *ROWS; i++) {
        struct interrupt_critical critical;
        assert_true(interrupt_find_critical(LAYERS, 4, ROWS[i].response_s, &critical, NULL).good);
        assert_true(critical.task == ROWS[i].task);
        assert_true(fabs(critical.left_s - ROWS[i].left_s) < 1e-9);
        assert_true(fabs(critical.ratio - ROWS[i].ratio) < 1e-12);
        /* Without deviations, and every alarm told, the probability is the same figure. */
        const struct interrupt_response response = {ROWS[i].response_s, 0, 1, false};
        assert_true(fabs(probability(LAYERS, 4, response, NULL) - critical.ratio) < 1e-12);
    }
    /* A task without a sensor is no point of detection. */
    struct interrupt_critical critical;
    assert_true(interrupt_find_critical(WORKSHEET, WORKSHEET_COUNT, 100, &critical, NULL).good);
    assert_int_equal(critical.task, 4);
}

/* Fence or gate; front door, rear window or garage door; hall or stairs; safe. */
static void all_ways_are_tried_for_the_weakest(void **unused) {
    (void)unused;
    static const struct interrupt_task OUTSIDE[] = {
            {0.1, INTERRUPT_BEGIN, 10, 0}, {0.3, INTERRUPT_BEGIN, 5, 0}};
    static const struct interrupt_task SHELL[] = {{0.9, INTERRUPT_BEGIN, 60, 0},
            {0.4, INTERRUPT_BEGIN, 20, 0}, {0.7, INTERRUPT_BEGIN, 45, 0}};
    static const struct interrupt_task INSIDE[] = {
            {0.8, INTERRUPT_BEGIN, 15, 0}, {0.5, INTERRUPT_BEGIN, 20, 0}};
    static const struct interrupt_task TARGET[] = {{0.2, INTERRUPT_BEGIN, 180, 0}};
    static const struct interrupt_layer SITE[] = {
            {OUTSIDE, 2}, {SHELL, 3}, {INSIDE, 2}, {TARGET, 1}};
    static const struct {
        double response_s;
        double ratio;
        size_t choices[4];
        size_t task;
    } ROWS[] = {
            {120, 0.784, {0, 1, 1, 0}, 3},
            {200, 0.460, {0, 1, 0, 0}, 1},
            {240, 0, {0, 1, 0, 0}, INTERRUPT_NEVER},
    };
    for (size_t i = 0; i < sizeof ROWS / sizeof *ROWS; i++) {
        size_t choices[4];
        struct interrupt_critical least;
        assert_true(interrupt_weakest(SITE, 4, ROWS[i].response_s, 12, choices, &least, NULL).good);
        assert_true(fabs(least.ratio - ROWS[i].ratio) < 1e-12);
        assert_memory_equal(choices, ROWS[i].choices, sizeof choices);
        assert_true(least.task == ROWS[i].task);
    }
    /* The way with the least delay is not the weakest: gate, rear window, hall at 200 s. */
    const struct interrupt_task quickest[] = {OUTSIDE[1], SHELL[1], INSIDE[0], TARGET[0]};
    struct interrupt_critical critical;
    assert_true(interrupt_find_critical(quickest, 4, 200, &critical, NULL).good);
    assert_true(fabs(critical.ratio - 0.58) < 1e-12);
    size_t choices[4];
    struct problem problem = {0};
    assert_false(interrupt_weakest(SITE, 4, 120, 11, choices, &critical, &problem).good);
    assert_int_equal(problem.kind, PROBLEM_LIMIT);
}

/* A slower response or a longer way to be told never helps, a better sensor at the critical point or before never
 * hurts. */
static void more_help_never_hurts(void **unused) {
    (void)unused;
    uint64_t seed = 72;
    for (size_t round = 0; round < ROUNDS; round++) {
        struct interrupt_task tasks[TASKS_MOST];
        for (size_t i = 0; i < TASKS_MOST; i++) {
            tasks[i].detect_ratio = draw_ratio(&seed);
            tasks[i].when = (enum interrupt_when)(3 * draw_ratio(&seed));
            tasks[i].time_s = 100 * draw_ratio(&seed);
            tasks[i].deviation_s = 30 * draw_ratio(&seed);
        }
        struct interrupt_response response = {
                500 * draw_ratio(&seed), 90 * draw_ratio(&seed), draw_ratio(&seed), round % 2 == 0};
        const double ratio = probability(tasks, TASKS_MOST, response, NULL);
        double longest_s = -2;
        assert_true(
                interrupt_longest_response(tasks, TASKS_MOST, &response, ratio, &longest_s, NULL)
                        .good);
        /* Found again, from what it gives. */
        assert_true(ratio < 1e-9 || fabs(longest_s - response.time_s) < 0.11);
        response.time_s += 10;
        assert_true(probability(tasks, TASKS_MOST, response, NULL) <= ratio + 1e-12);
        struct interrupt_critical before;
        struct interrupt_critical after;
        assert_true(interrupt_find_critical(tasks, TASKS_MOST, 100, &before, NULL).good);
        tasks[round % TASKS_MOST].detect_ratio = 1;
        assert_true(interrupt_find_critical(tasks, TASKS_MOST, 100, &after, NULL).good);
        assert_true(after.ratio >= before.ratio - 1e-12);
    }
    const struct interrupt_response never = {0, 0, 0, false};
    double longest_s;
    assert_true(interrupt_longest_response(HOUSE, 5, &never, 0.5, &longest_s, NULL).good);
    assert_true(longest_s < 0);
}

static void what_makes_no_sense_is_refused(void **unused) {
    (void)unused;
    static const struct {
        struct interrupt_task task;
        struct interrupt_response response;
        const char *word;
    } WRONG[] = {
            {{1.1, INTERRUPT_BEGIN, 1, 1}, {1, 1, 1, false}, "noticed"},
            {{-0.1, INTERRUPT_BEGIN, 1, 1}, {1, 1, 1, false}, "noticed"},
            {{0.5, INTERRUPT_BEGIN, -1, 1}, {1, 1, 1, false}, "task 1: time"},
            {{0.5, INTERRUPT_BEGIN, 1, NAN}, {1, 1, 1, false}, "task 1: time"},
            {{0.5, INTERRUPT_BEGIN, 1, 1}, {INFINITY, 1, 1, false}, "response"},
            {{0.5, INTERRUPT_BEGIN, 1, 1}, {1, 1, 1.5, false}, "gets through"},
    };
    for (size_t i = 0; i < sizeof WRONG / sizeof *WRONG; i++) {
        struct problem problem = {0};
        double ratio = -1;
        assert_false(
                interrupt_probability(&WRONG[i].task, 1, &WRONG[i].response, NULL, &ratio, &problem)
                        .good);
        assert_int_equal(problem.kind, PROBLEM_BAD_VALUE);
        assert_non_null(strstr(problem.text, WRONG[i].word));
        assert_true(ratio < 0);
    }
    struct problem problem = {0};
    struct interrupt_critical critical;
    assert_false(
            interrupt_find_critical(HOUSE, INTERRUPT_TASKS_MOST + 1, 1, &critical, &problem).good);
    assert_int_equal(problem.kind, PROBLEM_LIMIT);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(the_worksheet_is_met),
            cmocka_unit_test(the_house_is_met),
            cmocka_unit_test(drawing_at_random_gives_the_same),
            cmocka_unit_test(chances_are_those_of_the_normal_distribution),
            cmocka_unit_test(the_critical_point_moves_with_the_response),
            cmocka_unit_test(all_ways_are_tried_for_the_weakest),
            cmocka_unit_test(more_help_never_hurts),
            cmocka_unit_test(what_makes_no_sense_is_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
