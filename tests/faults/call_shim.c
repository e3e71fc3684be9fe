/* Loaded before a program: refuses one of its calls of the system, or all of the same name from one on. FAULTS_NAME:
 * which; FAULTS_AT: which of those, counted from 1 (threads mix the calls of different names, but hardly those of one);
 * FAULTS_FOR_EVER: set for all after it too. Each call is named, in order, in the file FAULTS_LIST. For 64-bit file
 * offsets, as the program is built. */
#include <dirent.h>
#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <pthread.h>
#include <signal.h>
#include <stdarg.h>
#include <stdatomic.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>

static atomic_ulong asked;
static unsigned long refuse_at;
static bool for_ever;
static const char *refuse_name;
static int list = -1;

/* The call that is stood in for. C has no cast from what dlsym gives to a function. */
static void find_real(const char *name, void *ret_real) {
    void *const found = dlsym(RTLD_NEXT, name);
    memcpy(ret_real, &found, sizeof found);
}

__attribute__((constructor)) static void begin(void) {
    int (*real)(const char *, int, ...) = NULL;
    find_real("open64", &real);
    const char *at = getenv("FAULTS_AT");
    const char *path = getenv("FAULTS_LIST");
    refuse_at = at == NULL ? 0 : strtoul(at, NULL, 10);
    for_ever = getenv("FAULTS_FOR_EVER") != NULL;
    refuse_name = getenv("FAULTS_NAME");
    if (path != NULL) {
        list = real(path, O_WRONLY | O_CREAT | O_TRUNC | O_APPEND | O_CLOEXEC, 0600);
    }
    atomic_store(&asked, 0);
}

static bool is_refused(const char *name, int error) {
    if (list >= 0) {
        (void)dprintf(list, "%s\n", name);
    }
    if (refuse_name == NULL || strcmp(name, refuse_name) != 0) {
        return false;
    }
    const unsigned long number = atomic_fetch_add(&asked, 1) + 1;
    const bool refuse = for_ever ? number >= refuse_at : number == refuse_at;
    if (refuse) {
        errno = error;
    }
    return refuse;
}

/* The C++ library flushes every stream when it begins and when it ends, and looks at no answer: not our call. */
static bool is_of_cxx(const void *caller) {
    Dl_info found = {.dli_fname = NULL};
    return dladdr(caller, &found) != 0 && found.dli_fname != NULL &&
            strstr(found.dli_fname, "libstdc++") != NULL;
}

/* One call: its type and name, what it takes, how that is passed on, the error, and what it gives when refused. */
#define CALL(type, name, taken, passed, error, refused)                                            \
    type name taken;                                                                               \
    type name taken {                                                                              \
        type(*real) taken = NULL;                                                                  \
        find_real(#name, &real);                                                                   \
        return !is_of_cxx(__builtin_return_address(0)) && is_refused(#name, error) ? (refused)     \
                                                                                   : real passed;  \
    }

/* What has no answer for a caller: done nonetheless, or the test itself would run out of descriptors. */
int close(int file) {
    int (*real)(int) = NULL;
    find_real("close", &real);
    const int closed = real(file);
    return is_refused("close", EIO) ? -1 : closed;
}

int open64(const char *path, int flags, ...) {
    int (*real)(const char *, int, ...) = NULL;
    find_real("open64", &real);
    va_list arguments;
    va_start(arguments, flags);
    const int mode = (flags & O_CREAT) != 0 ? va_arg(arguments, int) : 0;
    va_end(arguments);
    return is_refused("open64", EIO) ? -1 : real(path, flags, mode);
}

/* clang-format off */
CALL(ssize_t, read, (int file, void *into, size_t size), (file, into, size), EIO, -1)
CALL(ssize_t, write, (int file, const void *from, size_t size), (file, from, size), ENOSPC, -1)
CALL(int, fstat64, (int file, struct stat64 *state), (file, state), EIO, -1)
CALL(int, lstat64, (const char *path, struct stat64 *state), (path, state), EIO, -1)
CALL(int, stat64, (const char *path, struct stat64 *state), (path, state), EIO, -1)
CALL(int, fsync, (int file), (file), EIO, -1)
CALL(int, fchmod, (int file, mode_t mode), (file, mode), EPERM, -1)
CALL(int, rename, (const char *from, const char *to), (from, to), EIO, -1)
CALL(int, unlink, (const char *path), (path), EIO, -1)
CALL(char *, realpath, (const char *path, char *into), (path, into), EIO, NULL)
CALL(DIR *, opendir, (const char *path), (path), EIO, NULL)
CALL(struct dirent64 *, readdir64, (DIR *folder), (folder), EIO, NULL)
CALL(size_t, fwrite, (const void *from, size_t size, size_t count, FILE *file), (from, size, count, file), ENOSPC, 0)
CALL(int, fflush, (FILE *file), (file), ENOSPC, EOF)
CALL(int, pthread_create, (pthread_t *thread, const pthread_attr_t *how, void *(*run)(void *), void *with), (thread, how, run, with), EAGAIN, EAGAIN)
CALL(int, clock_gettime, (clockid_t clock, struct timespec *now), (clock, now), EINVAL, -1)
CALL(time_t, time, (time_t *now), (now), EOVERFLOW, (time_t)-1)
CALL(struct tm *, localtime_r, (const time_t *at, struct tm *into), (at, into), EOVERFLOW, NULL)
CALL(long, sysconf, (int name), (name), EINVAL, -1)
CALL(int, sigaction, (int number, const struct sigaction *act, struct sigaction *old), (number, act, old), EINVAL, -1)
CALL(int, isatty, (int file), (file), EBADF, 0)
/* clang-format on */
