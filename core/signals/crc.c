#include "signals/crc.h"

uint16_t signals_crc(struct text bytes) {
    enum { REFLECTED = 0xA001 };
    uint16_t crc = 0;
    for (size_t i = 0; i < bytes.length; i++) {
        crc ^= (uint8_t)bytes.start[i];
        for (int bit = 0; bit < 8; bit++) {
            crc = (uint16_t)((crc & 1) != 0 ? (crc >> 1) ^ REFLECTED : crc >> 1);
        }
    }
    return crc;
}
