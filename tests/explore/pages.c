#include "pages.h"

#include <stdlib.h>

static void *get(void *context, size_t size) {
    struct test_pages *pages = context;
    pages->asked++;
    if (pages->refuse_at != 0 &&
            (pages->asked == pages->refuse_at ||
                    (pages->refuse_after && pages->asked > pages->refuse_at))) {
        return NULL;
    }
    void *block = malloc(size);
    pages->out += block != NULL;
    return block;
}

static void give(void *context, void *block, size_t size) {
    struct test_pages *pages = context;
    (void)size;
    pages->out--;
    free(block);
}

struct pages test_pages_over_heap(struct test_pages *test_pages) {
    return (struct pages){.get = get, .give = give, .context = test_pages};
}
