/* From what is written to single acts: ways, habits, clock times, conditions, limits, references to nothing. */
#include "tiny_house.h"

enum {
    HALF_PAST_SEVEN_S = 27000,
    EIGHT_S = 28800,
    TEN_TO_MIDNIGHT_S = 85800,
    TEN_PAST_MIDNIGHT_S = 600
};

static const struct proof_routine *unfold(struct tiny *tiny) {
    tiny->problem = (struct problem){0};
    if (!proof_unfold(&tiny->site, &tiny->routines[0], &tiny->routine, &tiny->problem).good) {
        fail_msg("%s", tiny->problem.text);
    }
    return &tiny->routine;
}

static void assert_refused(struct tiny *tiny, enum problem_kind kind, const char *word) {
    tiny->problem = (struct problem){0};
    assert_false(
            proof_unfold(&tiny->site, &tiny->routines[0], &tiny->routine, &tiny->problem).good);
    assert_int_equal(tiny->problem.kind, kind);
    assert_non_null(strstr(tiny->problem.text, word));
}

static void assert_step(
        const struct proof_step *step, enum site_act act, int32_t low_s, int32_t high_s) {
    assert_int_equal(step->act, act);
    assert_int_equal(step->in.low_s, low_s);
    assert_int_equal(step->in.high_s, high_s);
}

/* A door, a passage with a detector, an inner door, a keypad. */
static void build(struct tiny *tiny) {
    const int contact = tiny_profile(tiny, SITE_CONTACT);
    const int front = tiny_door(tiny);
    const int inner = tiny_door(tiny);
    tiny_zone(tiny, SITE_ENTRY, front, contact);
    tiny_zone(tiny, SITE_FOLLOWER, SITE_NONE, tiny_profile(tiny, SITE_MOTION));
    tiny_person(tiny, 1);
    tiny_person(tiny, 1);
    tiny->ways[0] = (struct site_way){.name = text_of("front way"),
            .door = front,
            .keypad = 0,
            .closes = span_of(2, 4),
            .legs = {{.zone = 1, .door = SITE_NONE, .in = span_of(1, 3)},
                    {.zone = SITE_NONE, .door = inner, .in = span_of(5, 9)},
                    {.zone = SITE_NONE, .door = SITE_NONE, .in = span_of(10, 12)}},
            .leg_count = 3,
            .last = span_of(6, 7)};
    tiny->site.way_count = 1;
}

static void a_way_in_opens_closes_passes_and_walks(void **state) {
    struct tiny *tiny = *state;
    build(tiny);
    tiny_step(tiny, 0, 100, 200, SITE_ACT_COME)->way = 0;
    const struct proof_routine *routine = unfold(tiny);
    assert_int_equal(routine->step_count, 7);
    assert_step(&routine->steps[0], SITE_ACT_OPEN, 100, 200);
    assert_int_equal(routine->steps[0].door, 0);
    assert_step(&routine->steps[1], SITE_ACT_CLOSE, 2, 4);
    assert_int_equal(routine->steps[1].door, 0);
    assert_step(&routine->steps[2], SITE_ACT_PASS, 1, 3);
    assert_int_equal(routine->steps[2].zone, 1);
    assert_step(&routine->steps[3], SITE_ACT_OPEN, 5, 9);
    assert_int_equal(routine->steps[3].door, 1);
    assert_int_equal(routine->steps[4].act, SITE_ACT_CLOSE);
    assert_step(&routine->steps[5], SITE_ACT_WAIT, 10, 12);
    assert_step(&routine->steps[6], SITE_ACT_WAIT, 6, 7);
}

static void a_way_out_is_the_same_backward(void **state) {
    struct tiny *tiny = *state;
    build(tiny);
    tiny_step(tiny, 0, 100, 200, SITE_ACT_GO)->way = 0;
    const struct proof_routine *routine = unfold(tiny);
    assert_int_equal(routine->step_count, 6);
    assert_step(&routine->steps[0], SITE_ACT_WAIT, 106, 207);
    assert_step(&routine->steps[1], SITE_ACT_OPEN, 10, 12);
    assert_int_equal(routine->steps[1].door, 1);
    assert_int_equal(routine->steps[2].act, SITE_ACT_CLOSE);
    assert_step(&routine->steps[3], SITE_ACT_PASS, 5, 9);
    assert_step(&routine->steps[4], SITE_ACT_OPEN, 1, 3);
    assert_int_equal(routine->steps[4].door, 0);
    assert_step(&routine->steps[5], SITE_ACT_CLOSE, 2, 4);
}

