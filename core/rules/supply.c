/* The panel's supply: whether its battery fits, carries the site through the time without mains of the rule sets, and
 * is charged in time; whether devices draw more than the panel gives (power/site_supply.h). Nothing is checked before
 * the site says which battery is in it. Mains and batteries can hurt: local codes and the makers' instructions win. */
#include "power/site_supply.h"
#include "rules/parts.h"

#include <math.h>

static double amperes(int64_t thousandths_ma) {
    return (double)thousandths_ma / 1e3 / MEASURE_UNIT;
}

static double ampere_hours(int32_t thousandths_mah) {
    return (double)thousandths_mah / 1e3 / MEASURE_UNIT;
}

/* The rows of the standby table for the site's rule sets. */
static const struct power_rule *rule_of(const struct site *site, size_t index) {
    const struct power_rule *rule = NULL;
    return power_rule_find(site->rules[index], &rule, NULL).good ? rule : NULL;
}

static struct text drawn_text(const struct rules_finder *finder, const struct power_drawn *drawn) {
    return text_print(finder->arena, "%.3g A at rest, %.3g A in alarm%s", amperes(drawn->rest),
            amperes(drawn->alarm),
            drawn->silent > 0 || drawn->panel_silent ? ", and more: profiles are silent of some"
                                                     : "");
}

/* The next listed size that carries it and that the panel takes. */
static struct text battery_text(const struct rules_finder *finder, double size_ah) {
    const struct measure fits = finder->site->panel.battery_size;
    double wanted_ah = size_ah;
    if (fits.said && size_ah > 0 && size_ah < ampere_hours(fits.low)) {
        wanted_ah = power_next_size_ah(ampere_hours(fits.low));
    }
    if (wanted_ah <= 0 || (fits.said && wanted_ah > ampere_hours(fits.high))) {
        return text_of("a second supply, or less to feed: no listed battery that fits is enough");
    }
    return text_print(finder->arena, "a battery of %g Ah, the next listed size%s", wanted_ah,
            fits.said ? " that fits" : "");
}

/* Of the times without mains that the rule sets want, the share of a battery that the hardest uses; over 1: it is not
 * enough, or is not charged in time. */
static double hardest_ratio(const struct site *site, double battery_ah) {
    struct site with = *site;
    double hardest = 0;
    with.supply.battery.low = with.supply.battery.high =
            (int32_t)round(battery_ah * 1000 * MEASURE_UNIT);
    for (size_t i = 0; i < site->rule_count; i++) {
        const struct power_rule *rule = rule_of(site, i);
        struct power_standing it;
        if (rule == NULL) {
            continue;
        }
        if (!power_site_standing(&with, rule, &it, NULL).good || it.fitted_ah < it.required_ah ||
                (site->panel.charges_at.said &&
                        amperes(site->panel.charges_at.low) < it.recharge_a)) {
            return INFINITY;
        }
        hardest = fmax(hardest, it.used_ratio);
    }
    return hardest;
}

/* The smallest listed battery that the panel takes, and that lives through all times. */
static void mend(struct rules_finder *finder) {
    const struct site *site = finder->site;
    const struct measure fits = site->panel.battery_size;
    const double least_ah = fits.said ? ampere_hours(fits.low) : 0;
    for (double size_ah = power_next_size_ah(least_ah); size_ah > 0;
            size_ah = power_next_size_ah(size_ah * 1.001)) {
        const double used_ratio = hardest_ratio(site, size_ah);
        if ((fits.said && size_ah > ampere_hours(fits.high)) || power_site_drawn(site).rest == 0) {
            return;
        }
        if (used_ratio <= 1) {
            const struct finding_edit edit = {
                    text_of("panel.battery"), text_print(finder->arena, "%g Ah", size_ah)};
            rules_mend(finder,
                    text_print(finder->arena,
                            "a battery of %g Ah, the next listed size that fits; then the hardest "
                            "time on it uses %.0f %% of it",
                            size_ah, 100 * used_ratio),
                    text_of(""), &edit, 1);
            return;
        }
    }
}

static void look_short(struct rules_finder *finder, const struct rules_check *check) {
    const struct site *site = finder->site;
    const struct power_drawn drawn = power_site_drawn(site);
    for (size_t i = 0; i < site->rule_count && site->supply.battery.said && drawn.rest > 0; i++) {
        const struct power_rule *rule = rule_of(site, i);
        struct power_standing it;
        if (rule == NULL || !power_site_standing(site, rule, &it, NULL).good ||
                (it.fitted_ah >= it.required_ah && it.used_ratio <= 1)) {
            continue;
        }
        struct words_about about = words_about_nothing();
        about.named = text_print(finder->arena, "rule set %s", rule->name);
        about.detail = text_print(finder->arena,
                "%g h at rest and %g min of alarm take %.2f Ah, with margin and cold %.2f Ah "
                "(%.*s); %g Ah are in it, of which that uses %.0f %%",
                it.load.standby_h, it.load.alarm_h * 60, it.need_ah, it.required_ah,
                TEXT_ARGS(drawn_text(finder, &drawn)), it.fitted_ah, 100 * it.used_ratio);
        about.other = battery_text(finder, it.size_ah);
        about.advice = text_print(finder->arena, "%s (%s)", rule->source,
                text_is(text_of(rule->certainty), "memory") ? "from memory, unverified"
                                                            : rule->certainty);
        rules_add(finder, check, &about, "panel.battery");
        mend(finder);
    }
}

