/* Radio links: whether a device's messages arrive at the panel, with what is to be left over, and whether its
 * supervision cries wolf. Worked out by the drawing or as typed under links (radio/site_links.h); a figure from-to,
 * and a finding says which end it speaks of. Not for what profiles leave open: that is not checked. */
#include "radio/fit.h"
#include "radio/link.h"
#include "radio/reserve.h"
#include "rules/parts.h"

#include <math.h>

static const double TROUBLES_A_YEAR = 1;

/* All that is wrong with links is told of one device after the other, so that its figures are worked out once. */
void rules_links_make(struct rules_finder *finder) {
    const struct site *site = finder->site;
    struct radio_world world = radio_world_usual();
    struct radio_fit fit = {.count = 0};
    struct radio_stretched stretched = {.count = 0};
    struct radio_spot panel;
    const bool placed = radio_panel_spot(finder->house, &panel);
    /* What could not be fitted is told of the link that is in the way of it. */
    world.shift_db = radio_site_fit(site, finder->house, &world, finder->arena, &fit, NULL).good
            ? fit.shift_db
            : 0;
    finder->shift_db = world.shift_db;
    finder->links = ARENA_ARRAY(finder->arena, struct rules_link, site->device_count + 1);
    for (size_t i = 0; i < site->device_count && finder->links != NULL; i++) {
        struct rules_link *link = &finder->links[finder->link_count];
        enum radio_lack lack = RADIO_LACKS_NOTHING;
        struct problem problem = {.kind = PROBLEM_NONE};
        link->it.device = i;
        const bool good = radio_site_link(site, finder->house, placed ? &panel : NULL, i, &world,
                finder->arena, &stretched, &link->it, &lack, &problem)
                                  .good;
        if (!good) {
            link->refused = text_print(finder->arena, "%s", problem.text);
            link->place = problem.place[0] == '\0' ? text_print(finder->arena, "devices[%zu]", i)
                                                   : text_print(finder->arena, "%s", problem.place);
        }
        finder->link_count += !good || lack == RADIO_LACKS_NOTHING;
    }
}

/* "over 14.2 m, through 2 stud: 4.2 to 17.0 dB above what the panel needs". */
static struct text figures(const struct rules_finder *finder, const struct radio_site_link *link) {
    return text_print(finder->arena,
            "over %.1f m, through %.*s%s: %s%.1f to %.1f dB above what the panel needs",
            link->distance_m, TEXT_ARGS(link->crosses),
            link->behind.high_db > 0 ? ", and what is close to the antennas" : "",
            link->measured ? "as measured, " : "", link->low_db, link->high_db);
}

/* What is to be left over at the careful end: what a rule set wants, else anything. */
static double wanted_of(const struct rules_finder *finder) {
    const struct radio_reserve *reserve =
            radio_reserve_of(finder->site->rules, finder->site->rule_count);
    return reserve == NULL ? 0 : fmax(0, reserve->reserve_db);
}

static struct words_about about_link(
        const struct rules_finder *finder, const struct rules_link *link) {
    struct words_about about = words_about_nothing();
    about.named = finder->site->devices[link->it.device].name;
    about.detail = link->refused.length > 0 ? link->refused : figures(finder, &link->it);
    return about;
}

/* Where the link is to blame: what was typed of it, what is close to an antenna, else the device itself. */
static void add_link(struct rules_finder *finder, const struct rules_check *check,
        const struct rules_link *link, const struct words_about *about) {
    const struct site *site = finder->site;
    const size_t device = link->it.device;
    if (link->it.typed) {
        rules_add(finder, check, about, "links[%zu]", (size_t)(link->it.said - site->links));
    } else if (site->supply.behind != SITE_BEHIND_NOTHING) {
        rules_add(finder, check, about, "panel.behind");
    } else if (site->devices[device].behind != SITE_BEHIND_NOTHING) {
        rules_add(finder, check, about, "devices[%zu].behind", device);
    } else {
        rules_add(finder, check, about, "devices[%zu]", device);
    }
}

static void look_refused(struct rules_finder *finder, const struct rules_check *check) {
    for (size_t i = 0; i < finder->link_count; i++) {
        if (finder->links[i].refused.length > 0) {
            const struct words_about about = about_link(finder, &finder->links[i]);
            rules_add(finder, check, &about, "%.*s", TEXT_ARGS(finder->links[i].place));
        }
    }
}

/* variant: even at the better end; else at the careful end alone. */
static void look_reach(struct rules_finder *finder, const struct rules_check *check) {
    for (size_t i = 0; i < finder->link_count; i++) {
        const struct rules_link *link = &finder->links[i];
        if (link->refused.length > 0 || link->it.low_db >= 0 ||
                (link->it.high_db < 0) != check->variant) {
            continue;
        }
        struct words_about about = about_link(finder, link);
        /* A place that was measured deviates no more. */
        const double spread_db = link->it.measured ? 0 : radio_world_usual().spread_db;
        about.other = text_print(finder->arena, "%.0f to %.0f %%",
                100 * radio_arrives_ratio(link->it.low_db, spread_db),
                100 * radio_arrives_ratio(link->it.high_db, spread_db));
        add_link(finder, check, link, &about);
        rules_mend_link(finder, link, wanted_of(finder));
    }
}

