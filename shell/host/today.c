/* The clocks of the program that tell a day, and what has passed. */
#include "host/host.h"

#include "base/date.h"

#include <time.h>

int32_t host_today(void) {
    const time_t now = time(NULL);
    struct tm local = {0};
    if (localtime_r(&now, &local) == NULL || local.tm_year < 70) {
        return DATE_NONE;
    }
    return date_of(local.tm_year + 1900, local.tm_mon + 1, local.tm_mday);
}

int64_t host_passed_ms(void) {
    enum { SECOND_MS = 1000, MILLISECOND_NS = 1000000 };
    struct timespec now = {0};
#ifdef CLOCK_BOOTTIME
    (void)clock_gettime(CLOCK_BOOTTIME, &now);
#else
    (void)clock_gettime(CLOCK_MONOTONIC, &now);
#endif
    return (int64_t)now.tv_sec * SECOND_MS + now.tv_nsec / MILLISECOND_NS;
}
