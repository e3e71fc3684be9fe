#include "document/test_document.h"

#include <sys/stat.h>
#include <unistd.h>

static const char head[] = "# ours\n"
                           "site: {name: a}   # who\n"
                           "panel:\n"
                           "  profile: halyard-28\n"
                           "  entry-delays: {front: 30 s}\n"
                           "\n"
                           "areas: [{name: b}]\n"
                           "doors: [{name: d}]\n"
                           "devices:\n"
                           "  - {name: contact, profile: slim-contact, on: d}\n"
                           "zones:\n";

static const char flow[] = "  - {number: 1, says: [front, door], device: contact, behaviour: "
                           "\"perimeter\"}  # wrong\n";

static const char block[] = "  - number: 1\n"
                            "    says: front door\n"
                            "    # what it does\n"
                            "    behaviour:   perimeter   # wrong\n"
                            "    device: contact    # last\n"
                            "\n"
                            "# the end\n";

struct patched {
    struct document document;
    struct test_pages pages;
    struct text text;
    struct problem problem;
    bool good;
};

static char joined[8192];

static struct text join(const char *first, const char *second, const char *third) {
    (void)snprintf(joined, sizeof joined, "%s%s%s", first, second, third);
    return text_of(joined);
}

static void patch_all(struct patched *patched, struct text before,
        const struct document_edit *edits, size_t count) {
    *patched = (struct patched){.pages = {.left = -1}};
    document_init(&patched->document, test_pages(&patched->pages));
    const bool read = document_read_text(
            &patched->document, "t", test_fixture("."), before, NULL, &patched->problem)
                              .good;
    test_print_problems(&patched->document);
    assert_true(read);
    patched->good =
            document_edit(&patched->document, edits, count, NULL, &patched->text, &patched->problem)
                    .good;
}

static void finish(struct patched *patched) {
    document_finish(&patched->document);
    assert_int_equal(patched->pages.out, 0);
}

static void patch(
        struct patched *patched, struct text before, const char *path, const char *value) {
    const struct document_edit edit = {.path = path, .value = text_of(value)};
    patch_all(patched, before, &edit, 1);
}

/* The text after one edit must be this, byte for byte. */
static void assert_patch(
        struct text before, const char *path, const char *value, const char *expected) {
    struct patched patched;
    patch(&patched, before, path, value);
    if (!patched.good) {
        print_message("# %s: %s\n", path, patched.problem.text);
    }
    assert_true(patched.good);
    assert_int_equal(patched.text.length, strlen(expected));
    assert_memory_equal(patched.text.start, expected, patched.text.length);
    finish(&patched);
}

static void assert_refused(
        struct text before, const char *path, const char *value, const char *because) {
    struct patched patched;
    patch(&patched, before, path, value);
    assert_false(patched.good);
    if (strstr(patched.problem.text, because) == NULL) {
        print_message("# %s: %s\n", path, patched.problem.text);
    }
    assert_non_null(strstr(patched.problem.text, because));
    assert_null(patched.text.start);
    finish(&patched);
}

static void a_value_is_replaced_and_nothing_else(void **state) {
    (void)state;
    char expected[8192];
    (void)snprintf(expected, sizeof expected, "%s%s", head,
            "  - {number: 1, says: [front, door], device: contact, behaviour: entry}  # wrong\n");
    assert_patch(join(head, flow, ""), "zones[0].behaviour", "entry", expected);
    (void)snprintf(expected, sizeof expected, "%s%s", head,
            "  - number: 1\n    says: front door\n    # what it does\n    behaviour:   entry   # "
            "wrong\n"
            "    device: contact    # last\n\n# the end\n");
    assert_patch(join(head, block, ""), "zones[0].behaviour", "entry", expected);
}

