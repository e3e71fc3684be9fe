/* Leaving out what nobody hears, where one forgotten condition would make a routine go well that goes wrong. Each site
 * has that one condition; its answer is worked out by hand, found in the whole machine, and found without what nobody
 * hears. Clocks are exact, every time is one second long, so that one course decides. */
#include "tiny_house.h"

#include "explore/replay.h"
#include "proof/guide.h"
#include "proof/settle.h"

enum { LATENCY_S = 3 };

static enum explore_verdict search(struct tiny *tiny, bool whole) {
    struct world *world = ARENA_NEW(&tiny->arena, struct world);
    struct panel_outputs *outputs = ARENA_NEW(&tiny->arena, struct panel_outputs);
    struct explore_result result;
    assert_true(world != NULL && outputs != NULL);
    assert_true(proof_unfold(&tiny->site, &tiny->routines[0], &tiny->routine, &tiny->problem).good);
    assert_true(world_make(&tiny->site, NULL, &tiny->routine, NULL, outputs, world, &tiny->problem)
                        .good);
    unheard_find(world, &world->unheard);
    assert_true(world->unheard.on && world->unheard.unit_count > 0);
    world->unheard.on = !whole;
    const struct explore_machine machine = world_machine(world);
    assert_true(
            explore_run(&machine, NULL, tiny->arena.pages, &tiny->arena, &result, &tiny->problem)
                    .good);
    return result.verdict;
}

static void assert_both(struct tiny *tiny, enum proof_promise promise) {
    const enum explore_verdict verdict = promise == PROOF_KEPT ? EXPLORE_PROVEN : EXPLORE_REFUTED;
    assert_breaks(tiny, promise);
    assert_int_equal(search(tiny, true), verdict);
    assert_int_equal(search(tiny, false), verdict);
}

/* One door with an entry time, a hall behind it whose detector speaks by radio and takes its time. Exact clocks. */
static void write_house(struct tiny *tiny, int *ret_door, int *ret_hall) {
    const int contact = tiny_profile(tiny, SITE_CONTACT);
    const int motion = tiny_profile(tiny, SITE_MOTION);
    *ret_door = tiny_door(tiny);
    tiny_zone(tiny, SITE_ENTRY, *ret_door, contact);
    *ret_hall = tiny_zone(tiny, SITE_FOLLOWER, SITE_NONE, motion);
    tiny->zones[*ret_hall].follows = 1;
    tiny->profiles[motion].radio = true;
    tiny->profiles[motion].latency = span_of(LATENCY_S, LATENCY_S);
    tiny->site.settings.tolerance_tenths = 0;
    tiny->site.settings.delays[0].seconds_s = 10;
    tiny_person(tiny, 1);
}

/* A battery detector is blind for 10 s after a trip. Tripped 5 s before the request, it does not see who passes within
 * the exit time, and so sees who passes after it: awake at the request, it would be the other way round. */
static void a_detector_sleeps_on_past_the_request(void **state) {
    struct tiny *tiny = *state;
    const int motion = tiny_profile(tiny, SITE_MOTION);
    const int room = tiny_zone(tiny, SITE_INTERIOR, SITE_NONE, motion);
    tiny->site.settings.tolerance_tenths = 0;
    tiny->site.settings.modes[SITE_MODE_FULL].exit_delay_s = 4;
    tiny->profiles[motion].sleep = span_of(10, 10);
    tiny_person(tiny, 1);
    tiny_passes(tiny, 0, 0, 0, room);
    tiny_sets(tiny, 0, 5, 5, SITE_MODE_FULL);
    tiny_passes(tiny, 0, 1, 1, room);
    tiny_passes(tiny, 0, 6, 6, room);
    assert_both(tiny, PROOF_SIREN);
    tiny->profiles[motion].sleep = span_of(4, 4); /* awake at the request, blind afterwards */
    tiny->steps[0][3].in = span_of(3, 3);
    assert_both(tiny, PROOF_KEPT);
}

/* Who has announced the exit error and its alarm may let the entry time run out: the siren was over by then. Whoever
 * trod in the hall one second before is heard two seconds after, and has no entry time any more. */
