/* Settings of the whole panel that are worth a word, whatever the rule sets say. */
#include "rules/parts.h"

#include "base/quantity.h"

/* Source: CP-01, note to the entry delay (rules.md 1.2, from memory): entry delay and abort window together. */
enum { TOGETHER_MOST_S = 60 };

static int longest_delay(const struct site_settings *settings) {
    int longest = SITE_NONE;
    for (size_t i = 0; i < settings->delay_count; i++) {
        if (longest == SITE_NONE ||
                settings->delays[i].seconds_s > settings->delays[longest].seconds_s) {
            longest = (int)i;
        }
    }
    return longest;
}

/* The longest abort window that the panel takes within so many seconds; SITE_NONE where it takes none. */
static int32_t longest_window(const struct site *site, int32_t most_s) {
    int32_t seconds = most_s;
    while (seconds >= 0 && !site_panel_takes(&site->panel, SITE_SET_ABORT_WINDOW, seconds)) {
        seconds--;
    }
    return seconds >= 0 ? seconds : SITE_NONE;
}

/* Entry delay and abort window together: until then nobody is told of a thief. */
static void look_entry_plus_abort(struct rules_finder *finder, const struct rules_check *check) {
    const bool by_abort = check->variant;
    const struct site_settings *settings = &finder->site->settings;
    const int longest = longest_delay(settings);
    struct words_about about = words_about_nothing();
    struct text_builder list;
    const int32_t entry_s = longest == SITE_NONE ? 0 : settings->delays[longest].seconds_s;
    const int32_t window_s = longest_window(finder->site, TOGETHER_MOST_S - entry_s);
    if (longest == SITE_NONE || entry_s + settings->abort_window_s <= TOGETHER_MOST_S ||
            (entry_s < TOGETHER_MOST_S && window_s != SITE_NONE) != by_abort) {
        return;
    }
    text_builder_init(&list, finder->arena);
    for (size_t i = 0; i < settings->delay_count; i++) {
        const int32_t sum_s = settings->delays[i].seconds_s + settings->abort_window_s;
        if (sum_s > TOGETHER_MOST_S) {
            text_add_format(&list, "%s%.*s ", list.length > 0 ? ", " : "",
                    TEXT_ARGS(settings->delays[i].name));
            quantity_add_seconds(&list, sum_s);
        }
    }
    about.named = text_built(&list);
    about.seconds_s = entry_s + settings->abort_window_s;
    about.least_s = by_abort ? window_s : settings->abort_window_s;
    rules_add(finder, check, &about, "panel.abort-window");
}

static void look_swinger_one(struct rules_finder *finder, const struct rules_check *check) {
    if (finder->site->settings.swinger_limit == 1) {
        rules_add(finder, check, NULL, "panel.swinger-limit");
    }
}

static void look_lockout_off(struct rules_finder *finder, const struct rules_check *check) {
    if (finder->site->settings.lockout_tries == 0) {
        rules_add(finder, check, NULL, "panel.lockout-tries");
    }
}

static const struct rules_check rows[] = {
        {
                .id = "settings.entry-plus-abort",
                .weight = FINDING_NOTE,
                .headline = "a thief has up to {seconds} before anybody is told",
                .why = "entry delay and abort window add up to more than 60 s: {named}",
                .remedy = "an abort window of {least}",
                .source = "advice: CP-01, note to the entry delay (from memory, unverified)",
                .look = look_entry_plus_abort,
                .variant = true,
        },
        {
                .id = "settings.entry-plus-abort",
                .weight = FINDING_NOTE,
                .headline = "a thief has up to {seconds} before anybody is told",
                .why = "entry delay and abort window add up to more than 60 s: {named}",
                .remedy = "shorter entry delays, if the routines allow it",
                .source = "advice: CP-01, note to the entry delay (from memory, unverified)",
                .look = look_entry_plus_abort,
        },
        {
                .id = "settings.swinger-one",
                .weight = FINDING_NOTE,
                .headline = "after one alarm a zone is left out: a second intruder there is not "
                            "heard",
                .why = "the swinger limit is 1: one rattle, and the zone is blind until somebody "
                       "resets it",
                .remedy = "a swinger limit of 2",
                .source = "common practice; CP-01 clause 4.3.2 has 2 as its usual value since 2010",
                .look = look_swinger_one,
        },
        {
                .id = "settings.lockout-off",
                .weight = FINDING_RISK,
                .headline = "codes can be tried at the keypad without end",
                .why = "lockout-tries is 0: no number of wrong codes locks the keypads",
                .remedy = "lockout-tries 10, lockout-time 90 s",
                .price = "whoever mistypes ten times waits for 90 s",
                .source = "EN 50131-3 has about 10 tries and 90 s (from memory, unverified)",
                .look = look_lockout_off,
        },
};

const struct rules_checks rules_settings = RULES_ROWS(rows);
