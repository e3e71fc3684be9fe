/* The loop of a wired zone: where its end-of-line resistor sits. The panel tells a cut and a short from rest by the
 * resistor's share of the voltage; what lies beyond the resistor it does not see. And whether wiring and resistors are
 * ones that the panel can tell apart (power/site_loops.h). */
#include "power/site_loops.h"
#include "rules/parts.h"

#include <math.h>
#include <string.h>

/* How far a meter on a loop may be off beside the resistor's own tolerance, and joints. House practice. */
static const double METER_RATIO = 0.02;
static const double METER_OHM = 50;

/* variant: of radio; else of wires. A zone without a device is told of elsewhere. */
static bool is_of(const struct site *site, size_t zone, bool radio) {
    const struct site_device_profile *profile = site_zone_profile(site, &site->zones[zone]);
    return profile != NULL && profile->radio == radio;
}

static void look_end(
        struct rules_finder *finder, const struct rules_check *check, enum site_loop_end end) {
    for (size_t i = 0; i < finder->site->zone_count; i++) {
        if (finder->site->zones[i].loop_end == end && is_of(finder->site, i, false)) {
            const struct words_about about = rules_about_zone(finder->site, i);
            rules_add(finder, check, &about, "zones[%zu].end-of-line", i);
        }
    }
}

static void look_at_panel(struct rules_finder *finder, const struct rules_check *check) {
    look_end(finder, check, SITE_LOOP_END_PANEL);
}

static void look_none(struct rules_finder *finder, const struct rules_check *check) {
    look_end(finder, check, SITE_LOOP_END_NONE);
}

static void look_radio(struct rules_finder *finder, const struct rules_check *check) {
    for (size_t i = 0; i < finder->site->zone_count; i++) {
        const enum site_loop_end end = finder->site->zones[i].loop_end;
        const bool own = finder->site->zones[i].input <= 1; /* a further input may have a wire */
        if (own && (end == SITE_LOOP_END_DEVICE || end == SITE_LOOP_END_PANEL) &&
                is_of(finder->site, i, true)) {
            const struct words_about about = rules_about_zone(finder->site, i);
            rules_add(finder, check, &about, "zones[%zu].end-of-line", i);
        }
    }
}

static const char *wiring_name(enum site_wiring wiring) {
    static const char *const names[SITE_WIRING_COUNT] = {"unsaid", "with no resistor",
            "with one resistor", "with one resistor across a contact that closes",
            "with two resistors", "with three resistors"};
    return names[wiring];
}

static void look_wiring(struct rules_finder *finder, const struct rules_check *check) {
    const struct site_panel_profile *panel = &finder->site->panel;
    for (size_t i = 0; i < finder->site->zone_count && panel->wirings != 0; i++) {
        const struct site_zone *zone = &finder->site->zones[i];
        if (zone->wiring == SITE_WIRING_UNSAID || (panel->wirings >> zone->wiring & 1) != 0) {
            continue;
        }
        struct words_about about = rules_about_zone(finder->site, i);
        about.detail = text_print(finder->arena, "it is wired %s, and %.*s takes no such loop",
                wiring_name(zone->wiring), TEXT_ARGS(panel->name));
        rules_add(finder, check, &about, "zones[%zu].wiring", i);
    }
}

static struct text ohms(const struct rules_finder *finder, struct measure measure) {
    return rules_measure(finder, QUANTITY_RESISTANCE_OHM, measure);
}

/* A little more than what a double makes of a decimal. */
static const double GRAIN_V = 1e-6;

/* What the panel should take a state for. */
static struct measure wanted_of(
        const struct site_panel_profile *panel, enum power_loop_state state) {
    static const enum site_reads reads[POWER_STATE_COUNT] = {
            [POWER_STATE_SHORT] = SITE_READS_SHORT,
            [POWER_STATE_NORMAL] = SITE_READS_NORMAL,
            [POWER_STATE_ALARM] = SITE_READS_ALARM,
            [POWER_STATE_MASKED] = SITE_READS_MASKED,
            [POWER_STATE_MASKED_ALARM] = SITE_READS_MASKED,
            [POWER_STATE_OPEN] = SITE_READS_OPEN,
    };
    return panel->reads[reads[state]];
}

