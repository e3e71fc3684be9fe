/* Codes: what is found, and what is not; no finding holds a code. Sources: those of the rows, docs/checks.md; the
 * neighbours of a duress code by its last digit are CP-01's (from memory, unverified), the others common practice. */
#include "rules/test_rules.h"

enum { CODES = 4 };

static const char *const owners[] = {"owner", "guest"};

/* Codes of the owner, the guest, duress, the installer; NULL: none. */
static void give_codes(struct house *house, struct site_code codes[CODES], const char *owner,
        const char *guest, const char *duress, const char *installer) {
    const char *const digits[CODES] = {owner, guest, duress, installer};
    static const enum site_code_of of[CODES] = {
            SITE_CODE_OF_PERSON, SITE_CODE_OF_PERSON, SITE_CODE_OF_DURESS, SITE_CODE_OF_INSTALLER};
    size_t count = 0;
    for (size_t i = 0; i < CODES; i++) {
        if (digits[i] != NULL) {
            codes[count++] = (struct site_code){.of = of[i],
                    .name = text_of(i < 2 ? owners[i] : ""),
                    .person = i < 2 ? (int)i : SITE_NONE,
                    .shared_with = SITE_NONE,
                    .digits = text_of(digits[i])};
        }
    }
    house->site.codes = codes;
    house->site.code_count = count;
    house->site.codes_state = SITE_CODES_READ;
}

static void good_codes_are_let_be(void **state) {
    struct house *house = *state;
    struct site_code codes[CODES];
    house_is_clean(house);
    give_codes(house, codes, "4810", "7302", "6195", "926518");
    house_is_clean(house);
}

static void a_codes_file_that_is_not_there_is_said(void **state) {
    struct house *house = *state;
    house->site.codes_state = SITE_CODES_NOT_THERE;
    const struct finding *finding =
            house_has(house, FINDING_NOTE, "codes.not-computed", "site.codes");
    assert_true(text_is(finding->headline, "the checks of the codes: not computed"));
}

static void a_code_has_as_many_digits_as_the_panel_takes(void **state) {
    struct house *house = *state;
    struct site_code codes[CODES];
    static const struct {
        const char *code;
        bool taken;
    } rows[] = {
            {"481", false}, {"4810", true}, {"48107", true}, {"481073", true}, {"4810735", false}};
    for (int32_t length = 4; length <= 6; length++) {
        site_numbers_add(&house->site.panel.code_lengths, length);
    }
    house->site.panel.code_lengths.said = true;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        give_codes(house, codes, rows[i].code, "7302", NULL, NULL);
        if (rows[i].taken) {
            house_is_clean(house);
        } else {
            const struct finding *finding =
                    house_has(house, FINDING_FAULT, "codes.length", "people[0]");
            assert_true(text_is(
                    finding->why, "it has more or fewer digits than the panel takes: 4 to 6"));
        }
    }
    house->site.panel.code_lengths.said = false;
    house_is_clean(house);
}

static void a_factory_code_is_not_kept(void **state) {
    struct house *house = *state;
    struct site_code codes[CODES];
    const struct text factory[] = {text_of("1357"), text_of("1234")};
    house->site.panel.factory_codes = factory;
    house->site.panel.factory_code_count = 2;
    give_codes(house, codes, "1358", "7302", NULL, NULL);
    house_is_clean(house);
    give_codes(house, codes, "1357", "7302", NULL, NULL);
    (void)house_has(house, FINDING_FAULT, "codes.factory", "people[0]");
    give_codes(house, codes, "4810", "7302", NULL, "1357");
    const struct finding *finding = house_has(house, FINDING_FAULT, "codes.factory", "site.codes");
    assert_true(text_is(finding->headline,
            "the installer's code is one that every such panel is delivered with"));
    give_codes(house, codes, "1234", "7302", NULL, NULL); /* once, though it is a run as well */
    (void)house_has(house, FINDING_FAULT, "codes.factory", "people[0]");
}

static void two_codes_are_not_the_same(void **state) {
    struct house *house = *state;
    struct site_code codes[CODES];
    give_codes(house, codes, "4810", "4810", NULL, NULL);
    const struct finding *finding = house_has(house, FINDING_FAULT, "codes.same", "people[0]");
    assert_true(text_is(
            finding->headline, "the code of the owner and the code of the guest are the same"));
    give_codes(house, codes, "4810", "4810", NULL, "4810"); /* one finding for all of them */
    finding = house_has(house, FINDING_FAULT, "codes.same", "people[0]");
    assert_true(text_is(finding->headline,
            "the code of the owner, the code of the guest and the installer's code are the same"));
    give_codes(house, codes, "4810", "48100", NULL, NULL);
    house_is_clean(house);
}