static void a_missing_key_is_added(void **state) {
    (void)state;
    char expected[8192];
    (void)snprintf(expected, sizeof expected, "%s%s", head,
            "  - {number: 1, says: [front, door], device: contact, behaviour: \"perimeter\", in: "
            "{night: out}}"
            "  # wrong\n");
    assert_patch(join(head, flow, ""), "zones[0].in.night", "out", expected);
    (void)snprintf(expected, sizeof expected, "%s%s", head,
            "  - number: 1\n    says: front door\n    # what it does\n    behaviour:   perimeter   "
            "# wrong\n"
            "    device: contact    # last\n    in: {night: out}\n\n# the end\n");
    assert_patch(join(head, block, ""), "zones[0].in.night", "out", expected);
    (void)snprintf(expected, sizeof expected, "%s%s", head, flow);
    char *areas = strstr(expected, "areas:");
    assert_non_null(areas);
    char tail[4096];
    (void)snprintf(tail, sizeof tail, "%s", areas);
    (void)snprintf(areas - 1, sizeof expected - (size_t)(areas - 1 - expected),
            "  abort-window: 15 s\n\n%s", tail);
    assert_patch(join(head, flow, ""), "panel.abort-window", "15 s", expected);
}

/* The first of a list of things gets a line of its own, where those after it will stand too. */
static void the_first_of_a_list_begins_lines(void **state) {
    (void)state;
    char expected[8192];
    (void)snprintf(expected, sizeof expected, "%s%s%s", head, flow,
            "building:\n  rooms:\n    - {name: hall, size: 4 x 3 m}\n");
    assert_patch(
            join(head, flow, ""), "building.rooms[0]", "{name: hall, size: 4 x 3 m}", expected);
    (void)snprintf(expected, sizeof expected, "%s%s%s", head, flow,
            "building:\n  rooms:\n    - {name: hall, size: 4 x 3 m}\n  places:\n    - {is: panel, "
            "room: hall, corner: back left}\n");
    assert_patch(join(head, flow, "building:\n  rooms:\n    - {name: hall, size: 4 x 3 m}\n"),
            "building.places[0]", "{is: panel, room: hall, corner: back left}", expected);
    assert_refused(join(head, flow, ""), "building.rooms[1]", "{name: hall, size: 4 x 3 m}",
            "a list begins with [0]");
    /* In a mapping that stands in one line it stays in that line. */
    (void)snprintf(expected, sizeof expected, "%s%s%s", head, flow,
            "building: {rooms: [{name: hall, size: 4 x 3 m}], places: [{is: panel, room: hall, "
            "corner: back left}]}\n");
    assert_patch(join(head, flow, "building: {rooms: [{name: hall, size: 4 x 3 m}]}\n"),
            "building.places[0]", "{is: panel, room: hall, corner: back left}", expected);
}

static void a_new_top_key_goes_to_the_end(void **state) {
    (void)state;
    char expected[8192];
    (void)snprintf(expected, sizeof expected, "%s%s%s", head, flow, "people: [{name: baker}]\n");
    assert_patch(join(head, flow, ""), "people", "[{name: baker}]", expected);
    assert_patch(join(head, flow, ""), "people[0].name", "baker", expected);
    /* No line's end at the end of the file: none is invented behind the new line. */
    struct text cut = join(head, flow, "");
    cut.length--;
    expected[strlen(expected) - 1] = '\0';
    assert_patch(cut, "people", "[{name: baker}]", expected);
}

static void a_list_grows_at_its_end(void **state) {
    (void)state;
    char expected[8192];
    (void)snprintf(expected, sizeof expected, "%s%s%s", head, flow, "doors2");
    struct patched patched;
    patch(&patched, join(head, flow, ""), "doors[1]", "{name: e}");
    assert_true(patched.good);
    assert_non_null(strstr(patched.text.start, "doors: [{name: d}, {name: e}]\n"));
    finish(&patched);
    patch(&patched, join(head, flow, ""), "devices[1]", "{name: m, profile: quarter-motion}");
    assert_true(patched.good);
    assert_non_null(strstr(patched.text.start,
            "  - {name: contact, profile: slim-contact, on: d}\n  - {name: m, profile: "
            "quarter-motion}\nzones:\n"));
    finish(&patched);
    assert_refused(join(head, flow, ""), "doors[2]", "{name: e}", "no such place");
}

static void empty_brackets_and_values_are_filled(void **state) {
    (void)state;
    struct patched patched;
    patch(&patched, join(head, flow, "ways: []\npeople: [ ]\n"), "people[0].name", "baker");
    assert_true(patched.good);
    assert_non_null(strstr(patched.text.start, "people: [{name: baker} ]\n"));
    finish(&patched);
    patch(&patched,
            join("site: {name: a}\npanel: {profile: halyard-28, entry-delays: {}}\nareas: [{name: "
                 "b}]\n",
                    "", ""),
            "panel.entry-delays.back door", "20 s");
    assert_true(patched.good);
    assert_non_null(strstr(patched.text.start, "entry-delays: {back door: 20 s}}"));
    finish(&patched);
}

