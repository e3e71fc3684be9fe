#include "signals/accounts.h"

#include "signals/hash.h"

#include <string.h>

enum { WORDS_MOST = 5, PREFIX_DIGITS_MAX = 6 };

/** A line in words. */
struct words {
    struct text all[WORDS_MOST + 1];
    size_t count;
    size_t line;
};

static int hex_value(char digit) {
    if (digit >= '0' && digit <= '9') {
        return digit - '0';
    }
    if (digit >= 'a' && digit <= 'f') {
        return digit - 'a' + 10;
    }
    return digit >= 'A' && digit <= 'F' ? digit - 'A' + 10 : -1;
}

static bool all_hex(struct text digits) {
    for (size_t i = 0; i < digits.length; i++) {
        if (hex_value(digits.start[i]) < 0) {
            return false;
        }
    }
    return true;
}

static uint32_t hex_number(struct text digits) {
    uint32_t number = 0;
    for (size_t i = 0; i < digits.length; i++) {
        number = number * 16 + (uint32_t)hex_value(digits.start[i]);
    }
    return number;
}

struct text account_digits(const struct account *account) {
    return (struct text){account->digits, account->digit_count};
}

static uint64_t hash_of(uint32_t prefix, struct text digits) {
    return signals_hash(SIGNALS_HASH_START ^ prefix, digits);
}

/** Where the account stands, or would. */
static size_t slot_of(const struct accounts *accounts, uint32_t prefix, struct text digits) {
    size_t slot = (size_t)hash_of(prefix, digits) & (accounts->slot_count - 1);
    while (accounts->slots[slot] != 0) {
        const struct account *row = &accounts->rows[accounts->slots[slot] - 1];
        if (row->prefix == prefix && text_equal(account_digits(row), digits)) {
            break;
        }
        slot = (slot + 1) & (accounts->slot_count - 1);
    }
    return slot;
}

const struct account *accounts_find(
        const struct accounts *accounts, struct text prefix, struct text digits) {
    if (accounts->count == 0 || prefix.length > PREFIX_DIGITS_MAX || !all_hex(prefix)) {
        return NULL;
    }
    size_t slot = slot_of(accounts, hex_number(prefix), digits);
    return accounts->slots[slot] == 0 ? NULL : &accounts->rows[accounts->slots[slot] - 1];
}

static bool same_key(const struct account *a, const struct account *b) {
    return a->key_length == b->key_length && memcmp(a->key, b->key, a->key_length) == 0;
}

size_t accounts_sharing_keys(const struct accounts *accounts, struct arena *arena,
        const struct account **ret_one, const struct account **ret_other) {
    uint32_t *slots = ARENA_ARRAY(arena, uint32_t, accounts->slot_count);
    size_t sharing = 0;
    for (size_t i = 0; slots != NULL && i < accounts->count; i++) {
        const struct account *row = &accounts->rows[i];
        const struct text key = {(const char *)row->key, row->key_length};
        size_t slot = (size_t)signals_hash(SIGNALS_HASH_START, key) & (accounts->slot_count - 1);
        while (slots[slot] != 0 && !same_key(&accounts->rows[slots[slot] - 1], row)) {
            slot = (slot + 1) & (accounts->slot_count - 1);
        }
        if (row->key_length == 0) {
            continue;
        }
        if (slots[slot] != 0 && sharing++ == 0) {
            *ret_one = &accounts->rows[slots[slot] - 1];
            *ret_other = row;
        } else if (slots[slot] == 0) {
            slots[slot] = (uint32_t)i + 1;
        }
    }
    return sharing;
}

static bool blank(char byte) {
    return byte == ' ' || byte == '\t' || byte == '\r';
}

static void split(struct text line, struct words *words) {
    words->count = 0;
    for (size_t at = 0; at < line.length && words->count <= WORDS_MOST;) {
        size_t begins = at;
        while (at < line.length && !blank(line.start[at])) {
            at++;
        }
        if (at > begins) {
            words->all[words->count++] = (struct text){line.start + begins, at - begins};
        }
        at += at < line.length;
    }
}

/** What was typed stays out of the text: it may be a key in the wrong place. */
static outcome read_key(
        const struct words *words, struct text digits, struct account *row, struct problem *ret) {
    if (digits.length != 32 && digits.length != 48 && digits.length != 64) {
        FAIL(ret, PROBLEM_UNREADABLE, "",
                "line %zu: a key is 32, 48 or 64 hex digits (AES-128, -192, -256); here are %zu",
                words->line, digits.length);
    }
    if (!all_hex(digits)) {
        FAIL(ret, PROBLEM_UNREADABLE, "", "line %zu: a key has hex digits only, 0-9 and A-F",
                words->line);
    }
    row->key_length = (uint8_t)(digits.length / 2);
    for (size_t i = 0; i < row->key_length; i++) {
        row->key[i] =
                (uint8_t)(hex_value(digits.start[2 * i]) * 16 + hex_value(digits.start[2 * i + 1]));
    }
    return outcome_good();
}

