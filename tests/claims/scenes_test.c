/* How people, doors, devices and the panel act on each other: scenes of a few steps whose end a person can
 * work out. Each
 * mistake of the dossier that needs exploration over time is one of them (common practice throughout). */
#include "tiny_house.h"

enum { MINUTE_S = 60, HOUR_S = 3600 };

/* ---- devices ---------------------------------------------------------------------------------------------------- */

/* Dossier: hall follower beats the radio door contact by a second: siren now and then on return. */
static void a_follower_that_overtakes_its_door_is_heard(void **state) {
    struct tiny *tiny = *state;
    const int contact = tiny_profile(tiny, SITE_CONTACT);
    const int front = tiny_door(tiny);
    tiny_zone(tiny, SITE_ENTRY, front, contact);
    tiny_zone(tiny, SITE_FOLLOWER, SITE_NONE, tiny_profile(tiny, SITE_MOTION));
    tiny_person(tiny, 1);
    tiny_starts_set(tiny, 0, SITE_MODE_FULL);
    tiny_opens(tiny, 0, 0, 5, front);
    tiny_passes(tiny, 0, 1, 2, 1);
    tiny_unsets(tiny, 0, 5, 10);
    assert_goes_well(tiny);
    tiny->profiles[contact].latency = span_of(0, 2);
    const struct proof_answer answer = tiny_ask(tiny, NULL);
    assert_int_equal(answer.promise, PROOF_SIREN);
    assert_int_equal(answer.culprit_zone, 1);
    assert_int_equal(answer.culprit, PANEL_WHY_FOLLOWER_ALONE);
    assert_false(answer.always);
    assert_false(answer.needs_tolerance);
    assert_false(answer.has_range); /* no timer ended */
    /* a hold of 2 s is 1..3 s by the panel's clock, and the door may be told 1 s after the motion */
    tiny->zones[1].hold_s = 2;
    assert_breaks(tiny, PROOF_SIREN); /* a tie */
    tiny_closes(tiny, 0, 1, 2, front);
    assert_false(tiny_ask(tiny, NULL)
                         .has_range); /* the door was opened in time: no act of hers was late */
    tiny->zones[1].hold_s = 3;
    assert_goes_well(tiny);
}

/* Opened and closed before the message left: the panel still learns of both, in order. */
static void a_short_opening_is_told_whole(void **state) {
    struct tiny *tiny = *state;
    const int contact = tiny_profile(tiny, SITE_CONTACT);
    const int window = tiny_door(tiny);
    tiny_zone(tiny, SITE_PERIMETER, window, contact);
    tiny->profiles[contact].latency = span_of(5, 5);
    tiny_person(tiny, 1);
    tiny_starts_set(tiny, 0, SITE_MODE_FULL);
    tiny_opens(tiny, 0, 0, 0, window);
    tiny_closes(tiny, 0, 1, 1, window);
    const struct proof_answer answer = tiny_ask(tiny, NULL);
    assert_int_equal(answer.promise, PROOF_SIREN);
    assert_int_equal(answer.story[answer.story_count - 1].at_s, 5);
    assert_true(answer.always);
}

/* A message that is still under way when everything is unset is no calm: a 24-hour window. */
static void calm_waits_for_messages_under_way(void **state) {
    struct tiny *tiny = *state;
    const int contact = tiny_profile(tiny, SITE_CONTACT);
    const int front = tiny_door(tiny);
    const int window = tiny_door(tiny);
    tiny_zone(tiny, SITE_ENTRY, front, contact);
    tiny_zone(tiny, SITE_ALWAYS, window, contact);
    tiny->profiles[contact].latency = span_of(2, 2);
    tiny_person(tiny, 1);
    tiny_opens(tiny, 0, 10, 20, window);
    assert_breaks(tiny, PROOF_SIREN);
    const struct proof_options restless = {.no_calm = true};
    assert_int_equal(tiny_verdict(tiny, &restless), PROOF_GOES_WRONG);
}

