/* Input made to hurt: deep, wide, long. Each ends at once with a named limit. And memory refused at every page. */
#include "document/test_document.h"

#include "host/host.h"

#include <time.h>

enum { LARGE = DOCUMENT_BYTES_MAX };

/* Of processor time. Measured in the sanitized build on a busy machine: 3.0 s for the worst of these, 4 MiB that
 * libfyaml looks ahead over; a millisecond for a site file. */
static const double LONGEST_S = 20.0;

static char *large;

static int make_large(void **state) {
    (void)state;
    large = malloc(LARGE + 64);
    return large == NULL ? -1 : 0;
}

static int drop_large(void **state) {
    (void)state;
    free(large);
    return 0;
}

/* Fills `bytes` of the large text with the pattern, whole patterns only; gives the text. */
static struct text repeat(const char *lead, const char *pattern, size_t bytes) {
    const size_t lead_length = strlen(lead);
    const size_t length = strlen(pattern);
    size_t at = lead_length;
    memcpy(large, lead, lead_length);
    while (at + length <= bytes) {
        memcpy(large + at, pattern, length);
        at += length;
    }
    return (struct text){.start = large, .length = at};
}

static void assert_limit(struct text text, const char *told) {
    struct test_pages pages = {.left = -1};
    struct document document;
    struct problem problem = {0};
    const clock_t began = clock();
    document_init(&document, test_pages(&pages));
    assert_false(document_read_text(&document, "f", NULL, text, NULL, &problem).good);
    const double took_s = (double)(clock() - began) / CLOCKS_PER_SEC;
    if (!test_told(&document, told) || took_s > LONGEST_S) {
        print_message("# wanted: %s; took %.1f s\n", told, took_s);
        test_print_problems(&document);
    }
    assert_true(test_told(&document, told));
    assert_true(took_s <= LONGEST_S);
    assert_true(document.problem_count <= DOCUMENT_PROBLEM_MAX);
    document_finish(&document);
    assert_int_equal(pages.out, 0);
}

static void deep(void **state) {
    (void)state;
    assert_limit(repeat("", "[", 1000), "f:1:201: too many brackets are open here");
    assert_limit(repeat("", "[", LARGE), "f:1:201: too many brackets are open here");
    assert_limit(repeat("", "{a: ", LARGE), "too many brackets are open here");
    assert_limit(repeat("", "[a, ", LARGE), "too many brackets are open here");
    assert_limit(repeat("", "[\n", LARGE), "f:201:1: too many brackets are open here");
    assert_limit(repeat("", "- ", LARGE), "f:1:33: nested more than 16 deep");
    assert_limit(repeat("", "? ", LARGE), "nested more than 16 deep");
    assert_limit(text_of("a: [[[[[[[[[[[[[[[[[1]]]]]]]]]]]]]]]]]\n"),
            "f:1:19: nested more than 16 deep");
    size_t at = 0;
    for (int depth = 0; depth < 1000; depth++) {
        memset(large + at, ' ', (size_t)depth);
        memcpy(large + at + depth, "a:\n", 3);
        at += (size_t)depth + 3;
    }
    assert_limit((struct text){.start = large, .length = at}, "f:17:17: nested more than 16 deep");
}

static void wide(void **state) {
    (void)state;
    assert_limit(repeat("areas: [", "a,", LARGE), "more than 200000 values in one file");
    size_t at = 0;
    for (int i = 0; i < 1000; i++) {
        at += (size_t)snprintf(large + at, 32, "k%d: 1\n", i);
    }
    assert_limit((struct text){.start = large, .length = at},
            "f:257:1: more than 256 keys in one mapping");
    assert_limit(
            repeat("", "a: 1\n", 100000), "f:2:1: the key \"a\" stands here and already in line 1");
    assert_limit(repeat("site: {name: a}\npanel: {profile: x}\nareas: [{name: b}]\ndoors:\n",
                         "- {name: d}\n", 10000),
            "f:5:1: doors: ");
}

/* A bomb of aliases: each list holds the one before nine times. Nothing is unfolded, as none is followed. */
static void bomb(void **state) {
    (void)state;
    assert_limit(text_of("a: &a [x,x,x,x,x,x,x,x,x]\nb: &b [*a,*a,*a,*a,*a,*a,*a,*a,*a]\nc: &c "
                         "[*b,*b,*b,*b,*b,*b,*b,*b,*b]\n"
                         "d: &d [*c,*c,*c,*c,*c,*c,*c,*c,*c]\ne: [*d,*d,*d,*d,*d,*d,*d,*d,*d]\n"),
            "f:2:8: aliases (*) are not read");
    assert_limit(repeat("a: &a [1]\nb: [", "*a,", LARGE), "f:2:5: aliases (*) are not read");
    assert_limit(text_of("a: &a [*a]\n"), "f:1:8: aliases (*) are not read");
    assert_limit(repeat("", "&a ", LARGE), "f:");
    assert_limit(repeat("", "!a ", LARGE), "f:");
}

