#include "sheet/rows.h"

#include "base/quantity.h"

#include <assert.h>
#include <string.h>

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))

void rows_add(struct rows *rows, enum sheet_kind kind, const char *key, struct text label,
        struct text value, bool usual) {
    if (rows->count == rows->capacity) {
        enum { FIRST = 256 };
        const size_t more = rows->capacity == 0 ? FIRST : rows->capacity * 2;
        struct sheet_row *grown = ARENA_ARRAY(rows->arena, struct sheet_row, more);
        if (grown == NULL) {
            return;
        }
        if (rows->count > 0) {
            memcpy(grown, rows->rows, rows->count * sizeof *grown);
        }
        rows->rows = grown;
        rows->capacity = more;
    }
    rows->rows[rows->count++] = (struct sheet_row){.part = rows->part,
            .kind = kind,
            .number = rows->number,
            .thing = rows->thing,
            .key = text_of(key == NULL ? "" : key),
            .label = label,
            .value = value,
            .usual = usual};
}

void rows_setting(
        struct rows *rows, const char *key, const char *label, struct text value, bool usual) {
    rows_add(rows, SHEET_SETTING, key, text_of(label), value, usual);
}

struct text rows_seconds(struct rows *rows, int32_t seconds_s) {
    enum { MINUTE = 60, HOUR = 3600 };
    if (seconds_s >= HOUR && seconds_s % HOUR == 0) {
        return text_print(rows->arena, "%d h", seconds_s / HOUR);
    }
    if (seconds_s > 2 * MINUTE && seconds_s % MINUTE == 0) {
        return text_print(rows->arena, "%d min", seconds_s / MINUTE);
    }
    return text_print(rows->arena, "%d s", seconds_s);
}

struct text rows_yes(bool yes) {
    return text_of(yes ? "yes" : "no");
}

struct text rows_areas(struct rows *rows, uint32_t areas) {
    const size_t count = rows->site->area_count;
    const uint32_t all = (uint32_t)((1UL << count) - 1);
    if ((areas & all) == all && count > 1) {
        return text_of("all");
    }
    struct text_builder names;
    text_builder_init(&names, rows->arena);
    for (size_t i = 0; i < count; i++) {
        if ((areas >> i & 1U) != 0) {
            text_add_string(&names, names.length > 0 ? ", " : "");
            text_add(&names, rows->site->areas[i].name);
        }
    }
    return names.length == 0 ? text_of("none") : text_built(&names);
}

enum unit { SECONDS, SECONDS_OR_OFF, TIMES_OR_NEVER, TIMES, COUNT, YES, CHOICE };

struct setting {
    const char *key;
    const char *uk;
    const char *us; /* NULL: as uk */
    size_t at;
    enum unit unit;
    const char *choices[SITE_COMPLETION_COUNT];
    const char *us_choices[SITE_COMPLETION_COUNT]; /* NULL: as choices */
};

