/* What a finding concerns, and what differs between two reports. */
#include "check/compare.h"

#include "check/about.h"
#include "check/test_site.h"

#include <stdlib.h>

struct bench {
    struct arena arena;
    struct test_site house;
};

/* Not cmocka's: a test that fails would free it under the arena. */
static void *get(void *context, size_t size) {
    (void)context;
    return malloc(size);
}

static void give(void *context, void *block, size_t size) {
    (void)context;
    (void)size;
    free(block);
}

static int set_up(void **state) {
    struct bench *bench = malloc(sizeof *bench);
    assert_non_null(bench);
    arena_init(&bench->arena, (struct pages){.get = get, .give = give}, 0);
    test_site_fill(&bench->house, SITE_WORDS_UK);
    *state = bench;
    return 0;
}

static int tear_down(void **state) {
    struct bench *bench = *state;
    arena_finish(&bench->arena);
    free(bench);
    return 0;
}

static void a_path_is_told_in_words_that_stay(void **state) {
    struct bench *bench = *state;
    static const char *const rows[][2] = {
            {"", ""},
            {"zones[2].behaviour", "zone 3 behaviour"},
            {"zones[2].in.night", "zone 3 in night"},
            {"panel.abort-window", "panel abort-window"},
            {"panel.entry-delays.yard", "panel entry-delays yard"},
            {"panel.modes[0].exit-delay", "panel modes 1 exit-delay"},
            {"people[1].areas", "person apprentice areas"},
            {"routines[0].steps[2]", "routine first batch steps 3"},
            {"doors[1]", "door side door"},
            {"areas[0]", "area shop"},
            {"keypads[0]", "keypad passage keypad"},
            {"zones[99].behaviour", "zones[99].behaviour"},
            {"zones", "zones"},
            {"zones[x]", "zones[x]"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const struct text about =
                about_place(&bench->house.site, text_of(rows[i][0]), &bench->arena);
        assert_int_equal(about.length, strlen(rows[i][1]));
        assert_memory_equal(about.start == NULL ? "" : about.start, rows[i][1], about.length);
    }
    bench->house.zones[SIDE_ZONE].number = 60;
    const struct text renumbered =
            about_place(&bench->house.site, text_of("zones[2].behaviour"), &bench->arena);
    assert_true(text_is(renumbered, "zone 60 behaviour"));
}

/* What is drawn is told by its name, its door, the rooms that it joins, or what stands there: its place in the list is
 * another as soon as somebody draws a wall. */
static void what_is_drawn_is_told_by_what_it_is(void **state) {
    struct bench *bench = *state;
    struct site_room rooms[] = {{.name = text_of("hall")}, {.name = text_of("kitchen")}};
    struct site_opening openings[] = {
            {.kind = SITE_OPENING_DOOR, .door = 1, .room = 0, .to = SITE_NONE},
            {.kind = SITE_OPENING_DOOR, .door = SITE_NONE, .room = 0, .to = 1},
            {.kind = SITE_OPENING_WINDOW, .door = SITE_NONE, .room = 1, .to = SITE_NONE},
            {.kind = SITE_OPENING_WINDOW, .door = SITE_NONE, .room = 1, .to = SITE_NONE},
            {.name = text_of("bay"),
                    .kind = SITE_OPENING_WINDOW,
                    .door = SITE_NONE,
                    .room = 1,
                    .to = SITE_NONE}};
    struct site_place places[] = {{.device = SITE_NONE, .keypad = 0},
            {.device = SITE_NONE, .keypad = SITE_NONE, .fixture = SITE_FIXTURE_PANEL},
            {.device = SITE_NONE, .keypad = SITE_NONE, .protects = text_of("till")}};
    static const char *const rows[][2] = {
            {"building.openings[0]", "opening side door"},
            {"building.openings[1].to", "opening hall to kitchen door to"},
            {"building.openings[2]", "opening kitchen window"},
            {"building.openings[3]", "opening kitchen window 2"},
            {"building.openings[4]", "opening bay"},
            {"building.openings[5]", "building openings 6"},
            {"building.places[0]", "place of passage keypad"},
            {"building.places[1]", "place of panel"},
            {"building.places[2]", "place of till"},
            {"building.places[3]", "building places 4"},
            {"building.rooms[0].size", "building rooms 1 size"},
    };
    bench->house.site.building = (struct site_building){.rooms = rooms,
            .room_count = 2,
            .openings = openings,
            .opening_count = 5,
            .places = places,
            .place_count = 3};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const struct text about =
                about_place(&bench->house.site, text_of(rows[i][0]), &bench->arena);
        if (!text_is(about, rows[i][1])) {
            print_message("# %s: %.*s\n", rows[i][0], TEXT_ARGS(about));
        }
        assert_true(text_is(about, rows[i][1]));
    }
}

