/* Frames against vectors that were made with independent means (two CRC routines, the openssl command line), against
 * what the standard says of pad, time and token, and against themselves. The referee for AES is OpenSSL. */
#include "signals/frame.h"

#include "signals/contact_id.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>
#include <openssl/evp.h>

/* clang-format off */
static const struct { const char *name; const char *line; } clear[] = {
        {"P1", "28330015\"NULL\"0000R0L0#1234[]"},
        {"P2", "1E340029\"NULL\"0000R0L0#1234[]_10:15:30,03-07-2024"},
        {"P3", "F030003D\"ADM-CID\"0001R1L0#1234[#1234|1130 01 015]_10:15:30,03-07-2024"},
        {"P4", "BE410027\"ADM-CID\"0002L0#1234[#1234|3130 01 015]"},
        {"P5", "EE820041\"SIA-DCS\"0003R1LA5#1234AB[#1234AB|Nri1/BA015]_10:15:30,03-07-2024"},
        {"P6", "D1320057\"SIA-DCS\"0004R1L0#1234[#1234|Nri1/BA015][IHALL DOOR][M0123456789AB]_10:15:30,03-07-2024"},
        {"P7", "31DD003D\"ADM-CID\"9999R1L0#1234[#1234|1602 00 000]_10:15:30,03-07-2024"},
        {"P8", "ED02003D\"ADM-CID\"0001R1L0#1234[#1234|3401 02 003]_10:15:30,03-07-2024"},
        {"A1", "1EB60014\"ACK\"0001R1L0#1234[]"},
        {"A2", "14310012\"ACK\"0002L0#1234[]"},
        {"A3", "0C400025\"NAK\"0000R0L0A0[]_10:15:30,03-07-2024"},
        {"A4", "8D8C0017\"DUH\"0003R1LA5#1234AB[]"},
};

/* key: bytes of 00 01 02 ... taken; the vector is zero */
static const struct { const char *name; int key; const char *pad; const char *text; const char *line; } encrypted[] = {
        {"E1", 16, "1158BBAA55AC5FDE59",
                "|#1234|1130 01 015]_10:15:30,03-07-2024",
                "209B0078\"*ADM-CID\"0006R1L0#1234[27D9C5D5914440FA82DD0970C4CE896AC75E3460636898803E7C79EBB7ABA07FEDCDADA6E0A354EAF0816EBF6D1D81F3"},
        {"E2", 24, "22AD64F7D631F8DB4A",
                "|#1234|3130 01 015]_10:15:30,03-07-2024",
                "F4420078\"*ADM-CID\"0007R1L0#1234[4AD8F4F62926C55BF1FF4440012490D65B84B910A71C794A1AEBF69191A60DDB0F5460DE7F5BC6B1EADB295FCC8BB920"},
        {"E3", 32, "33020D4457B691D83B2A",
                "|#1234|Nri1/BA015]_10:15:30,03-07-2024",
                "F8000078\"*SIA-DCS\"0008R1L0#1234[E1D68A0B8427AA9D3891E203936992A2B4A5CBA848BB6E1F6D46A6F4EB7B5695ED44DA5A28448586BE1D394BEF662C67"},
        {"E4", 16, "4457B691D83B2AD52CDF5ED94043529D",
                "|#1234567890123|1401 02 003]_10:15:30,03-07-2024",
                "48F100A1\"*ADM-CID\"0009R1L0#1234567890123[680462F21BEBC74081C8386CEE1757975443C2C06CDF0424979409E90D8EA181AC8994C210A980DD6EB0A3B033189668BD99EAB69B1347AA36E242D1207B3715"},
        {"E5", 16, "55",
                "|#123456789012|1401 02 003]_10:15:30,03-07-2024",
                "4AA30080\"*ADM-CID\"0010R1L0#123456789012[64C7AB97523117B5D523A2BD91064B837BB63860569F6723B3291C7ABCAF64F151DE90008B5A62C9083CB5343E8103CB"},
        {"E6", 16, "6601082BDA455CCF0E49",
                "|]_10:15:30,03-07-2024",
                "E1D80055\"*NULL\"0000R0L0#1234[DFE5AC90FE72B445CCD6470B2B52DE611B6AEEFAC34A1D5B5E50F1DFDCAADB3C"},
        {"E7", 16, "7756B178CAF5CCFFFEF9",
                "|]_10:15:30,03-07-2024",
                "5FB80054\"*ACK\"0006R1L0#1234[4C1FA1CFD4D8A0E3C0D3A51BB2304F252C51D1BA822563F5BA7AE25641B90A7B"},
        {"E8", 32, "88AB5AC5DC4F8EC9F0B3828DC4D7",
                "|#1234|Nri1/BA015][IHALL DOOR]_10:15:30,03-07-2024",
                "62C80098\"*SIA-DCS\"0011R1L0#1234[606052178013746DD6D2EE0EEE79D6B592B846D6CE9D07182F249D2E531CC9DEF55215BE64CAD92A0D290DD277ED73C1F58590222220B4F341C6F059CD83EA42"},
};
/* clang-format on */