/* In the order of the site file. Labels: our own, in words of the trade. */
/* clang-format off */
#define AT(field) offsetof(struct site_settings, field)
static const struct setting settings[] = {
    {"abort-window",       "abort window",                        NULL, AT(abort_window_s), SECONDS_OR_OFF, {0}, {0}},
    {"cancel-window",      "cancel window, at least",             NULL, AT(cancel_window_s), SECONDS_OR_OFF, {0}, {0}},
    {"recent-closing",     "alarm soon after setting, within",    "alarm soon after arming, within", AT(recent_closing_s), SECONDS_OR_OFF, {0}, {0}},
    {"siren-time",         "siren time",                          NULL, AT(siren_time_s), SECONDS, {0}, {0}},
    {"siren-hold-back",    "siren held back by",                  NULL, AT(siren_hold_back_s), SECONDS_OR_OFF, {0}, {0}},
    {"swinger-limit",      "swinger limit",                       NULL, AT(swinger_limit), TIMES_OR_NEVER, {0}, {0}},
    {"swinger-reset",      "swinger back on duty after",          NULL, AT(swinger_reset_s), SECONDS, {0}, {0}},
    {"cross-window",       "cross-zone window",                   NULL, AT(cross_window_s), SECONDS_OR_OFF, {0}, {0}},
    {"confirm-window",     "confirmation window",                 NULL, AT(confirm_window_s), SECONDS_OR_OFF, {0}, {0}},
    {"lockout-tries",      "wrong codes until lock-out",          NULL, AT(lockout_tries), TIMES_OR_NEVER, {0}, {0}},
    {"lockout-time",       "lock-out time",                       NULL, AT(lockout_s), SECONDS, {0}, {0}},
    {"supervision-window", "supervision window",                  NULL, AT(supervision_window_s), SECONDS_OR_OFF, {0}, {0}},
    {"mains-delay",        "mains loss reported after",           "AC loss reported after", AT(mains_delay_s), SECONDS, {0}, {0}},
    {"mains-jitter",       "mains loss report spread by",         "AC loss report spread by", AT(mains_jitter_s), SECONDS_OR_OFF, {0}, {0}},
    {"power-mask",         "inputs ignored after power-up",       NULL, AT(power_mask_s), SECONDS_OR_OFF, {0}, {0}},
    {"final-door-time",    "set after the final door closed",     "armed after the final door closed", AT(final_door_s), SECONDS, {0}, {0}},
    {"auto-warn",          "auto-set warns before",               "auto-arm warns before", AT(auto_warn_s), SECONDS, {0}, {0}},
    {"auto-postpone",      "auto-set put off by",                 "auto-arm put off by", AT(auto_postpone_s), SECONDS, {0}, {0}},
    {"auto-postpone-count","auto-set put off at most",            "auto-arm put off at most", AT(auto_postpone_count), TIMES, {0}, {0}},
    {"signals-kept",       "signals kept while the path is down", NULL, AT(signals_kept), COUNT, {0}, {0}},
    {"motion-blocks",      "motion refuses timed setting",        "motion refuses timed arming", AT(motion_blocks), YES, {0}, {0}},
    {"entry-open-allowed", "may set with entry door open",        "may arm with entry door open", AT(entry_open_allowed), YES, {0}, {0}},
    {"exit-restart",       "exit time restarts once",             NULL, AT(exit_restart), YES, {0}, {0}},
    {"drop-to-part",       "nobody left: falls back to part",     NULL, AT(drop_to_part), YES, {0}, {0}},
    {"lone-cross-signal",  "lone cross-zone trip signalled",      NULL, AT(lone_cross_signal), YES, {0}, {0}},
    {"same-cross-counts",  "same detector twice is a pair",       NULL, AT(same_cross_counts), YES, {0}, {0}},
    {"early-warning",      "\"entry started\" sent at once",      NULL, AT(early_warning), YES, {0}, {0}},
    {"silent-hold-up",     "hold-up is silent",                   NULL, AT(silent_hold_up), YES, {0}, {0}},
    {"jamming-noticed",    "jamming is noticed",                  NULL, AT(jamming_noticed), YES, {0}, {0}},
    {"off-route",          "trip off the entry route",            NULL, AT(off_route), CHOICE, {"siren now", "the European course"}, {0}},
    {"second-entry",       "second entry door",                   NULL, AT(second_entry), CHOICE, {"may shorten the delay that runs", "keeps the delay that runs"}, {0}},
    {"exit-trip",          "perimeter trip during exit",          NULL, AT(exit_trip), CHOICE, {"alarm", "the exit stalls"}, {0}},
    {"faults",             "a fault when setting",                "a fault when arming", AT(faults), CHOICE, {"refuses", "has to be acknowledged", "is ignored"}, {0}},
    {"reopened",           "a zone forced out that closes",       NULL, AT(reopened), CHOICE, {"stays out", "becomes live"}, {0}},
    {"completion",         "setting completes by",                "arming completes by", AT(completion), CHOICE, {"time", "the final door", "a button", "a lock", "a fob", "the station"}, {0}},
    {"fob-way",            "a fob sets",                          "a fob arms", AT(fob_way), CHOICE, {"at once", "with the exit delay"}, {0}},
    {"fob-open",           "a fob with open zones",               NULL, AT(fob_open), CHOICE, {"is refused", "leaves them out"}, {0}},
    {"auto-open",          "auto-set with open zones",            "auto-arm with open zones", AT(auto_open), CHOICE, {"leaves them out", "fails"}, {0}},
    {"restore",            "restore is sent at",                  NULL, AT(restore), CHOICE, {"closing", "the siren's end", "unsetting"}, {"closing", "the siren's end", "disarming"}},
    {"lost-while-set",     "a device lost while set",             "a device lost while armed", AT(lost_while_set), CHOICE, {"is a trouble", "is an alarm"}, {0}},
    {"reset",              "reset after an alarm by",             NULL, AT(reset), CHOICE, {"a user", "the installer", "the station"}, {0}},
    {"codes-act-on",       "a code acts on",                      NULL, AT(code_acts), CHOICE, {"the keypad's areas", "the user's areas", "the areas in entry"}, {0}},
};
#undef AT
/* clang-format on */

