/* getrandom is Linux's and so outside of what POSIX names. */
#define _DEFAULT_SOURCE

#include "host/host.h"

#include <errno.h>
#include <string.h>
#include <sys/random.h>

outcome host_random(uint8_t *ret_bytes, size_t length, struct problem *ret_problem) {
    for (size_t done = 0; done < length;) {
        const ssize_t got = getrandom(ret_bytes + done, length - done, 0);
        if (got < 0 && errno != EINTR) {
            FAIL(ret_problem, PROBLEM_SYSTEM, "", "the system gives no random bytes: %s",
                    strerror(errno));
        }
        done += got > 0 ? (size_t)got : 0;
    }
    return outcome_good();
}
