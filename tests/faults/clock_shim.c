/* A system clock that jumps: what the calendar's clock says is off by as many seconds as the file named by CLOCK_OFF
 * says, from one look to the next. The steady clock is left alone; that of what passed, asleep or awake, is ahead by
 * what the file named by CLOCK_SLEPT says. */
#include <dlfcn.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/time.h>
#include <time.h>

static long off(const char *variable) {
    const char *name = getenv(variable);
    FILE *file = name == NULL ? NULL : fopen(name, "r");
    long seconds = 0;
    if (file != NULL) {
        if (fscanf(file, "%ld", &seconds) != 1) {
            seconds = 0;
        }
        (void)fclose(file);
    }
    return seconds;
}

int clock_gettime(clockid_t which, struct timespec *ret_now) {
    static int (*real)(clockid_t, struct timespec *);
    if (real == NULL) {
        *(void **)&real = dlsym(RTLD_NEXT, "clock_gettime");
    }
    int code = real(which, ret_now);
    if (code == 0 && (which == CLOCK_REALTIME || which == CLOCK_REALTIME_COARSE)) {
        ret_now->tv_sec += off("CLOCK_OFF");
    }
    if (code == 0 && which == CLOCK_BOOTTIME) {
        ret_now->tv_sec += off("CLOCK_SLEPT");
    }
    return code;
}

time_t time(time_t *ret_now) {
    struct timespec now;
    (void)clock_gettime(CLOCK_REALTIME, &now);
    if (ret_now != NULL) {
        *ret_now = now.tv_sec;
    }
    return now.tv_sec;
}
