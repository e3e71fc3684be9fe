/* lintel radio supervise: how often a device that is well is called missing, and how long a lost one is not. */
#include "radio/supervise.h"
#include "sums/parts.h"

enum { CHECK_IN, WINDOW, COPIES, LOST, BAD_SHARE, BAD_DWELL, BAD_LOST };

static const struct sums_option options[] = {
        [CHECK_IN] = {.name = "check-in",
                .takes = SUMS_QUANTITY,
                .kind = QUANTITY_TIME_S,
                .low = 1,
                .high = 604800,
                .shown = "TIME",
                .help = "how often the device says that it is there, such as 70min"},
        [WINDOW] = {.name = "window",
                .takes = SUMS_QUANTITY,
                .kind = QUANTITY_TIME_S,
                .low = 1,
                .high = 8640000,
                .shown = "TIME",
                .help = "after how long without a word it is called missing, such as 12h"},
        [COPIES] = {.name = "copies",
                .takes = SUMS_COUNT,
                .low = 1,
                .high = 100,
                .usual = "1",
                .shown = "N",
                .help = "how often each message is repeated, in all"},
        [LOST] = {.name = "lost",
                .takes = SUMS_QUANTITY,
                .kind = QUANTITY_PERCENT,
                .low = 0,
                .high = 100,
                .shown = "PERCENT",
                .help = "share of single copies that do not arrive, such as 10%"},
        [BAD_SHARE] = {.name = "bad-share",
                .takes = SUMS_QUANTITY,
                .kind = QUANTITY_PERCENT,
                .low = 0,
                .high = 99,
                .usual = "2 %",
                .shown = "PERCENT",
                .help = "share of bad hours (a van in front, a door open)"},
        [BAD_DWELL] = {.name = "bad-lasts",
                .takes = SUMS_QUANTITY,
                .kind = QUANTITY_TIME_S,
                .low = 1,
                .high = 8640000,
                .usual = "2 h",
                .shown = "TIME",
                .help = "how long a bad time lasts in the mean"},
        [BAD_LOST] = {.name = "bad-lost",
                .takes = SUMS_QUANTITY,
                .kind = QUANTITY_PERCENT,
                .low = 0,
                .high = 100,
                .usual = "80 %",
                .shown = "PERCENT",
                .help = "share of copies lost in it"},
};

/* Who is hardly ever heard is called missing once, and stays so. */
static const double MISSING_MOST_RATIO = 0.5;

static const char FELLER[] = "runs of misses: Feller, vol. 1; own two-state chain";

/* Copies milliseconds apart share one fade: at best they are lost apart, at worst together. */
static double missed_ratio(double lost_percent, double copies) {
    return pow(lost_percent / 100, copies);
}

/* With copies lost apart, and together: the two ends. */
static outcome find_ends(const struct sums_ask *ask, struct radio_check_ins check_ins,
        bool bad_hours, struct radio_called_missing *ret_ends, struct problem *ret_problem) {
    const struct sums_value *values = ask->values;
    check_ins.bad_share_ratio = bad_hours ? values[BAD_SHARE].low / 100 : 0;
    for (size_t i = 0; i < 2; i++) {
        const double copies = i == 0 ? values[COPIES].low : 1;
        check_ins.missed_good_ratio = missed_ratio(values[LOST].low, copies);
        check_ins.missed_bad_ratio = missed_ratio(values[BAD_LOST].low, copies);
        TRY(radio_call_missing(&check_ins, &ret_ends[i], ret_problem));
    }
    return outcome_good();
}

static void add_troubles(struct sums_answer *answer, const struct radio_called_missing *ends,
        const char *key, const char *label, const char *how) {
    const double low = fmin(ends[0].troubles_a_year, ends[1].troubles_a_year);
    const double high = fmax(ends[0].troubles_a_year, ends[1].troubles_a_year);
    sums_explain(
            sums_add_range(answer, key, label, low, high, quantity_decimals_for(high, 2), "a year"),
            text_of(how), FELLER);
}

