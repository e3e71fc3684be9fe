/* lintel radio traffic: how often messages of many devices fall on each other, and how long each is on the air. */
#include "radio/supervise.h"
#include "sums/parts.h"

enum { DEVICES, AIRTIME, COPIES, EVERY, MOST };

static const struct sums_option options[] = {
        [DEVICES] = {.name = "devices",
                .takes = SUMS_COUNT,
                .low = 1,
                .high = 100000,
                .shown = "N",
                .help = "devices on one channel"},
        [AIRTIME] = {.name = "airtime",
                .takes = SUMS_QUANTITY,
                .kind = QUANTITY_TIME_S,
                .low = 0.001,
                .high = 60,
                .shown = "TIME",
                .help = "length of one copy of a message, such as 20ms"},
        [COPIES] = {.name = "copies",
                .takes = SUMS_COUNT,
                .low = 1,
                .high = 100,
                .usual = "1",
                .shown = "N",
                .help = "how often each message is repeated, in all"},
        [EVERY] = {.name = "every",
                .takes = SUMS_QUANTITY,
                .kind = QUANTITY_TIME_S,
                .low = 0.1,
                .high = 604800,
                .shown = "TIME",
                .help = "time between messages of one device, such as 70min"},
        [MOST] = {.name = "most-an-hour",
                .takes = SUMS_QUANTITY,
                .kind = QUANTITY_TIME_S,
                .low = 0.001,
                .high = 3600,
                .usual = "",
                .shown = "TIME",
                .help = "airtime that the band allows one device: 2s (47 CFR 15.231(a)(3)), 36s "
                        "(1 %), 3.6s (0.1 %, ERC/REC 70-03)"},
};

static const char ALOHA[] = "unslotted ALOHA: Abramson, AFIPS FJCC 1970";

static void add_airtime(
        const struct sums_ask *ask, struct sums_answer *answer, const struct radio_crowd *crowd) {
    const struct sums_value *values = ask->values;
    const double airtime_s = crowd->duty_ratio * 3600;
    struct sums_figure *figure =
            sums_add(answer, "airtime_s_h", "one device is on the air", airtime_s, 3, "s/h");
    sums_explain(figure,
            sums_text(answer, "3600 s x %g s x %g / %g s", values[AIRTIME].low, values[COPIES].low,
                    values[EVERY].low),
            "definition");
    figure = sums_add(answer, "duty_percent", "that is", 100 * crowd->duty_ratio, 4, "%");
    sums_explain(figure, sums_text(answer, "100 x %.4f s / 3600 s", airtime_s), "definition");
    if (values[MOST].count > 0) {
        answer->wrong = airtime_s > values[MOST].low;
        sums_add_words(answer, "verdict", "verdict",
                answer->wrong ? sums_text(answer, "longer than the %g s an hour that are allowed",
                                        values[MOST].low)
                              : sums_text(answer, "within the %g s an hour that are allowed",
                                        values[MOST].low));
    }
}

static outcome work(
        const struct sums_ask *ask, struct sums_answer *answer, struct problem *ret_problem) {
    const struct sums_value *values = ask->values;
    const struct radio_traffic traffic = {.devices = (size_t)values[DEVICES].low,
            .airtime_s = values[AIRTIME].low,
            .copies = (size_t)values[COPIES].low,
            .interval_s = values[EVERY].low};
    struct radio_crowd crowd;
    TRY(radio_crowd(&traffic, &crowd, ret_problem));
    answer->title = sums_text(answer, "%zu devices, a message of %zu x %g ms every %g s each",
            traffic.devices, traffic.copies, traffic.airtime_s * 1000, traffic.interval_s);
    struct sums_figure *figure = sums_add(answer, "load", "load of the channel", crowd.load,
            quantity_decimals_for(crowd.load, 3), "");
    sums_explain(figure,
            sums_text(answer, "G = N x airtime x copies / interval = %zu x %g s x %zu / %g s",
                    traffic.devices, traffic.airtime_s, traffic.copies, traffic.interval_s),
            ALOHA);
    figure = sums_add(answer, "hit_percent", "a copy is hit", 100 * crowd.hit_ratio,
            quantity_decimals_for(100 * crowd.hit_ratio, 3), "%");
    sums_explain(figure,
            sums_text(answer, "100 x (1 - (1 - 2 x airtime / interval)^((N - 1) x copies))"),
            ALOHA);
    figure = sums_add(answer, "lost_percent", "a message is lost", 100 * crowd.lost_ratio,
            quantity_decimals_for(100 * crowd.lost_ratio, 3), "%");
    sums_explain(figure, sums_text(answer, "100 x (copy is hit)^%zu", traffic.copies), ALOHA);
    add_airtime(ask, answer, &crowd);
    sums_note(answer,
            text_of("clocks are taken to drift apart at random; two that keep step fall on each "
                    "other again and again"));
    sums_note(answer, text_of("a stronger message that survives is left out: careful"));
    return outcome_good();
}

const struct sums_sum sums_radio_traffic = {
        .command = "radio",
        .name = "traffic",
        .takes = "--devices N --airtime TIME --every TIME ...",
        .answers = "how often messages of many devices collide, and each one's time on the air",
        SUMS_OPTIONS(options),
        .work = work,
};
