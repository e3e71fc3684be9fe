/* lintel power loop: what the panel sees of a zone loop in each state, and whether two can be taken for each other. */
#include "power/loop.h"
#include "sums/gauges.h"

#include <string.h>

enum {
    WIRING,
    RESISTOR,
    ALARM_RESISTOR,
    MASK_RESISTOR,
    TOLERANCE,
    LENGTH,
    GAUGE,
    TEMPERATURE,
    CONTACTS,
    LEAK,
    SUPPLY,
    PULL_UP,
    PULL_UP_TOLERANCE
};

#define OHM_OPTION(named, least, otherwise, text)                                                  \
    {                                                                                              \
        .name = (named), .takes = SUMS_QUANTITY, .kind = QUANTITY_RESISTANCE_OHM, .low = (least),  \
        .high = 10000000, .usual = (otherwise), .shown = "OHM", .help = (text)                     \
    }
#define PERCENT_OPTION(named, otherwise, text)                                                     \
    {                                                                                              \
        .name = (named), .takes = SUMS_QUANTITY, .kind = QUANTITY_PERCENT, .low = 0, .high = 50,   \
        .usual = (otherwise), .shown = "PERCENT", .help = (text)                                   \
    }

static const struct sums_option options[] = {
        [WIRING] = {.name = "wiring",
                .takes = SUMS_WORD,
                .choices = "plain single single-open double triple",
                .shown = "KIND",
                .help = "plain (no resistor), single (contact opens), single-open (contact "
                        "closes), "
                        "double, triple"},
        [RESISTOR] = OHM_OPTION("resistor", 1, "", "at the end of the line, such as 4.7kohm"),
        [ALARM_RESISTOR] =
                OHM_OPTION("alarm-resistor", 1, "", "across the contact (else the same)"),
        [MASK_RESISTOR] =
                OHM_OPTION("mask-resistor", 1, "", "across the second contact of a triple"),
        [TOLERANCE] = PERCENT_OPTION("tolerance", "5 %", "of every resistor"),
        [LENGTH] = {.name = "length",
                .takes = SUMS_LENGTH,
                .kind = QUANTITY_LENGTH_M,
                .low = 0,
                .high = 10000,
                .usual = "0 m",
                .shown = "LENGTH",
                .help = "of the cable, one way"},
        [GAUGE] = {.name = "gauge",
                .takes = SUMS_WORD,
                .usual = "22awg",
                .shown = "GAUGE",
                .help = "of the cable: 22awg, 0.5mm2, 0.6mm"},
        [TEMPERATURE] = SUMS_OPTION_TEMPERATURE,
        [CONTACTS] = OHM_OPTION("contacts", 0, "10 ohm", "most that contacts and joints add"),
        [LEAK] = OHM_OPTION("leak", 1, "", "least insulation between the wires; else none leaks"),
        [SUPPLY] = {.name = "supply",
                .takes = SUMS_QUANTITY,
                .kind = QUANTITY_VOLTAGE_V,
                .low = 0.1,
                .high = 60,
                .usual = "5 V",
                .shown = "VOLTAGE",
                .help = "with which the panel measures, by its manual"},
        [PULL_UP] =
                OHM_OPTION("pull-up", 1, "4.7 kohm", "through which it measures, by its manual"),
        [PULL_UP_TOLERANCE] = PERCENT_OPTION("pull-up-tolerance", "1 %", "of that"),
};

static enum power_wiring wiring_of(struct text word) {
    static const struct {
        const char *word;
        enum power_wiring wiring;
    } WORDS[] = {{"plain", POWER_LOOP_PLAIN}, {"single", POWER_LOOP_SINGLE_CLOSED},
            {"single-open", POWER_LOOP_SINGLE_OPEN}, {"double", POWER_LOOP_DOUBLE},
            {"triple", POWER_LOOP_TRIPLE}};
    for (size_t i = 0; i < sizeof WORDS / sizeof WORDS[0]; i++) {
        if (text_is(word, WORDS[i].word)) {
            return WORDS[i].wiring;
        }
    }
    return POWER_LOOP_PLAIN;
}

