/* A house programmed as it should be: every usual routine applies and goes well. Then one mistake at
 * a time, each from the list of common practice (dossier mistakes.md, "What goes wrong at real
 * sites"), and the routine that must find it. */
#include "proof/test_usual_house.h"

#include <stdlib.h>

static void *get_page(void *context, size_t size) {
    struct counted *counted = context;
    if (counted->left == 0) {
        return NULL;
    }
    counted->left -= counted->left > 0;
    counted->out++;
    return malloc(size);
}

static void give_page(void *context, void *block, size_t size) {
    struct counted *counted = context;
    (void)size;
    counted->out--;
    free(block);
}

/* ---- a house as it should be ---- */

static void all_apply_and_go_well(void **state) {
    (void)state;
    struct house house;
    struct asked asked;
    build(&house);
    ask(&asked, &house.site);
    assert_int_equal(asked.count, USUAL);
    for (size_t i = 0; i < asked.count; i++) {
        const struct proof_usual *usual = &asked.usual[i];
        if (usual->needs.length > 0) {
            fail_msg("%.*s needs %.*s", TEXT_ARGS(usual->routine.name), TEXT_ARGS(usual->needs));
        }
        assert_true(usual->routine.usual);
        assert_true(usual->routine.step_count > 0);
        assert_true(usual->routine.says.length > 0);
        assert_int_equal(usual->removed.length, 0);
        const struct proof_answer answer = prove(&asked, usual);
        if (answer.verdict != PROOF_GOES_WELL) {
            fail_msg("%.*s: %s of zone %d", TEXT_ARGS(usual->routine.name),
                    proof_promise_name(answer.promise), answer.culprit_zone);
        }
    }
    finish(&asked);
}

/* ---- mistakes ---- */

static void side_perimeter(struct house *house) {
    house->zones[Z_SIDE].behaviour = SITE_PERIMETER;
    for (int mode = 0; mode < SITE_MODE_MAX; mode++) {
        house->zones[Z_SIDE].in[mode] = SITE_PERIMETER;
    }
}

static void side_without_zone(struct house *house) {
    house->devices[Z_SIDE].door = WINDOW;
}

static void hall_interior(struct house *house) {
    house->zones[Z_HALL].behaviour = SITE_INTERIOR;
    house->zones[Z_HALL].in[SITE_MODE_FULL] = SITE_INTERIOR;
}

static void no_hold(struct house *house) {
    house->zones[Z_HALL].hold_s = 0;
    house->profiles[0].latency = span_of(0, 4);
}

static void front_22_s(struct house *house) {
    house->site.settings.delays[BY_FRONT].seconds_s = 22;
}

static void front_23_s(struct house *house) {
    house->site.settings.delays[BY_FRONT].seconds_s = 23;
}

static void swapped_cleaner(struct house *house) {
    house->people[CLEANER].areas = 1U << ANNEX;
}

static void no_restart(struct house *house) {
    house->site.settings.exit_restart = false;
}

static void exit_13_s(struct house *house) {
    house->site.settings.modes[SITE_MODE_FULL].exit_delay_s = 13;
}

static void hall_live_at_night(struct house *house) {
    house->zones[Z_HALL].in[SITE_MODE_NIGHT] = SITE_INTERIOR;
}

static void front_perimeter_at_night(struct house *house) {
    house->zones[Z_FRONT].in[SITE_MODE_NIGHT] = SITE_PERIMETER;
}

static void side_perimeter_at_night(struct house *house) {
    house->zones[Z_SIDE].in[SITE_MODE_NIGHT] = SITE_PERIMETER;
}

static void fob_at_once(struct house *house) {
    house->site.settings.fob_way = SITE_FOB_AT_ONCE;
}

static void auto_warns_20_s(struct house *house) {
    house->site.settings.auto_warn_s = 20;
}

static void window_entry(struct house *house) {
    house->zones[Z_WINDOW].behaviour = SITE_ENTRY;
    house->zones[Z_WINDOW].in[SITE_MODE_FULL] = SITE_ENTRY;
    house->zones[Z_WINDOW].delay[SITE_MODE_FULL] = BY_FRONT;
}

static void annex_door_guards_house(struct house *house) {
    house->zones[Z_ANNEX].area = HOUSE;
    house->zones[Z_ANNEX].in[SITE_MODE_FULL] = SITE_PERIMETER;
}

