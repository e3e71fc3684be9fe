/* Small random sites in which an entry time ends while something is on its way: a message from the hall, a detector's
 * hold, a door still open; with everything that decides whether that end breaks a promise (the siren held back, an exit
 * error that was announced, doors that send nothing or have swung out, a second door), and now and then somebody who
 * sets afterwards. Made to break the leaving out of what is unheard because the end of an entry time would break a
 * promise anyway.
 *
 * A number names a site for good, as in random_site.h. */
#ifndef LINTEL_TESTS_SUPPORT_RANDOM_LATE_H
#define LINTEL_TESTS_SUPPORT_RANDOM_LATE_H

#include "base/arena.h"
#include "site/site.h"

#include <stdbool.h>
#include <stdint.h>

/** Builds the site: one routine of at most two people, every array in the arena. False when that is out of memory. */
bool random_late_build(uint64_t number, struct arena *arena, struct site *ret_site);

#endif