static outcome read_loop(
        const struct sums_ask *ask, struct power_loop *loop, struct problem *ret_problem) {
    const struct sums_value *values = ask->values;
    double section_mm2 = 0;
    double ohm_m = 0;
    const enum power_wiring wiring = wiring_of(values[WIRING].word);
    if (wiring != POWER_LOOP_PLAIN && values[RESISTOR].count == 0) {
        FAIL(ret_problem, PROBLEM_MISSING, "",
                "--resistor OHM is missing: the one at the end of the line, such as 4.7kohm");
    }
    if (wiring == POWER_LOOP_TRIPLE && values[MASK_RESISTOR].count == 0) {
        FAIL(ret_problem, PROBLEM_MISSING, "",
                "--mask-resistor OHM is missing: the one across the second contact");
    }
    TRY(power_gauge_read(values[GAUGE].word, &section_mm2, ret_problem));
    TRY(power_wire_ohm_m(section_mm2, values[TEMPERATURE].low, POWER_SOLID, &ohm_m, ret_problem));
    *loop = (struct power_loop){.wiring = wiring,
            .end_ohm = values[RESISTOR].low,
            .alarm_ohm = values[ALARM_RESISTOR].count > 0 ? values[ALARM_RESISTOR].low
                                                          : values[RESISTOR].low,
            .mask_ohm = values[MASK_RESISTOR].low,
            .tolerance_ratio = values[TOLERANCE].low / 100,
            .wire_ohm = 2 * ohm_m * values[LENGTH].low + values[CONTACTS].low,
            .leak_ohm = values[LEAK].low,
            .supply_v = values[SUPPLY].low,
            .pull_up_ohm = values[PULL_UP].low,
            .pull_up_tolerance_ratio = values[PULL_UP_TOLERANCE].low / 100};
    return outcome_good();
}

/* What the panel cannot tell from the state: with a contact that opens, an alarm is an open loop. */
static struct text item_of(const struct power_loop *loop, enum power_loop_state state) {
    const bool opens = loop->wiring == POWER_LOOP_PLAIN || loop->wiring == POWER_LOOP_SINGLE_CLOSED;
    return text_of(state == POWER_STATE_OPEN && opens ? "alarm, or a cut"
                    : state == POWER_STATE_SHORT && loop->wiring == POWER_LOOP_SINGLE_OPEN
                    ? "alarm, or a short"
                    : state == POWER_STATE_NORMAL && loop->wiring == POWER_LOOP_PLAIN
                    ? "normal, or a short"
                    : power_state_name(state));
}

static void add_window(struct sums_answer *answer, const struct power_loop *loop,
        enum power_loop_state state, const struct power_window *window) {
    const struct text item = item_of(loop, state);
    struct sums_figure *figure = NULL;
    if (window->endless) {
        figure = sums_add(answer, "from_ohm", "from", window->low_ohm, 0, "ohm up");
        sums_explain(figure,
                text_of(loop->leak_ohm > 0 ? "only the leak conducts"
                                           : "nothing conducts: 10000 kohm stand for it"),
                "Ohm");
    } else {
        figure = sums_add_range(answer, "ohm", "", window->low_ohm, window->high_ohm, 0, "ohm");
        sums_explain(figure,
                sums_text(answer,
                        "resistors in the way less %g %% (beside the leak, if any), to plus %g %% "
                        "and %.1f ohm of wire and contacts",
                        100 * loop->tolerance_ratio, 100 * loop->tolerance_ratio, loop->wire_ohm),
                "Ohm");
    }
    (void)sums_of(figure, "states", item);
    figure = sums_of(sums_add_range(answer, "volts", "", window->low_v, window->high_v, 3, "V"),
            "states", item);
    sums_explain(figure,
            sums_text(answer, "%g V x R / (R + %g ohm, %g %% either way)", loop->supply_v,
                    loop->pull_up_ohm, 100 * loop->pull_up_tolerance_ratio),
            "voltage divider");
}

