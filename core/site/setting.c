#include "site/setting.h"

#include "site/site.h"

#include <assert.h>
#include <string.h>

/* clang-format off */
const char *const site_words_off_route[SITE_OFF_ROUTE_COUNT]       = {"now", "en"};
const char *const site_words_second_entry[SITE_SECOND_COUNT]       = {"shorten", "keep"};
const char *const site_words_exit_trip[SITE_EXIT_TRIP_COUNT]       = {"alarm", "stalls"};
const char *const site_words_faults[SITE_FAULT_COUNT]              = {"refuse", "acknowledge", "ignore"};
const char *const site_words_reopened[SITE_REOPENED_COUNT]         = {"stays-out", "becomes-live"};
const char *const site_words_completion[SITE_COMPLETION_COUNT]     = {"time", "final-door", "button", "lock", "fob", "station"};
const char *const site_words_fob_way[SITE_FOB_COUNT]               = {"at-once", "timed"};
const char *const site_words_open_zones[SITE_OPEN_COUNT]           = {"refuse", "force"};
const char *const site_words_auto_open[SITE_AUTO_COUNT]            = {"force", "fail"};
const char *const site_words_restore[SITE_RESTORE_COUNT]           = {"closure", "siren-end", "unset"};
const char *const site_words_lost[SITE_LOST_COUNT]                 = {"trouble", "alarm"};
const char *const site_words_reset[SITE_RESET_COUNT]               = {"user", "installer", "station"};
const char *const site_words_code_acts[SITE_CODE_COUNT]            = {"keypad", "user", "entry"};
static const char *const yes_words[]                               = {"no", "yes"};

/* words, count: of a choice. */
struct row {
    const char *key;
    enum site_setting_kind kind;
    size_t at;
    const char *const *words;
    int32_t count;
};

