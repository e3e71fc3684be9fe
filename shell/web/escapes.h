/* Names as they stand in an address, where what is no plain letter is written as % and two hexadecimal digits
 * (RFC 3986, section 2.1). */
#ifndef LINTEL_WEB_ESCAPES_H
#define LINTEL_WEB_ESCAPES_H

#include <stdbool.h>
#include <stddef.h>

/** Takes the escapes out of a name. from: length bytes. room: of ret_name, in bytes; a NUL is not added, and one
 *  that was escaped is a byte like any other. False: it is empty, has half of an escape, or does not fit; ret_name is
 *  then of no use. */
bool escapes_out(const char *from, size_t length, char *ret_name, size_t room, size_t *ret_length);

#endif