static void an_exit_error_that_is_announced_goes_on(void **state) {
    struct tiny *tiny = *state;
    int door = 0;
    int hall = 0;
    write_house(tiny, &door, &hall);
    tiny->site.settings.modes[SITE_MODE_FULL].exit_delay_s = 5;
    tiny->site.settings.siren_time_s = 2;
    tiny->routines[0].expects = SITE_EXPECT_EXIT_ERROR | SITE_EXPECT_ALARM;
    tiny_sets(tiny, 0, 0, 0, SITE_MODE_FULL);
    tiny_opens(tiny, 0, 2, 2, door);
    tiny_passes(tiny, 0, 12, 12, hall);
    assert_both(tiny, PROOF_SIREN);
    tiny->steps[0][2].in = span_of(9, 9); /* heard within the entry time */
    assert_both(tiny, PROOF_KEPT);
}

/* The siren waits, the inside sounder is announced, the door sends nothing: the end of the entry time breaks nothing.
 * The hall is heard two seconds after it, and sends. */
static void a_siren_that_waits_breaks_nothing_yet(void **state) {
    struct tiny *tiny = *state;
    int door = 0;
    int hall = 0;
    write_house(tiny, &door, &hall);
    tiny->site.settings.siren_hold_back_s = 60;
    tiny->site.settings.abort_window_s = 5;
    tiny->zones[0].reports = false;
    tiny->routines[0].expects = SITE_EXPECT_TROUBLE;
    tiny_starts_set(tiny, 0, SITE_MODE_FULL);
    tiny_opens(tiny, 0, 1, 1, door);
    tiny_passes(tiny, 0, 9, 9, hall);
    tiny_unsets(tiny, 0, 16, 16);
    assert_both(tiny, PROOF_ALARM);
    tiny->steps[0][1].in = span_of(6, 6); /* heard within the entry time */
    assert_both(tiny, PROOF_KEPT);
}

/* By the European course the end of the entry time warns inside, which is announced, and the siren comes 30 s later:
 * but not while a new entry time runs. The side door, heard two seconds after that end, begins one. */
static void a_warning_that_comes_first_breaks_nothing_yet(void **state) {
    struct tiny *tiny = *state;
    int door = 0;
    int hall = 0;
    write_house(tiny, &door, &hall);
    const int side = tiny_door(tiny);
    const int contact = tiny_profile(tiny, SITE_CONTACT);
    tiny->profiles[contact].radio = true;
    tiny->profiles[contact].latency = span_of(LATENCY_S, LATENCY_S);
    tiny_zone(tiny, SITE_ENTRY, side, contact);
    tiny->site.settings.off_route = SITE_OFF_ROUTE_EN;
    tiny->site.settings.delays[0].seconds_s = 60;
    tiny->routines[0].expects = SITE_EXPECT_TROUBLE;
    tiny_starts_set(tiny, 0, SITE_MODE_FULL);
    tiny_opens(tiny, 0, 1, 1, door);
    tiny_opens(tiny, 0, 59, 59, side);
    tiny_unsets(tiny, 0, 40, 40);
    assert_both(tiny, PROOF_KEPT);
    tiny->steps[0][1].in = span_of(55, 55); /* heard within the entry time: it begins none */
    tiny->steps[0][2].in = span_of(44, 44);
    assert_both(tiny, PROOF_SIREN);
}

/* While it sounds for the hold-up the door swings out; the siren is over, the door opens again, and its entry time ends
 * without a sound. */