enum {
    CLEAR_COUNT = sizeof clear / sizeof clear[0],
    ENCRYPTED_COUNT = sizeof encrypted / sizeof encrypted[0],
};

struct key {
    int length;
    uint8_t first; /* of 00 01 02 ...: another first byte is another key */
};

static bool crypt(void *context, uint8_t *bytes, size_t length, int encrypting) {
    const struct key *key = context;
    uint8_t secret[32];
    uint8_t vector[16] = {0};
    int done = 0;
    int rest = 0;
    const EVP_CIPHER *cipher = key->length == 16 ? EVP_aes_128_cbc()
            : key->length == 24                  ? EVP_aes_192_cbc()
                                                 : EVP_aes_256_cbc();
    for (int i = 0; i < key->length; i++) {
        secret[i] = (uint8_t)(key->first + i);
    }
    EVP_CIPHER_CTX *state = EVP_CIPHER_CTX_new();
    bool good = state != NULL &&
            EVP_CipherInit_ex(state, cipher, NULL, secret, vector, encrypting) == 1 &&
            EVP_CIPHER_CTX_set_padding(state, 0) == 1 &&
            EVP_CipherUpdate(state, bytes, &done, bytes, (int)length) == 1 &&
            EVP_CipherFinal_ex(state, bytes + done, &rest) == 1;
    EVP_CIPHER_CTX_free(state);
    return good && (size_t)(done + rest) == length;
}

static bool encrypt(void *context, uint8_t *bytes, size_t length) {
    return crypt(context, bytes, length, 1);
}

static bool decrypt(void *context, uint8_t *bytes, size_t length) {
    return crypt(context, bytes, length, 0);
}

static struct frame_cipher cipher_of(struct key *key) {
    return (struct frame_cipher){.encrypt = encrypt, .decrypt = decrypt, .context = key};
}

/** Line feed, line, carriage return. */
static struct text whole(const char *line, char room[FRAME_MAX]) {
    int length = snprintf(room, FRAME_MAX, "\n%s\r", line);
    assert_true(length > 0 && length < FRAME_MAX);
    return (struct text){room, (size_t)length};
}

static struct frame read_line(const char *line, char room[FRAME_MAX]) {
    struct frame frame;
    struct signal_fault fault = {0};
    bool good = frame_read(whole(line, room), &frame, &fault);
    if (!good) {
        print_error("%s: %s at %zu\n", line, signal_fault_words(fault.kind), fault.at);
    }
    assert_true(good);
    return frame;
}

static void refused(const char *line, enum signal_fault_kind kind, size_t at) {
    char room[FRAME_MAX];
    struct frame frame;
    struct signal_fault fault = {0};
    assert_false(frame_read(whole(line, room), &frame, &fault));
    assert_string_equal(signal_fault_words(fault.kind), signal_fault_words(kind));
    assert_int_equal(fault.at, at);
}

