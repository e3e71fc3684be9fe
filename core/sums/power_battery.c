/* lintel power battery: for how many years a sensor's cell lasts. */
#include "power/cell.h"
#include "sums/parts.h"

enum { CELL, QUIET, EVENTS, EVENT_CHARGE, CHECK_IN, CHECK_IN_CHARGE, TEMPERATURE, USABLE };

#define CHARGE_OPTION(named, text)                                                                 \
    {                                                                                              \
        .name = (named), .takes = SUMS_QUANTITY, .kind = QUANTITY_CHARGE_MAH, .low = 0,            \
        .high = 1000, .usual = "0.25 uAh", .shown = "CHARGE", .help = (text)                       \
    }

static const struct sums_option options[] = {
        [CELL] = {.name = "cell",
                .takes = SUMS_WORD,
                .shown = "NAME",
                .help = "cr2032, cr123a, aa-lithium and so on"},
        [QUIET] = {.name = "quiet",
                .takes = SUMS_QUANTITY,
                .kind = QUANTITY_CURRENT_MA,
                .low = 0,
                .high = 1000,
                .from_to = true,
                .shown = "CURRENT",
                .help = "drawn at rest, such as 2uA or 2..4uA"},
        [EVENTS] = {.name = "events",
                .takes = SUMS_COUNT,
                .low = 0,
                .high = 100000,
                .usual = "20",
                .shown = "N",
                .help = "trips a day"},
        [EVENT_CHARGE] = CHARGE_OPTION(
                "event-charge", "of one trip; three bursts of 20 ms at 15 mA are 0.25uAh"),
        [CHECK_IN] = {.name = "check-in",
                .takes = SUMS_QUANTITY,
                .kind = QUANTITY_TIME_S,
                .low = 1,
                .high = 8640000,
                .usual = "",
                .shown = "TIME",
                .help = "how often it says that it is there, such as 70min"},
        [CHECK_IN_CHARGE] = CHARGE_OPTION("check-in-charge", "of one check-in"),
        [TEMPERATURE] = {.name = "temperature",
                .takes = SUMS_QUANTITY,
                .kind = QUANTITY_TEMPERATURE_C,
                .bare_unit = "C",
                .low = -55,
                .high = 85,
                .usual = "20 C",
                .from_to = true,
                .shown = "TEMP",
                .help = "of its place, such as -5..30C"},
        [USABLE] = {.name = "usable",
                .takes = SUMS_QUANTITY,
                .kind = QUANTITY_PERCENT,
                .low = 10,
                .high = 100,
                .usual = "80..90 %",
                .from_to = true,
                .shown = "PERCENT",
                .help = "what of the charge can be used before the voltage is too low"},
};

static outcome draw_of(const struct sums_ask *ask, double quiet_ma, double *ret_year_mah,
        struct problem *ret_problem) {
    const struct sums_value *values = ask->values;
    const struct power_draw draw = {.quiet_ma = quiet_ma,
            .events_day = values[EVENTS].low,
            .event_mah = values[EVENT_CHARGE].low,
            .check_in_s = values[CHECK_IN].low,
            .check_in_mah = values[CHECK_IN_CHARGE].low};
    return power_year_mah(&draw, ret_year_mah, ret_problem);
}

static void add_draw(
        const struct sums_ask *ask, struct sums_answer *answer, double low_mah, double high_mah) {
    const struct sums_value *values = ask->values;
    struct sums_figure *figure =
            sums_add_range(answer, "year_mah", "drawn a year", low_mah, high_mah, 1, "mAh");
    sums_explain(figure,
            sums_text(answer,
                    "8766 h x %g to %g mA + 365.25 x %g x %g mAh + check-ins x %g mAh, every %g s",
                    values[QUIET].low, values[QUIET].high, values[EVENTS].low,
                    values[EVENT_CHARGE].low, values[CHECK_IN_CHARGE].low, values[CHECK_IN].low),
            "charge is current times time");
}

static outcome add_years(const struct sums_ask *ask, struct sums_answer *answer,
        const struct power_cell *cell, struct problem *ret_problem) {
    const struct sums_value *values = ask->values;
    double low_mah = 0;
    double high_mah = 0;
    TRY(draw_of(ask, values[QUIET].low, &low_mah, ret_problem));
    TRY(draw_of(ask, values[QUIET].high, &high_mah, ret_problem));
    add_draw(ask, answer, low_mah, high_mah);
    const struct power_stock stock = {.low_mah = cell->low_mah,
            .high_mah = cell->high_mah,
            .year_low_mah = low_mah,
            .year_high_mah = high_mah,
            .coldest_c = values[TEMPERATURE].low,
            .warmest_c = values[TEMPERATURE].high,
            .usable_low_ratio = values[USABLE].low / 100,
            .usable_high_ratio = values[USABLE].high / 100};
    const struct power_life life = power_cell_life(cell, &stock);
    struct sums_figure *figure =
            sums_add_range(answer, "years", "lasts", life.least_years, life.most_years, 1, "years");
    sums_explain(figure,
            sums_text(answer,
                    "from C e / (I + s C) with C = %g mAh, e = %g %%, s = %.3g a year, to "
                    "ln(1 + s C e / I) / s with %g mAh, %g %%, %.3g",
                    cell->low_mah * power_cell_cold_ratio(cell, stock.coldest_c),
                    values[USABLE].low,
                    cell->high_percent / 100 * power_warm_factor(stock.warmest_c), cell->high_mah,
                    values[USABLE].high,
                    cell->low_percent / 100 * power_warm_factor(stock.coldest_c)),
            "cell makers' notes in part (data/power/cells.tsv); self-discharge doubles each 10 K "
            "above 20 C (from memory)");
    figure = sums_add(
            answer, "change_after_years", "change it after", life.change_years, 1, "years");
    sums_explain(figure, text_of("the first end, down to half a year"), "own choice");
    return outcome_good();
}

static outcome work(
        const struct sums_ask *ask, struct sums_answer *answer, struct problem *ret_problem) {
    const struct sums_value *values = ask->values;
    const struct power_cell *cell = NULL;
    TRY(power_cell_find(values[CELL].word, &cell, ret_problem));
    answer->title = sums_text(answer, "Cell %s, %g to %g mAh, at %g to %g C", cell->name,
            cell->low_mah, cell->high_mah, values[TEMPERATURE].low, values[TEMPERATURE].high);
    TRY(add_years(ask, answer, cell, ret_problem));
    answer->wrong =
            values[TEMPERATURE].low < cell->coldest_c || values[TEMPERATURE].high > cell->warmest_c;
    sums_add_words(answer, "verdict", "verdict",
            answer->wrong ? sums_text(answer, "not for this place: the cell works at %g to %g C",
                                    cell->coldest_c, cell->warmest_c)
                          : text_of("fits the place"));
    sums_note(answer, sums_text(answer, "%s (%s)", cell->says, cell->certainty));
    sums_note(answer,
            text_of("the end is a test of the voltage under load: a cold or aged cell fails on the "
                    "pulse before its charge is gone"));
    return outcome_good();
}

const struct sums_sum sums_power_battery = {
        .command = "power",
        .name = "battery",
        .takes = "--cell NAME --quiet CURRENT ...",
        .answers = "for how many years a sensor's cell lasts",
        SUMS_OPTIONS(options),
        .work = work,
};
