#include "signals/crc.h"

/* What a byte does to the sum, which is what its bits do, added: what each does is the polynomial (reflected, A001)
 * divided out over eight steps, and so known once. */
#define OF_BIT(byte, bit, sum) (((byte) & (bit)) != 0 ? (sum) : 0)
#define OF(byte)                                                                                   \
    OF_BIT(byte, 0x01, 0xC0C1) ^ OF_BIT(byte, 0x02, 0xC181) ^ OF_BIT(byte, 0x04, 0xC301) ^         \
            OF_BIT(byte, 0x08, 0xC601) ^ OF_BIT(byte, 0x10, 0xCC01) ^ OF_BIT(byte, 0x20, 0xD801) ^ \
            OF_BIT(byte, 0x40, 0xF001) ^ OF_BIT(byte, 0x80, 0xA001)
#define OF_4(byte) OF(byte), OF((byte) + 1), OF((byte) + 2), OF((byte) + 3)
#define OF_16(byte) OF_4(byte), OF_4((byte) + 4), OF_4((byte) + 8), OF_4((byte) + 12)
#define OF_64(byte) OF_16(byte), OF_16((byte) + 16), OF_16((byte) + 32), OF_16((byte) + 48)

static const uint16_t of_byte[256] = {OF_64(0), OF_64(64), OF_64(128), OF_64(192)};

uint16_t signals_crc(struct text bytes) {
    uint16_t crc = 0;
    for (size_t i = 0; i < bytes.length; i++) {
        crc = (uint16_t)(crc >> 8 ^ of_byte[(crc ^ (uint8_t)bytes.start[i]) & 0xFF]);
    }
    return crc;
}
