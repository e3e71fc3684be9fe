#include "sums/power_parts.h"

#include "base/date.h"
#include "power/site_cables.h"
#include "power/site_dues.h"
#include "power/site_loops.h"

static struct text day_text(struct sums_answer *answer, int32_t day) {
    struct text_builder out;
    text_builder_init(&out, answer->arena);
    date_add(&out, day);
    return text_built(&out);
}

static void add_change(
        struct sums_answer *answer, struct text name, int32_t since_day, double years) {
    if (since_day == DATE_NONE) {
        return;
    }
    sums_explain(sums_of(sums_add_words(answer, "change_by", "change it by",
                                 day_text(answer, power_due_day(since_day, years))),
                         "cells", name),
            sums_text(answer, "put in on %.*s, %.1f years later",
                    TEXT_ARGS(day_text(answer, since_day)), years),
            "the careful end, down to half a year");
}

static void add_cell(
        const struct site *site, const struct power_site_cell *cell, struct sums_answer *answer) {
    const struct site_device *device = &site->devices[cell->device];
    struct sums_figure *figure = sums_of(sums_add_range(answer, "years", "", cell->life.least_years,
                                                 cell->life.most_years, 1, "years"),
            "cells", device->name);
    sums_explain(figure,
            sums_text(answer,
                    "%s, %g to %g mAh; a year draws %.1f to %.1f mAh: at rest, %g to %g trips a "
                    "day "
                    "of %.3g mAh, check-ins of %.3g mAh; %g to %g C; C e / (I + s C) to ln(1 + s C "
                    "e / I) / s",
                    cell->cell->name, cell->stock.low_mah, cell->stock.high_mah,
                    cell->stock.year_low_mah, cell->stock.year_high_mah, cell->events_low,
                    cell->events_high, cell->event_mah, cell->check_in_mah, cell->stock.coldest_c,
                    cell->stock.warmest_c),
            "its profile; data/power/cells.tsv; as lintel power battery");
    if (cell->cold) {
        figure->remark = text_of("may fail in the cold");
    }
    add_change(answer, device->name, device->battery_day, cell->life.change_years);
}

/* "back contact, yard contact": those that one visit changes, from the earliest day on. */
static outcome add_visits(
        const struct site *site, struct sums_answer *answer, struct problem *ret_problem) {
    struct power_due *dues = NULL;
    size_t count = 0;
    TRY(power_site_dues(site, answer->arena, &dues, &count, ret_problem));
    for (size_t first = 0; first < count; first = power_visit_end(dues, count, first)) {
        struct text_builder names;
        text_builder_init(&names, answer->arena);
        for (size_t i = first; i < power_visit_end(dues, count, first); i++) {
            text_add_format(&names, "%s%.*s", i == first ? "" : ", ",
                    TEXT_ARGS(power_due_name(site, &dues[i])));
        }
        sums_explain(sums_of(sums_add_words(answer, "change", "", text_built(&names)), "visits",
                             day_text(answer, dues[first].due_day)),
                text_of("the first that is due, and all that are within half a year of it"),
                "house practice");
    }
    return outcome_good();
}

outcome sums_add_cells(
        const struct site *site, struct sums_answer *answer, struct problem *ret_problem) {
    const struct text lead = text_of("the panel's battery");
    for (size_t i = 0; i < site->device_count; i++) {
        struct power_site_cell cell;
        enum power_lack lack = POWER_LACKS_NOTHING;
        TRY(power_site_cell(site, i, &cell, &lack, ret_problem));
        if (lack == POWER_LACKS_NOTHING) {
            add_cell(site, &cell, answer);
        } else if (lack == POWER_LACKS_CELL) {
            sums_note(answer,
                    sums_text(answer,
                            "\"%.*s\": its type of battery is in no table: not worked out",
                            TEXT_ARGS(site->devices[i].name)));
        }
    }
    if (site->supply.battery_day != DATE_NONE) {
        sums_explain(sums_of(sums_add_range(answer, "years", "", POWER_LEAD_LOW_YEARS,
                                     POWER_LEAD_HIGH_YEARS, 0, "years"),
                             "cells", lead),
                text_of("a lead battery kept full"), "common practice");
        add_change(answer, lead, site->supply.battery_day, POWER_LEAD_LOW_YEARS);
    }
    return add_visits(site, answer, ret_problem);
}

outcome sums_add_cables(
        const struct site *site, struct sums_answer *answer, struct problem *ret_problem) {
    struct power_site_cable cables[SITE_CABLE_MAX];
    if (site->cable_count == 0 || !site->panel.volts.said) {
        return outcome_good();
    }
    TRY(power_site_cables(site, cables, ret_problem));
    for (size_t i = 0; i < site->cable_count; i++) {
        const struct power_site_cable *it = &cables[i];
        const struct text name = site->devices[site->cables[i].to].name;
        struct sums_figure *figure = sums_of(
                sums_add_range(answer, "volts", "", it->low_v, it->high_v, 1, "V"), "cables", name);
        figure->remark = it->low_v < it->needs_v ? text_of("too low") : (struct text){0};
        sums_explain(figure,
                sums_text(answer,
                        "its run is %.2f ohm at 30 C and carries %.3g A in alarm; %.2f V are lost "
                        "on "
                        "the whole way, of %g to %g V; not under 0",
                        it->ohm, it->current_a, it->lost_v,
                        (double)site->panel.volts.low / MEASURE_UNIT,
                        (double)site->panel.volts.high / MEASURE_UNIT),
                "Kirchhoff; IEC 60028; the profiles");
    }
    return outcome_good();
}

outcome sums_add_loops(
        const struct site *site, struct sums_answer *answer, struct problem *ret_problem) {
    for (size_t i = 0; i < site->zone_count; i++) {
        struct power_site_loop loop;
        bool there = false;
        TRY(power_site_loop(site, i, &loop, &there, ret_problem));
        if (!there) {
            continue;
        }
        const struct power_window *normal = &loop.windows[POWER_STATE_NORMAL];
        const struct text name = sums_text(
                answer, "zone %d %.*s", site->zones[i].number, TEXT_ARGS(site->zones[i].name));
        struct sums_figure *figure = sums_of(
                sums_add_range(answer, "rest_v", "", normal->low_v, normal->high_v, 2, "V at rest"),
                "loops", name);
        sums_explain(figure,
                sums_text(answer, "%g V x R / (R + %g ohm), R %.0f to %.0f ohm", loop.loop.supply_v,
                        loop.loop.pull_up_ohm, normal->low_ohm, normal->high_ohm),
                "voltage divider; as lintel power loop");
        figure = sums_of(
                sums_add(answer, "least_gap_v", "least between two", loop.least_gap_v, 2, "V"),
                "loops", name);
        figure->remark = sums_text(
                answer, "%s and %s", power_state_name(loop.one), power_state_name(loop.other));
        sums_explain(figure, text_of("low end of the higher less high end of the lower"),
                "resistors of 5 %, common practice");
    }
    return outcome_good();
}
