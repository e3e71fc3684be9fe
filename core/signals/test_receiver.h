/* A receiver on the bench of its tests, with AES of OpenSSL. One receiver at a time. */
#ifndef LINTEL_SIGNALS_TEST_RECEIVER_H
#define LINTEL_SIGNALS_TEST_RECEIVER_H

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

static inline void *get(void *context, size_t size) {
    (void)context;
    return malloc(size);
}

static inline void give(void *context, void *block, size_t size) {
    (void)context;
    (void)size;
    free(block);
}

static inline bool crypt(
        const struct account *account, uint8_t *bytes, size_t length, int encrypting) {
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

static inline bool encrypt(void *context, uint8_t *bytes, size_t length) {
    return crypt(context, bytes, length, 1);
}

static inline bool decrypt(void *context, uint8_t *bytes, size_t length) {
    return crypt(context, bytes, length, 0);
}

static inline struct frame_cipher cipher_for(void *context, const struct account *account) {
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
static inline void begin(const char *keys) {
    arena_finish(&arena);
    arena_init(&arena, (struct pages){.get = get, .give = give}, 0);
    assert_true(accounts_read(text_of(keys), &arena, &accounts, NULL).good);
    assert_true(recent_make(&arena, 64, RECENT_S, &recent, NULL).good);
    assert_true(recent_make(&arena, 64, RECEIVER_SPENT_S, &spent, NULL).good);
    receiver = (struct receiver){&accounts, &recent, &spent, cipher_for, NULL, {{1, 2}}};
}

static inline int end(void **state) {
    (void)state;
    arena_finish(&arena);
    return 0;
}

/** What comes of a line (line feed and return implied), as the clock says utc_s. */
static inline enum receiver_verdict judge_at(const char *line, int64_t utc_s, int64_t steady_ms) {
    static const char pad[FRAME_BLOCK + 1] = "\x77\x56\xB1\x78\xCA\xF5\xCC\xFF\xFE\xF9"
                                             "abcdef";
    static char bytes[FRAME_MAX];
    int length = snprintf(bytes, sizeof bytes, "\n%s\r", line);
    receiver_judge(&receiver, (struct text){bytes, (size_t)length},
            (struct receiver_now){utc_s, steady_ms}, pad, room, &answer);
    return answer.verdict;
}

static inline enum receiver_verdict judge(const char *line) {
    return judge_at(line, AT, 1000);
}

static inline void answered(const char *line) {
    char bytes[RECEIVER_ANSWER_MAX + 2];
    int length = snprintf(bytes, sizeof bytes, "\n%s\r", line);
    assert_int_equal(answer.answer_length, length);
    assert_memory_equal(answer.answer, bytes, (size_t)length);
}

/** Sum and length before a body. */
static inline const char *framed(const char *body) {
    static char line[FRAME_MAX];
    (void)snprintf(
            line, sizeof line, "%04X%04zX%s", signals_crc(text_of(body)), strlen(body), body);
    return line;
}

#define P3 "F030003D\"ADM-CID\"0001R1L0#1234[#1234|1130 01 015]_10:15:30,03-07-2024"
#define E1                                                                                         \
    "209B0078\"*ADM-CID\"0006R1L0#1234[27D9C5D5914440FA82DD0970C4CE896AC75E3460636898803E7C79EBB7" \
    "ABA07FEDCDADA6E0A354EAF0816EBF6D1D81F3"
#define E6                                                                                         \
    "E1D80055\"*NULL\"0000R0L0#1234["                                                              \
    "DFE5AC90FE72B445CCD6470B2B52DE611B6AEEFAC34A1D5B5E50F1DFDCAADB3C"

/** A frame's body, with what is in the brackets encrypted for that account of the key file: whole blocks. */
static inline const char *sealed_for(
        size_t account, const char *header, const uint8_t *clear, size_t length) {
    static char body[1024];
    uint8_t bytes[256];
    size_t at = (size_t)snprintf(body, sizeof body, "%s[", header);
    memcpy(bytes, clear, length);
    assert_true(crypt(&accounts.rows[account], bytes, length, 1));
    for (size_t i = 0; i < length; i++) {
        at += (size_t)snprintf(body + at, sizeof body - at, "%02X", bytes[i]);
    }
    return body;
}

static inline const char *sealed(const char *header, const uint8_t *clear, size_t length) {
    return sealed_for(0, header, clear, length);
}

/** The bytes of what stands encrypted in a frame. */
static inline size_t cipher_of(const char *frame, uint8_t *ret_bytes) {
    const char *digits = strchr(frame, '[') + 1;
    size_t count = 0;
    unsigned byte = 0;
    while (isxdigit((unsigned char)digits[2 * count]) != 0 &&
            sscanf(digits + 2 * count, "%2X", &byte) == 1) {
        ret_bytes[count++] = (uint8_t)byte;
    }
    return count;
}

static inline enum receiver_verdict judge_cipher_after(
        int64_t later_s, const char *header, const uint8_t *bytes, size_t length) {
    char body[1024];
    size_t at = (size_t)snprintf(body, sizeof body, "%s[", header);
    for (size_t i = 0; i < length; i++) {
        at += (size_t)snprintf(body + at, sizeof body - at, "%02X", bytes[i]);
    }
    return judge_at(framed(body), AT + later_s, 1000 + later_s * 1000);
}

static inline enum receiver_verdict judge_cipher(
        const char *header, const uint8_t *bytes, size_t length) {
    return judge_cipher_after(0, header, bytes, length);
}

/** Whether it opens, for whoever has the key: to know of what he who has none tries which will. */
static inline bool would_open(const uint8_t *bytes, size_t length) {
    char digits[513];
    for (size_t at = 0; at < length; at++) {
        (void)snprintf(digits + 2 * at, 3, "%02X", bytes[at]);
    }
    struct frame frame = {.encrypted = true, .cipher = {digits, 2 * length}};
    return frame_open(&frame, cipher_for(NULL, accounts.rows), room, FRAME_CLEAR_MAX, NULL);
}

#endif
