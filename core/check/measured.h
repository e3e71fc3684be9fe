/* Walking times that were measured and are not what was estimated. */
#ifndef LINTEL_CHECK_MEASURED_H
#define LINTEL_CHECK_MEASURED_H

#include "check/check.h"

/** How many measured times lie, in part or whole, outside their estimate. */
size_t measured_count(const struct site *site);

/** A note for each of them: what was measured, what was estimated, what is used. ret_findings: room for
 *  measured_count. Source: the file's own figures. */
void measured_say(const struct site *site, struct arena *arena, struct check_finding *ret_findings);

#endif
