#include "base/text.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

/* Pages of which at most `left` are given. */
static void *get_page(void *context, size_t size) {
    unsigned *left = context;
    if (*left == 0) {
        return NULL;
    }
    (*left)--;
    return malloc(size);
}

static void give_page(void *context, void *block, size_t size) {
    (void)context;
    (void)size;
    free(block);
}

static void make_arena(struct arena *arena, unsigned *left) {
    const struct pages pages = {.get = get_page, .give = give_page, .context = left};
    arena_init(arena, pages, 0);
}

static size_t distance(const char *a, const char *b) {
    return text_distance(text_of(a), text_of(b), 10);
}

static void slices_compare_by_bytes(void **state) {
    (void)state;
    const struct text nul_inside = {.start = "a\0b", .length = 3};
    const struct text other_end = {.start = "a\0c", .length = 3};
    assert_true(text_is(text_of("zone"), "zone"));
    assert_false(text_is(text_of("zone"), "zones"));
    assert_false(text_is(text_of("zone"), "Zone"));
    assert_false(text_equal(nul_inside, other_end));
    assert_true(text_is((struct text){0}, ""));
    assert_true(text_equal((struct text){0}, text_of("")));
}

/* Source: F. J. Damerau, "A technique for computer detection and correction of spelling errors", Communications of the
 * ACM 7(3), 1964: the four single errors (a wrong, a missing, an extra letter, two neighbours swapped) count one
 * each. The examples here are ours, worked by hand. */
static void single_errors_count_one(void **state) {
    (void)state;
    assert_int_equal(distance("delay", "delay"), 0);
    assert_int_equal(distance("delay", "dekay"), 1);  /* wrong */
    assert_int_equal(distance("delay", "dlay"), 1);   /* missing */
    assert_int_equal(distance("delay", "delaay"), 1); /* extra */
    assert_int_equal(distance("delay", "dealy"), 1);  /* swapped */
    assert_int_equal(distance("delay", "edlay"), 1);
    assert_int_equal(distance("delay", "delya"), 1);
    assert_int_equal(distance("Delay", "dELAY"), 0); /* case does not count */
}

/* The pair with which the literature tells the restricted distance (no letter touched twice) from the full one: CA to
 * ABC is 3 restricted and 2 in full. Kitten and sitting, saturday and sunday: the textbook examples, 3 each. */
static void known_distances(void **state) {
    (void)state;
    assert_int_equal(distance("ca", "abc"), 3);
    assert_int_equal(distance("kitten", "sitting"), 3);
    assert_int_equal(distance("saturday", "sunday"), 3);
    assert_int_equal(distance("", "abc"), 3);
    assert_int_equal(distance("abc", ""), 3);
    assert_int_equal(distance("", ""), 0);
    assert_int_equal(distance("abcd", "badc"), 2);
    assert_int_equal(distance("entry-delay", "entry_delays"), 2);
}

/* A letter is one, whatever bytes it takes: the Greek, Polish and Japanese words differ in one letter each. */
static void letters_count_and_not_bytes(void **state) {
    (void)state;
    assert_int_equal(distance("πόρτα", "πόρτρ"), 1);  /* wrong */
    assert_int_equal(distance("πόρτα", "πότα"), 1);   /* missing */
    assert_int_equal(distance("πόρτα", "πόρττα"), 1); /* extra */
    assert_int_equal(distance("πόρτα", "πότρα"), 1);  /* swapped */
    assert_int_equal(distance("łazienka", "lazienka"), 1);
    assert_int_equal(distance("玄関", "玄間"), 1);
    assert_int_equal(distance("台所", "所台"), 1);
    assert_int_equal(distance("台所", "玄関"), 2);
    assert_int_equal(distance("庭", "a"), 1);
}

