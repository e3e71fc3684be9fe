/* Each page that the prover asks for refused in turn, once and for ever: a problem that names memory, nothing kept. */
#include "tiny_house.h"

/* A house where one routine goes well, with a margin, and one goes wrong, with a range and a remedy. */
static void build(struct tiny *tiny) {
    const int contact = tiny_profile(tiny, SITE_CONTACT);
    const int front = tiny_door(tiny);
    const int side = tiny_door(tiny);
    tiny_zone(tiny, SITE_ENTRY, front, contact);
    tiny_zone(tiny, SITE_PERIMETER, side, contact);
    tiny_person(tiny, 1);
    tiny_starts_set(tiny, 0, SITE_MODE_FULL);
    for (size_t i = 0; i < 2; i++) {
        struct site_step *opens = tiny_step_of(tiny, i, 0, 0, 10, SITE_ACT_OPEN);
        opens->door = i == 0 ? front : side;
        tiny_step_of(tiny, i, 0, 10, 20, SITE_ACT_UNSET);
    }
}

/* All of it, over pages of its own; whether it went well. */
static outcome prove_all(
        struct tiny *tiny, struct test_pages *counted, struct problem *ret_problem) {
    const struct pages pages = test_pages_over_heap(counted);
    struct arena arena;
    struct proof_answer answers[2] = {0};
    struct proof_remedy remedy;
    bool found = false;
    outcome done = outcome_good();
    arena_init(&arena, pages, 0);
    for (size_t i = 0; i < 2 && done.good; i++) {
        done = proof_unfold(&tiny->site, &tiny->routines[i], &tiny->routine, ret_problem);
        if (done.good) {
            done = proof_run(&tiny->site, NULL, &tiny->routine, NULL, pages, &arena, &answers[i],
                    ret_problem);
        }
    }
    if (done.good) {
        done = proof_find_remedy(&tiny->site, NULL, answers, 2, 1, NULL, pages, &arena, &remedy,
                &found, ret_problem);
        assert_true(!done.good || found);
        for (size_t i = 0; done.good && i < remedy.edit_count; i++) {
            assert_true(remedy.edits[i].says.length > 0 && remedy.edits[i].price.length > 0 &&
                    remedy.edits[i].place.length > 0);
        }
    }
    const struct proof_line *story = NULL;
    size_t story_count = 0;
    if (done.good) {
        done = proof_tell(&tiny->site, NULL, &tiny->routine, NULL, PROOF_QUICK, &arena, &story,
                &story_count, ret_problem);
        assert_true(!done.good || story_count > 0);
    }
    arena_finish(&arena);
    return done;
}

static void refuse_each(struct tiny *tiny, bool for_ever) {
    struct test_pages counted = {0};
    struct problem problem = {0};
    build(tiny);
    assert_true(prove_all(tiny, &counted, &problem).good);
    assert_int_equal(counted.out, 0);
    const size_t asked = counted.asked;
    assert_true(asked > 20);
    for (size_t i = 1; i <= asked; i++) {
        counted = (struct test_pages){.refuse_at = i, .refuse_after = for_ever};
        problem = (struct problem){0};
        const outcome done = prove_all(tiny, &counted, &problem);
        assert_false(done.good);
        assert_int_equal(problem.kind, PROBLEM_MEMORY);
        assert_true(problem.text[0] != '\0');
        assert_int_equal(counted.out, 0);
    }
}

static void each_page_refused_once(void **state) {
    refuse_each(*state, false);
}

static void each_page_refused_for_ever(void **state) {
    refuse_each(*state, true);
}

/* A page refused for the texts of a remedy alone: all of them or a problem. */
static void no_remedy_without_words(void **state) {
    struct tiny *tiny = *state;
    struct proof_answer answers[2] = {0};
    bool found = false;
    build(tiny);
    for (size_t i = 0; i < 2; i++) {
        assert_true(
                proof_unfold(&tiny->site, &tiny->routines[i], &tiny->routine, &tiny->problem).good);
        assert_true(proof_run(&tiny->site, NULL, &tiny->routine, NULL, tiny->arena.pages,
                &tiny->arena, &answers[i], &tiny->problem)
                            .good);
    }
    size_t refused = 0;
    for (; !found; refused++) {
        struct test_pages counted = {.refuse_at = refused + 1};
        struct arena arena;
        struct proof_remedy remedy = {0};
        struct problem problem = {0};
        arena_init(&arena, test_pages_over_heap(&counted), 0);
        const outcome done = proof_find_remedy(&tiny->site, NULL, answers, 2, 1, NULL,
                tiny->arena.pages, &arena, &remedy, &found, &problem);
        assert_int_equal(done.good, counted.asked <= refused);
        assert_int_equal(problem.kind, done.good ? PROBLEM_NONE : PROBLEM_MEMORY);
        found = found && done.good;
        assert_true(!done.good || remedy.edits[0].says.length > 0);
        arena_finish(&arena);
    }
    assert_true(refused > 2);
}

#define WITH_A_HOUSE(test) cmocka_unit_test_setup_teardown(test, tiny_setup, tiny_teardown)

int main(void) {
    const struct CMUnitTest tests[] = {
            WITH_A_HOUSE(each_page_refused_once),
            WITH_A_HOUSE(each_page_refused_for_ever),
            WITH_A_HOUSE(no_remedy_without_words),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