static void a_block_is_replaced_behind_its_key(void **state) {
    (void)state;
    struct patched patched;
    const char *rest = "keypads:\n  - name: k\n    areas:\n      - b   # all\n# below\n";
    patch(&patched, join(head, flow, rest), "keypads[0].areas", "[b, b]");
    assert_true(patched.good);
    assert_non_null(strstr(patched.text.start, "    areas: [b, b]   # all\n# below\n"));
    finish(&patched);
}

static void carriage_returns_stay(void **state) {
    (void)state;
    const char *before =
            "site: {name: a}\r\npanel:\r\n  profile: halyard-28\r\nareas: [{name: b}]\r\n";
    assert_patch(text_of(before), "panel.abort-window", "15 s",
            "site: {name: a}\r\npanel:\r\n  profile: halyard-28\r\n  abort-window: 15 s\r\nareas: "
            "[{name: b}]\r\n");
}

static void a_block_text_before_a_new_key(void **state) {
    (void)state;
    const char *before = "site: {name: a}\npanel: {profile: halyard-28}\nareas: [{name: "
                         "b}]\npeople: [{name: p}]\n"
                         "routines:\n  - name: r\n    steps: [{who: p, in: 1 s, wait: yes}]\n    "
                         "says: >\n      Two\n      lines.\n";
    struct patched patched;
    patch(&patched, text_of(before), "routines[0].expects", "[siren]");
    assert_true(patched.good);
    assert_non_null(strstr(patched.text.start, "      Two\n      lines.\n    expects: [siren]\n"));
    finish(&patched);
    assert_refused(text_of(before), "routines[0].says", "x", "by hand");
}

static void several_edits_at_once(void **state) {
    (void)state;
    struct patched patched;
    const struct document_edit edits[] = {
            {.path = "panel.entry-delays.side", .value = text_of("45 s")},
            {.path = "zones[0].behaviour", .value = text_of("entry")},
            {.path = "zones[0].delay", .value = text_of("side")},
    };
    patch_all(&patched, join(head, flow, ""), edits, 3);
    assert_true(patched.good);
    assert_non_null(strstr(patched.text.start, "entry-delays: {front: 30 s, side: 45 s}\n"));
    assert_non_null(strstr(patched.text.start, "behaviour: entry, delay: side}  # wrong\n"));
    finish(&patched);
}

static const struct text nothing = {0};

/* The text without what is at the path must be this, byte for byte. */
static void assert_cut(struct text before, const char *path, const char *expected) {
    struct patched patched;
    const struct document_edit edit = {.path = path, .value = nothing};
    patch_all(&patched, before, &edit, 1);
    if (!patched.good) {
        print_message("# %s: %s\n", path, patched.problem.text);
    }
    assert_true(patched.good);
    assert_string_equal(patched.text.start, expected);
    finish(&patched);
}

