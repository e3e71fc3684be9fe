/* Who does what in the usual routines, what they need, and how they are removed. */
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

/* ---- what it needs ---- */

static void no_dog(struct house *house) {
    house->site.person_count = DOG;
}

static void no_fob(struct house *house) {
    house->people[FATHER].has_fob = false;
}

static void no_night(struct house *house) {
    house->steps[0].mode = SITE_MODE_FULL;
}

static void no_auto_set(struct house *house) {
    house->site.settings.auto_set_at_s = -1;
}

static void everybody_has_a_code(struct house *house) {
    add_person(house, DRIVER, "uncle", 1U << HOUSE);
}

static void lodger_is_family(struct house *house) {
    house->people[LODGER].areas = 1U << HOUSE;
}

static void no_window(struct house *house) {
    house->devices[Z_WINDOW].door = SITE_NONE;
}

static void window_out(struct house *house) {
    house->zones[Z_WINDOW].in[SITE_MODE_FULL] = SITE_OUT;
}

static void only_the_cleaner_has_the_annex(struct house *house) {
    house->people[LODGER].areas = 1U << HOUSE;
    house->people[CLEANER].areas = 1U << ANNEX;
}

static void no_motion(struct house *house) {
    house->profiles[1].sense = SITE_GLASS;
}

static void lock_completes(struct house *house) {
    house->site.settings.completion = SITE_COMPLETE_LOCK;
}

static void no_ways(struct house *house) {
    house->site.way_count = 0;
}

static void nobody(struct house *house) {
    house->site.person_count = 0;
    house->site.routine_count = 0;
}

static const struct lack {
    void (*make)(struct house *house);
    const char *routine;
    const char *needs;
} lacks[] = {
        {no_dog, "dog out at six", "no animal"},
        {no_dog, "duress at opening", "no duress code"},
        {no_fob, "fob pressed in a pocket", "no fob"},
        {no_night, "toilet at three", "no mode night or part is used"},
        {no_night, "teenager after midnight", "no mode night or part is used"},
        {no_night, "dog out at six", "no mode night or part is used"},
        {no_auto_set, "stocktaking when auto-set comes", "no auto-set"},
        {everybody_has_a_code, "guest without a code", "nobody without a code"},
        {everybody_has_a_code, "delivery before opening", "nobody who delivers"},
        {lodger_is_family, "lodger in while the family is out", "nobody with an area of their own"},
        {lodger_is_family, "leaves and returns by annex way",
                "nobody's code acts at the keypad of annex way"},
        {no_window, "window left open", "no window with a contact"},
        {window_out, "window left open", "no window with a contact"},
        {only_the_cleaner_has_the_annex, "lodger in while the family is out",
                "nobody with an area of their own"},
        {no_motion, "toilet at three", "no motion detector where somebody stays at night"},
        {lock_completes, "parcel while the exit time runs by front way",
                "setting is completed by something that no step of a routine can do"},
        {no_ways, "leaves and returns", "no way in from outside with a keypad"},
        {no_ways, "child alone", "no way in whose keypad takes somebody's code"},
        {nobody, "cleaner", "nobody who cleans"},
        {nobody, "mains outage at night", "no way in whose keypad takes somebody's code"},
};

static void what_is_absent_is_said(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof lacks / sizeof lacks[0]; i++) {
        struct house house;
        struct asked asked;
        build(&house);
        lacks[i].make(&house);
        ask(&asked, &house.site);
        const struct proof_usual *usual = named(&asked, lacks[i].routine);
        if (!text_is(usual->needs, lacks[i].needs)) {
            fail_msg("%s needs \"%.*s\"", lacks[i].routine, TEXT_ARGS(usual->needs));
        }
        assert_int_equal(usual->routine.step_count, 0);
        finish(&asked);
    }
}

/* With nobody and nothing, every row is still listed, once, and says what it needs. */
static void an_empty_site_lists_all(void **state) {
    (void)state;
    const struct site empty = {.settings = site_settings_usual()};
    struct asked asked;
    ask(&asked, &empty);
    assert_int_equal(asked.count, PER_WAY + ONCE);
    for (size_t i = 0; i < asked.count; i++) {
        assert_true(asked.usual[i].needs.length > 0);
    }
    finish(&asked);
}

/* ---- who ---- */

