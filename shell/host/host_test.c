#include "host/host.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <dirent.h>
#include <fcntl.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cmocka.h>

/* A folder of its own for each test, and an arena. */
struct place {
    char folder[64];
    char path[96];
    struct arena arena;
};

static int set_up(void **state) {
    struct place *place = calloc(1, sizeof *place);
    strcpy(place->folder, "/tmp/lintel-host-XXXXXX");
    if (mkdtemp(place->folder) == NULL) {
        return -1;
    }
    (void)snprintf(place->path, sizeof place->path, "%s/site.yaml", place->folder);
    arena_init(&place->arena, host_pages(), 0);
    *state = place;
    return 0;
}

/* Empties and removes the folder; returns how many files were in it. */
static int remove_folder(const char *folder) {
    int count = 0;
    DIR *entries = opendir(folder);
    for (struct dirent *entry = readdir(entries); entry != NULL; entry = readdir(entries)) {
        if (strcmp(entry->d_name, ".") != 0 && strcmp(entry->d_name, "..") != 0) {
            char path[512];
            (void)snprintf(path, sizeof path, "%s/%s", folder, entry->d_name);
            (void)remove(path);
            count++;
        }
    }
    (void)closedir(entries);
    (void)rmdir(folder);
    return count;
}

static int tear_down(void **state) {
    struct place *place = *state;
    arena_finish(&place->arena);
    if (access(place->folder, F_OK) == 0) {
        (void)remove_folder(place->folder);
    }
    free(place);
    return 0;
}

static void put(const char *path, struct text content) {
    FILE *file = fopen(path, "wb");
    assert_non_null(file);
    assert_int_equal(fwrite(content.start, 1, content.length, file), content.length);
    assert_int_equal(fclose(file), 0);
}

static void a_private_file_is_its_owners_alone(void **state) {
    struct place *place = *state;
    struct text content = {0};
    for (mode_t mode = 0; mode <= 0777; mode++) {
        struct problem problem = {0};
        if ((mode & 0600) != 0600) {
            continue; /* whether its owner may read it is the system's to say */
        }
        put(place->path, text_of("secret"));
        assert_int_equal(chmod(place->path, mode), 0);
        const bool good =
                host_read_private_file(place->path, 0, &place->arena, &content, &problem).good;
        assert_int_equal(good, (mode & 077) == 0);
        if (good) {
            assert_true(text_is(content, "secret"));
        } else {
            assert_int_equal(problem.kind, PROBLEM_BAD_VALUE);
            assert_non_null(strstr(problem.text, "chmod 600 "));
            assert_null(strstr(problem.text, "secret"));
        }
    }
}

static void only_a_regular_file_is_private(void **state) {
    struct place *place = *state;
    struct text content = {0};
    struct problem problem = {0};
    assert_false(host_read_private_file(place->path, 0, &place->arena, &content, &problem).good);
    assert_int_equal(problem.kind, PROBLEM_MISSING);
    assert_int_equal(mkfifo(place->path, 0600), 0); /* nobody writes: it must not wait */
    problem = (struct problem){0};
    assert_false(host_read_private_file(place->path, 0, &place->arena, &content, &problem).good);
    assert_int_equal(problem.kind, PROBLEM_SYSTEM);
    problem = (struct problem){0};
    assert_false(host_read_private_file(place->folder, 0, &place->arena, &content, &problem).good);
    assert_int_equal(problem.kind, PROBLEM_SYSTEM);
    assert_int_equal(unlink(place->path), 0);
    put(place->path, text_of("secret"));
    assert_int_equal(chmod(place->path, 0600), 0);
    problem = (struct problem){0};
    assert_false(host_read_private_file(place->path, 5, &place->arena, &content, &problem).good);
    assert_int_equal(problem.kind, PROBLEM_LIMIT);
    assert_null(content.start);
}

static void assert_content(struct place *place, const char *path, struct text expected) {
    struct text content = {0};
    assert_true(host_read_file(path, 0, &place->arena, &content, NULL).good);
    assert_int_equal(content.length, expected.length);
    assert_memory_equal(content.start, expected.start, expected.length);
    assert_int_equal(content.start[content.length], '\0');
}