static int32_t number_at(const struct site_settings *from, const struct setting *setting) {
    const char *at = (const char *)from + setting->at;
    if (setting->unit == YES) {
        bool yes = false;
        memcpy(&yes, at, sizeof yes);
        return yes ? 1 : 0;
    }
    int32_t number = 0; /* enums of the site are as wide: asserted below */
    memcpy(&number, at, sizeof number);
    return number;
}
_Static_assert(sizeof(enum site_completion) == sizeof(int32_t), "choices are read as int32_t");

static struct text value_of(struct rows *rows, const struct setting *setting, int32_t number) {
    const bool us = rows->site->words == SITE_WORDS_US && setting->us_choices[0] != NULL;
    switch (setting->unit) {
    case SECONDS_OR_OFF:
        return number == 0 ? text_of("off (0 s)") : rows_seconds(rows, number);
    case SECONDS:
        return rows_seconds(rows, number);
    case TIMES_OR_NEVER:
        return number == 0 ? text_of("never (0)")
                           : text_print(rows->arena, number == 1 ? "%d time" : "%d times", number);
    case TIMES:
        return text_print(rows->arena, number == 1 ? "%d time" : "%d times", number);
    case COUNT:
        return text_print(rows->arena, "%d", number);
    case YES:
        return rows_yes(number != 0);
    case CHOICE:
        return text_of(us ? setting->us_choices[number] : setting->choices[number]);
    }
    return (struct text){0};
}

static void add_auto_set(struct rows *rows) {
    const struct site_settings *own = &rows->site->settings;
    const bool us = rows->site->words == SITE_WORDS_US;
    const int32_t at = own->auto_set_at_s;
    rows_setting(rows, "auto-set-at", us ? "auto-arm at" : "auto-set at",
            at < 0 ? text_of("never")
                   : text_print(rows->arena, "%02d:%02d", at / 3600, at / 60 % 60),
            at < 0);
    if (at >= 0 && own->auto_set_area != SITE_NONE) {
        rows_setting(rows, "auto-set-area", us ? "auto-arm of area" : "auto-set of area",
                rows->site->areas[own->auto_set_area].name, false);
    }
}

/* Whether the panel comes with that value: its profile knows best, else what panels usually come with. */
static bool is_usual(
        const struct site *site, enum site_setting setting, int32_t value, bool else_usual) {
    return setting < SITE_SETTING_COUNT && site->panel.delivered_said[setting]
            ? site->panel.delivered[setting] == value
            : else_usual;
}

