/* What the prover claims about the lines in and out of the panel: mains, the path to the station, the inputs. */
#include "tiny_house.h"

#include "proof/world.h"

/* One person, who loses the mains at once. */
static void lose_the_mains(struct tiny *tiny) {
    tiny_zone(tiny, SITE_ENTRY, tiny_door(tiny), tiny_profile(tiny, SITE_CONTACT));
    tiny_person(tiny, 1);
    tiny_again(tiny);
    tiny->routines[0].expects = SITE_EXPECT_TROUBLE;
    tiny_step(tiny, 0, 0, 0, SITE_ACT_MAINS_LOST);
}

/* How long the explorer lets the mains report wait. */
static struct span wait_of_mains(struct tiny *tiny, const struct proof_options *options) {
    struct world *world = ARENA_NEW(&tiny->arena, struct world);
    struct world_state *state = ARENA_NEW(&tiny->arena, struct world_state);
    struct panel_outputs *outputs = ARENA_NEW(&tiny->arena, struct panel_outputs);
    struct explore_effects effects = {.count = 0};
    assert_true(world != NULL && state != NULL && outputs != NULL);
    assert_true(proof_unfold(&tiny->site, &tiny->routines[0], &tiny->routine, &tiny->problem).good);
    assert_true(
            world_make(&tiny->site, NULL, &tiny->routine, options, outputs, world, &tiny->problem)
                    .good);
    const struct explore_machine machine = world_machine(world);
    machine.begin(world, state, &effects);
    effects = (struct explore_effects){.count = 0};
    machine.fire(world, state, WORLD_ACTOR, 0, &effects);
    for (size_t i = 0; i < effects.count; i++) {
        if (effects.effects[i].kind == EXPLORE_START &&
                effects.effects[i].activity == panel_timer_of(PANEL_TIMER_MAINS, 0)) {
            return effects.effects[i].span;
        }
    }
    fail_msg("the wait before the report does not start");
    return span_of(0, 0);
}

static void assert_span(struct span span, int32_t low_s, int32_t high_s) {
    assert_int_equal(span.low_s, low_s);
    assert_int_equal(span.high_s, high_s);
}

/* page: "Mains: trouble at once, report after delay ± jitter": whatever is drawn is timed by a clock within 10 %. */
static void the_mains_report_is_spread(void **state) {
    struct tiny *tiny = *state;
    const struct proof_options exact = {.no_tolerance = true};
    const struct proof_options tenfold = {.no_tolerance = true, .scale = 10};
    lose_the_mains(tiny);
    tiny->site.settings.mains_delay_s = 600;
    assert_span(wait_of_mains(tiny, NULL), 540, 660);
    tiny->site.settings.mains_jitter_s = 100;
    assert_span(wait_of_mains(tiny, &exact), 500, 700);
    assert_span(wait_of_mains(tiny, NULL), 450, 770);
    assert_span(wait_of_mains(tiny, &tenfold), 5000, 7000);
    tiny->site.settings.mains_jitter_s = 600;
    assert_span(wait_of_mains(tiny, &exact), 0, 1200);
}

#define WITH_A_HOUSE(test) cmocka_unit_test_setup_teardown(test, tiny_setup, tiny_teardown)

int main(void) {
    const struct CMUnitTest tests[] = {
            WITH_A_HOUSE(the_mains_report_is_spread),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
