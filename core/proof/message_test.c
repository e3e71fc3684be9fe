/* A radio message that does not arrive: lost, or because the radio is jammed. The page names it among the accidents;
 * what follows from it: a lost "closed" leaves the area not ready, a lost "open" goes unheard. */
#include "proof/test_usual_house.h"

#include <stdlib.h>

/* The window is open, the mother closes it, sets and leaves by the front door. */
static void write_leaving(struct house *house, enum site_message message) {
    write_step(house, 0, MOTHER, SITE_ACT_CLOSE, SITE_NONE);
    house->steps[0].door = WINDOW;
    house->steps[0].message = message;
    write_step(house, 1, MOTHER, SITE_ACT_SET, SITE_NONE);
    house->steps[1].keypad = HALL_KEYPAD;
    house->steps[1].in = span_of(60, 90);
    house->steps[1].has_in = true;
    write_step(house, 2, MOTHER, SITE_ACT_GO, FRONT_WAY);
    house->routines[0] = (struct site_routine){.name = say("leaves"),
            .steps = house->steps,
            .step_count = 3,
            .doors_open = 1U << WINDOW};
}

/* A burglar at the front door while the house is set; the message of its opening may be lost. */
static void write_opening(struct house *house, enum site_message message) {
    write_step(house, 0, DRIVER, SITE_ACT_OPEN, SITE_NONE);
    house->steps[0].door = FRONT;
    house->steps[0].message = message;
    house->routines[0] =
            (struct site_routine){.name = say("opens"), .steps = house->steps, .step_count = 1};
    house->routines[0].starts[HOUSE] = (struct site_start){.set = true, .mode = SITE_MODE_FULL};
}

static void *get_page(void *context, size_t size) {
    ((struct counted *)context)->out++;
    return malloc(size);
}

static void give_page(void *context, void *block, size_t size) {
    (void)size;
    ((struct counted *)context)->out--;
    free(block);
}

/* The verdict on the one written routine; its story is gone. */
static struct proof_answer answer_of(struct house *house) {
    struct counted counted = {.left = -1};
    const struct pages pages = {.get = get_page, .give = give_page, .context = &counted};
    struct arena arena;
    struct problem problem = {0};
    struct proof_answer answer = {0};
    arena_init(&arena, pages, 0);
    struct proof_routine *routine = ARENA_NEW(&arena, struct proof_routine);
    assert_non_null(routine);
    assert_true(proof_unfold(&house->site, &house->routines[0], routine, &problem).good);
    assert_true(
            proof_run(&house->site, NULL, routine, NULL, pages, &arena, &answer, &problem).good);
    arena_finish(&arena);
    assert_int_equal(counted.out, 0);
    answer.story = NULL;
    return answer;
}

static void a_lost_closing_is_a_refusal(void **state) {
    (void)state;
    struct house *house = malloc(sizeof *house);
    assert_non_null(house);
    build(house);
    house->site.settings.auto_set_at_s = -1;
    write_leaving(house, SITE_MESSAGE_ARRIVES);
    assert_int_equal(answer_of(house).verdict, PROOF_GOES_WELL);
    write_leaving(house, SITE_MESSAGE_LOST);
    const struct proof_answer lost = answer_of(house);
    assert_int_equal(lost.verdict, PROOF_GOES_WRONG);
    assert_int_equal(lost.promise, PROOF_REFUSED);
    assert_int_equal(lost.culprit_zone, Z_WINDOW);
    assert_true(lost.always);
    write_leaving(house, SITE_MESSAGE_MAYBE_LOST);
    const struct proof_answer maybe = answer_of(house);
    assert_int_equal(maybe.verdict, PROOF_GOES_WRONG);
    assert_int_equal(maybe.promise, PROOF_REFUSED);
    assert_false(maybe.always);
    free(house);
}

static void a_wire_loses_nothing(void **state) {
    (void)state;
    struct house *house = malloc(sizeof *house);
    assert_non_null(house);
    build(house);
    house->site.settings.auto_set_at_s = -1;
    house->profiles[0].radio = false;
    write_leaving(house, SITE_MESSAGE_LOST);
    assert_int_equal(answer_of(house).verdict, PROOF_GOES_WELL);
    free(house);
}

