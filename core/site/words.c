#include "site/words.h"

#include "base/quantity.h"

#include <assert.h>

struct words_about words_about_nothing(void) {
    return (struct words_about){.zone = SITE_NONE,
            .other_zone = SITE_NONE,
            .area = SITE_NONE,
            .person = SITE_NONE,
            .other_person = SITE_NONE,
            .door = SITE_NONE,
            .keypad = SITE_NONE,
            .mode = SITE_NONE,
            .delay = SITE_NONE,
            .seconds_s = -1,
            .least_s = -1};
}

/* clang-format off */

/* One thing, two words. Source: the trade's own usage on either side of the Atlantic (common practice). */
static const struct {
    const char *name;
    const char *word[SITE_WORDS_COUNT];
} choices[] = {
    {"set",        {"set",                 "arm"}},
    {"sets",       {"sets",                "arms"}},
    {"is-set",     {"set",                 "armed"}},
    {"setting",    {"setting",             "arming"}},
    {"unset",      {"unset",               "disarm"}},
    {"unsets",     {"unsets",              "disarms"}},
    {"is-unset",   {"unset",               "disarmed"}},
    {"unsetting",  {"unsetting",           "disarming"}},
    {"auto-set",   {"automatic setting",   "automatic arming"}},
    {"auto-set-short", {"auto-set",        "auto-arm"}},
    {"mains",      {"mains power",         "AC power"}},
    {"mains-short", {"mains",              "AC"}},
};

static const char *const effects[SITE_BEHAVIOUR_COUNT] = {
    [SITE_OUT] =       "not watched",
    [SITE_ENTRY] =     "starts the entry time",
    [SITE_PERIMETER] = "no delay",
    [SITE_FOLLOWER] =  "waits only while the entry time of its door runs",
    [SITE_INTERIOR] =  "no delay, whichever door one comes by",
    [SITE_ALWAYS] =    "watched at every hour",
    [SITE_DAY] =       "a trouble by day, no delay otherwise",
    [SITE_HOLD_UP] =   "a signal of its own",
    [SITE_MEDICAL] =   "a signal of its own",
    [SITE_FIRE] =      "a signal and a sound of its own",
    [SITE_GAS] =       "a signal and a sound of its own",
    [SITE_CO] =        "a signal and a sound of its own",
    [SITE_FLOOD] =     "a signal and a sound of its own",
    [SITE_COLD] =      "a signal and a sound of its own",
};

/* clang-format on */

const char *words_behaviour(enum site_behaviour behaviour) {
    return effects[behaviour];
}

static bool is_proper(struct text name) {
    const char last = name.length == 0 ? '0' : name.start[name.length - 1];
    return name.length == 0 || !(name.start[0] >= 'a' && name.start[0] <= 'z') ||
            (last >= '0' && last <= '9');
}

void words_add_named(struct text_builder *out, struct text name) {
    if (!is_proper(name)) {
        text_add_string(out, "the ");
    }
    text_add(out, name);
}

/* Adders of what a pattern names. Each has the same shape, so that a table can hold them. */
typedef void adder(
        struct text_builder *out, const struct site *site, const struct words_about *about);

static bool is_index(int index, size_t count) {
    return index >= 0 && (size_t)index < count;
}

static void add_zone_short(
        struct text_builder *out, const struct site *site, const struct words_about *about) {
    if (is_index(about->zone, site->zone_count)) {
        text_add_format(out, "zone %d", site->zones[about->zone].number);
    } else {
        text_add_string(out, "a zone");
    }
}

static void add_zone(
        struct text_builder *out, const struct site *site, const struct words_about *about) {
    add_zone_short(out, site, about);
    if (is_index(about->zone, site->zone_count)) {
        text_add_format(out, " \"%.*s\"", TEXT_ARGS(site->zones[about->zone].name));
    }
}

static void add_other_zone(
        struct text_builder *out, const struct site *site, const struct words_about *about) {
    struct words_about other = *about;
    other.zone = about->other_zone;
    add_zone(out, site, &other);
}

static void add_other_zone_short(
        struct text_builder *out, const struct site *site, const struct words_about *about) {
    struct words_about other = *about;
    other.zone = about->other_zone;
    add_zone_short(out, site, &other);
}