static void a_way_without_a_door_ends_in_a_walk(void **state) {
    struct tiny *tiny = *state;
    build(tiny);
    tiny->ways[0].door = SITE_NONE;
    tiny->ways[0].leg_count = 1;
    tiny_step(tiny, 0, 10, 20, SITE_ACT_COME)->way = 0;
    tiny_step(tiny, 0, 10, 20, SITE_ACT_GO)->way = 0;
    const struct proof_routine *routine = unfold(tiny);
    assert_int_equal(routine->step_count, 4);
    assert_step(&routine->steps[0], SITE_ACT_PASS, 11, 23);
    assert_step(&routine->steps[1], SITE_ACT_WAIT, 6, 7);
    assert_step(&routine->steps[2], SITE_ACT_PASS, 16, 27);
    assert_step(&routine->steps[3], SITE_ACT_WAIT, 1, 3);
}

/* A walk sets out after `in` and is a step at its end; anybody else walks first and acts then. */
static void a_route_comes_before_its_step(void **state) {
    struct tiny *tiny = *state;
    build(tiny);
    const struct site_leg legs[] = {{.zone = 1, .door = SITE_NONE, .in = {1, 2}},
            {.zone = SITE_NONE, .door = 1, .in = {3, 5}}};
    const struct site_route route = {.legs = legs, .leg_count = 2, .last = {4, 7}};
    tiny_step(tiny, 0, 10, 20, SITE_ACT_WALK)->route = &route;
    struct site_step *opens = tiny_step(tiny, 0, 30, 40, SITE_ACT_OPEN);
    opens->route = &route;
    opens->door = 0;
    tiny_step(tiny, 0, 10, 20, SITE_ACT_WALK)->route = &(const struct site_route){.last = {6, 8}};
    const struct proof_routine *routine = unfold(tiny);
    assert_int_equal(routine->step_count, 9);
    assert_step(&routine->steps[0], SITE_ACT_PASS, 11, 22);
    assert_step(&routine->steps[1], SITE_ACT_OPEN, 3, 5);
    assert_int_equal(routine->steps[2].act, SITE_ACT_CLOSE);
    assert_step(&routine->steps[3], SITE_ACT_WALK, 4, 7);
    assert_step(&routine->steps[4], SITE_ACT_PASS, 1, 2);
    assert_step(&routine->steps[5], SITE_ACT_OPEN, 3, 5);
    assert_step(&routine->steps[7], SITE_ACT_OPEN, 34, 47);
    assert_int_equal(routine->steps[7].door, 0);
    assert_step(&routine->steps[8], SITE_ACT_WALK, 16, 28);
}

/* What is not written is the person's habit; keying is noticing and the code (dossier, 6.2). */
static void habits_fill_what_is_not_written(void **state) {
    struct tiny *tiny = *state;
    static const struct {
        enum site_act act;
        enum site_use use;
        struct span in;
    } rows[] = {
            {SITE_ACT_UNSET, SITE_USE_CODE, {4, 9}},
            {SITE_ACT_UNSET, SITE_USE_FOB, {1, 2}},
            {SITE_ACT_SET, SITE_USE_CODE, {3, 6}},
            {SITE_ACT_SET, SITE_USE_FOB, {1, 2}},
            {SITE_ACT_MISTYPE, SITE_USE_CODE, {4, 9}},
            {SITE_ACT_POSTPONE, SITE_USE_CODE, {3, 6}},
            {SITE_ACT_BYPASS, SITE_USE_CODE, {3, 6}},
            {SITE_ACT_OPEN, SITE_USE_CODE, {1, 3}},
            {SITE_ACT_PASS, SITE_USE_CODE, {1, 3}},
            {SITE_ACT_WAIT, SITE_USE_CODE, {0, 0}},
            {SITE_ACT_MAINS_LOST, SITE_USE_CODE, {0, 0}},
            {SITE_ACT_PATH_LOST, SITE_USE_CODE, {0, 0}},
            {SITE_ACT_PATH_BACK, SITE_USE_CODE, {0, 0}},
    };
    build(tiny);
    tiny_step(tiny, 0, 5, 5, SITE_ACT_WAIT);
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct site_step *step = tiny_step(tiny, 0, 0, 0, rows[i].act);
        step->use = rows[i].use;
        step->has_in = false;
        step->door = 0;
        step->zone = 1;
    }
    const struct proof_routine *routine = unfold(tiny);
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        assert_step(&routine->steps[i + 1], rows[i].act, rows[i].in.low_s, rows[i].in.high_s);
    }
}

