/* What the panel offers: behaviours, choices, ranges and steps of the settings, and how it was delivered. */
#include "rules/parts.h"

#include "base/quantity.h"

static bool has_pair(const struct site *site) {
    for (size_t i = 0; i < site->zone_count; i++) {
        if (site->zones[i].cross_with != SITE_NONE) {
            return true;
        }
    }
    return false;
}

static bool has_radio(const struct site *site) {
    for (size_t i = 0; i < site->zone_count; i++) {
        const struct site_device_profile *profile = site_zone_profile(site, &site->zones[i]);
        if (profile != NULL && profile->radio) {
            return true;
        }
    }
    return false;
}

static bool has_fob(const struct site *site) {
    for (size_t i = 0; i < site->person_count; i++) {
        if (site->people[i].has_fob) {
            return true;
        }
    }
    return false;
}

/* Whether the setting does anything here: what does not is not keyed in, and its default in the file says nothing. */
static bool matters(const struct site *site, enum site_setting setting) {
    const struct site_settings *settings = &site->settings;
    switch ((int)setting) {
    case SITE_SET_SWINGER_RESET:
        return settings->swinger_limit > 0;
    case SITE_SET_CROSS_WINDOW:
    case SITE_SET_LONE_CROSS_SIGNAL:
    case SITE_SET_SAME_CROSS_COUNTS:
        return has_pair(site);
    case SITE_SET_LOCKOUT_TIME:
        return settings->lockout_tries > 0;
    case SITE_SET_FINAL_DOOR_TIME:
        return settings->completion == SITE_COMPLETE_FINAL_DOOR;
    case SITE_SET_AUTO_WARN:
    case SITE_SET_AUTO_POSTPONE:
    case SITE_SET_AUTO_POSTPONE_COUNT:
    case SITE_SET_AUTO_OPEN:
        return settings->auto_set_at_s >= 0;
    case SITE_SET_JAMMING_NOTICED:
        return has_radio(site);
    case SITE_SET_MAINS_JITTER:
        return settings->mains_delay_s > 0;
    case SITE_SET_FOB_WAY:
    case SITE_SET_FOB_OPEN:
        return has_fob(site);
    default:
        return true;
    }
}

/* The delays have checks of their own (delays.c), as there are several of each. */
static bool is_delay(enum site_setting setting) {
    return setting == SITE_SET_EXIT_DELAY || setting == SITE_SET_ENTRY_DELAY ||
            setting == SITE_SET_ABORT_WINDOW;
}

static void add_value(struct text_builder *out, enum site_setting setting, int32_t value) {
    if (site_setting_has_words(setting)) {
        text_add_string(out, site_setting_word(setting, value));
    } else if (site_setting_kind(setting) == SITE_SETTING_TIME) {
        quantity_add_seconds(out, value);
    } else if (site_setting_kind(setting) == SITE_SETTING_MILLISECONDS) {
        quantity_add_milliseconds(out, value);
    } else {
        text_add_format(out, "%d", value);
    }
}

/* "now"; "time or fob"; "4 h, 12 h or 24 h"; "60 s to 15 min". */
static struct text offer_text(
        struct rules_finder *finder, enum site_setting setting, const struct site_offer *offer) {
    struct text_builder out;
    int32_t single[32];
    size_t count = 0;
    text_builder_init(&out, finder->arena);
    if (site_setting_has_words(setting)) {
        for (int32_t value = 0; value < site_setting_word_count(setting); value++) {
            if ((offer->choices >> value & 1U) != 0) {
                single[count++] = value;
            }
        }
    }
    for (size_t i = 0; i < offer->value_count && count < sizeof single / sizeof single[0]; i++) {
        single[count++] = offer->values[i];
    }
    for (size_t i = 0; i < count; i++) {
        text_add_string(&out, i == 0 ? "" : i + 1 == count ? " or " : ", ");
        add_value(&out, setting, single[i]);
    }
    if (count == 0 && site_setting_kind(setting) == SITE_SETTING_TIME) {
        quantity_add_span(&out, span_of(offer->low, offer->high));
    } else if (count == 0) {
        add_value(&out, setting, offer->low);
        if (offer->high > offer->low) {
            text_add_string(&out, " to ");
            add_value(&out, setting, offer->high);
        }
    }
    return text_built(&out);
}

