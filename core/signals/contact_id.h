/* Contact ID: an event as digits. By itself (sixteen symbols with a check digit, as on a telephone line or in a
 * receiver's log) and as it stands in the data of an IP frame ("1130 01 015": no message type, no check digit). */
#ifndef LINTEL_SIGNALS_CONTACT_ID_H
#define LINTEL_SIGNALS_CONTACT_ID_H

#include "base/text.h"
#include "signals/fault.h"

#include <stdint.h>

enum contact_id_qualifier {
    CONTACT_ID_NEW = 1,   /* a new event; an opening */
    CONTACT_ID_BACK = 3,  /* restored; a closing */
    CONTACT_ID_STILL = 6, /* reported before and still so */
};

enum {
    CONTACT_ID_EVENT_LENGTH = 11,   /* QXYZ GG CCC */
    CONTACT_ID_MESSAGE_LENGTH = 16, /* ACCT MT QXYZ GG CCC S, without spaces */
    CONTACT_ID_CODE_MOST = 999,
    CONTACT_ID_GROUP_MOST = 99,
    CONTACT_ID_NUMBER_MOST = 999,
};

/** An event. group: area, 0: none applies; number: zone or user by the code, 0: none applies. */
struct contact_id {
    enum contact_id_qualifier qualifier;
    uint16_t code;
    uint8_t group;
    uint16_t number;
};

/** A whole message. account: four of 0-9, B-F. type: 18 or 98. */
struct contact_id_message {
    char account[4];
    uint8_t type;
    struct contact_id event;
};

/** Reads "1130 01 015". source: all of it and no more; at: where it stands, for the fault. ret_event: untouched on
 *  failure. Source: ANSI/SIA DC-05-1999.09 and the token table of DC-07, from memory, sure. */
bool contact_id_read_event(struct text source, size_t at, struct contact_id *ret_event,
        struct signal_fault *ret_fault) MUST_CHECK;

/** Writes it; contact_id_read_event reads it back. event: within its ranges. */
void contact_id_write_event(struct contact_id event, char ret_bytes[CONTACT_ID_EVENT_LENGTH]);

/** Reads a whole message, sixteen symbols, spaces between them skipped, and holds it to its check digit: the values
 *  of all sixteen, a 0 counting ten, B to F eleven to fifteen, sum to a multiple of 15. ret_message: untouched on
 *  failure. Source: ANSI/SIA DC-05-1999.09, from memory, sure. */
bool contact_id_read(struct text source, struct contact_id_message *ret_message,
        struct signal_fault *ret_fault) MUST_CHECK;

/** Writes it with its check digit; contact_id_read reads it back. */
void contact_id_write(struct contact_id_message message, char ret_bytes[CONTACT_ID_MESSAGE_LENGTH]);

/** The check digit for the fifteen symbols before it, or 0 (NUL) where one is no symbol of the format. */
char contact_id_check_digit(const char symbols[CONTACT_ID_MESSAGE_LENGTH - 1]);

#endif
