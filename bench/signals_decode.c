/* How many frames a second are taken apart on one core: sum, length, header, content and event; of encrypted ones the hex
 * digits and the cipher too. Prints frames a second, and the bytes of the cipher (or of the frame in clear) in each.
 *
 *     bench-signals-decode SECONDS LENGTH [KEY]          LENGTH: characters of extended data beside the event */
#include "cipher/cipher.h"
#include "signals/contact_id.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

enum { FRAMES = 64 };

struct made {
    char bytes[FRAME_MAX];
    size_t length;
};

static double now_s(void) {
    struct timespec now;
    (void)clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
    return (double)now.tv_sec + (double)now.tv_nsec * 1e-9;
}

static struct account account_of(const char *key) {
    struct account account = {.digit_count = 4, .digits = "1234"};
    for (size_t i = 0; key != NULL && key[2 * i] != '\0' && i < ACCOUNT_KEY_MAX; i++) {
        unsigned value = 0;
        (void)sscanf(key + 2 * i, "%2x", &value);
        account.key[i] = (uint8_t)value;
        account.key_length = (uint8_t)(i + 1);
    }
    return account;
}

static bool make(struct made *made, int number, size_t extra, struct frame_cipher *cipher) {
    static char more[FRAME_BODY_MAX];
    char data[64];
    memset(more, 'x', sizeof more);
    (void)snprintf(data, sizeof data, "#1234|1130 01 %03d", number);
    const struct frame frame = {.token = FRAME_TOKEN_CONTACT_ID,
            .encrypted = cipher != NULL,
            .sequence = (uint16_t)(number + 1),
            .prefix = text_of("0"),
            .account = text_of("1234"),
            .content = {.pad = {"0123456789abcdef", FRAME_BLOCK},
                    .data = text_of(data),
                    .extras = {{'I', {more, extra}}},
                    .extra_count = extra > 0,
                    .stamped = true,
                    .stamp_s = 1790000000}};
    return frame_write(&frame, cipher, made->bytes, &made->length, NULL);
}

/** Takes one apart as the listener does; false where it is not what it was. */
static bool read_one(
        const struct made *made, const struct frame_cipher *cipher, size_t *ret_bytes) {
    static uint8_t room[FRAME_CLEAR_MAX];
    struct frame frame;
    struct contact_id event;
    struct text account;
    if (!frame_read((struct text){made->bytes, made->length}, &frame, NULL) ||
            (cipher != NULL && !frame_open(&frame, *cipher, room, sizeof room, NULL))) {
        return false;
    }
    *ret_bytes = cipher == NULL ? made->length : frame.cipher.length / 2;
    return contact_id_read_event(frame_event_text(frame.content.data, &account), 0, &event, NULL);
}

int main(int argc, char **argv) {
    static struct made frames[FRAMES];
    if (argc < 3) {
        (void)fprintf(stderr, "bench-signals-decode SECONDS LENGTH [KEY]\n");
        return 2;
    }
    const struct account account = account_of(argc > 3 ? argv[3] : NULL);
    struct cipher *made_cipher = cipher_create();
    struct frame_cipher cipher = cipher_for(made_cipher, &account);
    struct frame_cipher *used = argc > 3 ? &cipher : NULL;
    for (int i = 0; i < FRAMES; i++) {
        if (!make(&frames[i], i, (size_t)strtoul(argv[2], NULL, 10), used)) {
            return 1;
        }
    }
    const double begin_s = now_s();
    double took_s = 0;
    size_t count = 0;
    size_t bytes = 0;
    while (took_s < strtod(argv[1], NULL)) {
        for (int i = 0; i < FRAMES; i++, count++) {
            if (!read_one(&frames[i], used, &bytes)) {
                return 1;
            }
        }
        took_s = now_s() - begin_s;
    }
    cipher_destroy(made_cipher);
    (void)printf("%.0f %zu\n", (double)count / took_s, bytes);
    return 0;
}
