#include "check/carried.h"

#include "plan/house.h"
#include "power/site_supply.h"
#include "radio/fit.h"
#include "radio/reserve.h"

#include <math.h>

/* ---- links */

static enum carried_verdict judge(const struct site *site, const struct radio_site_link *link) {
    const struct radio_reserve *wanted = radio_reserve_of(site->rules, site->rule_count);
    if (link->high_db < 0) {
        return CARRIED_LOST;
    }
    return link->low_db < 0 || (link->back && link->back_low_db < 0) ||
                    (wanted != NULL && link->low_db < wanted->reserve_db)
            ? CARRIED_WEAK
            : CARRIED_HOLDS;
}

static outcome add_links(const struct site *site, struct arena *arena, struct carried *carried,
        struct problem *ret_problem) {
    struct radio_world world = radio_world_usual();
    struct radio_fit fit = {.count = 0};
    struct radio_stretched stretched = {.count = 0};
    struct radio_spot panel;
    struct house house;
    const struct house *drawn =
            site->building.said && house_make(site, arena, &house, NULL).good ? &house : NULL;
    const bool placed = radio_panel_spot(drawn, &panel);
    struct carried_link *links = ARENA_ARRAY(arena, struct carried_link, site->device_count + 1);
    if (links == NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory for the radio links");
    }
    if (radio_site_fit(site, drawn, &world, arena, &fit, NULL).good) {
        world.shift_db = fit.shift_db;
    }
    for (size_t i = 0; i < site->device_count; i++) {
        struct radio_site_link link;
        enum radio_lack lack = RADIO_LACKS_NOTHING;
        const bool good = radio_site_link(site, drawn, placed ? &panel : NULL, i, &world, arena,
                &stretched, &link, &lack, NULL)
                                  .good;
        if (lack == RADIO_LACKS_RADIO) {
            continue;
        }
        links[carried->link_count++] = good && lack == RADIO_LACKS_NOTHING
                ? (struct carried_link){i, judge(site, &link), link.low_db, link.high_db}
                : (struct carried_link){.device = i, .verdict = CARRIED_NOT_COMPUTED};
    }
    carried->links = links;
    return outcome_good();
}

/* ---- the time without mains */

/* In whole tenths, rounded to where nobody relies on what is not there; and on the side of its limit where the rules
 * see it, so that no rounding makes two verdicts of one. */
static double told_h(double lasts_h, double wanted_h, bool enough) {
    const double tenths_h = floor(lasts_h * 10) / 10;
    return enough ? fmax(tenths_h, wanted_h) : fmin(tenths_h, wanted_h - 0.1);
}

static void add_standby(const struct site *site, struct carried *carried) {
    const struct power_drawn drawn = power_site_drawn(site);
    double least_h = INFINITY;
    carried->uncounted = drawn.silent + power_bare_keypads(site);
    for (size_t i = 0; i < site->rule_count; i++) {
        const struct power_rule *rule = NULL;
        struct power_standing it;
        double lasts_h = 0;
        if (!power_rule_find(site->rules[i], &rule, NULL).good) {
            continue;
        }
        if (!site->supply.battery.said) {
            carried->why_not = "no battery is written down";
        } else if (drawn.panel_silent || drawn.rest <= 0) {
            carried->why_not = "the panel's profile says no current";
        } else if (!power_site_standing(site, rule, &it, NULL).good ||
                !power_site_lasts_h(site, rule, &lasts_h, NULL).good) {
            carried->why_not = "it is beyond the tables";
        } else if (lasts_h - rule->standby_h < least_h) {
            least_h = lasts_h - rule->standby_h;
            carried->rule = rule;
            carried->lasts_h = told_h(
                    lasts_h, rule->standby_h, it.fitted_ah >= it.required_ah && it.used_ratio <= 1);
        }
    }
}

outcome carried_make(const struct site *site, struct arena *arena, struct carried *ret_carried,
        struct problem *ret_problem) {
    struct carried carried = {.link_count = 0};
    TRY(add_links(site, arena, &carried, ret_problem));
    add_standby(site, &carried);
    *ret_carried = carried;
    return outcome_good();
}

/* ---- as JSON */

static const char *verdict_name(enum carried_verdict verdict) {
    static const char *const names[] = {
            [CARRIED_HOLDS] = "holds",
            [CARRIED_WEAK] = "weak",
            [CARRIED_LOST] = "does not reach",
            [CARRIED_NOT_COMPUTED] = "not computed",
    };
    return names[verdict];
}

static void add_link(
        const struct carried_link *link, const struct site *site, struct json_writer *json) {
    json_open_object(json, NULL);
    json_add_text(json, "device", site->devices[link->device].name);
    json_add_string(json, "verdict", verdict_name(link->verdict));
    if (link->verdict == CARRIED_NOT_COMPUTED) {
        json_add_null(json, "low_db");
        json_add_null(json, "high_db");
    } else {
        json_add_number(json, "low_db", link->low_db, 1);
        json_add_number(json, "high_db", link->high_db, 1);
    }
    json_close_object(json);
}

void carried_add_json(
        const struct carried *carried, const struct site *site, struct json_writer *json) {
    json_open_array(json, "links");
    for (size_t i = 0; i < carried->link_count; i++) {
        add_link(&carried->links[i], site, json);
    }
    json_close_array(json);
    if (carried->rule == NULL) {
        json_add_null(json, "standby");
    } else {
        json_open_object(json, "standby");
        json_add_string(json, "rule", carried->rule->name);
        json_add_number(json, "wanted_h", carried->rule->standby_h, 1);
        json_add_number(json, "lasts_h", carried->lasts_h, 1);
        json_add_integer(json, "uncounted", (int64_t)carried->uncounted);
        json_close_object(json);
    }
    if (carried->rule != NULL || carried->why_not == NULL) {
        json_add_null(json, "standby_not_computed");
    } else {
        json_add_string(json, "standby_not_computed", carried->why_not);
    }
}