/* The first state that the panel may take for something else; POWER_STATE_COUNT: none. */
static enum power_loop_state first_outside(
        const struct site_panel_profile *panel, const struct power_site_loop *it) {
    for (enum power_loop_state state = 0; state < POWER_STATE_COUNT; state++) {
        const struct power_window *window = &it->windows[state];
        const struct measure wanted = wanted_of(panel, state);
        if (window->there && wanted.said &&
                (window->low_v < (double)wanted.low / MEASURE_UNIT - GRAIN_V ||
                        window->high_v > (double)wanted.high / MEASURE_UNIT + GRAIN_V)) {
            return state;
        }
    }
    return POWER_STATE_COUNT;
}

/* The least that is between two of its states with other resistors; below 0 where the panel cannot tell them apart. */
static double gap_with(struct rules_finder *finder, size_t zone, struct measure end_ohm,
        struct measure alarm_ohm) {
    struct site with = *finder->site;
    struct power_site_loop it;
    bool there = false;
    with.zones = ARENA_ARRAY(finder->arena, struct site_zone, with.zone_count);
    if (with.zones == NULL) {
        return -1;
    }
    memcpy(with.zones, finder->site->zones, with.zone_count * sizeof *with.zones);
    with.zones[zone].end_ohm = end_ohm;
    with.zones[zone].alarm_ohm = alarm_ohm;
    return power_site_loop(&with, zone, &it, &there, NULL).good && there &&
                    first_outside(&with.panel, &it) == POWER_STATE_COUNT
            ? it.least_gap_v
            : -1;
}

/* The value of a drawer (E12, IEC 60063) with which the panel tells all states apart best, the same in both places of
 * the loop; not said: none does. */
static struct measure best_value(struct rules_finder *finder, size_t zone) {
    static const int tenths[] = {10, 12, 15, 18, 22, 27, 33, 39, 47, 56, 68, 82};
    const struct measure limits = finder->site->panel.resistors;
    struct measure best = {.said = false};
    double most_v = 0;
    for (int i = 0; i < 24; i++) {
        const int32_t value = tenths[i % 12] * (i < 12 ? 100 : 1000) * MEASURE_UNIT;
        const struct measure ohm = {value, value, true};
        const double gap_v = gap_with(finder, zone, ohm, ohm);
        if (gap_v > most_v && (!limits.said || (value >= limits.low && value <= limits.high))) {
            most_v = gap_v;
            best = ohm;
        }
    }
    return best;
}

static bool differs(struct measure one, struct measure other) {
    return one.said != other.said || one.low != other.low || one.high != other.high;
}

/* With the values wished for, where they do; else with the best of a drawer. */
static void mend(struct rules_finder *finder, size_t zone, struct measure end_ohm,
        struct measure alarm_ohm) {
    static const char *const headings[] = {"a second resistor", "a resistor", "two resistors"};
    const struct site_zone *now = &finder->site->zones[zone];
    struct finding_edit edits[2];
    size_t count = 0;
    if (!end_ohm.said || gap_with(finder, zone, end_ohm, alarm_ohm) <= 0) {
        end_ohm = best_value(finder, zone);
        alarm_ohm = now->alarm_ohm.said ? end_ohm : now->alarm_ohm;
    }
    if (!end_ohm.said) {
        return;
    }
    const bool end = differs(end_ohm, now->end_ohm);
    if (end) {
        edits[count++] = (struct finding_edit){
                text_print(finder->arena, "zones[%zu].resistor", zone), ohms(finder, end_ohm)};
    }
    if (now->wiring >= SITE_WIRING_DOUBLE && differs(alarm_ohm, now->alarm_ohm)) {
        const struct text where = text_print(finder->arena, "zones[%zu].alarm-resistor", zone);
        edits[count++] = (struct finding_edit){where, ohms(finder, alarm_ohm)};
    }
    rules_mend(finder,
            text_print(finder->arena,
                    "%s of %.*s, in the device's housing; then two of its states are %.2f V apart "
                    "at least",
                    headings[end ? count : 0], TEXT_ARGS(ohms(finder, end ? end_ohm : alarm_ohm)),
                    gap_with(finder, zone, end_ohm, alarm_ohm)),
            text_of(""), edits, count);
}

