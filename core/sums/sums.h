/* Quick sums: the words of a command line in, figures with unit, formula and source out. What a technician works
 * out on a ladder without a site file: one wall, one link, one cable, one battery.
 *
 * Here is what all of them share: a table of options, reading the words, the answer. The physics is core/radio and
 * core/power. Nothing here prints; every figure of an answer is finite. */
#ifndef LINTEL_SUMS_SUMS_H
#define LINTEL_SUMS_SUMS_H

#include "base/quantity.h"

enum {
    SUMS_OPTIONS_MOST = 24,
    SUMS_WORDS_MOST = 64,          /* of one command line */
    SUMS_FIGURES_MOST = 512,       /* of a quick sum */
    SUMS_SITE_FIGURES_MOST = 3072, /* of a whole site */
    SUMS_NOTES_MOST = 16,
};

/** What an option takes. */
enum sums_takes {
    SUMS_QUANTITY, /* a number with its unit */
    SUMS_LENGTH,   /* a metric length, or feet and inches; in metres */
    SUMS_COUNT,    /* a whole number */
    SUMS_NUMBER,   /* a number without a unit */
    SUMS_WORD,     /* one of `choices`, or any word where there are none */
};

/** An option. bare_unit: what a number without a unit counts in; NULL: the unit must be written. low, high: what is
 *  allowed, in the unit of the kind. usual: what counts where the option is left out; NULL: it must be given; "":
 *  it may be left out. from_to: "0..100 ohm" is taken. many: may be given several times. */
struct sums_option {
    const char *name;
    enum sums_takes takes;
    enum quantity_kind kind;
    const char *bare_unit;
    double low;
    double high;
    const char *usual;
    const char *choices; /* "single double triple" */
    const char *shown;   /* "FREQUENCY": what stands behind the name in the help */
    const char *help;
    bool from_to;
    bool many;
};

/** What was given, or counts as usual. count: how often (0: left out). word: the last one. */
struct sums_value {
    size_t count;
    double low;
    double high;
    struct text word;
};

/** A figure. key: its name in JSON, unit included ("loss_db"). low, high: in `unit`; from_to: they are two ends,
 *  else one and the same. words: instead of numbers. label: "" where a list's item says it all. remark: beside the
 *  figure. how: the formula with its numbers; source: where it comes from. list, item: figures of several things of
 *  one kind ("states", "normal") share a list; NULL for the others. minor: of such an item, but not worth its words:
 *  left out where figures are told in words. */
struct sums_figure {
    const char *key;
    const char *label;
    double low;
    double high;
    bool from_to;
    int decimals;
    const char *unit;
    struct text words;
    struct text remark;
    struct text how;
    const char *source;
    const char *list;
    struct text item;
    bool minor;
};

/** The answer. title: what was worked out. wrong: the verdict is bad (it does not fit, it does not reach). */
struct sums_answer {
    struct arena *arena;
    struct text title;
    struct sums_figure *figures;
    size_t figure_count;
    size_t figure_most;
    struct text notes[SUMS_NOTES_MOST];
    size_t note_count;
    bool wrong;
};

struct sums_sum;

/** What was asked: values in the order of the sum's options; words: what stands beside the options. every: the
 *  option's index of each word of `many`, with the word, in the order given. */
struct sums_ask {
    const struct sums_sum *sum;
    struct sums_value values[SUMS_OPTIONS_MOST];
    struct text words[SUMS_WORDS_MOST];
    size_t word_count;
    struct {
        size_t option;
        struct text word;
    } every[SUMS_WORDS_MOST];
    size_t every_count;
};

/** A quick sum: "radio wall". takes: what stands behind its name; words_least, words_most: of these. work: fails
 *  with a problem that says what to write instead. */
struct sums_sum {
    const char *command;
    const char *name;
    const char *takes;
    const char *answers;
    const struct sums_option *options;
    size_t option_count;
    size_t words_least;
    size_t words_most;
    outcome (*work)(
            const struct sums_ask *ask, struct sums_answer *answer, struct problem *ret_problem);
};

/** Every sum, those of one command together. */
size_t sums_count(void);
const struct sums_sum *sums_at(size_t index);

/** The sum of this name, or NULL. */
const struct sums_sum *sums_find(const char *command, struct text name);

/** Reads the words behind the sum's name and works it out. words: borrows. ret_answer: gives, in the arena. Fails
 *  MISSING, BAD_VALUE, UNREADABLE (the words) or as the sum does. */
outcome sums_run(const struct sums_sum *sum, const struct text *words, size_t count,
        struct arena *arena, struct sums_answer *ret_answer, struct problem *ret_problem)
        MUST_CHECK;

#endif
