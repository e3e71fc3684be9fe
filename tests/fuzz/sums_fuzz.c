/* Fuzz target: the words of quick sums. The first word picks the sum, the rest are its words. Whatever they are, a sum
 * refuses them with words that say what to do, or every figure of its answer is a number. */
#include "replay.h"

#include "sums/sums.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

const char *const replay_words[] = {" --mhz ", "433.92", " --wall ", "brick:100mm", ",", ":",
        "sheet:4ohm", " --angle ", "60", " --distance ", "20m", "40ft", " --power ", "-14.4dBm",
        " --sensitivity ", "-105dBm", " --loss ", "0..10dB", " --edition ", "2015", "metal:1mm",
        "22awg", "0.5mm2", "4.7kohm", " --leak ", " --resistor ", "2uA", "cr2032",
        "d1:supply:22awg:3m:1A", " d2:d1:", "70min", "12h", "30%", "7Ah", " --battery ", "=", "0",
        "..", "e9", "nan", "9999999", "0.001", "-"};
const size_t replay_word_count = sizeof replay_words / sizeof replay_words[0];

static void *get_page(void *context, size_t size) {
    (void)context;
    return malloc(size);
}

static void give_page(void *context, void *block, size_t size) {
    (void)context;
    (void)size;
    free(block);
}

static void promise(bool kept, const char *what) {
    if (!kept) {
        (void)fprintf(stderr, "%s\n", what);
        abort();
    }
}

static void look_at(const struct sums_answer *answer) {
    promise(answer->figure_count > 0, "an answer without a figure");
    for (size_t i = 0; i < answer->figure_count; i++) {
        const struct sums_figure *figure = &answer->figures[i];
        promise(isfinite(figure->low) && isfinite(figure->high), "a figure that is no number");
        promise(figure->low <= figure->high, "a from-to that runs backwards");
    }
}

/* Each word in a block of its own size, so that the sanitizer sees who reads past its end. */
static size_t split(struct text source, struct text *words) {
    size_t count = 0;
    while (source.length > 0 && count < SUMS_WORDS_MOST + 1) {
        const char *space = memchr(source.start, ' ', source.length);
        const size_t length = space == NULL ? source.length : (size_t)(space - source.start);
        if (length > 0) {
            char *bytes = malloc(length);
            promise(bytes != NULL, "no memory to fuzz with");
            memcpy(bytes, source.start, length);
            words[count++] = (struct text){bytes, length};
        }
        const size_t step = length + (space != NULL);
        source = (struct text){source.start + step, source.length - step};
    }
    return count;
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size) {
    struct text words[SUMS_WORDS_MOST + 1];
    const size_t count = split((struct text){(const char *)bytes, size}, words);
    for (size_t i = 0; i < sums_count(); i++) {
        struct arena arena;
        struct sums_answer answer;
        struct problem problem = {0};
        if (count == 0 || !text_is(words[0], sums_at(i)->name)) {
            continue;
        }
        arena_init(&arena, (struct pages){.get = get_page, .give = give_page}, 0);
        if (sums_run(sums_at(i), words + 1, count - 1, &arena, &answer, &problem).good) {
            look_at(&answer);
        } else {
            promise(problem.text[0] != '\0', "refused without a word");
        }
        arena_finish(&arena);
    }
    for (size_t i = 0; i < count; i++) {
        free((char *)words[i].start);
    }
    return 0;
}
