/* A mistake is told once: what follows from it is not told as well. Each row is a whole site file with one mistake,
 * which gives one problem; the last rows of a test are the same follow-up with no mistake before it, which is told. */
#include "document/test_document.h"

#define SITE "site: {name: a}\n"
#define PANEL "panel: {profile: halyard-28, entry-delays: {front: 30 s}}\n"
#define AREAS "areas: [{name: house}]\n"
#define DOORS "doors: [{name: d, outside: yes}]\n"
#define KEYPADS "keypads: [{name: k}]\n"
#define DEVICES                                                                                    \
    "devices: [{name: c, profile: slim-contact, on: d}, {name: hall motion, profile: "             \
    "slim-contact}]\n"
#define ZONES                                                                                      \
    "zones:\n- {number: 1, says: front, device: c, behaviour: entry}\n"                            \
    "- {number: 2, says: stairs, device: hall motion, behaviour: interior}\n"
#define PEOPLE "people: [{name: owner, fob: yes}]\n"
#define STEPS(keys)                                                                                \
    "routines:\n- {name: r, who: owner, starts: {house: full}, steps: [{in: 1 s, " keys "}]}\n"
#define TWICE(keys)                                                                                \
    "routines:\n- {name: r, who: owner, steps: [{in: 1 s, " keys "}, {in: 1 s, " keys "}]}\n"
#define BEFORE SITE PANEL AREAS DOORS KEYPADS DEVICES ZONES

struct row {
    const char *text;
    const char *told;
};

static void assert_told_once(const struct row *row) {
    struct test_pages pages = {.left = -1};
    struct document document;
    struct problem problem = {0};
    document_init(&document, test_pages(&pages));
    const bool good = document_read_text(
            &document, "f", test_fixture("."), text_of(row->text), NULL, &problem)
                              .good;
    if (good || document.problem_count != 1 || !test_told(&document, row->told)) {
        print_message("# wanted alone: %s\n", row->told);
        test_print_problems(&document);
    }
    assert_false(good);
    assert_int_equal(document.problem_count, 1);
    assert_true(test_told(&document, row->told));
    document_finish(&document);
    assert_int_equal(pages.out, 0);
}

#define ASSERT_TOLD_ONCE(rows)                                                                     \
    for (size_t row_ = 0; row_ < sizeof(rows) / sizeof(rows)[0]; row_++) {                         \
        assert_told_once(&(rows)[row_]);                                                           \
    }

static void a_refused_value(void **state) {
    (void)state;
    static const struct row rows[] = {
            {BEFORE "people: [{name: owner, code: 4711}]\n" TWICE("unset: k"),
                    "people[0].code: take it out (code: yes is usual)"},
            {BEFORE "people: [{name: owner, code: No}]\n" TWICE("unset: k"),
                    "people[0].code: write no"},
            {BEFORE "people: [{name: owner, fob: Yes}]\n" TWICE("set: full, with: fob"),
                    "people[0].fob: write yes"},
            {BEFORE "people: [{name: owner, fobs: yes}]\n" TWICE("set: full, with: fob"),
                    "people[0]: there is no key \"fobs\" here"},
            {BEFORE "people: [{name: owner, code: no, fob: yes}]\n" STEPS("set: full, with: fobb"),
                    "with: \"fobb\" is not known here"},
            {BEFORE "people: [{name: owner, code: no}]\n" STEPS("unset: k"), "has no code"},
            {BEFORE "people: [{name: owner}]\n" STEPS("set: full, with: fob"), "has no fob"},
    };
    ASSERT_TOLD_ONCE(rows);
}

static void a_reference_that_names_nothing(void **state) {
    (void)state;
    static const struct row rows[] = {
            {SITE PANEL AREAS DOORS KEYPADS DEVICES
                    "zones: [{number: 2, says: stairs, device: hal motion, behaviour: "
                    "interior}]\n" PEOPLE TWICE("pass: hall motion"),
                    "did you mean \"hall motion\"?"},
            {SITE PANEL AREAS DOORS KEYPADS DEVICES
                    "zones: [{number: 02, says: stairs, device: c, behaviour: interior}]\n" PEOPLE
                            TWICE("pass: 2"),
                    "begins with a zero"},
            {BEFORE PEOPLE STEPS("pass: hal motion"),
                    "no zone called \"hal motion\"; did you mean \"hall motion\"?"},
            {BEFORE PEOPLE STEPS("pass: zone 2"), "no zone called \"zone 2\"; did you mean \"2\"?"},
            {BEFORE PEOPLE STEPS("pass: 3"), "no zone called \"3\"; known: 1, 2"},
            {SITE PANEL AREAS DOORS KEYPADS DEVICES
                    "zones: [{number: 2, says: stairs, device: c, behaviour: interior}]\n" PEOPLE
                            STEPS("pass: hall motion"),
                    "there is no zone called \"hall motion\"; known: \"stairs\""},
    };
    ASSERT_TOLD_ONCE(rows);
}