static void add_holidays(struct rows *rows) {
    for (size_t i = 0; i < rows->site->holiday_count; i++) {
        const struct site_holiday *holiday = &rows->site->holidays[i];
        struct text_builder days;
        text_builder_init(&days, rows->arena);
        date_add(&days, holiday->from_day);
        if (holiday->until_day != holiday->from_day) {
            text_add_string(&days, " to ");
            date_add(&days, holiday->until_day);
        }
        text_add_string(&days, holiday->yearly ? ", every year" : "");
        rows_add(rows, SHEET_SETTING,
                text_print(rows->arena, "holiday.%.*s", TEXT_ARGS(holiday->name)).start,
                text_print(rows->arena, "holiday, %.*s", TEXT_ARGS(holiday->name)),
                text_built(&days), false);
    }
}

static void add_panel(struct rows *rows) {
    const struct site_settings usual = site_settings_usual();
    const struct site_settings *own = &rows->site->settings;
    rows->part = SHEET_PANEL;
    for (size_t i = 0; i < own->mode_count; i++) {
        const bool standing = i < usual.mode_count;
        const struct site_mode *mode = &own->modes[i];
        rows_add(rows, SHEET_SETTING,
                text_print(rows->arena, "exit-delay.%.*s", TEXT_ARGS(mode->name)).start,
                text_print(rows->arena, "exit delay, mode %.*s", TEXT_ARGS(mode->name)),
                rows_seconds(rows, mode->exit_delay_s),
                standing &&
                        is_usual(rows->site, (enum site_setting)(SITE_SET_EXIT_DELAY + i),
                                mode->exit_delay_s,
                                mode->exit_delay_s == usual.modes[i].exit_delay_s));
    }
    for (size_t i = 0; i < COUNT(settings); i++) {
        const struct setting *setting = &settings[i];
        const bool us = rows->site->words == SITE_WORDS_US && setting->us != NULL;
        const int32_t number = number_at(own, setting);
        rows_setting(rows, setting->key, us ? setting->us : setting->uk,
                value_of(rows, setting, number),
                is_usual(rows->site, site_setting_find(text_of(setting->key)), number,
                        number == number_at(&usual, setting)));
    }
    add_auto_set(rows);
    add_holidays(rows);
    rows_panel_battery(rows);
}

static void add_areas_and_delays(struct rows *rows) {
    const struct site *site = rows->site;
    rows->part = SHEET_AREA;
    for (size_t i = 0; i < site->area_count; i++) {
        rows->number = (int32_t)i + 1;
        rows->thing = site->areas[i].name;
        rows_setting(rows, "name", "area's name", site->areas[i].name, false);
        rows_setting(rows, "common", "common area", rows_yes(site->areas[i].common),
                !site->areas[i].common);
    }
    rows->part = SHEET_DELAY;
    for (size_t i = 0; i < site->settings.delay_count; i++) {
        rows->number = (int32_t)i + 1;
        rows->thing = site->settings.delays[i].name;
        rows_setting(rows, "name", "its name", rows->thing, false);
        rows_setting(rows, "entry-delay", "entry delay",
                rows_seconds(rows, site->settings.delays[i].seconds_s), false);
    }
}

/* What the station has to be told, where the file says it. */
static void add_station(struct rows *rows) {
    const struct site *site = rows->site;
    rows->part = SHEET_PANEL;
    rows->number = 0;
    rows->thing = (struct text){0};
    if (site->station.account.length > 0) {
        rows_setting(rows, "account", "account at the station", site->station.account, false);
    }
    for (int i = SITE_OUT + 1; i < SITE_BEHAVIOUR_COUNT; i++) {
        const struct text event = site->station.events[i];
        if (event.length > 0) {
            rows_add(rows, SHEET_SETTING,
                    text_print(rows->arena, "event.%s", site_behaviour_name((enum site_behaviour)i))
                            .start,
                    text_print(rows->arena, "event code of %s",
                            site_behaviour_name((enum site_behaviour)i)),
                    event, text_equal(event, site->panel.events[i]));
        }
    }
}

