/* A radio message that does not arrive. The page names it among the accidents; what follows from it: a lost "closed"
 * leaves the area not ready, a lost "open" goes unheard. */
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

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(a_lost_closing_is_a_refusal),
            cmocka_unit_test(a_wire_loses_nothing),
            cmocka_unit_test(a_lost_opening_goes_unheard),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