static void add_missing(struct sums_answer *answer, const struct radio_called_missing *ends) {
    const double high = 100 * ends[1].missing_ratio;
    sums_explain(
            sums_add_range(answer, "missing_percent", "called missing", 100 * ends[0].missing_ratio,
                    high, high < 0.01 ? 0 : quantity_decimals_for(high, 2), "% of the time"),
            text_of("with bad hours: chance that n + 1 check-ins in a row are missed, and of the "
                    "time before the last of them (n + 1 - window / check-in) x chance of an "
                    "arrival and then n misses"),
            FELLER);
}

static void add_unnoticed(
        struct sums_answer *answer, const struct radio_check_ins *check_ins, double misses) {
    const double window_h = check_ins->window_s / 3600;
    const double interval_h = check_ins->interval_s / 3600;
    struct sums_figure *figure =
            sums_add(answer, "misses_in_a_row", "misses in a row", misses, 0, "");
    sums_explain(figure,
            sums_text(answer, "n = whole part of window / check-in = %g s / %g s",
                    check_ins->window_s, check_ins->interval_s),
            "definition");
    figure = sums_add_range(answer, "unnoticed_h", "a loss stays unnoticed", window_h - interval_h,
            window_h, 1, "h");
    sums_explain(figure,
            sums_text(answer, "window - check-in to window: %.2f h - %.2f h to %.2f h", window_h,
                    interval_h, window_h),
            "the last check-in came up to one interval before the loss");
}

static outcome work(
        const struct sums_ask *ask, struct sums_answer *answer, struct problem *ret_problem) {
    const struct sums_value *values = ask->values;
    const struct radio_check_ins check_ins = {.interval_s = values[CHECK_IN].low,
            .window_s = values[WINDOW].low,
            .bad_dwell_s = values[BAD_DWELL].low};
    size_t misses = 0;
    struct radio_called_missing quiet[2] = {{0}};
    struct radio_called_missing with_bad[2] = {{0}};
    TRY(radio_misses(check_ins.interval_s, check_ins.window_s, &misses, ret_problem));
    answer->title = sums_text(answer, "Supervision: a check-in every %g min, missing after %g h",
            check_ins.interval_s / 60, check_ins.window_s / 3600);
    add_unnoticed(answer, &check_ins, (double)misses);
    const double apart = 100 * missed_ratio(values[LOST].low, values[COPIES].low);
    struct sums_figure *figure = sums_add_range(answer, "missed_percent", "missed check-ins",
            fmin(apart, values[LOST].low), values[LOST].low, 2, "%");
    sums_explain(figure,
            sums_text(answer, "100 x (%g / 100)^%g where copies are lost apart, to %g %% together",
                    values[LOST].low, values[COPIES].low, values[LOST].low),
            "copies milliseconds apart share one fade: common practice");
    TRY(find_ends(ask, check_ins, false, quiet, ret_problem));
    TRY(find_ends(ask, check_ins, true, with_bad, ret_problem));
    add_troubles(answer, quiet, "troubles_good_hours", "troubles, good hours",
            "525600 min / check-in x (1 - q) q^n, q = missed check-ins; from all copies lost apart "
            "to all lost together");
    add_troubles(answer, with_bad, "troubles", "with bad hours",
            "525600 min / check-in x chance of an arrival and then n misses, the weather changing "
            "between two check-ins with 1 - e^(-check-in / (dwell x share of good hours))");
    add_missing(answer, with_bad);
    const bool often = fmax(with_bad[0].troubles_a_year, with_bad[1].troubles_a_year) > 1;
    answer->wrong = often || with_bad[1].missing_ratio > MISSING_MOST_RATIO;
    sums_add_words(answer, "verdict", "verdict",
            text_of(often                   ? "may call it missing more than once a year"
                            : answer->wrong ? "hardly ever heard: missing most of the time"
                                            : "at most one false trouble a year"));
    sums_note(answer,
            text_of("bad hours are assumed, not measured (unverified): use the figures to rank "
                    "devices, not to foretell"));
    return outcome_good();
}

const struct sums_sum sums_radio_supervise = {
        .command = "radio",
        .name = "supervise",
        .takes = "--check-in TIME --window TIME --lost PERCENT ...",
        .answers = "how often a device that is well is called missing, and how long a lost one "
                   "stays unnoticed",
        SUMS_OPTIONS(options),
        .work = work,
};