static void clear_vectors_there_and_back(void **state) {
    (void)state;
    for (size_t i = 0; i < CLEAR_COUNT; i++) {
        char room[FRAME_MAX];
        char written[FRAME_MAX];
        size_t length = 0;
        struct frame frame = read_line(clear[i].line, room);
        assert_true(frame_write(&frame, NULL, written, &length, NULL));
        assert_int_equal(length, strlen(clear[i].line) + 2);
        assert_memory_equal(written, room, length);
    }
}

/* The P9 of the dossier: a length of more than a byte. */
static void a_frame_of_283_characters(void **state) {
    (void)state;
    char line[FRAME_MAX];
    char room[FRAME_MAX];
    char text[221];
    memset(text, 'X', 220);
    text[220] = '\0';
    (void)snprintf(line, sizeof line,
            "C290011B\"SIA-DCS\"0005R1L0#1234[#1234|Nri1/BA015][I%s]_10:15:30,03-07-2024", text);
    struct frame frame = read_line(line, room);
    assert_int_equal(frame.content.extra_count, 1);
    assert_int_equal(frame.content.extras[0].value.length, 220);
}

static void the_fields_of_a_frame(void **state) {
    (void)state;
    char room[FRAME_MAX];
    struct text account = {0};
    struct contact_id event;
    struct frame frame = read_line(clear[2].line, room);
    assert_int_equal(frame.token, FRAME_TOKEN_CONTACT_ID);
    assert_int_equal(frame.sequence, 1);
    assert_true(text_is(frame.receiver, "1") && text_is(frame.prefix, "0"));
    assert_true(text_is(frame.account, "1234"));
    assert_true(frame.content.stamped);
    assert_true(
            contact_id_read_event(frame_event_text(frame.content.data, &account), 0, &event, NULL));
    assert_true(text_is(account, "1234"));
    assert_int_equal(event.code, 130);
    assert_int_equal(event.number, 15);
    assert_true(text_is(frame_event_text(text_of("|1130 01 015"), &account), "1130 01 015"));
    assert_int_equal(account.length, 0);
    frame = read_line("D1320057\"SIA-DCS\"0004R1L0#1234[#1234|Nri1/BA015][IHALL "
                      "DOOR][M0123456789AB]_10:15:30,03-07-2024",
            room);
    assert_int_equal(frame.content.extra_count, 2);
    assert_int_equal(frame.content.extras[1].letter, 'M');
    assert_true(text_is(frame.content.extras[0].value, "HALL DOOR"));
}

static size_t bytes_of(const char *hex, uint8_t *out) {
    size_t count = strlen(hex) / 2;
    for (size_t i = 0; i < count; i++) {
        unsigned byte = 0;
        assert_int_equal(sscanf(hex + 2 * i, "%2x", &byte), 1);
        out[i] = (uint8_t)byte;
    }
    return count;
}

static void encrypted_vectors_there_and_back(void **state) {
    (void)state;
    for (size_t i = 0; i < ENCRYPTED_COUNT; i++) {
        char room[FRAME_MAX];
        char written[FRAME_MAX];
        uint8_t opened[FRAME_CLEAR_MAX];
        uint8_t pad[FRAME_BLOCK];
        size_t length = 0;
        struct key key = {.length = encrypted[i].key};
        struct frame_cipher cipher = cipher_of(&key);
        struct frame frame = read_line(encrypted[i].line, room);
        assert_true(frame.encrypted && frame.content.data.length == 0);
        assert_true(frame_open(&frame, cipher, opened, sizeof opened, NULL));
        size_t pad_length = bytes_of(encrypted[i].pad, pad);
        assert_int_equal(frame.content.pad.length, pad_length);
        assert_memory_equal(frame.content.pad.start, pad, pad_length);
        assert_memory_equal(opened + pad_length, encrypted[i].text, strlen(encrypted[i].text));
        assert_true(frame_write(&frame, &cipher, written, &length, NULL));
        assert_int_equal(length, strlen(encrypted[i].line) + 2);
        assert_memory_equal(written, room, length);
    }
}

