/* lintel power magnet: at which gap a reed closes and opens, and how far a door opens until then. */
#include "power/magnet.h"
#include "sums/parts.h"

enum {
    DIAMETER,
    WIDTH,
    HEIGHT,
    LENGTH,
    REMANENCE,
    PULL_IN,
    DROP_OUT,
    GAP,
    STEEL,
    OFFSET,
    HINGE,
    LEAF
};

#define SIZE_OPTION(named, otherwise, text)                                                        \
    {                                                                                              \
        .name = (named), .takes = SUMS_QUANTITY, .kind = QUANTITY_LENGTH_M, .low = 0.0001,         \
        .high = 0.5, .usual = (otherwise), .shown = "LENGTH", .help = (text)                       \
    }

#define LEAF_OPTION(named, text)                                                                   \
    {                                                                                              \
        .name = (named), .takes = SUMS_QUANTITY, .kind = QUANTITY_LENGTH_M, .low = 0.01,           \
        .high = 10, .usual = "", .shown = "LENGTH", .help = (text)                                 \
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
        [OFFSET] = {.name = "offset",
                .takes = SUMS_QUANTITY,
                .kind = QUANTITY_LENGTH_M,
                .low = 0,
                .high = 0.5,
                .usual = "0 mm",
                .shown = "LENGTH",
                .help = "how far the magnet stands to the side of the reed when the door is shut"},
        [HINGE] = LEAF_OPTION(
                "hinge", "from the hinge to the magnet: how far the door opens is told"),
        [LEAF] = LEAF_OPTION("leaf", "from the hinge to the edge of the door, with --hinge"),
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

/* What is left of a distance at its careful and at its generous end: the band of the formula, less what steel takes. */
static double careful(const struct sums_ask *ask) {
    return (1 - BAND) * (text_is(ask->values[STEEL].word, "steel") ? 0.5 : 1);
}

static double generous(const struct sums_ask *ask) {
    return (1 + BAND) * (text_is(ask->values[STEEL].word, "steel") ? 0.75 : 1);
}

/* From-to of a gap on the axis: the band of the formula, less what steel takes. */
static struct sums_figure *add_gap(const struct sums_ask *ask, struct sums_answer *answer,
        const char *key, const char *label, double gap_m) {
    const bool steel = text_is(ask->values[STEEL].word, "steel");
    const double low_mm = 1000 * gap_m * careful(ask);
    const double high_mm = 1000 * gap_m * generous(ask);
    struct sums_figure *figure = sums_add_range(answer, key, label, low_mm, high_mm, 1, "mm");
    sums_explain(figure,
            sums_text(answer, "%.2f mm on the axis, 30 %% either way%s", 1000 * gap_m,
                    steel ? ", x 0.5 to 0.75 on steel" : ""),
            steel ? "magnet formula, solved for the gap; steel: US federal guide specification "
                    "(minus 25 %) and common practice (minus 50 %)"
                  : "magnet formula, solved for the gap; band: common practice");
    return figure;
}

/* What the options say of the reed: its fields in tesla. */
struct reed {
    double gap_m;
    double offset_m;
    double closes_t;
    double opens_t;
};

/* How far the magnet slides to the side until the reed opens, from where it stands when shut; then the door. A door
 * that turns moves it across, not away. */
static outcome add_slide(const struct sums_ask *ask, struct sums_answer *answer,
        const struct power_magnet *magnet, const struct reed *reed, struct problem *ret_problem) {
    const struct sums_value *values = ask->values;
    double side_m = 0;
    TRY(power_magnet_side_m(magnet, reed->gap_m, reed->opens_t, &side_m, ret_problem));
    const double low_m = side_m * careful(ask) - reed->offset_m;
    const double high_m = side_m * generous(ask) - reed->offset_m;
    const double slides_mm[2] = {low_m > 0 ? 1000 * low_m : 0, high_m > 0 ? 1000 * high_m : 0};
    struct sums_figure *figure = sums_add_range(
            answer, "slides_mm", "opens after sliding aside", slides_mm[0], slides_mm[1], 1, "mm");
    sums_explain(figure,
            sums_text(answer, "%.2f mm beside the axis, 30 %% either way%s, less %g mm",
                    1000 * side_m,
                    text_is(ask->values[STEEL].word, "steel") ? ", x 0.5 to 0.75 on steel" : "",
                    1000 * reed->offset_m),
            "Br/4pi x the angle under which each pole face is seen, solved for the offset; band: "
            "common practice");
    if (values[HINGE].count > 0) {
        const double leaf_m = values[LEAF].count > 0 ? values[LEAF].low : values[HINGE].low;
        const double times = leaf_m / values[HINGE].low;
        figure = sums_add_range(answer, "door_mm", "the door is then open by", slides_mm[0] * times,
                slides_mm[1] * times, 0, "mm");
        sums_explain(figure,
                sums_text(answer, "x %g / %g m: chords of one angle", leaf_m, values[HINGE].low),
                "similar triangles; at the edge of the leaf");
    }
    return outcome_good();
}

/* Shut, it has to be within both: the gap by a figure on the axis, the side by one beside it, each at its careful
 * end. */
static outcome is_sure(const struct sums_ask *ask, const struct power_magnet *magnet,
        const struct reed *reed, double sure_mm, bool *ret_sure, struct problem *ret_problem) {
    double side_m = 0;
    TRY(power_magnet_side_m(magnet, reed->gap_m, reed->closes_t, &side_m, ret_problem));
    *ret_sure = 1000 * reed->gap_m <= sure_mm &&
            (reed->offset_m <= 0 || reed->offset_m <= side_m * careful(ask));
    return outcome_good();
}

static outcome work(
        const struct sums_ask *ask, struct sums_answer *answer, struct problem *ret_problem) {
    const struct sums_value *values = ask->values;
    const struct reed reed = {.gap_m = values[GAP].low,
            .offset_m = values[OFFSET].low,
            .closes_t = values[PULL_IN].low / 1000,
            .opens_t = values[PULL_IN].low * values[DROP_OUT].low / 1e5};
    struct power_magnet magnet;
    double field_t = 0;
    double closes_m = 0;
    double opens_m = 0;
    bool sure = false;
    if (values[LEAF].count > 0 && values[HINGE].count == 0) {
        FAIL(ret_problem, PROBLEM_MISSING, "",
                "--leaf wants --hinge: from the hinge to the magnet");
    }
    TRY(read_magnet(ask, &magnet, ret_problem));
    TRY(power_magnet_beside_t(&magnet, reed.gap_m, reed.offset_m, &field_t, ret_problem));
    TRY(power_magnet_gap_m(&magnet, reed.closes_t, &closes_m, ret_problem));
    TRY(power_magnet_gap_m(&magnet, reed.opens_t, &opens_m, ret_problem));
    answer->title = sums_text(answer, "Magnet of %g T, %g mm long, %g mm from the reed",
            magnet.remanence_t, magnet.length_m * 1000, reed.gap_m * 1000);
    struct sums_figure *figure =
            sums_add(answer, "field_mt", "field at the gap", field_t * 1000, 2, "mT");
    sums_explain(figure,
            text_of(reed.offset_m > 0
                            ? "Br/4pi x (the angle under which the near face is seen - the "
                              "far one's)"
                            : magnet.diameter_m > 0
                            ? "Br/2 ((L + z) / root(R^2 + (L + z)^2) - z / root(R^2 + z^2))"
                            : "Br/pi (atan(ab / (2z root(4z^2 + a^2 + b^2))) - the same at L + z)"),
            reed.offset_m > 0 ? "field beside the axis, textbook" : "field on the axis, textbook");
    figure = add_gap(ask, answer, "closes_mm", "reed closes within", closes_m);
    const double sure_mm = figure->low;
    (void)add_gap(ask, answer, "opens_mm", "and opens beyond", opens_m);
    TRY(add_slide(ask, answer, &magnet, &reed, ret_problem));
    TRY(is_sure(ask, &magnet, &reed, sure_mm, &sure, ret_problem));
    answer->wrong = !sure;
    sums_add_words(answer, "verdict", "verdict",
            text_of(sure ? "closes when shut"
                            : 1000 * reed.gap_m > sure_mm
                            ? "the shut gap is too wide to be sure: closer, or a wide-gap kind"
                            : "too far to the side to be sure: in line with the reed"));
    sums_note(answer,
            text_of("reeds are not alike, and steel bends the field: open the door slowly and see "
                    "when it trips; near the hinge it opens further"));
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