static void only_those_whose_code_acts_key_it(void **state) {
    (void)state;
    struct house house;
    struct asked asked;
    build(&house);
    house.site.routine_count = 0; /* nothing written: the codes alone tell */
    ask(&asked, &house.site);
    for (size_t i = 0; i < asked.count; i++) {
        const struct site_routine *routine = &asked.usual[i].routine;
        for (size_t k = 0; k < routine->step_count; k++) {
            const struct site_step *step = &routine->steps[k];
            if (step->keypad != SITE_NONE) {
                assert_true(
                        (house.people[step->who].areas & house.keypads[step->keypad].areas) != 0);
                assert_true(house.people[step->who].has_code);
            }
            assert_true(step->who != DOG || step->act == SITE_ACT_PASS);
        }
    }
    assert_true(text_is(named(&asked, "leaves and returns by annex way")->routine.says,
            "The lodger sets the alarm and leaves by the annex door, comes back later and "
            "unsets."));
    finish(&asked);
}

static void written_users_come_first(void **state) {
    (void)state;
    struct house house;
    struct asked asked;
    build(&house);
    ask(&asked, &house.site);
    assert_true(text_is(named(&asked, "leaves and returns by side way")->routine.says,
            "The daughter sets the alarm and leaves by the side door, comes back later and "
            "unsets."));
    assert_true(text_is(named(&asked, "child alone")->routine.says,
            "The daughter comes home alone by the side door and keys slowly; others follow "
            "later."));
    finish(&asked);
}

static void a_name_is_a_name(void **state) {
    (void)state;
    struct house house;
    struct asked asked;
    build(&house);
    house.site.words = SITE_WORDS_US;
    house.people[DAUGHTER].name = say("Robin");
    ask(&asked, &house.site);
    assert_true(text_is(named(&asked, "AC outage at night")->needs, ""));
    assert_true(text_is(named(&asked, "stocktaking when auto-arm comes")->needs, ""));
    assert_true(text_is(named(&asked, "leaves and returns by side way")->routine.says,
            "Robin arms the alarm and leaves by the side door, comes back later and disarms."));
    finish(&asked);
}

/* A file whose words are changed keeps what it leaves out. */
static void without_takes_the_name_in_either_word_set(void **state) {
    (void)state;
    struct site_removal removals[] = {
            {.routine = text_of("stocktaking when auto-set comes"), .reason = text_of("a")},
            {.routine = text_of("AC outage at night"), .reason = text_of("b")}};
    for (int words = 0; words < SITE_WORDS_COUNT; words++) {
        struct house house;
        struct asked asked;
        build(&house);
        house.site.words = (enum site_words)words;
        house.site.removals = removals;
        house.site.removal_count = 2;
        ask(&asked, &house.site);
        const bool us = words == SITE_WORDS_US;
        const struct proof_usual *stock = named(
                &asked, us ? "stocktaking when auto-arm comes" : "stocktaking when auto-set comes");
        const struct proof_usual *outage =
                named(&asked, us ? "AC outage at night" : "mains outage at night");
        assert_true(text_is(stock->removed, "a"));
        assert_true(text_equal(stock->removed_as, removals[0].routine));
        assert_true(text_is(outage->removed, "b"));
        finish(&asked);
    }
}

static void the_household_is_at_home(void **state) {
    (void)state;
    struct house house;
    struct asked asked;
    build(&house);
    house.people[MOTHER].name = say("window cleaner");
    house.people[DAUGHTER].name = say("Grayson"); /* no son of the house */
    ask(&asked, &house.site);
    assert_true(text_is(named(&asked, "shopping and a mistype by front way")->routine.says,
            "The father comes in by the front door with the shopping, mistypes the code once and "
            "keys it again."));
    assert_true(text_is(named(&asked, "child alone")->routine.says,
            "A child comes home alone by the annex door with the code of the lodger and keys "
            "slowly."));
    finish(&asked);
}

static void duress_codes_and_inner_doors_are_not_used(void **state) {
    (void)state;
    struct house house;
    struct asked asked;
    build(&house);
    house.site.routine_count = 0;
    house.people[MOTHER].duress = true;
    house.doors[SIDE].outside = false;
    ask(&asked, &house.site);
    assert_int_equal(asked.count, USUAL - PER_WAY);
    assert_true(text_is(named(&asked, "leaves and returns by front way")->routine.says,
            "The father, then the daughter, then the cleaner, sets the alarm and leaves by the "
            "front door, comes back "
            "later and unsets."));
    finish(&asked);
}

