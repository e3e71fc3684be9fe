/* Every frame gets the answer that the standard says. The expected answers were made with independent means (frames as
 * in frame_test.c: two CRC routines, the openssl command line), none by this code. AES is OpenSSL's. */
#include "signals/receiver.h"

#include "signals/crc.h"

#include <ctype.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>
#include <openssl/evp.h>

#define K128 "000102030405060708090A0B0C0D0E0F"
#define AT INT64_C(1709806530) /* 10:15:30 on 2024-03-07, UTC */

static void *get(void *context, size_t size) {
    (void)context;
    return malloc(size);
}

static void give(void *context, void *block, size_t size) {
    (void)context;
    (void)size;
    free(block);
}

static bool crypt(const struct account *account, uint8_t *bytes, size_t length, int encrypting) {
    static const uint8_t zero[16] = {0};
    int done = 0;
    EVP_CIPHER_CTX *state = EVP_CIPHER_CTX_new();
    const EVP_CIPHER *cipher = account->key_length == 16 ? EVP_aes_128_cbc() : EVP_aes_256_cbc();
    bool good = EVP_CipherInit_ex(state, cipher, NULL, account->key, zero, encrypting) == 1 &&
            EVP_CIPHER_CTX_set_padding(state, 0) == 1 &&
            EVP_CipherUpdate(state, bytes, &done, bytes, (int)length) == 1;
    EVP_CIPHER_CTX_free(state);
    return good && (size_t)done == length;
}

static bool encrypt(void *context, uint8_t *bytes, size_t length) {
    return crypt(context, bytes, length, 1);
}

static bool decrypt(void *context, uint8_t *bytes, size_t length) {
    return crypt(context, bytes, length, 0);
}

static struct frame_cipher cipher_for(void *context, const struct account *account) {
    (void)context;
    return (struct frame_cipher){encrypt, decrypt, (void *)(uintptr_t)account};
}

static struct arena arena;
static struct accounts accounts;
static struct recent recent;
static struct recent spent;
static struct receiver receiver;
static uint8_t room[FRAME_CLEAR_MAX];
static struct receiver_answer answer;

/** A receiver that has heard nothing, with the accounts of this key file. */
static void begin(const char *keys) {
    arena_finish(&arena);
    arena_init(&arena, (struct pages){.get = get, .give = give}, 0);
    assert_true(accounts_read(text_of(keys), &arena, &accounts, NULL).good);
    assert_true(recent_make(&arena, 64, &recent, NULL).good);
    assert_true(recent_make(&arena, 64, &spent, NULL).good);
    receiver = (struct receiver){&accounts, &recent, &spent, cipher_for, NULL, {{1, 2}}};
}

static int end(void **state) {
    (void)state;
    arena_finish(&arena);
    return 0;
}

/** What comes of a line (line feed and return implied), as the clock says utc_s. */
static enum receiver_verdict judge_at(const char *line, int64_t utc_s, int64_t steady_ms) {
    static const char pad[FRAME_BLOCK + 1] = "\x77\x56\xB1\x78\xCA\xF5\xCC\xFF\xFE\xF9"
                                             "abcdef";
    static char bytes[FRAME_MAX];
    int length = snprintf(bytes, sizeof bytes, "\n%s\r", line);
    receiver_judge(&receiver, (struct text){bytes, (size_t)length},
            (struct receiver_now){utc_s, steady_ms}, pad, room, &answer);
    return answer.verdict;
}

static enum receiver_verdict judge(const char *line) {
    return judge_at(line, AT, 1000);
}

static void answered(const char *line) {
    char bytes[RECEIVER_ANSWER_MAX + 2];
    int length = snprintf(bytes, sizeof bytes, "\n%s\r", line);
    assert_int_equal(answer.answer_length, length);
    assert_memory_equal(answer.answer, bytes, (size_t)length);
}

/** Sum and length before a body. */
static const char *framed(const char *body) {
    static char line[FRAME_MAX];
    (void)snprintf(
            line, sizeof line, "%04X%04zX%s", signals_crc(text_of(body)), strlen(body), body);
    return line;
}