static void a_door_that_has_swung_out_breaks_nothing(void **state) {
    struct tiny *tiny = *state;
    int door = 0;
    int hall = 0;
    write_house(tiny, &door, &hall);
    const int button = tiny_zone(tiny, SITE_HOLD_UP, SITE_NONE, tiny_profile(tiny, SITE_BUTTON));
    tiny->site.settings.swinger_limit = 1;
    tiny->site.settings.siren_time_s = 20;
    tiny->zones[0].reports = false;
    tiny->zones[0].swinger = true;
    tiny->routines[0].expects = SITE_EXPECT_HOLD_UP;
    tiny_starts_set(tiny, 0, SITE_MODE_FULL);
    tiny_step(tiny, 0, 1, 1, SITE_ACT_PRESS)->zone = button;
    tiny_opens(tiny, 0, 1, 1, door);
    tiny_closes(tiny, 0, 1, 1, door);
    tiny_opens(tiny, 0, 30, 30, door);
    tiny_passes(tiny, 0, 9, 9, hall);
    assert_both(tiny, PROOF_SIREN);
    tiny->steps[0][4].in = span_of(6, 6); /* heard within the entry time */
    assert_both(tiny, PROOF_KEPT);
}

/* A second door of a shorter entry time shortens the one that runs. Once more, it shortens nothing that it had not
 * shortened before: with clocks that err from start to start too. */
static void a_second_entry_shortens_once(void **state) {
    struct tiny *tiny = *state;
    int door = 0;
    int hall = 0;
    write_house(tiny, &door, &hall);
    const int side = tiny_door(tiny);
    const int zone = tiny_zone(tiny, SITE_ENTRY, side, 0);
    tiny->site.settings.second_entry = SITE_SECOND_SHORTEN;
    tiny->site.settings.delays[0].seconds_s = 30;
    tiny->site.settings.delays[1] = (struct site_delay){.name = text_of("side"), .seconds_s = 10};
    tiny->site.settings.delay_count = 2;
    for (int mode = 0; mode < SITE_MODE_MAX; mode++) {
        tiny->zones[zone].delay[mode] = 1;
    }
    tiny_starts_set(tiny, 0, SITE_MODE_FULL);
    tiny_opens(tiny, 0, 1, 1, door);
    tiny_opens(tiny, 0, 2, 2, side);
    tiny_unsets(tiny, 0, 11, 11);
    assert_both(tiny, PROOF_SIREN);
    tiny->steps[0][2].in = span_of(9, 9);
    assert_both(tiny, PROOF_KEPT);
    tiny->steps[0][2].act = SITE_ACT_CLOSE;
    tiny->steps[0][2].door = side;
    tiny->steps[0][2].in = span_of(1, 1);
    tiny_opens(tiny, 0, 1, 1, side);
    tiny_unsets(tiny, 0, 8, 8);
    assert_both(tiny, PROOF_SIREN); /* on the very second: both orders */
    tiny->steps[0][4].in = span_of(7, 7);
    assert_both(tiny, PROOF_KEPT);
    tiny->site.settings.tolerance_tenths = 1;
    assert_both(tiny, PROOF_SIREN); /* from 9 s on */
    tiny->steps[0][4].in = span_of(6, 6);
    assert_both(tiny, PROOF_KEPT);
}

/* The siren sounds already, for a hold-up that is announced: the end of the entry time adds nothing to it. The hall is
 * heard two seconds later, and is the first to send. */
static void a_siren_that_sounds_already_adds_nothing(void **state) {
    struct tiny *tiny = *state;
    int door = 0;
    int hall = 0;
    write_house(tiny, &door, &hall);
    const int button = tiny_zone(tiny, SITE_HOLD_UP, SITE_NONE, tiny_profile(tiny, SITE_BUTTON));
    tiny->site.settings.abort_window_s = 5;
    tiny->zones[0].reports = false;
    tiny->routines[0].expects = SITE_EXPECT_HOLD_UP;
    tiny_starts_set(tiny, 0, SITE_MODE_FULL);
    tiny_step(tiny, 0, 1, 1, SITE_ACT_PRESS)->zone = button;
    tiny_opens(tiny, 0, 1, 1, door);
    tiny_passes(tiny, 0, 9, 9, hall);
    tiny_unsets(tiny, 0, 16, 16);
    assert_both(tiny, PROOF_ALARM);
    tiny->steps[0][2].in = span_of(6, 6); /* heard within the entry time */
    assert_both(tiny, PROOF_KEPT);
}

/* A follower's contact left open at the end of the exit time begins the entry time of the first route that it follows,
 * and is on every one of them: a door of a later, shorter one shortens it all the same. */
