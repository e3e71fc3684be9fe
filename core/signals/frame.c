#include "signals/frame.h"

#include <string.h>

const char *frame_token_name(enum frame_token token) {
    static const char *const names[FRAME_TOKEN_COUNT] = {
            [FRAME_TOKEN_OTHER] = "",
            [FRAME_TOKEN_SIA] = "SIA-DCS",
            [FRAME_TOKEN_CONTACT_ID] = "ADM-CID",
            [FRAME_TOKEN_NULL] = "NULL",
            [FRAME_TOKEN_ACK] = "ACK",
            [FRAME_TOKEN_NAK] = "NAK",
            [FRAME_TOKEN_DUH] = "DUH",
            [FRAME_TOKEN_RSP] = "RSP",
    };
    return token < FRAME_TOKEN_COUNT ? names[token] : "";
}

struct text frame_event_text(struct text data, struct text *ret_account) {
    const char *bar = data.length == 0 ? NULL : memchr(data.start, '|', data.length);
    *ret_account = (struct text){0};
    if (bar == NULL) {
        return data;
    }
    size_t before = (size_t)(bar - data.start);
    if (before > 0 && data.start[0] == '#') {
        *ret_account = (struct text){data.start + 1, before - 1};
    }
    return (struct text){bar + 1, data.length - before - 1};
}

enum frame_scan frame_scan(struct text bytes, size_t *ret_begins, size_t *ret_length) {
    const char *feed = bytes.length == 0 ? NULL : memchr(bytes.start, '\n', bytes.length);
    *ret_length = 0;
    *ret_begins = feed == NULL ? bytes.length : (size_t)(feed - bytes.start);
    if (*ret_begins > 0) {
        return FRAME_SCAN_SKIP;
    }
    if (feed == NULL) {
        return FRAME_SCAN_MORE;
    }
    /* A line feed may stand in garbage: a later one, before the end of this frame, begins the frame anew. */
    size_t most = bytes.length < FRAME_MAX ? bytes.length : FRAME_MAX;
    for (size_t i = 1; i < most; i++) {
        if (bytes.start[i] == '\r') {
            *ret_length = i + 1;
            return FRAME_SCAN_WHOLE;
        }
        if (bytes.start[i] == '\n') {
            *ret_begins = i;
            return FRAME_SCAN_SKIP;
        }
    }
    if (bytes.length < FRAME_MAX) {
        return FRAME_SCAN_MORE;
    }
    *ret_begins = most;
    return FRAME_SCAN_SKIP;
}
