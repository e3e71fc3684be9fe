/* The codes file: what it says, when it is refused, and that nothing out of it is told. The files are written where a
 * site file would have them. */
#include "document/test_document.h"

#include "base/json.h"

#include <sys/stat.h>
#include <unistd.h>

static char folder[64];

static const char site_text[] =
        "site: {name: a, codes: house.codes}\n"
        "panel: {profile: p, entry-delays: {front: 30 s}}\nareas: [{name: b}]\n"
        "keypads: [{name: pad}]\npeople: [{name: baker}, {name: lodger}, {name: night guest}]\n";

static void write_file(const char *name, const char *text, mode_t mode) {
    char path[160];
    (void)snprintf(path, sizeof path, "%s/%s", folder, name);
    FILE *file = fopen(path, "wb");
    assert_non_null(file);
    assert_true(fputs(text, file) >= 0);
    assert_int_equal(fclose(file), 0);
    assert_int_equal(chmod(path, mode), 0);
}

static int make_folder(void **state) {
    char path[160];
    (void)state;
    (void)snprintf(folder, sizeof folder, "/tmp/lintel-codes-XXXXXX");
    if (mkdtemp(folder) == NULL) {
        return -1;
    }
    (void)snprintf(path, sizeof path, "%s/panels", folder);
    if (mkdir(path, 0700) != 0) {
        return -1;
    }
    write_file("panels/p.yaml",
            "name: p\nzones: 40\nareas: 2\nexit-delay: 30..120 s\nentry-delay: 15..60 s\n"
            "abort-window: 0..45 s\nbehaviours: [entry, perimeter]\n",
            0644);
    return 0;
}

static int drop_folder(void **state) {
    char command[128];
    (void)state;
    (void)snprintf(command, sizeof command, "rm -r %s", folder);
    return system(command);
}

struct read {
    struct test_pages pages;
    struct document document;
    struct problem problem;
    bool good;
};

static void read_site(struct read *read) {
    char path[160];
    (void)snprintf(path, sizeof path, "%s/site.yaml", folder);
    read->problem = (struct problem){0};
    document_init(&read->document, test_pages(&read->pages));
    read->good = document_read_file(
            &read->document, path, &(struct document_search){.data = NULL}, &read->problem)
                         .good;
}

static void read_codes(struct read *read, const char *codes, mode_t mode) {
    *read = (struct read){.pages = {.left = -1}};
    write_file("site.yaml", site_text, 0644);
    write_file("house.codes", codes, mode);
    read_site(read);
}

static void finish(struct read *read) {
    document_finish(&read->document);
    assert_int_equal(read->pages.out, 0);
}

static const char good_codes[] = "people:\n  baker: \"0481\"\n  lodger: as baker\n"
                                 "  gardener: 7302\n  \"5926\": \"88\"\nduress: \"6195\"\n"
                                 "installer: \"926518\"\n";

static void it_says_whose_each_code_is(void **state) {
    struct read read;
    (void)state;
    read_codes(&read, good_codes, 0600);
    test_print_problems(&read.document);
    assert_true(read.good);
    const struct site *site = &read.document.site;
    assert_int_equal(site->codes_state, SITE_CODES_READ);
    assert_int_equal(site->code_count, 6);
    assert_int_equal(site->codes[0].person, 0);
    assert_true(text_is(site->codes[0].digits, "0481"));
    assert_int_equal(site->codes[1].person, 1);
    assert_int_equal(site->codes[1].shared_with, 0);
    assert_int_equal(site->codes[1].digits.length, 0);
    assert_int_equal(site->codes[2].person, SITE_NONE);
    assert_false(site->codes[2].hidden);
    assert_true(text_is(site->codes[2].digits, "7302"));
    assert_true(site->codes[3].hidden); /* it may be the code, and 88 the name */
    assert_int_equal(site->codes[4].of, SITE_CODE_OF_DURESS);
    assert_int_equal(site->codes[5].of, SITE_CODE_OF_INSTALLER);
    finish(&read);
}

static void one_that_is_not_there_is_no_problem(void **state) {
    struct read read = {.pages = {.left = -1}};
    (void)state;
    write_file("site.yaml", site_text, 0644);
    char path[160];
    (void)snprintf(path, sizeof path, "%s/house.codes", folder);
    (void)unlink(path);
    read_site(&read);
    assert_true(read.good);
    assert_int_equal(read.document.site.codes_state, SITE_CODES_NOT_THERE);
    assert_int_equal(read.document.site.code_count, 0);
    finish(&read);
}

