/* The rule sets that the site names, held against what is keyed in. */
#include "rules/parts.h"

#include "base/quantity.h"
#include "plan/used_ways.h"

#include <limits.h>
#include <math.h>

/* What is measured of the site: a value and where it stands. name: of the one entry delay or way, or empty. */
struct measured {
    int32_t value;
    const char *place;
    struct text name;
    int index;
};

/* What the functions below share while one row is held against the site. */
struct holder {
    struct rules_finder *finder;
    const struct rules_check *check;
    const struct site_rule_set *set;
    const struct site_limit *limit;
};

static void add_value(struct text_builder *out, const struct site_limit *limit, int32_t value) {
    switch (site_limit_kind(limit->of)) {
    case SITE_SETTING_TIME:
        quantity_add_seconds(out, value);
        return;
    case SITE_SETTING_MILLISECONDS:
        quantity_add_milliseconds(out, value);
        return;
    case SITE_SETTING_NUMBER:
        text_add_format(out, "%d", value);
        return;
    case SITE_SETTING_YES:
    case SITE_SETTING_CHOICE:
        text_add_string(out, site_setting_word((enum site_setting)limit->of, value));
        return;
    }
}

/* "15 s to 45 s or 0 s", "at least 5 min", "en". */
static void add_limit(struct text_builder *out, const struct site_limit *limit) {
    if (limit->least == limit->most) {
        add_value(out, limit, limit->least);
    } else if (limit->most == INT_MAX) {
        text_add_string(out, "at least ");
        add_value(out, limit, limit->least);
    } else if (limit->least == INT_MIN) {
        text_add_string(out, "at most ");
        add_value(out, limit, limit->most);
    } else {
        add_value(out, limit, limit->least);
        text_add_string(out, " to ");
        add_value(out, limit, limit->most);
    }
    if (limit->has_also) {
        text_add_string(out, " or ");
        add_value(out, limit, limit->also);
    }
}

static bool is_inside(const struct site_limit *limit, int32_t value) {
    return (value >= limit->least && value <= limit->most) ||
            (limit->has_also && value == limit->also);
}

bool rules_limits_allow(const struct site *site, int of, int32_t value) {
    for (size_t i = 0; i < site->rule_set_count; i++) {
        for (size_t row = 0; row < site->rule_sets[i].limit_count; row++) {
            const struct site_limit *limit = &site->rule_sets[i].limits[row];
            if (limit->of == of && !is_inside(limit, value)) {
                return false;
            }
        }
    }
    return true;
}

static struct text name_limit(const struct holder *holder, const struct measured *measured) {
    struct text_builder out;
    text_builder_init(&out, holder->finder->arena);
    text_add_string(&out, site_limit_name(holder->limit->of));
    if (measured->name.length > 0) {
        text_add_format(&out, " \"%.*s\"", TEXT_ARGS(measured->name));
    }
    text_add_string(&out, " ");
    add_value(&out, holder->limit, measured->value);
    return text_built(&out);
}

static struct text source_of(const struct holder *holder) {
    const struct site_limit *limit = holder->limit;
    struct text_builder out;
    text_builder_init(&out, holder->finder->arena);
    text_add_format(&out, "%.*s", TEXT_ARGS(limit->standard));
    if (!text_is(limit->edition, "any")) {
        text_add_format(&out, ", edition %.*s", TEXT_ARGS(limit->edition));
    }
    if (limit->clause.length > 0) {
        text_add_format(&out, ", clause %.*s", TEXT_ARGS(limit->clause));
    }
    text_add_format(&out, " (%s)", site_certainty_name(limit->certainty));
    return text_built(&out);
}

/* A figure that was only recalled is a note, not a risk. */
static void hold(const struct holder *holder, struct measured measured) {
    struct rules_finder *finder = holder->finder;
    struct words_about about = words_about_nothing();
    struct text_builder range;
    if (is_inside(holder->limit, measured.value)) {
        return;
    }
    text_builder_init(&range, finder->arena);
    add_limit(&range, holder->limit);
    about.named = name_limit(holder, &measured);
    about.other = holder->set->name;
    about.detail = text_built(&range);
    if (measured.index >= 0) {
        rules_add(finder, holder->check, &about, "%s[%d]", measured.place, measured.index);
    } else {
        rules_add(finder, holder->check, &about, "%s%s%.*s", measured.place,
                measured.name.length > 0 ? "." : "", TEXT_ARGS(measured.name));
    }
    if (finder->count > 0) {
        struct finding *finding = &finder->findings[finder->count - 1];
        finding->source = source_of(holder);
        finding->weight =
                holder->limit->certainty == SITE_READ_IN_EXCERPT ? FINDING_RISK : FINDING_NOTE;
    }
}

static void hold_delays(const struct holder *holder) {
    const struct site_settings *settings = &holder->finder->site->settings;
    for (size_t i = 0; i < settings->delay_count; i++) {
        hold(holder,
                (struct measured){.value = settings->delays[i].seconds_s,
                        .place = "panel.entry-delays",
                        .name = settings->delays[i].name,
                        .index = SITE_NONE});
    }
}

/* Of zones that say it; what a panel has as delivered nobody has keyed in. */
static void hold_responses(const struct holder *holder) {
    const struct site *site = holder->finder->site;
    for (size_t i = 0; i < site->zone_count; i++) {
        if (site->zones[i].loop_response_ms > 0) {
            hold(holder,
                    (struct measured){.value = site->zones[i].loop_response_ms,
                            .place = "zones",
                            .name = site->zones[i].name,
                            .index = (int)i});
        }
    }
}