/* Nobody comes in by a way that written routines only lead out of; whoever leaves by it comes back by another. */
static void a_way_out_is_no_way_in(void **state) {
    (void)state;
    struct house house;
    struct asked asked;
    build(&house);
    house.steps[2].act = SITE_ACT_GO;
    ask(&asked, &house.site);
    assert_true(text_is(named(&asked, "shopping and a mistype by side way")->needs,
            "nobody comes in by side way"));
    const struct site_routine *leaves = &named(&asked, "leaves and returns by side way")->routine;
    assert_int_equal(leaves->steps[1].act, SITE_ACT_GO);
    assert_int_equal(leaves->steps[1].way, SIDE_WAY);
    assert_int_equal(leaves->steps[2].act, SITE_ACT_COME);
    assert_int_equal(leaves->steps[2].way, FRONT_WAY);
    finish(&asked);
}

/* ---- removed ---- */

static void removal_by_either_name(void **state) {
    (void)state;
    struct house house;
    struct asked asked;
    build(&house);
    house.removals[0] = (struct site_removal){say("forgotten keys"), say("the door locks itself")};
    house.removals[1] =
            (struct site_removal){say("leaves and returns by side way"), say("bricked up")};
    house.site.removal_count = 2;
    ask(&asked, &house.site);
    assert_true(text_is(
            named(&asked, "forgotten keys by front way")->removed, "the door locks itself"));
    assert_true(
            text_is(named(&asked, "forgotten keys by side way")->removed, "the door locks itself"));
    assert_true(text_is(named(&asked, "leaves and returns by side way")->removed, "bricked up"));
    assert_int_equal(named(&asked, "leaves and returns by front way")->removed.length, 0);
    finish(&asked);
}

static void one_way_needs_no_name(void **state) {
    (void)state;
    struct house house;
    struct asked asked;
    build(&house);
    house.site.way_count = 1;
    house.site.routine_count = 0;
    ask(&asked, &house.site);
    assert_int_equal(asked.count, PER_WAY + ONCE);
    assert_int_equal(named(&asked, "leaves and returns")->needs.length, 0);
    finish(&asked);
}

static void a_way_too_long_is_said(void **state) {
    (void)state;
    struct house house;
    struct asked asked;
    build(&house);
    for (size_t i = 0; i < SITE_LEG_MAX; i++) {
        house.ways[SIDE_WAY].legs[i] =
                (struct site_leg){.zone = SITE_NONE, .door = WINDOW, .in = span_of(1, 1)};
    }
    house.ways[SIDE_WAY].leg_count = SITE_LEG_MAX;
    ask(&asked, &house.site);
    assert_true(text_is(named(&asked, "grandparent with a stick by side way")->needs,
            "its ways have more legs than one routine can hold"));
    assert_int_equal(named(&asked, "grandparent with a stick by front way")->needs.length, 0);
    finish(&asked);
}

static void every_refused_page_is_a_problem(void **state) {
    (void)state;
    struct house house;
    bool done = false;
    build(&house);
    for (long pages = 0; !done; pages++) {
        struct counted counted = {.left = pages};
        const struct pages few = {.get = get_page, .give = give_page, .context = &counted};
        struct arena arena;
        struct proof_usual *usual = NULL;
        size_t count = 0;
        struct problem problem = {0};
        arena_init(&arena, few, 0);
        done = proof_usual_routines(&house.site, &arena, &usual, &count, &problem).good;
        assert_int_equal(problem.kind, done ? PROBLEM_NONE : PROBLEM_MEMORY);
        arena_finish(&arena);
        assert_int_equal(counted.out, 0);
        assert_true(pages < 1000);
        assert_true(pages > 0 || !done);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(without_takes_the_name_in_either_word_set),
            cmocka_unit_test(the_household_is_at_home),
            cmocka_unit_test(duress_codes_and_inner_doors_are_not_used),
            cmocka_unit_test(what_is_absent_is_said),
            cmocka_unit_test(an_empty_site_lists_all),
            cmocka_unit_test(only_those_whose_code_acts_key_it),
            cmocka_unit_test(written_users_come_first),
            cmocka_unit_test(a_name_is_a_name),
            cmocka_unit_test(a_way_out_is_no_way_in),
            cmocka_unit_test(removal_by_either_name),
            cmocka_unit_test(one_way_needs_no_name),
            cmocka_unit_test(a_way_too_long_is_said),
            cmocka_unit_test(every_refused_page_is_a_problem),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
