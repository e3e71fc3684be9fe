/* What is told of a text that is no YAML: the place of the slip, not that where a parser gives up, and what to write.
 * Each row gives one problem but for what is missing in so short a file. */
#include "document/test_document.h"

struct slip {
    const char *text;
    const char *told; /* the whole line, or its beginning */
};

static bool begins_so(
        const struct document_problem *problem, struct document *document, const char *beginning) {
    struct text_builder builder;
    text_builder_init(&builder, &document->arena);
    document_problem_add(&builder, problem);
    const struct text line = text_built(&builder);
    return line.start != NULL && strncmp(line.start, beginning, strlen(beginning)) == 0;
}

static void assert_slip(const struct slip *slip) {
    struct test_pages pages = {.left = -1};
    struct document document;
    struct problem problem = {0};
    size_t found = 0;
    size_t others = 0;
    document_init(&document, test_pages(&pages));
    assert_false(
            document_read_text(&document, "f", NULL, text_of(slip->text), NULL, &problem).good);
    for (size_t i = 0; i < document.problem_count; i++) {
        const bool missing = document.problems[i].kind == PROBLEM_MISSING;
        const bool it = begins_so(&document.problems[i], &document, slip->told);
        found += it;
        others += !it && !missing;
    }
    if (found != 1 || others > 0) {
        print_message("# of %s\n# wanted alone: %s\n", slip->text, slip->told);
        test_print_problems(&document);
    }
    assert_int_equal(found, 1);
    assert_int_equal(others, 0);
    document_finish(&document);
    assert_int_equal(pages.out, 0);
}

#define ASSERT_SLIPS(slips)                                                                        \
    for (size_t slip_ = 0; slip_ < sizeof(slips) / sizeof(slips)[0]; slip_++) {                    \
        assert_slip(&(slips)[slip_]);                                                              \
    }

#define NO "this is not YAML: "

static void tabs(void **state) {
    (void)state;
    static const struct slip slips[] = {
            {"site:\n\tname: a\n", "f:2:1: " NO "a tab stands here; indent with blanks"},
            {"site:\n  name: a\n\tinvented: yes\n", "f:3:1: " NO "a tab stands here"},
            {"site:\n  name: a\n\n  \tinvented: yes\n", "f:4:3: " NO "a tab stands here"},
            {"doors:\n- {name: a}\n\t- {name: b}\n", "f:3:1: " NO "a tab stands here"},
    };
    ASSERT_SLIPS(slips);
}

static void colons(void **state) {
    (void)state;
    static const struct slip slips[] = {
            {"panel:\n  exit-delay:40 s\n  battery: 7 Ah\n",
                    "f:2:14: " NO "write a blank after the colon"},
            {"panel:\n  battery: 7 Ah\n  exit-delay:40 s\n", "f:3:14: " NO "write a blank after"},
            {"panel:\n  battery: 7 Ah\n  exit-delay:40 s\ndoors: []\n",
                    "f:3:14: " NO "write a blank after"},
            {"doors:\n- name:a\n  outside: yes\n", "f:2:8: " NO "write a blank after the colon"},
            {"doors: [{name:a, outside: yes}]\n",
                    "f:1:10: doors[0]: write a blank after the colon"},
            {"people: [{pin:4711}]\n", "f:1:11: people[0]: write a blank after the colon"},
            {"doors:\n- {name: a}\n-{name: b}\n", "f:3:1: write a blank after the dash"},
            {"panel:\n  exit-delay 40 s\n  battery: 7 Ah\n",
                    "f:2:13: " NO "a colon and a blank are missing behind the key in this line"},
            {"panel:\n  battery: 7 Ah\n  exit-delay 40 s\ndoors: []\n",
                    "f:3:13: " NO "a colon and a blank are missing"},
            {"name: a: b\n",
                    "f:1:8: " NO
                    "invalid nested block mapping on the same line; a value with \": \" "
                    "in it stands in quotes"},
    };
    ASSERT_SLIPS(slips);
}

static void columns(void **state) {
    (void)state;
    static const struct slip slips[] = {
            {"panel:\n  battery: 7 Ah\n   exit-delay: 40 s\n  siren-time: 3 s\n",
                    "f:3:4: " NO
                    "this line is indented further than line 2; begin it in the same column, 3"},
            {"panel:\n  modes:\n  - name: b\n     exit-delay: 3 s\n",
                    "f:4:6: " NO
                    "this line is indented further than line 3; begin it in the same column, 5"},
            {"doors:\n- name: b\n\n   # which?\n   outside: yes\n- name: c\n",
                    "f:5:4: " NO
                    "this line is indented further than line 2; begin it in the same column, 3"},
            {"panel:\n  battery: 7 Ah\n exit-delay: 40 s\n",
                    "f:3:2: " NO
                    "invalid indentation in mapping; keys of one mapping begin in the same column"},
            {"doors:\n  - name: b\n - name: c\n", "f:3:2: " NO},
    };
    ASSERT_SLIPS(slips);
}