static void another_key_opens_nothing(void **state) {
    (void)state;
    for (size_t i = 0; i < ENCRYPTED_COUNT; i++) {
        char room[FRAME_MAX];
        uint8_t opened[FRAME_CLEAR_MAX];
        struct signal_fault fault = {0};
        struct key key = {.length = encrypted[i].key, .first = 7};
        struct frame frame = read_line(encrypted[i].line, room);
        assert_false(frame_open(&frame, cipher_of(&key), opened, sizeof opened, &fault));
        assert_int_equal(fault.kind, SIGNAL_FAULT_KEY);
        assert_int_equal(frame.content.data.length, 0);
        key.first = 0;
        assert_false(
                frame_open(&frame, cipher_of(&key), opened, frame.cipher.length / 2 - 1, &fault));
        assert_int_equal(fault.kind, SIGNAL_FAULT_ROOM);
    }
}

/* Source: ANSI/SIA DC-09-2013, clause 5.4.4.3: pad, bar and text fill whole blocks, a whole one where they would
 * anyway. */
static void every_pad_from_one_to_sixteen(void **state) {
    (void)state;
    bool seen[FRAME_BLOCK + 1] = {false};
    for (size_t digits = 3; digits <= 40; digits++) {
        char written[FRAME_MAX];
        uint8_t opened[FRAME_CLEAR_MAX];
        char data[64];
        size_t length = 0;
        struct key key = {.length = 16};
        struct frame_cipher cipher = cipher_of(&key);
        memset(data, 'x', digits);
        struct frame frame = {.token = FRAME_TOKEN_SIA,
                .encrypted = true,
                .sequence = 17,
                .prefix = text_of("0"),
                .account = text_of("ABC"),
                .content = {.pad = text_of("0123456789abcdef"),
                        .data = {data, digits},
                        .stamped = true,
                        .stamp_s = 1709806530}};
        assert_true(frame_write(&frame, &cipher, written, &length, NULL));
        assert_true(frame_read((struct text){written, length}, &frame, NULL));
        assert_true(frame_open(&frame, cipher, opened, sizeof opened, NULL));
        assert_int_equal((frame.content.pad.length + 1 + digits + 1 + 20) % 16, 0);
        assert_in_range(frame.content.pad.length, 1, FRAME_BLOCK);
        seen[frame.content.pad.length] = true;
    }
    for (size_t i = 1; i <= FRAME_BLOCK; i++) {
        assert_true(seen[i]);
    }
}

static void what_is_wrong_is_said_with_its_byte(void **state) {
    (void)state;
    refused("F031003D\"ADM-CID\"0001R1L0#1234[#1234|1130 01 015]_10:15:30,03-07-2024",
            SIGNAL_FAULT_CRC, 1);
    refused("F030003E\"ADM-CID\"0001R1L0#1234[#1234|1130 01 015]_10:15:30,03-07-2024",
            SIGNAL_FAULT_LENGTH, 5);
    refused("f030003D\"ADM-CID\"0001R1L0#1234[#1234|1130 01 015]_10:15:30,03-07-2024",
            SIGNAL_FAULT_CRC_FORM, 1);
    refused("F030103D\"ADM-CID\"0001R1L0#1234[#1234|1130 01 015]_10:15:30,03-07-2024",
            SIGNAL_FAULT_LENGTH_FORM, 5);
    refused("F0", SIGNAL_FAULT_CRC_FORM, 3);
    refused("", SIGNAL_FAULT_CRC_FORM, 1);
}

/** A body with its right sum and length, so that what is inside is looked at. */
static void body_refused(const char *body, enum signal_fault_kind kind, size_t at) {
    char room[FRAME_MAX];
    char line[FRAME_MAX];
    struct frame frame;
    struct signal_fault fault = {0};
    unsigned crc = 0;
    for (size_t i = 0; body[i] != '\0';
            i++) { /* bit by bit from the other end: no code shared with crc.c */
        unsigned byte = (unsigned char)body[i];
        for (int bit = 0; bit < 8; bit++) {
            unsigned carry = (crc ^ (byte >> bit)) & 1;
            crc = (crc >> 1) ^ (carry == 1 ? 0xA001u : 0u);
        }
    }
    (void)snprintf(line, sizeof line, "%04X%04zX%s", crc, strlen(body), body);
    assert_false(frame_read(whole(line, room), &frame, &fault));
    assert_string_equal(signal_fault_words(fault.kind), signal_fault_words(kind));
    assert_int_equal(fault.at, at + 9);
}

