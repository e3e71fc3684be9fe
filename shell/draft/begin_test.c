/* Four answers make a site file that the reader takes, and nothing that was answered becomes anything but a text. */
#include "draft/begin.h"

#include "host/host.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

struct begun {
    struct arena arena;
    char data[512];
    struct document_search search;
    struct document document;
    struct text site;
    struct problem problem;
    bool good;
};

static void begin(struct begun *begun, const struct begin_answers *answers) {
    *begun = (struct begun){0};
    (void)snprintf(begun->data, sizeof begun->data, "%s/data", getenv("LINTEL_SOURCE"));
    begun->search.data = begun->data;
    arena_init(&begun->arena, host_pages(), 0);
    document_init(&begun->document, host_pages());
    begun->good =
            begin_site(answers, &begun->search, &begun->arena, &begun->site, &begun->problem).good;
    if (begun->good) {
        assert_true(document_read_text(
                &begun->document, "begun", NULL, begun->site, &begun->search, NULL)
                            .good);
    }
}

static void end(struct begun *begun) {
    document_finish(&begun->document);
    arena_finish(&begun->arena);
}

static void a_standard_is_held_against_it(void **state) {
    struct begun begun;
    struct begin_answers answers = {.standard = text_of("en50131-grade-2")};
    (void)state;
    begin(&begun, &answers);
    assert_true(begun.good);
    assert_int_equal(begun.document.site.rule_set_count, 2);
    assert_true(text_is(begun.document.site.rule_sets[1].name, "en50131-grade-2"));
    end(&begun);
    answers.standard = text_of("no-such");
    begin(&begun, &answers);
    assert_false(begun.good);
    assert_non_null(strstr(begun.problem.text, "no-such"));
    end(&begun);
    answers.standard = text_of("house], panel: {");
    begin(&begun, &answers);
    assert_false(begun.good);
    end(&begun);
}

static void standards_can_be_chosen(void **state) {
    struct begun begun;
    const struct begin_answers answers = {0};
    struct text_builder out;
    struct json_writer json;
    (void)state;
    begin(&begun, &answers);
    text_builder_init(&out, &begun.arena);
    json_init(&json, &out);
    assert_true(begin_add_standards(&begun.search, &json, NULL, NULL).good);
    const char *list = text_built(&out).start;
    assert_non_null(
            strstr(list, "\"says\": \"EN 50131, grade 2, as far as a site file states it\""));
    assert_null(strstr(list, "\"name\": \"house\""));
    end(&begun);
}

static void what_is_answered_is_in_it(void **state) {
    struct begun begun;
    const struct begin_answers answers = {.name = text_of("Mill cottage"),
            .panel = text_of("dinghy-16"),
            .ground = text_of("9 x 7 m"),
            .adults = 2,
            .children = 1,
            .pets = 1};
    (void)state;
    begin(&begun, &answers);
    assert_true(begun.good);
    const struct site *site = &begun.document.site;
    assert_true(text_is(site->name, "Mill cottage"));
    assert_true(text_is(begun.document.panel_profile, "dinghy-16"));
    assert_int_equal(site->person_count, 4);
    assert_true(text_is(site->people[0].name, "adult 1"));
    assert_true(text_is(site->people[2].name, "child"));
    assert_int_equal(site->people[2].codes.high_s, 10);
    assert_true(site->people[3].animal);
    assert_int_equal(site->building.room_count, 1);
    end(&begun);
}

static void with_nothing_answered_there_is_a_site_still(void **state) {
    struct begun begun;
    const struct begin_answers answers = {0};
    (void)state;
    begin(&begun, &answers);
    assert_true(begun.good);
    assert_true(text_is(begun.document.site.name, "House"));
    assert_int_equal(begun.document.site.person_count, 0);
    assert_int_equal(begun.document.site.building.room_count, 0);
    end(&begun);
}