/* A report with one answer: of this verdict. */
static struct check_report report_of(struct bench *bench, struct proof_answer *answer,
        struct check_routine *routine, const char *name, enum proof_verdict verdict) {
    *routine = (struct check_routine){.source = &bench->house.routine};
    memset(answer, 0, sizeof *answer);
    answer->routine.name = text_of(name);
    answer->verdict = verdict;
    answer->culprit_zone = PANEL_NO_ZONE;
    return (struct check_report){.routines = routine, .answers = answer, .answer_count = 1};
}

static struct text about_with(
        struct bench *bench, const struct check_report *report, const char *place) {
    const struct check_finding finding = {.base = {.place = text_of(place), .answer_index = 0}};
    return about_finding(&bench->house.site, report, &finding, &bench->arena);
}

static void a_finding_names_the_zone_to_blame_once(void **state) {
    struct bench *bench = *state;
    struct proof_answer *answer = test_malloc(sizeof *answer);
    struct check_routine routine;
    struct check_report report =
            report_of(bench, answer, &routine, "first batch", PROOF_GOES_WRONG);
    assert_true(text_is(about_with(bench, &report, ""), "routine first batch"));
    assert_true(text_is(about_with(bench, &report, "panel.exit-delay"), "panel exit-delay"));
    answer->culprit_zone = SIDE_ZONE;
    assert_true(
            text_is(about_with(bench, &report, "panel.exit-delay"), "panel exit-delay, zone 3"));
    assert_true(text_is(about_with(bench, &report, "zones[2].behaviour"), "zone 3 behaviour"));
    assert_true(
            text_is(about_with(bench, &report, "zones[1].behaviour"), "zone 2 behaviour, zone 3"));
    answer->verdict = PROOF_GOES_WELL;
    answer->margin_timer = panel_timer_of(PANEL_TIMER_ENTRY, SHOP);
    assert_true(text_is(about_with(bench, &report, ""), "entry time, area shop"));
    answer->margin_timer = panel_timer_of(PANEL_TIMER_HOLD, PASSAGE_ZONE);
    assert_true(text_is(about_with(bench, &report, ""), "follower hold, zone 2"));
    answer->margin_timer = panel_timer_of(PANEL_TIMER_MAINS, 0);
    assert_true(text_is(about_with(bench, &report, ""), "mains report delay"));
    test_free(answer);
}

static struct check_finding finding_of(
        enum finding_weight weight, const char *id, const char *about, const char *headline) {
    return (struct check_finding){
            .base = {.weight = weight, .id = text_of(id), .headline = text_of(headline)},
            .about = text_of(about)};
}