static void an_exit_error_of_a_follower_is_shortened(void **state) {
    struct tiny *tiny = *state;
    int door = 0;
    int hall = 0;
    write_house(tiny, &door, &hall);
    const int lobby = tiny_door(tiny);
    const int side = tiny_door(tiny);
    const int zone = tiny_zone(tiny, SITE_FOLLOWER, lobby, 0);
    const int short_zone = tiny_zone(tiny, SITE_ENTRY, side, 0);
    tiny->zones[zone].follows = 3;
    tiny->site.settings.modes[SITE_MODE_FULL].exit_delay_s = 5;
    tiny->site.settings.delays[0].seconds_s = 30;
    tiny->site.settings.delays[1] = (struct site_delay){.name = text_of("side"), .seconds_s = 10};
    tiny->site.settings.delay_count = 2;
    for (int mode = 0; mode < SITE_MODE_MAX; mode++) {
        tiny->zones[short_zone].delay[mode] = 1;
    }
    tiny->site.settings.siren_time_s = 2;
    tiny->routines[0].expects = SITE_EXPECT_SIREN | SITE_EXPECT_EXIT_ERROR;
    tiny_sets(tiny, 0, 0, 0, SITE_MODE_FULL);
    tiny_opens(tiny, 0, 2, 2, lobby);
    tiny_opens(tiny, 0, 10, 10, side);
    tiny_unsets(tiny, 0, 15, 15);
    assert_both(tiny, PROOF_ALARM);
    tiny->steps[0][3].in = span_of(9, 9);
    assert_both(tiny, PROOF_KEPT);
}

/* ---- what goes wrong only beyond the bound ---- */

enum { HOUSEMATES = 11 };

/* Each airs a room twice, as long as each likes; when all are done the first one sets, and opens the front door too
 * late. Nobody's window matters, but the whole machine has them in every order. */
static void write_airing(struct tiny *tiny) {
    const int contact = tiny_profile(tiny, SITE_CONTACT);
    const int front = tiny_door(tiny);
    tiny_zone(tiny, SITE_ENTRY, front, contact);
    for (int who = 0; who < HOUSEMATES; who++) {
        const int window = tiny_door(tiny);
        tiny_zone(tiny, SITE_PERIMETER, window, contact);
        tiny_person(tiny, 1);
        for (int turn = 0; turn < 2; turn++) {
            tiny_opens(tiny, who, 0, 600, window);
            tiny_closes(tiny, who, 0, 600, window);
        }
    }
    for (int who = 1; who < HOUSEMATES; who++) {
        tiny_step(tiny, 0, 0, 10, SITE_ACT_WAIT)->after_step = who * 4 + 3;
    }
    tiny_sets(tiny, 0, 1, 10, SITE_MODE_FULL);
    tiny_opens(tiny, 0, 70, 80, front);
}

static struct proof_answer ask(struct tiny *tiny, const struct proof_options *options) {
    struct proof_answer answer = {0};
    assert_true(proof_unfold(&tiny->site, &tiny->routines[0], &tiny->routine, &tiny->problem).good);
    assert_true(proof_run(&tiny->site, NULL, &tiny->routine, options, tiny->arena.pages,
            &tiny->arena, &answer, &tiny->problem)
                        .good);
    return answer;
}

/* The story is of the whole: every window opens in it, and one line of it is bad. */
static void assert_told(const struct proof_answer *answer) {
    size_t opened = 0;
    size_t bad = 0;
    for (size_t i = 0; i < answer->story_count; i++) {
        const struct proof_line *line = &answer->story[i];
        assert_true(i == 0 || line->at_s >= answer->story[i - 1].at_s);
        opened += line->kind == PROOF_LINE_LEVEL && line->open;
        bad += line->bad;
    }
    assert_int_equal(answer->verdict, PROOF_GOES_WRONG);
    assert_int_equal(answer->promise, PROOF_SIREN);
    assert_int_equal(opened, 2 * HOUSEMATES + 1);
    assert_int_equal(bad, 1);
    assert_true(answer->story[answer->story_count - 1].at_s >= 70 + TINY_ENTRY_S - 3);
}