/* Expected: Unicode CaseFolding.txt, status C, as Python's str.casefold gives it. */
static void capitals_compare_as_small_letters(void **state) {
    (void)state;
    assert_int_equal(distance("ΚΟΥΖΊΝΑ", "κουζίνα"), 0);
    assert_int_equal(distance("ΆΈΉΊΌΎΏΪΫ", "άέήίόύώϊϋ"), 0);
    assert_int_equal(distance("ΚΉΠΟΣ", "κήπος"), 0); /* the last sigma has a shape of its own */
    assert_int_equal(distance("ŁAZIENKA ŻÓŁĆ", "łazienka żółć"), 0);
    assert_int_equal(distance("ÄÖÜÞ", "äöüþ"), 0);
    assert_int_equal(distance("ДВЕРЬ Ё", "дверь ё"), 0);
    assert_int_equal(distance("×", "÷"), 1); /* signs, not letters */
    assert_int_equal(distance("ĸ", "Ĺ"), 1); /* a small letter without a capital */
    assert_int_equal(distance("ı", "i"), 1); /* the i without a dot is another letter */
}

/* A third of the letters, one to three; a single letter is a slip of nothing. House practice. */
static void a_slip_reaches_a_third(void **state) {
    (void)state;
    static const struct {
        const char *word;
        size_t reach;
    } rows[] = {{"", 0}, {"a", 0}, {"庭", 0}, {"ab", 1}, {"玄関", 1}, {"delay", 1}, {"πόρτες", 2},
            {"passages", 2}, {"passageway", 3}, {"a very long name", 3}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        assert_int_equal(text_reach(text_of(rows[i].word)), rows[i].reach);
    }
}

/* The definition, by recursion: slow and plain, as the other opinion. */
static size_t plain_distance(const char *a, size_t i, const char *b, size_t j) {
    if (i == 0 || j == 0) {
        return i + j;
    }
    size_t best = plain_distance(a, i - 1, b, j) + 1;
    const size_t insert = plain_distance(a, i, b, j - 1) + 1;
    const size_t replace = plain_distance(a, i - 1, b, j - 1) + (a[i - 1] != b[j - 1]);
    best = insert < best ? insert : best;
    best = replace < best ? replace : best;
    if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1]) {
        const size_t swap = plain_distance(a, i - 2, b, j - 2) + 1;
        best = swap < best ? swap : best;
    }
    return best;
}

static void every_short_pair_agrees_with_the_definition(void **state) {
    (void)state;
    enum { WORDS = 1 + 3 + 9 + 27 + 81 };
    char words[WORDS][5] = {""};
    size_t count = 1;
    for (size_t from = 0; count < WORDS; from++) {
        for (char letter = 'a'; letter <= 'c'; letter++) {
            const size_t length = strlen(words[from]);
            memcpy(words[count], words[from], length);
            words[count][length] = letter;
            count++;
        }
    }
    for (size_t i = 0; i < WORDS; i++) {
        for (size_t j = 0; j < WORDS; j++) {
            assert_int_equal(distance(words[i], words[j]),
                    plain_distance(words[i], strlen(words[i]), words[j], strlen(words[j])));
        }
    }
}

static void distance_is_capped_and_bounded(void **state) {
    (void)state;
    char longest[63];
    char longer[64];
    memset(longest, 'x', sizeof longest);
    memset(longer, 'x', sizeof longer);
    const struct text at = {.start = longest, .length = sizeof longest};
    const struct text over = {.start = longer, .length = sizeof longer};
    assert_int_equal(text_distance(text_of("delay"), text_of("zones"), 2), 3);
    assert_int_equal(text_distance(text_of("delay"), text_of("relays"), 2), 2);
    assert_int_equal(text_distance(at, at, 2), 0);
    assert_int_equal(text_distance(over, over, 2), 3);
    assert_int_equal(text_distance((struct text){0}, text_of("ab"), 5), 2);
    /* 63 letters, not 63 bytes. */
    char greek[2 * 64 + 1] = "";
    for (size_t i = 0; i < 64; i++) {
        strcat(greek, "α");
    }
    const struct text all = {.start = greek, .length = (size_t)2 * 63};
    assert_int_equal(text_distance(all, all, 2), 0);
    assert_int_equal(text_distance(text_of(greek), text_of(greek), 2), 3);
}