/* Somebody's first act is at the beginning, but a code takes its seconds, and so does what reacts. */
static void a_first_act_is_at_once(void **state) {
    struct tiny *tiny = *state;
    build(tiny);
    tiny_opens(tiny, 0, 0, 0, 0)->has_in = false;
    tiny_unsets(tiny, 1, 0, 0)->has_in = false;
    assert_step(&unfold(tiny)->steps[0], SITE_ACT_OPEN, 0, 0);
    assert_step(&unfold(tiny)->steps[1], SITE_ACT_UNSET, 4, 9);
    tiny->steps[0][0].when = SITE_SIGN_CHIME;
    assert_step(&unfold(tiny)->steps[0], SITE_ACT_OPEN, 1, 3);
}

static struct site_step *at(struct tiny *tiny, int who, int32_t low_s, int32_t high_s) {
    struct site_step *step = tiny_opens(tiny, who, 0, 0, 0);
    step->has_in = false;
    step->has_at = true;
    step->at = span_of(low_s, high_s);
    return step;
}

static void clock_times_count_from_the_first(void **state) {
    struct tiny *tiny = *state;
    build(tiny);
    assert_int_equal(unfold(tiny)->begins_s, -1);
    at(tiny, 0, HALF_PAST_SEVEN_S, HALF_PAST_SEVEN_S + 60);
    at(tiny, 1, EIGHT_S, EIGHT_S + 120);
    const struct proof_routine *routine = unfold(tiny);
    assert_int_equal(routine->begins_s, HALF_PAST_SEVEN_S);
    assert_step(&routine->steps[0], SITE_ACT_OPEN, 0, 60);
    assert_true(routine->steps[0].absolute);
    assert_step(&routine->steps[1], SITE_ACT_OPEN, 1800, 1920);
}

/* Written second, but half an hour before: not 23 and a half hours later. */
static void the_first_written_need_not_be_the_earliest(void **state) {
    struct tiny *tiny = *state;
    build(tiny);
    at(tiny, 0, EIGHT_S, EIGHT_S);
    at(tiny, 1, HALF_PAST_SEVEN_S, HALF_PAST_SEVEN_S);
    const struct proof_routine *routine = unfold(tiny);
    assert_int_equal(routine->begins_s, HALF_PAST_SEVEN_S);
    assert_step(&routine->steps[0], SITE_ACT_OPEN, 1800, 1800);
    assert_step(&routine->steps[1], SITE_ACT_OPEN, 0, 0);
}

static void clock_times_go_past_midnight(void **state) {
    struct tiny *tiny = *state;
    build(tiny);
    at(tiny, 0, TEN_TO_MIDNIGHT_S, TEN_PAST_MIDNIGHT_S);
    at(tiny, 1, TEN_PAST_MIDNIGHT_S, TEN_PAST_MIDNIGHT_S);
    const struct proof_routine *routine = unfold(tiny);
    assert_int_equal(routine->begins_s, TEN_TO_MIDNIGHT_S);
    assert_step(&routine->steps[0], SITE_ACT_OPEN, 0, 1200);
    assert_step(&routine->steps[1], SITE_ACT_OPEN, 1200, 1200);
}

/* A condition is the head's; the rest of the way is left out with it, and what comes after waits for its last act. */
static void conditions_belong_to_the_whole_way(void **state) {
    struct tiny *tiny = *state;
    build(tiny);
    struct site_step *comes = tiny_step(tiny, 0, 0, 0, SITE_ACT_COME);
    comes->way = 0;
    comes->maybe = true;
    comes->if_sign = SITE_SIGN_UNSET;
    struct site_step *after = tiny_unsets(tiny, 1, 1, 2);
    after->after_step = 0;
    const struct proof_routine *routine = unfold(tiny);
    assert_int_equal(routine->steps[0].group, 6);
    assert_true(routine->steps[0].maybe);
    assert_int_equal(routine->steps[0].if_sign, SITE_SIGN_UNSET);
    for (size_t i = 1; i < 7; i++) {
        assert_false(routine->steps[i].maybe);
        assert_int_equal(routine->steps[i].if_sign, SITE_SIGN_NONE);
        assert_int_equal(routine->steps[i].written, 0);
    }
    assert_int_equal(routine->steps[7].after, 6);
    assert_int_equal(routine->steps[7].group, 0);
    assert_int_equal(routine->steps[0].after, SITE_NONE);
}

/* "door open" looks at a door; it does not change which doors the way uses. */
static void a_sign_of_a_door_moves_no_other(void **state) {
    struct tiny *tiny = *state;
    build(tiny);
    struct site_step *comes = tiny_step(tiny, 0, 0, 0, SITE_ACT_COME);
    comes->way = 0;
    comes->if_sign = SITE_SIGN_DOOR_OPEN;
    comes->if_not = true;
    comes->door = 1;
    const struct proof_routine *routine = unfold(tiny);
    assert_int_equal(routine->steps[0].door, 0);
    tiny_starts_set(tiny, 0, SITE_MODE_FULL);
    assert_breaks(tiny, PROOF_SIREN);
    tiny->routines[0].doors_open = 1U << 1;
    assert_goes_well(tiny);
    comes->door = SITE_NONE;
    assert_refused(tiny, PROBLEM_MISSING, "door");
}