static void dashes(void **state) {
    (void)state;
    static const struct slip slips[] = {
            {"doors:\n- {name: a}\n{name: b}\n- {name: c}\n",
                    "f:3:1: " NO "a list goes on here: begin the line with \"- \""},
            {"doors:\n- {name: a}\n  {name: b}\n- {name: c}\n", "f:3:3: " NO "a list goes on here"},
            {"doors:\n  - {name: a}\n  {name: b}\n", "f:3:3: " NO "a list goes on here"},
            {"doors:\n  - {name: a}\n  name: b\n", "f:3:3: " NO "a list goes on here"},
            {"doors:\n- name: a\nname: b\n- name: c\n", "f:3:1: " NO "a list goes on here"},
            {"doors:\n- name: a\n  outside: yes\n  name: b\n",
                    "f:4:3: the key \"name\" stands here and already in line 2; keep one of them, "
                    "or begin a new line of the list with \"- \""},
            {"doors: [{name: a, name: b}]\n",
                    "f:1:19: the key \"name\" stands here and already in line 1; keep one of them"},
    };
    ASSERT_SLIPS(slips);
}

#define NOT_CLOSED "the bracket that opens here is not closed; "

static void brackets(void **state) {
    (void)state;
    static const struct slip slips[] = {
            {"doors:\n- {name: a}\n- {name: b\n- {name: c}\nkeypads: []\n",
                    "f:3:3: " NO NOT_CLOSED "a } is missing at the end of line 3 or so"},
            {"site: {name: a\npanel: {profile: x}\n",
                    "f:1:7: " NO NOT_CLOSED "a } is missing at the end of line 1 or so"},
            {"doors:\n- {name: a}\n- {name: b\n",
                    "f:3:3: " NO NOT_CLOSED "a } is missing at the end of line 3 or so"},
            {"areas: [1, 2\ndoors: 2\n",
                    "f:1:8: " NO NOT_CLOSED "a ] is missing at the end of line 1 or so"},
            {"doors:\n- {name: a,\n   outside: no\n   open: yes}\n- {name: b}\n",
                    "f:2:3: " NO NOT_CLOSED "a comma or a } is missing at the end of line 3"},
            {"doors: [{name: a}, {name: b]\nkeypads: []\n",
                    "f:1:28: " NO "a } is missing before this ]"},
            {"doors:\n- {name: c, says: [x, y}\nkeypads: []\n",
                    "f:2:24: " NO "a ] is missing before this }"},
            {"doors:\n- {name: a}}\n- {name: b}\n",
                    "f:2:12: " NO "this } closes nothing; take it out"},
            {"site: {name: #1}\npanel: {}\n",
                    "f:1:14: " NO "a remark begins here, up to the end of the line; a value with # "
                    "stands in quotes"},
    };
    ASSERT_SLIPS(slips);
}

#define CURLY "curly quotes are letters here; write straight ones: \"...\""
#define OPEN "\xE2\x80\x9C"
#define CLOSE "\xE2\x80\x9D"

static void quotes(void **state) {
    (void)state;
    static const struct slip slips[] = {
            {"doors: [{name: " OPEN "a" CLOSE "}]\n", "f:1:16: " CURLY},
            {"doors: [{name: " OPEN "a, b" CLOSE "}]\n", "f:1:16: " CURLY},
            {"doors: [{name: " OPEN "a: b" CLOSE "}]\n", "f:1:16: " CURLY},
            {"doors: [{name: \xE2\x80\x9E"
             "a" OPEN "}]\n",
                    "f:1:16: " CURLY},
            {"doors: [{name: \"a" CLOSE "}]\n", "f:1:18: " NO CURLY},
            {"doors: [{name: \"a " OPEN "b" CLOSE "\" c: d}]\n", "f:1:"},
            {"doors: [{name: a, outside: @yes}]\n",
                    "f:1:28: " NO
                    "plain scalar cannot start with '@'; a value that begins with it stands in"},
    };
    ASSERT_SLIPS(slips);
}

/* Curly quotes within a text are letters of it. */
static void quotes_within_a_text(void **state) {
    (void)state;
    struct test_pages pages = {.left = -1};
    struct document document;
    struct problem problem = {0};
    document_init(&document, test_pages(&pages));
    assert_true(document_read_text(&document, "f", test_fixture("."),
            text_of("site: {name: \"" OPEN "Old" CLOSE " mill\"}\npanel: {profile: halyard-28}\n"
                    "areas: [{name: the " OPEN "old" CLOSE " part}]\n"),
            NULL, &problem)
                        .good);
    document_finish(&document);
    assert_int_equal(pages.out, 0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(tabs),
            cmocka_unit_test(colons),
            cmocka_unit_test(columns),
            cmocka_unit_test(dashes),
            cmocka_unit_test(brackets),
            cmocka_unit_test(quotes),
            cmocka_unit_test(quotes_within_a_text),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