static bool is_known(const struct site_panel_profile *panel, struct measure end_ohm) {
    return !panel->resistors.said || !end_ohm.said ||
            (end_ohm.low >= panel->resistors.low && end_ohm.high <= panel->resistors.high);
}

static void look_value(struct rules_finder *finder, const struct rules_check *check) {
    const struct site_panel_profile *panel = &finder->site->panel;
    for (size_t i = 0; i < finder->site->zone_count; i++) {
        const struct measure end = finder->site->zones[i].end_ohm;
        if (is_known(panel, end)) {
            continue;
        }
        struct words_about about = rules_about_zone(finder->site, i);
        about.detail = text_print(finder->arena,
                "%.*s takes %.*s at the end of the line, %.*s is "
                "in it",
                TEXT_ARGS(panel->name), TEXT_ARGS(ohms(finder, panel->resistors)),
                TEXT_ARGS(ohms(finder, end)));
        rules_add(finder, check, &about, "zones[%zu].resistor", i);
        const int32_t nearest =
                end.low < panel->resistors.low ? panel->resistors.low : panel->resistors.high;
        mend(finder, i, (struct measure){nearest, nearest, true}, finder->site->zones[i].alarm_ohm);
    }
}

static void look_overlap(struct rules_finder *finder, const struct rules_check *check) {
    for (size_t i = 0; i < finder->site->zone_count; i++) {
        struct power_site_loop it;
        bool there = false;
        if (finder->site->zones[i].wiring == SITE_WIRING_PLAIN ||
                !power_site_loop(finder->site, i, &it, &there, NULL).good || !there ||
                it.least_gap_v > 0) {
            continue;
        }
        const struct power_window *one = &it.windows[it.one];
        const struct power_window *other = &it.windows[it.other];
        struct words_about about = rules_about_zone(finder->site, i);
        about.detail = text_print(finder->arena, "%s is %.2f to %.2f V, %s %.2f to %.2f V",
                power_state_name(it.one), one->low_v, one->high_v, power_state_name(it.other),
                other->low_v, other->high_v);
        about.other = text_print(
                finder->arena, "%s for %s", power_state_name(it.one), power_state_name(it.other));
        rules_add(finder, check, &about, "zones[%zu].resistor", i);
        mend(finder, i, finder->site->zones[i].end_ohm, finder->site->zones[i].end_ohm);
    }
}

/* What is told of a value, or of two states, is not told again of the volts that come of it. */
static void look_outside(struct rules_finder *finder, const struct rules_check *check) {
    const struct site_panel_profile *panel = &finder->site->panel;
    for (size_t i = 0; i < finder->site->zone_count; i++) {
        struct power_site_loop it;
        bool there = false;
        if (finder->site->zones[i].wiring == SITE_WIRING_PLAIN ||
                !is_known(panel, finder->site->zones[i].end_ohm) ||
                !power_site_loop(finder->site, i, &it, &there, NULL).good || !there ||
                it.least_gap_v <= 0) {
            continue;
        }
        const enum power_loop_state state = first_outside(panel, &it);
        if (state == POWER_STATE_COUNT) {
            continue;
        }
        const struct measure wanted = wanted_of(panel, state);
        struct words_about about = rules_about_zone(finder->site, i);
        about.other = text_of(power_state_name(state));
        about.detail = text_print(finder->arena,
                "%s is %.2f to %.2f V with resistors of 5 %%, and %.*s takes %g to %g V for it",
                power_state_name(state), it.windows[state].low_v, it.windows[state].high_v,
                TEXT_ARGS(panel->name), (double)wanted.low / MEASURE_UNIT,
                (double)wanted.high / MEASURE_UNIT);
        rules_add(finder, check, &about, "zones[%zu].resistor", i);
        mend(finder, i, (struct measure){.said = false}, (struct measure){.said = false});
    }
}