#define P3 "F030003D\"ADM-CID\"0001R1L0#1234[#1234|1130 01 015]_10:15:30,03-07-2024"
#define P4 "BE410027\"ADM-CID\"0002L0#1234[#1234|3130 01 015]"
#define P5 "EE820041\"SIA-DCS\"0003R1LA5#1234AB[#1234AB|Nri1/BA015]_10:15:30,03-07-2024"
#define P8 "ED02003D\"ADM-CID\"0001R1L0#1234[#1234|3401 02 003]_10:15:30,03-07-2024"
#define E1                                                                                         \
    "209B0078\"*ADM-CID\"0006R1L0#1234[27D9C5D5914440FA82DD0970C4CE896AC75E3460636898803E7C79EBB7" \
    "ABA07FEDCDADA6E0A354EAF0816EBF6D1D81F3"
#define E6                                                                                         \
    "E1D80055\"*NULL\"0000R0L0#1234["                                                              \
    "DFE5AC90FE72B445CCD6470B2B52DE611B6AEEFAC34A1D5B5E50F1DFDCAADB3C"
/* The answer to E1, its pad 7756B178CA and, of what "openssl mac SIPHASH" makes of that with a key of zeros, the first
 * five bytes with their highest bit set; encrypted by "openssl enc". */
#define MARKED                                                                                     \
    "BE160054\"*ACK\"0006R1L0#1234["                                                               \
    "6CC9DA57D9484D1491004DFAEC936213F454B039B7E0C3C6A268C1C7E94F085C"

static void in_clear_the_header_comes_back(void **state) {
    (void)state;
    begin("account 1234 clear\naccount 1234AB prefix A5 clear");
    assert_int_equal(judge(P3), RECEIVER_STORE);
    answered("1EB60014\"ACK\"0001R1L0#1234[]"); /* A1 */
    assert_true(text_is(answer.frame.content.data, "#1234|1130 01 015"));
    assert_int_equal(judge(P4), RECEIVER_STORE);
    answered("14310012\"ACK\"0002L0#1234[]"); /* A2 */
    assert_int_equal(judge(P8), RECEIVER_STORE);
    answered("1EB60014\"ACK\"0001R1L0#1234[]"); /* the same number, another event */
    assert_int_equal(judge(P5), RECEIVER_STORE);
    assert_int_equal(judge("28330015\"NULL\"0000R0L0#1234[]"), RECEIVER_LINK);
    assert_int_equal(answer.answer_length, strlen(framed("\"ACK\"0000R0L0#1234[]")) + 2);
}

/* A frame in clear is not held against any clock; a panel that was never told the time may count from 1970, or not. */
static void in_clear_no_time_matters(void **state) {
    (void)state;
    begin("account 1234 clear");
    assert_int_equal(judge_at(P3, AT + 86400, 1), RECEIVER_STORE);
    assert_int_equal(
            judge(framed("\"ADM-CID\"0002R1L0#1234[#1234|1130 01 015]_00:00:42,01-01-1970")),
            RECEIVER_STORE);
    assert_int_equal(answer.frame.content.stamp_s, 42);
    assert_int_equal(
            judge(framed("\"ADM-CID\"0003R1L0#1234[#1234|1130 01 015]_00:00:00,00-00-0000")),
            RECEIVER_STORE);
    assert_false(answer.frame.content.stamped);
    assert_int_equal(
            judge(framed("\"ADM-CID\"0004R1L0#1234[#1234|1130 01 015]_23:59:60,12-31-2016")),
            RECEIVER_STORE);
    assert_int_equal(
            judge(framed("\"ADM-CID\"0005R1L0#1234[#1234|1130 01 015]00:00:00,00-00-0000")),
            RECEIVER_SILENT);
}

static void encrypted_so_is_the_answer(void **state) {
    (void)state;
    begin("account 1234 key " K128);
    assert_int_equal(judge(E1), RECEIVER_STORE);
    answered(MARKED);
    assert_true(text_is(answer.frame.content.data, "#1234|1130 01 015"));
    assert_int_equal(judge(E6), RECEIVER_LINK);
}

/* Source: the table of DC-09, 5.5.1.8, in docs/signals.md; both ends taken as included. */
static void the_time_window_and_its_refusal(void **state) {
    (void)state;
    static const struct {
        int64_t off_s;
        enum receiver_verdict verdict;
    } cases[] = {{-20, RECEIVER_STORE}, {-21, RECEIVER_REFUSE}, {40, RECEIVER_STORE},
            {41, RECEIVER_REFUSE}, {86400, RECEIVER_REFUSE}, {-86400, RECEIVER_REFUSE}};
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        begin("account 1234 key " K128);
        assert_int_equal(judge_at(E1, AT + cases[i].off_s, 1), cases[i].verdict);
        assert_int_equal(
                answer.reason, cases[i].verdict == RECEIVER_STORE ? RECEIVER_FINE : RECEIVER_CLOCK);
    }
    /* the refusal carries the receiver's own time: A3, one day on */
    assert_int_equal(judge_at(E1, AT + 86400, 1), RECEIVER_REFUSE);
    assert_memory_equal(answer.answer + 9, "\"NAK\"0000R0L0A0[]_10:15:30,03-08-2024\r", 38);
    assert_int_equal(judge_at(E1, AT + 3600, 1), RECEIVER_REFUSE);
    assert_memory_equal(answer.answer + 9, "\"NAK\"0000R0L0A0[]_11:15:30,03-07-2024\r", 38);
}

