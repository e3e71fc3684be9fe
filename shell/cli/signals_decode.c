#include "cli/signals.h"

#include <string.h>

static bool has(struct text text, char byte) {
    return text.length > 0 && memchr(text.start, byte, text.length) != NULL;
}

/** What it seems to be, by what only one form has. */
static enum signals_form form_of(struct text source) {
    if (has(source, '"') || has(source, '\n')) {
        return SIGNALS_FRAME;
    }
    if (source.length > 0 && (source.start[0] == 'N' || source.start[0] == 'O')) {
        return SIGNALS_SIA;
    }
    return source.length <= CONTACT_ID_EVENT_LENGTH ? SIGNALS_EVENT : SIGNALS_CONTACT_ID;
}

static bool links_only(enum frame_token token) {
    return token == FRAME_TOKEN_NULL || token == FRAME_TOKEN_ACK || token == FRAME_TOKEN_NAK ||
            token == FRAME_TOKEN_DUH;
}

/** The event inside a frame that could be read. */
static void read_inside(struct signals_answer *answer) {
    struct text account = {0};
    struct text event = frame_event_text(answer->frame.content.data, &account);
    if ((answer->frame.encrypted && !answer->opened) || links_only(answer->frame.token)) {
        return;
    }
    /* what was decrypted stands nowhere in the source: its faults point at where the cipher begins */
    size_t at = answer->opened    ? answer->frame.cipher_at
            : event.start == NULL ? 0
                                  : (size_t)(event.start - answer->source.start);
    bool good = true;
    if (answer->frame.token == FRAME_TOKEN_CONTACT_ID) {
        good = contact_id_read_event(event, at, &answer->event, &answer->inner);
    } else if (answer->frame.token == FRAME_TOKEN_SIA) {
        good = sia_read(event, at, &answer->sia, &answer->inner);
    }
    (void)good; /* inner says it */
}

/** Opens an encrypted frame where its account has a key. */
static void open_frame(struct signals_answer *answer, const struct signals_keys *keys) {
    const struct account *account = keys == NULL
            ? NULL
            : accounts_find(keys->accounts, answer->frame.prefix, answer->frame.account);
    if (!answer->frame.encrypted || account == NULL || account->key_length == 0) {
        return;
    }
    uint8_t *room = ARENA_ARRAY(keys->room, uint8_t, FRAME_CLEAR_MAX);
    answer->opened = room != NULL &&
            frame_open(&answer->frame, cipher_for(keys->cipher, account), room, FRAME_CLEAR_MAX,
                    &answer->inner);
}

struct signals_answer signals_decode(struct text source, const struct signals_keys *keys) {
    struct signals_answer answer = {.form = form_of(source), .source = source};
    bool good = false;
    switch (answer.form) {
    case SIGNALS_FRAME:
        good = frame_read(source, &answer.frame, &answer.fault);
        if (good) {
            open_frame(&answer, keys);
        }
        if (good && answer.inner.kind == SIGNAL_FAULT_NONE) {
            read_inside(&answer);
        }
        break;
    case SIGNALS_CONTACT_ID:
        good = contact_id_read(source, &answer.message, &answer.fault);
        answer.event = answer.message.event;
        break;
    case SIGNALS_EVENT:
        good = contact_id_read_event(source, 0, &answer.event, &answer.fault);
        break;
    case SIGNALS_SIA:
        good = sia_read(source, 0, &answer.sia, &answer.fault);
        break;
    case SIGNALS_FORM_COUNT:
        break;
    }
    (void)good; /* fault says it */
    return answer;
}

bool signals_wrong(const struct signals_answer *answer) {
    return answer->fault.kind != SIGNAL_FAULT_NONE || answer->inner.kind != SIGNAL_FAULT_NONE;
}
