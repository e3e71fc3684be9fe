/* Every call that host makes to the system, refused in turn, once and for ever. The linker sends the calls here first
 * (--wrap, meson.build). */
#include "host/host.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cmocka.h>

/* Calls are counted from 1; call refuse_from is refused, and the later ones too if for_ever. 0: none. */
static struct {
    unsigned count;
    unsigned refuse_from;
    bool for_ever;
    int error;
    int open_files;
} calls;

static bool is_refused(void) {
    if (calls.refuse_from == 0) {
        return false;
    }
    calls.count++;
    const bool refuse =
            calls.for_ever ? calls.count >= calls.refuse_from : calls.count == calls.refuse_from;
    errno = refuse ? calls.error : errno;
    return refuse;
}

/* With 64-bit file sizes, glibc's open and fstat are the symbols open64 and fstat64. */
int __real_open64(const char *path, int flags, ...);
int __wrap_open64(const char *path, int flags, ...);
ssize_t __real_read(int file, void *into, size_t size);
ssize_t __wrap_read(int file, void *into, size_t size);
ssize_t __real_write(int file, const void *from, size_t size);
ssize_t __wrap_write(int file, const void *from, size_t size);
int __real_fsync(int file);
int __wrap_fsync(int file);
int __real_fchmod(int file, mode_t mode);
int __wrap_fchmod(int file, mode_t mode);
int __real_close(int file);
int __wrap_close(int file);
int __real_rename(const char *from, const char *to);
int __wrap_rename(const char *from, const char *to);
int __real_fstat64(int file, struct stat *ret_state);
int __wrap_fstat64(int file, struct stat *ret_state);
void *__real_malloc(size_t size);
void *__wrap_malloc(size_t size);

int __wrap_open64(const char *path, int flags, ...) {
    if (is_refused()) {
        return -1;
    }
    const int file = __real_open64(path, flags, 0666);
    calls.open_files += file >= 0;
    return file;
}

ssize_t __wrap_read(int file, void *into, size_t size) {
    /* Three bytes at a time: a short read is not an end. */
    return is_refused() ? -1 : __real_read(file, into, size > 3 ? 3 : size);
}

ssize_t __wrap_write(int file, const void *from, size_t size) {
    return is_refused() ? -1 : __real_write(file, from, size > 3 ? 3 : size);
}

int __wrap_fsync(int file) {
    return is_refused() ? -1 : __real_fsync(file);
}

int __wrap_fchmod(int file, mode_t mode) {
    return is_refused() ? -1 : __real_fchmod(file, mode);
}

int __wrap_close(int file) {
    /* Linux frees the descriptor even where close reports an error (close(2), "Dealing with error returns"). */
    const bool refuse = is_refused();
    const int result = __real_close(file);
    calls.open_files--;
    return refuse ? -1 : result;
}

int __wrap_rename(const char *from, const char *to) {
    return is_refused() ? -1 : __real_rename(from, to);
}

int __wrap_fstat64(int file, struct stat *ret_state) {
    return is_refused() ? -1 : __real_fstat64(file, ret_state);
}

void *__wrap_malloc(size_t size) {
    return is_refused() ? NULL : __real_malloc(size);
}

static void refuse(unsigned from, bool for_ever, int error) {
    calls.count = 0;
    calls.refuse_from = from;
    calls.for_ever = for_ever;
    calls.error = error;
    calls.open_files = 0;
}

static const char old_content[] = "the old site, whole";
static const char new_content[] = "the new site, which is longer";

static void make_file(char *folder, char *path, size_t path_size) {
    refuse(0, false, 0);
    strcpy(folder, "/tmp/lintel-host-XXXXXX");
    assert_non_null(mkdtemp(folder));
    (void)snprintf(path, path_size, "%s/site.yaml", folder);
    assert_true(host_write_file(path, text_of(old_content), NULL).good);
}

static bool content_is(const char *path, const char *expected) {
    struct arena arena;
    struct text content = {0};
    arena_init(&arena, host_pages(), 0);
    const bool same =
            host_read_file(path, 0, &arena, &content, NULL).good && text_is(content, expected);
    arena_finish(&arena);
    return same;
}

/* Refuses call 1, 2, 3 ... until the write makes no further call; the file is always one of the two, whole, and it is
 * the only one in its folder (rmdir refuses otherwise). */
