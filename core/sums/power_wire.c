/* lintel power wire: what arrives at the end of a cable, and how long it may be. */
#include "sums/gauges.h"

enum { GAUGE, LENGTH, CURRENT, SUPPLY, DROP, NEEDS, TEMPERATURE, CONDUCTOR };

static const struct sums_option options[] = {
        [GAUGE] = {.name = "gauge",
                .takes = SUMS_WORD,
                .shown = "GAUGE",
                .help = "22awg, 0.5mm2, or 0.6mm for a diameter"},
        [LENGTH] = {.name = "length",
                .takes = SUMS_LENGTH,
                .kind = QUANTITY_LENGTH_M,
                .low = 0.001,
                .high = 10000,
                .shown = "LENGTH",
                .help = "of the cable, one way, such as 45m or 150ft"},
        [CURRENT] = {.name = "current",
                .takes = SUMS_QUANTITY,
                .kind = QUANTITY_CURRENT_MA,
                .low = 0.001,
                .high = 1000000,
                .shown = "CURRENT",
                .help = "all that is drawn, taken at the far end"},
        [SUPPLY] = {.name = "supply",
                .takes = SUMS_QUANTITY,
                .kind = QUANTITY_VOLTAGE_V,
                .low = 0.1,
                .high = 60,
                .shown = "VOLTAGE",
                .help = "the lowest there is: 10.5V of a 12 V battery at its end"},
        [DROP] = {.name = "drop",
                .takes = SUMS_QUANTITY,
                .kind = QUANTITY_PERCENT,
                .low = 0.1,
                .high = 90,
                .usual = "10 %",
                .shown = "PERCENT",
                .help = "how much may be lost on the way"},
        [NEEDS] = {.name = "needs",
                .takes = SUMS_QUANTITY,
                .kind = QUANTITY_VOLTAGE_V,
                .low = 0.1,
                .high = 60,
                .usual = "",
                .shown = "VOLTAGE",
                .help = "what the device needs, instead of --drop"},
        [TEMPERATURE] = SUMS_OPTION_TEMPERATURE,
        [CONDUCTOR] = SUMS_OPTION_CONDUCTOR,
};

static const char COPPER[] = "ASTM B258, IEC 60028 (from memory)";

static void add_resistance(
        const struct sums_ask *ask, struct sums_answer *answer, double section_mm2, double ohm_m) {
    const struct sums_value *values = ask->values;
    struct sums_figure *figure =
            sums_add(answer, "section_mm2", "cross-section", section_mm2, 3, "mm2");
    sums_explain(figure,
            text_of("pi d^2 / 4; of an AWG gauge n: d = 25.4 mm x 0.005 x 92^((36 - n) / 39)"),
            COPPER);
    figure = sums_add(answer, "ohm_km", "one conductor", 1000 * ohm_m, 2, "ohm/km");
    sums_explain(figure,
            sums_text(answer, "17.241 / %.4f mm2 x (1 + 0.00393 x (%g - 20)) x %s", section_mm2,
                    values[TEMPERATURE].low,
                    sums_conductor(&values[CONDUCTOR]) == POWER_CLAD ? "1.6 (clad)"
                            : sums_conductor(&values[CONDUCTOR]) == POWER_STRANDED
                            ? "1.02 (stranded)"
                            : "1 (solid)"),
            COPPER);
    figure = sums_add(
            answer, "loop_ohm", "there and back", 2 * ohm_m * values[LENGTH].low, 2, "ohm");
    sums_explain(figure, sums_text(answer, "2 x %g m x %.5f ohm/m", values[LENGTH].low, ohm_m),
            "two conductors");
}

static outcome work(
        const struct sums_ask *ask, struct sums_answer *answer, struct problem *ret_problem) {
    const struct sums_value *values = ask->values;
    double section_mm2 = 0;
    double ohm_m = 0;
    struct problem problem = {0};
    if (!power_gauge_read(values[GAUGE].word, &section_mm2, &problem).good) {
        FAIL(ret_problem, problem.kind, "", "--gauge: %s", problem.text);
    }
    TRY(power_wire_ohm_m(section_mm2, values[TEMPERATURE].low, sums_conductor(&values[CONDUCTOR]),
            &ohm_m, ret_problem));
    const double current_a = values[CURRENT].low / 1000;
    const double supply_v = values[SUPPLY].low;
    const double drop_v = 2 * ohm_m * values[LENGTH].low * current_a;
    const double allowed_v = values[NEEDS].count > 0 ? supply_v - values[NEEDS].low
                                                     : supply_v * values[DROP].low / 100;
    if (values[NEEDS].count > 0 && values[NEEDS].low >= supply_v) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "",
                "--needs is as much as the supply gives; nothing may be lost on the way");
    }
    answer->title = sums_text(answer, "Cable %.*s, %g m, %g mA from %g V",
            TEXT_ARGS(values[GAUGE].word), values[LENGTH].low, values[CURRENT].low, supply_v);
    add_resistance(ask, answer, section_mm2, ohm_m);
    struct sums_figure *figure = sums_add(answer, "drop_v", "lost on the way", drop_v, 2, "V");
    figure->remark = sums_text(answer, "%.1f %% of the supply", 100 * drop_v / supply_v);
    sums_explain(figure,
            sums_text(answer, "%.3f ohm x %g A", 2 * ohm_m * values[LENGTH].low, current_a), "Ohm");
    figure = sums_add(answer, "end_v", "arrives", fmax(0, supply_v - drop_v), 2, "V");
    sums_explain(figure, sums_text(answer, "%g V - %.3f V, not under 0", supply_v, drop_v), "Ohm");
    figure = sums_add(
            answer, "longest_m", "longest run", allowed_v / (2 * ohm_m * current_a), 1, "m");
    sums_explain(figure,
            sums_text(answer, "%.3f V / (2 x %.5f ohm/m x %g A)", allowed_v, ohm_m, current_a),
            "Ohm");
    answer->wrong = drop_v > allowed_v;
    sums_add_words(answer, "verdict", "verdict",
            drop_v >= supply_v ? text_of("the wire cannot carry this load at all")
                    : answer->wrong
                    ? text_of("too much is lost: a thicker wire, a shorter run, or two in parallel")
                    : text_of("fits"));
    sums_note(answer,
            text_of("careful: the whole load at the far end; take the highest current at the "
                    "lowest "
                    "voltage"));
    return outcome_good();
}

const struct sums_sum sums_power_wire = {
        .command = "power",
        .name = "wire",
        .takes = "--gauge GAUGE --length LENGTH ...",
        .answers = "what arrives at the end of a cable, and how long it may be",
        SUMS_OPTIONS(options),
        .work = work,
};