/* A battery motion detector holds its trip and is blind for minutes after it. */
static void a_detector_is_blind_after_a_trip(void **state) {
    struct tiny *tiny = *state;
    const int front = tiny_door(tiny);
    const int motion = tiny_profile(tiny, SITE_MOTION);
    tiny_zone(tiny, SITE_ENTRY, front, tiny_profile(tiny, SITE_CONTACT));
    const int room = tiny_zone(tiny, SITE_INTERIOR, SITE_NONE, motion);
    tiny->profiles[motion].hold = span_of(2, 4);
    tiny->profiles[motion].sleep = span_of(180, 180);
    tiny_person(tiny, 1);
    tiny_person(tiny, 1);
    /* trips at 0 s while unset; set at once at 100 s by fob; the second pass is not seen before 180 s */
    tiny_passes(tiny, 0, 0, 0, room);
    struct site_step *sets = tiny_sets(tiny, 0, 100, 100, SITE_MODE_FULL);
    sets->use = SITE_USE_FOB;
    tiny_passes(tiny, 0, 79, 79, room);
    assert_goes_well(tiny);
    tiny->steps[0][2].in = span_of(81, 81);
    assert_breaks(tiny, PROOF_SIREN);
    tiny->steps[0][2].in = span_of(80, 80);
    const struct proof_answer tie = tiny_ask(tiny, NULL); /* either order is explored */
    assert_int_equal(tie.verdict, PROOF_GOES_WRONG);
    assert_false(tie.always);
}

/* A trip held from before setting is no new trip; its detector counts again once it has let go. */
static void a_held_trip_is_one_trip(void **state) {
    struct tiny *tiny = *state;
    const int motion = tiny_profile(tiny, SITE_MOTION);
    const int room = tiny_zone(tiny, SITE_INTERIOR, SITE_NONE, motion);
    tiny->profiles[motion].hold = span_of(30, 30);
    tiny_person(tiny, 1);
    tiny_passes(tiny, 0, 0, 0, room);
    struct site_step *sets = tiny_sets(tiny, 0, 10, 10, SITE_MODE_FULL);
    sets->use = SITE_USE_FOB;
    tiny_passes(tiny, 0, 10, 10, room); /* 20 s: still tripped, holds on until 50 s */
    assert_goes_well(tiny);
    tiny_passes(tiny, 0, 29, 29, room);
    assert_goes_well(tiny);
    tiny_passes(tiny, 0, 31, 31, room);
    assert_breaks(tiny, PROOF_SIREN);
}

/* A door that falls shut is a blow to the shock detector on it; one opening is told to every contact on it. */
static void one_door_moves_all_that_is_on_it(void **state) {
    struct tiny *tiny = *state;
    const int contact = tiny_profile(tiny, SITE_CONTACT);
    const int shock = tiny_profile(tiny, SITE_SHOCK);
    const int front = tiny_door(tiny);
    tiny_zone(tiny, SITE_ENTRY, front, contact);
    const int blow = tiny_zone(tiny, SITE_PERIMETER, front, shock);
    tiny_person(tiny, 1);
    tiny_starts_set(tiny, 0, SITE_MODE_FULL);
    tiny_opens(tiny, 0, 0, 0, front);
    tiny_unsets(tiny, 0, 10, 10);
    assert_goes_well(tiny);
    tiny->steps[0][1] = tiny->steps[0][0];
    tiny->steps[0][1].act = SITE_ACT_CLOSE;
    tiny_unsets(tiny, 0, 10, 10);
    const struct proof_answer slams = tiny_ask(tiny, NULL);
    assert_int_equal(slams.promise, PROOF_SIREN);
    assert_int_equal(slams.culprit_zone, blow);
    /* dossier: single-pulse shock detector on a slamming door; two pulses forgive one slam */
    tiny->zones[blow].pulse_count = 2;
    assert_goes_well(tiny);
    tiny->zones[blow].pulse_count = 1;
    tiny->zones[blow].in[SITE_MODE_FULL] = SITE_OUT;
    const int second = tiny_zone(tiny, SITE_PERIMETER, front, contact);
    const struct proof_answer twins = tiny_ask(tiny, NULL);
    assert_int_equal(twins.culprit_zone, second);
    assert_int_equal(twins.culprit, PANEL_WHY_OFF_ROUTE);
}

/* Nor does a closed door fall shut. */
static void a_closed_door_does_not_slam(void **state) {
    struct tiny *tiny = *state;
    const int front = tiny_door(tiny);
    tiny_zone(tiny, SITE_PERIMETER, front, tiny_profile(tiny, SITE_SHOCK));
    tiny_person(tiny, 1);
    tiny_starts_set(tiny, 0, SITE_MODE_FULL);
    tiny_closes(tiny, 0, 0, 5, front);
    assert_goes_well(tiny);
    tiny->routines[0].doors_open = 1U << front;
    assert_breaks(tiny, PROOF_SIREN);
}

