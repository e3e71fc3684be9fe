/* lintel power standby: which battery carries the panel through the time without mains. */
#include "power/battery.h"
#include "power/site_supply.h"
#include "power/standby.h"
#include "sums/parts.h"
#include "sums/power_site.h"

enum {
    STANDBY,
    ALARM,
    HOURS,
    ALARM_TIME,
    RULES,
    MARGIN,
    BATTERY,
    TEMPERATURE,
    AGE,
    PEUKERT,
    RECHARGE
};

#define HOURS_OPTION(named, text)                                                                  \
    {                                                                                              \
        .name = (named), .takes = SUMS_QUANTITY, .kind = QUANTITY_TIME_S, .low = 0,                \
        .high = 36000000, .usual = "", .shown = "TIME", .help = (text)                             \
    }

static const struct sums_option options[] = {
        [STANDBY] = {.name = "standby",
                .takes = SUMS_QUANTITY,
                .kind = QUANTITY_CURRENT_MA,
                .low = 0,
                .high = 1000000,
                .shown = "CURRENT",
                .help = "all that is drawn at rest, such as 180mA; the maximum column, not "
                        "typical"},
        [ALARM] = {.name = "alarm",
                .takes = SUMS_QUANTITY,
                .kind = QUANTITY_CURRENT_MA,
                .low = 0,
                .high = 1000000,
                .usual = "0 mA",
                .shown = "CURRENT",
                .help = "all that is drawn in alarm"},
        [HOURS] = HOURS_OPTION("hours", "how long without mains, such as 24h; else by --rules"),
        [ALARM_TIME] = HOURS_OPTION("alarm-time", "how long in alarm; else by --rules"),
        [RULES] = {.name = "rules",
                .takes = SUMS_WORD,
                .usual = "house",
                .shown = "NAME",
                .help = "whose hours and margin count where none are given"},
        [MARGIN] = {.name = "margin",
                .takes = SUMS_QUANTITY,
                .kind = QUANTITY_PERCENT,
                .low = 0,
                .high = 300,
                .usual = "",
                .shown = "PERCENT",
                .help = "on top of the charge; else by --rules"},
        [BATTERY] = {.name = "battery",
                .takes = SUMS_QUANTITY,
                .kind = QUANTITY_CHARGE_MAH,
                .low = 100,
                .high = 10000000,
                .usual = "",
                .shown = "CHARGE",
                .help = "the battery that is there, such as 7Ah"},
        [TEMPERATURE] = {.name = "temperature",
                .takes = SUMS_QUANTITY,
                .kind = QUANTITY_TEMPERATURE_C,
                .bare_unit = "C",
                .low = -3.9,
                .high = 43.3,
                .usual = "25 C",
                .shown = "TEMP",
                .help = "the coldest the battery gets"},
        [AGE] = {.name = "aged",
                .takes = SUMS_QUANTITY,
                .kind = QUANTITY_PERCENT,
                .low = 10,
                .high = 100,
                .usual = "100 %",
                .shown = "PERCENT",
                .help = "what age has left of it; worn out is 80%, which a margin may hold "
                        "already"},
        [PEUKERT] = {.name = "peukert",
                .takes = SUMS_NUMBER,
                .low = 1,
                .high = 1.6,
                .usual = "1.15",
                .shown = "EXPONENT",
                .help = "1.05 to 1.15 for glass mat, 1.1 to 1.25 for gel"},
        [RECHARGE] = HOURS_OPTION("recharge",
                "hours in which it must be full again; else by "
                "--rules"),
};

/* What counts, from the options and the rule set. */
struct wanted {
    struct power_load load;
    double margin_ratio;
    double left_ratio; /* by cold and age */
    double recharge_h;
    double recharge_ratio;
    const struct power_rule *rule;
};

static outcome read_wanted(
        const struct sums_ask *ask, struct wanted *wanted, struct problem *ret_problem) {
    const struct sums_value *values = ask->values;
    const struct power_rule *rule = NULL;
    double cold_ratio = 0;
    TRY(power_rule_find(values[RULES].word, &rule, ret_problem));
    TRY(power_cold_ratio(values[TEMPERATURE].low, &cold_ratio, ret_problem));
    *wanted = (struct wanted){
            .load = {.standby_a = values[STANDBY].low / 1000,
                    .standby_h =
                            values[HOURS].count > 0 ? values[HOURS].low / 3600 : rule->standby_h,
                    .alarm_a = values[ALARM].low / 1000,
                    .alarm_h = values[ALARM_TIME].count > 0 ? values[ALARM_TIME].low / 3600
                                                            : rule->alarm_min / 60},
            .margin_ratio = 1 +
                    (values[MARGIN].count > 0 ? values[MARGIN].low : rule->margin_percent) / 100,
            .left_ratio = cold_ratio * values[AGE].low / 100,
            .recharge_h =
                    values[RECHARGE].count > 0 ? values[RECHARGE].low / 3600 : rule->recharge_h,
            .recharge_ratio = values[RECHARGE].count > 0 ? 1 : rule->recharge_percent / 100,
            .rule = rule,
    };
    return outcome_good();
}

