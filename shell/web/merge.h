/* One change of a text made in another text that came of the same: what undo does where somebody else has written
 * since. Pure; it knows of lines and of values between commas, not of what they mean. */
#ifndef LINTEL_WEB_MERGE_H
#define LINTEL_WEB_MERGE_H

#include "base/arena.h"
#include "base/text.h"

/** Makes what leads from base to mine in theirs, which came of base too. False: both changed the same, or put something
 *  at the same place. ret_text: in the arena; {NULL, 0}: no memory for it. Values of one line are told apart by commas
 *  and brackets, unless the line has quotes: it is then one. */
bool merge_change(struct text base, struct text mine, struct text theirs, struct arena *arena,
        struct text *ret_text);

#endif
