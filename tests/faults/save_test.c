/* Saving a site when the disk is full, and when the program is killed in the middle: the file is the old one or the new
 * one, whole. */
#include "document/document.h"
#include "host/host.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

#include <cmocka.h>

static const char head[] = "site: {name: a, invented: yes}   # ours\n"
                           "panel: {profile: halyard-28, abort-window: 15 s}\n"
                           "areas: [{name: b}]\n";

/* Enough comment that a save takes several writes' time. */
enum { COMMENT_LINES = 2000 };

static char folder[] = "/tmp/lintel-save-XXXXXX";
static char path[64];
static char data[1024];
static const struct document_search search = {.data = data};

static void read_site(struct document *document) {
    struct problem problem = {0};
    document_init(document, host_pages());
    if (!document_read_file(document, path, &search, &problem).good) {
        print_message("# %s\n", problem.text);
        fail();
    }
}

static outcome save(struct document *document, int abort_window_s, struct problem *ret_problem) {
    char value[16];
    (void)snprintf(value, sizeof value, "%d s", abort_window_s);
    const struct document_edit edit = {.path = "panel.abort-window", .value = text_of(value)};
    return document_save(document, &edit, 1, &search, path, ret_problem);
}

static int make_file(void **state) {
    static char site[sizeof head + COMMENT_LINES * 32];
    const char *source = getenv("LINTEL_SOURCE");
    (void)state;
    (void)snprintf(data, sizeof data, "%s/data", source == NULL ? "." : source);
    strcpy(folder, "/tmp/lintel-save-XXXXXX");
    assert_non_null(mkdtemp(folder));
    (void)snprintf(path, sizeof path, "%s/site.yaml", folder);
    size_t length = (size_t)snprintf(site, sizeof site, "%s", head);
    for (int i = 0; i < COMMENT_LINES; i++) {
        length += (size_t)snprintf(site + length, sizeof site - length, "# remark number %d\n", i);
    }
    assert_true(host_write_file(path, text_of(site), NULL).good);
    return 0;
}

/* The site's file, whole: it reads, has its last line, and its window is one of those saved. */
static int window_of_whole_file(void) {
    struct document document;
    read_site(&document);
    const struct text text = document.file.text;
    const char end[] = "# remark number 1999\n";
    assert_true(text.length > sizeof end);
    assert_memory_equal(text.start + text.length - (sizeof end - 1), end, sizeof end - 1);
    const char *window = strstr(text.start, "abort-window: ");
    assert_non_null(window);
    const int window_s = atoi(window + strlen("abort-window: "));
    document_finish(&document);
    return window_s;
}

static void full_disk_leaves_the_old_file(void **state) {
    (void)state;
    struct document document;
    struct problem problem = {0};
    struct rlimit limit;
    read_site(&document);
    assert_int_equal(getrlimit(RLIMIT_FSIZE, &limit), 0);
    const struct rlimit small = {.rlim_cur = 1000, .rlim_max = limit.rlim_max};
    (void)signal(SIGXFSZ, SIG_IGN);
    assert_int_equal(setrlimit(RLIMIT_FSIZE, &small), 0);
    const bool good = save(&document, 20, &problem).good;
    assert_int_equal(setrlimit(RLIMIT_FSIZE, &limit), 0);
    assert_false(good);
    assert_int_equal(problem.kind, PROBLEM_SYSTEM);
    assert_non_null(strstr(problem.text, "cannot be written"));
    assert_int_equal(window_of_whole_file(), 15);
    document_finish(&document);
    assert_int_equal(unlink(path), 0);
    assert_int_equal(rmdir(folder), 0); /* nothing else is left in it */
}

static void save_for_ever(void) {
    struct document document;
    read_site(&document);
    for (int i = 0;; i++) {
        if (!save(&document, i % 2 == 0 ? 20 : 30, NULL).good) {
            _exit(1);
        }
    }
}

/* Killed at 40 instants spread over a save or two. A temporary file may stay behind; the site's file is whole. */
static void killed_while_saving(void **state) {
    enum { TIMES = 40, STEP_NS = 700000 };
    int seen_new = 0;
    (void)state;
    for (int i = 0; i < TIMES; i++) {
        char command[96];
        (void)make_file(NULL);
        const pid_t child = fork();
        assert_true(child >= 0);
        if (child == 0) {
            save_for_ever();
        }
        const struct timespec wait = {.tv_nsec = 5000000L + (long)i * STEP_NS};
        (void)nanosleep(&wait, NULL);
        int status = 0;
        assert_int_equal(kill(child, SIGKILL), 0);
        assert_int_equal(waitpid(child, &status, 0), child);
        assert_true(WIFSIGNALED(status) && WTERMSIG(status) == SIGKILL);
        const int window_s = window_of_whole_file();
        assert_true(window_s == 15 || window_s == 20 || window_s == 30);
        seen_new += window_s != 15;
        (void)snprintf(command, sizeof command, "rm -r %s", folder);
        assert_int_equal(system(command), 0);
    }
    print_message("# killed %d times, %d after a first save\n", TIMES, seen_new);
    assert_true(seen_new > 0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test_setup(full_disk_leaves_the_old_file, make_file),
            cmocka_unit_test(killed_while_saving),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