static void a_repeat_is_known_for_five_minutes(void **state) {
    (void)state;
    begin("account 1234 clear");
    assert_int_equal(judge_at(P3, AT, 0), RECEIVER_STORE);
    assert_int_equal(judge_at(P3, AT, 0), RECEIVER_REPEAT);
    answered("1EB60014\"ACK\"0001R1L0#1234[]");
    /* the same words with the time of sending them again */
    assert_int_equal(
            judge_at(framed("\"ADM-CID\"0001R1L0#1234[#1234|1130 01 015]_10:15:50,03-07-2024"), AT,
                    20000),
            RECEIVER_REPEAT);
    assert_int_equal(judge_at(P3, AT, RECENT_S * 1000), RECEIVER_REPEAT);
    assert_int_equal(judge_at(P3, AT, RECENT_S * 1000 + 1), RECEIVER_STORE);
    /* one that could not be stored is news again */
    receiver_forget(&receiver, answer.owner, answer.mark, answer.cipher);
    assert_int_equal(judge_at(P3, AT, RECENT_S * 1000 + 1), RECEIVER_STORE);
}

/* A recorded frame that somebody plays back is either a repeat or out of the window: never news. */
static void played_back_it_is_never_news(void **state) {
    (void)state;
    begin("account 1234 key " K128);
    assert_int_equal(judge_at(E1, AT - 20, 0), RECEIVER_STORE);
    for (int64_t later_s = 0; later_s < 4000; later_s++) {
        assert_int_not_equal(judge_at(E1, AT - 20 + later_s, later_s * 1000), RECEIVER_STORE);
    }
}

/* The system's clock may jump; what came before is known all the same. */
static void a_clock_that_jumps_makes_no_news(void **state) {
    (void)state;
    begin("account 1234 clear");
    assert_int_equal(judge_at(P3, AT, 5000), RECEIVER_STORE);
    assert_int_equal(judge_at(P3, AT + 1000000, 6000), RECEIVER_REPEAT);
    assert_int_equal(judge_at(P3, AT - 1000000, 7000), RECEIVER_REPEAT);
}