static void a_misspelt_list(void **state) {
    (void)state;
    static const struct row rows[] = {
            {BEFORE "persons: [{name: owner}]\n" TWICE("unset: k"),
                    "no key \"persons\" here; did you mean \"people\"?"},
            {BEFORE "users: [{name: owner}]\n" TWICE("unset: k"), "did you mean \"people\"?"},
            {BEFORE "people: {owner: yes}\n" TWICE("unset: k"), "people: expected a list"},
            {BEFORE "people: [{nam: owner}]\n" TWICE("unset: k"), "did you mean \"name\"?"},
            {SITE PANEL AREAS DOORS KEYPADS
                    "sensors: [{name: c, profile: slim-contact}]\n"
                    "zones: [{number: 2, says: stairs, device: c, behaviour: interior}]\n" PEOPLE
                            TWICE("pass: c"),
                    "no key \"sensors\" here; did you mean \"devices\"?"},
            {SITE PANEL AREAS DOORS "keypad: [{name: k}]\n" DEVICES ZONES PEOPLE TWICE("set: full"),
                    "did you mean \"keypads\"?"},
            {SITE "panel: {profile: halyard-28, entry-delay: {front: 30 s}}\n" AREAS DOORS KEYPADS
                            DEVICES ZONES PEOPLE,
                    "did you mean \"entry-delays\"?"},
            {SITE "pannel: {profile: halyard-28, entry-delays: {front: 30 s}, modes: [{name: "
                  "late}]}\n" AREAS DOORS KEYPADS DEVICES ZONES PEOPLE STEPS("set: late"),
                    "did you mean \"panel\"?"},
            {BEFORE STEPS("mains: lost"), "no person called \"owner\""},
    };
    ASSERT_TOLD_ONCE(rows);
}

static void a_comma_for_a_point(void **state) {
    (void)state;
    static const struct row rows[] = {
            {SITE PANEL AREAS "building:\n  rooms:\n  - {name: hall, size: 4,2 x 3,6 m}\n",
                    "f:6:24: \"4,2 x 3,6 m\": a decimal is written with a point, not with a comma: "
                    "4.2 x 3.6 m"},
            {SITE PANEL AREAS
                    "building:\n  rooms:\n  - {name: hall, size: 4,2 x 3,6 m, party: left}\n",
                    "with a comma: 4.2 x 3.6 m"},
            {SITE PANEL AREAS
                    "building: {rooms: [{name: hall, size: 2 x 3 m}], inner-thickness: 0,1 m}\n",
                    "with a comma: 0.1 m"},
    };
    ASSERT_TOLD_ONCE(rows);
}

/* What other panels call our acts and modes. Common practice. */
static void words_of_others(void **state) {
    (void)state;
    static const struct row rows[] = {
            {BEFORE PEOPLE STEPS("set: away"), "set: \"away\" is called full here"},
            {BEFORE PEOPLE STEPS("set: Stay"), "set: \"Stay\" is called part here"},
            {BEFORE PEOPLE STEPS("arm: full"), "no key \"arm\" here; did you mean \"set\"?"},
            {BEFORE PEOPLE STEPS("disarm: k"), "no key \"disarm\" here; did you mean \"unset\"?"},
    };
    ASSERT_TOLD_ONCE(rows);
}

static void a_misspelt_verb(void **state) {
    (void)state;
    static const struct row rows[] = {
            {BEFORE PEOPLE STEPS("sett: full, with: fob"), "did you mean \"set\"?"},
            {BEFORE PEOPLE "routines:\n- {name: r, whoo: owner, steps: [{in: 1 s, set: full}]}\n",
                    "did you mean \"who\"?"},
            {BEFORE PEOPLE STEPS("open: d, with: fob"), "with goes with set or unset"},
    };
    ASSERT_TOLD_ONCE(rows);
}

/* Several mistakes are all told in one run, those beside a suppressed follow-up too. */
static void other_mistakes_stay(void **state) {
    (void)state;
    struct test_pages pages = {.left = -1};
    struct document document;
    struct problem problem = {0};
    document_init(&document, test_pages(&pages));
    assert_false(document_read_text(&document, "f", test_fixture("."),
            text_of(BEFORE "people: [{name: owner, code: 4711}, {name: child, code: no}]\n"
                           "routines: [{name: r, who: owner, steps: [{unset: k}, {who: child, "
                           "unset: k}, {pass: nothing}]}]\n"),
            NULL, &problem)
                         .good);
    assert_int_equal(document.problem_count, 3);
    assert_true(test_told(&document, "\"child\" has no code"));
    assert_true(test_told(&document, "no zone called \"nothing\""));
    document_finish(&document);
    assert_int_equal(pages.out, 0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(a_refused_value),
            cmocka_unit_test(a_reference_that_names_nothing),
            cmocka_unit_test(a_misspelt_list),
            cmocka_unit_test(a_comma_for_a_point),
            cmocka_unit_test(words_of_others),
            cmocka_unit_test(a_misspelt_verb),
            cmocka_unit_test(other_mistakes_stay),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
