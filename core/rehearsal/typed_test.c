/* Lines typed by hand: what they are read as, and what is said of those that cannot be. */
#include "rehearsal/typed.h"

#include "check/test_site.h"

#include <stdio.h>
#include <stdlib.h>

static struct test_site house;
static struct arena arena;
static struct typed typed;

/* cmocka's own allocator counts what a fixture leaves to its test as lost. */
static void *get(void *context, size_t size) {
    (void)context;
    return malloc(size);
}

static void give(void *context, void *block, size_t size) {
    (void)context;
    (void)size;
    free(block);
}

static int begin(void **state) {
    (void)state;
    arena_init(&arena, (struct pages){.get = get, .give = give}, 0);
    test_site_fill(&house, SITE_WORDS_UK);
    assert_true(typed_begin(&house.site, &arena, &typed, NULL).good);
    return 0;
}

static int end(void **state) {
    (void)state;
    arena_finish(&arena);
    return 0;
}

static struct typed_line reads(const char *line, struct text *ret_wanted) {
    struct text_builder wanted;
    text_builder_init(&wanted, &arena);
    const struct typed_line read = typed_read(&typed, text_of(line), &wanted);
    *ret_wanted = text_built(&wanted);
    return read;
}

enum { SOMEBODY = PERSON_COUNT };

static void acts_are_understood(void **state) {
    (void)state;
    static const struct {
        const char *line;
        enum site_act act;
        int who;
        int door;
        int zone;
        int keypad;
        enum site_use use;
        int mode;
    } rows[] = {
            {"yard door opens", SITE_ACT_OPEN, SOMEBODY, YARD_DOOR, -1, -1, 0, 0},
            {"The baker opens the Yard Door", SITE_ACT_OPEN, BAKER, YARD_DOOR, -1, -1, 0, 0},
            {"open side door", SITE_ACT_OPEN, SOMEBODY, SIDE_DOOR, -1, -1, 0, 0},
            {"apprentice closes side", SITE_ACT_CLOSE, APPRENTICE, SIDE_DOOR, -1, -1, 0, 0},
            {"robin passes the passage", SITE_ACT_PASS, ROBIN, -1, PASSAGE_ZONE, -1, 0, 0},
            {"zone 5 trips", SITE_ACT_PASS, SOMEBODY, -1, FLAT_ZONE, -1, 0, 0},
            {"baker keys in passage", SITE_ACT_UNSET, BAKER, -1, -1, 0, SITE_USE_CODE, 0},
            {"baker keys the code at the passage keypad", SITE_ACT_UNSET, BAKER, -1, -1, 0, 0, 0},
            {"baker disarms", SITE_ACT_UNSET, BAKER, -1, -1, 0, 0, 0},
            {"Robin unsets with fob", SITE_ACT_UNSET, ROBIN, -1, -1, -1, SITE_USE_FOB, 0},
            {"baker sets night", SITE_ACT_SET, BAKER, -1, -1, 0, 0, SITE_MODE_NIGHT},
            {"Robin arms part with his fob", SITE_ACT_SET, ROBIN, -1, -1, -1, SITE_USE_FOB,
                    SITE_MODE_PART},
            {"apprentice mistypes", SITE_ACT_MISTYPE, APPRENTICE, -1, -1, 0, 0, 0},
            {"baker presses till", SITE_ACT_PRESS, BAKER, -1, TILL_ZONE, -1, 0, 0},
            {"baker bypasses zone 3", SITE_ACT_BYPASS, BAKER, -1, SIDE_ZONE, -1, 0, 0},
            {"somebody tampers landing", SITE_ACT_TAMPER, SOMEBODY, -1, FLAT_ZONE, -1, 0, 0},
            {"mains lost", SITE_ACT_MAINS_LOST, SOMEBODY, -1, -1, -1, 0, 0},
            {"jamming ends", SITE_ACT_JAM_OVER, SOMEBODY, -1, -1, -1, 0, 0},
            {"path back", SITE_ACT_PATH_BACK, SOMEBODY, -1, -1, -1, 0, 0},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct text wanted;
        const struct typed_line read = reads(rows[i].line, &wanted);
        if (read.kind != TYPED_ACT) {
            print_error("%s: %.*s\n", rows[i].line, TEXT_ARGS(wanted));
        }
        assert_int_equal(read.kind, TYPED_ACT);
        assert_int_equal(read.count, 1);
        assert_int_equal(read.steps[0].act, rows[i].act);
        assert_int_equal(read.steps[0].who, rows[i].who);
        assert_int_equal(read.steps[0].door, rows[i].door);
        assert_int_equal(read.steps[0].zone, rows[i].zone);
        assert_int_equal(read.steps[0].keypad, rows[i].keypad);
        assert_int_equal(read.steps[0].use, rows[i].use);
        assert_int_equal(read.steps[0].mode, rows[i].mode);
    }
}

/* A door that falls shut is two steps; a contact that is said to trip does so by itself. */
static void some_lines_are_more(void **state) {
    (void)state;
    struct text wanted;
    struct typed_line read = reads("baker goes through yard door", &wanted);
    assert_int_equal(read.count, 2);
    assert_int_equal(read.steps[0].act, SITE_ACT_OPEN);
    assert_int_equal(read.steps[1].act, SITE_ACT_CLOSE);
    assert_int_equal(read.after_s[1], 2);
    read = reads("zone 3 trips", &wanted);
    assert_int_equal(read.steps[0].mishap, PROOF_MISHAP_TRIPS);
    assert_int_equal(read.steps[0].zone, SIDE_ZONE);
    read = reads("wait 1.5 min", &wanted);
    assert_int_equal(read.kind, TYPED_WAIT);
    assert_int_equal(read.wait_s, 90);
    assert_int_equal(reads("wait", &wanted).wait_s, TYPED_TO_NEXT);
    assert_int_equal(reads("  ", &wanted).kind, TYPED_NOTHING);
    assert_int_equal(reads("# yard door opens", &wanted).kind, TYPED_NOTHING);
    assert_int_equal(reads("help", &wanted).kind, TYPED_HELP);
    read = reads("shop begins full", &wanted);
    assert_int_equal(read.kind, TYPED_START);
    assert_true(read.area == SHOP && read.start.set && read.start.mode == SITE_MODE_FULL);
    read = reads("side door begins open", &wanted);
    assert_true(read.kind == TYPED_START && read.door == SIDE_DOOR);
}

