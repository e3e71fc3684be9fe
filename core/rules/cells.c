/* Batteries of devices: whether they last as long as the manual says, in this place and with so many trips; and whether
 * the cold stops them (power/site_cells.h). When one is due is the calendar's (lintel power SITE). */
#include "power/site_cells.h"
#include "rules/parts.h"

static bool find_cell(
        struct rules_finder *finder, size_t device, struct power_site_cell *ret_cell) {
    enum power_lack lack = POWER_LACKS_NOTHING;
    return power_site_cell(finder->site, device, ret_cell, &lack, NULL).good &&
            lack == POWER_LACKS_NOTHING;
}

/* "106 to 140", "300" where both ends are the same in whole numbers. */
static struct text range(const struct rules_finder *finder, double low, double high) {
    return high - low < 0.5 ? text_print(finder->arena, "%.0f", low)
                            : text_print(finder->arena, "%.0f to %.0f", low, high);
}

static void look_early(struct rules_finder *finder, const struct rules_check *check) {
    const struct site *site = finder->site;
    for (size_t i = 0; i < site->device_count; i++) {
        struct power_site_cell cell;
        if (!find_cell(finder, i, &cell)) {
            continue;
        }
        const struct site_device_profile *profile =
                &site->device_profiles[site->devices[i].profile];
        if (profile->battery_years == 0 || cell.life.least_years >= profile->battery_years) {
            continue;
        }
        struct words_about about = words_about_nothing();
        about.named = site->devices[i].name;
        about.count = profile->battery_years;
        about.other = text_print(finder->arena, "%.1f", cell.life.change_years);
        about.detail = text_print(finder->arena,
                "%.1f to %.1f years: %.*s mAh a year at %.*s trips a day, out of %.*s mAh, at %.*s "
                "°C",
                cell.life.least_years, cell.life.most_years,
                TEXT_ARGS(range(finder, cell.stock.year_low_mah, cell.stock.year_high_mah)),
                TEXT_ARGS(range(finder, cell.events_low, cell.events_high)),
                TEXT_ARGS(range(finder, cell.stock.low_mah, cell.stock.high_mah)),
                TEXT_ARGS(range(finder, cell.stock.coldest_c, cell.stock.warmest_c)));
        if (site->devices[i].trips_day > 0) {
            rules_add(finder, check, &about, "devices[%zu].trips-a-day", i);
        } else if (site->devices[i].place_at.said) {
            rules_add(finder, check, &about, "devices[%zu].at", i);
        } else {
            rules_add(finder, check, &about, "devices[%zu]", i);
        }
    }
}

static void look_cold(struct rules_finder *finder, const struct rules_check *check) {
    const struct site *site = finder->site;
    for (size_t i = 0; i < site->device_count; i++) {
        struct power_site_cell cell;
        if (!find_cell(finder, i, &cell) || !cell.cold) {
            continue;
        }
        struct words_about about = words_about_nothing();
        about.named = site->devices[i].name;
        about.detail = text_print(finder->arena,
                "its place gets %g °C, and below %g °C a %s may fail on the pulse of a message "
                "though it is charged",
                cell.stock.coldest_c, cell.cell->weak_c, cell.cell->name);
        rules_add(finder, check, &about, "devices[%zu].at", i);
    }
}

static const struct rules_check rows[] = {
        {
                .id = "power.cell-early",
                .weight = FINDING_RISK,
                .headline = "the battery of \"{named}\" may not last the {count} years of its "
                            "manual",
                .why = "it lasts {detail}",
                .remedy = "change it after {other} years; or a model, or a place, where it is "
                          "tripped less",
                .source = "charge is current times time; data/power/cells.tsv (docs/power.md)",
                .look = look_early,
        },
        {
                .id = "power.cell-cold",
                .weight = FINDING_RISK,
                .headline = "\"{named}\" may fall silent in the cold",
                .why = "{detail}",
                .remedy = "a model with a lithium cell that is no coin, or another place",
                .source = "data/power/cells.tsv (from memory, unverified)",
                .look = look_cold,
        },
};

const struct rules_checks rules_cells = RULES_ROWS(rows);