/* The way back alone: the way there is told of already where it is no better. */
static void look_back(struct rules_finder *finder, const struct rules_check *check) {
    for (size_t i = 0; i < finder->link_count; i++) {
        const struct rules_link *link = &finder->links[i];
        if (link->refused.length > 0 || link->it.low_db < 0 || !link->it.back ||
                link->it.back_low_db >= 0) {
            continue;
        }
        struct words_about about = about_link(finder, link);
        about.detail = text_print(finder->arena,
                "the panel reaches it with %.1f to %.1f dB, it reaches the panel with %.1f to "
                "%.1f dB",
                link->it.back_low_db, link->it.back_high_db, link->it.low_db, link->it.high_db);
        add_link(finder, check, link, &about);
        rules_mend_link(finder, link, wanted_of(finder));
    }
}

static void look_reserve(struct rules_finder *finder, const struct rules_check *check) {
    const struct site *site = finder->site;
    const struct radio_reserve *reserve = radio_reserve_of(site->rules, site->rule_count);
    for (size_t i = 0; i < finder->link_count && reserve != NULL; i++) {
        const struct rules_link *link = &finder->links[i];
        if (link->refused.length > 0 || link->it.low_db < 0 ||
                link->it.low_db >= reserve->reserve_db) {
            continue;
        }
        struct words_about about = about_link(finder, link);
        about.other = text_print(finder->arena, "%g dB are wanted to be left over (%s; %s)",
                reserve->reserve_db, reserve->source,
                text_is(text_of(reserve->certainty), "memory") ? "from memory, unverified"
                                                               : "common practice");
        add_link(finder, check, link, &about);
        rules_mend_link(finder, link, wanted_of(finder));
    }
}

/* Beyond what was computed by more than places deviate. Against the plain sums: the building's own shift follows from
 * these very measurements. */
static void look_measured(struct rules_finder *finder, const struct rules_check *check) {
    const struct radio_world world = radio_world_usual();
    for (size_t i = 0; i < finder->link_count; i++) {
        const struct rules_link *link = &finder->links[i];
        const int off = link->refused.length > 0 || !link->it.measured
                ? 0
                : radio_link_is_off(&link->it, world.spread_db, finder->shift_db);
        const bool weak = off < 0;
        if (off == 0 || weak != check->variant) {
            continue;
        }
        struct words_about about = about_link(finder, link);
        about.detail = text_print(finder->arena,
                "%.1f dBm were measured, %.1f to %.1f dBm computed over %.1f m, through %.*s, and "
                "places deviate by %g dB",
                weak ? link->it.low_dbm : link->it.high_dbm,
                link->it.computed_low_dbm + finder->shift_db,
                link->it.computed_high_dbm + finder->shift_db, link->it.distance_m,
                TEXT_ARGS(link->it.crosses), world.spread_db);
        rules_add(finder, check, &about, "links[%zu].measured",
                (size_t)(link->it.said - finder->site->links));
    }
}

static double troubles_with(
        const struct rules_finder *finder, const struct rules_link *link, int32_t window_s) {
    const struct radio_world world = radio_world_usual();
    struct site waits = *finder->site;
    struct radio_called_missing called = {0};
    waits.settings.supervision_window_s = window_s;
    return radio_site_missing(&waits, link->it.device, &world, link->it.low_db, &called, NULL).good
            ? called.troubles_a_year
            : INFINITY;
}

/* The shortest longer window that the panel and the rule sets take, and with which it is quiet. */
static void mend_window(struct rules_finder *finder, const struct rules_link *link) {
    enum { HOUR_S = 3600, LONGEST_H = 24 };
    const struct site *site = finder->site;
    for (int32_t window_s = HOUR_S; window_s <= LONGEST_H * HOUR_S; window_s += HOUR_S) {
        if (window_s <= site->settings.supervision_window_s ||
                !site_panel_takes(&site->panel, SITE_SET_SUPERVISION_WINDOW, window_s) ||
                !rules_limits_allow(site, SITE_SET_SUPERVISION_WINDOW, window_s)) {
            continue;
        }
        const double a_year = troubles_with(finder, link, window_s);
        if (a_year < TROUBLES_A_YEAR) {
            struct text_builder value;
            text_builder_init(&value, finder->arena);
            quantity_add_seconds(&value, window_s);
            const struct finding_edit edit = {
                    text_of("panel.supervision-window"), text_built(&value)};
            rules_mend(finder,
                    text_print(finder->arena,
                            "a supervision window of %.*s; then it is called missing %s times a "
                            "year",
                            TEXT_ARGS(edit.value),
                            a_year < 0.01 ? "under 0.01"
                                          : text_print(finder->arena, "%.2f", a_year).start),
                    text_of(""), &edit, 1);
            return;
        }
    }
}

