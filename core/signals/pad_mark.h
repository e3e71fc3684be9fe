/* Marks in the padding of what is encrypted, by which our own acknowledgements and link tests are known. Both hold
 * nothing but a time, and their tokens stand outside of what is encrypted: without a mark anybody could have the one
 * for the other. A mark is no secret: a block that has it can be put elsewhere by anybody, but made and changed only
 * with the key. */
#ifndef LINTEL_SIGNALS_PAD_MARK_H
#define LINTEL_SIGNALS_PAD_MARK_H

#include "signals/frame.h"

enum pad_mark { PAD_MARK_ANSWER, PAD_MARK_LINK, PAD_MARK_COUNT };

/** What of the pad of a frame that holds nothing but a time is marked: all that is needed of it. */
enum { PAD_MARKED = 10 };

/** Marks it: half of it follows from the other half, which stays as it is. pad: random, none of [ ] |. */
void pad_mark(enum pad_mark mark, char pad[PAD_MARKED]);

/** Whether the end of what was encrypted is that of a frame so marked. room: as frame_open left it. The block before
 *  the last is looked at as it was before the one that stands before it now was added to it. */
bool pad_ends_marked(
        enum pad_mark mark, const struct frame *frame, const uint8_t room[FRAME_CLEAR_MAX]);

#endif