/* The panel was delivered with these (data/panels/halyard-28.yaml). */
static void delays_are_those_that_the_panel_comes_with(void **state) {
    struct begun begun;
    const struct begin_answers answers = {.panel = text_of("halyard-28")};
    (void)state;
    begin(&begun, &answers);
    assert_non_null(strstr(begun.site.start, "exit-delay: 45 s"));
    assert_non_null(strstr(begun.site.start, "abort-window: 30 s"));
    end(&begun);
}

static void every_panel_that_is_offered_can_be_begun_with(void **state) {
    static const char *const panels[] = {"dinghy-16", "halyard-28", "spinnaker-128"};
    (void)state;
    for (size_t i = 0; i < sizeof panels / sizeof panels[0]; i++) {
        struct begun begun;
        const struct begin_answers answers = {.panel = text_of(panels[i]),
                .adults = BEGIN_EACH_MOST,
                .children = BEGIN_EACH_MOST,
                .pets = BEGIN_EACH_MOST,
                .others = 5};
        begin(&begun, &answers);
        assert_true(begun.good);
        assert_int_equal(begun.document.site.person_count, 32);
        end(&begun);
    }
}

static void an_answer_is_never_more_than_a_text(void **state) {
    static const char *const names[] = {"a\", words: us, rules: [", "x: {y", "# no", "\"", "'",
            "yes", "1", "<script>alert(1)</script>", "- a", "*a", "&a", "!!int 3", "%TAG", "@x"};
    (void)state;
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        struct begun begun;
        const struct begin_answers answers = {.name = text_of(names[i])};
        begin(&begun, &answers);
        assert_true(begun.good);
        assert_true(text_is(begun.document.site.name, names[i]));
        end(&begun);
    }
}

static void what_cannot_be_is_told(void **state) {
    static const struct {
        struct begin_answers answers;
        const char *says;
    } rows[] = {
            {{.panel = {"no-such", 7}}, "no-such"},
            {{.panel = {"../../etc/passwd", 16}}, "panel"},
            {{.ground = {"nine by seven", 13}}, "m"},
            {{.ground = {"9 x 7 m}\nzones: [", 17}}, "m"},
            {{.adults = BEGIN_EACH_MOST + 1}, "0 to 9"},
            {{.children = -1}, "0 to 9"},
            {{.adults = 9, .children = 9, .pets = 9, .others = 9}, "32 people"},
    };
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct begun begun;
        begin(&begun, &rows[i].answers);
        assert_false(begun.good);
        assert_non_null(strstr(begun.problem.text, rows[i].says));
        end(&begun);
    }
}

static void what_can_be_chosen_is_listed(void **state) {
    struct arena arena;
    struct text_builder out;
    struct json_writer json;
    char data[512];
    (void)state;
    (void)snprintf(data, sizeof data, "%s/data", getenv("LINTEL_SOURCE"));
    const struct document_search search = {.data = data};
    arena_init(&arena, host_pages(), 0);
    text_builder_init(&out, &arena);
    json_init(&json, &out);
    assert_true(begin_add_panels(&search, &json, NULL, NULL).good);
    const char *built = text_built(&out).start;
    assert_non_null(strstr(built, "\"name\": \"halyard-28\""));
    assert_non_null(strstr(built, "\"zones\": 128"));
    assert_non_null(strstr(built, "\"wired\": 2"));
    arena_finish(&arena);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(what_is_answered_is_in_it),
            cmocka_unit_test(a_standard_is_held_against_it),
            cmocka_unit_test(standards_can_be_chosen),
            cmocka_unit_test(with_nothing_answered_there_is_a_site_still),
            cmocka_unit_test(delays_are_those_that_the_panel_comes_with),
            cmocka_unit_test(every_panel_that_is_offered_can_be_begun_with),
            cmocka_unit_test(an_answer_is_never_more_than_a_text),
            cmocka_unit_test(what_cannot_be_is_told),
            cmocka_unit_test(what_can_be_chosen_is_listed),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
