/* The cipher that the core is handed: AES in CBC mode with a zero vector, by OpenSSL; and the key file.
 * Source of mode and vector: ANSI/SIA DC-09-2007, clause 5.4.6; NIST SP 800-38A, 6.2. */
#ifndef LINTEL_CIPHER_CIPHER_H
#define LINTEL_CIPHER_CIPHER_H

#include "signals/accounts.h"
#include "signals/frame.h"

/** One worker of ciphers: the library's context, used over and over, for one thread. */
struct cipher;

/** Makes one; NULL: no memory, or a library without AES. destroy(NULL) is fine; it wipes what the context held. */
struct cipher *cipher_create(void);
void cipher_destroy(struct cipher *cipher);

/** The cipher of an account, which must have a key; good until the next call for the same worker. account: keeps. */
struct frame_cipher cipher_for(struct cipher *cipher, const struct account *account);

/** Bytes to pad frames with, FRAME_BLOCK for each: random, none of [ ] |, which end it. Source: ANSI/SIA DC-09-2013,
 *  5.4.4.2. Fails SYSTEM. */
outcome cipher_pad(char *ret_pad, size_t length, struct problem *ret_problem) MUST_CHECK;

/** Accounts and keys of a key file, in memory of their own that is wiped when it is given back. */
struct key_file {
    struct arena arena;
    struct accounts accounts;
};

/** Reads a key file that its owner alone may read. Finish it in either case. Fails as host_read_private_file and
 *  accounts_read do; the text names the file, never a key. */
outcome key_file_read(const char *path, struct key_file *ret_keys, struct problem *ret_problem)
        MUST_CHECK;
void key_file_finish(struct key_file *keys);

#endif