static void what_is_refused_and_how(void **state) {
    (void)state;
    static const char ack[] = "\"ACK\"0001R1L0#1234[]";
    static const char nak[] = "\"NAK\"0000R0L0A0[]_10:15:30,03-07-2024";
    static const struct {
        const char *keys;
        const char *line;
        const char *body; /* instead of a line */
        enum receiver_reason reason;
        bool silent;
    } cases[] = {
            {"account 1234 clear", P5, NULL, RECEIVER_STRANGER, false},
            {"account 1234AB clear", P5, NULL, RECEIVER_STRANGER, false},
            {"account 1234 clear", E1, NULL, RECEIVER_HAS_NO_KEY, false},
            {"account 1234 key " K128, P3, NULL, RECEIVER_MUST_ENCRYPT, false},
            {"account 1234 key 00000000000000000000000000000000", E1, NULL, RECEIVER_OTHER_KEY,
                    false},
            {"account 1234 key " K128 K128, E1, NULL, RECEIVER_OTHER_KEY, false},
            {"account 1234 clear", NULL, "\"ADM-CID\"0001L0#1234[#1234|2130 01 015]",
                    RECEIVER_BAD_EVENT, false},
            {"account 1234 clear", NULL, "\"ADM-CID\"0001L0#1234[#777|1130 01 015]",
                    RECEIVER_OTHER_ACCOUNT, false},
            {"account 1234 clear", NULL, "\"SIA-DCS\"0001L0#1234[#1234|nothing]",
                    RECEIVER_BAD_EVENT, false},
            {"account 1234 clear", NULL, "\"SIA-PUL\"0001L0#1234[#1234|12]", RECEIVER_OTHER_KIND,
                    false},
            {"account 1234 clear", NULL, ack, RECEIVER_IS_ANSWER, true},
            {"account 1234 clear", NULL, nak, RECEIVER_IS_ANSWER, true},
            {"account 1234 clear", NULL, "\"DUH\"0001R1L0#1234[]", RECEIVER_IS_ANSWER, true},
            {"account 1234 clear", NULL, "\"ADM-CID\"0001L0#1234[#1234|1130 01 015",
                    RECEIVER_NO_FRAME, true},
            {"account 1234 clear",
                    "F031003D\"ADM-CID\"0001R1L0#1234[#1234|1130 01 015]_10:15:30,03-07-2024", NULL,
                    RECEIVER_NO_FRAME, true},
            {"account 1234 clear",
                    "F030003E\"ADM-CID\"0001R1L0#1234[#1234|1130 01 015]_10:15:30,03-07-2024", NULL,
                    RECEIVER_NO_FRAME, true},
            {"account 1234 clear", "", NULL, RECEIVER_NO_FRAME, true},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        begin(cases[i].keys);
        enum receiver_verdict verdict =
                judge(cases[i].line != NULL ? cases[i].line : framed(cases[i].body));
        assert_int_equal(answer.reason, cases[i].reason);
        assert_int_equal(verdict, cases[i].silent ? RECEIVER_SILENT : RECEIVER_REFUSE);
        assert_true((answer.answer_length == 0) == cases[i].silent);
        const bool time = answer.reason == RECEIVER_OTHER_KEY;
        assert_true(
                cases[i].silent || memcmp(answer.answer + 9, time ? "\"NAK\"" : "\"DUH\"", 5) == 0);
        assert_true(strlen(receiver_reason_words(answer.reason)) > 0);
    }
    begin("account 1234 clear");
    assert_int_equal(judge(P5), RECEIVER_REFUSE);
    answered("8D8C0017\"DUH\"0003R1LA5#1234AB[]"); /* A4 */
}

/* The header is not encrypted and its sum is no seal: whoever recorded a frame can put another number or another
 * account before it. */
static void a_recorded_frame_with_another_header_is_not_news(void **state) {
    (void)state;
    static const char cipher[] = "27D9C5D5914440FA82DD0970C4CE896AC75E3460636898803E7C79EBB7"
                                 "ABA07FEDCDADA6E0A354EAF0816EBF6D1D81F3"; /* of E1 */
    char body[FRAME_MAX];
    begin("account 1234 key " K128 "\naccount 777 key " K128);
    assert_int_equal(judge(E1), RECEIVER_STORE);
    (void)snprintf(body, sizeof body, "\"*ADM-CID\"0007R1L0#1234[%s", cipher);
    assert_int_equal(judge(framed(body)), RECEIVER_REFUSE);
    assert_int_equal(answer.reason, RECEIVER_REPLAY);
    assert_int_equal(judge(E1), RECEIVER_REPEAT); /* the panel's own repeat is one all the same */
    (void)snprintf(body, sizeof body, "\"*ADM-CID\"0006R1L0#777[%s", cipher);
    assert_int_equal(judge(framed(body)), RECEIVER_REFUSE);
    assert_int_equal(answer.reason, RECEIVER_OTHER_ACCOUNT);
    /* what could not be stored comes again and is news */
    begin("account 1234 key " K128);
    assert_int_equal(judge(E1), RECEIVER_STORE);
    receiver_forget(&receiver, answer.owner, answer.mark, answer.cipher);
    assert_int_equal(judge(E1), RECEIVER_STORE);
    /* after a start, of what an archive has */
    begin("account 1234 key " K128);
    receiver_remember(&receiver, text_of("\n" E1 "\r"), 0);
    assert_int_equal(judge(E1), RECEIVER_REPEAT);
    (void)snprintf(body, sizeof body, "\"*ADM-CID\"0007R1L0#1234[%s", cipher);
    assert_int_equal(judge(framed(body)), RECEIVER_REFUSE);
}

/* Whoever changes bytes of an old frame must not learn from the answer whether they still make sense (they would give
 * away, byte after byte, what was encrypted). Source: Vaudenay 2002, the attack on padding, in another dress. */