static void assert_unreadable(struct place *place, const char *path, size_t limit_bytes,
        enum problem_kind kind, const char *words) {
    struct problem problem = {0};
    struct text content = text_of("untouched");
    assert_false(host_read_file(path, limit_bytes, &place->arena, &content, &problem).good);
    assert_int_equal(problem.kind, kind);
    assert_non_null(strstr(problem.text, words));
    assert_true(text_is(content, "untouched"));
}

static void reads_what_is_there(void **state) {
    struct place *place = *state;
    const struct text hostile = {.start = "a\0b\xFF\n", .length = 5};
    put(place->path, hostile);
    assert_content(place, place->path, hostile);
    put(place->path, (struct text){.start = "", .length = 0});
    assert_content(place, place->path, text_of(""));
}

static void limit_holds_on_both_sides(void **state) {
    struct place *place = *state;
    struct text content = {0};
    put(place->path, text_of("12345678"));
    assert_true(host_read_file(place->path, 8, &place->arena, &content, NULL).good);
    assert_int_equal(content.length, 8);
    assert_unreadable(place, place->path, 7, PROBLEM_LIMIT, "longer than 7 bytes");
}

/* A pipe tells no size beforehand. */
static void limit_of_a_pipe_holds_on_both_sides(void **state) {
    struct place *place = *state;
    for (size_t limit_bytes = 7; limit_bytes <= 8; limit_bytes++) {
        int ends[2];
        char path[32];
        assert_int_equal(pipe(ends), 0);
        assert_int_equal(write(ends[1], "12345678", 8), 8);
        (void)close(ends[1]);
        (void)snprintf(path, sizeof path, "/dev/fd/%d", ends[0]);
        if (limit_bytes == 7) {
            assert_unreadable(place, path, limit_bytes, PROBLEM_LIMIT, "longer than 7 bytes");
        } else {
            struct text content = {0};
            assert_true(host_read_file(path, 8, &place->arena, &content, NULL).good);
            assert_true(text_is(content, "12345678"));
        }
        (void)close(ends[0]);
    }
}

static void default_limit_is_as_stated(void **state) {
    struct place *place = *state;
    struct text content = {0};
    put(place->path, text_of("x"));
    assert_int_equal(truncate(place->path, HOST_FILE_LIMIT_BYTES), 0);
    assert_true(host_read_file(place->path, 0, &place->arena, &content, NULL).good);
    assert_int_equal(content.length, HOST_FILE_LIMIT_BYTES);
    assert_int_equal(truncate(place->path, HOST_FILE_LIMIT_BYTES + 1), 0);
    assert_unreadable(place, place->path, 0, PROBLEM_LIMIT, "longer than 4194304 bytes");
}

/* A device says size 0 and never ends. */
static void endless_input_is_cut_off(void **state) {
    struct place *place = *state;
    assert_unreadable(place, "/dev/zero", 0, PROBLEM_LIMIT, "longer than");
    assert_true(place->arena.held_bytes < 6 * HOST_FILE_LIMIT_BYTES);
}

static void empty_device_is_an_empty_text(void **state) {
    assert_content(*state, "/dev/null", text_of(""));
}

static void absent_file_and_folder_are_named(void **state) {
    struct place *place = *state;
    char beyond[128];
    assert_unreadable(place, place->path, 0, PROBLEM_MISSING, place->path);
    assert_unreadable(place, place->folder, 0, PROBLEM_SYSTEM, "is a folder");
    put(place->path, text_of("x"));
    (void)snprintf(beyond, sizeof beyond, "%s/more.yaml", place->path);
    assert_unreadable(place, beyond, 0, PROBLEM_MISSING, "more.yaml");
}

static void refused_memory_is_a_problem(void **state) {
    struct place *place = *state;
    struct problem problem = {0};
    struct text content = text_of("untouched");
    struct arena small;
    put(place->path, text_of("x"));
    assert_int_equal(truncate(place->path, 100000), 0);
    arena_init(&small, host_pages(), 50000);
    assert_false(host_read_file(place->path, 0, &small, &content, &problem).good);
    assert_int_equal(problem.kind, PROBLEM_LIMIT);
    assert_true(text_is(content, "untouched"));
    arena_finish(&small);
}