static void add_other_name(
        struct text_builder *out, const struct site *site, const struct words_about *about) {
    if (is_index(about->other_zone, site->zone_count)) {
        text_add_format(out, "\"%.*s\"", TEXT_ARGS(site->zones[about->other_zone].name));
    } else {
        text_add_string(out, "another");
    }
}

static void add_with_zone(
        struct text_builder *out, const struct site *site, const struct words_about *about) {
    if (is_index(about->zone, site->zone_count)) {
        text_add_string(out, ", ");
        add_zone(out, site, about);
    }
}

static void add_person(
        struct text_builder *out, const struct site *site, const struct words_about *about) {
    if (is_index(about->person, site->person_count)) {
        words_add_named(out, site->people[about->person].name);
    } else {
        text_add_string(out, "somebody");
    }
}

static void add_other_person(
        struct text_builder *out, const struct site *site, const struct words_about *about) {
    struct words_about other = *about;
    other.person = about->other_person;
    add_person(out, site, &other);
}

static void add_door(
        struct text_builder *out, const struct site *site, const struct words_about *about) {
    if (is_index(about->door, site->door_count)) {
        words_add_named(out, site->doors[about->door].name);
    } else {
        text_add_string(out, "a door");
    }
}

static void add_at_keypad(
        struct text_builder *out, const struct site *site, const struct words_about *about) {
    if (is_index(about->keypad, site->keypad_count)) {
        text_add_string(out, " at ");
        words_add_named(out, site->keypads[about->keypad].name);
    }
}

static void add_areas(
        struct text_builder *out, const struct site *site, const struct words_about *about) {
    uint32_t areas = about->areas;
    if (is_index(about->area, site->area_count)) {
        areas |= (uint32_t)1 << about->area;
    }
    size_t left = 0;
    for (size_t i = 0; i < site->area_count; i++) {
        left += (areas >> i & 1U) != 0;
    }
    if (left == 0) {
        text_add_string(out, "the system");
    }
    for (size_t i = 0; i < site->area_count; i++) {
        if ((areas >> i & 1U) != 0) {
            left--;
            text_add(out, site->areas[i].name);
            text_add_string(out, left > 1 ? ", " : left == 1 ? " and " : "");
        }
    }
}

static void add_mode(
        struct text_builder *out, const struct site *site, const struct words_about *about) {
    if (is_index(about->mode, site->settings.mode_count)) {
        text_add(out, site->settings.modes[about->mode].name);
    }
}

static void add_in_mode(
        struct text_builder *out, const struct site *site, const struct words_about *about) {
    if (is_index(about->mode, site->settings.mode_count)) {
        text_add_string(out, " (");
        add_mode(out, site, about);
        text_add_char(out, ')');
    }
}

static void add_in_that_mode(
        struct text_builder *out, const struct site *site, const struct words_about *about) {
    text_add_string(out, "in mode ");
    if (is_index(about->mode, site->settings.mode_count)) {
        add_mode(out, site, about);
    } else {
        text_add_string(out, "asked for");
    }
}

/* As the clock on the wall shows it. */
static void add_clock(struct text_builder *out, int32_t since_midnight_s) {
    enum { DAY_S = 86400 };
    const int32_t at_s = since_midnight_s % DAY_S;
    text_add_format(out, "%02d:%02d", at_s / 3600, at_s / 60 % 60);
    if (at_s % 60 != 0) {
        text_add_format(out, ":%02d", at_s % 60);
    }
}

static void add_hours(
        struct text_builder *out, const struct site *site, const struct words_about *about) {
    if (is_index(about->person, site->person_count) && site->people[about->person].has_hours) {
        add_clock(out, site->people[about->person].hours.low_s);
        text_add_string(out, " to ");
        add_clock(out, site->people[about->person].hours.high_s);
    } else {
        text_add_string(out, "some hour to another");
    }
}

static void add_seconds(
        struct text_builder *out, const struct site *site, const struct words_about *about) {
    (void)site;
    if (about->seconds_s >= 0) {
        quantity_add_seconds(out, about->seconds_s);
    } else {
        text_add_string(out, "some time");
    }
}

static void add_least(
        struct text_builder *out, const struct site *site, const struct words_about *about) {
    struct words_about least = *about;
    least.seconds_s = about->least_s;
    add_seconds(out, site, &least);
}

