/* The SIA format's event text, as it stands in the data of an IP frame: "Nri1/BA015". */
#ifndef LINTEL_SIGNALS_SIA_H
#define LINTEL_SIGNALS_SIA_H

#include "base/text.h"
#include "signals/fault.h"

enum { SIA_PART_MAX = 32 };

/** One packet: a modifier (two small letters: ri area, id user, ti time, da date, pi peripheral, ...) with what it
 *  says, or an event code (two capital letters) with its number, which may be missing. */
struct sia_part {
    bool modifier;
    struct text code;
    struct text value;
};

/** A message: N (new) or O (old) and its packets, in order. The texts borrow the source. */
struct sia {
    bool old;
    struct sia_part parts[SIA_PART_MAX];
    size_t count;
};

/** Reads an event text. Packets stand between slashes; a text with no event code at all is refused. source: all of it;
 *  at: where it stands, for the fault. ret_sia: keeps slices of the source; untouched on failure.
 *  Source: ANSI/SIA DC-03, from memory, fairly sure (letters of the modifiers, one to four digits). */
bool sia_read(struct text source, size_t at, struct sia *ret_sia, struct signal_fault *ret_fault)
        MUST_CHECK;

/** Writes it; sia_read reads it back. The builder's `failed` tells where memory was refused. */
void sia_write(const struct sia *sia, struct text_builder *builder);

/** What a modifier says: "area", "user"; "" for one that is not known. */
const char *sia_modifier_name(struct text code);

#endif
