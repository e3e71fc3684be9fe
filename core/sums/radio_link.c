/* lintel radio link: whether a message crosses these walls over this distance. */
#include "radio/constants.h"
#include "radio/link.h"
#include "sums/walls.h"

enum { MHZ, DISTANCE, POWER, SENSITIVITY, WALL, FLOOR, LOSS, ANGLE, SPREAD, RESERVE, EDITION };

static const struct sums_option options[] = {
        [MHZ] = SUMS_OPTION_MHZ,
        [DISTANCE] = {.name = "distance",
                .takes = SUMS_LENGTH,
                .kind = QUANTITY_LENGTH_M,
                .low = 0,
                .high = 100000,
                .shown = "LENGTH",
                .help = "from antenna to antenna, such as 12m or 40ft"},
        [POWER] = {.name = "power",
                .takes = SUMS_QUANTITY,
                .kind = QUANTITY_POWER_DBM,
                .low = -60,
                .high = 40,
                .shown = "DBM",
                .help = "what the device radiates (EIRP; e.r.p. is 2.15 dB less), such as -14.4dBm "
                        "or 10mW"},
        [SENSITIVITY] = {.name = "sensitivity",
                .takes = SUMS_QUANTITY,
                .kind = QUANTITY_POWER_DBM,
                .low = -150,
                .high = 0,
                .shown = "DBM",
                .help = "what the receiver needs, such as -105dBm"},
        [WALL] = {.name = "wall",
                .takes = SUMS_WORD,
                .usual = "",
                .shown = "LAYERS",
                .help = "a wall in the way, layers between commas: brick:100mm; again for the next",
                .many = true},
        [FLOOR] = {.name = "floor",
                .takes = SUMS_WORD,
                .usual = "",
                .shown = "LAYERS",
                .help = "a floor in the way, as --wall",
                .many = true},
        [LOSS] = {.name = "loss",
                .takes = SUMS_QUANTITY,
                .kind = QUANTITY_LEVEL_DB,
                .low = 0,
                .high = 100,
                .usual = "0 dB",
                .from_to = true,
                .shown = "DB",
                .help = "lost by antennas, mounting, a body; 5..10dB is taken"},
        [ANGLE] = SUMS_OPTION_ANGLE,
        [SPREAD] = {.name = "spread",
                .takes = SUMS_QUANTITY,
                .kind = QUANTITY_LEVEL_DB,
                .low = 1,
                .high = 20,
                .usual = "8 dB",
                .shown = "DB",
                .help = "how far places deviate, one standard deviation"},
        [RESERVE] = {.name = "reserve",
                .takes = SUMS_QUANTITY,
                .kind = QUANTITY_LEVEL_DB,
                .low = 0,
                .high = 40,
                .usual = "0 dB",
                .shown = "DB",
                .help = "what a rule set wants to be left over"},
        [EDITION] = SUMS_OPTION_EDITION,
};

/* What is lost on the way, from-to: the plain layers, and what houses were measured to lose. */
struct way {
    double free_space_db;
    double low_db;
    double high_db;
};

/* What one wall or floor loses, from-to, and how much of it counts. What conducts is in no figure for houses. */
static void add_crossed(struct sums_answer *answer, const struct radio_written *wall, bool floor,
        double loss_db, struct text item, struct way *way) {
    const double plain_db = radio_wall_counted_db(loss_db);
    const double measured_db = wall->conducts ? plain_db
            : floor                           ? RADIO_FLOOR_MEASURED_DB
                                              : radio_wall_measured_db(wall->heavy);
    const double low_db = fmin(plain_db, measured_db);
    const double high_db = fmax(plain_db, measured_db);
    struct sums_figure *figure = sums_of(
            sums_add_range(answer, "loss_db", "", low_db, high_db, 1, "dB"), "crossed", item);
    figure->remark = wall->written;
    const char *opaque = loss_db > RADIO_OPAQUE_DB ? ": opaque, 40 dB count" : "";
    struct text how =
            sums_text(answer, "%.2f dB as plain layers (lintel radio wall%s)", plain_db, opaque);
    if (!wall->conducts) {
        how = sums_text(answer, "%.*s, %.1f dB in measured %s", TEXT_ARGS(how), measured_db,
                floor                 ? "offices at 900 MHz"
                        : wall->heavy ? "houses, heavy walls, at 1800 MHz"
                                      : "houses, light walls, at 1800 MHz");
    }
    sums_explain(figure, how,
            floor ? "Rec. ITU-R P.2040; Rec. ITU-R P.1238 up to edition 9"
                  : "Rec. ITU-R P.2040; COST 231 final report, chapter 4 (from memory)");
    way->low_db += low_db;
    way->high_db += high_db;
    sums_wall_note(answer, wall);
    if (loss_db > RADIO_OPAQUE_DB) {
        sums_note(answer,
                sums_text(answer,
                        "\"%.*s\" is opaque: %d dB stand for what finds its way round; measure",
                        TEXT_ARGS(wall->written), RADIO_OPAQUE_DB));
    }
}

