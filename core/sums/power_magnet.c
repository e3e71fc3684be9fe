/* lintel power magnet: at which gap a reed closes and opens. */
#include "power/magnet.h"
#include "sums/parts.h"

enum { DIAMETER, WIDTH, HEIGHT, LENGTH, REMANENCE, PULL_IN, DROP_OUT, GAP, STEEL };

#define SIZE_OPTION(named, otherwise, text)                                                        \
    {                                                                                              \
        .name = (named), .takes = SUMS_QUANTITY, .kind = QUANTITY_LENGTH_M, .low = 0.0001,         \
        .high = 0.5, .usual = (otherwise), .shown = "LENGTH", .help = (text)                       \
    }

static const struct sums_option options[] = {
        [DIAMETER] = SIZE_OPTION("diameter", "", "of a round magnet, such as 6mm"),
        [WIDTH] = SIZE_OPTION("width", "", "of a block's pole face"),
        [HEIGHT] = SIZE_OPTION("height", "", "of a block's pole face"),
        [LENGTH] = SIZE_OPTION("length", NULL, "along which it is magnetised, such as 25mm"),
        [REMANENCE] = {.name = "remanence",
                .takes = SUMS_QUANTITY,
                .kind = QUANTITY_FIELD_MT,
                .low = 50,
                .high = 1600,
                .usual = "0.38 T",
                .shown = "FIELD",
                .help = "ferrite 0.2 to 0.42T, neodymium 1.17 to 1.45T"},
        [PULL_IN] = {.name = "pull-in",
                .takes = SUMS_QUANTITY,
                .kind = QUANTITY_FIELD_MT,
                .low = 0.05,
                .high = 50,
                .usual = "1.5 mT",
                .shown = "FIELD",
                .help = "at which the reed closes"},
        [DROP_OUT] = {.name = "drop-out",
                .takes = SUMS_QUANTITY,
                .kind = QUANTITY_PERCENT,
                .low = 10,
                .high = 100,
                .usual = "60 %",
                .shown = "PERCENT",
                .help = "of that, at which it opens again"},
        [GAP] = SIZE_OPTION("gap", NULL, "when the door is shut, such as 8mm"),
        [STEEL] = {.name = "frame",
                .takes = SUMS_WORD,
                .choices = "wood steel",
                .usual = "wood",
                .shown = "KIND",
                .help = "wood (or plastic), or steel: it leaves half to three quarters of the gap"},
};

static const double BAND = 0.3; /* common practice: formula and reed agree to about 30 % */

static outcome read_magnet(
        const struct sums_ask *ask, struct power_magnet *magnet, struct problem *ret_problem) {
    const struct sums_value *values = ask->values;
    const bool round = values[DIAMETER].count > 0;
    const bool block = values[WIDTH].count > 0 && values[HEIGHT].count > 0;
    if (round == block) {
        FAIL(ret_problem, PROBLEM_MISSING, "",
                "give --diameter of a round magnet, or --width and --height of a block");
    }
    *magnet = (struct power_magnet){.remanence_t = values[REMANENCE].low / 1000,
            .length_m = values[LENGTH].low,
            .diameter_m = round ? values[DIAMETER].low : 0,
            .width_m = values[WIDTH].low,
            .height_m = values[HEIGHT].low};
    return outcome_good();
}

/* From-to of a gap on the axis: the band of the formula, less what steel takes. */
static struct sums_figure *add_gap(const struct sums_ask *ask, struct sums_answer *answer,
        const char *key, const char *label, double gap_m) {
    const bool steel = text_is(ask->values[STEEL].word, "steel");
    const double low_mm = 1000 * gap_m * (1 - BAND) * (steel ? 0.5 : 1);
    const double high_mm = 1000 * gap_m * (1 + BAND) * (steel ? 0.75 : 1);
    struct sums_figure *figure = sums_add_range(answer, key, label, low_mm, high_mm, 1, "mm");
    sums_explain(figure,
            sums_text(answer, "%.2f mm on the axis, 30 %% either way%s", 1000 * gap_m,
                    steel ? ", x 0.5 to 0.75 on steel" : ""),
            steel ? "magnet formula, solved for the gap; steel: US federal guide specification "
                    "(minus 25 %) and common practice (minus 50 %)"
                  : "magnet formula, solved for the gap; band: common practice");
    return figure;
}

static outcome work(
        const struct sums_ask *ask, struct sums_answer *answer, struct problem *ret_problem) {
    const struct sums_value *values = ask->values;
    struct power_magnet magnet;
    double field_t = 0;
    double closes_m = 0;
    double opens_m = 0;
    TRY(read_magnet(ask, &magnet, ret_problem));
    TRY(power_magnet_field_t(&magnet, values[GAP].low, &field_t, ret_problem));
    TRY(power_magnet_gap_m(&magnet, values[PULL_IN].low / 1000, &closes_m, ret_problem));
    TRY(power_magnet_gap_m(
            &magnet, values[PULL_IN].low * values[DROP_OUT].low / 1e5, &opens_m, ret_problem));
    answer->title = sums_text(answer, "Magnet of %g T, %g mm long, %g mm from the reed",
            magnet.remanence_t, magnet.length_m * 1000, values[GAP].low * 1000);
    struct sums_figure *figure =
            sums_add(answer, "field_mt", "field at the gap", field_t * 1000, 2, "mT");
    sums_explain(figure,
            text_of(magnet.diameter_m > 0
                            ? "Br/2 ((L + z) / root(R^2 + (L + z)^2) - z / root(R^2 + z^2))"
                            : "Br/pi (atan(ab / (2z root(4z^2 + a^2 + b^2))) - the same at L + z)"),
            "field on the axis, textbook");
    figure = add_gap(ask, answer, "closes_mm", "reed closes within", closes_m);
    const double sure_mm = figure->low;
    figure = add_gap(ask, answer, "opens_mm", "and opens beyond", opens_m);
    const double gap_mm = values[GAP].low * 1000;
    answer->wrong = gap_mm > sure_mm;
    sums_add_words(answer, "verdict", "verdict",
            text_of(answer->wrong
                            ? "the shut gap is too wide to be sure: closer, or a wide-gap kind"
                            : "closes when shut"));
    sums_note(answer,
            text_of("beside the axis the field is weaker, and reeds are not alike: open the door "
                    "slowly and see when it trips"));
    return outcome_good();
}

const struct sums_sum sums_power_magnet = {
        .command = "power",
        .name = "magnet",
        .takes = "--diameter LENGTH --length LENGTH --gap LENGTH ...",
        .answers = "at which gap a reed closes and opens, by its magnet",
        SUMS_OPTIONS(options),
        .work = work,
};
