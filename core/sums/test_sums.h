/* For the tests of sums: runs one from a line of words. */
#ifndef LINTEL_SUMS_TEST_SUMS_H
#define LINTEL_SUMS_TEST_SUMS_H

#include "sums/sums.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

static void *get_page(void *context, size_t size) {
    (void)context;
    return malloc(size);
}

static void give_page(void *context, void *block, size_t size) {
    (void)context;
    (void)size;
    free(block);
}

/** A sum that was run. */
struct ran {
    struct arena arena;
    struct sums_answer answer;
    struct problem problem;
    bool good;
};

/** "radio wall brick:100mm --mhz 433.92": words between single spaces. Finish it. */
static struct ran run_words(const char *line) {
    struct ran ran = {.good = false};
    struct text words[SUMS_WORDS_MOST + 4];
    size_t count = 0;
    arena_init(&ran.arena, (struct pages){.get = get_page, .give = give_page}, 0);
    while (*line != '\0' && count < sizeof words / sizeof words[0]) {
        const size_t length = strcspn(line, " ");
        words[count++] = (struct text){line, length};
        line += length + (line[length] == ' ');
    }
    assert_true(count >= 2);
    const struct sums_sum *sum = sums_find(text_copy(&ran.arena, words[0]).start, words[1]);
    assert_non_null(sum);
    ran.good = sums_run(sum, words + 2, count - 2, &ran.arena, &ran.answer, &ran.problem).good;
    return ran;
}

static void finish_run(struct ran *ran) {
    arena_finish(&ran->arena);
}

/** The figure of this key, of this item where one is named. */
static const struct sums_figure *figure_of(
        const struct ran *ran, const char *key, const char *item) {
    for (size_t i = 0; i < ran->answer.figure_count; i++) {
        const struct sums_figure *figure = &ran->answer.figures[i];
        if (strcmp(figure->key, key) == 0 && (item == NULL || text_is(figure->item, item))) {
            return figure;
        }
    }
    fail_msg("there is no figure %s of %s", key, item == NULL ? "all" : item);
    return NULL;
}

/** The figure of this line is this number, to within half of its last decimal given. */
static void assert_figure(
        const char *line, const char *key, const char *item, double value, double within) {
    struct ran ran = run_words(line);
    if (!ran.good) {
        fail_msg("%s: %s", line, ran.problem.text);
    }
    const struct sums_figure *figure = figure_of(&ran, key, item);
    if (!(fabs(figure->low - value) <= within)) {
        fail_msg("%s: %s is %.9g, not %.9g", line, key, figure->low, value);
    }
    finish_run(&ran);
}

static void assert_refused(const char *line, const char *text) {
    struct ran ran = run_words(line);
    if (ran.good || strcmp(ran.problem.text, text) != 0) {
        fail_msg("%s: %s", line, ran.good ? "is worked out" : ran.problem.text);
    }
    finish_run(&ran);
}

#endif
