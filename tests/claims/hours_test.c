/* Hours of codes and fobs, to the second: design page, "Users have areas, modes, hours", "The calendar is exact" and
 * "Same second". The house is invented. */
#include "tiny_house.h"

enum { FRONT, Z_FRONT = 0, MINUTE_S = 60, HOUR_S = 3600 };

/* The area is set; somebody with these hours opens the front door at this time of day and keys so long after it. */
static void comes(struct tiny *tiny, struct span hours, int32_t opens_s, struct span keys_after) {
    tiny_again(tiny);
    tiny_starts_set(tiny, 0, SITE_MODE_FULL);
    tiny->people[0].has_hours = true;
    tiny->people[0].hours = hours;
    struct site_step *opens = tiny_opens(tiny, 0, 0, 0, FRONT);
    opens->has_at = true;
    opens->at = span_of(opens_s, opens_s);
    tiny_unsets(tiny, 0, keys_after.low_s, keys_after.high_s);
}

static void build(struct tiny *tiny) {
    tiny_zone(tiny, SITE_ENTRY, tiny_door(tiny), tiny_profile(tiny, SITE_CONTACT));
    tiny_person(tiny, 1);
}

static void assert_turned_away(struct tiny *tiny, bool always) {
    const struct proof_answer answer = tiny_ask(tiny, NULL);
    assert_int_equal(answer.verdict, PROOF_GOES_WRONG);
    assert_int_equal(answer.promise, PROOF_TURNED_AWAY);
    assert_int_equal(answer.culprit, PANEL_WHY_HOURS);
    assert_int_equal(answer.always, always);
    assert_false(answer.needs_tolerance);
}

/* The border is an instant of the clock: a second before it, on it in either order, a second after it. */
static void the_hours_begin(void **state) {
    struct tiny *tiny = *state;
    const struct span hours = span_of(7 * HOUR_S, 19 * HOUR_S);
    const int32_t ten_before_s = 7 * HOUR_S - 10;
    build(tiny);
    comes(tiny, hours, ten_before_s, span_of(9, 9));
    assert_turned_away(tiny, true);
    comes(tiny, hours, ten_before_s, span_of(10, 10));
    assert_turned_away(tiny, false);
    comes(tiny, hours, ten_before_s, span_of(11, 11));
    assert_goes_well(tiny);
    comes(tiny, hours, ten_before_s, span_of(1, 20));
    assert_turned_away(tiny, false);
}

static void the_hours_end(void **state) {
    struct tiny *tiny = *state;
    const struct span hours = span_of(7 * HOUR_S, 19 * HOUR_S);
    const int32_t ten_before_s = 19 * HOUR_S - 10;
    build(tiny);
    comes(tiny, hours, ten_before_s, span_of(9, 9));
    assert_goes_well(tiny);
    comes(tiny, hours, ten_before_s, span_of(10, 10));
    assert_turned_away(tiny, false);
    comes(tiny, hours, ten_before_s, span_of(11, 11));
    assert_turned_away(tiny, true);
}

/* A routine that begins on the border itself: both sides of it are tried. */
static void a_routine_begins_on_the_border(void **state) {
    struct tiny *tiny = *state;
    build(tiny);
    for (int end = 0; end < 2; end++) {
        const struct span hours =
                end ? span_of(HOUR_S, 7 * HOUR_S) : span_of(7 * HOUR_S, 8 * HOUR_S);
        comes(tiny, hours, 7 * HOUR_S, span_of(0, 0));
        assert_turned_away(tiny, false);
        comes(tiny, hours, 7 * HOUR_S, span_of(1, 1));
        if (end) {
            assert_turned_away(tiny, true);
        } else {
            assert_goes_well(tiny);
        }
    }
}

static void hours_go_past_midnight(void **state) {
    struct tiny *tiny = *state;
    const struct span night = span_of(22 * HOUR_S, 30 * HOUR_S);
    build(tiny);
    comes(tiny, night, 24 * HOUR_S - 5, span_of(1, 10));
    assert_goes_well(tiny);
    comes(tiny, night, 2 * HOUR_S, span_of(1, 10));
    assert_goes_well(tiny);
    comes(tiny, night, 6 * HOUR_S - 5, span_of(6, 6));
    assert_turned_away(tiny, true);
    comes(tiny, night, 22 * HOUR_S - 5, span_of(4, 4));
    assert_turned_away(tiny, true);
    comes(tiny, night, 22 * HOUR_S - 5, span_of(6, 6));
    assert_goes_well(tiny);
}