static void a_lost_opening_goes_unheard(void **state) {
    (void)state;
    struct house *house = malloc(sizeof *house);
    assert_non_null(house);
    build(house);
    house->site.settings.auto_set_at_s = -1;
    write_opening(house, SITE_MESSAGE_ARRIVES);
    assert_int_equal(answer_of(house).promise, PROOF_SIREN);
    write_opening(house, SITE_MESSAGE_LOST);
    assert_int_equal(answer_of(house).verdict, PROOF_GOES_WELL);
    write_opening(house, SITE_MESSAGE_MAYBE_LOST);
    house->steps[0].maybe = true; /* three ways: heard, not done, unheard */
    assert_int_equal(answer_of(house).promise, PROOF_SIREN);
    free(house);
}

/* The radio is jammed from the beginning until so long after it; meanwhile, after 10 s, the mother closes the window,
 * and sets when the radio is free again. */
static void write_jammed_leaving(struct house *house, struct span jammed) {
    write_step(house, 0, MOTHER, SITE_ACT_CLOSE, SITE_NONE);
    house->steps[0].door = WINDOW;
    house->steps[0].in = span_of(10, 10);
    house->steps[0].has_in = true;
    write_step(house, 1, MOTHER, SITE_ACT_SET, SITE_NONE);
    house->steps[1].keypad = HALL_KEYPAD;
    house->steps[1].in = span_of(60, 90);
    house->steps[1].has_in = true;
    write_step(house, 2, MOTHER, SITE_ACT_GO, FRONT_WAY);
    write_step(house, 3, DRIVER, SITE_ACT_JAMMED, SITE_NONE);
    write_step(house, 4, DRIVER, SITE_ACT_JAM_OVER, SITE_NONE);
    house->steps[4].in = jammed;
    house->steps[4].has_in = true;
    house->routines[0] = (struct site_routine){.name = say("leaves"),
            .steps = house->steps,
            .step_count = 5,
            .expects = SITE_EXPECT_TROUBLE,
            .doors_open = 1U << WINDOW};
}

/* page: "Jamming is separate", and "a lost "closed" message -> not ready": for as long as it lasts, and after it. */
static void a_closing_while_jammed_goes_unheard(void **state) {
    (void)state;
    struct house *house = malloc(sizeof *house);
    assert_non_null(house);
    build(house);
    house->site.settings.auto_set_at_s = -1;
    write_jammed_leaving(house, span_of(5, 9));
    assert_int_equal(answer_of(house).verdict, PROOF_GOES_WELL);
    write_jammed_leaving(house, span_of(12, 40));
    const struct proof_answer lost = answer_of(house);
    assert_int_equal(lost.promise, PROOF_REFUSED);
    assert_int_equal(lost.culprit, PANEL_WHY_NOT_READY);
    assert_int_equal(lost.culprit_zone, Z_WINDOW);
    assert_true(lost.always);
    /* The message takes 0 to 1 s: it is what is jammed, not the hand at the window. */
    write_jammed_leaving(house, span_of(10, 10));
    const struct proof_answer either = answer_of(house);
    assert_int_equal(either.promise, PROOF_REFUSED);
    assert_false(either.always);
    house->profiles[0].radio = false;
    write_jammed_leaving(house, span_of(12, 40));
    assert_int_equal(answer_of(house).verdict, PROOF_GOES_WELL);
    free(house);
}

/* Jamming is announced, or it is a trouble; where a fault refuses, it does; it can be let pass. */
static void jamming_is_a_trouble_and_a_fault(void **state) {
    (void)state;
    struct house *house = malloc(sizeof *house);
    assert_non_null(house);
    build(house);
    house->site.settings.auto_set_at_s = -1;
    house->profiles[0].radio = false;
    write_jammed_leaving(house, span_of(5, 9));
    house->routines[0].expects = 0;
    assert_int_equal(answer_of(house).promise, PROOF_TROUBLE);
    write_jammed_leaving(house, span_of(200, 200));
    const struct proof_answer refused = answer_of(house);
    assert_int_equal(refused.promise, PROOF_REFUSED);
    assert_int_equal(refused.culprit, PANEL_WHY_FAULT);
    house->site.settings.faults = SITE_FAULT_ACKNOWLEDGE;
    assert_int_equal(answer_of(house).verdict, PROOF_GOES_WELL);
    free(house);
}

/* Not noticed (`jamming-noticed: no`), it is no trouble and refuses nothing; what is sent is lost all the same. */
static void jamming_that_nobody_notices_still_jams(void **state) {
    (void)state;
    struct house *house = malloc(sizeof *house);
    assert_non_null(house);
    build(house);
    house->site.settings.auto_set_at_s = -1;
    house->site.settings.jamming_noticed = false;
    write_jammed_leaving(house, span_of(12, 40));
    house->routines[0].expects = 0;
    const struct proof_answer lost = answer_of(house);
    assert_int_equal(lost.promise, PROOF_REFUSED);
    assert_int_equal(lost.culprit, PANEL_WHY_NOT_READY);
    house->profiles[0].radio = false;
    write_jammed_leaving(house, span_of(200, 200)); /* it lasts beyond the request */
    house->routines[0].expects = 0;
    assert_int_equal(answer_of(house).verdict, PROOF_GOES_WELL);
    free(house);
}