int *sheet_zone_order(const struct site *site, struct arena *arena) {
    int *order = ARENA_ARRAY(arena, int, site->zone_count);
    for (size_t i = 0; order != NULL && i < site->zone_count; i++) {
        size_t at = i;
        for (; at > 0 && site->zones[order[at - 1]].number > site->zones[i].number; at--) {
            order[at] = order[at - 1];
        }
        order[at] = (int)i;
    }
    return order;
}

static bool every_mode(const struct site *site, uint32_t modes) {
    const uint32_t all = (UINT32_C(1) << site->settings.mode_count) - 1;
    return modes == 0 || (modes & all) == all;
}

static struct text modes_of(struct rows *rows, uint32_t modes) {
    const struct site_settings *own = &rows->site->settings;
    struct text_builder out;
    if (every_mode(rows->site, modes)) {
        return text_of("every one");
    }
    text_builder_init(&out, rows->arena);
    for (size_t i = 0; i < own->mode_count; i++) {
        if ((modes >> i & 1U) != 0) {
            text_add_string(&out, out.length > 0 ? ", " : "");
            text_add(&out, own->modes[i].name);
        }
    }
    return text_built(&out);
}

static struct text hours_of(struct rows *rows, const struct site_person *person) {
    struct text_builder out;
    if (!person->has_hours) {
        return text_of("every hour");
    }
    text_builder_init(&out, rows->arena);
    quantity_add_clock_from_to(&out, person->hours);
    return text_built(&out);
}

static void add_people(struct rows *rows) {
    const struct site *site = rows->site;
    rows->part = SHEET_KEYPAD;
    for (size_t i = 0; i < site->keypad_count; i++) {
        rows->number = (int32_t)i + 1;
        rows->thing = site->keypads[i].name;
        rows_setting(
                rows, "areas", "works on areas", rows_areas(rows, site->keypads[i].areas), false);
    }
    rows->part = SHEET_USER;
    rows->number = 0;
    for (size_t i = 0; i < site->person_count; i++) {
        const struct site_person *person = &site->people[i];
        if (!person->has_code && !person->has_fob) {
            continue;
        }
        rows->number++;
        rows->thing = person->name;
        rows_setting(rows, "areas", "areas", rows_areas(rows, person->areas), false);
        rows_setting(rows, "modes",
                rows->site->words == SITE_WORDS_US ? "may arm modes" : "may set modes",
                modes_of(rows, person->modes), every_mode(site, person->modes));
        rows_setting(rows, "hours", "taken at", hours_of(rows, person), !person->has_hours);
        rows_setting(rows, "code", "code",
                text_of(!person->has_code ? "none"
                                : person->duress
                                ? "yes, a duress code: chosen and keyed by the user"
                                : "yes: chosen and keyed by the user"),
                false);
        rows_setting(rows, "fob", "fob", rows_yes(person->has_fob), !person->has_fob);
    }
}

/* What the lines of a zone say of when it is heard: "behaviour follower, in part out (not watched)". */
static struct text keyed_back(struct rows *rows, const struct site_zone *zone) {
    struct rows of_zone = {.site = rows->site, .arena = rows->arena};
    struct text_builder out;
    text_builder_init(&out, rows->arena);
    rows_zone(&of_zone, zone);
    for (size_t i = 0; i < of_zone.count; i++) {
        const struct sheet_row *row = &of_zone.rows[i];
        const bool wanted = text_is(row->key, "behaviour") || text_is(row->key, "chime") ||
                strncmp(row->key.start, "in.", 3) == 0 || strncmp(row->key.start, "delay.", 6) == 0;
        if (wanted) {
            text_add_format(&out, "%s%.*s %.*s", out.length > 0 ? ", " : "", TEXT_ARGS(row->label),
                    TEXT_ARGS(row->value));
        }
    }
    return text_built(&out);
}

