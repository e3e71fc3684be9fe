/* Small random sites with radio devices and several people, made to break the leaving out of what nobody hears:
 * messages that are under way when somebody asks to set, detectors that hold or are blind by then, doors that
 * somebody else left open, codes and doors that come a second too late to be at rest; steps that wait for each
 * other, or forget to.
 *
 * A number names a site for good, as in random_site.h. */
#ifndef LINTEL_TESTS_SUPPORT_RANDOM_RADIO_H
#define LINTEL_TESTS_SUPPORT_RANDOM_RADIO_H

#include "base/arena.h"
#include "site/site.h"

#include <stdbool.h>
#include <stdint.h>

/** Builds the site: one routine of at most three people, every array in the arena. False when that is out of memory. */
bool random_radio_build(uint64_t number, struct arena *arena, struct site *ret_site);

#endif
