#include "check/batteries.h"

#include "base/date.h"
#include "power/site_cells.h"

/* One battery: which device's, or SITE_NONE: the panel's. */
struct battery {
    int device;
    int32_t since_day;
    int32_t due_day;
    double low_years;
    double high_years;
};

/* False: nobody wrote when it was put in, or how long it lasts is not known. */
static bool find_battery(const struct site *site, int device, struct battery *ret_battery) {
    struct power_site_cell cell;
    enum power_lack lack = POWER_LACKS_NOTHING;
    struct battery battery = {.device = device,
            .since_day = site->supply.battery_day,
            .low_years = POWER_LEAD_LOW_YEARS,
            .high_years = POWER_LEAD_HIGH_YEARS};
    if (device != SITE_NONE) {
        battery.since_day = site->devices[device].battery_day;
        if (!power_site_cell(site, (size_t)device, &cell, &lack, NULL).good ||
                lack != POWER_LACKS_NOTHING) {
            return false;
        }
        battery.low_years = cell.life.change_years;
        battery.high_years = cell.life.most_years;
    }
    if (battery.since_day == DATE_NONE) {
        return false;
    }
    battery.due_day = power_due_day(battery.since_day, battery.low_years);
    *ret_battery = battery;
    return true;
}

static struct text name_of(const struct site *site, int device, struct arena *arena) {
    return device == SITE_NONE
            ? text_of("the panel")
            : text_print(arena, "\"%.*s\"", TEXT_ARGS(site->devices[device].name));
}

/* "change it, and on the same visit those of "hall" and "landing"": all that are due within half a year. */
static struct text remedy_of(const struct site *site, const struct battery *battery,
        int32_t today_day, struct arena *arena) {
    struct text_builder out;
    size_t count = 0;
    text_builder_init(&out, arena);
    text_add_string(&out, "change it");
    for (int i = SITE_NONE; i < (int)site->device_count; i++) {
        struct battery other;
        if (i == battery->device || !find_battery(site, i, &other) ||
                other.due_day > today_day + POWER_SHARED_DAYS) {
            continue;
        }
        const struct text name = name_of(site, i, arena);
        text_add_format(&out, "%s%.*s", count++ == 0 ? "; on the same visit that of " : ", of ",
                TEXT_ARGS(name));
    }
    return text_built(&out);
}

static struct text why_of(const struct battery *battery, struct arena *arena) {
    struct text_builder out;
    text_builder_init(&out, arena);
    text_add_string(&out, "it was put in on ");
    date_add(&out, battery->since_day);
    text_add_format(
            &out, " and lasts %.1f to %.1f years: until ", battery->low_years, battery->high_years);
    date_add(&out, battery->due_day);
    text_add_string(&out, " at its careful end");
    return text_built(&out);
}

void batteries_say(const struct site *site, int32_t today_day, struct arena *arena,
        struct check_finding *ret_findings, size_t *ret_count) {
    *ret_count = 0;
    for (int i = SITE_NONE; i < (int)site->device_count && today_day != DATE_NONE; i++) {
        struct battery battery;
        if (!find_battery(site, i, &battery) || battery.due_day >= today_day) {
            continue;
        }
        const struct text name = name_of(site, i, arena);
        const struct finding due = {.weight = FINDING_RISK,
                .id = text_of("power.battery-due"),
                .headline = text_print(arena, "the battery of %.*s may be empty", TEXT_ARGS(name)),
                .why = why_of(&battery, arena),
                .place = i == SITE_NONE ? text_of("panel.battery-since")
                                        : text_print(arena, "devices[%d].battery-since", i),
                .remedy = remedy_of(site, &battery, today_day, arena),
                .source = text_of("charge is current times time; common practice (docs/power.md)"),
                .answer_index = FINDING_NO_ANSWER};
        ret_findings[(*ret_count)++] = (struct check_finding){.base = due};
    }
}

/* "the battery of "hall" is to be changed", "the batteries of "hall" and of 2 others are to be changed". */
static struct text next_text(const struct site *site, int device, int more, struct arena *arena) {
    const struct text name = name_of(site, device, arena);
    return more == 0
            ? text_print(arena, "the battery of %.*s is to be changed", TEXT_ARGS(name))
            : text_print(arena, "the batteries of %.*s and of %d other%s are to be changed",
                      TEXT_ARGS(name), more, more == 1 ? "" : "s");
}

int32_t batteries_next_day(
        const struct site *site, int32_t today_day, struct arena *arena, struct text *ret_says) {
    struct battery next = {.due_day = DATE_NONE};
    int more = 0;
    for (int i = SITE_NONE; i < (int)site->device_count; i++) {
        struct battery battery;
        if (!find_battery(site, i, &battery) || battery.due_day < today_day) {
            continue;
        }
        more += battery.due_day == next.due_day;
        if (next.due_day == DATE_NONE || battery.due_day < next.due_day) {
            next = battery;
            more = 0;
        }
    }
    if (next.due_day != DATE_NONE) {
        *ret_says = next_text(site, next.device, more, arena);
    }
    return next.due_day;
}
