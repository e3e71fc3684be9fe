/* A plan whose answers are made by hand, gathered into a report: for the tests of this folder. */
#ifndef LINTEL_CHECK_TEST_BENCH_H
#define LINTEL_CHECK_TEST_BENCH_H

#include "check/check.h"
#include "check/findings.h"
#include "check/test_answer.h"

#include <stdlib.h>

enum { ANSWER_MOST = 6 };

/* A plan whose answers are given. Everything large is kept here, off the stack. */
struct bench {
    struct test_site house;
    struct test_answer made[ANSWER_MOST];
    struct proof_answer answers[ANSWER_MOST];
    struct check_routine routines[ANSWER_MOST];
    struct site_routine sources[ANSWER_MOST];
    struct check_absent absent[4];
    struct check_plan plan;
    struct check_report report;
    struct arena arena;
};

/* The heap itself: cmocka takes its own blocks back from a test that fails, before the bench is cleared. */
static inline void *get(void *context, size_t size) {
    (void)context;
    return malloc(size);
}

static inline void give(void *context, void *block, size_t size) {
    (void)context;
    (void)size;
    free(block);
}

static inline int bench_begin(void **state) {
    struct bench *bench = calloc(1, sizeof *bench);
    test_site_fill(&bench->house, SITE_WORDS_UK);
    arena_init(&bench->arena, (struct pages){.get = get, .give = give}, 0);
    bench->plan = (struct check_plan){.routines = bench->routines, .absent = bench->absent};
    *state = bench;
    return 0;
}

static inline int bench_end(void **state) {
    struct bench *bench = *state;
    arena_finish(&bench->arena);
    free(bench);
    return 0;
}

/* A further routine of the plan that starts as the house does; its answer is still to be made. */
static inline struct test_answer *add_routine(struct bench *bench, const char *name, bool usual) {
    const size_t index = bench->plan.routine_count++;
    bench->sources[index] = bench->house.routine;
    bench->sources[index].name = text_of(name);
    bench->routines[index] = (struct check_routine){
            .source = &bench->sources[index], .usual = usual, .index = index};
    test_answer_begin(&bench->made[index], &bench->sources[index], -1);
    return &bench->made[index];
}

static inline struct test_answer *add_side_door(struct bench *bench, const char *name, bool usual) {
    struct test_answer *it = add_routine(bench, name, usual);
    test_side_door(it, &bench->sources[bench->plan.routine_count - 1]);
    return it;
}

static inline struct test_answer *add_well(
        struct bench *bench, const char *name, int32_t margin_s) {
    struct test_answer *it = add_routine(bench, name, false);
    it->answer.verdict = PROOF_GOES_WELL;
    it->answer.has_margin = margin_s > 0;
    it->answer.margin_s = margin_s;
    it->answer.margin_timer = panel_timer_of(PANEL_TIMER_ENTRY, SHOP);
    it->answer.margin_deadline_s = 27;
    return it;
}

static inline struct test_answer *add_unsettled(
        struct bench *bench, const char *name, enum explore_reason reason) {
    struct test_answer *it = add_routine(bench, name, false);
    it->answer.verdict = PROOF_NOT_SETTLED;
    it->answer.reason = reason;
    it->answer.classes = 12;
    return it;
}

static inline const struct check_report *gather(struct bench *bench) {
    struct problem problem = {0};
    for (size_t i = 0; i < bench->plan.routine_count; i++) {
        bench->answers[i] = bench->made[i].answer;
    }
    assert_true(check_gather(&bench->house.site, &bench->plan, bench->answers, &bench->arena,
            &bench->report, &problem)
                        .good);
    return &bench->report;
}

#define BENCH_TEST(test) cmocka_unit_test_setup_teardown(test, bench_begin, bench_end)

#endif