/* Where a figure is beyond the tables: a panel's place of -20 °C. */
static void look_refused(struct rules_finder *finder, const struct rules_check *check) {
    const struct site *site = finder->site;
    const struct power_drawn drawn = power_site_drawn(site);
    for (size_t i = 0; i < site->rule_count && site->supply.battery.said && drawn.rest > 0; i++) {
        const struct power_rule *rule = rule_of(site, i);
        struct problem problem = {.kind = PROBLEM_NONE};
        struct power_standing it;
        if (rule == NULL || power_site_standing(site, rule, &it, &problem).good) {
            continue;
        }
        struct words_about about = words_about_nothing();
        about.detail = text_print(finder->arena, "%s", problem.text);
        rules_add(finder, check, &about, site->supply.at.said ? "panel.at" : "panel.battery");
        return; /* it is the same for every rule set */
    }
}

static void look_size(struct rules_finder *finder, const struct rules_check *check) {
    const struct site_panel_profile *panel = &finder->site->panel;
    const struct measure battery = finder->site->supply.battery;
    if (!battery.said || !panel->battery_size.said ||
            (battery.low >= panel->battery_size.low && battery.high <= panel->battery_size.high)) {
        return;
    }
    struct words_about about = words_about_nothing();
    about.detail = text_print(finder->arena, "%.*s takes %g to %g Ah, %g Ah are in it",
            TEXT_ARGS(panel->name), ampere_hours(panel->battery_size.low),
            ampere_hours(panel->battery_size.high), ampere_hours(battery.low));
    rules_add(finder, check, &about, "panel.battery");
    mend(finder);
}

static void look_slow(struct rules_finder *finder, const struct rules_check *check) {
    const struct site *site = finder->site;
    for (size_t i = 0; i < site->rule_count && site->supply.battery.said; i++) {
        const struct power_rule *rule = rule_of(site, i);
        struct power_standing it;
        if (rule == NULL || !site->panel.charges_at.said || power_site_drawn(site).rest == 0 ||
                !power_site_standing(site, rule, &it, NULL).good ||
                amperes(site->panel.charges_at.low) >= it.recharge_a) {
            continue;
        }
        struct words_about about = words_about_nothing();
        about.named = text_print(finder->arena, "rule set %s", rule->name);
        about.detail = text_print(finder->arena,
                "%g Ah to %g %% within %g h take %.3g A, and the panel charges with %.3g A",
                it.fitted_ah, rule->recharge_percent, rule->recharge_h, it.recharge_a,
                amperes(site->panel.charges_at.low));
        rules_add(finder, check, &about, "panel.battery");
    }
}

static void look_output(struct rules_finder *finder, const struct rules_check *check) {
    const struct site *site = finder->site;
    const struct power_drawn drawn = power_site_drawn(site);
    if (!site->panel.output.said || drawn.devices_alarm <= site->panel.output.low) {
        return;
    }
    struct words_about about = words_about_nothing();
    about.detail =
            text_print(finder->arena, "they draw %.3g A in alarm, and %.*s gives %.3g A at most",
                    amperes(drawn.devices_alarm), TEXT_ARGS(site->panel.name),
                    amperes(site->panel.output.low));
    rules_add(finder, check, &about, "devices");
}

static const struct rules_check rows[] = {
        {
                .id = "power.standby-short",
                .weight = FINDING_FAULT,
                .headline = "without {mains} the panel falls silent before the time that {named} "
                            "wants is over",
                .why = "{detail}; {advice}",
                .remedy = "{other}",
                .price = "it takes longer to charge",
                .source = "sum of currents and hours; Peukert 1897; IEEE 485 (docs/power.md)",
                .look = look_short,
        },
        {
                .id = "power.standby-not-computed",
                .weight = FINDING_RISK,
                .headline = "how long the panel lasts without {mains} cannot be worked out",
                .why = "{detail}",
                .remedy = "another place for the panel, or figures within the tables",
                .source = "IEEE 485 (docs/power.md)",
                .look = look_refused,
        },
        {
                .id = "power.battery-size",
                .weight = FINDING_RISK,
                .headline = "the panel's battery is not one that it takes",
                .why = "{detail}",
                .remedy = "a battery within what the panel's manual allows",
                .source = "the panel's profile",
                .look = look_size,
        },
        {
                .id = "power.recharge-slow",
                .weight = FINDING_RISK,
                .headline = "the panel's battery is not full again in the time that {named} "
                            "wants",
                .why = "{detail}",
                .remedy = "a smaller battery where it does, or a supply that charges faster",
                .source = "1.2 times what goes in, common practice; the panel's profile",
                .look = look_slow,
        },
        {
                .id = "power.output-over",
                .weight = FINDING_FAULT,
                .headline = "devices draw more from the panel than it gives",
                .why = "{detail}",
                .remedy = "a supply of its own for the sirens, or fewer devices on the panel",
                .price = "a further supply and battery to look after",
                .source = "the profiles of panel and devices",
                .look = look_output,
        },
};

const struct rules_checks rules_supply = RULES_ROWS(rows);