static void fail_each_write(bool for_ever, int error) {
    char folder[64];
    char path[96];
    bool refused_one = true;
    unsigned failures = 0;
    for (unsigned from = 1; refused_one; from++) {
        struct problem problem = {0};
        make_file(folder, path, sizeof path);
        refuse(from, for_ever, error);
        const bool good = host_write_file(path, text_of(new_content), &problem).good;
        refused_one = calls.count >= from;
        calls.refuse_from = 0;
        assert_int_equal(calls.open_files, 0);
        const bool is_new = content_is(path, new_content);
        assert_true(is_new || content_is(path, old_content));
        assert_true(good ? is_new : problem.kind == PROBLEM_SYSTEM && problem.text[0] != '\0');
        /* A failure that leaves the new file says so. */
        assert_true(good || is_new == (strstr(problem.text, "is written, but") != NULL));
        assert_int_equal(unlink(path), 0);
        assert_int_equal(rmdir(folder), 0);
        failures += !good;
    }
    /* open, fchmod, 10 writes of 3 bytes, fsync, close, rename, open of the folder, its fsync */
    assert_int_equal(failures, 17);
}

static void each_call_of_a_write_fails_once(void **state) {
    (void)state;
    fail_each_write(false, EIO);
}

static void each_call_of_a_write_fails_for_ever(void **state) {
    (void)state;
    fail_each_write(true, ENOSPC);
}

static void fail_each_read(bool for_ever) {
    char folder[64];
    char path[96];
    bool refused_one = true;
    unsigned failures = 0;
    make_file(folder, path, sizeof path);
    for (unsigned from = 1; refused_one; from++) {
        struct problem problem = {0};
        struct text content = {0};
        struct arena arena;
        arena_init(&arena, host_pages(), 0);
        refuse(from, for_ever, EIO);
        const bool good = host_read_file(path, 0, &arena, &content, &problem).good;
        refused_one = calls.count >= from;
        calls.refuse_from = 0;
        assert_int_equal(calls.open_files, 0);
        assert_true(good ? text_is(content, old_content) : content.length == 0);
        assert_true(good || problem.kind == PROBLEM_SYSTEM || problem.kind == PROBLEM_MEMORY);
        arena_finish(&arena);
        failures += !good;
    }
    /* open, fstat, malloc, 7 reads of 3 bytes, the read of the end; a close that fails after reading loses nothing */
    assert_int_equal(failures, 11);
    assert_int_equal(unlink(path), 0);
    assert_int_equal(rmdir(folder), 0);
}

static void each_call_of_a_read_fails_once(void **state) {
    (void)state;
    fail_each_read(false);
}

static void each_call_of_a_read_fails_for_ever(void **state) {
    (void)state;
    fail_each_read(true);
}

/* A signal that comes in between is not a failure. */
static void interrupted_calls_are_made_again(void **state) {
    (void)state;
    char folder[64];
    char path[96];
    make_file(folder, path, sizeof path);
    refuse(3, false, EINTR); /* the first write: open, fchmod, write */
    assert_true(host_write_file(path, text_of(new_content), NULL).good);
    assert_true(calls.count > 3);
    calls.refuse_from = 0;
    assert_true(content_is(path, new_content));
    struct arena arena;
    struct text content = {0};
    arena_init(&arena, host_pages(), 0);
    refuse(4, false, EINTR); /* the first read: open, fstat, malloc, read */
    assert_true(host_read_file(path, 0, &arena, &content, NULL).good);
    assert_true(calls.count > 4);
    calls.refuse_from = 0;
    assert_true(text_is(content, new_content));
    arena_finish(&arena);
    assert_int_equal(unlink(path), 0);
    assert_int_equal(rmdir(folder), 0);
}

/* Some file systems refuse to sync a folder with EINVAL; the file is as safe as it can be. */
static void folder_that_cannot_be_synced_is_fine(void **state) {
    (void)state;
    char folder[64];
    char path[96];
    make_file(folder, path, sizeof path);
    refuse(17, false, EINVAL);
    assert_true(host_write_file(path, text_of(new_content), NULL).good);
    assert_true(calls.count >= 17);
    calls.refuse_from = 0;
    assert_int_equal(unlink(path), 0);
    assert_int_equal(rmdir(folder), 0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(each_call_of_a_write_fails_once),
            cmocka_unit_test(each_call_of_a_write_fails_for_ever),
            cmocka_unit_test(each_call_of_a_read_fails_once),
            cmocka_unit_test(each_call_of_a_read_fails_for_ever),
            cmocka_unit_test(interrupted_calls_are_made_again),
            cmocka_unit_test(folder_that_cannot_be_synced_is_fine),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