static void what_is_taken_out_leaves_the_rest(void **state) {
    (void)state;
    static const char top[] = "site: {name: a}\npanel: {profile: halyard-28}\n";
    static const struct {
        const char *path;
        const char *before;
        const char *after;
    } cases[] = {
            /* in brackets: the first, the last, the only one; a line that it has to itself */
            {"areas[0]", "areas: [{name: b}, {name: c}]  # two\n", "areas: [{name: c}]  # two\n"},
            {"areas[1]", "areas: [{name: b}, {name: c}]  # two\n", "areas: [{name: b}]  # two\n"},
            {"people[0]", "areas: [{name: b}]\npeople: [{name: p}]\n",
                    "areas: [{name: b}]\npeople: []\n"},
            {"areas[0].common", "areas: [{name: b, common: yes}, {name: c}]\n",
                    "areas: [{name: b}, {name: c}]\n"},
            {"doors[0].outside", "areas: [{name: b}]\ndoors: [{outside: yes, name: d}]\n",
                    "areas: [{name: b}]\ndoors: [{name: d}]\n"},
            {"doors[1]", "areas: [{name: b}]\ndoors: [\n  {name: d},\n  {name: e},\n  {name: f}]\n",
                    "areas: [{name: b}]\ndoors: [\n  {name: d},\n  {name: f}]\n"},
            /* in lines, with the comment behind */
            {"doors[0]",
                    "areas: [{name: b}]\ndoors:\n  - {name: d}  # gone\n  # kept\n  - name: e\n",
                    "areas: [{name: b}]\ndoors:\n  # kept\n  - name: e\n"},
            {"doors[1]",
                    "areas: [{name: b}]\ndoors:\n  - {name: d}\n  - name: e\n    outside: yes\n",
                    "areas: [{name: b}]\ndoors:\n  - {name: d}\n"},
            {"doors[0]", "areas: [{name: b}]\ndoors:\n  - {name: d}\npeople: [{name: p}]\n",
                    "areas: [{name: b}]\ndoors: []\npeople: [{name: p}]\n"},
            {"doors[0].outside", "areas: [{name: b}]\ndoors:\n  - name: d\n    outside: yes # no\n",
                    "areas: [{name: b}]\ndoors:\n  - name: d\n"},
            {"doors[0].outside", "areas: [{name: b}]\ndoors:\n  - outside: yes\n    name: d\n",
                    "areas: [{name: b}]\ndoors:\n  - name: d\n"},
            {"people", "areas: [{name: b}]\npeople:\n  - name: p\n# end\n",
                    "areas: [{name: b}]\n# end\n"},
            /* a block text has taken the end of its line along */
            {"routines[0].says",
                    "areas: [{name: b}]\npeople: [{name: p}]\nroutines:\n  - name: r\n    says: "
                    ">\n      Two\n      lines.\n    steps: [{who: p, in: 1 s, wait: yes}]\n",
                    "areas: [{name: b}]\npeople: [{name: p}]\nroutines:\n  - name: r\n    steps: "
                    "[{who: p, in: 1 s, wait: yes}]\n"},
            {"areas[0].says", "areas:\n  - name: b\n", NULL},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        char before[512];
        char after[512];
        (void)snprintf(before, sizeof before, "%s%s", top, cases[i].before);
        if (cases[i].after == NULL) {
            struct patched patched;
            const struct document_edit edit = {.path = cases[i].path, .value = nothing};
            patch_all(&patched, text_of(before), &edit, 1);
            assert_false(patched.good);
            assert_non_null(strstr(patched.problem.text, "no such place"));
            finish(&patched);
            continue;
        }
        (void)snprintf(after, sizeof after, "%s%s", top, cases[i].after);
        assert_cut(text_of(before), cases[i].path, after);
    }
}

/* A name that is still spoken of cannot go alone, but together with what speaks of it. */
static void what_is_spoken_of_stays(void **state) {
    (void)state;
    struct patched patched;
    const struct document_edit edits[] = {
            {.path = "zones[0]", .value = nothing},
            {.path = "devices[0]", .value = nothing},
            {.path = "doors[0]", .value = nothing},
    };
    patch_all(&patched, join(head, flow, ""), &edits[2], 1);
    assert_false(patched.good);
    finish(&patched);
    patch_all(&patched, join(head, flow, ""), edits, 3);
    assert_true(patched.good);
    assert_non_null(strstr(patched.text.start, "doors: []\ndevices: []\nzones: []  # wrong\n"));
    finish(&patched);
}

/* What would not read, or would read as something else, is not made. */
static void nonsense_is_refused(void **state) {
    (void)state;
    assert_refused(
            join(head, flow, ""), "zones[0].behaviour", "loud", "\"loud\" is not known here");
    assert_refused(join(head, flow, ""), "zones[0].delay", "back",
            "there is no entry delay called \"back\"");
    assert_refused(join(head, flow, ""), "zones[0].behaviour", "entry, chime: yes", "one value");
    assert_refused(join(head, flow, ""), "zones[0].behaviour", "entry\n# more", "one value");
    assert_refused(join(head, flow, ""), "zones[0].behaviour", "entry # more", "one value");
    assert_refused(join(head, flow, ""), "zones[0].behaviour", "", "one value");
    assert_refused(join(head, flow, ""), "zones[0].behaviour", "a], [b", "one value");
    assert_refused(join(head, flow, ""), "zones[0].behaviour", "*a", "one value");
    assert_refused(join(head, flow, ""), "zones[0].number.x", "1", "no such place");
    assert_refused(join(head, flow, ""), "zones[0]..x", "1", "not a path");
    assert_refused(join(head, flow, ""), "", "1", "not a path");
}