static void too_much_is_refused(void **state) {
    struct tiny *tiny = *state;
    build(tiny);
    for (size_t i = 0; i < PROOF_STEP_MAX / 7; i++) {
        tiny_step(tiny, 0, 0, 0, SITE_ACT_COME)->way = 0;
    }
    tiny_step(tiny, 0, 0, 0, SITE_ACT_WAIT);
    tiny_step(tiny, 0, 0, 0, SITE_ACT_WAIT);
    tiny_step(tiny, 0, 0, 0, SITE_ACT_WAIT);
    assert_int_equal(unfold(tiny)->step_count, PROOF_STEP_MAX);
    tiny_step(tiny, 0, 0, 0, SITE_ACT_WAIT);
    assert_refused(tiny, PROBLEM_LIMIT, "192 acts");
    tiny_again(tiny);
    for (size_t i = 0; i < SITE_STEP_MAX; i++) {
        tiny_step(tiny, 0, 0, 0, SITE_ACT_WAIT);
    }
    assert_int_equal(unfold(tiny)->step_count, SITE_STEP_MAX);
    tiny_step(tiny, 0, 0, 0, SITE_ACT_WAIT);
    assert_refused(tiny, PROBLEM_LIMIT, "64 steps");
}

static void references_to_nothing_are_refused(void **state) {
    struct tiny *tiny = *state;
    build(tiny);
    struct site_step *step = tiny_opens(tiny, 0, 0, 0, 0);
    const struct site_step good = *step;
    (void)unfold(tiny);
#define ASSERT_LACKS(field, value, word)                                                           \
    *step = good;                                                                                  \
    step->field = (value);                                                                         \
    assert_refused(tiny, PROBLEM_MISSING, word)
    ASSERT_LACKS(who, 2, "person");
    ASSERT_LACKS(who, SITE_NONE, "person");
    ASSERT_LACKS(door, 2, "door");
    ASSERT_LACKS(door, SITE_NONE, "door");
    ASSERT_LACKS(zone, 2, "zone");
    ASSERT_LACKS(keypad, 1, "keypad");
    ASSERT_LACKS(after_step, 1, "comes after");
    ASSERT_LACKS(after_step, -2, "comes after");
    ASSERT_LACKS(when_area, 1, "area");
    ASSERT_LACKS(if_area, 1, "area");
    ASSERT_LACKS(act, SITE_ACT_PASS, "zone");
    ASSERT_LACKS(act, SITE_ACT_PRESS, "zone");
    ASSERT_LACKS(act, SITE_ACT_BYPASS, "zone");
    ASSERT_LACKS(act, SITE_ACT_TAMPER, "zone");
    ASSERT_LACKS(act, SITE_ACT_COME, "way");
    ASSERT_LACKS(act, SITE_ACT_GO, "way");
    *step = good;
    step->mode = SITE_NONE; /* an opening needs none */
    (void)unfold(tiny);
    step->act = SITE_ACT_SET;
    assert_refused(tiny, PROBLEM_MISSING, "mode");
    step->mode = 3;
    assert_refused(tiny, PROBLEM_MISSING, "mode");
    step->mode = 2;
    (void)unfold(tiny);
#undef ASSERT_LACKS
}

#define WITH_A_HOUSE(test) cmocka_unit_test_setup_teardown(test, tiny_setup, tiny_teardown)

int main(void) {
    const struct CMUnitTest tests[] = {
            WITH_A_HOUSE(a_way_in_opens_closes_passes_and_walks),
            WITH_A_HOUSE(a_way_out_is_the_same_backward),
            WITH_A_HOUSE(a_way_without_a_door_ends_in_a_walk),
            WITH_A_HOUSE(a_route_comes_before_its_step),
            WITH_A_HOUSE(habits_fill_what_is_not_written),
            WITH_A_HOUSE(a_first_act_is_at_once),
            WITH_A_HOUSE(clock_times_count_from_the_first),
            WITH_A_HOUSE(the_first_written_need_not_be_the_earliest),
            WITH_A_HOUSE(clock_times_go_past_midnight),
            WITH_A_HOUSE(conditions_belong_to_the_whole_way),
            WITH_A_HOUSE(a_sign_of_a_door_moves_no_other),
            WITH_A_HOUSE(too_much_is_refused),
            WITH_A_HOUSE(references_to_nothing_are_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