/* RFC 3629: bytes 10xxxxxx follow, all others begin a character. */
static void columns_count_characters(void **state) {
    (void)state;
    assert_int_equal(text_columns(text_of("Quay")), 4);
    assert_int_equal(text_columns(text_of("B\xC3\xA4"
                                          "cker")),
            6);
    assert_int_equal(text_columns(text_of("\xE2\x82\xAC \xF0\x9F\x9A\xAA")), 3);
    assert_int_equal(text_columns((struct text){0}), 0);
}

/* Expected: classes W, F and combining marks of Unicode UAX 11, as Python's unicodedata gives them. */
static void wide_characters_take_two_cells(void **state) {
    (void)state;
    assert_int_equal(text_cells(text_of("Quay")), 4);
    assert_int_equal(text_cells(text_of("\xCE\xB1\xCF\x85\xCE\xBB\xCE\xAE")), 4); /* Greek */
    assert_int_equal(text_cells(text_of("\xC5\x82\xC4\x85")), 2);                 /* Polish */
    assert_int_equal(text_cells(text_of("\xE7\x8E\x84\xE9\x96\xA2")), 4);         /* Japanese */
    assert_int_equal(text_cells(text_of("\xE3\x83\x89\xE3\x82\xA2 1")), 6);       /* katakana */
    assert_int_equal(text_cells(text_of("e\xCC\x81")), 1);                        /* combining */
    assert_int_equal(text_cells(text_of("葛\U000E0100")), 2);                     /* a form of it */
    assert_int_equal(text_cells((struct text){0}), 0);
}

/* Source: ECMA-48, 5.2 (C0), 5.3 (C1: U+0080 to U+009F); RFC 3629. */
static void what_steers_a_terminal_becomes_dots(void **state) {
    (void)state;
    char bytes[] = "\033]0;x\007 a\tb\n\x7F \xC2\x9B"
                   "31m \xC2\xA0 \xC3\xA9 \xC2";
    text_tame(bytes, sizeof bytes - 1);
    assert_string_equal(bytes, ".]0;x. a.b\n. ..31m \xC2\xA0 \xC3\xA9 \xC2");
}

static void copies_stand_alone(void **state) {
    (void)state;
    unsigned left = 1;
    struct arena arena;
    char source[] = "yard door";
    make_arena(&arena, &left);
    const struct text copy = text_copy(&arena, (struct text){.start = source, .length = 4});
    source[0] = 'X';
    assert_string_equal(copy.start, "yard"); /* ended by a NUL */
    assert_int_equal(copy.length, 4);
    const struct text empty = text_copy(&arena, (struct text){0});
    assert_int_equal(empty.length, 0);
    assert_string_equal(empty.start, "");
    arena_finish(&arena);
}

static void builder_grows_and_keeps_what_it_has(void **state) {
    (void)state;
    unsigned left = 20;
    struct arena arena;
    struct text_builder builder;
    make_arena(&arena, &left);
    text_builder_init(&builder, &arena);
    assert_true(text_is(text_built(&builder), ""));
    for (int i = 0; i < 1000; i++) {
        text_add_format(&builder, "%d,", i % 10);
    }
    const struct text built = text_built(&builder);
    assert_int_equal(built.length, 2000);
    assert_int_equal(built.start[built.length], '\0');
    for (size_t i = 0; i < built.length; i += 2) {
        assert_int_equal(built.start[i], '0' + (int)(i / 2 % 10));
        assert_int_equal(built.start[i + 1], ',');
    }
    arena_finish(&arena);
}

/* A length that fills the first block to the byte, one less and one more: the NUL has its room. */
static void builder_is_right_at_its_edges(void **state) {
    (void)state;
    for (size_t length = 120; length < 140; length++) {
        unsigned left = 20;
        struct arena arena;
        struct text_builder builder;
        char piece[200];
        memset(piece, 'p', sizeof piece);
        make_arena(&arena, &left);
        text_builder_init(&builder, &arena);
        text_add(&builder, (struct text){.start = piece, .length = length});
        text_add_char(&builder, '!');
        text_add(&builder, (struct text){0});
        text_add_string(&builder, "");
        const struct text built = text_built(&builder);
        assert_int_equal(built.length, length + 1);
        assert_int_equal(built.start[length], '!');
        assert_int_equal(built.start[length + 1], '\0');
        arena_finish(&arena);
    }
}