static void add_change(struct rows *rows, const struct site_temporary *change, size_t index) {
    const struct site *site = rows->site;
    const int zone = change->bypass != SITE_NONE ? change->bypass : change->soak;
    struct text_builder days;
    struct text_builder back;
    text_builder_init(&days, rows->arena);
    text_builder_init(&back, rows->arena);
    text_add_string(&days, "from ");
    date_add(&days, change->from_day);
    if (change->lasting) {
        text_add_string(&days, ", no end known");
        text_add_string(&back, "when it is mended");
    } else {
        text_add_string(&days, " to ");
        date_add(&days, change->until_day);
        date_add(&back, change->until_day);
    }
    text_add_format(&days, ": %.*s (%.*s)", TEXT_ARGS(change->why), TEXT_ARGS(change->by));
    text_add_string(&back, ": ");
    text_add(&back,
            zone != SITE_NONE ? keyed_back(rows, &site->zones[zone]) : text_of("delete this user"));
    rows->part = SHEET_TEMPORARY;
    rows->number = (int32_t)index + 1;
    rows->thing = zone != SITE_NONE ? site->zones[zone].name : site->people[change->guest].name;
    rows_setting(rows, "change",
            change->bypass != SITE_NONE         ? "leave this zone out"
                    : change->soak != SITE_NONE ? "put this zone on soak"
                                                : "this user's code works",
            text_built(&days), false);
    rows_setting(rows, "back", "key back after", text_built(&back), false);
}

static void add_save(struct rows *rows) {
    rows->part = SHEET_SAVE;
    rows->number = 0;
    rows->thing = (struct text){0};
    rows_add(rows, SHEET_STEP, "save", text_of("save"),
            text_of("leave programming so that the panel keeps it, and look at one zone again to "
                    "see that it did"),
            false);
}

static outcome finish(
        const struct rows *rows, struct sheet *ret_sheet, struct problem *ret_problem) {
    if (rows->arena->refused) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory for the programming sheet");
    }
    *ret_sheet = (struct sheet){.rows = rows->rows, .row_count = rows->count};
    return outcome_good();
}

outcome sheet_make(const struct site *site, struct arena *arena, struct sheet *ret_sheet,
        struct problem *ret_problem) {
    struct rows rows = {.site = site, .arena = arena};
    add_panel(&rows);
    add_station(&rows);
    add_areas_and_delays(&rows);
    const int *order = sheet_zone_order(site, arena);
    rows.part = SHEET_ZONE;
    for (size_t i = 0; order != NULL && i < site->zone_count; i++) {
        rows_zone(&rows, &site->zones[order[i]]);
    }
    rows_devices(&rows);
    add_people(&rows);
    for (size_t i = 0; i < site->temporary_count; i++) {
        add_change(&rows, &site->temporaries[i], i);
    }
    add_save(&rows);
    return finish(&rows, ret_sheet, ret_problem);
}

/* Whether two lines are of the same thing: zones, areas and delays have their place, the rest goes by name. */
static bool same_thing(const struct sheet_row *a, const struct sheet_row *b) {
    const bool by_place = a->part == SHEET_ZONE || a->part == SHEET_AREA || a->part == SHEET_DELAY;
    return a->part == b->part &&
            (by_place ? a->number == b->number : text_equal(a->thing, b->thing));
}

static const struct sheet_row *find_row(const struct sheet *in, const struct sheet_row *row) {
    for (size_t i = 0; i < in->row_count; i++) {
        if (same_thing(&in->rows[i], row) && text_equal(in->rows[i].key, row->key)) {
            return &in->rows[i];
        }
    }
    return NULL;
}

static bool has_thing(const struct sheet *in, const struct sheet_row *row) {
    for (size_t i = 0; i < in->row_count; i++) {
        if (same_thing(&in->rows[i], row)) {
            return true;
        }
    }
    return false;
}