/* In a child with its own standard input: a pipe that hands out its bytes in two writes. */
static void dash_reads_standard_input(void **state) {
    struct place *place = *state;
    int ends[2];
    assert_int_equal(pipe(ends), 0);
    const pid_t child = fork();
    if (child == 0) {
        struct text content = {0};
        (void)dup2(ends[0], STDIN_FILENO);
        (void)close(ends[0]);
        (void)close(ends[1]);
        const bool good = host_read_file("-", 0, &place->arena, &content, NULL).good;
        _exit(good && text_is(content, "site: {name: Quay}") ? 0 : 1);
    }
    (void)close(ends[0]);
    assert_int_equal(write(ends[1], "site: {", 7), 7);
    assert_int_equal(write(ends[1], "name: Quay}", 11), 11);
    (void)close(ends[1]);
    int status = 0;
    assert_int_equal(waitpid(child, &status, 0), child);
    assert_int_equal(status, 0);
}

static void writes_new_and_replaces_old(void **state) {
    struct place *place = *state;
    assert_true(host_write_file(place->path, text_of("first"), NULL).good);
    assert_content(place, place->path, text_of("first"));
    assert_true(host_write_file(place->path, text_of("2"), NULL).good);
    assert_content(place, place->path, text_of("2"));
    assert_true(host_write_file(place->path, (struct text){0}, NULL).good);
    assert_content(place, place->path, text_of(""));
    assert_int_equal(remove_folder(place->folder), 1);
}

static void writes_beside_where_we_stand(void **state) {
    struct place *place = *state;
    char before[4096];
    assert_non_null(getcwd(before, sizeof before));
    assert_int_equal(chdir(place->folder), 0);
    const bool good = host_write_file("site.yaml", text_of("here"), NULL).good;
    assert_int_equal(chdir(before), 0);
    assert_true(good);
    assert_content(place, place->path, text_of("here"));
}

static mode_t mode_of(const char *path) {
    struct stat file;
    assert_int_equal(stat(path, &file), 0);
    return file.st_mode & 07777;
}

static void permissions_are_kept(void **state) {
    struct place *place = *state;
    put(place->path, text_of("old"));
    assert_int_equal(chmod(place->path, 0640), 0);
    assert_true(host_write_file(place->path, text_of("new"), NULL).good);
    assert_int_equal(mode_of(place->path), 0640);
    assert_int_equal(chmod(place->path, 0604), 0);
    assert_true(host_write_file(place->path, text_of("new"), NULL).good);
    assert_int_equal(mode_of(place->path), 0604);
}

static void new_file_obeys_the_umask(void **state) {
    struct place *place = *state;
    const mode_t before = umask(027);
    const bool good = host_write_file(place->path, text_of("new"), NULL).good;
    (void)umask(before);
    assert_true(good);
    assert_int_equal(mode_of(place->path), 0640);
}

static void link_stays_a_link(void **state) {
    struct place *place = *state;
    char link[128];
    struct stat file;
    put(place->path, text_of("old"));
    (void)snprintf(link, sizeof link, "%s/link.yaml", place->folder);
    assert_int_equal(symlink("site.yaml", link), 0);
    assert_true(host_write_file(link, text_of("new"), NULL).good);
    assert_int_equal(lstat(link, &file), 0);
    assert_true(S_ISLNK(file.st_mode));
    assert_content(place, place->path, text_of("new"));
}

static void assert_unwritable(const char *path, enum problem_kind kind, const char *words) {
    struct problem problem = {0};
    assert_false(host_write_file(path, text_of("new"), &problem).good);
    assert_int_equal(problem.kind, kind);
    assert_non_null(strstr(problem.text, words));
}

static void unwritable_places_are_refused(void **state) {
    struct place *place = *state;
    char path[5000];
    put(place->path, text_of("old"));
    (void)snprintf(path, sizeof path, "%s/more.yaml", place->path);
    assert_unwritable(path, PROBLEM_MISSING, "more.yaml"); /* its folder is a file */
    (void)snprintf(path, sizeof path, "%s/none/site.yaml", place->folder);
    assert_unwritable(path, PROBLEM_MISSING, "none/site.yaml");
    assert_unwritable(place->folder, PROBLEM_SYSTEM, "not a regular file");
    assert_unwritable("/dev/full", PROBLEM_SYSTEM, "not a regular file");
    assert_unwritable("", PROBLEM_MISSING, "written");
    (void)snprintf(path, sizeof path, "%s/link.yaml", place->folder);
    assert_int_equal(symlink("nowhere.yaml", path), 0);
    assert_unwritable(path, PROBLEM_MISSING, "link.yaml");
    memset(path, 'a', sizeof path - 1);
    path[sizeof path - 1] = '\0';
    assert_unwritable(path, PROBLEM_SYSTEM, "too long");
    assert_content(place, place->path, text_of("old"));
    assert_int_equal(remove_folder(place->folder), 2);
}