static void a_duress_code_that_is_another_code_says_what_comes_of_it(void **state) {
    struct house *house = *state;
    struct site_code codes[CODES];
    give_codes(house, codes, "4810", "7302", "7302", NULL);
    const struct finding *finding = house_has(house, FINDING_FAULT, "codes.same", "people[1]");
    assert_true(
            text_is(finding->why, "either every unsetting calls for help, or duress never does"));
}

/* Last digit up or down by one, 9 and 0 neighbours: CP-01, from memory. The rest: common practice. */
static void a_duress_code_is_no_neighbour(void **state) {
    struct house *house = *state;
    struct site_code codes[CODES];
    static const struct {
        const char *duress; /* the owner's is 4810, the guest's 7359 */
        int weight;         /* FINDING_WEIGHT_COUNT: nothing is found */
    } rows[] = {
            {"4811", FINDING_FAULT},
            {"4819", FINDING_FAULT},
            {"7358", FINDING_FAULT},
            {"7350", FINDING_FAULT},
            {"4812", FINDING_RISK},
            {"4818", FINDING_RISK},
            {"5810", FINDING_RISK},
            {"4010", FINDING_RISK},
            {"4809", FINDING_RISK},
            {"7360", FINDING_RISK},
            {"4822", FINDING_WEIGHT_COUNT},
            {"0184", FINDING_WEIGHT_COUNT},
            {"48111", FINDING_WEIGHT_COUNT},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        give_codes(house, codes, "4810", "7359", rows[i].duress, NULL);
        if (rows[i].weight == FINDING_WEIGHT_COUNT) {
            house_is_clean(house);
        } else {
            (void)house_has(
                    house, (enum finding_weight)rows[i].weight, "codes.duress-near", "site.codes");
        }
    }
}

static void a_person_of_duress_has_a_duress_code(void **state) {
    struct house *house = *state;
    struct site_code codes[CODES];
    give_codes(house, codes, "4810", "4811", NULL, NULL);
    house_is_clean(house);
    house->people[GUEST].duress = true;
    const struct finding *finding =
            house_has(house, FINDING_FAULT, "codes.duress-near", "people[1]");
    assert_true(text_is(finding->headline,
            "the duress code is next to the code of the owner: one slip of a finger calls for "
            "help"));
}

static void codes_that_anybody_tries_are_a_risk(void **state) {
    struct house *house = *state;
    struct site_code codes[CODES];
    static const char *const bad[] = {
            "0000", "1234", "4321", "7890", "2109", "1212", "123123", "77"};
    static const char *const good[] = {"0001", "1243", "1357", "1221", "12312", "9753", "7"};
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        give_codes(house, codes, bad[i], "7302", NULL, NULL);
        (void)house_has(house, FINDING_RISK, "codes.guessable", "people[0]");
    }
    for (size_t i = 0; i < sizeof good / sizeof good[0]; i++) {
        give_codes(house, codes, good[i], "7302", NULL, NULL);
        house_is_clean(house);
    }
}

static void who_left_has_no_code(void **state) {
    struct house *house = *state;
    struct site_code codes[CODES];
    give_codes(house, codes, "4810", "7302", NULL, NULL);
    house->people[GUEST].away = true; /* between two visits: the code stays in the file */
    house->people[GUEST].has_code = false;
    house_is_clean(house);
    house->people[GUEST].left = true;
    const struct finding *finding = house_has(house, FINDING_FAULT, "codes.leaver", "people[1]");
    assert_true(text_is(finding->headline, "the guest has left and can still come in"));
    give_codes(house, codes, "4810", NULL, NULL, NULL);
    house_is_clean(house);
}

static void a_code_belongs_to_somebody(void **state) {
    struct house *house = *state;
    struct site_code codes[CODES];
    give_codes(house, codes, "4810", "7302", NULL, NULL);
    codes[1].person = SITE_NONE;
    codes[1].name = text_of("gardener");
    const struct finding *finding =
            house_has(house, FINDING_RISK, "codes.for-nobody", "site.codes");
    assert_true(text_is(finding->headline, "the code of \"gardener\" is nobody's here"));
    codes[1].hidden = true;
    codes[1].name = text_of("7302");
    finding = house_has(house, FINDING_RISK, "codes.for-nobody", "site.codes");
    assert_true(text_is(finding->headline, "the code of somebody unknown is nobody's here"));
}