#define AT(field) offsetof(struct site_settings, field)
#define TIME(field) SITE_SETTING_TIME, AT(field), NULL, 0
#define NUMBER(field) SITE_SETTING_NUMBER, AT(field), NULL, 0
#define YES(field) SITE_SETTING_YES, AT(field), yes_words, 2
#define CHOICE(field, words, count) SITE_SETTING_CHOICE, AT(field), words, count
static const struct row rows[SITE_SETTING_COUNT] = {
    [SITE_SET_EXIT_DELAY]          = {"exit-delay", TIME(modes[SITE_MODE_FULL].exit_delay_s)},
    [SITE_SET_PART_EXIT_DELAY]     = {"part-exit-delay", TIME(modes[SITE_MODE_PART].exit_delay_s)},
    [SITE_SET_NIGHT_EXIT_DELAY]    = {"night-exit-delay", TIME(modes[SITE_MODE_NIGHT].exit_delay_s)},
    [SITE_SET_ENTRY_DELAY]         = {"entry-delay", SITE_SETTING_TIME, SIZE_MAX, NULL, 0},
    [SITE_SET_ABORT_WINDOW]        = {"abort-window", TIME(abort_window_s)},
    [SITE_SET_CANCEL_WINDOW]       = {"cancel-window", TIME(cancel_window_s)},
    [SITE_SET_RECENT_CLOSING]      = {"recent-closing", TIME(recent_closing_s)},
    [SITE_SET_SIREN_TIME]          = {"siren-time", TIME(siren_time_s)},
    [SITE_SET_SIREN_HOLD_BACK]     = {"siren-hold-back", TIME(siren_hold_back_s)},
    [SITE_SET_SWINGER_LIMIT]       = {"swinger-limit", NUMBER(swinger_limit)},
    [SITE_SET_SWINGER_RESET]       = {"swinger-reset", TIME(swinger_reset_s)},
    [SITE_SET_CROSS_WINDOW]        = {"cross-window", TIME(cross_window_s)},
    [SITE_SET_CONFIRM_WINDOW]      = {"confirm-window", TIME(confirm_window_s)},
    [SITE_SET_LOCKOUT_TRIES]       = {"lockout-tries", NUMBER(lockout_tries)},
    [SITE_SET_LOCKOUT_TIME]        = {"lockout-time", TIME(lockout_s)},
    [SITE_SET_SUPERVISION_WINDOW]  = {"supervision-window", TIME(supervision_window_s)},
    [SITE_SET_MAINS_DELAY]         = {"mains-delay", TIME(mains_delay_s)},
    [SITE_SET_MAINS_JITTER]        = {"mains-jitter", TIME(mains_jitter_s)},
    [SITE_SET_POWER_MASK]          = {"power-mask", TIME(power_mask_s)},
    [SITE_SET_FINAL_DOOR_TIME]     = {"final-door-time", TIME(final_door_s)},
    [SITE_SET_AUTO_WARN]           = {"auto-warn", TIME(auto_warn_s)},
    [SITE_SET_AUTO_POSTPONE]       = {"auto-postpone", TIME(auto_postpone_s)},
    [SITE_SET_AUTO_POSTPONE_COUNT] = {"auto-postpone-count", NUMBER(auto_postpone_count)},
    [SITE_SET_SIGNALS_KEPT]        = {"signals-kept", NUMBER(signals_kept)},
    [SITE_SET_LOOP_RESPONSE]       = {"loop-response", SITE_SETTING_MILLISECONDS, SIZE_MAX, NULL, 0},
    [SITE_SET_JAMMING_NOTICED]     = {"jamming-noticed", YES(jamming_noticed)},
    [SITE_SET_USER_MODES]          = {"user-modes", SITE_SETTING_YES, SIZE_MAX, yes_words, 2},
    [SITE_SET_USER_HOURS]          = {"user-hours", SITE_SETTING_YES, SIZE_MAX, yes_words, 2},
    [SITE_SET_MOTION_BLOCKS]       = {"motion-blocks", YES(motion_blocks)},
    [SITE_SET_ENTRY_OPEN_ALLOWED]  = {"entry-open-allowed", YES(entry_open_allowed)},
    [SITE_SET_EXIT_RESTART]        = {"exit-restart", YES(exit_restart)},
    [SITE_SET_DROP_TO_PART]        = {"drop-to-part", YES(drop_to_part)},
    [SITE_SET_LONE_CROSS_SIGNAL]   = {"lone-cross-signal", YES(lone_cross_signal)},
    [SITE_SET_SAME_CROSS_COUNTS]   = {"same-cross-counts", YES(same_cross_counts)},
    [SITE_SET_EARLY_WARNING]       = {"early-warning", YES(early_warning)},
    [SITE_SET_SILENT_HOLD_UP]      = {"silent-hold-up", YES(silent_hold_up)},
    [SITE_SET_OFF_ROUTE]           = {"off-route", CHOICE(off_route, site_words_off_route, SITE_OFF_ROUTE_COUNT)},
    [SITE_SET_SECOND_ENTRY]        = {"second-entry", CHOICE(second_entry, site_words_second_entry, SITE_SECOND_COUNT)},
    [SITE_SET_EXIT_TRIP]           = {"exit-trip", CHOICE(exit_trip, site_words_exit_trip, SITE_EXIT_TRIP_COUNT)},
    [SITE_SET_FAULTS]              = {"faults", CHOICE(faults, site_words_faults, SITE_FAULT_COUNT)},
    [SITE_SET_REOPENED]            = {"reopened", CHOICE(reopened, site_words_reopened, SITE_REOPENED_COUNT)},
    [SITE_SET_COMPLETION]          = {"completion", CHOICE(completion, site_words_completion, SITE_COMPLETION_COUNT)},
    [SITE_SET_FOB_WAY]             = {"fob-way", CHOICE(fob_way, site_words_fob_way, SITE_FOB_COUNT)},
    [SITE_SET_FOB_OPEN]            = {"fob-open", CHOICE(fob_open, site_words_open_zones, SITE_OPEN_COUNT)},
    [SITE_SET_AUTO_OPEN]           = {"auto-open", CHOICE(auto_open, site_words_auto_open, SITE_AUTO_COUNT)},
    [SITE_SET_RESTORE]             = {"restore", CHOICE(restore, site_words_restore, SITE_RESTORE_COUNT)},
    [SITE_SET_LOST_WHILE_SET]      = {"lost-while-set", CHOICE(lost_while_set, site_words_lost, SITE_LOST_COUNT)},
    [SITE_SET_RESET]               = {"reset", CHOICE(reset, site_words_reset, SITE_RESET_COUNT)},
    [SITE_SET_CODES_ACT_ON]        = {"codes-act-on", CHOICE(code_acts, site_words_code_acts, SITE_CODE_COUNT)},
};
#undef AT
#undef TIME
#undef NUMBER
#undef YES
#undef CHOICE
/* clang-format on */