static void what_is_wrong_within_is_said_with_its_byte(void **state) {
    (void)state;
    body_refused("ADM-CID\"0001L0#1234[]", SIGNAL_FAULT_TOKEN, 0);
    body_refused("\"\"0001L0#1234[]", SIGNAL_FAULT_TOKEN, 1);
    body_refused("\"*NAK\"0000R0L0A0[]", SIGNAL_FAULT_NAK_CLEAR, 1);
    body_refused("\"NULL\"000xL0#1234[]", SIGNAL_FAULT_SEQUENCE, 9);
    body_refused("\"NULL\"0000RL0#1234[]", SIGNAL_FAULT_RECEIVER, 11);
    body_refused("\"NULL\"0000R1234567L0#1234[]", SIGNAL_FAULT_PREFIX, 17);
    body_refused("\"NULL\"0000#1234[]", SIGNAL_FAULT_PREFIX, 10);
    body_refused("\"NULL\"0000L0#12[]", SIGNAL_FAULT_ACCOUNT, 15);
    body_refused("\"NULL\"0000L0A0[]", SIGNAL_FAULT_ACCOUNT, 14);
    body_refused("\"NULL\"0000L0#12345678901234567[]", SIGNAL_FAULT_OPEN, 29);
    body_refused("\"NULL\"0000L0#1234", SIGNAL_FAULT_OPEN, 17);
    body_refused("\"NULL\"0000L0#1234[", SIGNAL_FAULT_CLOSE, 18);
    body_refused("\"ADM-CID\"0000L0#1234[a[b]", SIGNAL_FAULT_BYTE, 22);
    body_refused("\"NULL\"0000L0#1234[][]", SIGNAL_FAULT_EXTRA, 20);
    body_refused("\"NULL\"0000L0#1234[][ab]", SIGNAL_FAULT_EXTRA, 20);
    body_refused("\"NULL\"0000L0#1234[]x", SIGNAL_FAULT_STAMP, 19);
    body_refused("\"*NULL\"0000L0#1234[0123]", SIGNAL_FAULT_CIPHER, 23);
    body_refused("\"*NULL\"0000L0#1234[00112233445566778899AABBCCDDEEFF0", SIGNAL_FAULT_CIPHER, 52);
    body_refused("\"NULL\"0000L0#1234[][A][A][A][A][A][A][A][A][A][A][A][A][A][A][A][A][A]",
            SIGNAL_FAULT_EXTRAS, 67);
}

static void what_would_forge_a_field_is_not_written(void **state) {
    (void)state;
    static const char *const hostile[] = {"a]b", "a[b", "a\rb", "a\nb"};
    for (size_t i = 0; i < sizeof hostile / sizeof hostile[0]; i++) {
        char written[FRAME_MAX];
        size_t length = 0;
        struct frame frame = {.token = FRAME_TOKEN_SIA,
                .prefix = text_of("0"),
                .account = text_of("1234"),
                .content = {.data = text_of(hostile[i])}};
        assert_false(frame_write(&frame, NULL, written, &length, NULL));
        frame.content.data = text_of("x");
        assert_true(frame_write(&frame, NULL, written, &length, NULL));
        frame.content.extras[0] = (struct frame_extra){'I', text_of(hostile[i])};
        frame.content.extra_count = 1;
        assert_false(frame_write(&frame, NULL, written, &length, NULL));
        frame.content.extra_count = 0;
        frame.account = text_of("12\"");
        assert_false(frame_write(&frame, NULL, written, &length, NULL));
    }
}

