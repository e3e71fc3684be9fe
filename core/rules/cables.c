/* Cables: whether every device gets its volts in alarm, at the end of the battery (power/site_cables.h), and whether
 * what was measured is what the cable should bring. Not for mains wiring: that is an electrician's, by the local
 * code. */
#include "power/site_cables.h"
#include "rules/parts.h"

#include <string.h>

/* How far a measurement may be off: what is lost on the way by a fifth (copper, joints, currents of the profiles), and
 * the meter by 0.2 V. House practice. */
static const double LOST_RATIO = 0.2;
static const double METER_V = 0.2;

static bool find_cables(const struct rules_finder *finder, struct power_site_cable *cables,
        struct problem *problem) {
    const struct site *site = finder->site;
    return site->cable_count > 0 && site->panel.volts.said &&
            power_site_cables(site, cables, problem).good;
}

static struct words_about about_cable(const struct rules_finder *finder, size_t index) {
    struct words_about about = words_about_nothing();
    about.named = finder->site->devices[finder->site->cables[index].to].name;
    return about;
}

/* Whether the run, or another behind which it hangs, is to be thicker: its own alone, or all from the panel on. */
static bool is_on_way(const struct site *site, size_t run, size_t to, bool whole) {
    size_t here = to;
    for (size_t steps = 0; steps < site->cable_count; steps++) {
        size_t next = site->cable_count;
        if (here == run) {
            return true;
        }
        for (size_t i = 0; i < site->cable_count && whole; i++) {
            next = site->cables[i].to == site->cables[here].from ? i : next;
        }
        if (next == site->cable_count) {
            return false;
        }
        here = next;
    }
    return false;
}

static double section_of(struct text gauge) {
    double section_mm2 = 0;
    return power_gauge_read(gauge, &section_mm2, NULL).good ? section_mm2 : 0;
}

/* What arrives at a device with thicker wires; false: no less is enough. */
static bool thicken(struct rules_finder *finder, size_t index, bool whole, struct text gauge,
        struct site_cable *cables, double *ret_low_v) {
    struct site thicker = *finder->site;
    struct power_site_cable brought[SITE_CABLE_MAX];
    const double section_mm2 = section_of(gauge);
    memcpy(cables, thicker.cables, thicker.cable_count * sizeof *cables);
    for (size_t i = 0; i < thicker.cable_count; i++) {
        if (is_on_way(&thicker, i, index, whole) && section_of(cables[i].gauge) < section_mm2) {
            cables[i].gauge = gauge;
        }
    }
    thicker.cables = cables;
    if (!power_site_cables(&thicker, brought, NULL).good ||
            brought[index].low_v < brought[index].needs_v) {
        return false;
    }
    *ret_low_v = brought[index].low_v;
    return true;
}

/* The thinnest usual wires that do, of its own run, else of the whole way. Usual sizes: practice. */
static void mend(struct rules_finder *finder, size_t index) {
    static const char *const gauges[] = {
            "0.22mm2", "0.34mm2", "0.5mm2", "0.75mm2", "1mm2", "1.5mm2", "2.5mm2"};
    enum { GAUGES = sizeof gauges / sizeof gauges[0] };
    const struct site *site = finder->site;
    struct site_cable cables[SITE_CABLE_MAX];
    for (size_t i = 0; i < 2 * GAUGES; i++) {
        const bool whole = i >= GAUGES;
        const struct text gauge = text_of(gauges[i % GAUGES]);
        struct finding_edit edits[SITE_CABLE_MAX];
        size_t count = 0;
        double low_v = 0;
        if (!thicken(finder, index, whole, gauge, cables, &low_v)) {
            continue;
        }
        for (size_t run = 0; run < site->cable_count; run++) {
            if (!text_equal(cables[run].gauge, site->cables[run].gauge)) {
                edits[count++] = (struct finding_edit){
                        text_print(finder->arena, "cables[%zu].gauge", run), gauge};
            }
        }
        rules_mend(finder,
                text_print(finder->arena,
                        "at least %g mm² %s; then %.1f V arrive at the end of the battery",
                        section_of(gauge), whole ? "on the whole way" : "for this run", low_v),
                text_of(""), edits, count);
        return;
    }
}