static void driver_by_front_12_s(struct house *house) {
    house->people[DRIVER].has_code = true;
    house->people[DRIVER].areas = 1U << HOUSE;
    house->site.settings.delays[BY_FRONT].seconds_s = 12;
}

static const struct mistake {
    void (*make)(struct house *house);
    const char *routine;
    enum proof_promise promise;
} mistakes[] = {
        {side_perimeter, "leaves and returns by side way", PROOF_SIREN},
        {side_perimeter, "child alone", PROOF_SIREN},
        {side_without_zone, "leaves and returns by side way", PROOF_DROPPED},
        {hall_interior, "leaves and returns by front way", PROOF_SIREN},
        {hall_interior, "guest without a code", PROOF_SIREN},
        {no_hold, "leaves and returns by front way", PROOF_SIREN},
        {front_22_s, "leaves and returns by front way", PROOF_SIREN},
        {front_23_s, "shopping and a mistype by front way", PROOF_SIREN},
        {front_23_s, "grandparent with a stick by front way", PROOF_SIREN},
        {front_22_s, "duress at opening", PROOF_SIREN},
        {swapped_cleaner, "cleaner", PROOF_TURNED_AWAY},
        {no_restart, "forgotten keys by front way", PROOF_EXIT_ERROR},
        {no_restart, "parcel while the exit time runs by front way", PROOF_EXIT_ERROR},
        {exit_13_s, "leaves and returns by front way", PROOF_EXIT_ERROR},
        {hall_live_at_night, "toilet at three", PROOF_SIREN},
        {front_perimeter_at_night, "dog out at six", PROOF_SIREN},
        {side_perimeter_at_night, "teenager after midnight", PROOF_SIREN},
        {fob_at_once, "fob pressed in a pocket", PROOF_SIREN},
        {auto_warns_20_s, "stocktaking when auto-set comes", PROOF_SIREN},
        {window_entry, "window left open", PROOF_EXIT_ERROR},
        {annex_door_guards_house, "lodger in while the family is out", PROOF_SIREN},
        {driver_by_front_12_s, "delivery before opening", PROOF_SIREN},
};

static void each_mistake_is_found(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof mistakes / sizeof mistakes[0]; i++) {
        struct house house;
        struct asked asked;
        build(&house);
        mistakes[i].make(&house);
        ask(&asked, &house.site);
        const struct proof_usual *usual = named(&asked, mistakes[i].routine);
        if (usual->needs.length > 0) {
            fail_msg("mistake %zu: %s needs %.*s", i, mistakes[i].routine, TEXT_ARGS(usual->needs));
        }
        const struct proof_answer answer = prove(&asked, usual);
        if (answer.verdict != PROOF_GOES_WRONG || answer.promise != mistakes[i].promise) {
            fail_msg("mistake %zu: %s: verdict %d, %s", i, mistakes[i].routine, (int)answer.verdict,
                    proof_promise_name(answer.promise));
        }
        finish(&asked);
    }
}

/* Worst times added up by hand, true clocks: one second more holds, a tie does not. Door 3 s, room 4 s, keypad 3 s,
 * notice 3 s, code 7 s; bags 7 s and 8 s for the second try; with a stick 10 s, 8 s and 10 s for
 * room, keypad and code. */
static const struct edge {
    const char *routine;
    int delay;
    int32_t worst_s;
} edges[] = {
        {"leaves and returns by front way", BY_FRONT, 3 + 4 + 3 + 3 + 7},
        {"shopping and a mistype by front way", BY_FRONT, 3 + 4 + 3 + 7 + 3 + 7 + 8},
        {"grandparent with a stick by front way", BY_FRONT, 3 + 10 + 8 + 3 + 10},
        {"child alone", BY_SIDE, 3 + 4 + 3 + 3 + 10},
        {"dog out at six", BY_FRONT, 4 + 3 + 3 + 7},
};

static void edges_are_where_the_sums_say(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof edges / sizeof edges[0]; i++) {
        for (int32_t more_s = 0; more_s <= 1; more_s++) {
            struct house house;
            struct asked asked;
            build(&house);
            house.site.settings.tolerance_tenths = 0;
            house.site.settings.delays[edges[i].delay].seconds_s = edges[i].worst_s + more_s;
            ask(&asked, &house.site);
            const struct proof_answer answer = prove(&asked, named(&asked, edges[i].routine));
            if (answer.verdict != (more_s == 0 ? PROOF_GOES_WRONG : PROOF_GOES_WELL)) {
                fail_msg("%s with %d s: verdict %d", edges[i].routine,
                        (int)(edges[i].worst_s + more_s), (int)answer.verdict);
            }
            finish(&asked);
        }
    }
}