static void one_that_others_may_read_is_refused(void **state) {
    static const mode_t modes[] = {0640, 0604, 0620, 0602, 0610, 0601, 0644, 0666};
    struct read read;
    (void)state;
    for (size_t i = 0; i < sizeof modes / sizeof modes[0]; i++) {
        read_codes(&read, good_codes, modes[i]);
        assert_false(read.good);
        assert_true(test_told(&read.document, "site.codes: "));
        assert_true(test_told(&read.document, "is open to others than its owner; chmod 600 "));
        assert_true(test_told(&read.document, "/house.codes"));
        finish(&read);
    }
    read_codes(&read, good_codes, 0400);
    assert_true(read.good);
    finish(&read);
}

/* Whatever is wrong, nothing that stands in the file is told: each text holds 4711 where it may be taken for a code. */
static void nothing_in_it_is_told(void **state) {
    static const struct {
        const char *codes;
        const char *told; /* NULL: nothing is wrong */
    } rows[] = {
            {"people:\n  baker: 47x11\n",
                    "house.codes:2:10: people: expected a code of 1 to 16 digits"},
            {"people:\n  baker: 4711.5\n", "what stands here is not shown"},
            {"people:\n  baker: [4711]\n", "what stands here is not shown"},
            {"people:\n  baker: {4711: 4711}\n", "what stands here is not shown"},
            {"people:\n  baker: 47114711471147114\n", "what stands here is not shown"},
            {"people:\n  baker:\n", "what stands here is not shown"},
            {"people:\n  baker: as 4711\n", "nobody who is named behind \"as\""},
            {"people:\n  baker: as lodger\n  lodger: as baker\n",
                    "nobody who is named behind \"as\""},
            {"people:\n  4711: 1\n  4711: 2\n", "the key stands here and already in line 2"},
            {"people: 4711\n", "expected a mapping from people to codes"},
            {"people: [4711]\n", "expected a mapping from people to codes"},
            {"4711: baker\n", "there is no such key in a codes file"},
            {"4711\n", "a codes file begins with people:"},
            {"[4711]\n", "a codes file begins with people:"},
            {"duress: x4711\n", "what stands here is not shown"},
            {"duress: as baker\npeople: {baker: 4711}\n", "what stands here is not shown"},
            {"people: {baker: *4711}\n", "aliases (*) are not read"},
            {"people: {baker: &4711 1}\n", "anchors (&) are not read"},
            {"people: {baker: !4711 1}\n", ""},
            {"people: {baker: \"4711\n", "this is not YAML"},
            {"people:\n\tbaker: 4711\n", "this is not YAML"},
            {"people: {baker: 4711]\n", "this is not YAML"},
            {"people: @4711\n", "this is not YAML"},
            {"people: %4711\n", "this is not YAML"},
            {"people:\n  baker: 4711: 4711\n", "this is not YAML"},
            {"people: {}\n--- \n4711\n", "a second document begins here"},
            {"", "the file is empty"},
            {"people: {4711: 4711}\n", NULL},
            {"people: {\"\": 4711}\n", NULL},
            {"people:\n", NULL},
    };
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct read read;
        read_codes(&read, rows[i].codes, 0600);
        if (read.good != (rows[i].told == NULL)) {
            print_message("# %s", rows[i].codes);
            test_print_problems(&read.document);
        }
        assert_int_equal(read.good, rows[i].told == NULL);
        if (rows[i].told != NULL && !test_told(&read.document, rows[i].told)) {
            print_message("# wanted: %s\n", rows[i].told);
            test_print_problems(&read.document);
            fail();
        }
        assert_false(test_told(&read.document, "4711"));
        assert_null(strstr(read.problem.text, "4711"));
        finish(&read);
    }
}

#define TAKE_IT_OUT                                                                                \
    "take it out (code: yes is usual); a code stands only in the file that site.codes names"

static void a_code_in_the_site_file_is_not_told(void **state) {
    static const char *const rows[][2] = {
            {"site: {name: a, codes: \"4711\"}\n", "expected the path of the codes file"},
            {"site: {name: a, codes: 4711}\n", "expected the path of the codes file"},
            {"site: {name: a, codes: {baker: 4711}}\n",
                    "site.codes: expected a text, not a mapping"},
            {"site: {name: a}\npeople: [{name: baker, code: \"4711\"}]\n",
                    "people[0].code: " TAKE_IT_OUT},
            {"site: {name: a}\npeople: [{name: baker, code: 4711}]\n",
                    "people[0].code: " TAKE_IT_OUT},
            {"site: {name: a}\npeople: [{name: baker, pin: 4711}]\n",
                    "people[0].pin: " TAKE_IT_OUT},
            {"site: {name: a}\npeople: [{name: baker, Password: [4711]}]\n",
                    "people[0].Password: " TAKE_IT_OUT},
            {"site: {name: a}\npeople: [{name: baker, codes: {baker: 4711}}]\n",
                    "people[0].codes: " TAKE_IT_OUT},
            {"site: {name: a}\nkeypads: [{name: hall, passcode: 4711}]\n",
                    "keypads[0].passcode: take it out; a code stands only in the file"},
            {"site: {name: a, code: 4711}\n",
                    "site.code: take it out; a code stands only in the file"},
            {"site: {name: a}\npanel: {installer-code: 4711}\n",
                    "panel.installer-code: take it out; a code stands only in the file"},
    };
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct read read = {.pages = {.left = -1}};
        char text[512];
        (void)snprintf(
                text, sizeof text, "%spanel: {profile: p}\nareas: [{name: b}]\n", rows[i][0]);
        write_file("site.yaml", text, 0644);
        read_site(&read);
        assert_false(read.good);
        if (!test_told(&read.document, rows[i][1])) {
            print_message("# wanted: %s\n", rows[i][1]);
            test_print_problems(&read.document);
            fail();
        }
        assert_false(test_told(&read.document, "4711"));
        finish(&read);
    }
}