static void findings_are_matched_by_what_they_concern(void **state) {
    struct bench *bench = *state;
    struct check_finding older[] = {
            finding_of(FINDING_FAULT, "a", "zone 7", "goes"),
            finding_of(FINDING_FAULT, "a", "zone 6", "stays"),
            finding_of(FINDING_RISK, "b", "zone 6", "grows"),
            finding_of(FINDING_NOTE, "c", "", "75 s"),
            finding_of(FINDING_NOTE, "d", "", "twice"),
    };
    struct check_finding newer[] = {
            finding_of(FINDING_NOTE, "d", "", "twice"),
            finding_of(FINDING_NOTE, "d", "", "twice"),
            finding_of(FINDING_NOTE, "c", "", "90 s"),
            finding_of(FINDING_FAULT, "b", "zone 6", "grows"),
            finding_of(FINDING_FAULT, "a", "zone 6", "stays"),
            finding_of(FINDING_FAULT, "b", "zone 7", "comes"),
    };
    const struct check_report before = {.findings = older, .finding_count = 5};
    const struct check_report now = {.findings = newer, .finding_count = 6};
    struct compare compare;
    assert_true(compare_reports(&before, &now, &bench->arena, &compare, NULL).good);
    assert_int_equal(compare.same, 2);
    assert_int_equal(compare.gone_count, 1);
    assert_ptr_equal(compare.gone[0].before, &older[0]);
    assert_int_equal(compare.fresh_count, 2);
    assert_ptr_equal(compare.fresh[0].now, &newer[1]);
    assert_ptr_equal(compare.fresh[1].now, &newer[5]);
    assert_int_equal(compare.changed_count, 2);
    assert_ptr_equal(compare.changed[0].before, &older[3]);
    assert_ptr_equal(compare.changed[1].now, &newer[3]);
}

static void routines_are_matched_by_name(void **state) {
    struct bench *bench = *state;
    struct proof_answer *answers = test_malloc(4 * sizeof *answers);
    struct check_routine routines[4];
    (void)report_of(bench, &answers[0], &routines[0], "stays", PROOF_GOES_WELL);
    (void)report_of(bench, &answers[1], &routines[1], "goes", PROOF_GOES_WELL);
    (void)report_of(bench, &answers[2], &routines[2], "comes", PROOF_GOES_WRONG);
    (void)report_of(bench, &answers[3], &routines[3], "stays", PROOF_GOES_WELL);
    answers[0].has_margin = answers[3].has_margin = true;
    answers[0].margin_s = answers[3].margin_s = 7;
    const struct check_report before = {
            .routines = routines, .answers = answers, .answer_count = 2};
    const struct check_report now = {
            .routines = routines + 2, .answers = answers + 2, .answer_count = 2};
    struct compare compare;
    assert_true(compare_reports(&before, &now, &bench->arena, &compare, NULL).good);
    assert_int_equal(compare.routine_count, 3);
    assert_null(compare.routines[0].before);
    assert_ptr_equal(compare.routines[1].before, &answers[0]);
    assert_ptr_equal(compare.routines[1].now, &answers[3]);
    assert_null(compare.routines[2].now);
    assert_true(compare_is_same(&compare.routines[1]));
    assert_false(compare_is_same(&compare.routines[0]));
    assert_false(compare_is_same(&compare.routines[2]));
    answers[3].margin_s = 8;
    assert_false(compare_is_same(&compare.routines[1]));
    answers[3].margin_s = 7;
    answers[3].margin_timer = panel_timer_of(PANEL_TIMER_ENTRY, SHOP);
    assert_false(compare_is_same(&compare.routines[1]));
    answers[3].verdict = PROOF_GOES_WRONG;
    assert_false(compare_is_same(&compare.routines[1]));
    routines[0].usual = true; /* a usual one of the same name is another */
    assert_true(compare_reports(&before, &now, &bench->arena, &compare, NULL).good);
    assert_int_equal(compare.routine_count, 4);
    test_free(answers);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test_setup_teardown(a_path_is_told_in_words_that_stay, set_up, tear_down),
            cmocka_unit_test_setup_teardown(what_is_drawn_is_told_by_what_it_is, set_up, tear_down),
            cmocka_unit_test_setup_teardown(
                    a_finding_names_the_zone_to_blame_once, set_up, tear_down),
            cmocka_unit_test_setup_teardown(
                    findings_are_matched_by_what_they_concern, set_up, tear_down),
            cmocka_unit_test_setup_teardown(routines_are_matched_by_name, set_up, tear_down),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