static int32_t slowest_walk_s(const struct site_way *way) {
    int32_t walk_s = way->last.high_s;
    for (size_t leg = 0; leg < way->leg_count; leg++) {
        walk_s += way->legs[leg].in.high_s;
    }
    return walk_s;
}

/* Whether a typed way by that door to that keypad is told of already. */
static bool is_told(const struct holder *holder, const struct used_way *used) {
    const struct site *site = holder->finder->site;
    bool told = false;
    for (size_t i = 0; i < site->way_count; i++) {
        const struct site_way *way = &site->ways[i];
        told = told ||
                (way->door == used->door && way->keypad == used->keypad &&
                        !is_inside(holder->limit, slowest_walk_s(way)));
    }
    return told;
}

/* "front door to hall keypad, 16.2 m in the drawing". */
static struct text name_drawn(const struct holder *holder, const struct used_way *used) {
    const struct site *site = holder->finder->site;
    return text_print(holder->finder->arena, "%.*s to %.*s, %.1f m in the drawing",
            TEXT_ARGS(site->doors[used->door].name),
            TEXT_ARGS(used->keypad == SITE_NONE ? text_of("panel")
                                                : site->keypads[used->keypad].name),
            used->way.way.length_mm / 1000);
}

static void hold_drawn_reach(const struct holder *holder) {
    const struct used_ways *ways = holder->finder->ways;
    for (size_t i = 0; ways != NULL && i < ways->count; i++) {
        const struct used_way *used = &ways->ways[i];
        if (used->way.way.count > 0 && holder->finder->site->doors[used->door].outside &&
                !is_told(holder, used)) {
            hold(holder,
                    (struct measured){.value = (int32_t)ceil(used_way_seconds(used).high_s),
                            .place = "doors",
                            .name = name_drawn(holder, used),
                            .index = used->door});
        }
    }
}

/* The slowest walk from a door that leads outside to the way's keypad, as typed and as drawn. */
static void hold_reach(const struct holder *holder) {
    const struct site *site = holder->finder->site;
    for (size_t i = 0; i < site->way_count; i++) {
        const struct site_way *way = &site->ways[i];
        if (way->keypad != SITE_NONE && way->door >= 0 && site->doors[way->door].outside) {
            hold(holder,
                    (struct measured){.value = slowest_walk_s(way),
                            .place = "ways",
                            .name = way->name,
                            .index = (int)i});
        }
    }
    hold_drawn_reach(holder);
}

static bool has_radio(const struct site *site) {
    bool radio = false;
    for (size_t i = 0; i < site->zone_count; i++) {
        const struct site_device_profile *profile = site_zone_profile(site, &site->zones[i]);
        radio = radio || (profile != NULL && profile->radio);
    }
    return radio;
}

/* The shortest code that the panel takes: 10 to the power of its digits; unsaid: nothing to measure. */
static void hold_combinations(const struct holder *holder) {
    enum { DIGITS_MOST = 9 };
    const struct site_numbers *lengths = &holder->finder->site->panel.code_lengths;
    int32_t combinations = 1;
    for (int32_t digits = 1; lengths->said && digits <= DIGITS_MOST; digits++) {
        combinations *= 10;
        if (site_numbers_has(lengths, digits)) {
            hold(holder,
                    (struct measured){
                            .value = combinations, .place = "panel.profile", .index = SITE_NONE});
            return;
        }
    }
}

static void hold_setting(const struct holder *holder) {
    const struct site *site = holder->finder->site;
    const enum site_setting setting = (enum site_setting)holder->limit->of;
    char place[64] = "panel.";
    const char *key = site_setting_key(setting);
    size_t length = sizeof "panel." - 1;
    if (setting == SITE_SET_SUPERVISION_WINDOW && !has_radio(site)) {
        return;
    }
    for (; *key != '\0' && length + 1 < sizeof place; key++) {
        place[length++] = *key;
    }
    place[length] = '\0';
    hold(holder,
            (struct measured){.value = site_setting_value(&site->settings, setting),
                    .place = place,
                    .index = SITE_NONE});
}

static void look_limits(struct rules_finder *finder, const struct rules_check *check) {
    const struct site *site = finder->site;
    for (size_t i = 0; i < site->rule_set_count; i++) {
        const struct site_rule_set *set = &site->rule_sets[i];
        for (size_t row = 0; row < set->limit_count; row++) {
            const struct holder holder = {
                    .finder = finder, .check = check, .set = set, .limit = &set->limits[row]};
            if (holder.limit->of == SITE_SET_ENTRY_DELAY) {
                hold_delays(&holder);
            } else if (holder.limit->of == SITE_SET_LOOP_RESPONSE) {
                hold_responses(&holder);
            } else if (holder.limit->of == SITE_LIMIT_KEYPAD_REACH) {
                hold_reach(&holder);
            } else if (holder.limit->of == SITE_LIMIT_CODE_COMBINATIONS) {
                hold_combinations(&holder);
            } else if (holder.limit->of < SITE_SETTING_COUNT) {
                hold_setting(&holder);
            }
        }
    }
}

static const struct rules_check rows[] = {
        {
                .id = "rules.outside",
                .weight = FINDING_RISK,
                .headline = "outside {other}: {named}",
                .why = "consistent with {other} is {detail}",
                .remedy = "{detail}, if the routines allow it; or a reason in the papers why not",
                .source = "the rule set: standard, edition, clause, certainty",
                .look = look_limits,
        },
};

const struct rules_checks rules_limits = RULES_ROWS(rows);