static outcome add_walls(const struct sums_ask *ask, struct sums_answer *answer, struct way *way,
        struct problem *ret_problem) {
    const double hz = ask->values[MHZ].low * 1e6;
    const int edition = sums_edition(&ask->values[EDITION]);
    size_t walls = 0;
    size_t floors = 0;
    for (size_t i = 0; i < ask->every_count; i++) {
        const bool floor = ask->every[i].option == FLOOR;
        struct radio_written wall;
        struct radio_pass pass;
        TRY(radio_written_read(ask->every[i].word, edition, hz, &wall, ret_problem));
        TRY(radio_wall_mean(
                wall.layers, wall.count, hz, ask->values[ANGLE].low, &pass, ret_problem));
        const struct text item = floor ? sums_text(answer, "floor %zu", ++floors)
                                       : sums_text(answer, "wall %zu", ++walls);
        add_crossed(answer, &wall, floor, pass.loss_db, item, way);
    }
    return outcome_good();
}

/* The level that arrives, and what is left of it over what the receiver needs; from-to, worst first. */
struct left {
    double low_db;
    double high_db;
};

static struct left add_margin(
        const struct sums_ask *ask, struct sums_answer *answer, const struct way *way) {
    const struct sums_value *values = ask->values;
    const double high_dbm = values[POWER].low - way->free_space_db - way->low_db - values[LOSS].low;
    const double low_dbm =
            values[POWER].low - way->free_space_db - way->high_db - values[LOSS].high;
    struct sums_figure *figure =
            sums_add_range(answer, "arrives_dbm", "arrives (median)", low_dbm, high_dbm, 1, "dBm");
    sums_explain(figure,
            sums_text(answer, "%.2f dBm - %.2f dB - %.2f to %.2f dB - %.2f to %.2f dB",
                    values[POWER].low, way->free_space_db, way->low_db, way->high_db,
                    values[LOSS].low, values[LOSS].high),
            "sum of the above");
    const struct left left = {low_dbm - values[SENSITIVITY].low - values[RESERVE].low,
            high_dbm - values[SENSITIVITY].low - values[RESERVE].low};
    figure = sums_add_range(answer, "margin_db", "margin", left.low_db, left.high_db, 1, "dB");
    sums_explain(figure,
            sums_text(answer, "%.2f to %.2f dBm less %.2f dBm less %.2f dB of reserve", low_dbm,
                    high_dbm, values[SENSITIVITY].low, values[RESERVE].low),
            "sum of the above");
    return left;
}

static void add_chances(
        const struct sums_ask *ask, struct sums_answer *answer, const struct left *left) {
    const double spread_db = ask->values[SPREAD].low;
    struct sums_figure *figure = sums_add_range(answer, "reaches_percent", "such places in reach",
            100 * radio_reaches_ratio(left->low_db, spread_db),
            100 * radio_reaches_ratio(left->high_db, spread_db), 1, "%");
    sums_explain(figure,
            sums_text(answer, "100 Phi(margin / spread): Phi(%.2f / %g) to Phi(%.2f / %g)",
                    left->low_db, spread_db, left->high_db, spread_db),
            "log-normal shadowing, textbook; spread of 8 dB: Rec. ITU-R P.1238, homes "
            "at 1.8 GHz (from memory)");
    figure = sums_add_range(answer, "message_percent", "one message arrives",
            100 * radio_arrives_ratio(left->low_db, spread_db),
            100 * radio_arrives_ratio(left->high_db, spread_db), 1, "%");
    sums_explain(figure,
            text_of("100 x mean of exp(-10^(-m / 10)) over m, normal about the margin with "
                    "the spread"),
            "Rayleigh fading over log-normal shadowing (Suzuki), textbook");
    figure = sums_add(answer, "margin_for_99_db", "margin for 99 % of them",
            radio_margin_for_db(0.99, spread_db), 1, "dB");
    sums_explain(figure, sums_text(answer, "2.326 x %g dB", spread_db),
            "quantile of the normal distribution");
}

static outcome work(
        const struct sums_ask *ask, struct sums_answer *answer, struct problem *ret_problem) {
    const struct sums_value *values = ask->values;
    struct way way = {0};
    TRY(radio_free_space_db(
            values[DISTANCE].low, values[MHZ].low * 1e6, &way.free_space_db, ret_problem));
    answer->title = sums_text(answer, "Link over %g m at %g MHz, %zu in the way",
            values[DISTANCE].low, values[MHZ].low, ask->every_count);
    struct sums_figure *figure =
            sums_add(answer, "free_space_db", "free space", way.free_space_db, 2, "dB");
    sums_explain(figure,
            sums_text(answer,
                    "20 log10(4 pi d f / c) = 20 log10(4 pi x %g m x %g MHz / 299.792458 m MHz)",
                    values[DISTANCE].low, values[MHZ].low),
            "Rec. ITU-R P.525");
    TRY(add_walls(ask, answer, &way, ret_problem));
    const struct left left = add_margin(ask, answer, &way);
    add_chances(ask, answer, &left);
    answer->wrong = left.low_db < 0;
    sums_add_words(answer, "verdict", "verdict",
            text_of(left.low_db >= radio_margin_for_db(0.99, values[SPREAD].low) ? "reaches"
                            : left.low_db >= 0  ? "reaches in the middle case, without enough to "
                                                  "spare for a bad place"
                            : left.high_db >= 0 ? "may not reach"
                                                : "does not reach"));
    sums_note(answer,
            text_of("a sensor keeps the luck of its place: the share of places is over sites, not "
                    "over messages; measure on site"));
    return outcome_good();
}

const struct sums_sum sums_radio_link = {
        .command = "radio",
        .name = "link",
        .takes = "--mhz MHZ --distance LENGTH ...",
        .answers = "whether a message crosses these walls over this distance",
        SUMS_OPTIONS(options),
        .work = work,
};