static void what_cannot_be_opened_is_answered_like_what_is_old(void **state) {
    (void)state;
    char old[RECEIVER_ANSWER_MAX];
    char body[FRAME_MAX];
    begin("account 1234 key " K128);
    assert_int_equal(judge_at(E1, AT + 86400, 1), RECEIVER_REFUSE);
    assert_int_equal(answer.reason, RECEIVER_CLOCK);
    const size_t length = answer.answer_length;
    memcpy(old, answer.answer, length);
    (void)snprintf(body, sizeof body,
            "\"*ADM-CID\"0006R1L0#1234["
            "27D9C5D5914440FA82DD0970C4CE896AC75E3460636898803E7C79EBB7"
            "ABA07FEDCDADA6E0A354EAF0816EBF6D1D81F2");
    assert_int_equal(judge_at(framed(body), AT + 86400, 1), RECEIVER_REFUSE);
    assert_int_equal(answer.reason, RECEIVER_OTHER_KEY);
    assert_int_equal(answer.answer_length, length);
    assert_memory_equal(answer.answer, old, length);
}

/* Digests are no secret: two messages can be made to meet in one. One account's never hides another's. */
static void no_account_hides_another_s_message(void **state) {
    (void)state;
    begin("account 1234 clear\naccount 777 clear");
    assert_int_equal(judge(P3), RECEIVER_STORE);
    assert_true(recent_has(&recent, answer.owner, answer.mark, 1));
    assert_false(recent_has(&recent, answer.owner + 1, answer.mark, 1));
    recent_note(&recent, answer.owner + 1, answer.mark, 1);
    recent_forget(&recent, answer.owner + 1, answer.mark);
    assert_true(recent_has(&recent, answer.owner, answer.mark, 1));
}

/* A body with any bytes: with sum and length before it, judged. */
static enum receiver_verdict judge_body(const char *start, size_t length) {
    static const char pad[FRAME_BLOCK + 1] = "abcdefghijklmnop";
    static char bytes[FRAME_MAX];
    const int head = snprintf(bytes, sizeof bytes, "\n%04X%04zX",
            (unsigned)signals_crc((struct text){start, length}), length);
    memcpy(bytes + head, start, length);
    bytes[(size_t)head + length] = '\r';
    receiver_judge(&receiver, (struct text){bytes, (size_t)head + length + 1},
            (struct receiver_now){AT, 1000}, pad, room, &answer);
    return answer.verdict;
}

/* A test signal whose further bytes were reckoned (by lattice reduction) so that its digest is that of an alarm to
 * come: it must not make that alarm look like a repeat. */
static void a_forged_digest_hides_no_alarm(void **state) {
    (void)state;
    static const char test_signal[] = "\"ADM-CID\"0007L0#1234[#1234|1602 00 000][Abbfkif"
                                      "\x02\x06\x05\x07\x07\x03\x0E\x06\x01\x04\x02\x03\x05\x08"
                                      "\x0F\x01\x00\x00?\x0C]";
    static const char alarm[] = "\"ADM-CID\"0042L0#1234[#1234|1130 01 015]";
    begin("account 1234 clear");
    assert_int_equal(judge_body(test_signal, sizeof test_signal - 1), RECEIVER_STORE);
    const uint64_t digest = answer.digest;
    assert_int_equal(judge_body(alarm, sizeof alarm - 1), RECEIVER_STORE);
    assert_true(answer.digest == digest); /* it is forged well */
    assert_int_equal(judge_body(alarm, sizeof alarm - 1), RECEIVER_REPEAT);
}

/* The token stands outside of what is encrypted: whoever calls an alarm a link test must not have it acknowledged and
 * forgotten. And a link test that was recorded is none under another number. */
static void an_alarm_is_no_link_test(void **state) {
    (void)state;
    char body[FRAME_MAX];
    begin("account 1234 key " K128 "\naccount 777 clear");
    (void)snprintf(body, sizeof body, "\"*NULL\"0006R1L0#1234[%s", strchr(E1, '[') + 1);
    assert_int_equal(judge(framed(body)), RECEIVER_REFUSE);
    assert_int_equal(answer.reason, RECEIVER_BAD_EVENT);
    assert_int_equal(judge(framed("\"NULL\"0000L0#777[#777|1130 01 015]")), RECEIVER_REFUSE);
    assert_int_equal(judge(framed("\"NULL\"0000L0#777[]")), RECEIVER_LINK);
    assert_int_equal(judge(E6), RECEIVER_LINK);
    assert_int_equal(judge(E6), RECEIVER_LINK);
    (void)snprintf(body, sizeof body, "\"*NULL\"0002R0L0#1234[%s", strchr(E6, '[') + 1);
    assert_int_equal(judge(framed(body)), RECEIVER_REFUSE);
    assert_int_equal(answer.reason, RECEIVER_REPLAY);
}

