#include "site/limit.h"

#include <assert.h>

const char *site_limit_name(int of) {
    assert(of >= 0 && of < SITE_LIMIT_COUNT);
    if (of < SITE_SETTING_COUNT) {
        return site_setting_key((enum site_setting)of);
    }
    return of == SITE_LIMIT_KEYPAD_REACH ? "keypad-reach" : "code-combinations";
}

int site_limit_find(struct text name) {
    int of = 0;
    while (of < SITE_LIMIT_COUNT && !text_is(name, site_limit_name(of))) {
        of++;
    }
    /* What a user can be kept from is the panel's to offer, no standard's to limit. */
    return of == SITE_SET_USER_MODES || of == SITE_SET_USER_HOURS ? SITE_LIMIT_COUNT : of;
}

enum site_setting_kind site_limit_kind(int of) {
    assert(of >= 0 && of < SITE_LIMIT_COUNT);
    if (of < SITE_SETTING_COUNT) {
        return site_setting_kind((enum site_setting)of);
    }
    return of == SITE_LIMIT_KEYPAD_REACH ? SITE_SETTING_TIME : SITE_SETTING_NUMBER;
}

const char *site_certainty_name(enum site_certainty certainty) {
    static const char *const names[SITE_CERTAINTY_COUNT] = {
            [SITE_READ_IN_EXCERPT] = "read in excerpt",
            [SITE_FROM_MEMORY] = "from memory, unverified",
            [SITE_COMMON_PRACTICE] = "common practice",
    };
    return names[certainty];
}
