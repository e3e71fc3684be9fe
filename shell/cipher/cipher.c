#include "cipher/cipher.h"

#include "host/host.h"

#include <openssl/evp.h>
#include <stdlib.h>
#include <sys/resource.h>

enum { KEY_FILE_LIMIT_BYTES = 16 * 1024 * 1024 };

struct cipher {
    EVP_CIPHER_CTX *context;
    EVP_CIPHER *by_size[3]; /* fetched once: 16, 24, 32 bytes of key */
    const struct account *account;
};

struct cipher *cipher_create(void) {
    static const char *const names[3] = {"AES-128-CBC", "AES-192-CBC", "AES-256-CBC"};
    struct cipher *cipher = calloc(1, sizeof *cipher);
    if (cipher == NULL) {
        return NULL;
    }
    cipher->context = EVP_CIPHER_CTX_new();
    bool good = cipher->context != NULL;
    for (int i = 0; i < 3; i++) {
        cipher->by_size[i] = EVP_CIPHER_fetch(NULL, names[i], NULL);
        good = good && cipher->by_size[i] != NULL;
    }
    if (!good) {
        cipher_destroy(cipher);
        return NULL;
    }
    return cipher;
}

void cipher_destroy(struct cipher *cipher) {
    if (cipher != NULL) {
        EVP_CIPHER_CTX_free(cipher->context);
        for (int i = 0; i < 3; i++) {
            EVP_CIPHER_free(cipher->by_size[i]);
        }
        free(cipher);
    }
}

static bool turn(struct cipher *cipher, uint8_t *bytes, size_t length, int encrypt) {
    static const uint8_t zero[FRAME_BLOCK] = {0};
    int written = 0;
    const EVP_CIPHER *size = cipher->by_size[cipher->account->key_length / 8 - 2];
    return EVP_CipherInit_ex2(cipher->context, size, cipher->account->key, zero, encrypt, NULL) ==
            1 &&
            EVP_CIPHER_CTX_set_padding(cipher->context, 0) == 1 &&
            EVP_CipherUpdate(cipher->context, bytes, &written, bytes, (int)length) == 1 &&
            (size_t)written == length;
}

static bool encrypt(void *context, uint8_t *bytes, size_t length) {
    return turn(context, bytes, length, 1);
}

static bool decrypt(void *context, uint8_t *bytes, size_t length) {
    return turn(context, bytes, length, 0);
}

struct frame_cipher cipher_for(struct cipher *cipher, const struct account *account) {
    cipher->account = account;
    return (struct frame_cipher){.encrypt = encrypt, .decrypt = decrypt, .context = cipher};
}

outcome cipher_pad(char *ret_pad, size_t length, struct problem *ret_problem) {
    size_t count = 0;
    while (count < length) {
        uint8_t bytes[256]; /* so many the system gives at once, uninterrupted */
        TRY(host_random(bytes, sizeof bytes, ret_problem));
        for (size_t i = 0; i < sizeof bytes && count < length; i++) {
            if (bytes[i] != '[' && bytes[i] != ']' && bytes[i] != '|') {
                ret_pad[count++] = (char)bytes[i];
            }
        }
    }
    return outcome_good();
}

/** Should the program crash, no file with all that it knew is left. */
static void leave_no_core(void) {
    const struct rlimit none = {0, 0};
    (void)setrlimit(RLIMIT_CORE, &none);
}

outcome key_file_read(const char *path, struct key_file *ret_keys, struct problem *ret_problem) {
    struct text content = {0};
    struct problem problem = {0};
    *ret_keys = (struct key_file){0};
    leave_no_core();
    arena_init(&ret_keys->arena, host_wiped_pages(), 0);
    TRY(host_read_private_file(
            path, KEY_FILE_LIMIT_BYTES, &ret_keys->arena, &content, ret_problem));
    if (!accounts_read(content, &ret_keys->arena, &ret_keys->accounts, &problem).good) {
        FAIL(ret_problem, problem.kind, "", "%.120s: %.250s", path, problem.text);
    }
    return outcome_good();
}

void key_file_finish(struct key_file *keys) {
    arena_finish(&keys->arena);
    keys->accounts = (struct accounts){0};
}
