#include "document/test_document.h"

static const char text[] = "site: {name: a}\n"                    /* 1 */
                           "panel:\n"                             /* 2 */
                           "  profile: halyard-28\n"              /* 3 */
                           "  entry-delays:\n"                    /* 4 */
                           "    front: 30 s\n"                    /* 5 */
                           "    front.side: 40 s\n"               /* 6 */
                           "areas: [{name: b}]\n"                 /* 7 */
                           "doors:\n"                             /* 8 */
                           "  - name: d\n"                        /* 9 */
                           "    outside: yes\n"                   /* 10 */
                           "  - {name: \xC3\xA9, outside: no}\n"; /* 11 */

static void assert_place(
        const struct document *document, const char *path, bool known, int line, int column) {
    int at_line = 0;
    int at_column = 0;
    assert_int_equal(document_place(document, text_of(path), &at_line, &at_column), known);
    assert_int_equal(at_line, line);
    assert_int_equal(at_column, column);
}

static void read_text(struct document *document, struct test_pages *pages) {
    struct problem problem = {0};
    *pages = (struct test_pages){.left = -1};
    document_init(document, test_pages(pages));
    const bool good =
            document_read_text(document, "t", test_fixture("."), text_of(text), NULL, &problem)
                    .good;
    test_print_problems(document);
    assert_true(good);
}

/* Lines and columns counted by hand in the text above; columns count characters, so the second door's "no" is at 25. */
static void paths_lead_to_values(void **state) {
    (void)state;
    struct document document;
    struct test_pages pages;
    read_text(&document, &pages);
    assert_place(&document, "site.name", true, 1, 14);
    assert_place(&document, "panel.profile", true, 3, 12);
    assert_place(&document, "panel.entry-delays.front", true, 5, 12);
    assert_place(&document, "panel.entry-delays.front.side", true, 6, 17);
    assert_place(&document, "areas[0]", true, 7, 9);
    assert_place(&document, "areas[0].name", true, 7, 16);
    assert_place(&document, "doors[0]", true, 9, 5);
    assert_place(&document, "doors[0].outside", true, 10, 14);
    assert_place(&document, "doors[1].outside", true, 11, 24);
    document_finish(&document);
    assert_int_equal(pages.out, 0);
}

/* Of a list or mapping its key is the place: the first line inside may be far below. */
static void blocks_are_shown_at_their_key(void **state) {
    (void)state;
    struct document document;
    struct test_pages pages;
    read_text(&document, &pages);
    assert_place(&document, "panel", true, 2, 1);
    assert_place(&document, "panel.entry-delays", true, 4, 3);
    assert_place(&document, "doors", true, 8, 1);
    document_finish(&document);
}

static void longest_known_beginning(void **state) {
    (void)state;
    struct document document;
    struct test_pages pages;
    read_text(&document, &pages);
    assert_place(&document, "panel.abort-window", true, 2, 1);
    assert_place(&document, "panel.entry-delays.back", true, 4, 3);
    assert_place(&document, "panel.entry-delays.front.back", true, 5, 12);
    assert_place(&document, "doors[7].name", true, 8, 1);
    assert_place(&document, "doors[0].in.night", true, 9, 5);
    assert_place(&document, "doors[99999999999999999999].name", true, 8, 1);
    assert_place(&document, "doors[x", true, 8, 1);
    assert_place(&document, "pan", false, 1, 1);
    assert_place(&document, "zones[0]", false, 1, 1);
    assert_place(&document, "[0]", false, 1, 1);
    assert_place(&document, "", false, 1, 1);
    document_finish(&document);
}

static void assert_usual(const struct document *document, const char *path, const char *usual) {
    if (!text_is(document_usual(document, text_of(path)), usual)) {
        print_message("# %s\n", path);
    }
    assert_true(text_is(document_usual(document, text_of(path)), usual));
}

/* A path is as long as the names in it, and ends where it ends, whatever stands behind it in memory. */
static void long_paths_lead_to_values(void **state) {
    (void)state;
    static const size_t lengths[] = {100, 140, 141, 400};
    static const char behind[] = ".more";
    for (size_t i = 0; i < sizeof lengths / sizeof lengths[0]; i++) {
        char name[500];
        char content[2000];
        char path[600];
        struct document document;
        struct test_pages pages = {.left = -1};
        int line = 0;
        int column = 0;
        memset(name, 'n', lengths[i]);
        name[lengths[i]] = '\0';
        (void)snprintf(content, sizeof content,
                "site: {name: a}\npanel:\n  profile: halyard-28\n  entry-delays:\n    %s: 30 s\n",
                name);
        (void)snprintf(path, sizeof path, "panel.entry-delays.%s%s", name, behind);
        document_init(&document, test_pages(&pages));
        /* The name may be longer than names are; it has its place all the same. */
        (void)document_read_text(&document, "t", test_fixture("."), text_of(content), NULL, NULL)
                .good;
        assert_true(document_place(
                &document, (struct text){path, strlen(path) - strlen(behind)}, &line, &column));
        assert_int_equal(line, 5);
        assert_int_equal(column, 5 + (int)lengths[i] + 2);
        document_finish(&document);
    }
}

/* What the file leaves out has a value all the same; what it writes, and what has none, has not. */
static void what_is_taken_for_a_key_left_out(void **state) {
    (void)state;
    struct document document;
    struct test_pages pages;
    read_text(&document, &pages);
    assert_usual(&document, "panel.abort-window", "30 s");
    assert_usual(&document, "doors[0].outside", "");
    assert_usual(&document, "areas[0].common", "no");
    assert_usual(&document, "areas[1].common", "");
    assert_usual(&document, "areas[0].name.common", "");
    assert_usual(&document, "areas[0].no-such-key", "");
    assert_usual(&document, "panel.entry-delays.back", "");
    assert_usual(&document, "panel.profile", "");
    assert_usual(&document, "areas[1]", "");
    assert_usual(&document, "", "");
    document_finish(&document);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(paths_lead_to_values),
            cmocka_unit_test(blocks_are_shown_at_their_key),
            cmocka_unit_test(longest_known_beginning),
            cmocka_unit_test(long_paths_lead_to_values),
            cmocka_unit_test(what_is_taken_for_a_key_left_out),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
