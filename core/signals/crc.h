/* The check sum of a frame. */
#ifndef LINTEL_SIGNALS_CRC_H
#define LINTEL_SIGNALS_CRC_H

#include "base/text.h"

#include <stdint.h>

/** CRC-16 of the bytes: polynomial x^16 + x^15 + x^2 + 1, register begun at 0, bits least significant first, not
 *  inverted. bytes: may be empty (0). Source: ANSI/SIA DC-07 and DC-09, clause 5.5.1.2; the catalogue of CRCs gives
 *  BB3D for "123456789". */
uint16_t signals_crc(struct text bytes);

#endif