/* The father comes home with a fob. */
static void a_fob_is_not_heard_while_jammed(void **state) {
    (void)state;
    struct house *house = malloc(sizeof *house);
    assert_non_null(house);
    build(house);
    house->site.settings.auto_set_at_s = -1;
    house->profiles[0].radio = false;
    for (int jammed = 0; jammed < 2; jammed++) {
        write_step(house, 0, DRIVER, jammed ? SITE_ACT_JAMMED : SITE_ACT_WAIT, SITE_NONE);
        write_step(house, 1, FATHER, SITE_ACT_COME, FRONT_WAY);
        house->steps[1].in = span_of(10, 20);
        house->steps[1].has_in = true;
        write_step(house, 2, FATHER, SITE_ACT_UNSET, SITE_NONE);
        house->steps[2].use = SITE_USE_FOB;
        house->routines[0] = (struct site_routine){.name = say("comes home"),
                .steps = house->steps,
                .step_count = 3,
                .expects = SITE_EXPECT_TROUBLE};
        house->routines[0].starts[HOUSE] = (struct site_start){.set = true, .mode = SITE_MODE_FULL};
        const struct proof_answer answer = answer_of(house);
        assert_int_equal(answer.promise, jammed ? PROOF_SIREN : PROOF_KEPT);
        assert_int_equal(answer.culprit, jammed ? PANEL_WHY_ENTRY_OVER : PANEL_WHY_NONE);
    }
    free(house);
}

/* One course of the one written routine, told: whether the line of that step says that it was too short an opening. */
static bool is_told_too_short(struct house *house, size_t step) {
    struct counted counted = {.left = -1};
    const struct pages pages = {.get = get_page, .give = give_page, .context = &counted};
    struct arena arena;
    struct problem problem = {0};
    const struct proof_line *lines = NULL;
    size_t count = 0;
    bool told = false;
    arena_init(&arena, pages, 0);
    struct proof_routine *routine = ARENA_NEW(&arena, struct proof_routine);
    assert_non_null(routine);
    assert_true(proof_unfold(&house->site, &house->routines[0], routine, &problem).good);
    assert_true(proof_tell(
            &house->site, NULL, routine, NULL, PROOF_MIDDLING, &arena, &lines, &count, &problem)
                        .good);
    for (size_t i = 0; i < count; i++) {
        const bool is_it = lines[i].kind == PROOF_LINE_ACT && lines[i].step == step;
        assert_true(!is_it || lines[i].moved);
        told = told || (is_it && lines[i].too_short);
    }
    arena_finish(&arena);
    return told;
}

/* page: "loop response": an opening of less is not seen, and the story says so. */
static void an_opening_is_too_short_to_be_seen(void **state) {
    (void)state;
    struct house *house = malloc(sizeof *house);
    assert_non_null(house);
    build(house);
    house->site.settings.auto_set_at_s = -1;
    house->zones[Z_FRONT].loop_response_ms = 2000;
    for (int32_t open_s = 1; open_s <= 3; open_s += 2) {
        write_opening(house, SITE_MESSAGE_ARRIVES);
        write_step(house, 1, DRIVER, SITE_ACT_CLOSE, SITE_NONE);
        house->steps[1].door = FRONT;
        house->steps[1].in = span_of(open_s, open_s);
        house->steps[1].has_in = true;
        house->routines[0].step_count = 2;
        const bool unseen = open_s < 2;
        assert_int_equal(answer_of(house).promise, unseen ? PROOF_KEPT : PROOF_SIREN);
        assert_false(is_told_too_short(house, 0));
        assert_int_equal(is_told_too_short(house, 1), unseen);
    }
    free(house);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(a_lost_closing_is_a_refusal),
            cmocka_unit_test(a_wire_loses_nothing),
            cmocka_unit_test(a_lost_opening_goes_unheard),
            cmocka_unit_test(a_closing_while_jammed_goes_unheard),
            cmocka_unit_test(jamming_is_a_trouble_and_a_fault),
            cmocka_unit_test(jamming_that_nobody_notices_still_jams),
            cmocka_unit_test(a_fob_is_not_heard_while_jammed),
            cmocka_unit_test(an_opening_is_too_short_to_be_seen),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
