/* Hours within which codes are taken, and the hour at which an area sets by itself. */
#include "rules/parts.h"

#include "base/quantity.h"

/* A code outside its hours is turned away, whatever it is: nothing unsets, nobody is called. */
static void look_duress(struct rules_finder *finder, const struct rules_check *check) {
    for (size_t i = 0; i < finder->site->person_count; i++) {
        if (finder->site->people[i].duress && finder->site->people[i].has_hours) {
            struct words_about about = words_about_nothing();
            about.person = (int)i;
            rules_add(finder, check, &about, "people[%zu].hours", i);
        }
    }
}

enum { HOUR_S = 3600, DAY_S = 24 * HOUR_S };

/* Whether two times of day have a moment in common; either may run past midnight, at most a day long. */
static bool meet(struct span a, struct span b) {
    bool found = false;
    for (int day = -1; day <= 1; day++) {
        const int32_t shift_s = day * DAY_S;
        found = found || (a.low_s + shift_s < b.high_s && b.low_s < a.high_s + shift_s);
    }
    return found;
}

/* From the beginning of the warning to when it sets, at least a second. */
static struct span auto_set_of(const struct site_settings *settings) {
    const int32_t warn_s = settings->auto_warn_s > 0 ? settings->auto_warn_s : 1;
    return (struct span){settings->auto_set_at_s, settings->auto_set_at_s + warn_s};
}

static bool has_auto_set(const struct site *site) {
    return site->settings.auto_set_at_s >= 0 && site->settings.auto_set_area >= 0 &&
            (size_t)site->settings.auto_set_area < site->area_count;
}

/* Whether the person's code is taken during the whole warning and may put the setting off. */
static bool can_postpone(const struct site *site, const struct site_person *person) {
    const struct site_settings *settings = &site->settings;
    const struct span setting = auto_set_of(settings);
    const struct span after = {setting.high_s - 1, setting.high_s};
    return person->has_code && settings->auto_postpone_s > 0 && settings->auto_postpone_count > 0 &&
            meet(after, person->hours) &&
            meet((struct span){setting.low_s, setting.low_s + 1}, person->hours);
}

/* Somebody may still be at work: who can put it off has a note's worth, who cannot is caught by it. variant: cannot. */
static void look_at_work(struct rules_finder *finder, const struct rules_check *check) {
    const struct site *site = finder->site;
    for (size_t i = 0; i < site->person_count && has_auto_set(site); i++) {
        const struct site_person *person = &site->people[i];
        if (!person->has_hours || (!person->has_code && !person->has_fob) ||
                (person->areas >> site->settings.auto_set_area & 1U) == 0 ||
                !meet(auto_set_of(&site->settings), person->hours) ||
                can_postpone(site, person) == check->variant) {
            continue;
        }
        struct words_about about = words_about_nothing();
        struct text_builder at;
        text_builder_init(&at, finder->arena);
        quantity_add_clock_from_to(
                &at, span_of(site->settings.auto_set_at_s, site->settings.auto_set_at_s));
        about.person = (int)i;
        about.area = site->settings.auto_set_area;
        about.named = text_built(&at);
        rules_add(finder, check, &about, "people[%zu].hours", i);
    }
}

/* The hours that a change of the clocks takes out or brings twice: 01:00 to 02:00 where the clocks follow British time,
 * 02:00 to 03:00 in central Europe and, going forward, in the USA; going back there, 01:00 to 02:00. Source: Directive
 * 2000/84/EC articles 2 and 3 (01:00 universal time), 15 USC 260a (2 o'clock); both from memory. */
static void look_clock_change(struct rules_finder *finder, const struct rules_check *check) {
    const struct span changing = {1 * HOUR_S, 3 * HOUR_S};
    if (has_auto_set(finder->site) && meet(auto_set_of(&finder->site->settings), changing)) {
        struct words_about about = words_about_nothing();
        about.area = finder->site->settings.auto_set_area;
        rules_add(finder, check, &about, "panel.auto-set-at");
    }
}

/* It comes every day of the year. */
static void look_no_holidays(struct rules_finder *finder, const struct rules_check *check) {
    if (has_auto_set(finder->site) && finder->site->holiday_count == 0) {
        struct words_about about = words_about_nothing();
        about.area = finder->site->settings.auto_set_area;
        rules_add(finder, check, &about, "panel.auto-set-at");
    }
}

static void look_holiday_backwards(struct rules_finder *finder, const struct rules_check *check) {
    for (size_t i = 0; i < finder->site->holiday_count; i++) {
        const struct site_holiday *holiday = &finder->site->holidays[i];
        if (holiday->until_day < holiday->from_day) {
            struct words_about about = words_about_nothing();
            about.named = holiday->name;
            rules_add(finder, check, &about, "holidays[%zu].until", i);
        }
    }
}

static const struct rules_check rows[] = {
        {
                .id = "auto-set.no-holidays",
                .weight = FINDING_NOTE,
                .headline = "{auto-set} of {areas} comes on holidays too",
                .why = "no holidays are in the file: whoever works to other hours on such a day is "
                       "caught by it",
                .remedy = "holidays, keyed into the panel too, or no other hours on them",
                .source = "common practice",
                .look = look_no_holidays,
        },
        {
                .id = "holidays.backwards",
                .weight = FINDING_FAULT,
                .headline = "the holiday \"{named}\" ends before it begins",
                .why = "its last day is before its first",
                .remedy = "the two days the other way round",
                .source = "the calendar",
                .look = look_holiday_backwards,
        },
        {
                .id = "auto-set.at-work",
                .weight = FINDING_RISK,
                .headline = "{auto-set} of {areas} comes while {person} may be at work",
                .why = "it begins at {named}; the code or fob of {person} is taken from {hours}, "
                       "and cannot put it off until then",
                .remedy = "a later {auto-set-short}, or postponing within those hours",
                .source = "common practice",
                .look = look_at_work,
                .variant = true,
        },
        {
                .id = "auto-set.at-work",
                .weight = FINDING_NOTE,
                .headline = "{auto-set} of {areas} comes while {person} may be at work",
                .why = "it begins at {named}; the code of {person} is taken from {hours}, and can "
                       "put it off when the warning is heard",
                .remedy = "a later {auto-set-short}",
                .source = "common practice",
                .look = look_at_work,
        },
        {
                .id = "auto-set.clock-change",
                .weight = FINDING_NOTE,
                .headline = "{auto-set} of {areas} lies in the hour in which the clocks change",
                .why = "on those two nights of the year it comes twice, or not at all",
                .remedy = "a time before 01:00 or after 03:00",
                .source = "Directive 2000/84/EC, articles 2 and 3; 15 USC 260a (from memory, "
                          "unverified)",
                .look = look_clock_change,
        },
        {
                .id = "users.duress-hours",
                .weight = FINDING_RISK,
                .headline = "the duress code of {person} calls nobody outside its hours",
                .why = "a code is turned away outside its hours, a duress code too: it is taken "
                       "from {hours} only",
                .remedy = "leave hours out for a duress code",
                .source = "common practice",
                .look = look_duress,
        },
};

const struct rules_checks rules_hours = RULES_ROWS(rows);