/* The safety of profiles: inside the folder, all links followed; not the site file itself; a regular file; a size. */
static void it_lies_inside_the_folder(void **state) {
    static const char *const rows[][2] = {
            {NULL, "lies outside this file's folder"},
            {"link.codes", "lies outside this file's folder"},
            {"/etc/hostname", "is not a path from this file's folder on"},
            {"site.yaml", "this is the site file itself"},
            {"itself.codes", "this is the site file itself"},
            {"panels", "is not a regular file"},
            {"pipe.codes", "is not a regular file"},
            {"large.codes", "is longer than 65536 bytes"},
    };
    char path[160];
    char outside[160];
    static char large[65536 + 2];
    (void)state;
    (void)snprintf(outside, sizeof outside, "%s.outside", folder);
    assert_int_equal(mkdir(outside, 0700), 0);
    (void)snprintf(path, sizeof path, "%s/link.codes", folder);
    assert_int_equal(symlink(outside, path), 0);
    (void)snprintf(path, sizeof path, "%s/itself.codes", folder);
    assert_int_equal(symlink("site.yaml", path), 0);
    (void)snprintf(path, sizeof path, "%s/pipe.codes", folder);
    assert_int_equal(mkfifo(path, 0600), 0);
    memset(large, '#', sizeof large - 1);
    write_file("large.codes", large, 0600);
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct read read = {.pages = {.left = -1}};
        char text[512];
        char beside[160];
        (void)snprintf(beside, sizeof beside, "..%s", strrchr(outside, '/'));
        (void)snprintf(text, sizeof text,
                "site: {name: a, codes: %s}\npanel: {profile: p}\nareas: [{name: b}]\n",
                rows[i][0] == NULL ? beside : rows[i][0]);
        write_file("site.yaml", text, 0600);
        read_site(&read);
        assert_false(read.good);
        if (!test_told(&read.document, rows[i][1])) {
            print_message("# wanted: %s\n", rows[i][1]);
            test_print_problems(&read.document);
            fail();
        }
        finish(&read);
    }
    assert_int_equal(rmdir(outside), 0);
}

static void the_site_as_json_holds_no_code(void **state) {
    static const char *const digits[] = {"0481", "7302", "5926", "6195", "926518"};
    struct read read;
    struct text_builder builder;
    struct json_writer json;
    (void)state;
    read_codes(&read, good_codes, 0600);
    assert_true(read.good);
    text_builder_init(&builder, &read.document.arena);
    json_init(&json, &builder);
    document_write_json(&read.document, NULL, &json);
    const struct text text = text_built(&builder);
    assert_non_null(strstr(text.start, "\"codes\":"));
    for (size_t i = 0; i < sizeof digits / sizeof digits[0]; i++) {
        assert_null(strstr(text.start, digits[i]));
    }
    finish(&read);
}

static void refused_memory_is_one_problem(void **state) {
    struct read read = {.pages = {.left = -1}};
    (void)state;
    write_file("site.yaml", site_text, 0644);
    write_file("house.codes", good_codes, 0600);
    read_site(&read);
    assert_true(read.good);
    const long taken = read.pages.taken;
    finish(&read);
    for (long at = 0; at < taken; at++) {
        read = (struct read){.pages = {.left = at, .for_ever = true}};
        read_site(&read);
        assert_false(read.good);
        assert_int_equal(read.problem.kind, PROBLEM_MEMORY);
        assert_null(strstr(read.problem.text, "0481"));
        finish(&read);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(it_says_whose_each_code_is),
            cmocka_unit_test(one_that_is_not_there_is_no_problem),
            cmocka_unit_test(one_that_others_may_read_is_refused),
            cmocka_unit_test(nothing_in_it_is_told),
            cmocka_unit_test(a_code_in_the_site_file_is_not_told),
            cmocka_unit_test(it_lies_inside_the_folder),
            cmocka_unit_test(the_site_as_json_holds_no_code),
            cmocka_unit_test(refused_memory_is_one_problem),
    };
    return cmocka_run_group_tests(tests, make_folder, drop_folder);
}
