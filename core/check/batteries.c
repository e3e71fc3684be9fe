#include "check/batteries.h"

#include "base/date.h"
#include "power/site_dues.h"

static struct text name_of(
        const struct site *site, const struct power_due *due, struct arena *arena) {
    return due->device == SITE_NONE
            ? text_of("the panel")
            : text_print(arena, "\"%.*s\"", TEXT_ARGS(site->devices[due->device].name));
}

/* "change it, and on the same visit those of "hall" and "landing"": all that are due within half a year. */
static struct text remedy_of(const struct site *site, const struct power_due *dues, size_t count,
        const struct power_due *due, int32_t today_day, struct arena *arena) {
    struct text_builder out;
    size_t others = 0;
    text_builder_init(&out, arena);
    text_add_string(&out, "change it");
    for (size_t i = 0; i < count && dues[i].due_day <= today_day + POWER_SHARED_DAYS; i++) {
        if (&dues[i] != due) {
            const struct text name = name_of(site, &dues[i], arena);
            text_add_format(&out, "%s%.*s",
                    others++ == 0 ? "; on the same visit that of " : ", of ", TEXT_ARGS(name));
        }
    }
    return text_built(&out);
}

static struct text why_of(const struct power_due *due, struct arena *arena) {
    struct text_builder out;
    text_builder_init(&out, arena);
    text_add_string(&out, "it was put in on ");
    date_add(&out, due->since_day);
    text_add_format(
            &out, " and lasts %.1f to %.1f years: until ", due->change_years, due->high_years);
    date_add(&out, due->due_day);
    text_add_string(&out, " at its careful end");
    return text_built(&out);
}

void batteries_say(const struct site *site, int32_t today_day, struct arena *arena,
        struct check_finding *ret_findings, size_t *ret_count) {
    struct power_due *dues = NULL;
    size_t count = 0;
    *ret_count = 0;
    if (today_day == DATE_NONE || !power_site_dues(site, arena, &dues, &count, NULL).good) {
        return;
    }
    for (size_t i = 0; i < count && dues[i].due_day < today_day; i++) {
        const struct text name = name_of(site, &dues[i], arena);
        const struct finding due = {.weight = FINDING_RISK,
                .id = text_of("power.battery-due"),
                .headline = text_print(arena, "the battery of %.*s may be empty", TEXT_ARGS(name)),
                .why = why_of(&dues[i], arena),
                .place = dues[i].device == SITE_NONE
                        ? text_of("panel.battery-since")
                        : text_print(arena, "devices[%d].battery-since", dues[i].device),
                .remedy = remedy_of(site, dues, count, &dues[i], today_day, arena),
                .source = text_of("charge is current times time; common practice (docs/power.md)"),
                .answer_index = FINDING_NO_ANSWER};
        ret_findings[(*ret_count)++] = (struct check_finding){.base = due};
    }
}

/* "the battery of "hall" is to be changed", "the batteries of "hall" and of 2 others are to be changed". */
static struct text next_text(
        const struct site *site, const struct power_due *next, size_t more, struct arena *arena) {
    const struct text name = name_of(site, next, arena);
    return more == 0
            ? text_print(arena, "the battery of %.*s is to be changed", TEXT_ARGS(name))
            : text_print(arena, "the batteries of %.*s and of %zu other%s are to be changed",
                      TEXT_ARGS(name), more, more == 1 ? "" : "s");
}

int32_t batteries_next_day(
        const struct site *site, int32_t today_day, struct arena *arena, struct text *ret_says) {
    struct power_due *dues = NULL;
    size_t count = 0;
    size_t next = 0;
    if (!power_site_dues(site, arena, &dues, &count, NULL).good) {
        return DATE_NONE;
    }
    while (next < count && dues[next].due_day < today_day) {
        next++;
    }
    size_t last = next;
    while (last + 1 < count && dues[last + 1].due_day == dues[next].due_day) {
        last++;
    }
    if (next == count) {
        return DATE_NONE;
    }
    *ret_says = next_text(site, &dues[next], last - next, arena);
    return dues[next].due_day;
}