/* Every day anew. */
static void the_next_day_has_the_same_hours(void **state) {
    struct tiny *tiny = *state;
    const struct span hours = span_of(7 * HOUR_S, 18 * HOUR_S);
    static const struct {
        int32_t waits_h;
        bool taken;
    } tries[] = {{5, false}, {13, false}, {14, true}, {23, true}, {25, false}, {38, true},
            {24 * 9 + 14, true}, {24 * 9 + 13, false}};
    build(tiny);
    for (size_t i = 0; i < sizeof tries / sizeof tries[0]; i++) {
        tiny_again(tiny);
        struct site_step *waits = tiny_step(tiny, 0, 0, 0, SITE_ACT_WAIT);
        waits->has_at = true;
        waits->at = span_of(17 * HOUR_S + 30 * MINUTE_S, 17 * HOUR_S + 30 * MINUTE_S);
        tiny_starts_set(tiny, 0, SITE_MODE_FULL);
        tiny->people[0].has_hours = true;
        tiny->people[0].hours = hours;
        const int32_t waits_s = tries[i].waits_h * HOUR_S;
        tiny_opens(tiny, 0, waits_s, waits_s, FRONT);
        tiny_unsets(tiny, 0, 1, 20);
        if (tries[i].taken) {
            assert_goes_well(tiny);
        } else {
            assert_turned_away(tiny, true);
        }
    }
}

/* The page: a step without a time of day has no hours to be held to; that is said, not guessed. */
static void without_a_time_of_day_hours_are_left_out(void **state) {
    struct tiny *tiny = *state;
    build(tiny);
    comes(tiny, span_of(7 * HOUR_S, 19 * HOUR_S), 3 * HOUR_S, span_of(1, 10));
    assert_turned_away(tiny, true);
    assert_false(proof_leaves_hours_out(&tiny->site, &tiny->routine));
    tiny->steps[0][0].has_at = false;
    assert_goes_well(tiny);
    assert_true(proof_leaves_hours_out(&tiny->site, &tiny->routine));
    tiny->people[0].has_hours = false;
    assert_goes_well(tiny);
    assert_false(proof_leaves_hours_out(&tiny->site, &tiny->routine));
}

/* Whoever waits for what never comes does not keep the calendar going for ever; whoever waits for what comes late meets
 * the hours of then. */
static void hours_of_somebody_who_waits(void **state) {
    struct tiny *tiny = *state;
    build(tiny);
    const int guard = tiny_person(tiny, 1);
    comes(tiny, span_of(7 * HOUR_S, 19 * HOUR_S), 18 * HOUR_S, span_of(5, 10));
    tiny->people[guard] = tiny->people[0];
    tiny->people[guard].hours = span_of(8 * HOUR_S, 18 * HOUR_S + 30);
    struct site_step *waits = tiny_unsets(tiny, guard, 1, 2);
    waits->when = SITE_SIGN_SIREN;
    assert_goes_well(tiny);
    waits->when = SITE_SIGN_UNSET; /* about 18:00:10: his hours end at 18:00:30 */
    assert_goes_well(tiny);
    waits->in = span_of(5, 40);
    assert_turned_away(tiny, false);
    waits->in = span_of(40, 60);
    assert_turned_away(tiny, true);
}

/* Hours are read where the code is; a motion detector that is passed asks nobody. */
static void nobody_keys_after_the_border(void **state) {
    struct tiny *tiny = *state;
    build(tiny);
    comes(tiny, span_of(7 * HOUR_S, 19 * HOUR_S), 19 * HOUR_S - 60, span_of(5, 10));
    tiny_opens(tiny, 0, 100, 7200, FRONT);
    tiny_closes(tiny, 0, 1, 3, FRONT);
    assert_goes_well(tiny);
    tiny_sets(tiny, 0, 1, 3, SITE_MODE_FULL);
    assert_turned_away(tiny, true);
}

#define WITH_A_HOUSE(test) cmocka_unit_test_setup_teardown(test, tiny_setup, tiny_teardown)

int main(void) {
    const struct CMUnitTest tests[] = {
            WITH_A_HOUSE(the_hours_begin),
            WITH_A_HOUSE(the_hours_end),
            WITH_A_HOUSE(a_routine_begins_on_the_border),
            WITH_A_HOUSE(hours_go_past_midnight),
            WITH_A_HOUSE(the_next_day_has_the_same_hours),
            WITH_A_HOUSE(without_a_time_of_day_hours_are_left_out),
            WITH_A_HOUSE(hours_of_somebody_who_waits),
            WITH_A_HOUSE(nobody_keys_after_the_border),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