static void look_measured(struct rules_finder *finder, const struct rules_check *check) {
    for (size_t i = 0; i < finder->site->zone_count; i++) {
        const struct measure measured = finder->site->zones[i].measured_ohm;
        struct power_site_loop it;
        bool there = false;
        if (!measured.said || !power_site_loop(finder->site, i, &it, &there, NULL).good || !there) {
            continue;
        }
        const struct power_window *normal = &it.windows[POWER_STATE_NORMAL];
        const double low_ohm = normal->low_ohm * (1 - METER_RATIO) - METER_OHM;
        const double high_ohm = normal->high_ohm * (1 + METER_RATIO) + METER_OHM;
        const double low = (double)measured.low / MEASURE_UNIT;
        const double high = (double)measured.high / MEASURE_UNIT;
        if (low >= low_ohm && high <= high_ohm) {
            continue;
        }
        struct words_about about = rules_about_zone(finder->site, i);
        about.detail = text_print(finder->arena,
                "%.*s were measured, %.0f to %.0f ohm belong to a loop at rest as it is written",
                TEXT_ARGS(ohms(finder, measured)), fmax(0, low_ohm), high_ohm);
        rules_add(finder, check, &about, "zones[%zu].loop-measured", i);
    }
}

static const struct rules_check rows[] = {
        {
                .id = "zones.resistor-at-panel",
                .weight = FINDING_RISK,
                .headline = "a shorted cable of {zone} goes unnoticed",
                .why = "its end-of-line resistor sits at the panel: whatever happens to the cable "
                       "beyond it, a short looks like a door that is shut",
                .remedy = "the resistor in the housing of the device, at the far end of the cable",
                .source = "common practice",
                .look = look_at_panel,
        },
        {
                .id = "zones.resistor-none",
                .weight = FINDING_RISK,
                .headline = "a shorted cable of {zone} goes unnoticed",
                .why = "its loop has no end-of-line resistor: a short looks like a door that is "
                       "shut",
                .remedy = "a resistor in the housing of the device, and the panel's input keyed "
                          "for it",
                .source = "common practice",
                .look = look_none,
        },
        {
                .id = "zones.resistor-on-radio",
                .weight = FINDING_NOTE,
                .headline = "{zone} has an end-of-line resistor, and no loop",
                .why = "its device is a radio one",
                .remedy = "leave end-of-line out, or name the wired device that is there",
                .source = "the device's profile",
                .look = look_radio,
        },
        {
                .id = "power.wiring-not-offered",
                .weight = FINDING_FAULT,
                .headline = "the panel cannot read the loop of {zone}",
                .why = "{detail}",
                .remedy = "a wiring that its manual shows, and the input keyed for it",
                .source = "the panel's profile",
                .look = look_wiring,
        },
        {
                .id = "power.resistor-wrong",
                .weight = FINDING_FAULT,
                .headline = "the resistor of {zone} is none that the panel knows",
                .why = "{detail}: at rest it may read as open, or cut",
                .remedy = "a resistor of the value in the panel's manual, in the device's housing",
                .source = "the panel's profile",
                .look = look_value,
        },
        {
                .id = "power.loop-overlap",
                .weight = FINDING_FAULT,
                .headline = "the panel may take {other} at {zone}",
                .why = "{detail}, with resistors of 5 %",
                .remedy = "resistors of one value, 2.2 kohm and more, of 1 %",
                .source = "Ohm; common practice (docs/power.md)",
                .look = look_overlap,
        },
        {
                .id = "power.loop-outside",
                .weight = FINDING_FAULT,
                .headline = "the panel may not see \"{other}\" at {zone}",
                .why = "{detail}",
                .remedy = "resistors of the values in the panel's manual, of 1 %, and less wire",
                .source = "Ohm; the panel's profile",
                .look = look_outside,
        },
        {
                .id = "power.loop-measured",
                .weight = FINDING_RISK,
                .headline = "the loop of {zone} does not measure as it is written",
                .why = "{detail}",
                .remedy = "look for a bad joint, damp in the cable, or a resistor of another value",
                .source = "Ohm; spread: 5 % of the resistors, 2 % and 50 ohm of the meter, house "
                          "practice",
                .look = look_measured,
        },
};

const struct rules_checks rules_loops = RULES_ROWS(rows);
