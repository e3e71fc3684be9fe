/* Fuzz target: the panel. The bytes key in a panel and say what happens to it (tests/panel/course.h); whatever they
 * are, every promise of a step holds. */
#include "course.h"
#include "replay.h"

#include <stdio.h>
#include <stdlib.h>

/* Runs of one byte: the same thing again and again. */
const char *const replay_words[] = {"\1\1\1\1\1\1", "\2\2\2\2\2\2", "\7\7\7\7\7\7", "\17\17\17\17"};
const size_t replay_word_count = sizeof replay_words / sizeof replay_words[0];

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size) {
    size_t event = 0;
    const char *broken = course_run(bytes, size, &event);
    if (broken != NULL) {
        (void)fprintf(stderr, "%s, at event %zu\n", broken, event);
        abort();
    }
    return 0;
}