/* Two people at one door: who finds it open does not open it again. */
static void an_open_door_does_not_open(void **state) {
    struct tiny *tiny = *state;
    const int window = tiny_door(tiny);
    tiny_zone(tiny, SITE_ALWAYS, window, tiny_profile(tiny, SITE_CONTACT));
    tiny_person(tiny, 1);
    tiny->routines[0].doors_open = 1U << window;
    tiny_opens(tiny, 0, 0, 0, window);
    assert_goes_well(tiny);
    tiny_closes(tiny, 0, 1, 1, window);
    assert_goes_well(tiny);
    tiny_opens(tiny, 0, 1, 1, window);
    assert_breaks(tiny, PROOF_SIREN);
}

/* ---- steps that react ------------------------------------------------------------------------------------------- */

static void a_when_waits_and_an_if_looks_once(void **state) {
    struct tiny *tiny = *state;
    const int front = tiny_door(tiny);
    const int window = tiny_door(tiny);
    const int contact = tiny_profile(tiny, SITE_CONTACT);
    tiny_zone(tiny, SITE_ENTRY, front, contact);
    tiny_zone(tiny, SITE_PERIMETER, window, contact);
    tiny_person(tiny, 1);
    tiny_person(tiny, 1);
    tiny_starts_set(tiny, 0, SITE_MODE_FULL);
    /* the second person keys the code when the entry tone sounds, however late the first one comes */
    tiny_opens(tiny, 0, 0, HOUR_S, front);
    struct site_step *hears = tiny_unsets(tiny, 1, 5, 20);
    hears->when = SITE_SIGN_ENTRY_TONE;
    assert_goes_well(tiny);
    hears->in = span_of(5, 27);
    assert_breaks(tiny, PROOF_SIREN);
    hears->in = span_of(605, 620);
    hears->when = SITE_SIGN_NONE; /* without the reaction it refutes itself */
    assert_breaks(tiny, PROOF_SIREN);
    /* not ready: closes the window before setting */
    tiny_again(tiny);
    tiny->routines[0].doors_open = 1U << window;
    struct site_step *closes = tiny_closes(tiny, 0, 0, 5, window);
    closes->if_sign = SITE_SIGN_NOT_READY;
    tiny_sets(tiny, 0, 3, 5, SITE_MODE_FULL);
    assert_goes_well(tiny);
    closes->if_not = true;
    assert_breaks(tiny, PROOF_REFUSED);
    closes->if_not = false;
    closes->if_sign = SITE_SIGN_READY;
    assert_breaks(tiny, PROOF_REFUSED);
}

static void a_maybe_happens_and_does_not(void **state) {
    struct tiny *tiny = *state;
    const int front = tiny_door(tiny);
    const int window = tiny_door(tiny);
    const int contact = tiny_profile(tiny, SITE_CONTACT);
    tiny_zone(tiny, SITE_ENTRY, front, contact);
    tiny_zone(tiny, SITE_PERIMETER, window, contact);
    tiny_person(tiny, 1);
    tiny->routines[0].doors_open = 1U << window;
    struct site_step *closes = tiny_closes(tiny, 0, 0, 5, window);
    tiny_sets(tiny, 0, 3, 5, SITE_MODE_FULL);
    assert_goes_well(tiny);
    closes->maybe = true;
    const struct proof_answer forgets = tiny_ask(tiny, NULL);
    assert_int_equal(forgets.promise, PROOF_REFUSED);
    assert_int_equal(forgets.culprit_zone, 1);
    assert_false(forgets.always);
    /* an accident: dossier, entry 30 s, the walk takes so long that one mistype is too many */
    tiny_again(tiny);
    tiny_starts_set(tiny, 0, SITE_MODE_FULL);
    tiny_opens(tiny, 0, 0, 0, front);
    tiny_step(tiny, 0, 8, 10, SITE_ACT_MISTYPE);
    tiny_unsets(tiny, 0, 16, 17);
    tiny->steps[0][1].maybe = true;
    const struct proof_answer mistypes = tiny_ask(tiny, NULL);
    assert_int_equal(mistypes.promise, PROOF_SIREN);
    assert_true(mistypes.needs_tolerance);
    tiny->steps[0][1].maybe = false;
    tiny->steps[0][1].in = span_of(8, 9);
    assert_goes_well(tiny);
}

