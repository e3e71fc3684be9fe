/* Every page of memory refused in turn, once and for ever, over whole commands: whatever is refused, the program either
 * says everything it would have said, or says in one line that there is no memory, prints nothing else, and gives exit
 * 2. Every page is given back.
 *
 * The commands run inside this program; the linker sends host_pages here first (--wrap, meson.build). With one job the
 * pages are asked for in the same order each time. */
#include "cli/cli.h"
#include "host/host.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cmocka.h>

/* Calls are counted from 1; call refuse_at is refused, and the later ones too if for_ever. 0: none. */
static struct {
    size_t asked;
    size_t refuse_at;
    bool for_ever;
    size_t out;
} pages;

static void *get(void *context, size_t size) {
    (void)context;
    pages.asked++;
    if (pages.refuse_at != 0 &&
            (pages.for_ever ? pages.asked >= pages.refuse_at : pages.asked == pages.refuse_at)) {
        return NULL;
    }
    void *block = malloc(size);
    pages.out += block != NULL;
    return block;
}

static void give(void *context, void *block, size_t size) {
    (void)context;
    (void)size;
    pages.out--;
    free(block);
}

struct pages __wrap_host_pages(void);

struct pages __wrap_host_pages(void) {
    return (struct pages){.get = get, .give = give};
}

enum { WORDS_MOST = 8 };

/* A command, and what it says undisturbed. */
struct command {
    const char *words[WORDS_MOST + 1];
    char *out;
    int status;
    size_t pages;
};

struct said {
    char *out;
    char *err;
    int status;
};

/* All that was written to a file so far, and the file empty again. */
static char *take(int file) {
    struct stat state;
    assert_int_equal(fstat(file, &state), 0);
    char *content = calloc((size_t)state.st_size + 1, 1);
    assert_non_null(content);
    assert_int_equal(pread(file, content, (size_t)state.st_size, 0), state.st_size);
    assert_int_equal(ftruncate(file, 0), 0);
    assert_int_equal(lseek(file, 0, SEEK_SET), 0);
    return content;
}

static int temporary_file(void) {
    char name[] = "/tmp/lintel-faults-XXXXXX";
    const int file = mkstemp(name);
    assert_true(file >= 0);
    assert_int_equal(unlink(name), 0);
    return file;
}

/* Runs with stdout and stderr turned into files for as long as it takes. */
static struct said run(const struct command *command) {
    static int files[2] = {-1, -1};
    char words[WORDS_MOST][1024];
    char *argv[WORDS_MOST + 1] = {0};
    int argc = 0;
    int kept[2];
    for (; command->words[argc] != NULL; argc++) {
        (void)snprintf(words[argc], sizeof words[argc], "%s", command->words[argc]);
        argv[argc] = words[argc];
    }
    for (int i = 0; i < 2; i++) {
        files[i] = files[i] < 0 ? temporary_file() : files[i];
        (void)fflush(i == 0 ? stdout : stderr);
        kept[i] = dup(i + 1);
        assert_int_equal(dup2(files[i], i + 1), i + 1);
    }
    pages.asked = 0;
    struct said said = {.status = cli_main(argc, argv)};
    for (int i = 0; i < 2; i++) {
        (void)fflush(i == 0 ? stdout : stderr);
        assert_int_equal(dup2(kept[i], i + 1), i + 1);
        (void)close(kept[i]);
    }
    said.out = take(files[0]);
    said.err = take(files[1]);
    return said;
}

static void finish(struct said *said) {
    free(said->out);
    free(said->err);
}

static bool is_one_line(const char *text) {
    const char *end = strchr(text, '\n');
    return end != NULL && end[1] == '\0';
}

static void run_undisturbed(struct command *command) {
    pages.refuse_at = 0;
    struct said said = run(command);
    assert_string_equal(said.err, "");
    assert_int_not_equal(said.status, CLI_UNREADABLE);
    command->out = said.out;
    command->status = said.status;
    command->pages = pages.asked;
    free(said.err);
}

/* Refuses page `at`; whether the program gave up. */
static bool refuse_page(const struct command *command, size_t at, bool for_ever) {
    pages.refuse_at = at;
    pages.for_ever = for_ever;
    struct said said = run(command);
    const bool gave_up = said.status == CLI_UNREADABLE;
    const bool good = gave_up ? strncmp(said.err, "lintel: ", 8) == 0 && is_one_line(said.err) &&
                    strstr(said.err, "memory") != NULL && said.out[0] == '\0'
                              : said.status == command->status && said.err[0] == '\0' &&
                    strcmp(said.out, command->out) == 0;
    if (!good) {
        print_message("# page %zu of %zu refused%s: exit %d\n# stderr: %.300s\n# stdout: %.300s\n",
                at, command->pages, for_ever ? " and all after it" : "", said.status, said.err,
                said.out);
    }
    finish(&said);
    assert_true(good);
    assert_int_equal(pages.out, 0);
    return gave_up;
}

/* Every page up to `exact` and every stride-th after it: a long search asks at the same places over and over. */
static void refuse_pages(struct command command, size_t exact, size_t stride) {
    run_undisturbed(&command);
    size_t once = 0;
    size_t for_ever = 0;
    size_t tried = 0;
    for (size_t at = 1; at <= command.pages; at += at < exact ? 1 : stride) {
        once += refuse_page(&command, at, false);
        for_ever += refuse_page(&command, at, true);
        tried++;
    }
    print_message("# %zu of %zu pages refused\n", tried, command.pages);
    /* Nothing can be told without memory for ever. */
    assert_int_equal(for_ever, tried);
    assert_true(once > 0);
    free(command.out);
}

static const char *in_source(const char *name) {
    static char path[1024];
    const char *source = getenv("LINTEL_SOURCE");
    (void)snprintf(path, sizeof path, "%s/%s", source == NULL ? "." : source, name);
    return path;
}

static const char small[] = "tests/faults/boathouse.yaml";
static const char demo[] = "demo/quayside-as-found.yaml";

enum { ALL = 1000000 };

static void check_of_a_small_site(void **state) {
    (void)state;
    refuse_pages((struct command){.words = {"lintel", "check", "--jobs", "1", "--no-usual",
                                          "--margins", in_source(small)}},
            ALL, 1);
}

static void check_of_a_small_site_as_json(void **state) {
    (void)state;
    refuse_pages((struct command){.words = {"lintel", "check", "--jobs", "1", "--no-usual",
                                          "--no-remedy", "--json", in_source(small)}},
            ALL, 1);
}

static void tell_of_a_small_site(void **state) {
    (void)state;
    refuse_pages((struct command){.words = {"lintel", "tell", in_source(small), "keeper comes"}},
            ALL, 1);
}

static void keys(void **state) {
    (void)state;
    refuse_pages((struct command){.words = {"lintel", "keys"}}, ALL, 1);
}

static void graph_of_the_panel(void **state) {
    (void)state;
    refuse_pages((struct command){.words = {"lintel", "panel", "--graph"}}, ALL, 1);
}

/* The stride is a prime, so that it does not keep step with anything. */
static void check_of_the_demo(void **state) {
    (void)state;
    refuse_pages((struct command){.words = {"lintel", "check", "--jobs", "1", in_source(demo)}}, 60,
            397);
}

int main(void) {
    (void)setenv("LINTEL_DATA", in_source("data"), 1);
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(check_of_a_small_site),
            cmocka_unit_test(check_of_a_small_site_as_json),
            cmocka_unit_test(tell_of_a_small_site),
            cmocka_unit_test(keys),
            cmocka_unit_test(graph_of_the_panel),
            cmocka_unit_test(check_of_the_demo),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
