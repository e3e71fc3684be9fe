#include "tiny_house.h"

#include "explore/replay.h"
#include "proof/world.h"

#include <stdlib.h>

enum { HALF_MINUTE_S = 30 };

int tiny_setup(void **state) {
    struct tiny *tiny = calloc(1, sizeof *tiny);
    if (tiny == NULL) {
        return -1;
    }
    struct site *site = &tiny->site;
    *site = (struct site){.name = text_of("tiny house"),
            .invented = true,
            .settings = site_settings_usual(),
            .device_profiles = tiny->profiles,
            .areas = tiny->areas,
            .area_count = 1,
            .doors = tiny->doors,
            .devices = tiny->devices,
            .zones = tiny->zones,
            .keypads = tiny->keypads,
            .keypad_count = 1,
            .people = tiny->people,
            .ways = tiny->ways,
            .routines = tiny->routines};
    site->panel = (struct site_panel_profile){.name = text_of("any"),
            .exit_delay = span_of(0, 600),
            .entry_delay = span_of(0, 600),
            .abort_window = span_of(0, 600)};
    site->settings.modes[SITE_MODE_FULL].exit_delay_s = TINY_EXIT_S;
    site->settings.delays[0] =
            (struct site_delay){.name = text_of("front"), .seconds_s = TINY_ENTRY_S};
    site->settings.delay_count = 1;
    site->settings.drop_to_part = false;
    tiny->areas[0] = (struct site_area){.name = text_of("house")};
    tiny->areas[1] = (struct site_area){.name = text_of("shop")};
    tiny->areas[2] = (struct site_area){.name = text_of("stairs")};
    tiny->keypads[0] = (struct site_keypad){.name = text_of("hall keypad"), .areas = 1};
    tiny->keypads[1] = (struct site_keypad){.name = text_of("shop keypad"), .areas = 2};
    arena_init(&tiny->arena, test_pages_over_heap(&tiny->counted), 0);
    tiny_again(tiny);
    *state = tiny;
    return 0;
}

int tiny_teardown(void **state) {
    struct tiny *tiny = *state;
    arena_finish(&tiny->arena);
    const size_t out = tiny->counted.out;
    free(tiny);
    return out == 0 ? 0 : -1;
}

void tiny_again(struct tiny *tiny) {
    for (size_t i = 0; i < TINY_ROUTINES; i++) {
        tiny->routines[i] =
                (struct site_routine){.name = text_of("routine"), .steps = tiny->steps[i]};
    }
    tiny->site.routine_count = 1;
}

void tiny_starts_set(struct tiny *tiny, int area, int mode) {
    for (size_t i = 0; i < TINY_ROUTINES; i++) {
        tiny->routines[i].starts[area] = (struct site_start){.set = true, .mode = mode};
    }
}

int tiny_profile(struct tiny *tiny, enum site_sense sense) {
    const size_t at = tiny->site.device_profile_count++;
    assert_true(at < TINY_MOST);
    tiny->profiles[at] = (struct site_device_profile){.name = text_of("model"), .sense = sense};
    return (int)at;
}

int tiny_door(struct tiny *tiny) {
    static const char *const names[TINY_MOST] = {"front", "side", "back", "cellar", "yard", "attic",
            "shop", "store", "garage", "garden", "roof", "coal"};
    const size_t at = tiny->site.door_count++;
    assert_true(at < TINY_MOST);
    tiny->doors[at] = (struct site_door){.name = text_of(names[at]), .outside = true};
    return (int)at;
}