static void a_person_without_code_has_none(void **state) {
    struct house *house = *state;
    struct site_code codes[CODES];
    give_codes(house, codes, "4810", "7302", NULL, NULL);
    house->people[GUEST].has_code = false;
    (void)house_has(house, FINDING_RISK, "codes.not-wanted", "people[1]");
}

static void who_keys_a_code_has_one(void **state) {
    struct house *house = *state;
    struct site_code codes[CODES];
    static const struct {
        enum site_act act;
        enum site_use use;
        bool keys;
    } rows[] = {
            {SITE_ACT_UNSET, SITE_USE_CODE, true},
            {SITE_ACT_SET, SITE_USE_CODE, true},
            {SITE_ACT_UNSET, SITE_USE_FOB, false},
            {SITE_ACT_SET, SITE_USE_FOB, false},
            {SITE_ACT_POSTPONE, SITE_USE_CODE, true},
            {SITE_ACT_BYPASS, SITE_USE_CODE, true},
            {SITE_ACT_OPEN, SITE_USE_CODE, false},
    };
    house->steps[1] = house->steps[0];
    house->routines[0].step_count = 2;
    give_codes(house, codes, NULL, "7302", NULL, NULL);
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        house->steps[1].act = rows[i].act;
        house->steps[1].use = rows[i].use;
        if (!rows[i].keys) {
            house_is_clean(house);
            continue;
        }
        const struct finding *finding = house_has(house, FINDING_FAULT, "codes.none", "people[0]");
        assert_true(text_is(finding->why, "the codes file has none, and \"comes home\" wants one"));
    }
    house->steps[1].act = SITE_ACT_UNSET;
    house->people[OWNER].duress = true; /* the file's duress code is theirs */
    give_codes(house, codes, NULL, "7302", "4810", NULL);
    house_is_clean(house);
    house->people[OWNER].duress = false;
    house->site.codes_state = SITE_CODES_NOT_NAMED;
    house->site.code_count = 0;
    house_is_clean(house);
}

static void a_code_that_is_shared_is_a_risk(void **state) {
    struct house *house = *state;
    struct site_code codes[CODES];
    give_codes(house, codes, "4810", "7302", NULL, NULL);
    codes[1].digits = (struct text){0};
    codes[1].shared_with = 0;
    const struct finding *finding = house_has(house, FINDING_RISK, "codes.shared", "people[0]");
    assert_true(text_is(finding->headline, "the code of the owner is used by others too: guest"));
}

/* Every row at once, in both word sets, and not three digits of a code in a row anywhere. */
static void no_finding_holds_a_code(void **state) {
    struct house *house = *state;
    struct site_code codes[CODES];
    const struct text factory[] = {text_of("97539")};
    house->site.panel.factory_codes = factory;
    house->site.panel.factory_code_count = 1;
    site_numbers_add(&house->site.panel.code_lengths, 4);
    house->site.panel.code_lengths.said = true;
    give_codes(house, codes, "97539", "97539", "97530", "8888");
    codes[1].person = SITE_NONE;
    for (int words = 0; words < SITE_WORDS_COUNT; words++) {
        house->site.words = (enum site_words)words;
        house_look(house);
        assert_true(house->count >= 8);
        for (size_t i = 0; i < house->count; i++) {
            const struct finding *finding = &house->findings[i];
            const struct text texts[] = {finding->headline, finding->why, finding->place,
                    finding->remedy, finding->price, finding->source};
            for (size_t k = 0; k < sizeof texts / sizeof texts[0]; k++) {
                const struct text copy = text_copy(&house->arena, texts[k]);
                assert_null(strstr(copy.start, "975"));
                assert_null(strstr(copy.start, "888"));
            }
        }
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
            HOUSE_TEST(good_codes_are_let_be),
            HOUSE_TEST(a_codes_file_that_is_not_there_is_said),
            HOUSE_TEST(a_code_has_as_many_digits_as_the_panel_takes),
            HOUSE_TEST(a_factory_code_is_not_kept),
            HOUSE_TEST(two_codes_are_not_the_same),
            HOUSE_TEST(a_duress_code_that_is_another_code_says_what_comes_of_it),
            HOUSE_TEST(a_duress_code_is_no_neighbour),
            HOUSE_TEST(a_person_of_duress_has_a_duress_code),
            HOUSE_TEST(codes_that_anybody_tries_are_a_risk),
            HOUSE_TEST(who_left_has_no_code),
            HOUSE_TEST(a_code_belongs_to_somebody),
            HOUSE_TEST(a_person_without_code_has_none),
            HOUSE_TEST(who_keys_a_code_has_one),
            HOUSE_TEST(a_code_that_is_shared_is_a_risk),
            HOUSE_TEST(no_finding_holds_a_code),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
