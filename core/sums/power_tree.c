/* lintel power tree: the volts at each device of a branching cable. */
#include "sums/gauges.h"

#include <string.h>

enum { SUPPLY, NEEDS, TEMPERATURE, CONDUCTOR };

static const struct sums_option options[] = {
        [SUPPLY] = {.name = "supply",
                .takes = SUMS_QUANTITY,
                .kind = QUANTITY_VOLTAGE_V,
                .low = 0.1,
                .high = 60,
                .shown = "VOLTAGE",
                .help = "the lowest there is: 10.5V of a 12 V battery at its end"},
        [NEEDS] = {.name = "needs",
                .takes = SUMS_QUANTITY,
                .kind = QUANTITY_VOLTAGE_V,
                .low = 0.1,
                .high = 60,
                .usual = "",
                .shown = "VOLTAGE",
                .help = "what every device needs (else 90 % of the supply)"},
        [TEMPERATURE] = SUMS_OPTION_TEMPERATURE,
        [CONDUCTOR] = SUMS_OPTION_CONDUCTOR,
};

static const struct sums_option length_option = {.name = "length",
        .takes = SUMS_LENGTH,
        .kind = QUANTITY_LENGTH_M,
        .low = 0,
        .high = 10000};
static const struct sums_option load_option = {.name = "load",
        .takes = SUMS_QUANTITY,
        .kind = QUANTITY_CURRENT_MA,
        .low = 0,
        .high = 1000000};

enum { NAME, FROM, GAUGE, LENGTH, LOAD, PART_COUNT };

/* "keypad:supply:22awg:12m:80mA" in its parts. */
static outcome split(struct text word, struct text *parts, struct problem *ret_problem) {
    struct text rest = word;
    size_t count = 0;
    for (bool more = true; more; count++) {
        const char *colon = rest.length == 0 ? NULL : memchr(rest.start, ':', rest.length);
        const size_t length = colon == NULL ? rest.length : (size_t)(colon - rest.start);
        if (count < PART_COUNT) {
            parts[count] = (struct text){rest.start, length};
        }
        more = colon != NULL;
        if (more) {
            rest = (struct text){colon + 1, rest.length - length - 1};
        }
    }
    if (count != PART_COUNT || parts[NAME].length == 0 || parts[FROM].length == 0) {
        FAIL(ret_problem, PROBLEM_UNREADABLE, "",
                "\"%.*s\" is no run; write NAME:FROM:GAUGE:LENGTH:CURRENT, for example "
                "keypad:supply:22awg:12m:80mA",
                (int)(word.length > 60 ? 60 : word.length), word.length == 0 ? "" : word.start);
    }
    return outcome_good();
}

static int index_of(const struct text (*parts)[PART_COUNT], size_t count, struct text name) {
    for (size_t i = 0; i < count; i++) {
        if (text_equal(parts[i][NAME], name)) {
            return (int)i;
        }
    }
    return POWER_SUPPLY;
}

static outcome find_from(const struct text (*parts)[PART_COUNT], size_t count, size_t index,
        int *ret_from, struct problem *ret_problem) {
    const struct text from = parts[index][FROM];
    *ret_from = index_of(parts, count, from);
    if (*ret_from == POWER_SUPPLY && !text_is(from, "supply")) {
        FAIL(ret_problem, PROBLEM_MISSING, "",
                "\"%.*s\" begins at \"%.*s\", which is no run; begin at supply or at another run",
                (int)(parts[index][NAME].length > 40 ? 40 : parts[index][NAME].length),
                parts[index][NAME].start, (int)(from.length > 40 ? 40 : from.length), from.start);
    }
    if (text_is(parts[index][NAME], "supply") ||
            index_of(parts, count, parts[index][NAME]) != (int)index) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "two places are called \"%.*s\"",
                (int)(parts[index][NAME].length > 40 ? 40 : parts[index][NAME].length),
                parts[index][NAME].start);
    }
    return outcome_good();
}