/* With the bound that everybody has. What asks for every run of the whole is not said: no range, not always. */
static void what_goes_wrong_beyond_the_bound_is_told(void **state) {
    struct tiny *tiny = *state;
    write_airing(tiny);
    const struct proof_options whole = {.class_limit = 200000, .whole_classes = 200000};
    assert_int_equal(ask(tiny, &whole).verdict, PROOF_NOT_SETTLED);
    const struct proof_answer answer = ask(tiny, NULL);
    assert_told(&answer);
    assert_false(answer.has_range);
    assert_false(answer.always);
}

static void the_course_is_a_run_of_the_whole(void **state) {
    struct tiny *tiny = *state;
    struct explore_result result;
    write_airing(tiny);
    struct world *world = ARENA_NEW(&tiny->arena, struct world);
    struct panel_outputs *outputs = ARENA_NEW(&tiny->arena, struct panel_outputs);
    assert_true(world != NULL && outputs != NULL);
    assert_true(proof_unfold(&tiny->site, &tiny->routines[0], &tiny->routine, &tiny->problem).good);
    assert_true(world_make(&tiny->site, NULL, &tiny->routine, NULL, outputs, world, &tiny->problem)
                        .good);
    const struct proof_options options = {.class_limit = 12000};
    assert_true(
            settle(world, &options, false, tiny->arena.pages, &tiny->arena, &result, &tiny->problem)
                    .good);
    assert_int_equal(result.verdict, EXPLORE_REFUTED);
    assert_int_equal(result.reason, EXPLORE_CLASS_LIMIT); /* of the whole, before it came to this */
    const struct explore_machine machine = world_machine(world);
    const char *wrong = replay_story(&machine, &result);
    if (wrong != NULL) {
        fail_msg("the story is no run: %s", wrong);
    }
    assert_true(guide_replays(world, &result));
    /* A story of which one second is changed is none. */
    struct explore_event *events =
            ARENA_ARRAY(&tiny->arena, struct explore_event, result.story_count);
    assert_non_null(events);
    memcpy(events, result.story, result.story_count * sizeof *events);
    result.story = events;
    events[result.story_count - 1].at_s++;
    assert_false(guide_replays(world, &result));
    events[result.story_count - 1].at_s -= 2;
    assert_false(guide_replays(world, &result));
}

/* Without what nobody hears it is soon found to go well; who waits for whom needs every order of the whole. */
static void who_waits_beyond_the_bound_is_not_settled(void **state) {
    struct tiny *tiny = *state;
    write_airing(tiny);
    tiny->routines[0].step_count--;
    const struct proof_answer answer = ask(tiny, NULL);
    assert_int_equal(answer.verdict, PROOF_GOES_WELL);
    assert_int_equal(answer.waits, PROOF_WAITS_NOT_SETTLED);
    assert_int_not_equal(answer.reason, EXPLORE_ENDED);
}

#define WITH_A_HOUSE(test) cmocka_unit_test_setup_teardown(test, tiny_setup, tiny_teardown)

int main(void) {
    const struct CMUnitTest tests[] = {
            WITH_A_HOUSE(a_detector_sleeps_on_past_the_request),
            WITH_A_HOUSE(an_exit_error_that_is_announced_goes_on),
            WITH_A_HOUSE(a_siren_that_waits_breaks_nothing_yet),
            WITH_A_HOUSE(a_siren_that_sounds_already_adds_nothing),
            WITH_A_HOUSE(a_warning_that_comes_first_breaks_nothing_yet),
            WITH_A_HOUSE(a_door_that_has_swung_out_breaks_nothing),
            WITH_A_HOUSE(a_second_entry_shortens_once),
            WITH_A_HOUSE(an_exit_error_of_a_follower_is_shortened),
            WITH_A_HOUSE(what_goes_wrong_beyond_the_bound_is_told),
            WITH_A_HOUSE(the_course_is_a_run_of_the_whole),
            WITH_A_HOUSE(who_waits_beyond_the_bound_is_not_settled),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
