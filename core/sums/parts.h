/* The sums, one file each, and what they share. Internal to core/sums. */
#ifndef LINTEL_SUMS_PARTS_H
#define LINTEL_SUMS_PARTS_H

#include "sums/sums.h"

#include <assert.h>
#include <math.h>

#define SUMS_OPTIONS(array) .options = (array), .option_count = sizeof(array) / sizeof((array)[0])

extern const struct sums_sum sums_radio_wall;
extern const struct sums_sum sums_radio_link;
extern const struct sums_sum sums_radio_supervise;
extern const struct sums_sum sums_radio_traffic;
extern const struct sums_sum sums_power_standby;
extern const struct sums_sum sums_power_wire;
extern const struct sums_sum sums_power_tree;
extern const struct sums_sum sums_power_loop;
extern const struct sums_sum sums_power_battery;
extern const struct sums_sum sums_power_magnet;

/** Reads the words by the sum's table of options. */
outcome sums_read(struct sums_ask *ask, const struct text *words, size_t count, struct arena *arena,
        struct problem *ret_problem) MUST_CHECK;

/** Reads one value as an option would. Fails as quantity_read, or BAD_VALUE out of its range. */
outcome sums_read_value(const struct sums_option *option, struct text word, struct arena *arena,
        double *ret_low, double *ret_high, struct problem *ret_problem) MUST_CHECK;

/** Adds a figure and gives it for its remark, formula and source. Values: finite. key, label, unit: kept. */
struct sums_figure *sums_add(struct sums_answer *answer, const char *key, const char *label,
        double value, int decimals, const char *unit);
struct sums_figure *sums_add_range(struct sums_answer *answer, const char *key, const char *label,
        double low, double high, int decimals, const char *unit);
struct sums_figure *sums_add_words(
        struct sums_answer *answer, const char *key, const char *label, struct text words);

/** Makes it a figure of one item of a list: items of one list stand together. Gives the figure. list: kept. */
struct sums_figure *sums_of(struct sums_figure *figure, const char *list, struct text item);

/** Says how a figure came about. source: kept. */
void sums_explain(struct sums_figure *figure, struct text how, const char *source);

/** Prints into the answer's arena. */
struct text sums_text(struct sums_answer *answer, const char *format, ...)
        __attribute__((format(printf, 2, 3)));

/** How many decimals show what was given: 2 of 12.25, none of 12; 3 at most. */
int sums_decimals(double value);

/** A note below the figures; the same words stand there once. */
void sums_note(struct sums_answer *answer, struct text note);

#endif
