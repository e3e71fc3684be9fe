/* The one clock of the program that tells a day. */
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
