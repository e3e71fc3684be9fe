/* What the tests of documents share: pages that can be refused, reading a text, looking for a problem. */
#ifndef LINTEL_DOCUMENT_TEST_DOCUMENT_H
#define LINTEL_DOCUMENT_TEST_DOCUMENT_H

#include "document/document.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

/** left: pages until one is refused, -1: never; for_ever: and every one after it. out: not given back. */
struct test_pages {
    long left;
    bool for_ever;
    long taken;
    long out;
};

static inline void *test_get(void *context, size_t size) {
    struct test_pages *pages = context;
    pages->taken++;
    if (pages->left == 0) {
        pages->left = pages->for_ever ? 0 : -1;
        return NULL;
    }
    pages->left -= pages->left > 0;
    pages->out++;
    return malloc(size);
}

static inline void test_give(void *context, void *block, size_t size) {
    struct test_pages *pages = context;
    (void)size;
    pages->out--;
    free(block);
}

static inline struct pages test_pages(struct test_pages *pages) {
    return (struct pages){.get = test_get, .give = test_give, .context = pages};
}

/** The path of something in shell/document/fixtures; gives one of four buffers in turn. */
static inline const char *test_fixture(const char *name) {
    static char paths[4][1024];
    static int turn;
    const char *source = getenv("LINTEL_SOURCE");
    turn = (turn + 1) % 4;
    (void)snprintf(paths[turn], sizeof paths[turn], "%s/shell/document/fixtures/%s",
            source == NULL ? "." : source, name);
    return paths[turn];
}

/** Whether some problem's line, as it is printed, contains all of the part. */
static inline bool test_told(struct document *document, const char *part) {
    for (size_t i = 0; i < document->problem_count; i++) {
        struct text_builder builder;
        text_builder_init(&builder, &document->arena);
        document_problem_add(&builder, &document->problems[i]);
        const struct text line = text_built(&builder);
        if (line.start != NULL && strstr(line.start, part) != NULL) {
            return true;
        }
    }
    return false;
}

static inline void test_print_problems(struct document *document) {
    for (size_t i = 0; i < document->problem_count; i++) {
        struct text_builder builder;
        text_builder_init(&builder, &document->arena);
        document_problem_add(&builder, &document->problems[i]);
        const struct text line = text_built(&builder);
        print_message("# %.*s\n", TEXT_ARGS(line));
    }
}

#endif
