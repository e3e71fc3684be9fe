/* Files: what is read, from where, and how much of it. */
#include "document/test_document.h"

#include "host/host.h"

#include <dirent.h>
#include <fcntl.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>

static const char site[] = "site: {name: a}\npanel: {profile: own}\nareas: [{name: b}]\n";
static const char profile[] =
        "name: own\nzones: 8\nareas: 1\nexit-delay: 0..60 s\nentry-delay: 0..60 s\n"
        "abort-window: 0..60 s\nbehaviours: [entry]\n";

static char folder[64];

static int make_folder(void **state) {
    (void)state;
    (void)snprintf(folder, sizeof folder, "/tmp/lintel-files-XXXXXX");
    return mkdtemp(folder) == NULL ? -1 : 0;
}

static int drop_folder(void **state) {
    char command[128];
    (void)state;
    (void)snprintf(command, sizeof command, "rm -r %s", folder);
    return system(command);
}

static const char *in_folder(const char *name) {
    static char paths[4][256];
    static int turn;
    turn = (turn + 1) % 4;
    (void)snprintf(paths[turn], sizeof paths[turn], "%s/%s", folder, name);
    return paths[turn];
}

static void write_file(const char *name, const char *text) {
    FILE *file = fopen(in_folder(name), "wb");
    assert_non_null(file);
    assert_int_equal(fwrite(text, 1, strlen(text), file), strlen(text));
    assert_int_equal(fclose(file), 0);
}

static void make_subfolder(const char *name) {
    assert_int_equal(mkdir(in_folder(name), 0700), 0);
}

/* Reads a file; told NULL: it must read well. */
static void assert_reads(const char *path, const char *data, const char *told) {
    struct test_pages pages = {.left = -1};
    struct document document;
    struct problem problem = {0};
    const struct document_search search = {.data = data};
    document_init(&document, test_pages(&pages));
    const bool good = document_read_file(&document, path, &search, &problem).good;
    if (good != (told == NULL) || (told != NULL && !test_told(&document, told))) {
        print_message("# wanted: %s\n", told == NULL ? "no problem" : told);
        test_print_problems(&document);
    }
    assert_int_equal(good, told == NULL);
    assert_true(told == NULL || test_told(&document, told));
    document_finish(&document);
    assert_int_equal(pages.out, 0);
}

static void only_regular_files(void **state) {
    (void)state;
    assert_reads(in_folder("nowhere.yaml"), NULL, "nowhere.yaml: there is no such file");
    assert_reads(folder, NULL, "this is a folder, not a file");
    assert_reads("/dev/zero", NULL, "/dev/zero: this is a pipe or a device, not a file");
    assert_int_equal(mkfifo(in_folder("pipe.yaml"), 0600), 0);
    assert_reads(in_folder("pipe.yaml"), NULL,
            "pipe.yaml: this is a pipe or a device, not a file; name a file, or write -");
}

static void fifty_megabytes(void **state) {
    (void)state;
    write_file("large.yaml", "#");
    assert_int_equal(truncate(in_folder("large.yaml"), 50 * 1024 * 1024), 0);
    assert_reads(in_folder("large.yaml"), NULL,
            "large.yaml: 52428800 bytes; at most 4 MiB (4194304 bytes) are read");
}

static void standard_input(void **state) {
    (void)state;
    write_file("in.yaml",
            "site: {name: a}\npanel: {profile: halyard-28}\nareas: [{name: b, commn: no}]\n");
    const int kept = dup(STDIN_FILENO);
    const int file = open(in_folder("in.yaml"), O_RDONLY);
    assert_true(kept >= 0 && file >= 0);
    assert_int_equal(dup2(file, STDIN_FILENO), STDIN_FILENO);
    assert_reads(
            "-", test_fixture("."), "standard input:3:19: areas[0]: there is no key \"commn\"");
    assert_int_equal(dup2(kept, STDIN_FILENO), STDIN_FILENO);
    (void)close(kept);
    (void)close(file);
}