static void an_after_counts_from_anothers_step(void **state) {
    struct tiny *tiny = *state;
    const int front = tiny_door(tiny);
    tiny_zone(tiny, SITE_ENTRY, front, tiny_profile(tiny, SITE_CONTACT));
    tiny_person(tiny, 1);
    tiny_person(tiny, 1);
    tiny_starts_set(tiny, 0, SITE_MODE_FULL);
    tiny_opens(tiny, 0, 0, HOUR_S, front);
    struct site_step *unsets = tiny_unsets(tiny, 1, 5, 20);
    unsets->after_step = 0;
    assert_goes_well(tiny);
    unsets->after_step = SITE_NONE;
    unsets->in = span_of(605, 620);
    assert_breaks(tiny, PROOF_SIREN);
    unsets->in = span_of(5, 20);
    /* it also counts from a step that was left out */
    tiny->steps[0][0].maybe = true;
    tiny->steps[0][0].in = span_of(0, 0);
    unsets->after_step = 0;
    assert_goes_well(tiny);
    tiny_opens(tiny, 0, 40, 40, front);
    tiny_closes(tiny, 0, 1, 1, front);
    assert_goes_well(tiny);
}

/* "Has chimed since this person last acted." */
static void a_chime_is_heard_until_the_next_act(void **state) {
    struct tiny *tiny = *state;
    const int front = tiny_door(tiny);
    const int window = tiny_door(tiny);
    const int contact = tiny_profile(tiny, SITE_CONTACT);
    tiny_zone(tiny, SITE_ENTRY, front, contact);
    tiny_zone(tiny, SITE_ALWAYS, window, contact);
    tiny_person(tiny, 1);
    tiny_person(tiny, 1);
    tiny_opens(tiny, 0, 10, 20, front);
    struct site_step *reacts = tiny_opens(tiny, 1, 0, 5, window);
    reacts->when = SITE_SIGN_CHIME;
    assert_breaks(tiny, PROOF_SIREN);
    tiny->zones[0].chime = false;
    assert_goes_well(tiny); /* it never chimes, so the window stays shut */
    tiny->zones[0].chime = true;
    /* who has acted since, has not heard it */
    tiny_again(tiny);
    tiny_opens(tiny, 0, 10, 20, front);
    tiny_step(tiny, 1, 30, 40, SITE_ACT_MISTYPE);
    tiny_opens(tiny, 1, 0, 5, window)->when = SITE_SIGN_CHIME;
    assert_goes_well(tiny);
    tiny->steps[0][1].in = span_of(0, 40);
    assert_breaks(tiny, PROOF_SIREN);
    tiny_starts_set(tiny, 0, SITE_MODE_FULL); /* chime only while unset (common practice) */
    tiny_unsets(tiny, 0, 5, 5);
    assert_goes_well(tiny);
}

/* A chime that nobody listens for makes no further class to explore. */
static void nobody_remembers_a_chime(void **state) {
    struct tiny *tiny = *state;
    const int front = tiny_door(tiny);
    tiny_zone(tiny, SITE_ENTRY, front, tiny_profile(tiny, SITE_CONTACT));
    tiny_person(tiny, 1);
    tiny_person(tiny, 1);
    tiny_opens(tiny, 0, 0, 100, front);
    tiny_closes(tiny, 0, 1, 3, front);
    tiny_step(tiny, 1, 0, 100, SITE_ACT_MISTYPE);
    tiny_sets(tiny, 1, 200, 300, SITE_MODE_FULL);
    const size_t chiming = tiny_ask(tiny, NULL).classes;
    tiny->zones[0].chime = false;
    assert_int_equal(tiny_ask(tiny, NULL).classes, chiming);
}

static void a_sign_of_an_area_is_of_that_area(void **state) {
    struct tiny *tiny = *state;
    const int window = tiny_door(tiny);
    tiny->site.area_count = 2;
    tiny_zone(tiny, SITE_PERIMETER, window, tiny_profile(tiny, SITE_CONTACT));
    tiny_person(tiny, 3);
    tiny_starts_set(tiny, 1, SITE_MODE_FULL);
    struct site_step *opens = tiny_opens(tiny, 0, 0, 0, window);
    tiny->zones[0].area = 1;
    opens->if_sign = SITE_SIGN_SET;
    opens->if_area = 0;
    assert_goes_well(tiny);
    opens->if_area = 1;
    assert_breaks(tiny, PROOF_SIREN);
    opens->if_area = SITE_NONE; /* any */
    assert_breaks(tiny, PROOF_SIREN);
    opens->if_sign = SITE_SIGN_UNSET; /* every */
    assert_goes_well(tiny);
}

/* A wait that another waits for is no mere time, and one that belongs to a way takes no time where the way is
 * left out. */