/* The disk is full after a few bytes: in a child that may not write longer files. */
static void full_disk_leaves_the_old_file(void **state) {
    struct place *place = *state;
    static char large[20000];
    memset(large, 'x', sizeof large);
    put(place->path, text_of("old"));
    const pid_t child = fork();
    if (child == 0) {
        const struct rlimit small = {.rlim_cur = 8192, .rlim_max = 8192};
        struct problem problem = {0};
        (void)signal(SIGXFSZ, SIG_IGN);
        (void)setrlimit(RLIMIT_FSIZE, &small);
        const struct text content = {.start = large, .length = sizeof large};
        const bool good = host_write_file(place->path, content, &problem).good;
        _exit(!good && problem.kind == PROBLEM_SYSTEM ? 0 : 1);
    }
    int status = 0;
    assert_int_equal(waitpid(child, &status, 0), child);
    assert_int_equal(status, 0);
    assert_content(place, place->path, text_of("old"));
    assert_int_equal(remove_folder(place->folder), 1);
}

/* A temporary file that a killed run left behind must not stand in the way, and is not touched: it may be in use. */
static void new_file_replaces_nothing(void **state) {
    struct place *place = *state;
    struct problem problem = {0};
    assert_true(host_write_new_file(place->path, text_of("first"), NULL).good);
    assert_content(place, place->path, text_of("first"));
    assert_false(host_write_new_file(place->path, text_of("second"), &problem).good);
    assert_int_equal(problem.kind, PROBLEM_BAD_VALUE);
    assert_non_null(strstr(problem.text, "exists already"));
    assert_content(place, place->path, text_of("first"));
    char link[128];
    (void)snprintf(link, sizeof link, "%s/link.yaml", place->folder);
    assert_int_equal(symlink("nowhere.yaml", link), 0);
    assert_false(host_write_new_file(link, text_of("second"), NULL).good);
    assert_int_equal(remove_folder(place->folder), 2); /* no temporary file is left */
}

static void left_over_temporary_is_no_obstacle(void **state) {
    struct place *place = *state;
    char left[128];
    (void)snprintf(left, sizeof left, "%s/.lintel-%ld-0.tmp", place->folder, (long)getpid());
    put(left, text_of("half"));
    assert_true(host_write_file(place->path, text_of("new"), NULL).good);
    assert_content(place, place->path, text_of("new"));
    assert_content(place, left, text_of("half"));
}

int main(void) {
#define HOST_TEST(name) cmocka_unit_test_setup_teardown(name, set_up, tear_down)
    const struct CMUnitTest tests[] = {
            HOST_TEST(a_private_file_is_its_owners_alone),
            HOST_TEST(only_a_regular_file_is_private),
            HOST_TEST(reads_what_is_there),
            HOST_TEST(limit_holds_on_both_sides),
            HOST_TEST(limit_of_a_pipe_holds_on_both_sides),
            HOST_TEST(default_limit_is_as_stated),
            HOST_TEST(endless_input_is_cut_off),
            HOST_TEST(empty_device_is_an_empty_text),
            HOST_TEST(absent_file_and_folder_are_named),
            HOST_TEST(refused_memory_is_a_problem),
            HOST_TEST(dash_reads_standard_input),
            HOST_TEST(writes_new_and_replaces_old),
            HOST_TEST(writes_beside_where_we_stand),
            HOST_TEST(permissions_are_kept),
            HOST_TEST(new_file_obeys_the_umask),
            HOST_TEST(link_stays_a_link),
            HOST_TEST(unwritable_places_are_refused),
            HOST_TEST(full_disk_leaves_the_old_file),
            HOST_TEST(left_over_temporary_is_no_obstacle),
            HOST_TEST(new_file_replaces_nothing),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