static outcome add_need(const struct wanted *wanted, struct sums_answer *answer,
        double *ret_required_ah, struct problem *ret_problem) {
    const struct power_load *load = &wanted->load;
    double need_ah = 0;
    TRY(power_need_ah(load, &need_ah, ret_problem));
    struct sums_figure *figure = sums_add(answer, "need_ah", "charge", need_ah, 3, "Ah");
    sums_explain(figure,
            sums_text(answer, "%g A x %g h + %g A x %g h", load->standby_a, load->standby_h,
                    load->alarm_a, load->alarm_h),
            "common practice of every standard on alarm supplies");
    *ret_required_ah = need_ah * wanted->margin_ratio / wanted->left_ratio;
    figure = sums_add(answer, "required_ah", "battery needed", *ret_required_ah, 2, "Ah");
    sums_explain(figure,
            sums_text(answer, "%.3f Ah x %.2f / %.3f (margin; what cold and age leave)", need_ah,
                    wanted->margin_ratio, wanted->left_ratio),
            "margin by the rule set; cold: IEEE 485 (from memory)");
    return outcome_good();
}

static outcome add_battery(const struct wanted *wanted, struct sums_answer *answer,
        double battery_ah, double required_ah, double peukert, struct problem *ret_problem) {
    double used_ratio = 0;
    TRY(power_carries(
            &wanted->load, battery_ah, wanted->left_ratio, peukert, &used_ratio, ret_problem));
    struct sums_figure *figure =
            sums_add(answer, "used_percent", "of it used up", 100 * used_ratio, 1, "%");
    sums_explain(figure,
            sums_text(answer,
                    "hours over the hours it lasts, both phases: t = 20 h (C / (20 h x I))^%g, at "
                    "most C / I, C = %g Ah x %.3f",
                    peukert, battery_ah, wanted->left_ratio),
            "Peukert 1897");
    if (wanted->load.alarm_a > 0) {
        const struct power_battery battery = {
                battery_ah, POWER_RATED_H, peukert, wanted->left_ratio};
        double left_h = 0;
        TRY(power_alarm_left_h(&battery, &wanted->load, &left_h, ret_problem));
        figure = sums_add(answer, "alarm_left_min", "alarm it carries then", 60 * left_h, 0, "min");
        figure->remark = sums_text(answer, "after %g h at rest", wanted->load.standby_h);
        sums_explain(figure,
                sums_text(answer,
                        "what the hours at rest leave (1 - %g h / hours it lasts at %g A) x hours "
                        "it lasts at %g A",
                        wanted->load.standby_h, wanted->load.standby_a, wanted->load.alarm_a),
                "Peukert 1897");
    }
    if (wanted->recharge_h > 0) {
        figure = sums_add(answer, "recharge_a", "to charge it in time",
                power_recharge_a(battery_ah, wanted->recharge_ratio, wanted->recharge_h), 3, "A");
        sums_explain(figure,
                sums_text(answer, "%g Ah x %g %% x 1.2 / %g h, beside what is drawn at rest",
                        battery_ah, 100 * wanted->recharge_ratio, wanted->recharge_h),
                "common practice");
    }
    answer->wrong = battery_ah < required_ah || used_ratio > 1;
    return outcome_good();
}

static outcome work(
        const struct sums_ask *ask, struct sums_answer *answer, struct problem *ret_problem) {
    const struct sums_value *values = ask->values;
    const double given_ah = values[BATTERY].low / 1000;
    struct wanted wanted;
    double required_ah = 0;
    double size_ah = 0;
    TRY(read_wanted(ask, &wanted, ret_problem));
    answer->title = sums_text(answer, "Standby %g h, alarm %g min, rule set %s",
            wanted.load.standby_h, wanted.load.alarm_h * 60, wanted.rule->name);
    TRY(add_need(&wanted, answer, &required_ah, ret_problem));
    TRY(power_find_size(&wanted.load, required_ah, wanted.left_ratio, values[PEUKERT].low, &size_ah,
            ret_problem));
    if (size_ah > 0) {
        struct sums_figure *figure =
                sums_add(answer, "next_size_ah", "next listed size", size_ah, 1, "Ah");
        sums_explain(figure,
                text_of("the smallest listed size that holds it and of which Peukert's sum uses no "
                        "more than all"),
                "sizes of 12 V lead batteries: common practice");
    }
    const double battery_ah = values[BATTERY].count > 0 ? given_ah : size_ah;
    if (battery_ah > 0) {
        TRY(add_battery(
                &wanted, answer, battery_ah, required_ah, values[PEUKERT].low, ret_problem));
    }
    answer->wrong = answer->wrong || battery_ah <= 0;
    const struct text verdict = battery_ah <= 0
            ? text_of("no listed battery is large enough: a second supply, or less to feed")
            : sums_text(answer, "%g Ah %s", battery_ah,
                      answer->wrong                       ? "is too small"
                              : values[BATTERY].count > 0 ? "lives through it"
                                                          : "will do");
    sums_add_words(answer, "verdict", "verdict", verdict);
    sums_note(answer, sums_text(answer, "%s (%s)", wanted.rule->source, wanted.rule->certainty));
    sums_note(answer,
            text_of("check that siren and detectors still work at 10.5 V, the end of a 12 V "
                    "battery; "
                    "change it after 3 to 5 years (common practice)"));
    return outcome_good();
}

const struct sums_sum sums_power_standby = {
        .command = "power",
        .name = "standby",
        .takes = "--standby CURRENT ...",
        .answers = "which battery carries the panel through the time without mains",
        SUMS_OPTIONS(options),
        .work = work,
};

/* Of a site the currents come from its profiles: the first two options are left out. */
const struct sums_sum sums_power_site = {
        .command = "power",
        .name = "SITE",
        .takes = "[OPTION ...]",
        .answers =
                "which battery carries the panel and all it feeds, by their profiles, through the "
                "time without mains",
        .options = options + HOURS,
        .option_count = sizeof options / sizeof options[0] - HOURS,
};