static void marks_and_line_ends_of_other_systems(void **state) {
    (void)state;
    write_file("bom.yaml",
            "\xEF\xBB\xBFsite: {name: a}\npanel: {profile: halyard-28}\nareas: [{name: b}]\n");
    assert_reads(in_folder("bom.yaml"), test_fixture("."), NULL);
    write_file("crlf.yaml",
            "site: {name: a}\r\npanel:\r\n  profile: halyard-28\r\nareas:\r\n- name: b\r\n");
    assert_reads(in_folder("crlf.yaml"), test_fixture("."), NULL);
    write_file("bom2.yaml",
            "\xEF\xBB\xBFsite: {name: a}\r\npanel: {profile: halyard-28}\r\nareas: [{nam: b}]\r\n");
    assert_reads(in_folder("bom2.yaml"), test_fixture("."),
            "bom2.yaml:3:10: areas[0]: there is no key \"nam\"");
}

/* Beside the file first, then in the folder that LINTEL_DATA names. */
static void profiles_by_name(void **state) {
    (void)state;
    make_subfolder("here");
    make_subfolder("here/panels");
    make_subfolder("data");
    make_subfolder("data/panels");
    write_file("here/site.yaml", site);
    assert_reads(in_folder("here/site.yaml"), NULL,
            "site.yaml:2:18: panel.profile: there is no profile \"own\"");
    write_file("data/panels/own.yaml", profile);
    assert_reads(in_folder("here/site.yaml"), in_folder("data"), NULL);
    write_file("here/panels/own.yaml", "name: own\nzone: 8\n");
    assert_reads(in_folder("here/site.yaml"), in_folder("data"),
            "here/panels/own.yaml:2:1: there is no key \"zone\" here; did you mean \"zones\"?");
    write_file(
            "here/odd.yaml", "site: {name: a}\npanel: {profile: \"../own\"}\nareas: [{name: b}]\n");
    assert_reads(in_folder("here/odd.yaml"), NULL, "odd.yaml:2:18: panel.profile: \"../own\": ");
    write_file("here/odd.yaml", "site: {name: a}\npanel: {profile: ..}\nareas: [{name: b}]\n");
    assert_reads(in_folder("here/odd.yaml"), NULL, "panel.profile: \"..\" is not a profile's name");
}

static void site_with_profile(const char *name, const char *named) {
    char text[512];
    (void)snprintf(text, sizeof text,
            "site: {name: a}\npanel: {profile: \"%s\"}\nareas: [{name: b}]\n", named);
    write_file(name, text);
}

static void profiles_by_path(void **state) {
    (void)state;
    make_subfolder("p");
    make_subfolder("p/mine");
    write_file("outside.yaml", profile);
    write_file("p/mine/panel.yaml", profile);
    write_file("p/broken.yaml", "name: [\n");
    site_with_profile("p/site.yaml", "mine/panel.yaml");
    assert_reads(in_folder("p/site.yaml"), NULL, NULL);
    site_with_profile("p/site.yaml", "./mine/../mine/panel.yaml");
    assert_reads(in_folder("p/site.yaml"), NULL, NULL);
    site_with_profile("p/site.yaml", "../outside.yaml");
    assert_reads(in_folder("p/site.yaml"), NULL,
            "\"../outside.yaml\" lies outside this file's folder; copy it");
    site_with_profile("p/site.yaml", in_folder("p/mine/panel.yaml"));
    assert_reads(in_folder("p/site.yaml"), NULL, "is not a path from this file's folder on");
    site_with_profile("p/site.yaml", "mine");
    assert_reads(in_folder("p/site.yaml"), NULL, "there is no profile \"mine\"");
    site_with_profile("p/site.yaml", "mine/");
    assert_reads(in_folder("p/site.yaml"), NULL, "mine/ is a folder, not a file");
    site_with_profile("p/site.yaml", "none.yaml");
    assert_reads(in_folder("p/site.yaml"), NULL,
            "site.yaml:2:18: panel.profile: \"none.yaml\": No such file");
    site_with_profile("p/site.yaml", "broken.yaml");
    assert_reads(in_folder("p/site.yaml"), NULL, "p/broken.yaml:");
}