/* The NUL of a text that fills its block lies in the block, not in whatever the arena gave next. */
static void builder_keeps_to_its_block(void **state) {
    (void)state;
    for (size_t length = 100; length < 160; length++) {
        unsigned left = 20;
        struct arena arena;
        struct text_builder builder;
        char piece[160];
        memset(piece, 'p', sizeof piece);
        make_arena(&arena, &left);
        text_builder_init(&builder, &arena);
        text_add_char(&builder, '>');
        unsigned char *next = arena_take(&arena, 1, 16);
        memset(next, 0xFF, 16);
        text_add(&builder, (struct text){.start = piece, .length = length});
        assert_int_equal(text_built(&builder).length, length + 1);
        assert_int_equal(next[0], 0xFF);
        arena_finish(&arena);
    }
}

static void refused_memory_is_remembered(void **state) {
    (void)state;
    unsigned left = 0;
    struct arena arena;
    struct text_builder builder;
    make_arena(&arena, &left);
    text_builder_init(&builder, &arena);
    text_add_string(&builder, "lost");
    left = 10;
    text_add_string(&builder, "kept"); /* dropped: half a text is worse than none */
    assert_true(builder.failed);
    assert_null(text_built(&builder).start);
    assert_int_equal(text_built(&builder).length, 0);
    left = 0;
    assert_null(text_print(&arena, "%d", 1).start);
    assert_null(text_copy(&arena, text_of("x")).start);
    arena_finish(&arena);
}

static void printing_is_as_long_as_it_is(void **state) {
    (void)state;
    unsigned left = 20;
    struct arena arena;
    make_arena(&arena, &left);
    const struct text printed = text_print(&arena, "%s %5000d.", "zone", 4);
    assert_int_equal(printed.length, 5006);
    assert_int_equal(printed.start[5004], '4');
    assert_int_equal(printed.start[5006], '\0');
    assert_true(text_is(text_print(&arena, "%.*s", TEXT_ARGS(((struct text){0}))), ""));
    arena_finish(&arena);
}

static void a_text_begins_with_its_first_bytes(void **state) {
    (void)state;
    assert_true(text_begins(text_of("waiver.ended"), text_of("waiver.")));
    assert_true(text_begins(text_of("waiver."), text_of("waiver.")));
    assert_true(text_begins(text_of("waiver"), (struct text){0}));
    assert_true(text_begins((struct text){0}, (struct text){0}));
    assert_false(text_begins(text_of("waiver"), text_of("waiver.")));
    assert_false(text_begins(text_of("my waiver."), text_of("waiver.")));
    assert_false(text_begins((struct text){0}, text_of("w")));
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(slices_compare_by_bytes),
            cmocka_unit_test(a_text_begins_with_its_first_bytes),
            cmocka_unit_test(single_errors_count_one),
            cmocka_unit_test(known_distances),
            cmocka_unit_test(every_short_pair_agrees_with_the_definition),
            cmocka_unit_test(distance_is_capped_and_bounded),
            cmocka_unit_test(letters_count_and_not_bytes),
            cmocka_unit_test(capitals_compare_as_small_letters),
            cmocka_unit_test(a_slip_reaches_a_third),
            cmocka_unit_test(columns_count_characters),
            cmocka_unit_test(wide_characters_take_two_cells),
            cmocka_unit_test(what_steers_a_terminal_becomes_dots),
            cmocka_unit_test(copies_stand_alone),
            cmocka_unit_test(builder_grows_and_keeps_what_it_has),
            cmocka_unit_test(builder_is_right_at_its_edges),
            cmocka_unit_test(builder_keeps_to_its_block),
            cmocka_unit_test(refused_memory_is_remembered),
            cmocka_unit_test(printing_is_as_long_as_it_is),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
