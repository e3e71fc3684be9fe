#include "signals/fault.h"

/* clang-format off */
static const char *const words[SIGNAL_FAULT_COUNT] = {
    [SIGNAL_FAULT_NONE]         = "nothing is wrong",
    [SIGNAL_FAULT_ENDS_EARLY]   = "it ends here, and more is due",
    [SIGNAL_FAULT_TRAILING]     = "nothing may follow here",
    [SIGNAL_FAULT_LINE_FEED]    = "a frame begins with a line feed (0A)",
    [SIGNAL_FAULT_RETURN]       = "a frame ends with a carriage return (0D)",
    [SIGNAL_FAULT_CRC_FORM]     = "the check sum is four digits 0-9, A-F",
    [SIGNAL_FAULT_CRC]          = "the check sum does not fit the bytes",
    [SIGNAL_FAULT_LENGTH_FORM]  = "the length is a 0 and three digits 0-9, A-F",
    [SIGNAL_FAULT_LENGTH]       = "the length does not fit the frame",
    [SIGNAL_FAULT_TOKEN]        = "the kind of message stands in quotes, as in \"ADM-CID\" or \"*ADM-CID\"",
    [SIGNAL_FAULT_SEQUENCE]     = "the sequence number is four digits",
    [SIGNAL_FAULT_RECEIVER]     = "the receiver number is R and 1 to 6 digits 0-9, A-F",
    [SIGNAL_FAULT_PREFIX]       = "the account prefix is L and 1 to 6 digits 0-9, A-F",
    [SIGNAL_FAULT_ACCOUNT]      = "the account is # and 3 to 16 digits 0-9, A-F",
    [SIGNAL_FAULT_OPEN]         = "the data begin with [",
    [SIGNAL_FAULT_CLOSE]        = "the data end with ]",
    [SIGNAL_FAULT_CIPHER]       = "encrypted data are whole blocks, 32 digits 0-9, A-F each",
    [SIGNAL_FAULT_KEY]          = "the key does not open this frame",
    [SIGNAL_FAULT_NAK_CLEAR]    = "a NAK is never encrypted",
    [SIGNAL_FAULT_EXTRA]        = "extended data are [, a capital letter, text, ]",
    [SIGNAL_FAULT_EXTRAS]       = "more extended data than Lintel keeps of one frame",
    [SIGNAL_FAULT_STAMP]        = "the time is _HH:MM:SS,MM-DD-YYYY",
    [SIGNAL_FAULT_NO_STAMP]     = "an encrypted frame carries its time",
    [SIGNAL_FAULT_QUALIFIER]    = "the qualifier is 1 (new, opening), 3 (restored, closing) or 6 (still so)",
    [SIGNAL_FAULT_MESSAGE_TYPE] = "the message type is 18 or 98",
    [SIGNAL_FAULT_CODE]         = "the event code is three digits in Contact ID, two capital letters in SIA",
    [SIGNAL_FAULT_GROUP]        = "the area (group) is two digits",
    [SIGNAL_FAULT_NUMBER]       = "the zone or user is three digits in Contact ID, up to four in SIA",
    [SIGNAL_FAULT_CHECK_DIGIT]  = "the check digit does not fit: all sixteen together are no multiple of 15",
    [SIGNAL_FAULT_SPACE]        = "one space stands between two parts",
    [SIGNAL_FAULT_NEW_OR_OLD]   = "the event begins with N (new) or O (old)",
    [SIGNAL_FAULT_MODIFIER]     = "a modifier is two small letters and what it says",
    [SIGNAL_FAULT_TOO_MANY]     = "more events and modifiers than Lintel keeps of one message",
    [SIGNAL_FAULT_BYTE]         = "this byte may not stand here",
    [SIGNAL_FAULT_ROOM]         = "too long: a frame holds 4095 characters",
};
/* clang-format on */

const char *signal_fault_words(enum signal_fault_kind kind) {
    return kind < SIGNAL_FAULT_COUNT ? words[kind] : "unknown";
}

bool signal_fault(struct signal_fault *ret_fault, enum signal_fault_kind kind, size_t at) {
    if (ret_fault != NULL) {
        *ret_fault = (struct signal_fault){.kind = kind, .at = at};
    }
    return false;
}