/* With wired contacts nobody opens for the parcel after the exit time, so a short entry delay does no harm. */
static void parcel_only_while_the_tone_sounds(void **state) {
    (void)state;
    struct house house;
    struct asked asked;
    build(&house);
    house.profiles[0].latency = span_of(0, 0);
    house.site.settings.modes[SITE_MODE_FULL].exit_delay_s = 30;
    house.site.settings.delays[BY_FRONT].seconds_s = 10;
    ask(&asked, &house.site);
    const struct proof_usual *parcel =
            named(&asked, "parcel while the exit time runs by front way");
    assert_int_equal(prove(&asked, parcel).verdict, PROOF_GOES_WELL);
    finish(&asked);
}

static const struct site_step *step_that(
        const struct proof_usual *usual, enum site_act act, size_t which) {
    for (size_t i = 0; i < usual->routine.step_count; i++) {
        if (usual->routine.steps[i].act == act && which-- == 0) {
            return &usual->routine.steps[i];
        }
    }
    fail_msg("no such step");
    return NULL;
}

/* Reactions that change a story, not always a verdict. */
static void people_react(void **state) {
    (void)state;
    struct house house;
    struct asked asked;
    build(&house);
    ask(&asked, &house.site);
    const struct proof_usual *parcel =
            named(&asked, "parcel while the exit time runs by front way");
    assert_int_equal(step_that(parcel, SITE_ACT_CLOSE, 0)->if_sign, SITE_SIGN_DOOR_OPEN);
    assert_int_equal(step_that(parcel, SITE_ACT_UNSET, 0)->if_sign, SITE_SIGN_ENTRY_TONE);
    const struct proof_usual *dog = named(&asked, "dog out at six");
    assert_int_equal(step_that(dog, SITE_ACT_UNSET, 0)->if_sign, SITE_SIGN_ENTRY_TONE);
    assert_int_equal(step_that(dog, SITE_ACT_PASS, 0)->who, DOG);
    assert_int_equal(step_that(dog, SITE_ACT_PASS, 0)->after_step, 0);
    const struct proof_usual *fob = named(&asked, "fob pressed in a pocket");
    assert_int_equal(step_that(fob, SITE_ACT_SET, 0)->use, SITE_USE_FOB);
    assert_int_equal(step_that(fob, SITE_ACT_UNSET, 0)->when, SITE_SIGN_SET);
    assert_int_equal(
            step_that(named(&asked, "forgotten keys by front way"), SITE_ACT_UNSET, 0)->if_sign,
            SITE_SIGN_SET);
    assert_true(named(&asked, "cleaner")->routine.starts[ANNEX].set);
    assert_false(named(&asked, "shopping and a mistype by front way")->routine.starts[ANNEX].set);
    finish(&asked);
}

/* page: A common area sets when its last member has set */
static void a_common_area_starts_with_its_members(void **state) {
    (void)state;
    struct house house;
    struct asked asked;
    build(&house);
    house.areas[ANNEX].common = true;
    ask(&asked, &house.site);
    assert_true(named(&asked, "shopping and a mistype by front way")->routine.starts[ANNEX].set);
    finish(&asked);
}

/* What a routine announces is needed: without it, it would be a finding. */
static void announced_things_happen(void **state) {
    (void)state;
    struct house house;
    struct asked asked;
    build(&house);
    ask(&asked, &house.site);
    struct proof_usual *duress = named(&asked, "duress at opening");
    struct proof_usual *mains = named(&asked, "mains outage at night");
    assert_int_equal(duress->routine.expects, SITE_EXPECT_DURESS);
    assert_int_equal(mains->routine.expects, SITE_EXPECT_TROUBLE);
    duress->routine.expects = 0;
    mains->routine.expects = 0;
    assert_int_equal(prove(&asked, duress).promise, PROOF_DURESS);
    assert_int_equal(prove(&asked, mains).promise, PROOF_TROUBLE);
    finish(&asked);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(all_apply_and_go_well),
            cmocka_unit_test(each_mistake_is_found),
            cmocka_unit_test(edges_are_where_the_sums_say),
            cmocka_unit_test(parcel_only_while_the_tone_sounds),
            cmocka_unit_test(people_react),
            cmocka_unit_test(a_common_area_starts_with_its_members),
            cmocka_unit_test(announced_things_happen),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
