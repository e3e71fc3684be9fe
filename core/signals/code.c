#include "signals/code.h"

#include <string.h>

#define ROW(code, class, number, sure, meaning)                                                    \
    {code, class, SIGNAL_NUMBER_##number, SIGNAL_SURE_##sure, meaning},
static const struct signal_code contact_id_codes[] = {
#include "signals/contact_id_codes.inc"
};
#undef ROW

#define ROW(code, number, sure, meaning)                                                           \
    {code, NULL, SIGNAL_NUMBER_##number, SIGNAL_SURE_##sure, meaning},
static const struct signal_code sia_codes[] = {
#include "signals/sia_codes.inc"
};
#undef ROW

enum {
    CONTACT_ID_COUNT = sizeof contact_id_codes / sizeof contact_id_codes[0],
    SIA_COUNT = sizeof sia_codes / sizeof sia_codes[0],
};

/** Rows are in the order of their codes: tools/tables refuses any other. length: of every code of the table. */
static const struct signal_code *find(
        const struct signal_code *rows, size_t count, struct text code, size_t length) {
    if (code.length != length) {
        return NULL;
    }
    size_t low = 0;
    size_t high = count;
    while (low < high) {
        size_t middle = low + (high - low) / 2;
        int order = memcmp(rows[middle].code, code.start, length);
        if (order == 0) {
            return &rows[middle];
        }
        if (order < 0) {
            low = middle + 1;
        } else {
            high = middle;
        }
    }
    return NULL;
}

const struct signal_code *signal_contact_id(uint16_t code) {
    char digits[3] = {
            (char)('0' + code / 100 % 10), (char)('0' + code / 10 % 10), (char)('0' + code % 10)};
    return code > 999 ? NULL
                      : find(contact_id_codes, CONTACT_ID_COUNT,
                                (struct text){digits, sizeof digits}, sizeof digits);
}

const struct signal_code *signal_sia(struct text code) {
    return find(sia_codes, SIA_COUNT, code, 2);
}

const struct signal_code *signal_contact_id_codes(size_t *ret_count) {
    *ret_count = CONTACT_ID_COUNT;
    return contact_id_codes;
}

const struct signal_code *signal_sia_codes(size_t *ret_count) {
    *ret_count = SIA_COUNT;
    return sia_codes;
}

const char *signal_number_name(enum signal_number number) {
    static const char *const names[SIGNAL_NUMBER_COUNT] = {"", "zone", "user", "device"};
    return number < SIGNAL_NUMBER_COUNT ? names[number] : "";
}

const char *signal_sure_words(enum signal_sure sure) {
    static const char *const words[SIGNAL_SURE_COUNT] = {
            [SIGNAL_SURE_SURE] = "from memory, unverified",
            [SIGNAL_SURE_FAIR] = "from memory, fairly sure, unverified",
            [SIGNAL_SURE_UNSURE] = "from memory, unsure",
            [SIGNAL_SURE_PATTERN] = "by the pattern of the letters, unverified",
    };
    return sure < SIGNAL_SURE_COUNT ? words[sure] : "";
}
