/* Accounts and their keys, as a key file lists them: one a line, an empty line or one that begins with # says nothing.
 *
 *     account 1234 key 000102030405060708090A0B0C0D0E0F
 *     account 12AB prefix A5 clear
 *
 * A key is 32, 48 or 64 hex digits: AES of 128, 192 or 256 bits. An account whose line says `clear` sends unencrypted.
 * No text made here holds any part of a key. */
#ifndef LINTEL_SIGNALS_ACCOUNTS_H
#define LINTEL_SIGNALS_ACCOUNTS_H

#include "base/arena.h"
#include "base/text.h"

#include <stdint.h>

enum {
    ACCOUNT_DIGITS_MIN = 3,
    ACCOUNT_DIGITS_MAX = 16,
    ACCOUNT_KEY_MAX = 32,  /* bytes */
    ACCOUNTS_MAX = 100000, /* of one file */
};

/** One account. prefix: the L field as a number (L0 and L00 are one); digits: 0-9 A-F; key_length: 16, 24, 32, or 0:
 *  in clear. */
struct account {
    uint32_t prefix;
    uint8_t digit_count;
    uint8_t key_length;
    char digits[ACCOUNT_DIGITS_MAX];
    uint8_t key[ACCOUNT_KEY_MAX];
};

/** All of them, in the order of the file. slots: index + 1 by hash, 0: free. */
struct accounts {
    struct account *rows;
    size_t count;
    uint32_t *slots;
    size_t slot_count;
};

/** Reads a key file. ret_accounts: rows in the arena, which holds the keys from then on: make it of pages that are
 *  wiped. Untouched on failure. Fails UNREADABLE (the text names the line and what to write), BAD_VALUE (an account
 *  twice, none at all), LIMIT, MEMORY. */
outcome accounts_read(struct text source, struct arena *arena, struct accounts *ret_accounts,
        struct problem *ret_problem) MUST_CHECK;

/** The account of a frame's L and # fields, or NULL. */
const struct account *accounts_find(
        const struct accounts *accounts, struct text prefix, struct text digits);

/** How many accounts have the key of one before them in the file: a frame of the one could be put under the other.
 *  arena: for the while; without memory, 0. ret_one, ret_other: the first two of one key; untouched where there are
 *  none. */
size_t accounts_sharing_keys(const struct accounts *accounts, struct arena *arena,
        const struct account **ret_one, const struct account **ret_other);

/** Its digits, borrowed. */
struct text account_digits(const struct account *account);

#endif