/* The device of a zone is another one: it has to be enrolled, or found on its input, again. */
static bool enrols_anew(
        const struct sheet *sheet, const struct sheet *older, const struct sheet_row *row) {
    for (size_t i = 0; i < sheet->row_count; i++) {
        const struct sheet_row *other = &sheet->rows[i];
        const bool tells = text_is(other->key, "device") || text_is(other->key, "serial") ||
                text_is(other->key, "device-input");
        if (tells && same_thing(other, row)) {
            const struct sheet_row *was = find_row(older, other);
            if (was == NULL || !text_equal(was->value, other->value)) {
                return true;
            }
        }
    }
    return false;
}

static bool differs(
        const struct sheet *sheet, const struct sheet *older, bool all, struct sheet_row *row) {
    const struct sheet_row *was = find_row(older, row);
    if (row->part == SHEET_SAVE) {
        return false;
    }
    if (all || was == NULL) {
        return true;
    }
    if ((row->kind == SHEET_STEP || row->kind == SHEET_FILL_IN) && enrols_anew(sheet, older, row)) {
        return true;
    }
    if (text_is(row->key, "battery-change")) {
        return false; /* follows from how often people pass: nothing to key, and the battery is the same */
    }
    row->before = was->value;
    return !text_equal(was->value, row->value);
}

static void add_cleared(struct rows *out, const struct sheet *sheet, const struct sheet *older) {
    const struct sheet_row *last = NULL;
    for (size_t i = 0; i < older->row_count; i++) {
        const struct sheet_row *row = &older->rows[i];
        if (has_thing(sheet, row) || (last != NULL && same_thing(last, row))) {
            continue;
        }
        last = row;
        out->part = row->part;
        out->number = row->number;
        out->thing = row->thing;
        rows_add(out, SHEET_CLEAR, "clear", text_of("clear"),
                row->part == SHEET_TEMPORARY
                        ? text_of("it is not in the file any more: key back what it changed")
                        : text_print(out->arena, "clear this %s: it is not used any more",
                                  sheet_part_name(row->part)),
                false);
    }
}

outcome sheet_differences(const struct site *site, const struct site *older, struct arena *arena,
        struct sheet *ret_sheet, struct problem *ret_problem) {
    struct sheet now;
    struct sheet before;
    /* The older values are worded in the newer site's words: words alone are not keyed. */
    struct site worded = *older;
    worded.words = site->words;
    TRY(sheet_make(site, arena, &now, ret_problem));
    TRY(sheet_make(&worded, arena, &before, ret_problem));
    const bool all = !text_equal(site->panel.name, older->panel.name);
    struct rows out = {.site = site, .arena = arena};
    if (!all) {
        add_cleared(&out, &now, &before);
    }
    for (size_t i = 0; i < now.row_count; i++) {
        struct sheet_row row = now.rows[i];
        if (differs(&now, &before, all, &row)) {
            out.part = row.part;
            out.number = row.number;
            out.thing = row.thing;
            rows_add(&out, row.kind, row.key.start, row.label, row.value, row.usual);
            if (out.count > 0) {
                out.rows[out.count - 1].before = row.before;
                out.rows[out.count - 1].changed = true;
            }
        }
    }
    if (out.count > 0) {
        add_save(&out);
    }
    return finish(&out, ret_sheet, ret_problem);
}

const char *sheet_part_name(enum sheet_part part) {
    static const char *const names[SHEET_PART_COUNT] = {"panel", "area", "entry delay", "zone",
            "device", "keypad", "user", "temporary change", "save"};
    assert(part < SHEET_PART_COUNT);
    return names[part];
}

const char *sheet_kind_name(enum sheet_kind kind) {
    static const char *const names[SHEET_KIND_COUNT] = {"setting", "fill-in", "step", "clear"};
    assert(kind < SHEET_KIND_COUNT);
    return names[kind];
}