int tiny_zone(struct tiny *tiny, enum site_behaviour behaviour, int door, int profile) {
    const size_t at = tiny->site.zone_count++;
    assert_true(at < TINY_MOST);
    tiny->site.device_count = tiny->site.zone_count;
    tiny->devices[at] =
            (struct site_device){.name = text_of("device"), .profile = profile, .door = door};
    struct site_zone *zone = &tiny->zones[at];
    *zone = (struct site_zone){.number = (int32_t)at + 1,
            .name = text_of("zone"),
            .device = (int)at,
            .behaviour = behaviour,
            .chime = true,
            .reports = true,
            .bypassable = true,
            .pulse_count = 1,
            .pulse_window_s = HALF_MINUTE_S,
            .cross_with = SITE_NONE};
    for (int mode = 0; mode < SITE_MODE_MAX; mode++) {
        zone->in[mode] = site_usual_in(behaviour, mode);
        zone->delay[mode] = behaviour == SITE_ENTRY ? 0 : SITE_NONE;
    }
    return (int)at;
}

int tiny_person(struct tiny *tiny, uint32_t areas) {
    static const char *const names[TINY_MOST] = {"mother", "father", "child", "lodger", "cleaner",
            "guest", "baker", "driver", "dog", "aunt", "uncle", "friend"};
    const size_t at = tiny->site.person_count++;
    assert_true(at < TINY_MOST);
    tiny->people[at] = (struct site_person){.name = text_of(names[at]),
            .notices = span_of(1, 3),
            .codes = span_of(3, 6),
            .fobs = span_of(1, 2),
            .areas = areas,
            .has_code = true};
    return (int)at;
}

struct site_step *tiny_step_of(struct tiny *tiny, size_t routine, int who, int32_t low_s,
        int32_t high_s, enum site_act act) {
    struct site_routine *of = &tiny->routines[routine];
    assert_true(of->step_count < TINY_STEPS);
    struct site_step *step = &of->steps[of->step_count];
    of->step_count++;
    *step = (struct site_step){.who = who,
            .in = span_of(low_s, high_s),
            .has_in = true,
            .after_step = SITE_NONE,
            .when_area = SITE_NONE,
            .if_area = SITE_NONE,
            .act = act,
            .door = SITE_NONE,
            .zone = SITE_NONE,
            .way = SITE_NONE,
            .keypad = SITE_NONE};
    if (tiny->site.routine_count <= routine) {
        tiny->site.routine_count = routine + 1;
    }
    return step;
}

struct site_step *tiny_step(
        struct tiny *tiny, int who, int32_t low_s, int32_t high_s, enum site_act act) {
    return tiny_step_of(tiny, 0, who, low_s, high_s, act);
}

struct site_step *tiny_opens(struct tiny *tiny, int who, int32_t low_s, int32_t high_s, int door) {
    struct site_step *step = tiny_step(tiny, who, low_s, high_s, SITE_ACT_OPEN);
    step->door = door;
    return step;
}

struct site_step *tiny_closes(struct tiny *tiny, int who, int32_t low_s, int32_t high_s, int door) {
    struct site_step *step = tiny_step(tiny, who, low_s, high_s, SITE_ACT_CLOSE);
    step->door = door;
    return step;
}

struct site_step *tiny_passes(struct tiny *tiny, int who, int32_t low_s, int32_t high_s, int zone) {
    struct site_step *step = tiny_step(tiny, who, low_s, high_s, SITE_ACT_PASS);
    step->zone = zone;
    return step;
}

struct site_step *tiny_unsets(struct tiny *tiny, int who, int32_t low_s, int32_t high_s) {
    return tiny_step(tiny, who, low_s, high_s, SITE_ACT_UNSET);
}

struct site_step *tiny_sets(struct tiny *tiny, int who, int32_t low_s, int32_t high_s, int mode) {
    struct site_step *step = tiny_step(tiny, who, low_s, high_s, SITE_ACT_SET);
    step->mode = mode;
    return step;
}

enum { BOTH_WAYS_CLASSES = 4000 };

static enum proof_verdict verdict_with(struct tiny *tiny, struct proof_options options) {
    struct proof_answer answer = {0};
    options.no_margin = true;
    options.no_range = true;
    options.class_limit = BOTH_WAYS_CLASSES;
    assert_true(proof_run(&tiny->site, NULL, &tiny->routine, &options, tiny->arena.pages,
            &tiny->arena, &answer, &tiny->problem)
                        .good);
    return answer.verdict;
}

