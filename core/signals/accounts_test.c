/* Key files: what is read, what is refused, and that no refusal tells a key. */
#include "signals/accounts.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

static void *get(void *context, size_t size) {
    (void)context;
    return malloc(size);
}

static void give(void *context, void *block, size_t size) {
    (void)context;
    (void)size;
    free(block);
}

static struct arena arena;

static int begin(void **state) {
    (void)state;
    arena_init(&arena, (struct pages){.get = get, .give = give}, 0);
    return 0;
}

static int end(void **state) {
    (void)state;
    arena_finish(&arena);
    return 0;
}

#define K128 "000102030405060708090A0B0C0D0E0F"

static const struct account *find(
        const struct accounts *accounts, const char *prefix, const char *digits) {
    return accounts_find(accounts, text_of(prefix), text_of(digits));
}

static void accounts_with_key_prefix_and_in_clear(void **state) {
    (void)state;
    struct accounts accounts;
    assert_true(accounts_read(text_of("# the shop\n\naccount 1234 key " K128 "\r\n"
                                      "\taccount 12ab  prefix a5 key " K128 K128 "\n"
                                      "account 12AB clear\naccount 1234567890ABCDEF clear"),
            &arena, &accounts, NULL)
                        .good);
    assert_int_equal(accounts.count, 4);
    const struct account *first = find(&accounts, "0", "1234");
    assert_ptr_equal(first, find(&accounts, "000", "1234"));
    assert_int_equal(first->key_length, 16);
    for (int i = 0; i < 16; i++) {
        assert_int_equal(first->key[i], i);
    }
    assert_int_equal(find(&accounts, "A5", "12AB")->key_length, 32);
    assert_int_equal(find(&accounts, "0", "12AB")->key_length, 0);
    assert_non_null(find(&accounts, "0", "1234567890ABCDEF"));
    assert_null(find(&accounts, "A5", "1234"));
    assert_null(find(&accounts, "0", "123"));
    assert_null(find(&accounts, "0", "01234"));
    assert_null(find(&accounts, "G", "1234"));
    assert_null(find(&accounts, "0000000", "1234"));
}

static void ten_thousand_accounts_are_found(void **state) {
    (void)state;
    enum { COUNT = 10000, LINE = 32 };
    static char file[COUNT * LINE + 1];
    size_t length = 0;
    struct accounts accounts;
    for (unsigned i = 0; i < COUNT; i++) {
        length += (size_t)sprintf(file + length, "account %05X clear\n", i * 7);
    }
    assert_true(accounts_read((struct text){file, length}, &arena, &accounts, NULL).good);
    for (unsigned i = 0; i < COUNT * 7; i++) {
        char digits[8];
        (void)sprintf(digits, "%05X", i);
        const struct account *found = find(&accounts, "0", digits);
        assert_true((found != NULL) == (i % 7 == 0));
        assert_true(found == NULL || found == &accounts.rows[i / 7]);
    }
}

static void what_is_wrong_is_said_with_its_line(void **state) {
    (void)state;
    static const struct {
        const char *file;
        enum problem_kind kind;
        const char *said;
    } cases[] = {
            {"", PROBLEM_BAD_VALUE, "no account"},
            {"# nothing\n", PROBLEM_BAD_VALUE, "no account"},
            {"account 1234\n", PROBLEM_UNREADABLE, "line 1: write"},
            {"\naccount 1234 key\n", PROBLEM_UNREADABLE, "line 2: write"},
            {"account 1234 key " K128 " clear\n", PROBLEM_UNREADABLE, "line 1: write"},
            {"account 1234 prefix A5\n", PROBLEM_UNREADABLE, "line 1: write"},
            {"account 1234 prefix A5 prefix A6 key " K128, PROBLEM_UNREADABLE, "line 1: write"},
            {K128 "\n", PROBLEM_UNREADABLE, "line 1: write"},
            {"account 12 clear\n", PROBLEM_UNREADABLE, "3 to 16"},
            {"account 12345678901234567 clear\n", PROBLEM_UNREADABLE, "3 to 16"},
            {"account 12G4 clear\n", PROBLEM_UNREADABLE, "3 to 16"},
            {"account 1234 prefix 1234567 clear\n", PROBLEM_UNREADABLE, "1 to 6"},
            {"account 1234 prefix x clear\n", PROBLEM_UNREADABLE, "1 to 6"},
            {"account 1234 key " K128 "0\n", PROBLEM_UNREADABLE, "here are 33"},
            {"account 1234 key 00112233445566778899AABBCCDDEEFG\n", PROBLEM_UNREADABLE, "hex"},
            {"account 1234 clear\n#\naccount 1234 key " K128 "\n", PROBLEM_BAD_VALUE, "line 3"},
            {"account ABCD clear\naccount abcd prefix 00 clear\n", PROBLEM_BAD_VALUE, "line 2"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct accounts accounts = {.count = 77};
        struct problem problem = {0};
        assert_false(accounts_read(text_of(cases[i].file), &arena, &accounts, &problem).good);
        assert_int_equal(problem.kind, cases[i].kind);
        assert_non_null(strstr(problem.text, cases[i].said));
        assert_null(strstr(problem.text, "0102"));
        assert_null(strstr(problem.text, "AABBCC"));
        assert_int_equal(accounts.count, 77);
    }
}

static void a_key_that_two_have_is_found(void **state) {
    (void)state;
    struct accounts accounts;
    const struct account *one = NULL;
    const struct account *other = NULL;
    assert_true(accounts_read(text_of("account 111 clear\naccount 222 key " K128 "\naccount 333 "
                                      "clear\naccount 444 key " K128 K128 "\n"),
            &arena, &accounts, NULL)
                        .good);
    assert_int_equal(accounts_sharing_keys(&accounts, &arena, &one, &other), 0);
    assert_null(one);
    assert_true(accounts_read(text_of("account 111 clear\naccount 222 key " K128 "\naccount 333 "
                                      "key " K128 K128 "\naccount 444 prefix 1 key " K128
                                      "\naccount 555 key " K128 "\naccount 666 clear"),
            &arena, &accounts, NULL)
                        .good);
    assert_int_equal(accounts_sharing_keys(&accounts, &arena, &one, &other), 2);
    assert_ptr_equal(one, &accounts.rows[1]);
    assert_ptr_equal(other, &accounts.rows[3]);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test_setup_teardown(accounts_with_key_prefix_and_in_clear, begin, end),
            cmocka_unit_test_setup_teardown(ten_thousand_accounts_are_found, begin, end),
            cmocka_unit_test_setup_teardown(what_is_wrong_is_said_with_its_line, begin, end),
            cmocka_unit_test_setup_teardown(a_key_that_two_have_is_found, begin, end),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
