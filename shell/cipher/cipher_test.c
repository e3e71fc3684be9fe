/* AES against the published vectors, and the key file. */
#include "cipher/cipher.h"

#include "host/host.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cmocka.h>

static size_t from_hex(const char *hex, uint8_t *ret_bytes) {
    size_t count = strlen(hex) / 2;
    for (size_t i = 0; i < count; i++) {
        unsigned value = 0;
        assert_int_equal(sscanf(hex + 2 * i, "%2x", &value), 1);
        ret_bytes[i] = (uint8_t)value;
    }
    return count;
}

/* NIST SP 800-38A, annex F.2, CBC. Its vector is not zero, as that of a frame always is: CBC adds it to the first block
 * of clear text, so that the same cipher text comes of the first block with the vector added already. */
static const char vector[] = "000102030405060708090a0b0c0d0e0f";
static const char clear[] = "6bc1bee22e409f96e93d7e117393172aae2d8a571e03ac9c9eb76fac45af8e51"
                            "30c81c46a35ce411e5fbc1191a0a52eff69f2445df4f9b17ad2b417be66c3710";
static const struct {
    const char *clause;
    const char *key;
    const char *secret;
} published[] = {
        {"F.2.1", "2b7e151628aed2a6abf7158809cf4f3c",
                "7649abac8119b246cee98e9b12e9197d5086cb9b507219ee95db113a917678b2"
                "73bed6b8e3c1743b7116e69e222295163ff1caa1681fac09120eca307586e1a7"},
        {"F.2.3", "8e73b0f7da0e6452c810f32b809079e562f8ead2522c6b7b",
                "4f021db243bc633d7178183a9fa071e8b4d9ada9ad7dedf4e5e738763f69145a"
                "571b242012fb7ae07fa9baac3df102e008b0e27988598881d920a9e64f5615cd"},
        {"F.2.5", "603deb1015ca71be2b73aef0857d77811f352c073b6108d72d9810a30914dff4",
                "f58c4c04d6e5f1ba779eabfb5f7bfbd69cfc4e967edb808d679f777bc6702c7d"
                "39f23369a9d9bacfa530e26304231461b2eb05e2c39be9fcda6c19078c6a9d1b"},
};

static void the_vectors_of_nist(void **state) {
    (void)state;
    struct cipher *cipher = cipher_create();
    assert_non_null(cipher);
    for (size_t i = 0; i < sizeof published / sizeof published[0]; i++) {
        struct account account = {0};
        uint8_t bytes[64];
        uint8_t first[FRAME_BLOCK];
        uint8_t expected[64];
        account.key_length = (uint8_t)from_hex(published[i].key, account.key);
        assert_int_equal(from_hex(clear, bytes), sizeof bytes);
        from_hex(vector, first);
        from_hex(published[i].secret, expected);
        for (size_t j = 0; j < FRAME_BLOCK; j++) {
            bytes[j] ^= first[j];
        }
        uint8_t before[64];
        memcpy(before, bytes, sizeof before);
        struct frame_cipher by = cipher_for(cipher, &account);
        assert_true(by.encrypt(by.context, bytes, sizeof bytes));
        assert_memory_equal(bytes, expected, sizeof bytes);
        assert_true(by.decrypt(by.context, bytes, sizeof bytes));
        assert_memory_equal(bytes, before, sizeof bytes);
    }
    cipher_destroy(cipher);
    cipher_destroy(NULL);
}

static void a_pad_never_ends_itself_and_always_differs(void **state) {
    (void)state;
    char last[FRAME_BLOCK] = {0};
    bool seen[256] = {false};
    for (int i = 0; i < 2000; i++) {
        char pad[FRAME_BLOCK];
        assert_true(cipher_pad(pad, sizeof pad, NULL).good);
        assert_memory_not_equal(pad, last, sizeof pad);
        memcpy(last, pad, sizeof pad);
        for (size_t j = 0; j < sizeof pad; j++) {
            assert_true(pad[j] != '[' && pad[j] != ']' && pad[j] != '|');
            seen[(unsigned char)pad[j]] = true;
        }
    }
    size_t values = 0;
    for (size_t i = 0; i < 256; i++) {
        values += seen[i];
    }
    assert_int_equal(values, 253); /* 32,000 draws of 253 values: a missing one is a fault */
}

static void a_key_file_must_be_private(void **state) {
    (void)state;
    char path[] = "/tmp/lintel-keys-XXXXXX";
    int file = mkstemp(path);
    static const char content[] = "account 1234 key 2b7e151628aed2a6abf7158809cf4f3c\n";
    struct key_file keys;
    struct problem problem = {0};
    assert_true(file >= 0);
    assert_int_equal(write(file, content, sizeof content - 1), sizeof content - 1);
    assert_true(key_file_read(path, &keys, &problem).good);
    assert_int_equal(keys.accounts.count, 1);
    key_file_finish(&keys);
    assert_int_equal(fchmod(file, 0640), 0);
    assert_false(key_file_read(path, &keys, &problem).good);
    assert_non_null(strstr(problem.text, "chmod 600"));
    key_file_finish(&keys);
    assert_int_equal(fchmod(file, 0600), 0);
    assert_int_equal(write(file, "account 12", 10), 10);
    problem = (struct problem){0};
    assert_false(key_file_read(path, &keys, &problem).good);
    assert_non_null(strstr(problem.text, "line 2"));
    assert_non_null(strstr(problem.text, path));
    assert_null(strstr(problem.text, "2b7e"));
    key_file_finish(&keys);
    (void)close(file);
    assert_int_equal(unlink(path), 0);
    problem = (struct problem){0};
    assert_false(key_file_read(path, &keys, &problem).good);
    assert_int_equal(problem.kind, PROBLEM_MISSING);
    key_file_finish(&keys);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(the_vectors_of_nist),
            cmocka_unit_test(a_pad_never_ends_itself_and_always_differs),
            cmocka_unit_test(a_key_file_must_be_private),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