/* Of links that are good enough otherwise: a weak one is told as that. */
static void look_trouble(struct rules_finder *finder, const struct rules_check *check) {
    const struct site *site = finder->site;
    const struct radio_world world = radio_world_usual();
    const double wanted_db = wanted_of(finder);
    for (size_t i = 0; i < finder->link_count; i++) {
        const struct rules_link *link = &finder->links[i];
        struct radio_called_missing called = {0};
        if (link->refused.length > 0 || link->it.low_db < wanted_db ||
                !radio_is_supervised(site, link->it.device) ||
                !radio_site_missing(site, link->it.device, &world, link->it.low_db, &called, NULL)
                         .good ||
                called.troubles_a_year < TROUBLES_A_YEAR) {
            continue;
        }
        struct words_about about = about_link(finder, link);
        about.seconds_s = site->device_profiles[site->devices[link->it.device].profile].check_in_s;
        about.least_s = site->settings.supervision_window_s;
        about.other = text_print(finder->arena,
                called.troubles_a_year < 10 ? "%.1f times" : "%.0f times", called.troubles_a_year);
        rules_add(finder, check, &about, "panel.supervision-window");
        mend_window(finder, link);
    }
}

static const struct rules_check rows[] = {
        {
                .id = "radio.not-computed",
                .weight = FINDING_RISK,
                .headline = "whether \"{named}\" reaches the panel cannot be worked out",
                .why = "{detail}",
                .remedy = "write it so that it can be read; docs/radio.md shows how",
                .source = "house practice",
                .look = look_refused,
        },
        {
                .id = "radio.out-of-reach",
                .weight = FINDING_FAULT,
                .headline = "\"{named}\" does not reach the panel",
                .why = "{detail}",
                .remedy =
                        "the panel out of what surrounds it and nearer to the middle of the house, "
                        "or a repeater; then measure",
                .price = "a panel that hangs free is found sooner by whoever breaks in",
                .source = "Rec. ITU-R P.525, P.2040, P.1238; COST 231 (docs/radio.md)",
                .look = look_reach,
                .variant = true,
        },
        {
                .id = "radio.may-not-reach",
                .weight = FINDING_RISK,
                .headline = "\"{named}\" may not reach the panel: a message arrives with {other}",
                .why = "{detail}",
                .remedy = "measure before the first hole is drilled; the panel or the device "
                          "elsewhere, or a repeater",
                .source = "Rec. ITU-R P.525, P.2040, P.1238; COST 231 (docs/radio.md)",
                .look = look_reach,
        },
        {
                .id = "radio.way-back",
                .weight = FINDING_RISK,
                .headline = "\"{named}\" may not hear the panel's answer",
                .why = "{detail}: it sends again and again, and its battery is empty early",
                .remedy = "the panel or the device elsewhere, or a repeater",
                .source = "Rec. ITU-R P.525, P.2040, P.1238; COST 231 (docs/radio.md)",
                .look = look_back,
        },
        {
                .id = "radio.little-reserve",
                .weight = FINDING_RISK,
                .headline = "\"{named}\" may arrive with too little to spare",
                .why = "{detail}; {other}",
                .remedy =
                        "measure on site with the panel's reduced receiver, where it has one; the "
                        "panel or the device elsewhere, or a repeater",
                .source = "the rule set: data/radio/reserve.tsv",
                .look = look_reserve,
        },
        {
                .id = "radio.false-trouble",
                .weight = FINDING_RISK,
                .headline = "\"{named}\" may be called missing {other} a year although it is well",
                .why = "it speaks every {seconds}, and {least} of silence are a trouble; {detail}. "
                       "Bad hours are assumed, not measured: the figure ranks devices, it does not "
                       "foretell",
                .remedy = "a longer supervision window, as far as the rules let it; or a better "
                          "place",
                .price = "a device that is lost is noticed so much later",
                .source = "Feller, vol. 1, runs; own two-state chain (docs/radio.md)",
                .look = look_trouble,
        },
        {
                .id = "radio.measured-off",
                .weight = FINDING_RISK,
                .headline = "\"{named}\" arrives weaker than it should: something is in the way",
                .why = "{detail}",
                .remedy = "look for steel, foil, a mirror or pipes on the straight way, an antenna "
                          "that is bent or touches metal; then measure again",
                .source = "Rec. ITU-R P.525, P.2040; COST 231; spread: common practice",
                .look = look_measured,
                .variant = true,
        },
        {
                .id = "radio.measured-off",
                .weight = FINDING_NOTE,
                .headline = "\"{named}\" arrives stronger than it should: is it that device?",
                .why = "{detail}",
                .remedy = "see that the level is of this device, and that the drawing is right",
                .source = "Rec. ITU-R P.525, P.2040; COST 231; spread: common practice",
                .look = look_measured,
        },
};

const struct rules_checks rules_links = RULES_ROWS(rows);
