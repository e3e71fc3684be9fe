/* What is wrong with bytes that were to be a signal, and at which byte. A value without text, because a listener meets
 * thousands of bad frames and must not spend memory on any; the words for a person are made when one is shown. */
#ifndef LINTEL_SIGNALS_FAULT_H
#define LINTEL_SIGNALS_FAULT_H

#include <stdbool.h>
#include <stddef.h>

enum signal_fault_kind {
    SIGNAL_FAULT_NONE,
    SIGNAL_FAULT_ENDS_EARLY,   /* the bytes end where more is due */
    SIGNAL_FAULT_TRAILING,     /* more after the end */
    SIGNAL_FAULT_LINE_FEED,    /* a frame begins with a line feed */
    SIGNAL_FAULT_RETURN,       /* and ends with a carriage return */
    SIGNAL_FAULT_CRC_FORM,     /* four digits 0-9 A-F */
    SIGNAL_FAULT_CRC,          /* the sum is another */
    SIGNAL_FAULT_LENGTH_FORM,  /* a 0 and three digits 0-9 A-F */
    SIGNAL_FAULT_LENGTH,       /* the length is another */
    SIGNAL_FAULT_TOKEN,        /* "NAME" or "*NAME" */
    SIGNAL_FAULT_SEQUENCE,     /* four digits */
    SIGNAL_FAULT_RECEIVER,     /* R and 1 to 6 hex digits */
    SIGNAL_FAULT_PREFIX,       /* L and 1 to 6 hex digits */
    SIGNAL_FAULT_ACCOUNT,      /* # and 3 to 16 hex digits */
    SIGNAL_FAULT_OPEN,         /* [ */
    SIGNAL_FAULT_CLOSE,        /* ] */
    SIGNAL_FAULT_CIPHER,       /* whole blocks of 32 hex digits */
    SIGNAL_FAULT_KEY,          /* the key opens it to nonsense, or there is none */
    SIGNAL_FAULT_NAK_CLEAR,    /* a NAK is never encrypted */
    SIGNAL_FAULT_EXTRA,        /* [ a capital letter, text ] */
    SIGNAL_FAULT_EXTRAS,       /* more extended data than there is room for */
    SIGNAL_FAULT_STAMP,        /* _HH:MM:SS,MM-DD-YYYY, an instant that there is */
    SIGNAL_FAULT_NO_STAMP,     /* an encrypted frame without its time */
    SIGNAL_FAULT_QUALIFIER,    /* 1, 3 or 6 */
    SIGNAL_FAULT_MESSAGE_TYPE, /* 18 or 98 */
    SIGNAL_FAULT_CODE,         /* an event code of the format */
    SIGNAL_FAULT_GROUP,        /* two digits */
    SIGNAL_FAULT_NUMBER,       /* of a zone or user */
    SIGNAL_FAULT_CHECK_DIGIT,  /* the sum of all is no multiple of 15 */
    SIGNAL_FAULT_SPACE,        /* a space between two parts */
    SIGNAL_FAULT_NEW_OR_OLD,   /* N or O */
    SIGNAL_FAULT_MODIFIER,     /* two small letters and a value */
    SIGNAL_FAULT_TOO_MANY,     /* more parts than there is room for */
    SIGNAL_FAULT_BYTE,         /* a byte that may not stand there */
    SIGNAL_FAULT_ROOM,         /* does not fit the buffer or the 4095 characters of a frame */
    SIGNAL_FAULT_COUNT
};

/** kind: NONE where all is well. at: offset of the byte where it was noticed, from the start of what was given. */
struct signal_fault {
    enum signal_fault_kind kind;
    size_t at;
};

/** What was expected there, for a person: "a carriage return ends the frame". Never NULL. */
const char *signal_fault_words(enum signal_fault_kind kind);

/** Notes a fault (ret_fault may be NULL) and gives false, for `return signal_fault(...)`. */
bool signal_fault(struct signal_fault *ret_fault, enum signal_fault_kind kind, size_t at);

#endif