/* Blocks of somebody else before those of a recorded frame are no pad, however they come out; and what opens and is no
 * event gets the very answer of what does not open, so that nothing can be learned block by block. */
static void blocks_put_before_it_are_no_pad(void **state) {
    (void)state;
    char body[FRAME_MAX];
    begin("account 1234 key " K128);
    for (int i = 0; i < 64; i++) {
        static const char *const tokens[] = {"*ADM-CID", "*NULL", "*SIA-DCS"};
        (void)snprintf(body, sizeof body,
                "\"%s\"%04dR1L0#1234[%02X112233445566778899AABBCCDDEE%02X%s", tokens[i % 3],
                i % 9000 + 1, i, 255 - i, strchr(E1, '[') + 1);
        assert_int_equal(judge(framed(body)), RECEIVER_REFUSE);
        assert_non_null(strstr(answer.answer, "\"NAK\""));
    }
    begin("account 1234 key " K128);
    (void)snprintf(body, sizeof body, "\"*XYZ\"0009R1L0#1234[%s", strchr(E1, '[') + 1);
    assert_int_equal(judge(framed(body)), RECEIVER_REFUSE);
    assert_int_equal(answer.reason, RECEIVER_OTHER_KIND);
    assert_non_null(strstr(answer.answer, "\"NAK\""));
}

/** A frame's body, with what is in the brackets encrypted: whole blocks. */
static const char *sealed(const char *header, const uint8_t *clear, size_t length) {
    static char body[FRAME_MAX];
    uint8_t bytes[256];
    size_t at = (size_t)snprintf(body, sizeof body, "%s[", header);
    memcpy(bytes, clear, length);
    assert_true(crypt(accounts.rows, bytes, length, 1));
    for (size_t i = 0; i < length; i++) {
        at += (size_t)snprintf(body + at, sizeof body - at, "%02X", bytes[i]);
    }
    return body;
}

/** The bytes of what stands encrypted in a frame. */
static size_t cipher_of(const char *frame, uint8_t *ret_bytes) {
    const char *digits = strchr(frame, '[') + 1;
    size_t count = 0;
    unsigned byte = 0;
    while (isxdigit((unsigned char)digits[2 * count]) != 0 &&
            sscanf(digits + 2 * count, "%2X", &byte) == 1) {
        ret_bytes[count++] = (uint8_t)byte;
    }
    return count;
}

static enum receiver_verdict judge_cipher(const char *header, const uint8_t *bytes, size_t length) {
    char body[FRAME_MAX];
    size_t at = (size_t)snprintf(body, sizeof body, "%s[", header);
    for (size_t i = 0; i < length; i++) {
        at += (size_t)snprintf(body + at, sizeof body - at, "%02X", bytes[i]);
    }
    return judge(framed(body));
}

static void turn(uint8_t *bytes, const char *from, const char *to) {
    for (size_t i = 0; i < FRAME_BLOCK; i++) {
        bytes[i] = (uint8_t)(from[i] ^ to[i]);
    }
}

/* The vector of the cipher is zero, so a block put before a frame changes the first one at will: account 123456789012
 * has one byte of padding, which 256 tries guess. The end of a frame is spent all the same. */
static void a_recorded_frame_with_another_beginning_is_not_news(void **state) {
    (void)state;
    uint8_t bytes[64] = {0};
    begin("account 123456789012 key " K128);
    const char *frame = sealed("\"*ADM-CID\"0001L0#123456789012",
            (const uint8_t *)"p|#123456789012|1131 01 077]_10:15:30,03-07-2024", 48);
    assert_int_equal(cipher_of(frame, bytes + FRAME_BLOCK), 48);
    assert_int_equal(judge(framed(frame)), RECEIVER_STORE);
    turn(bytes, "p|#123456789012|", "|#0123456789012|");
    assert_int_equal(judge_cipher("\"*ADM-CID\"0002L0#123456789012", bytes, 64), RECEIVER_REFUSE);
    assert_int_equal(answer.reason, RECEIVER_REPLAY);
    assert_non_null(strstr(answer.answer, "\"NAK\"")); /* one DUH would tell that it opened */
    assert_int_equal(judge_cipher("\"*ADM-CID\"0001L0#123456789012", bytes + FRAME_BLOCK, 48),
            RECEIVER_REPEAT);
}