static bool says(struct text text, const char *words) {
    const size_t length = strlen(words);
    for (size_t i = 0; i + length <= text.length; i++) {
        if (memcmp(text.start + i, words, length) == 0) {
            return true;
        }
    }
    return false;
}

static void what_is_not_understood_says_what_is(void **state) {
    (void)state;
    static const struct {
        const char *line;
        const char *says;
        const char *offers;
    } rows[] = {
            {"frobnicate", "what is done?", "PERSON opens"},
            {"yrd door opens", "no door is called \"yrd door\"", "doors: yard door, side door"},
            {"door opens", "several doors may be called \"door\"",
                    "doors: yard door, side door"}, /* which? */
            {"Tilda keys in passage", "nobody is called \"Tilda\"", "people: baker"},
            {"keys in passage", "who does it?", "people: baker"},
            {"baker keys in cellar", "no keypad is called \"in cellar\"",
                    "keypads: passage keypad"},
            {"baker sets quietly", "in which mode?", "modes: full"},
            {"baker unsets with fob", "baker has no fob", ""},
            {"passage trips loudly", "nobody is called \"passage\"", "people: baker"},
            {"zone 9 trips", "no zone is called \"zone 9\"", "zones: 1 yard door"},
            {"somebody keys in passage", "has no code", ""},
            {"wait long", "how long?", ""},
            {"cellar begins full", "no area is called", "areas: shop, flat"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct text wanted;
        const struct typed_line read = reads(rows[i].line, &wanted);
        if (read.kind != TYPED_UNKNOWN || !says(wanted, rows[i].says) ||
                !says(wanted, rows[i].offers)) {
            print_error("%s: %.*s\n", rows[i].line, TEXT_ARGS(wanted));
        }
        assert_int_equal(read.kind, TYPED_UNKNOWN);
        assert_true(says(wanted, rows[i].says) && says(wanted, rows[i].offers));
    }
}

/* Whatever bytes: nothing but an answer comes of it. */
static void any_bytes_are_read(void **state) {
    (void)state;
    uint32_t seed = 7;
    for (size_t round = 0; round < 2000; round++) {
        static const char *const pieces[] = {"baker ", "opens ", "yard door ", "\xff\xfe", "zone ",
                "99999 ", "with ", "fob ", "begins ", "wait ", "\"", "sets ", "full ", "\t",
                "goes ", "through ", "1e999 s ", "5 s "};
        struct text_builder line;
        text_builder_init(&line, &arena);
        for (size_t i = 0; i < 1 + round % 40; i++) {
            seed = seed * 1664525U + 1013904223U;
            text_add_string(&line, pieces[(seed >> 16) % (sizeof pieces / sizeof pieces[0])]);
        }
        struct text_builder wanted;
        text_builder_init(&wanted, &arena);
        const struct typed_line read = typed_read(&typed, text_built(&line), &wanted);
        assert_true(read.kind <= TYPED_UNKNOWN);
        assert_true(read.kind != TYPED_UNKNOWN || wanted.length > 0);
    }
}

/* The story of what was typed has each act at its second; more than there is room for is told. */
static void what_is_typed_is_a_course(void **state) {
    (void)state;
    struct text wanted;
    struct rehearsal_course course;
    struct typed_line line = reads("shop begins full", &wanted);
    typed_start(&typed, &line);
    line = reads("side door opens", &wanted);
    assert_true(typed_add(&typed, &line, 4, NULL).good);
    line = reads("baker mistypes", &wanted);
    assert_true(typed_add(&typed, &line, 9, NULL).good);
    assert_true(typed_course(&typed, &arena, &course, NULL).good);
    size_t act = 0;
    for (size_t i = 0; i < course.count; i++) {
        if (course.lines[i].kind == PROOF_LINE_ACT) {
            assert_int_equal(course.lines[i].at_s, act == 0 ? 4 : 9);
            act++;
        }
    }
    assert_int_equal(act, 2); /* though the first of them ends in an alarm */
    size_t taken = 2;
    struct problem problem = {0};
    while (typed_add(&typed, &line, (int32_t)taken + 8, &problem).good) {
        taken++;
    }
    assert_int_equal(taken, PROOF_STEP_MAX);
    assert_int_equal(problem.kind, PROBLEM_LIMIT);
    assert_non_null(strstr(problem.text, "192 acts"));
    assert_non_null(strstr(problem.text, "begin another"));
    assert_true(typed_course(&typed, &arena, &course, NULL).good); /* what was done stays */
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test_setup_teardown(acts_are_understood, begin, end),
            cmocka_unit_test_setup_teardown(some_lines_are_more, begin, end),
            cmocka_unit_test_setup_teardown(what_is_not_understood_says_what_is, begin, end),
            cmocka_unit_test_setup_teardown(any_bytes_are_read, begin, end),
            cmocka_unit_test_setup_teardown(what_is_typed_is_a_course, begin, end),
    };
    return cmocka_run_group_tests_name("typed", tests, NULL, NULL);
}
