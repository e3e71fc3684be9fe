/* lintel radio wall: what one layered wall does to radio. */
#include "radio/link.h"
#include "sums/walls.h"

enum { MHZ, ANGLE, EDITION };

static const struct sums_option options[] = {
        [MHZ] = SUMS_OPTION_MHZ,
        [ANGLE] = SUMS_OPTION_ANGLE,
        [EDITION] = SUMS_OPTION_EDITION,
};

static const char CHAIN[] = "Rec. ITU-R P.2040, section 2.2.2 and attachment 1";

static void add_pass(struct sums_answer *answer, const struct radio_pass *pass) {
    struct sums_figure *figure = sums_add(answer, "loss_db", "loss", pass->loss_db, 2, "dB");
    sums_explain(figure,
            sums_text(answer,
                    "-10 log10 of the mean of |T|^2 over both polarisations; T = 2 / (A + B/Za + C "
                    "Za + D), "
                    "the layers' matrices [cos q, j Z sin q; j sin q / Z, cos q] multiplied in "
                    "order; q = 2 "
                    "pi f d s / c, s = root(permittivity - sin^2 angle), Z = 1/s (TE) or "
                    "s/permittivity "
                    "(TM), Za = 1/cos angle (TE) or cos angle (TM), in units of free space"),
            CHAIN);
    figure->remark = pass->loss_db > RADIO_OPAQUE_DB
            ? sums_text(answer, "opaque: what arrives comes another way")
            : (struct text){0};
    figure = sums_add(answer, "passes_percent", "passes", 100 * pass->passes_ratio, 1, "%");
    sums_explain(figure, sums_text(answer, "100 x 10^(-%.2f / 10)", pass->loss_db), CHAIN);
    figure = sums_add(answer, "back_percent", "is thrown back", 100 * pass->back_ratio, 1, "%");
    sums_explain(figure,
            text_of("R = (A + B/Za - C Za - D) / (A + B/Za + C Za + D), 100 |R|^2, mean of "
                    "both polarisations"),
            CHAIN);
    figure =
            sums_add(answer, "stays_percent", "stays in the wall", 100 * pass->stays_ratio, 1, "%");
    sums_explain(figure,
            sums_text(answer, "100 %% less %.1f %% less %.1f %%", 100 * pass->passes_ratio,
                    100 * pass->back_ratio),
            "energy is conserved");
}

static outcome add_polarisations(struct sums_answer *answer, const struct radio_written *wall,
        double hz, double angle_deg, struct problem *ret_problem) {
    struct radio_pass te;
    struct radio_pass tm;
    TRY(radio_wall(wall->layers, wall->count, hz, angle_deg, RADIO_TE, &te, ret_problem));
    TRY(radio_wall(wall->layers, wall->count, hz, angle_deg, RADIO_TM, &tm, ret_problem));
    struct sums_figure *figure =
            sums_add(answer, "te_db", "electric field along it", te.loss_db, 2, "dB");
    sums_explain(figure, text_of("as above, TE alone"), CHAIN);
    figure = sums_add(answer, "tm_db", "magnetic field along it", tm.loss_db, 2, "dB");
    sums_explain(figure, text_of("as above, TM alone"), CHAIN);
    return outcome_good();
}

static void add_measured(struct sums_answer *answer, const struct radio_written *wall) {
    const char *kind = wall->heavy ? "heavy" : "light";
    struct sums_figure *figure = sums_add(answer, "measured_db", "in measured houses",
            radio_wall_measured_db(wall->heavy), 1, "dB");
    figure->remark = sums_text(answer, "a %s wall, all in it", kind);
    sums_explain(figure,
            sums_text(answer,
                    "one figure for all %s walls, at 1800 MHz; below 1 GHz it overstates; heavy: "
                    "100 mm and more of masonry or concrete",
                    kind),
            "COST 231 final report, chapter 4 (from memory)");
}

static outcome work(
        const struct sums_ask *ask, struct sums_answer *answer, struct problem *ret_problem) {
    struct radio_written wall = {.count = 0};
    struct radio_pass pass;
    const double hz = ask->values[MHZ].low * 1e6;
    const double angle_deg = ask->values[ANGLE].low;
    for (size_t i = 0; i < ask->word_count; i++) {
        TRY(radio_written_add(
                &wall, ask->words[i], sums_edition(&ask->values[EDITION]), hz, ret_problem));
    }
    TRY(radio_wall_mean(wall.layers, wall.count, hz, angle_deg, &pass, ret_problem));
    answer->title = sums_text(answer, "Wall of %zu layer%s, %g mm, at %g MHz, ", wall.count,
            wall.count == 1 ? "" : "s", wall.thickness_m * 1000, ask->values[MHZ].low);
    answer->title = angle_deg > 0
            ? sums_text(answer, "%.*sat %g degrees", TEXT_ARGS(answer->title), angle_deg)
            : sums_text(answer, "%.*sstraight through", TEXT_ARGS(answer->title));
    add_pass(answer, &pass);
    if (angle_deg > 0) {
        TRY(add_polarisations(answer, &wall, hz, angle_deg, ret_problem));
    }
    if (!wall.conducts) {
        add_measured(answer, &wall);
    }
    sums_wall_add_layers(answer, &wall, hz);
    sums_wall_note(answer, &wall);
    sums_note(answer,
            text_of("endless plain layers: no studs, no steel in the concrete, no wires; what goes "
                    "round through doors and windows is not in it"));
    return outcome_good();
}

const struct sums_sum sums_radio_wall = {
        .command = "radio",
        .name = "wall",
        .takes = "LAYER ... --mhz MHZ",
        .answers = "what a wall of these layers lets through; a layer is brick:100mm, or "
                   "sheet:4ohm of foil and coatings",
        SUMS_OPTIONS(options),
        .words_least = 1,
        .words_most = RADIO_LAYERS_MOST,
        .work = work,
};
