#include "web/escapes.h"

static int digit_of(char byte) {
    return byte >= '0' && byte <= '9'    ? byte - '0'
            : byte >= 'a' && byte <= 'f' ? byte - 'a' + 10
            : byte >= 'A' && byte <= 'F' ? byte - 'A' + 10
                                         : -1;
}

bool escapes_out(const char *from, size_t length, char *ret_name, size_t room, size_t *ret_length) {
    size_t count = 0;
    for (size_t i = 0; i < length; i++) {
        const int high = from[i] == '%' && i + 2 < length ? digit_of(from[i + 1]) : -1;
        const int low = high < 0 ? -1 : digit_of(from[i + 2]);
        if (count == room || (from[i] == '%' && low < 0)) {
            return false;
        }
        ret_name[count++] = (char)(low < 0 ? from[i] : high * 16 + low);
        i += low < 0 ? 0 : 2;
    }
    *ret_length = count;
    return count > 0;
}