const char *site_setting_key(enum site_setting setting) {
    assert(setting < SITE_SETTING_COUNT);
    return rows[setting].key;
}

enum site_setting_kind site_setting_kind(enum site_setting setting) {
    assert(setting < SITE_SETTING_COUNT);
    return rows[setting].kind;
}

enum site_setting site_setting_find(struct text key) {
    int setting = 0;
    while (setting < SITE_SETTING_COUNT && !text_is(key, rows[setting].key)) {
        setting++;
    }
    return (enum site_setting)setting;
}

const char *site_setting_word(enum site_setting setting, int32_t value) {
    assert(setting < SITE_SETTING_COUNT);
    assert(value >= 0 && value < rows[setting].count);
    return rows[setting].words[value];
}

int32_t site_setting_word_count(enum site_setting setting) {
    assert(setting < SITE_SETTING_COUNT);
    return rows[setting].count;
}

_Static_assert(sizeof(enum site_completion) == sizeof(int32_t), "choices are read as int32_t");

bool site_setting_has_value(enum site_setting setting) {
    assert(setting < SITE_SETTING_COUNT);
    return rows[setting].at != SIZE_MAX;
}

int32_t site_setting_value(const struct site_settings *settings, enum site_setting setting) {
    assert(site_setting_has_value(setting));
    const char *at = (const char *)settings + rows[setting].at;
    bool yes = false;
    int32_t value = 0;
    if (rows[setting].kind == SITE_SETTING_YES) {
        memcpy(&yes, at, sizeof yes);
        return yes ? 1 : 0;
    }
    memcpy(&value, at, sizeof value);
    return value;
}

static struct site_offer offer_of(struct span span) {
    return (struct site_offer){.low = span.low_s, .high = span.high_s, .said = span.high_s > 0};
}

struct site_offer site_panel_offer(
        const struct site_panel_profile *panel, enum site_setting setting) {
    assert(setting < SITE_SETTING_COUNT);
    const struct site_offer own = panel->offers[setting];
    switch ((int)setting) {
    case SITE_SET_EXIT_DELAY:
        return offer_of(panel->exit_delay);
    case SITE_SET_PART_EXIT_DELAY:
    case SITE_SET_NIGHT_EXIT_DELAY:
        return own.said ? own : offer_of(panel->exit_delay);
    case SITE_SET_ENTRY_DELAY:
        return offer_of(panel->entry_delay);
    case SITE_SET_ABORT_WINDOW:
        return offer_of(panel->abort_window);
    default:
        return own;
    }
}

bool site_setting_has_words(enum site_setting setting) {
    return site_setting_kind(setting) == SITE_SETTING_YES ||
            site_setting_kind(setting) == SITE_SETTING_CHOICE;
}

bool site_offer_has(enum site_setting setting, const struct site_offer *offer, int32_t value) {
    if (site_setting_has_words(setting)) {
        return (offer->choices >> value & 1U) != 0;
    }
    for (size_t i = 0; i < offer->value_count; i++) {
        if (offer->values[i] == value) {
            return true;
        }
    }
    return offer->value_count == 0 && value >= offer->low && value <= offer->high;
}

bool site_panel_takes(
        const struct site_panel_profile *panel, enum site_setting setting, int32_t value) {
    const struct site_offer offer = site_panel_offer(panel, setting);
    const int32_t step = panel->steps[setting];
    return (!offer.said || site_offer_has(setting, &offer, value)) &&
            (step <= 0 || value % step == 0);
}