/* An acknowledgement has the form of a link test, and a fresh time for whatever is put before it. */
static void an_acknowledgement_is_no_link_test(void **state) {
    (void)state;
    uint8_t bytes[64];
    begin("account 1234 key " K128);
    assert_int_equal(judge(E6), RECEIVER_LINK);
    assert_int_equal(cipher_of(answer.answer, bytes), 32);
    assert_int_equal(judge_cipher("\"*NULL\"0002R0L0#1234", bytes, 32), RECEIVER_REFUSE);
    assert_int_equal(answer.reason, RECEIVER_REPLAY);
    /* nor one from before the start, or of another receiver with the same key */
    begin("account 1234 key " K128);
    assert_int_equal(judge_cipher("\"*NULL\"0002R0L0#1234", bytes, 32), RECEIVER_REFUSE);
    assert_int_equal(answer.reason, RECEIVER_REPLAY);
}

/* A link test that was recorded is answered as often as it is sent, each time with another end: these, and what is put
 * before them, must not push the ends of messages out of what is known (64 here). */
static void what_is_played_back_pushes_nothing_out(void **state) {
    (void)state;
    static const char link_test[] = "\n" E6 "\r";
    uint8_t bytes[64];
    char body[FRAME_MAX];
    begin("account 1234 key " K128);
    assert_int_equal(judge(E1), RECEIVER_STORE);
    for (int i = 0; i < 2000; i++) {
        char pad[32];
        (void)snprintf(pad, sizeof pad, "%05dabcdefghijk", i);
        receiver_judge(&receiver, (struct text){link_test, sizeof link_test - 1},
                (struct receiver_now){AT, 2000}, pad, room, &answer);
        assert_int_equal(answer.verdict, RECEIVER_LINK);
        memset(bytes, i, FRAME_BLOCK);
        assert_int_equal(cipher_of(answer.answer, bytes + FRAME_BLOCK), 32);
        assert_int_equal(judge_cipher("\"*ADM-CID\"0009L0#1234", bytes, 48), RECEIVER_REFUSE);
    }
    (void)snprintf(body, sizeof body, "\"*ADM-CID\"0007R1L0#1234[%s", strchr(E1, '[') + 1);
    assert_int_equal(judge(framed(body)), RECEIVER_REFUSE);
    assert_int_equal(answer.reason, RECEIVER_REPLAY);
}

/* Blocks of yesterday's frame, cut within its text, one that comes out as some text (here tried with the key), a zero
 * block and a fresh end: the whole opens. An end that was seen is spent, and one try spends it. */
static void an_old_frame_before_a_fresh_end_is_not_news(void **state) {
    (void)state;
    static const char header[] = "\"*SIA-DCS\"0005L0#1234";
    struct signal_fault fault;
    struct frame frame;
    uint8_t bytes[256] = {0};
    uint8_t fresh[64];
    begin("account 1234 key " K128);
    (void)cipher_of(
            sealed(header,
                    (const uint8_t *)"padpadpadpadp|#1234|Nri1/BA015][IHALL DOOR OF A HOUSE]"
                                     "_10:15:30,03-06-2024......",
                    80),
            bytes);
    (void)cipher_of(sealed(header, (const uint8_t *)"0123456789|]_10:15:30,03-07-2024", 32), fresh);
    bool opens = false;
    for (unsigned i = 0; i < 20000 && !opens; i++) {
        char digits[257];
        for (unsigned at = 0; at < FRAME_BLOCK; at++) {
            bytes[48 + at] = (uint8_t)((i * 2654435761u) >> (at % 24));
        }
        memset(bytes + 64, 0, FRAME_BLOCK);
        memcpy(bytes + 80, fresh, 32);
        for (size_t at = 0; at < 112; at++) {
            (void)snprintf(digits + 2 * at, 3, "%02X", bytes[at]);
        }
        frame = (struct frame){.encrypted = true, .cipher = {digits, 224}};
        opens = frame_open(&frame, cipher_for(NULL, accounts.rows), room, FRAME_CLEAR_MAX, &fault);
    }
    assert_true(opens);
    assert_int_equal(judge_cipher("\"*NULL\"0001L0#1234", fresh, 32), RECEIVER_LINK);
    assert_int_equal(judge_cipher(header, bytes, 112), RECEIVER_REFUSE);
    assert_int_equal(answer.reason, RECEIVER_REPLAY);
    /* an end that did not come before, with something that does not open tried first */
    begin("account 1234 key " K128);
    bytes[0] ^= 0x80;
    bytes[16] ^= 0x80;
    assert_int_equal(judge_cipher(header, bytes, 112), RECEIVER_REFUSE);
    assert_int_equal(answer.reason, RECEIVER_OTHER_KEY);
    bytes[0] ^= 0x80;
    bytes[16] ^= 0x80;
    assert_int_equal(judge_cipher(header, bytes, 112), RECEIVER_REFUSE);
    assert_int_equal(answer.reason, RECEIVER_REPLAY);
}

