#include "sums/power_site.h"

#include "power/site_supply.h"
#include "power/standby.h"
#include "sums/parts.h"
#include "sums/power_parts.h"

/* Two figures of each load, two of each battery, a visit for it, a figure of each cable, two of each loop; the
 * standby. */
_Static_assert(5 * (SITE_DEVICE_MAX + 1) + SITE_CABLE_MAX + 2 * SITE_ZONE_MAX + 16 <
                SUMS_SITE_FIGURES_MOST,
        "the figures of the largest site have room");

/* What is drawn, in thousandths of a milliampere, and whose profile does not say it. */
struct loads {
    int64_t rest;
    int64_t alarm;
    struct text silent;
};

static void add_load(struct sums_answer *answer, struct loads *loads, struct text item,
        struct measure current, size_t count) {
    const double rest_ma = (double)current.low / MEASURE_UNIT * (double)count;
    const double alarm_ma = (double)current.high / MEASURE_UNIT * (double)count;
    struct sums_figure *figure =
            sums_of(sums_add(answer, "rest_ma", "", rest_ma, sums_decimals(rest_ma), "mA at rest"),
                    "loads", item);
    sums_explain(figure,
            sums_text(answer, "%zu x %g mA", count, (double)current.low / MEASURE_UNIT),
            "its profile");
    figure = sums_of(
            sums_add(answer, "alarm_ma", "", alarm_ma, sums_decimals(alarm_ma), "mA in alarm"),
            "loads", item);
    sums_explain(figure,
            sums_text(answer, "%zu x %g mA", count, (double)current.high / MEASURE_UNIT),
            "its profile");
    loads->rest += current.low * (int64_t)count;
    loads->alarm += current.high * (int64_t)count;
}

/* All wired devices of one profile together. */
static void add_profile(
        const struct site *site, size_t profile, struct sums_answer *answer, struct loads *loads) {
    const struct site_device_profile *of = &site->device_profiles[profile];
    size_t count = 0;
    for (size_t i = 0; i < site->device_count; i++) {
        count += site->devices[i].profile == (int)profile;
    }
    if (count == 0 || of->radio) {
        return;
    }
    if (!of->current.said) {
        loads->silent = sums_text(answer, "%.*s%s%.*s", TEXT_ARGS(loads->silent),
                loads->silent.length > 0 ? ", " : "", TEXT_ARGS(of->name));
        return;
    }
    add_load(answer, loads, sums_text(answer, "%zu %.*s", count, TEXT_ARGS(of->name)), of->current,
            count);
}

static void note_keypads(const struct site *site, struct sums_answer *answer) {
    const size_t bare = power_bare_keypads(site);
    if (bare > 0) {
        sums_note(answer,
                sums_text(answer,
                        "%zu keypad%s without a device in the file, so without a profile: %s draw "
                        "is not counted",
                        bare, bare == 1 ? "" : "s", bare == 1 ? "its" : "their"));
    }
}

static outcome add_loads(const struct site *site, struct sums_answer *answer, struct loads *loads,
        struct problem *ret_problem) {
    if (site->panel.current.said) {
        add_load(answer, loads, site->panel.name, site->panel.current, 1);
    } else {
        loads->silent = site->panel.name;
    }
    for (size_t i = 0; i < site->device_profile_count; i++) {
        add_profile(site, i, answer, loads);
    }
    if (loads->rest + loads->alarm == 0) {
        FAIL(ret_problem, PROBLEM_MISSING, "",
                "no profile says what its device draws (current:); docs/profiles.md shows how");
    }
    return outcome_good();
}

static bool is_among(const struct text *words, size_t count, const char *option) {
    bool found = false;
    for (size_t i = 0; i < count; i++) {
        found = found || text_is(words[i], option);
    }
    return found;
}

/* What the site says stands in for what was not asked: its battery, how cold its place gets, and the first of its
 * rule sets that has a time without mains. Gives how many words. */
static size_t add_said(const struct site *site, const struct text *words, size_t count,
        struct sums_answer *answer, struct text *ret_words) {
    size_t total = 0;
    if (site->supply.battery.said && !is_among(words, count, "--battery")) {
        ret_words[total++] = text_of("--battery");
        ret_words[total++] =
                sums_text(answer, "%.3fmAh", (double)site->supply.battery.low / MEASURE_UNIT);
    }
    if (site->supply.at.said && !is_among(words, count, "--temperature")) {
        ret_words[total++] = text_of("--temperature");
        ret_words[total++] = sums_text(answer, "%.1fC", (double)site->supply.at.low / MEASURE_UNIT);
    }
    for (size_t i = 0; i < site->rule_count && !is_among(words, count, "--rules"); i++) {
        const struct power_rule *rule = NULL;
        if (power_rule_find(site->rules[i], &rule, NULL).good) {
            ret_words[total++] = text_of("--rules");
            ret_words[total++] = site->rules[i];
            break;
        }
    }
    return total;
}

outcome sums_run_power_site(const struct site *site, const struct text *words, size_t count,
        struct arena *arena, struct sums_answer *ret_answer, struct problem *ret_problem) {
    enum { OWN_MOST = 10 };
    struct sums_ask ask = {.sum = &sums_power_standby};
    struct sums_answer answer = {.arena = arena, .figure_most = SUMS_SITE_FIGURES_MOST};
    struct text all[SUMS_WORDS_MOST];
    struct loads loads = {0};
    if (count + OWN_MOST > SUMS_WORDS_MOST) {
        FAIL(ret_problem, PROBLEM_LIMIT, "", "at most %d words", SUMS_WORDS_MOST - OWN_MOST);
    }
    answer.figures = ARENA_ARRAY(arena, struct sums_figure, answer.figure_most);
    if (answer.figures == NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory for the loads");
    }
    TRY(add_loads(site, &answer, &loads, ret_problem));
    size_t total = 0;
    all[total++] = text_of("--standby");
    all[total++] = sums_text(&answer, "%.3fmA", (double)loads.rest / MEASURE_UNIT);
    all[total++] = text_of("--alarm");
    all[total++] = sums_text(&answer, "%.3fmA", (double)loads.alarm / MEASURE_UNIT);
    total += add_said(site, words, count, &answer, all + total);
    for (size_t i = 0; i < count; i++) {
        all[total++] = words[i];
    }
    TRY(sums_add_cells(site, &answer, ret_problem));
    TRY(sums_add_cables(site, &answer, ret_problem));
    TRY(sums_add_loops(site, &answer, ret_problem));
    TRY(sums_read(&ask, all, total, arena, ret_problem));
    TRY(sums_power_standby.work(&ask, &answer, ret_problem));
    answer.title = sums_text(&answer, "%.*s: %.*s", TEXT_ARGS(site->name), TEXT_ARGS(answer.title));
    note_keypads(site, &answer);
    if (loads.silent.length > 0) {
        sums_note(&answer,
                sums_text(&answer, "not counted, as their profiles say no current: %.*s",
                        TEXT_ARGS(loads.silent)));
    }
    if (arena->refused) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory for the loads");
    }
    *ret_answer = answer;
    return outcome_good();
}
