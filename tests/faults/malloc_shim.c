/* Loaded before a program: refuses one of its allocations, and its libraries', or all from one on. FAULTS_AT: which,
 * counted from 1; FAULTS_FOR_EVER: set for all after it too. The count is written to the file FAULTS_COUNT at the end.
 * When the program crashes, the object it crashed in (the C library and this one aside) is told on stderr. */
#include <dlfcn.h>
#include <errno.h>
#include <execinfo.h>
#include <fcntl.h>
#include <signal.h>
#include <stdatomic.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

void *__libc_malloc(size_t size);
void *__libc_calloc(size_t count, size_t size);
void *__libc_realloc(void *block, size_t size);

static atomic_ulong asked;
static unsigned long refuse_at;
static bool for_ever;

static void tell_crash(int number) {
    void *frames[32];
    const int count = backtrace(frames, 32);
    for (int i = 0; i < count; i++) {
        Dl_info info;
        if (dladdr(frames[i], &info) != 0 && strstr(info.dli_fname, "libc.so") == NULL &&
                strstr(info.dli_fname, "malloc-shim") == NULL) {
            (void)dprintf(STDERR_FILENO, "crashed in %s\n", info.dli_fname);
            break;
        }
    }
    (void)signal(number, SIG_DFL);
    (void)raise(number);
}

__attribute__((constructor)) static void begin(void) {
    void *frame = NULL;
    (void)backtrace(&frame, 1); /* loads what it needs now, while there is memory */
    (void)signal(SIGSEGV, tell_crash);
    (void)signal(SIGABRT, tell_crash);
    (void)signal(SIGBUS, tell_crash);
    const char *at = getenv("FAULTS_AT");
    refuse_at = at == NULL ? 0 : strtoul(at, NULL, 10);
    for_ever = getenv("FAULTS_FOR_EVER") != NULL;
    atomic_store(&asked, 0);
}

__attribute__((destructor)) static void end(void) {
    const char *path = getenv("FAULTS_COUNT");
    char line[32];
    const int file = path == NULL ? -1 : open(path, O_WRONLY | O_CREAT | O_TRUNC, 0600);
    if (file >= 0) {
        const int length = snprintf(line, sizeof line, "%lu\n", atomic_load(&asked));
        if (write(file, line, (size_t)length) != length) {
            _exit(99);
        }
        (void)close(file);
    }
}

static bool is_refused(void) {
    const unsigned long number = atomic_fetch_add(&asked, 1) + 1;
    const bool refuse = refuse_at != 0 && (for_ever ? number >= refuse_at : number == refuse_at);
    if (refuse) {
        errno = ENOMEM;
    }
    return refuse;
}

void *malloc(size_t size) {
    return is_refused() ? NULL : __libc_malloc(size);
}

void *calloc(size_t count, size_t size) {
    return is_refused() ? NULL : __libc_calloc(count, size);
}

void *realloc(void *block, size_t size) {
    return is_refused() ? NULL : __libc_realloc(block, size);
}