/* key: "siren-time 10 s"; for a choice "off-route en". */
static struct text keyed(struct rules_finder *finder, enum site_setting setting, int32_t value) {
    struct text_builder out;
    text_builder_init(&out, finder->arena);
    text_add_format(&out, "%s ", site_setting_key(setting));
    add_value(&out, setting, value);
    return text_built(&out);
}

static void look_offers(struct rules_finder *finder, const struct rules_check *check) {
    const bool words = check->variant;
    const struct site *site = finder->site;
    for (int i = 0; i < SITE_SETTING_COUNT; i++) {
        const enum site_setting setting = (enum site_setting)i;
        if (is_delay(setting) || !site_setting_has_value(setting) ||
                site_setting_has_words(setting) != words || !matters(site, setting) ||
                !site->panel.offers[i].said) {
            continue;
        }
        const int32_t value = site_setting_value(&site->settings, setting);
        if (site_offer_has(setting, &site->panel.offers[i], value)) {
            continue;
        }
        struct words_about about = words_about_nothing();
        about.named = keyed(finder, setting, value);
        about.detail = offer_text(finder, setting, &site->panel.offers[i]);
        about.other = site->panel.name;
        rules_add(finder, check, &about, "panel.%s", site_setting_key(setting));
    }
}

/* A zone that says none takes what the panel has. */
static void look_responses(struct rules_finder *finder, const struct rules_check *check) {
    const struct site *site = finder->site;
    const struct site_offer *offer = &site->panel.offers[SITE_SET_LOOP_RESPONSE];
    for (size_t i = 0; i < site->zone_count && offer->said; i++) {
        const int32_t value = site->zones[i].loop_response_ms;
        if (value > 0 && !site_offer_has(SITE_SET_LOOP_RESPONSE, offer, value)) {
            struct words_about about = rules_about_zone(site, i);
            about.named = keyed(finder, SITE_SET_LOOP_RESPONSE, value);
            about.detail = offer_text(finder, SITE_SET_LOOP_RESPONSE, offer);
            about.other = site->panel.name;
            rules_add(finder, check, &about, "zones[%zu].loop-response", i);
        }
    }
}

static bool is_kept_from(const struct site *site, size_t person, enum site_setting setting) {
    const uint32_t every = (UINT32_C(1) << site->settings.mode_count) - 1U;
    const uint32_t modes = site->people[person].modes;
    return setting == SITE_SET_USER_HOURS ? site->people[person].has_hours
                                          : modes != 0 && (modes & every) != every;
}

static void look_users(struct rules_finder *finder, const struct rules_check *check) {
    static const struct {
        enum site_setting setting;
        const char *key;
        const char *from;
    } kept[] = {
            {SITE_SET_USER_MODES, "modes", "a mode"}, {SITE_SET_USER_HOURS, "hours", "an hour"}};
    const struct site *site = finder->site;
    for (size_t k = 0; k < sizeof kept / sizeof kept[0]; k++) {
        const struct site_offer *offer = &site->panel.offers[kept[k].setting];
        for (size_t i = 0; i < site->person_count; i++) {
            if (offer->said && (offer->choices >> 1 & 1U) == 0 &&
                    is_kept_from(site, i, kept[k].setting)) {
                struct words_about about = words_about_nothing();
                about.person = (int)i;
                about.named = text_of(kept[k].key);
                about.detail = text_of(kept[k].from);
                about.other = site->panel.name;
                rules_add(finder, check, &about, "people[%zu].%s", i, kept[k].key);
            }
        }
    }
}