static void add_of_seconds(
        struct text_builder *out, const struct site *site, const struct words_about *about) {
    if (about->seconds_s >= 0) {
        text_add_string(out, " of ");
        add_seconds(out, site, about);
    }
}

static void add_behaviour(
        struct text_builder *out, const struct site *site, const struct words_about *about) {
    (void)site;
    text_add_string(out, site_behaviour_name(about->behaviour));
}

static void add_effect(
        struct text_builder *out, const struct site *site, const struct words_about *about) {
    (void)site;
    text_add_string(out, effects[about->behaviour]);
}

static void add_delay(
        struct text_builder *out, const struct site *site, const struct words_about *about) {
    if (is_index(about->delay, site->settings.delay_count)) {
        text_add_format(
                out, "entry delay \"%.*s\"", TEXT_ARGS(site->settings.delays[about->delay].name));
    } else {
        text_add_string(out, "an entry delay");
    }
}

static void add_count(
        struct text_builder *out, const struct site *site, const struct words_about *about) {
    (void)site;
    text_add_format(out, "%d", about->count);
}

static void add_text(
        struct text_builder *out, const struct site *site, const struct words_about *about) {
    (void)site;
    text_add(out, about->named);
}

static void add_detail(
        struct text_builder *out, const struct site *site, const struct words_about *about) {
    (void)site;
    text_add(out, about->detail);
}

static void add_other_text(
        struct text_builder *out, const struct site *site, const struct words_about *about) {
    (void)site;
    text_add(out, about->other);
}

static void add_advice(
        struct text_builder *out, const struct site *site, const struct words_about *about) {
    (void)site;
    text_add(out, about->advice);
}

static const struct {
    const char *name;
    adder *add;
} things[] = {
        {"zone", add_zone},
        {"zone-short", add_zone_short},
        {"other-zone", add_other_zone},
        {"other-zone-short", add_other_zone_short},
        {"other-name", add_other_name},
        {"with-zone", add_with_zone},
        {"person", add_person},
        {"other-person", add_other_person},
        {"door", add_door},
        {"at-keypad", add_at_keypad},
        {"areas", add_areas},
        {"mode", add_mode},
        {"in-mode", add_in_mode},
        {"in-that-mode", add_in_that_mode},
        {"hours", add_hours},
        {"seconds", add_seconds},
        {"of-seconds", add_of_seconds},
        {"least", add_least},
        {"delay", add_delay},
        {"count", add_count},
        {"named", add_text},
        {"detail", add_detail},
        {"other", add_other_text},
        {"advice", add_advice},
        {"behaviour", add_behaviour},
        {"effect", add_effect},
};

static void add_thing(struct text_builder *out, const struct site *site, struct text name,
        const struct words_about *about) {
    for (size_t i = 0; i < sizeof choices / sizeof choices[0]; i++) {
        if (text_is(name, choices[i].name)) {
            text_add_string(out, choices[i].word[site->words]);
            return;
        }
    }
    for (size_t i = 0; i < sizeof things / sizeof things[0]; i++) {
        if (text_is(name, things[i].name)) {
            things[i].add(out, site, about);
            return;
        }
    }
    assert(false && "a pattern names what is not known");
}

static size_t length_before(const char *pattern, char mark) {
    size_t length = 0;
    while (pattern[length] != '\0' && pattern[length] != mark) {
        length++;
    }
    return length;
}

void words_add(struct text_builder *out, const struct site *site, const char *pattern,
        const struct words_about *about) {
    const struct words_about nothing = words_about_nothing();
    if (about == NULL) {
        about = &nothing;
    }
    while (*pattern != '\0') {
        const size_t plain = length_before(pattern, '{');
        text_add(out, (struct text){.start = pattern, .length = plain});
        pattern += plain;
        if (*pattern == '{') {
            const size_t length = length_before(pattern, '}');
            assert(pattern[length] == '}');
            add_thing(out, site, (struct text){.start = pattern + 1, .length = length - 1}, about);
            pattern += length + 1;
        }
    }
}

struct text words_print(struct arena *arena, const struct site *site, const char *pattern,
        const struct words_about *about) {
    struct text_builder out;
    text_builder_init(&out, arena);
    words_add(&out, site, pattern, about);
    return text_built(&out);
}