static void the_longest_header_has_an_answer(void **state) {
    (void)state;
    begin("account 1234567890ABCDEF prefix ABCDEF key " K128 K128);
    assert_int_equal(judge(framed("\"ADM-CID\"0001RABCDEFLABCDEF#1234567890ABCDEF[|1130 01 015]")),
            RECEIVER_REFUSE);
    assert_true(answer.answer_length > 0);
    begin("account 1234567890ABCDEF prefix ABCDEF clear");
    assert_int_equal(judge(framed("\"ADM-CID\"0001RABCDEFLABCDEF#1234567890ABCDEF[|1130 01 015]")),
            RECEIVER_STORE);
    assert_true(answer.answer_length > 0);
}

/* Of more messages than it holds, the newest are known. */
static void of_too_many_the_oldest_are_forgotten(void **state) {
    (void)state;
    enum { COUNT = 5000 };
    begin("account 1234 clear");
    for (uint64_t i = 0; i < COUNT; i++) {
        recent_note(&recent, 0, i * UINT64_C(0x9E3779B97F4A7C15), (int64_t)i);
    }
    size_t known = 0;
    for (uint64_t i = 0; i < COUNT; i++) {
        bool has = recent_has(&recent, 0, i * UINT64_C(0x9E3779B97F4A7C15), COUNT);
        known += has;
        assert_true(has || i < COUNT - 8);
    }
    assert_int_equal(known, recent.buckets * RECENT_SIDE_BY_SIDE);
}

/* What an archive has may have come before the machine was started, and so before its steady clock was 0. */
static void what_came_before_the_clock_began_is_known(void **state) {
    (void)state;
    begin("account 1234 clear");
    assert_true(recent_make(&arena, RECENT_SIDE_BY_SIDE, &recent, NULL).good);
    recent_note(&recent, 0, 77, 1 - RECENT_S * 1000);
    recent_note(&recent, 0, 78, -1);
    recent_note(&recent, 0, 79, 0);
    assert_true(recent_has(&recent, 0, 77, 1));
    assert_true(recent_has(&recent, 0, 78, 1));
    assert_false(recent_has(&recent, 0, 77, 2));
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test_teardown(in_clear_the_header_comes_back, end),
            cmocka_unit_test_teardown(in_clear_no_time_matters, end),
            cmocka_unit_test_teardown(encrypted_so_is_the_answer, end),
            cmocka_unit_test_teardown(the_time_window_and_its_refusal, end),
            cmocka_unit_test_teardown(a_repeat_is_known_for_five_minutes, end),
            cmocka_unit_test_teardown(played_back_it_is_never_news, end),
            cmocka_unit_test_teardown(a_clock_that_jumps_makes_no_news, end),
            cmocka_unit_test_teardown(what_is_refused_and_how, end),
            cmocka_unit_test_teardown(a_recorded_frame_with_another_header_is_not_news, end),
            cmocka_unit_test_teardown(what_cannot_be_opened_is_answered_like_what_is_old, end),
            cmocka_unit_test_teardown(no_account_hides_another_s_message, end),
            cmocka_unit_test_teardown(a_forged_digest_hides_no_alarm, end),
            cmocka_unit_test_teardown(an_alarm_is_no_link_test, end),
            cmocka_unit_test_teardown(blocks_put_before_it_are_no_pad, end),
            cmocka_unit_test_teardown(a_recorded_frame_with_another_beginning_is_not_news, end),
            cmocka_unit_test_teardown(an_acknowledgement_is_no_link_test, end),
            cmocka_unit_test_teardown(what_is_played_back_pushes_nothing_out, end),
            cmocka_unit_test_teardown(an_old_frame_before_a_fresh_end_is_not_news, end),
            cmocka_unit_test_teardown(the_longest_header_has_an_answer, end),
            cmocka_unit_test_teardown(of_too_many_the_oldest_are_forgotten, end),
            cmocka_unit_test_teardown(what_came_before_the_clock_began_is_known, end),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
