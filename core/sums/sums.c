#include "sums/parts.h"

#include <string.h>

static const struct sums_sum *const sums[] = {
        &sums_radio_wall,
        &sums_radio_link,
        &sums_radio_supervise,
        &sums_radio_traffic,
        &sums_power_standby,
        &sums_power_wire,
        &sums_power_tree,
        &sums_power_loop,
        &sums_power_battery,
        &sums_power_magnet,
};

size_t sums_count(void) {
    return sizeof sums / sizeof sums[0];
}

const struct sums_sum *sums_at(size_t index) {
    return sums[index];
}

const struct sums_sum *sums_find(const char *command, struct text name) {
    for (size_t i = 0; i < sums_count(); i++) {
        if (strcmp(sums[i]->command, command) == 0 && text_is(name, sums[i]->name)) {
            return sums[i];
        }
    }
    return NULL;
}

struct sums_figure *sums_add_range(struct sums_answer *answer, const char *key, const char *label,
        double low, double high, int decimals, const char *unit) {
    assert(isfinite(low) && isfinite(high) && answer->figure_count < answer->figure_most);
    struct sums_figure *figure = &answer->figures[answer->figure_count++];
    *figure = (struct sums_figure){.key = key,
            .label = label,
            .low = low,
            .high = high,
            .from_to = true,
            .decimals = decimals,
            .unit = unit,
            .source = ""};
    return figure;
}

struct sums_figure *sums_add(struct sums_answer *answer, const char *key, const char *label,
        double value, int decimals, const char *unit) {
    struct sums_figure *figure = sums_add_range(answer, key, label, value, value, decimals, unit);
    figure->from_to = false;
    return figure;
}

struct sums_figure *sums_of(struct sums_figure *figure, const char *list, struct text item) {
    figure->list = list;
    figure->item = item;
    return figure;
}

void sums_explain(struct sums_figure *figure, struct text how, const char *source) {
    figure->how = how;
    figure->source = source;
}

struct sums_figure *sums_add_words(
        struct sums_answer *answer, const char *key, const char *label, struct text words) {
    struct sums_figure *figure = sums_add(answer, key, label, 0, 0, "");
    figure->words = words;
    return figure;
}

struct text sums_text(struct sums_answer *answer, const char *format, ...) {
    struct text_builder built;
    va_list arguments;
    text_builder_init(&built, answer->arena);
    va_start(arguments, format);
    text_add_format_list(&built, format, arguments);
    va_end(arguments);
    return text_built(&built);
}

int sums_decimals(double value) {
    static const double GRAIN = 1e-6; /* of a thousandth: what a double makes of a decimal */
    int decimals = 0;
    for (; decimals < 3 && fabs(value - round(value)) > GRAIN; decimals++) {
        value *= 10;
    }
    return decimals;
}

void sums_note(struct sums_answer *answer, struct text note) {
    for (size_t i = 0; i < answer->note_count; i++) {
        if (text_equal(answer->notes[i], note)) {
            return;
        }
    }
    if (answer->note_count < SUMS_NOTES_MOST) {
        answer->notes[answer->note_count++] = note;
    }
}

outcome sums_run(const struct sums_sum *sum, const struct text *words, size_t count,
        struct arena *arena, struct sums_answer *ret_answer, struct problem *ret_problem) {
    struct sums_ask ask = {.sum = sum};
    struct sums_answer answer = {.arena = arena, .figure_most = SUMS_FIGURES_MOST};
    TRY(sums_read(&ask, words, count, arena, ret_problem));
    answer.figures = ARENA_ARRAY(arena, struct sums_figure, SUMS_FIGURES_MOST);
    if (answer.figures == NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory for the answer");
    }
    TRY(sum->work(&ask, &answer, ret_problem));
    if (arena->refused) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory for the answer");
    }
    *ret_answer = answer;
    return outcome_good();
}