/* what: "exit-delay", or "entry delay \"yard\"". place: where it stands. */
static void check_step(struct rules_finder *finder, const struct rules_check *check,
        enum site_setting setting, int32_t value, struct text what, struct text place) {
    const int32_t step = finder->site->panel.steps[setting];
    const struct site_offer offer = site_panel_offer(&finder->site->panel, setting);
    struct text_builder near;
    if (step <= 0 || value % step == 0) {
        return;
    }
    struct words_about about = words_about_nothing();
    const int32_t below = value / step * step;
    const int32_t ends[2] = {below, below + step};
    text_builder_init(&near, finder->arena);
    for (int i = 0; i < 2; i++) {
        if (!offer.said || site_offer_has(setting, &offer, ends[i])) {
            text_add_string(&near, near.length == 0 ? "" : " or ");
            add_value(&near, setting, ends[i]);
        }
    }
    struct text_builder said;
    text_builder_init(&said, finder->arena);
    text_add(&said, what);
    text_add_char(&said, ' ');
    add_value(&said, setting, value);
    about.named = text_built(&said);
    about.detail = near.length == 0 ? text_of("a multiple of the step") : text_built(&near);
    text_builder_init(&said, finder->arena);
    text_add_format(&said, "%.*s takes it in steps of ", TEXT_ARGS(finder->site->panel.name));
    add_value(&said, setting, step);
    about.other = text_built(&said);
    rules_add(finder, check, &about, "%.*s", TEXT_ARGS(place));
}

static void look_steps(struct rules_finder *finder, const struct rules_check *check) {
    const struct site *site = finder->site;
    for (int i = 0; i < SITE_SETTING_COUNT; i++) {
        const enum site_setting setting = (enum site_setting)i;
        if (site_setting_has_value(setting) && !site_setting_has_words(setting) &&
                matters(site, setting)) {
            const struct text key = text_of(site_setting_key(setting));
            check_step(finder, check, setting, site_setting_value(&site->settings, setting), key,
                    text_print(finder->arena, "panel.%.*s", TEXT_ARGS(key)));
        }
    }
    for (size_t i = 0; i < site->settings.delay_count; i++) {
        const struct site_delay *delay = &site->settings.delays[i];
        check_step(finder, check, SITE_SET_ENTRY_DELAY, delay->seconds_s,
                text_print(finder->arena, "entry delay \"%.*s\"", TEXT_ARGS(delay->name)),
                text_print(finder->arena, "panel.entry-delays.%.*s", TEXT_ARGS(delay->name)));
    }
    for (size_t i = 0; i < site->zone_count; i++) {
        check_step(finder, check, SITE_SET_LOOP_RESPONSE, site->zones[i].loop_response_ms,
                text_print(finder->arena, "zone %d: loop-response", site->zones[i].number),
                text_print(finder->arena, "zones[%zu].loop-response", i));
    }
}

/* A zone is told once, at its behaviour or at the mode's. */
static void look_behaviours(struct rules_finder *finder, const struct rules_check *check) {
    const struct site *site = finder->site;
    const uint32_t offered = site->panel.behaviours | UINT32_C(1) << SITE_OUT;
    for (size_t i = 0; i < site->zone_count && site->panel.behaviours != 0; i++) {
        const struct site_zone *zone = &site->zones[i];
        struct words_about about = rules_about_zone(site, i);
        bool wrong = (offered >> zone->behaviour & 1U) == 0;
        const char *key = "behaviour";
        for (size_t mode = 0; mode < site->settings.mode_count && !wrong; mode++) {
            if ((offered >> zone->in[mode] & 1U) == 0) {
                wrong = true;
                key = "in";
                about.behaviour = zone->in[mode];
            }
        }
        if (wrong) {
            about.named = text_of(site_behaviour_name(about.behaviour));
            about.detail = site->panel.name;
            rules_add(finder, check, &about, "zones[%zu].%s", i, key);
        }
    }
}

/* Whether the profile says how this setting of the panel is delivered. What stands with zones and people says nothing
 * of the panel. */
static bool is_known(const struct site *site, enum site_setting setting) {
    return site->panel.delivered_said[setting] &&
            (setting == SITE_SET_ENTRY_DELAY || site_setting_has_value(setting));
}

/* Whether that is known, and still so. */
static bool is_as_delivered(const struct site *site, enum site_setting setting) {
    const int32_t factory = site->panel.delivered[setting];
    bool same = is_known(site, setting);
    if (setting != SITE_SET_ENTRY_DELAY) {
        return same && site_setting_value(&site->settings, setting) == factory;
    }
    for (size_t i = 0; i < site->settings.delay_count; i++) {
        same = same && site->settings.delays[i].seconds_s == factory;
    }
    return same;
}

