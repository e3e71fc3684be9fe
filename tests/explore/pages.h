/* Pages for tests of exploring: counts what is out, and can refuse. */
#ifndef LINTEL_TESTS_EXPLORE_PAGES_H
#define LINTEL_TESTS_EXPLORE_PAGES_H

#include "base/arena.h"

/** out: blocks not given back. asked: calls of get so far. refuse_at: the number of the call that gets NULL, from 1; 0:
 *  none. refuse_after: all later calls too. */
struct test_pages {
    size_t out;
    size_t asked;
    size_t refuse_at;
    bool refuse_after;
};

/** Pages over the heap that count in *test_pages; borrows it. */
struct pages test_pages_over_heap(struct test_pages *test_pages);

#endif