static outcome read_digits(
        const struct words *words, struct text digits, struct account *row, struct problem *ret) {
    if (digits.length < ACCOUNT_DIGITS_MIN || digits.length > ACCOUNT_DIGITS_MAX ||
            !all_hex(digits)) {
        FAIL(ret, PROBLEM_UNREADABLE, "", "line %zu: an account is 3 to 16 digits 0-9, A-F",
                words->line);
    }
    row->digit_count = (uint8_t)digits.length;
    for (size_t i = 0; i < digits.length; i++) {
        row->digits[i] = "0123456789ABCDEF"[hex_value(digits.start[i])];
    }
    return outcome_good();
}

static outcome read_line(
        const struct words *words, struct account *ret_row, struct problem *ret_problem) {
    struct account row = {0};
    size_t at = 2;
    bool said = words->count >= 3 && text_is(words->all[0], "account");
    if (said && text_is(words->all[2], "prefix") && words->count > 3) {
        struct text prefix = words->all[3];
        if (prefix.length > PREFIX_DIGITS_MAX || !all_hex(prefix)) {
            FAIL(ret_problem, PROBLEM_UNREADABLE, "",
                    "line %zu: a prefix is 1 to 6 digits 0-9, A-F", words->line);
        }
        row.prefix = hex_number(prefix);
        at = 4;
    }
    bool in_clear = said && words->count == at + 1 && text_is(words->all[at], "clear");
    bool with_key = said && words->count == at + 2 && text_is(words->all[at], "key");
    if (!in_clear && !with_key) {
        FAIL(ret_problem, PROBLEM_UNREADABLE, "",
                "line %zu: write \"account 1234 key HEX\" or \"account 1234 clear\", with "
                "\"prefix A5\" after the account where it has one",
                words->line);
    }
    TRY(read_digits(words, words->all[1], &row, ret_problem));
    if (with_key) {
        TRY(read_key(words, words->all[at + 1], &row, ret_problem));
    }
    *ret_row = row;
    return outcome_good();
}

static outcome make_room(struct text source, struct arena *arena, struct accounts *accounts,
        struct problem *ret_problem) {
    size_t lines = 1;
    for (size_t i = 0; i < source.length; i++) {
        lines += source.start[i] == '\n';
    }
    size_t slots = 16;
    while (slots < 2 * lines) {
        slots *= 2;
    }
    void *rows = NULL;
    void *slot_room = NULL;
    TRY(arena_get(arena, lines, sizeof *accounts->rows, &rows, ret_problem));
    TRY(arena_get(arena, slots, sizeof *accounts->slots, &slot_room, ret_problem));
    *accounts = (struct accounts){.rows = rows, .slots = slot_room, .slot_count = slots};
    return outcome_good();
}

static outcome add(struct accounts *accounts, const struct account *row, size_t line,
        struct problem *ret_problem) {
    size_t slot = slot_of(accounts, row->prefix, account_digits(row));
    if (accounts->slots[slot] != 0) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "",
                "line %zu: account %.*s has a line already; one account, one line", line,
                TEXT_ARGS(account_digits(row)));
    }
    if (accounts->count == ACCOUNTS_MAX) {
        FAIL(ret_problem, PROBLEM_LIMIT, "", "line %zu: more than %d accounts in one file", line,
                ACCOUNTS_MAX);
    }
    accounts->rows[accounts->count] = *row;
    accounts->slots[slot] = (uint32_t)++accounts->count;
    return outcome_good();
}

outcome accounts_read(struct text source, struct arena *arena, struct accounts *ret_accounts,
        struct problem *ret_problem) {
    struct accounts accounts;
    struct words words = {0};
    TRY(make_room(source, arena, &accounts, ret_problem));
    for (size_t at = 0; at < source.length;) {
        size_t begins = at;
        while (at < source.length && source.start[at] != '\n') {
            at++;
        }
        words.line++;
        split((struct text){source.start + begins, at - begins}, &words);
        at++;
        if (words.count > 0 && words.all[0].start[0] != '#') {
            struct account row;
            TRY(read_line(&words, &row, ret_problem));
            TRY(add(&accounts, &row, words.line, ret_problem));
        }
    }
    if (accounts.count == 0) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "",
                "no account in it; write lines such as \"account 1234 clear\"");
    }
    *ret_accounts = accounts;
    return outcome_good();
}
