/* Whether a message is one that came before. */
#ifndef LINTEL_SIGNALS_DIGEST_H
#define LINTEL_SIGNALS_DIGEST_H

#include "signals/frame.h"
#include "signals/siphash.h"

/** A number that is the same for the same message sent again: of token, prefix, account, sequence, data and extended
 *  data. Neither of the padding nor of the time, which is that of sending and may be new each time, nor of whether it
 *  was encrypted. frame: opened, if it was encrypted. Source: DC-09, clause 5.5.1.5: a repeat keeps its number. */
uint64_t frame_digest(const struct frame *frame);

/** The same for whoever must not be deceived: with a key that the sender does not have, nobody can make a message that
 *  is taken for another one. For as long as the key is kept. */
uint64_t frame_mark(const struct frame *frame, struct siphash_key key);

#endif