/* How many settings are as delivered, three at least and all that the profile knows; else 0. */
static int all_as_delivered(const struct site *site) {
    enum { LEAST = 3 };
    int same = 0;
    bool all = true;
    for (int i = 0; i < SITE_SETTING_COUNT; i++) {
        const bool as_delivered = is_as_delivered(site, (enum site_setting)i);
        all = all && (as_delivered || !is_known(site, (enum site_setting)i));
        same += as_delivered;
    }
    return all && same >= LEAST ? same : 0;
}

static void look_delivered(struct rules_finder *finder, const struct rules_check *check) {
    const struct site *site = finder->site;
    struct text_builder list;
    text_builder_init(&list, finder->arena);
    for (int i = 0; i < SITE_SETTING_COUNT && all_as_delivered(site) > 0; i++) {
        if (is_known(site, (enum site_setting)i)) {
            text_add_string(&list, list.length == 0 ? "" : ", ");
            text_add(&list, keyed(finder, (enum site_setting)i, site->panel.delivered[i]));
        }
    }
    if (list.length > 0) {
        struct words_about about = words_about_nothing();
        about.named = text_built(&list);
        rules_add(finder, check, &about, "panel");
    }
}

static void look_delays_delivered(struct rules_finder *finder, const struct rules_check *check) {
    const struct site *site = finder->site;
    if (site->settings.delay_count > 0 && is_as_delivered(site, SITE_SET_ENTRY_DELAY) &&
            is_as_delivered(site, SITE_SET_EXIT_DELAY) && all_as_delivered(site) == 0) {
        struct words_about about = words_about_nothing();
        about.seconds_s = site->panel.delivered[SITE_SET_EXIT_DELAY];
        about.least_s = site->panel.delivered[SITE_SET_ENTRY_DELAY];
        about.named = site->panel.name;
        rules_add(finder, check, &about, "panel.exit-delay");
    }
}

static const struct rules_check rows[] = {
        {
                .id = "zones.behaviour-not-offered",
                .weight = FINDING_FAULT,
                .headline = "{zone} cannot be keyed in as {named}",
                .why = "{detail} does not offer {named}",
                .remedy = "a behaviour that it offers, or another panel",
                .source = "the panel's profile",
                .look = look_behaviours,
        },
        {
                .id = "panel.choice-not-offered",
                .weight = FINDING_FAULT,
                .headline = "{named} cannot be keyed in",
                .why = "{other} offers {detail}",
                .remedy = "{detail}",
                .source = "the panel's profile",
                .look = look_offers,
                .variant = true,
        },
        {
                .id = "panel.value-not-offered",
                .weight = FINDING_FAULT,
                .headline = "{named} cannot be keyed in",
                .why = "{other} takes {detail}",
                .remedy = "{detail}",
                .source = "the panel's profile",
                .look = look_offers,
        },
        {
                .id = "zones.response-not-offered",
                .weight = FINDING_FAULT,
                .headline = "{zone}: {named} cannot be keyed in",
                .why = "{other} takes {detail}",
                .remedy = "{detail}",
                .source = "the panel's profile",
                .look = look_responses,
        },
        {
                .id = "users.not-offered",
                .weight = FINDING_FAULT,
                .headline = "the {named} of {person} cannot be keyed in",
                .why = "{other} cannot keep a user's code from {detail}",
                .remedy = "another panel, or routines that go well without",
                .source = "the panel's profile",
                .look = look_users,
        },
        {
                .id = "panel.value-off-steps",
                .weight = FINDING_FAULT,
                .headline = "{named} cannot be keyed in",
                .why = "{other}",
                .remedy = "{detail}",
                .source = "the panel's profile",
                .look = look_steps,
        },
        {
                .id = "panel.as-delivered",
                .weight = FINDING_NOTE,
                .headline = "the panel stands as it was delivered",
                .why = "everything that its profile knows is still as it came: {named}",
                .remedy = "each of them looked at once: what suits this house is rarely what came "
                          "out of the box",
                .source = "common practice",
                .look = look_delivered,
        },
        {
                .id = "panel.delays-as-delivered",
                .weight = FINDING_NOTE,
                .headline = "the delays are those that the panel was delivered with",
                .why = "{named} comes with an exit delay of {seconds} and an entry delay of "
                       "{least}; how far it is from the door to the keypad it cannot know",
                .remedy = "the walks measured once, and the delays after them",
                .source = "common practice",
                .look = look_delays_delivered,
        },
};

const struct rules_checks rules_offers = RULES_ROWS(rows);
