/* Lengths and places of a drawing as people write them, in whole millimetres: "4.2 m", "850 mm", "13 ft 9 in",
 * "4.2 x 3.1 m". Metric lengths are whole millimetres or refused; feet and inches (of 25.4 mm exactly; source:
 * international yard and pound agreement, 1959) are rounded to the nearest one. Not for what a manual states to a
 * tenth of a millimetre: that is a measure (base/quantity.h). */
#ifndef LINTEL_BASE_LENGTH_H
#define LINTEL_BASE_LENGTH_H

#include "base/problem.h"
#include "base/text.h"

#include <stdint.h>

enum { LENGTH_MOST_MM = 10000000 }; /* 10 km: what is longer is no building */

/** Reads one length of 0 or more, at most LENGTH_MOST_MM. source: borrows. ret_mm: untouched on failure. Fails
 *  UNREADABLE (no number with a unit) or BAD_VALUE (another unit, finer than a millimetre, too long); the text says
 *  what to write. */
outcome length_read(struct text source, int32_t *ret_mm, struct problem *ret_problem) MUST_CHECK;

/** Reads two lengths with an x between: to the right, then to the back. "4.2 x 3.1 m" names the unit once, each may
 *  have its own. Either may be negative: "-1.5 x 0 m". Fails as length_read. */
outcome length_read_pair(struct text source, int32_t *ret_right_mm, int32_t *ret_back_mm,
        struct problem *ret_problem) MUST_CHECK;

/** "850 mm", "4.2 m", "2.48 m": metres from 1 m on. length_read reads it back (what is not negative). */
void length_add(struct text_builder *builder, int32_t length_mm);

/** "4.2 x 3.1 m", "-1.5 x 0 m". length_read_pair reads it back. */
void length_add_pair(struct text_builder *builder, int32_t right_mm, int32_t back_mm);

#endif