/* "normal and alarm": two states by their names in this wiring. */
static struct text pair_of(struct sums_answer *answer, const struct power_loop *loop,
        enum power_loop_state one, enum power_loop_state other) {
    return sums_text(answer, "%.*s and %.*s", TEXT_ARGS(item_of(loop, one)),
            TEXT_ARGS(item_of(loop, other)));
}

/* The two states with the least between them, and every two that overlap. */
static void add_closest(struct sums_answer *answer, const struct power_loop *loop,
        const struct power_window *windows) {
    double least_v = 2 * loop->supply_v;
    struct text closest = {0};
    struct text overlaps = {0};
    for (enum power_loop_state one = 0; one < POWER_STATE_COUNT; one++) {
        for (enum power_loop_state other = one + 1; other < POWER_STATE_COUNT; other++) {
            if (!windows[one].there || !windows[other].there) {
                continue;
            }
            const double gap_v = power_window_gap_v(&windows[one], &windows[other]);
            const struct text pair = pair_of(answer, loop, one, other);
            if (gap_v < least_v) {
                least_v = gap_v;
                closest = pair;
            }
            if (gap_v <= 0) {
                overlaps = sums_text(answer, "%.*s%s%.*s", TEXT_ARGS(overlaps),
                        overlaps.length > 0 ? "; " : "", TEXT_ARGS(pair));
            }
        }
    }
    struct sums_figure *figure =
            sums_add(answer, "least_gap_v", "least between two", least_v, 3, "V");
    figure->remark = closest;
    sums_explain(
            figure, text_of("low end of the higher less high end of the lower"), "windows above");
    answer->wrong = overlaps.length > 0;
    sums_add_words(answer, "verdict", "verdict",
            answer->wrong
                    ? sums_text(answer, "can be taken for each other: %.*s", TEXT_ARGS(overlaps))
                    : text_of("no two states overlap"));
}

static void add_notes(struct sums_answer *answer, const struct power_loop *loop) {
    const bool resistors = loop->wiring != POWER_LOOP_PLAIN;
    if (!resistors) {
        sums_note(answer, text_of("without a resistor a short looks normal: nobody notices it"));
    }
    if (resistors && (loop->wire_ohm > 100 || loop->wire_ohm > 0.05 * loop->end_ohm)) {
        sums_note(answer,
                text_of("wire and contacts: keep them below 100 ohm and 5 % of the resistor "
                        "(common "
                        "practice)"));
    }
    if (resistors) {
        sums_note(answer,
                text_of("the resistor belongs at the device; at the panel it supervises nothing"));
    }
    sums_note(answer,
            text_of("the panel's own thresholds must lie in the gaps: its manual says where"));
}

static outcome work(
        const struct sums_ask *ask, struct sums_answer *answer, struct problem *ret_problem) {
    struct power_loop loop;
    struct power_window windows[POWER_STATE_COUNT];
    TRY(read_loop(ask, &loop, ret_problem));
    TRY(power_loop_windows(&loop, windows, ret_problem));
    answer->title = sums_text(answer, "Loop, %.*s, %g V through %g ohm",
            TEXT_ARGS(ask->values[WIRING].word), loop.supply_v, loop.pull_up_ohm);
    for (size_t i = 0; i < POWER_STATE_COUNT; i++) {
        if (windows[i].there) {
            add_window(answer, &loop, (enum power_loop_state)i, &windows[i]);
        }
    }
    add_closest(answer, &loop, windows);
    add_notes(answer, &loop);
    return outcome_good();
}

const struct sums_sum sums_power_loop = {
        .command = "power",
        .name = "loop",
        .takes = "--wiring KIND --resistor OHM ...",
        .answers = "what the panel sees of a zone loop in each state, and whether two can be taken "
                   "for each other",
        SUMS_OPTIONS(options),
        .work = work,
};
