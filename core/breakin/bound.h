/* How late he can be heard at the most, whatever he does, by the European course, where it is not certain to the
 * second. Not for use outside this folder. */
#ifndef LINTEL_BREAKIN_BOUND_H
#define LINTEL_BREAKIN_BOUND_H

#include "breakin/moment.h"

/** In how many seconds a signal has left at the latest, once a report is held or an entry time runs in some area that
 *  would report if he stood still; BREAKIN_NEVER_S: nothing is certain yet. The settings are those of the European
 *  course, and a signal is what counts as heard.
 *
 *  Why: what is held leaves at the end of the abort window, or when the inside warning is over and no entry time
 *  runs. A warning runs 30 s and, while it does, no second one begins. Only an entry time that begins before it is over
 *  delays further, until its own end, which lets everything go. */
int32_t bound_heard_s(const struct devices_world *world, const struct moment *moment);

#endif