static void waits_are_joined_only_where_nobody_can_tell(void **state) {
    struct tiny *tiny = *state;
    const int front = tiny_door(tiny);
    tiny_zone(tiny, SITE_ENTRY, front, tiny_profile(tiny, SITE_CONTACT));
    const int hall = tiny_zone(tiny, SITE_INTERIOR, SITE_NONE, tiny_profile(tiny, SITE_MOTION));
    tiny_person(tiny, 1);
    tiny_person(tiny, 1);
    tiny_starts_set(tiny, 0, SITE_MODE_FULL);
    tiny_step(tiny, 0, 10, 20, SITE_ACT_WAIT);
    tiny_unsets(tiny, 0, 100, 100);
    tiny_passes(tiny, 1, 0, 5, hall)->after_step = 0;
    assert_breaks(tiny, PROOF_SIREN);
    tiny->steps[0][2].in = span_of(101, 105);
    assert_goes_well(tiny);
    tiny_again(tiny);
    tiny_starts_set(tiny, 0, SITE_MODE_FULL);
    tiny->ways[0] =
            (struct site_way){.name = text_of("way"), .door = front, .last = span_of(20, 20)};
    tiny->site.way_count = 1;
    tiny_step(tiny, 0, 0, 0, SITE_ACT_COME)->way = 0;
    tiny_passes(tiny, 0, 5, 5, hall);
    tiny_unsets(tiny, 1, 10, 10);
    assert_goes_well(tiny);
    tiny->steps[0][0].maybe = true;
    const struct proof_answer answer = tiny_ask(tiny, NULL); /* stays away, passes at 5 s */
    assert_int_equal(answer.promise, PROOF_SIREN);
    assert_int_equal(answer.story[answer.story_count - 1].at_s, 5);
}

/* Left-out steps of a way go together: nobody closes a door that nobody opened. */
static void a_way_is_left_out_whole(void **state) {
    struct tiny *tiny = *state;
    const int front = tiny_door(tiny);
    const int back = tiny_door(tiny);
    const int contact = tiny_profile(tiny, SITE_CONTACT);
    tiny_zone(tiny, SITE_ENTRY, front, contact);
    tiny_zone(tiny, SITE_PERIMETER, back, contact);
    tiny_person(tiny, 1);
    tiny->ways[0] = (struct site_way){.name = text_of("front way"),
            .door = front,
            .keypad = 0,
            .closes = span_of(1, 2),
            .legs = {{.zone = SITE_NONE, .door = back, .in = span_of(1, 2)}},
            .leg_count = 1,
            .last = span_of(1, 2)};
    tiny->site.way_count = 1;
    tiny_starts_set(tiny, 0, SITE_MODE_FULL);
    struct site_step *comes = tiny_step(tiny, 0, 0, 5, SITE_ACT_COME);
    comes->way = 0;
    tiny_unsets(tiny, 0, 5, 5);
    assert_breaks(tiny, PROOF_SIREN);
    comes->if_sign = SITE_SIGN_UNSET;
    assert_goes_well(tiny);
}

#define WITH_A_HOUSE(test) cmocka_unit_test_setup_teardown(test, tiny_setup, tiny_teardown)

int main(void) {
    const struct CMUnitTest tests[] = {
            WITH_A_HOUSE(a_follower_that_overtakes_its_door_is_heard),
            WITH_A_HOUSE(a_short_opening_is_told_whole),
            WITH_A_HOUSE(calm_waits_for_messages_under_way),
            WITH_A_HOUSE(a_detector_is_blind_after_a_trip),
            WITH_A_HOUSE(a_held_trip_is_one_trip),
            WITH_A_HOUSE(one_door_moves_all_that_is_on_it),
            WITH_A_HOUSE(an_open_door_does_not_open),
            WITH_A_HOUSE(a_when_waits_and_an_if_looks_once),
            WITH_A_HOUSE(a_maybe_happens_and_does_not),
            WITH_A_HOUSE(an_after_counts_from_anothers_step),
            WITH_A_HOUSE(a_chime_is_heard_until_the_next_act),
            WITH_A_HOUSE(nobody_remembers_a_chime),
            WITH_A_HOUSE(a_sign_of_an_area_is_of_that_area),
            WITH_A_HOUSE(a_closed_door_does_not_slam),
            WITH_A_HOUSE(waits_are_joined_only_where_nobody_can_tell),
            WITH_A_HOUSE(a_way_is_left_out_whole),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
