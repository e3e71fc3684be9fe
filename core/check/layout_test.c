/* Layout: no line passes the width, later lines hang, words stay whole where they can, colour is extra. */
#include "check/layout.h"

#include "check/test_site.h"

#include <stdio.h>

struct paper {
    struct arena arena;
    struct text_builder out;
    struct layout layout;
};

static void paper_begin(struct paper *paper, size_t width, bool colour) {
    arena_init(&paper->arena, test_pages(), 0);
    text_builder_init(&paper->out, &paper->arena);
    paper->layout = (struct layout){.out = &paper->out, .width = width, .colour = colour};
}

static void check_paper(struct paper *paper, const char *expected) {
    const struct text got = text_built(&paper->out);
    assert_non_null(got.start);
    assert_string_equal(got.start, expected);
    arena_finish(&paper->arena);
}

static void words_wrap_and_hang(void **state) {
    (void)state;
    struct paper paper;
    paper_begin(&paper, 20, false);
    layout_put_string(&paper.layout, "why", LAYOUT_PLAIN);
    layout_to(&paper.layout, 6);
    layout_words(&paper.layout, text_of("one two three four five six"), 6, LAYOUT_PLAIN);
    layout_end_line(&paper.layout);
    check_paper(&paper,
            "why   one two three\n"
            "      four five six\n");
}

static void a_line_may_be_full_to_the_last_column(void **state) {
    (void)state;
    struct paper paper;
    paper_begin(&paper, 9, false);
    layout_words(&paper.layout, text_of("1234 6789 1234"), 0, LAYOUT_PLAIN);
    check_paper(&paper, "1234 6789\n1234");
}

static void a_word_longer_than_the_line_is_cut_between_characters(void **state) {
    (void)state;
    struct paper paper;
    paper_begin(&paper, 8, false);
    layout_words(&paper.layout,
            text_of("a \xC3\xA4\xC3\xA4\xC3\xA4\xC3\xA4\xC3\xA4\xC3\xA4\xC3\xA4 b"), 2,
            LAYOUT_PLAIN);
    check_paper(&paper, "a \xC3\xA4\xC3\xA4\xC3\xA4\xC3\xA4\xC3\xA4\xC3\xA4\n  \xC3\xA4 b");
}

/* East Asian letters take two columns (Unicode UAX 11, class W), marks none: a line of eight takes four, and a single
 * column that is left stays blank. */
static void wide_letters_take_two_columns(void **state) {
    (void)state;
    struct paper paper;
    paper_begin(&paper, 8, false);
    layout_words(&paper.layout, text_of("玄関 台所 庭"), 0, LAYOUT_PLAIN);
    check_paper(&paper, "玄関\n台所 庭");
    paper_begin(&paper, 7, false);
    layout_words(&paper.layout, text_of("玄関の扉は外へ"), 2, LAYOUT_PLAIN);
    check_paper(&paper, "玄関の\n  扉は\n  外へ");
    paper_begin(&paper, 6, false);
    layout_words(&paper.layout, text_of("e\u0301e\u0301e\u0301 e\u0301e\u0301"), 0, LAYOUT_PLAIN);
    check_paper(&paper, "e\u0301e\u0301e\u0301 e\u0301e\u0301");
    paper_begin(&paper, 6, false);
    layout_to(&paper.layout, 5);
    layout_words(&paper.layout, text_of("庭園"), 5, LAYOUT_PLAIN);
    check_paper(&paper, "     庭\n     園");
}

/* Texts of every length and words of every length up to twice the width, at every hang. */
static void no_line_passes_the_width(void **state) {
    (void)state;
    enum { WIDTH = 24, LENGTH = 60 };
    char words[LENGTH + 1];
    for (size_t word = 1; word <= (size_t)2 * WIDTH; word++) {
        for (size_t hang = 0; hang < WIDTH - 1; hang++) {
            struct paper paper;
            for (size_t i = 0; i < LENGTH; i++) {
                words[i] = (i + 1) % (word + 1) == 0 ? ' ' : 'x';
            }
            words[LENGTH] = '\0';
            paper_begin(&paper, WIDTH, false);
            layout_to(&paper.layout, hang);
            layout_words(&paper.layout, text_of(words), hang, LAYOUT_PLAIN);
            const struct text got = text_built(&paper.out);
            size_t columns = 0;
            size_t letters = 0;
            for (size_t i = 0; i < got.length; i++) {
                columns = got.start[i] == '\n' ? 0 : columns + 1;
                letters += got.start[i] == 'x';
                assert_true(columns <= WIDTH);
            }
            assert_int_equal(letters, LENGTH - LENGTH / (word + 1));
            arena_finish(&paper.arena);
        }
    }
}

static void what_is_quoted_steers_no_terminal(void **state) {
    (void)state;
    struct paper paper;
    paper_begin(&paper, 20, false);
    layout_put_string(&paper.layout, "\033[1m ", LAYOUT_PLAIN);
    layout_words(&paper.layout,
            text_of("by \033]0;x\007 and "
                    "\033\033\033\033\033\033\033\033\033\033\033\033\033\033\033\033\033\033\033"
                    "\033\033\033"),
            0, LAYOUT_PLAIN);
    assert_null(strchr(text_built(&paper.out).start, '\033'));
    assert_null(strchr(text_built(&paper.out).start, '\007'));
    arena_finish(&paper.arena);
}

/* shows: colour never alone. */
static void colour_changes_nothing_but_colour(void **state) {
    (void)state;
    char plain[200];
    struct paper paper;
    paper_begin(&paper, 20, false);
    layout_words(&paper.layout, text_of("one two three four five six"), 4, LAYOUT_BAD);
    (void)snprintf(plain, sizeof plain, "%.*s", TEXT_ARGS(text_built(&paper.out)));
    assert_null(strchr(plain, '\033'));
    arena_finish(&paper.arena);

    paper_begin(&paper, 20, true);
    layout_words(&paper.layout, text_of("one two three four five six"), 4, LAYOUT_BAD);
    const struct text coloured = text_built(&paper.out);
    char stripped[200];
    size_t length = 0;
    size_t escapes = 0;
    for (size_t i = 0; i < coloured.length; i++) {
        if (coloured.start[i] == '\033') {
            escapes++;
            while (coloured.start[i] != 'm') {
                i++;
            }
        } else {
            stripped[length++] = coloured.start[i];
        }
    }
    stripped[length] = '\0';
    assert_string_equal(stripped, plain);
    assert_int_equal(escapes, 4); /* on and off, on each of two lines: the margin stays plain */
    arena_finish(&paper.arena);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(words_wrap_and_hang),
            cmocka_unit_test(a_line_may_be_full_to_the_last_column),
            cmocka_unit_test(a_word_longer_than_the_line_is_cut_between_characters),
            cmocka_unit_test(wide_letters_take_two_columns),
            cmocka_unit_test(no_line_passes_the_width),
            cmocka_unit_test(what_is_quoted_steers_no_terminal),
            cmocka_unit_test(colour_changes_nothing_but_colour),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