static void long_texts(void **state) {
    (void)state;
    assert_limit(repeat("site: {name: \"", "x", LARGE), "this is not YAML");
    assert_limit(repeat("site: ", "x", LARGE), "f:1:7: site: expected keys and values");
    assert_limit(repeat("x", "x", LARGE), "f:1:1: expected keys and values");
    assert_limit(repeat("", "#\n", LARGE), "f: the file is empty");
    assert_limit(repeat("a: |\n", "  x\n", LARGE), "f:1:1: there is no key \"a\" here");
    assert_limit(repeat("", "\xC3\xA9", LARGE), "f:1:1: expected keys and values");
    assert_limit(repeat("[", ",", LARGE), "this is not YAML");
    assert_limit(repeat("", "\"\" ", LARGE), "this is not YAML");
    assert_limit(repeat("", "%YAML 1.2\n", LARGE), "this is not YAML");
    assert_limit(repeat("", "---\n", LARGE), "f:2:1: a second document begins here");
}

static void a_hundred_and_thirty_zones(void **state) {
    (void)state;
    size_t at = (size_t)snprintf(large, 256,
            "site: {name: a}\npanel: {profile: halyard-28}\nareas: [{name: b}]\n"
            "devices: [{name: c, profile: slim-contact}]\nzones:\n");
    for (int i = 1; i <= 130; i++) {
        at += (size_t)snprintf(large + at, 128,
                "- {number: %d, says: z%d, device: c, behaviour: perimeter}\n", i, i);
    }
    assert_limit(
            (struct text){.start = large, .length = at}, "f:6:1: zones: 130 entries; at most 128");
}

/* More problems than are told: the first hundred, and that there are more. */
static void problems_without_end(void **state) {
    (void)state;
    struct test_pages pages = {.left = -1};
    struct document document;
    struct problem problem = {0};
    size_t at = 0;
    for (int i = 0; i < 200; i++) {
        at += (size_t)snprintf(large + at, 32, "k%d: 1\n", i);
    }
    document_init(&document, test_pages(&pages));
    assert_false(document_read_text(
            &document, "f", NULL, (struct text){.start = large, .length = at}, NULL, &problem)
                         .good);
    assert_int_equal(document.problem_count, DOCUMENT_PROBLEM_MAX);
    assert_true(document.more_problems);
    document_finish(&document);
    assert_int_equal(pages.out, 0);
}

static void fail_each_page(bool for_ever) {
    long refused = 0;
    bool good = false;
    for (long left = 0; !good; left++) {
        struct test_pages pages = {.left = left, .for_ever = for_ever};
        struct document document;
        struct problem problem = {0};
        document_init(&document, test_pages(&pages));
        good = document_read_file(&document, test_fixture("bakery.yaml"), NULL, &problem).good;
        if (!good) {
            refused++;
            assert_int_equal(problem.kind, PROBLEM_MEMORY);
            assert_non_null(strstr(problem.text, "no memory"));
            assert_int_equal(document.problem_count, 0);
        }
        document_finish(&document);
        assert_int_equal(pages.out, 0);
    }
    assert_true(refused >= 3);
}

static void each_page_refused_once(void **state) {
    (void)state;
    fail_each_page(false);
}

static void each_page_refused_for_ever(void **state) {
    (void)state;
    fail_each_page(true);
}

/* A file with problems is told of, or memory is; never half of either. */
static void refuse_while_telling(bool for_ever) {
    const struct text text =
            text_of("site: {name: a, wrds: uk}\npanel: {profile: halyard-28, abort-window: 2 h}\n"
                    "areas: [{nam: b}]\ndoors: [{name: d, outside: perhaps}]\n");
    bool told = false;
    for (long left = 0; !told; left++) {
        struct test_pages pages = {.left = left, .for_ever = for_ever};
        struct document document;
        struct problem problem = {0};
        document_init(&document, test_pages(&pages));
        assert_false(
                document_read_text(&document, "f", test_fixture("."), text, NULL, &problem).good);
        told = problem.kind != PROBLEM_MEMORY;
        assert_true(document.problem_count == (told ? 4 : 0));
        document_finish(&document);
        assert_int_equal(pages.out, 0);
    }
}

static void pages_refused_while_telling(void **state) {
    (void)state;
    refuse_while_telling(false);
    refuse_while_telling(true);
}

static void pages_refused_while_patching(void **state) {
    (void)state;
    bool good = false;
    long refused = 0;
    for (long left = 0; !good; left++) {
        struct test_pages pages = {.left = -1};
        struct document document;
        struct problem problem = {0};
        struct text text = {0};
        const struct document_edit edit = {
                .path = "zones[0].behaviour", .value = text_of("perimeter")};
        document_init(&document, test_pages(&pages));
        assert_true(
                document_read_file(&document, test_fixture("bakery.yaml"), NULL, &problem).good);
        pages.left = left;
        pages.for_ever = true;
        good = document_edit(&document, &edit, 1, NULL, &text, &problem).good;
        refused += !good;
        assert_true(
                good ? text.start != NULL : problem.kind == PROBLEM_MEMORY && text.start == NULL);
        document_finish(&document);
        assert_int_equal(pages.out, 0);
    }
    assert_true(refused >= 3);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(deep),
            cmocka_unit_test(wide),
            cmocka_unit_test(bomb),
            cmocka_unit_test(long_texts),
            cmocka_unit_test(a_hundred_and_thirty_zones),
            cmocka_unit_test(problems_without_end),
            cmocka_unit_test(each_page_refused_once),
            cmocka_unit_test(each_page_refused_for_ever),
            cmocka_unit_test(pages_refused_while_telling),
            cmocka_unit_test(pages_refused_while_patching),
    };
    return cmocka_run_group_tests(tests, make_large, drop_large);
}