static void links_do_not_lead_out(void **state) {
    (void)state;
    make_subfolder("l");
    make_subfolder("l/panels");
    write_file("secret.yaml", profile);
    assert_int_equal(symlink("../secret.yaml", in_folder("l/link.yaml")), 0);
    site_with_profile("l/site.yaml", "link.yaml");
    assert_reads(in_folder("l/site.yaml"), NULL, "\"link.yaml\" lies outside this file's folder");
    assert_int_equal(symlink("../../secret.yaml", in_folder("l/panels/own.yaml")), 0);
    site_with_profile("l/site.yaml", "own");
    assert_reads(in_folder("l/site.yaml"), NULL, "leads outside");
    assert_int_equal(symlink("ring.yaml", in_folder("l/ring.yaml")), 0);
    site_with_profile("l/site.yaml", "ring.yaml");
    assert_reads(
            in_folder("l/site.yaml"), NULL, "\"ring.yaml\": Too many levels of symbolic links");
}

/* A profile names no further files, so the only ring there can be is the file itself. */
static void a_file_that_includes_itself(void **state) {
    (void)state;
    site_with_profile("self.yaml", "self.yaml");
    assert_reads(in_folder("self.yaml"), NULL,
            "self.yaml:2:18: panel.profile: this is the site file itself");
    write_file("one.yaml", "name: own\nprofile: two.yaml\n");
    site_with_profile("ring.yaml", "one.yaml");
    assert_reads(in_folder("ring.yaml"), NULL, "one.yaml:2:1: there is no key \"profile\" here");
    assert_int_equal(mkfifo(in_folder("pipe2.yaml"), 0600), 0);
    site_with_profile("piped.yaml", "pipe2.yaml");
    assert_reads(in_folder("piped.yaml"), NULL, "is a pipe or a device, not a file");
}

/* tests/whole/bad-input: each file says in its first line what must be told of it. */
static void files_that_say_what_is_wrong(void **state) {
    (void)state;
    char places[512];
    size_t count = 0;
    const char *source = getenv("LINTEL_SOURCE");
    (void)snprintf(
            places, sizeof places, "%s/tests/whole/bad-input", source == NULL ? "." : source);
    DIR *entries = opendir(places);
    assert_non_null(entries);
    for (struct dirent *entry = readdir(entries); entry != NULL; entry = readdir(entries)) {
        char path[1024];
        char line[512];
        if (strstr(entry->d_name, ".yaml") == NULL) {
            continue;
        }
        (void)snprintf(path, sizeof path, "%s/%s", places, entry->d_name);
        FILE *file = fopen(path, "rb");
        assert_non_null(file);
        assert_non_null(fgets(line, sizeof line, file));
        (void)fclose(file);
        line[strcspn(line, "\n")] = '\0';
        assert_int_equal(strncmp(line, "# told: ", 8), 0);
        assert_reads(path, test_fixture("."), line + 8);
        count++;
    }
    (void)closedir(entries);
    assert_true(count >= 14);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(only_regular_files),
            cmocka_unit_test(fifty_megabytes),
            cmocka_unit_test(standard_input),
            cmocka_unit_test(marks_and_line_ends_of_other_systems),
            cmocka_unit_test(profiles_by_name),
            cmocka_unit_test(profiles_by_path),
            cmocka_unit_test(links_do_not_lead_out),
            cmocka_unit_test(a_file_that_includes_itself),
            cmocka_unit_test(files_that_say_what_is_wrong),
    };
    return cmocka_run_group_tests(tests, make_folder, drop_folder);
}
