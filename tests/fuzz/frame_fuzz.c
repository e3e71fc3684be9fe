/* Fuzz target: everything that reads bytes from a panel. Whatever they are, no reader goes past them, a fault stands
 * within them, and what could be read is written again as it was. */
#include "replay.h"

#include "signals/contact_id.h"
#include "signals/crc.h"
#include "signals/frame.h"
#include "signals/sia.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

const char *const replay_words[] = {"\n", "\r", "\"ADM-CID\"", "\"*SIA-DCS\"", "\"NAK\"",
        "\"NULL\"", "0001", "R1", "L0", "#1234", "A0", "[", "]", "[#1234|", "|", "1130 01 015",
        "Nri1/BA015", "_10:15:30,03-07-2024", "[IHALL]"};
const size_t replay_word_count = sizeof replay_words / sizeof replay_words[0];

static void promise(bool kept, const char *what) {
    if (!kept) {
        (void)fprintf(stderr, "%s\n", what);
        abort();
    }
}

static bool fault_within(const struct signal_fault *fault, size_t size) {
    return fault->kind != SIGNAL_FAULT_NONE && fault->kind < SIGNAL_FAULT_COUNT &&
            fault->at <= size;
}

/** A cipher that only turns bytes round: what stands behind it is random to the reader all the same. */
static bool turn(void *context, uint8_t *bytes, size_t length) {
    for (size_t i = 0; i < length; i++) {
        bytes[i] ^= *(uint8_t *)context;
    }
    return true;
}

static void read_frame(struct text source) {
    struct frame frame;
    struct signal_fault fault = {0};
    char written[FRAME_MAX];
    size_t length = 0;
    if (!frame_read(source, &frame, &fault)) {
        promise(fault_within(&fault, source.length), "a frame's fault stands outside it");
        return;
    }
    if (frame.encrypted) {
        uint8_t room[FRAME_CLEAR_MAX];
        for (unsigned key = 0; key < 256; key++) {
            uint8_t byte = (uint8_t)key;
            struct frame_cipher cipher = {.encrypt = turn, .decrypt = turn, .context = &byte};
            struct frame opened = frame;
            if (!frame_open(&opened, cipher, room, sizeof room, &fault)) {
                promise(fault_within(&fault, source.length), "the fault of opening stands outside");
            }
        }
        return;
    }
    bool again = frame_write(&frame, NULL, written, &length, &fault);
    /* a NAK may be read in two forms and is written in one */
    bool nak = frame.token == FRAME_TOKEN_NAK;
    promise(again || nak, "what was read cannot be written");
    promise(nak || (length == source.length && memcmp(written, source.start, length) == 0),
            "what was written differs from what was read");
}

/** The same bytes as a body with a right sum and length: else the sum would keep every mutation out. */
static void read_body(struct text body) {
    static char room[FRAME_MAX];
    if (body.length > FRAME_BODY_MAX) {
        return;
    }
    int head = snprintf(room, sizeof room, "\n%04X%04zX", signals_crc(body), body.length);
    memcpy(room + head, body.start, body.length);
    room[(size_t)head + body.length] = '\r';
    read_frame((struct text){room, (size_t)head + body.length + 1});
}

static void scan_all(struct text bytes) {
    while (bytes.length > 0) {
        size_t begins = 0;
        size_t length = 0;
        enum frame_scan scan = frame_scan(bytes, &begins, &length);
        size_t step = scan == FRAME_SCAN_WHOLE ? length : begins;
        promise(step <= bytes.length, "the scan goes past the bytes");
        if (scan == FRAME_SCAN_MORE) {
            promise(bytes.length < FRAME_MAX && begins == 0,
                    "more is asked for than a frame holds");
            return;
        }
        promise(step > 0, "the scan stands still");
        if (scan == FRAME_SCAN_WHOLE) {
            read_frame((struct text){bytes.start, length});
        }
        bytes = (struct text){bytes.start + step, bytes.length - step};
    }
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size) {
    struct text source = {size == 0 ? "" : (const char *)bytes, size};
    struct signal_fault fault = {0};
    struct contact_id_message message;
    struct contact_id event;
    struct sia sia;
    char written[CONTACT_ID_MESSAGE_LENGTH];
    read_frame(source);
    read_body(source);
    if (size > 10) {
        read_body((struct text){source.start + 9, size - 10});
    }
    scan_all(source);
    if (contact_id_read(source, &message, &fault)) {
        contact_id_write(message, written);
        promise(size != sizeof written || memcmp(written, bytes, size) == 0,
                "a message is written otherwise");
    } else {
        promise(fault_within(&fault, size), "a message's fault stands outside it");
    }
    if (!contact_id_read_event(source, 0, &event, &fault)) {
        promise(fault_within(&fault, size), "an event's fault stands outside it");
    }
    if (!sia_read(source, 0, &sia, &fault)) {
        promise(fault_within(&fault, size), "an event text's fault stands outside it");
    }
    return 0;
}