static void quoting_reads_back(void **state) {
    (void)state;
    struct test_pages pages = {.left = -1};
    struct arena arena;
    arena_init(&arena, test_pages(&pages), 0);
    assert_true(text_is(document_quote(&arena, text_of("yard door")), "yard door"));
    assert_true(text_is(document_quote(&arena, text_of("yes")), "\"yes\""));
    assert_true(text_is(document_quote(&arena, text_of("24-hour")), "\"24-hour\""));
    assert_true(text_is(document_quote(&arena, text_of("")), "\"\""));
    assert_true(text_is(document_quote(&arena, text_of("say \"hi\"\\")), "\"say \\\"hi\\\"\\\\\""));
    assert_true(text_is(document_quote(&arena, text_of("a: b #c")), "\"a: b #c\""));
    arena_finish(&arena);
    static const char *const names[] = {
            "yard door", "yes", "a: b", "x, y", "]", "\"", "\\", "\xC3\xA9t\xC3\xA9", "0x1", "~"};
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        struct patched patched;
        struct text quoted;
        arena_init(&arena, test_pages(&pages), 0);
        quoted = document_quote(&arena, text_of(names[i]));
        patch(&patched, join(head, flow, ""), "site.name", quoted.start);
        assert_true(patched.good);
        struct document again;
        struct problem problem = {0};
        document_init(&again, test_pages(&pages));
        assert_true(document_read_text(&again, "t", test_fixture("."), patched.text, NULL, &problem)
                            .good);
        assert_true(text_is(again.site.name, names[i]));
        document_finish(&again);
        finish(&patched);
        arena_finish(&arena);
    }
}

/* Written whole, and only when the result reads well. */
static void saving_writes_the_file_or_leaves_it(void **state) {
    (void)state;
    char folder[] = "/tmp/lintel-save-XXXXXX";
    char path[64];
    assert_non_null(mkdtemp(folder));
    (void)snprintf(path, sizeof path, "%s/site.yaml", folder);
    struct patched patched;
    const struct document_edit good = {.path = "panel.abort-window", .value = text_of("20 s")};
    const struct document_edit bad = {.path = "panel.abort-window", .value = text_of("20")};
    patch_all(&patched, join(head, flow, ""), NULL, 0);
    struct problem problem = {0};
    assert_false(document_save(&patched.document, &bad, 1, NULL, path, &problem).good);
    assert_int_equal(access(path, F_OK), -1);
    problem = (struct problem){0};
    assert_true(document_save(&patched.document, &good, 1, NULL, path, &problem).good);
    FILE *file = fopen(path, "rb");
    assert_non_null(file);
    char content[8192];
    const size_t length = fread(content, 1, sizeof content - 1, file);
    content[length] = '\0';
    (void)fclose(file);
    assert_non_null(strstr(content, "  abort-window: 20 s\n"));
    assert_non_null(strstr(content, "site: {name: a}   # who\n"));
    finish(&patched);
    assert_int_equal(unlink(path), 0);
    assert_int_equal(rmdir(folder), 0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(a_value_is_replaced_and_nothing_else),
            cmocka_unit_test(a_missing_key_is_added),
            cmocka_unit_test(the_first_of_a_list_begins_lines),
            cmocka_unit_test(a_new_top_key_goes_to_the_end),
            cmocka_unit_test(a_list_grows_at_its_end),
            cmocka_unit_test(empty_brackets_and_values_are_filled),
            cmocka_unit_test(a_block_is_replaced_behind_its_key),
            cmocka_unit_test(carriage_returns_stay),
            cmocka_unit_test(a_block_text_before_a_new_key),
            cmocka_unit_test(several_edits_at_once),
            cmocka_unit_test(what_is_taken_out_leaves_the_rest),
            cmocka_unit_test(what_is_spoken_of_stays),
            cmocka_unit_test(nonsense_is_refused),
            cmocka_unit_test(quoting_reads_back),
            cmocka_unit_test(saving_writes_the_file_or_leaves_it),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