static outcome read_run(const struct sums_ask *ask, const struct text *parts, struct arena *arena,
        struct power_run *run, struct problem *ret_problem) {
    double section_mm2 = 0;
    double ohm_m = 0;
    double length_m = 0;
    double load_ma = 0;
    double same = 0;
    struct problem problem = {0};
    if (!power_gauge_read(parts[GAUGE], &section_mm2, &problem).good ||
            !power_wire_ohm_m(section_mm2, ask->values[TEMPERATURE].low,
                    sums_conductor(&ask->values[CONDUCTOR]), &ohm_m, &problem)
                     .good ||
            !sums_read_value(&length_option, parts[LENGTH], arena, &length_m, &same, &problem)
                     .good ||
            !sums_read_value(&load_option, parts[LOAD], arena, &load_ma, &same, &problem).good) {
        FAIL(ret_problem, problem.kind, "", "\"%.*s\": %s",
                (int)(parts[NAME].length > 40 ? 40 : parts[NAME].length), parts[NAME].start,
                problem.text);
    }
    run->ohm = 2 * ohm_m * length_m;
    run->load_a = load_ma / 1000;
    return outcome_good();
}

static void add_place(struct sums_answer *answer, const struct text *parts,
        const struct power_run *run, const struct power_place *place, double needs_v) {
    struct sums_figure *figure = sums_of(
            sums_add(answer, "volts", "", fmax(0, place->volts), 2, "V"), "places", parts[NAME]);
    figure->remark = place->volts < needs_v ? text_of("too low") : (struct text){0};
    sums_explain(figure,
            sums_text(answer, "volts at %.*s - %.3f ohm x %.4g A, not under 0",
                    TEXT_ARGS(parts[FROM]), run->ohm, place->current_a),
            "Kirchhoff");
    figure = sums_of(sums_add(answer, "current_a", "its cable carries", place->current_a, 3, "A"),
            "places", parts[NAME]);
    sums_explain(figure, text_of("its own load and all that hangs behind it"), "Kirchhoff");
}

static outcome work(
        const struct sums_ask *ask, struct sums_answer *answer, struct problem *ret_problem) {
    struct text parts[POWER_TREE_MOST][PART_COUNT];
    struct power_run runs[POWER_TREE_MOST] = {0};
    struct power_place places[POWER_TREE_MOST] = {0};
    const double supply_v = ask->values[SUPPLY].low;
    const double needs_v = ask->values[NEEDS].count > 0 ? ask->values[NEEDS].low : 0.9 * supply_v;
    for (size_t i = 0; i < ask->word_count; i++) {
        TRY(split(ask->words[i], parts[i], ret_problem));
    }
    for (size_t i = 0; i < ask->word_count; i++) {
        TRY(find_from((const struct text(*)[PART_COUNT])parts, ask->word_count, i, &runs[i].from,
                ret_problem));
        TRY(read_run(ask, parts[i], answer->arena, &runs[i], ret_problem));
    }
    TRY(power_tree(runs, ask->word_count, supply_v, places, ret_problem));
    answer->title =
            sums_text(answer, "Cable tree of %zu runs from %g V", ask->word_count, supply_v);
    size_t lowest = 0;
    for (size_t i = 0; i < ask->word_count; i++) {
        add_place(answer, parts[i], &runs[i], &places[i], needs_v);
        lowest = places[i].volts < places[lowest].volts ? i : lowest;
    }
    answer->wrong = places[lowest].volts < needs_v;
    sums_add_words(answer, "verdict", "verdict",
            sums_text(answer, "%.*s gets least, %.2f V; %.2f V are needed: %s",
                    TEXT_ARGS(parts[lowest][NAME]), fmax(0, places[lowest].volts), needs_v,
                    answer->wrong ? "too little" : "fits"));
    sums_note(answer, text_of("loads are taken to draw the same at every voltage"));
    return outcome_good();
}

const struct sums_sum sums_power_tree = {
        .command = "power",
        .name = "tree",
        .takes = "NAME:FROM:GAUGE:LENGTH:CURRENT ... --supply VOLTAGE",
        .answers = "the volts at each device of a branching cable; FROM is supply, or another NAME",
        SUMS_OPTIONS(options),
        .words_least = 1,
        .words_most = POWER_TREE_MOST - 8,
        .work = work,
};