/* Merging, inclusion, the calm rule and joined steps change no verdict. Not settled within the bound: nothing
 * is said. */
static void hold_against_no_reductions(
        struct tiny *tiny, const struct proof_options *options, enum proof_verdict verdict) {
    for (int off = 1; off < 8; off++) {
        struct proof_options plain = options == NULL ? (struct proof_options){0} : *options;
        plain.no_merge = (off & 1) != 0;
        plain.no_inclusion = (off & 2) != 0;
        plain.no_calm = (off & 4) != 0;
        const enum proof_verdict other = verdict_with(tiny, plain);
        if (other != verdict && other != PROOF_NOT_SETTLED) {
            fail_msg("without%s%s%s the verdict is %d, not %d", plain.no_merge ? " merging" : "",
                    plain.no_inclusion ? " inclusion" : "", plain.no_calm ? " the calm rule" : "",
                    other, verdict);
        }
    }
}

/* The course that the explorer finds is a run of the world, every duration within its span, its last event the
 * bad one. */
static void hold_against_the_machine(struct tiny *tiny, const struct proof_options *options) {
    struct world *world = ARENA_NEW(&tiny->arena, struct world);
    struct panel_outputs *outputs = ARENA_NEW(&tiny->arena, struct panel_outputs);
    struct explore_result result;
    assert_true(world != NULL && outputs != NULL);
    assert_true(
            world_make(&tiny->site, NULL, &tiny->routine, options, outputs, world, &tiny->problem)
                    .good);
    const struct explore_machine machine = world_machine(world);
    assert_true(
            explore_run(&machine, NULL, tiny->arena.pages, &tiny->arena, &result, &tiny->problem)
                    .good);
    assert_int_equal(result.verdict, EXPLORE_REFUTED);
    const char *wrong = replay_story(&machine, &result);
    if (wrong != NULL) {
        fail_msg("the story is no run: %s", wrong);
    }
}

/* One line breaks the promise; what follows it is of the same instant. */
static void hold_story(const struct proof_answer *answer) {
    size_t bad = 0;
    int32_t bad_at_s = 0;
    assert_true(answer->story_count > 0);
    for (size_t i = 0; i < answer->story_count; i++) {
        const struct proof_line *line = &answer->story[i];
        assert_true(i == 0 || line->at_s >= answer->story[i - 1].at_s);
        bad += line->bad;
        bad_at_s = line->bad ? line->at_s : bad_at_s;
    }
    assert_int_equal(bad, 1);
    assert_int_equal(answer->story[answer->story_count - 1].at_s, bad_at_s);
}

struct proof_answer tiny_ask(struct tiny *tiny, const struct proof_options *options) {
    struct proof_answer answer = {0};
    tiny->problem = (struct problem){0};
    if (!proof_unfold(&tiny->site, &tiny->routines[0], &tiny->routine, &tiny->problem).good ||
            !proof_run(&tiny->site, NULL, &tiny->routine, options, tiny->arena.pages, &tiny->arena,
                    &answer, &tiny->problem)
                     .good) {
        fail_msg("%s", tiny->problem.text);
    }
    if (answer.verdict != PROOF_NOT_SETTLED) {
        hold_against_no_reductions(tiny, options, answer.verdict);
    }
    if (answer.verdict == PROOF_GOES_WRONG) {
        hold_against_the_machine(tiny, options);
        hold_story(&answer);
    }
    return answer;
}

enum proof_verdict tiny_verdict(struct tiny *tiny, const struct proof_options *options) {
    return tiny_ask(tiny, options).verdict;
}

enum proof_promise tiny_promise(struct tiny *tiny) {
    const struct proof_options quick = {.no_range = true, .no_margin = true};
    const struct proof_answer answer = tiny_ask(tiny, &quick);
    assert_int_not_equal(answer.verdict, PROOF_NOT_SETTLED);
    return answer.verdict == PROOF_GOES_WRONG ? answer.promise : PROOF_KEPT;
}