static void look_refused(struct rules_finder *finder, const struct rules_check *check) {
    struct power_site_cable cables[SITE_CABLE_MAX];
    struct problem problem = {.kind = PROBLEM_NONE};
    (void)find_cables(finder, cables, &problem);
    if (problem.kind != PROBLEM_NONE) {
        struct words_about about = words_about_nothing();
        about.detail = text_print(finder->arena, "%s", problem.text);
        rules_add(finder, check, &about, "%s", problem.place);
    }
}

/* variant: too little on mains as well; else only at the end of the battery. */
static void look_low(struct rules_finder *finder, const struct rules_check *check) {
    const struct site *site = finder->site;
    struct power_site_cable cables[SITE_CABLE_MAX];
    struct problem problem = {.kind = PROBLEM_NONE};
    const bool good = find_cables(finder, cables, &problem);
    for (size_t i = 0; good && i < site->cable_count; i++) {
        const struct power_site_cable *it = &cables[i];
        if (it->low_v >= it->needs_v || (it->high_v < it->needs_v) != check->variant) {
            continue;
        }
        struct words_about about = about_cable(finder, i);
        about.detail = text_print(finder->arena,
                "%.2g V are lost on the way at %.3g A; %g V are needed, and %.1f V arrive at the "
                "end of the battery",
                it->lost_v, it->current_a, it->needs_v, it->low_v);
        about.advice = text_print(finder->arena, "%.1f V", it->high_v);
        rules_add(finder, check, &about, "cables[%zu]", i);
        mend(finder, i);
    }
}

static void look_measured(struct rules_finder *finder, const struct rules_check *check) {
    const struct site *site = finder->site;
    struct power_site_cable cables[SITE_CABLE_MAX];
    struct problem problem = {.kind = PROBLEM_NONE};
    const bool good = find_cables(finder, cables, &problem);
    for (size_t i = 0; good && i < site->cable_count; i++) {
        const struct power_site_cable *it = &cables[i];
        const struct measure measured = site->cables[i].measured;
        const double off_v = LOST_RATIO * it->lost_v + METER_V;
        if (!measured.said || (double)measured.low / MEASURE_UNIT >= it->low_v - off_v) {
            continue;
        }
        struct words_about about = about_cable(finder, i);
        about.detail = text_print(finder->arena,
                "%g V were measured, and at the end of the battery it should still be %.1f V, %.1f "
                "V "
                "either way",
                (double)measured.low / MEASURE_UNIT, it->low_v, off_v);
        rules_add(finder, check, &about, "cables[%zu].measured", i);
    }
}

static const struct rules_check rows[] = {
        {
                .id = "power.cables-not-computed",
                .weight = FINDING_RISK,
                .headline = "what the cables bring cannot be worked out",
                .why = "{detail}",
                .remedy = "write them so that each device is fed once, from the panel outwards",
                .source = "house practice",
                .look = look_refused,
        },
        {
                .id = "power.volts-low",
                .weight = FINDING_FAULT,
                .headline = "\"{named}\" gets too few volts in alarm, even on {mains}",
                .why = "{detail}, {advice} on {mains}",
                .remedy = "thicker wires on the whole way; or a supply near it",
                .price = "a new cable",
                .source = "Ohm and Kirchhoff; IEC 60028; the profiles (docs/power.md)",
                .look = look_low,
                .variant = true,
        },
        {
                .id = "power.volts-low",
                .weight = FINDING_RISK,
                .headline = "\"{named}\" gets too few volts in alarm at the end of the battery",
                .why = "{detail}, {advice} on {mains}",
                .remedy = "thicker wires on the whole way; or a supply near it",
                .price = "a new cable",
                .source = "Ohm and Kirchhoff; IEC 60028; the profiles (docs/power.md)",
                .look = look_low,
        },
        {
                .id = "power.volts-measured",
                .weight = FINDING_RISK,
                .headline = "at \"{named}\" fewer volts were measured than its cable should bring",
                .why = "{detail}",
                .remedy = "look for a bad joint, a thinner wire than written, or a further load",
                .source = "Ohm and Kirchhoff; IEC 60028; spread: house practice",
                .look = look_measured,
        },
};

const struct rules_checks rules_cables = RULES_ROWS(rows);
