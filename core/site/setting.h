/* The panel's settings as a table: what a profile may say of each (its range, its steps, its choices, its value as
 * delivered), and where its value stands. Keys are those of the site file's `panel`. Not here: what is a list (modes)
 * or a time of day. */
#ifndef LINTEL_SITE_SETTING_H
#define LINTEL_SITE_SETTING_H

#include "base/text.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

struct site_settings;
struct site_panel_profile;

enum site_setting {
    SITE_SET_EXIT_DELAY,
    SITE_SET_PART_EXIT_DELAY,
    SITE_SET_NIGHT_EXIT_DELAY,
    SITE_SET_ENTRY_DELAY, /* of every named entry delay; has no one value */
    SITE_SET_ABORT_WINDOW,
    SITE_SET_CANCEL_WINDOW,
    SITE_SET_RECENT_CLOSING,
    SITE_SET_SIREN_TIME,
    SITE_SET_SIREN_HOLD_BACK,
    SITE_SET_SWINGER_LIMIT,
    SITE_SET_SWINGER_RESET,
    SITE_SET_CROSS_WINDOW,
    SITE_SET_CONFIRM_WINDOW,
    SITE_SET_LOCKOUT_TRIES,
    SITE_SET_LOCKOUT_TIME,
    SITE_SET_SUPERVISION_WINDOW,
    SITE_SET_MAINS_DELAY,
    SITE_SET_MAINS_JITTER,
    SITE_SET_POWER_MASK,
    SITE_SET_FINAL_DOOR_TIME,
    SITE_SET_AUTO_WARN,
    SITE_SET_AUTO_POSTPONE,
    SITE_SET_AUTO_POSTPONE_COUNT,
    SITE_SET_SIGNALS_KEPT,
    SITE_SET_LOOP_RESPONSE, /* of every zone; has no one value */
    SITE_SET_JAMMING_NOTICED,
    SITE_SET_USER_MODES, /* whether a user can be kept from modes; has no value: people say it */
    SITE_SET_USER_HOURS, /* the same of hours */
    SITE_SET_MOTION_BLOCKS,
    SITE_SET_ENTRY_OPEN_ALLOWED,
    SITE_SET_EXIT_RESTART,
    SITE_SET_DROP_TO_PART,
    SITE_SET_LONE_CROSS_SIGNAL,
    SITE_SET_SAME_CROSS_COUNTS,
    SITE_SET_EARLY_WARNING,
    SITE_SET_SILENT_HOLD_UP,
    SITE_SET_OFF_ROUTE,
    SITE_SET_SECOND_ENTRY,
    SITE_SET_EXIT_TRIP,
    SITE_SET_FAULTS,
    SITE_SET_REOPENED,
    SITE_SET_COMPLETION,
    SITE_SET_FOB_WAY,
    SITE_SET_FOB_OPEN,
    SITE_SET_AUTO_OPEN,
    SITE_SET_RESTORE,
    SITE_SET_LOST_WHILE_SET,
    SITE_SET_RESET,
    SITE_SET_CODES_ACT_ON,
    SITE_SETTING_COUNT
};

enum site_setting_kind {
    SITE_SETTING_TIME,
    SITE_SETTING_MILLISECONDS,
    SITE_SETTING_NUMBER,
    SITE_SETTING_YES,
    SITE_SETTING_CHOICE
};

/** What a panel offers for a setting. said: whether its profile says so; else nothing is known. A time or a number:
 *  one of values if there are any, else low..high. A choice or a yes-no: bit per value. */
struct site_offer {
    const int32_t *values;
    size_t value_count;
    int32_t low;
    int32_t high;
    uint32_t choices;
    bool said;
};

/** The key in the site file, "exit-delay". */
const char *site_setting_key(enum site_setting setting);
enum site_setting_kind site_setting_kind(enum site_setting setting);

/** The setting of that key, or SITE_SETTING_COUNT. */
enum site_setting site_setting_find(struct text key);

/** The word of a value of a choice ("final-door") or a yes-no ("yes"). */
const char *site_setting_word(enum site_setting setting, int32_t value);

/** How many values a choice or a yes-no has. */
int32_t site_setting_word_count(enum site_setting setting);

/** Whether the setting has one value for the whole panel: entry delays, loop responses and what belongs to people have
 *  not. */
bool site_setting_has_value(enum site_setting setting);

/** The value keyed in; setting: any that has one. */
int32_t site_setting_value(const struct site_settings *settings, enum site_setting setting);

/** What the panel offers: what its profile says under `offers`, for the three delays that stand there by themselves
 *  what it says there; part and night exit delays as the exit delay where nothing else is said. */
struct site_offer site_panel_offer(
        const struct site_panel_profile *panel, enum site_setting setting);

/** Whether its values are words: a choice, or a yes or no. */
bool site_setting_has_words(enum site_setting setting);

/** Whether the value is among those offered. offer: said. */
bool site_offer_has(enum site_setting setting, const struct site_offer *offer, int32_t value);

/** Whether the value can be keyed in, as far as the profile says: it is offered, and on the setting's steps. */
bool site_panel_takes(
        const struct site_panel_profile *panel, enum site_setting setting, int32_t value);

/* The words of each choice, in the order of its enum; the site file and this table share them. */
extern const char *const site_words_off_route[];
extern const char *const site_words_second_entry[];
extern const char *const site_words_exit_trip[];
extern const char *const site_words_faults[];
extern const char *const site_words_reopened[];
extern const char *const site_words_completion[];
extern const char *const site_words_fob_way[];
extern const char *const site_words_open_zones[];
extern const char *const site_words_auto_open[];
extern const char *const site_words_restore[];
extern const char *const site_words_lost[];
extern const char *const site_words_reset[];
extern const char *const site_words_code_acts[];

#endif