static void what_does_not_fit_is_not_written(void **state) {
    (void)state;
    static char data[FRAME_MAX];
    char written[FRAME_MAX];
    size_t length = 0;
    memset(data, 'x', sizeof data);
    struct frame frame = {
            .token = FRAME_TOKEN_SIA, .prefix = text_of("0"), .account = text_of("1234")};
    size_t around = strlen("\"SIA-DCS\"0000L0#1234[]");
    frame.content.data = (struct text){data, FRAME_BODY_MAX - around};
    assert_true(frame_write(&frame, NULL, written, &length, NULL));
    assert_int_equal(length, FRAME_MAX);
    frame.content.data.length++;
    assert_false(frame_write(&frame, NULL, written, &length, NULL));
}

static void every_frame_cut_short_is_refused(void **state) {
    (void)state;
    for (size_t i = 0; i < CLEAR_COUNT; i++) {
        char room[FRAME_MAX];
        struct text source = whole(clear[i].line, room);
        for (size_t length = 0; length < source.length; length++) {
            /* on the heap and exactly so long: the sanitizer sees a read past it */
            char *cut = malloc(length + 1);
            struct frame frame;
            assert_non_null(cut);
            memcpy(cut, room, length);
            char *exact = realloc(cut, length == 0 ? 1 : length);
            assert_non_null(exact);
            assert_false(frame_read((struct text){exact, length}, &frame, NULL));
            free(exact);
        }
    }
}

static void a_stream_split_at_every_byte(void **state) {
    (void)state;
    char stream[8 * FRAME_MAX] = "noise\r";
    size_t length = strlen(stream);
    for (size_t i = 0; i < CLEAR_COUNT; i++) {
        length += (size_t)sprintf(stream + length, "\n%s\r", clear[i].line);
    }
    for (size_t split = 0; split <= length; split++) {
        size_t from = 0;
        size_t found = 0;
        for (int half = 0; half < 2; half++) {
            size_t upto = half == 0 ? split : length;
            for (;;) {
                size_t begins = 0;
                size_t size = 0;
                enum frame_scan scan =
                        frame_scan((struct text){stream + from, upto - from}, &begins, &size);
                struct frame frame;
                if (scan == FRAME_SCAN_MORE) {
                    break;
                }
                if (scan == FRAME_SCAN_WHOLE) {
                    assert_true(frame_read((struct text){stream + from, size}, &frame, NULL));
                    found++;
                }
                from += scan == FRAME_SCAN_WHOLE ? size : begins;
            }
        }
        assert_int_equal(found, CLEAR_COUNT);
        assert_int_equal(from, length);
    }
}

static void a_frame_that_never_ends_is_dropped(void **state) {
    (void)state;
    static char bytes[FRAME_MAX + 1];
    size_t begins = 7;
    size_t length = 7;
    memset(bytes, 'x', sizeof bytes);
    bytes[0] = '\n';
    assert_int_equal(
            frame_scan((struct text){bytes, FRAME_MAX - 1}, &begins, &length), FRAME_SCAN_MORE);
    assert_int_equal(begins, 0);
    assert_int_equal(
            frame_scan((struct text){bytes, FRAME_MAX}, &begins, &length), FRAME_SCAN_SKIP);
    assert_int_equal(begins, FRAME_MAX);
    bytes[40] = '\n';
    assert_int_equal(
            frame_scan((struct text){bytes, FRAME_MAX}, &begins, &length), FRAME_SCAN_SKIP);
    assert_int_equal(begins, 40);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(clear_vectors_there_and_back),
            cmocka_unit_test(a_frame_of_283_characters),
            cmocka_unit_test(the_fields_of_a_frame),
            cmocka_unit_test(encrypted_vectors_there_and_back),
            cmocka_unit_test(another_key_opens_nothing),
            cmocka_unit_test(every_pad_from_one_to_sixteen),
            cmocka_unit_test(what_is_wrong_is_said_with_its_byte),
            cmocka_unit_test(what_is_wrong_within_is_said_with_its_byte),
            cmocka_unit_test(what_would_forge_a_field_is_not_written),
            cmocka_unit_test(what_does_not_fit_is_not_written),
            cmocka_unit_test(every_frame_cut_short_is_refused),
            cmocka_unit_test(a_stream_split_at_every_byte),
            cmocka_unit_test(a_frame_that_never_ends_is_dropped),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
