/* What the event codes mean: the tables of the two formats, as data with a mark of how sure each row is. */
#ifndef LINTEL_SIGNALS_CODE_H
#define LINTEL_SIGNALS_CODE_H

#include "base/text.h"

#include <stdint.h>

/** What the number after a code is. */
enum signal_number {
    SIGNAL_NUMBER_NONE,
    SIGNAL_NUMBER_ZONE,
    SIGNAL_NUMBER_USER,
    SIGNAL_NUMBER_DEVICE,
    SIGNAL_NUMBER_COUNT
};

/** How sure a row is: no row was held against the printed standard. PATTERN: not remembered as a row of its own,
 *  follows from what its two letters mean elsewhere. */
enum signal_sure {
    SIGNAL_SURE_SURE,
    SIGNAL_SURE_FAIR,
    SIGNAL_SURE_UNSURE,
    SIGNAL_SURE_PATTERN,
    SIGNAL_SURE_COUNT
};

/** One code. class: of Contact ID only, else NULL. */
struct signal_code {
    const char *code;
    const char *class;
    enum signal_number number;
    enum signal_sure sure;
    const char *meaning;
};

/** The row of a Contact ID code (100 to 999), or NULL: not one that is known, which is no fault of the sender.
 *  Source: data/signals/contact-id.tsv. */
const struct signal_code *signal_contact_id(uint16_t code);

/** The row of a SIA code ("BA"), or NULL. Source: data/signals/sia.tsv. */
const struct signal_code *signal_sia(struct text code);

/** Every row, in the order of the codes; for lists. ret_count: gives. */
const struct signal_code *signal_contact_id_codes(size_t *ret_count);
const struct signal_code *signal_sia_codes(size_t *ret_count);

/** "zone", "user", "device", or "" for none. */
const char *signal_number_name(enum signal_number number);

/** "from memory, unverified" and the like: what to print beside a row. */
const char *signal_sure_words(enum signal_sure sure);

#endif
