#include "check/words.h"

#include "base/quantity.h"

#include <assert.h>

struct words_about words_about_nothing(void) {
    return (struct words_about){.zone = SITE_NONE,
            .area = SITE_NONE,
            .person = SITE_NONE,
            .door = SITE_NONE,
            .keypad = SITE_NONE,
            .mode = SITE_NONE,
            .delay = SITE_NONE,
            .seconds_s = -1};
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
    {"mains",      {"mains power",         "AC power"}},
};

static const char *const reasons[PANEL_WHY_COUNT] = {
    [PANEL_WHY_NONE] =           "the panel works that way",
    [PANEL_WHY_BEHAVIOUR] =      "{zone} has behaviour {behaviour}: {effect}",
    [PANEL_WHY_OFF_ROUTE] =      "{zone} has behaviour {behaviour}: it does not wait while the entry time runs",
    [PANEL_WHY_FOLLOWER_ALONE] = "{zone} waits only while the entry time of its own door runs, and that did not run",
    [PANEL_WHY_ENTRY_OVER] =     "the entry time{of-seconds} ends before a code is keyed",
    [PANEL_WHY_EXIT_OPEN] =      "{zone} is still open when the exit time{of-seconds} ends",
    [PANEL_WHY_INTERIOR_OPEN] =  "{zone}, inside, is still open when the exit time{of-seconds} ends",
    [PANEL_WHY_EXIT_TRIP] =      "{zone} has behaviour {behaviour}: it is watched while the exit time runs",
    [PANEL_WHY_NOT_COMPLETED] =  "{setting} was not completed before the exit time{of-seconds} ended",
    [PANEL_WHY_ABORT] =          "a code came within the abort window, so nothing is sent",
    [PANEL_WHY_ABORT_OVER] =     "the abort window{of-seconds} ends before a code is keyed",
    [PANEL_WHY_EXEMPT] =         "{zone} has behaviour {behaviour}: it sends at once, without an abort window",
    [PANEL_WHY_NOT_READY] =      "{zone} is open, and an open zone there stands in the way of {setting}",
    [PANEL_WHY_NOBODY_LEFT] =    "no door on the way out opened or closed while the exit time ran",
    [PANEL_WHY_RESTART] =        "the door opened again during the exit time, which starts afresh once",
    [PANEL_WHY_CODE] =           "the code or fob decides it",
    [PANEL_WHY_WRONG_CODES] =    "too many wrong codes were keyed",
    [PANEL_WHY_CROSS] =          "{zone} belongs to a cross-zone pair",
    [PANEL_WHY_SWINGER] =        "{zone} has reached its swinger limit and is left out for now",
    [PANEL_WHY_PULSES] =         "{zone} needs several trips before it counts",
    [PANEL_WHY_TAMPER] =         "the lid of {zone} is open, or its device was loosened",
    [PANEL_WHY_SUPERVISION] =    "{zone} was silent for the whole supervision window",
    [PANEL_WHY_NO_REPORT] =      "{zone} does not report to the station",
    [PANEL_WHY_DURESS] =         "the code is a duress code",
    [PANEL_WHY_MEMORY] =         "an earlier alarm is still in memory",
    [PANEL_WHY_AUTO_SET] =       "the hour of {auto-set} has come",
    [PANEL_WHY_FORCED] =         "{setting} was forced: what stood open is left out",
    [PANEL_WHY_POWER] =          "the power went or came back",
    [PANEL_WHY_SIREN_TIME] =     "the siren time is over",
    [PANEL_WHY_CONFIRM] =        "a second detector tripped within the confirmation window",
    [PANEL_WHY_FAULT] =          "a fault stands in the way",
    [PANEL_WHY_USER_MODE] =      "the code or fob of {person} may not {set} {in-that-mode}",
    [PANEL_WHY_ACKNOWLEDGED] =   "{person} acknowledged a fault to {set}",
    [PANEL_WHY_HOURS] =          "the code or fob of {person} is taken from {hours} only",
    [PANEL_WHY_IGNORED] =        "no fault stands in the way of {setting}",
};

static const char *const short_reasons[PANEL_WHY_COUNT] = {
    [PANEL_WHY_NONE] =           "",
    [PANEL_WHY_BEHAVIOUR] =      "{zone-short} is {behaviour}: {effect}",
    [PANEL_WHY_OFF_ROUTE] =      "{zone-short} is {behaviour}: does not wait for the entry time",
    [PANEL_WHY_FOLLOWER_ALONE] = "{zone-short} is a follower, and no entry time runs for it",
    [PANEL_WHY_ENTRY_OVER] =     "no code before the end of the entry time",
    [PANEL_WHY_EXIT_OPEN] =      "{zone-short} is still open",
    [PANEL_WHY_INTERIOR_OPEN] =  "{zone-short}, inside, is still open",
    [PANEL_WHY_EXIT_TRIP] =      "{zone-short} is {behaviour}: watched during the exit time",
    [PANEL_WHY_NOT_COMPLETED] =  "{setting} was not completed",
    [PANEL_WHY_ABORT] =          "a code within the abort window",
    [PANEL_WHY_ABORT_OVER] =     "no code within the abort window",
    [PANEL_WHY_EXEMPT] =         "{zone-short} is {behaviour}: sent at once",
    [PANEL_WHY_NOT_READY] =      "{zone-short} is open",
    [PANEL_WHY_NOBODY_LEFT] =    "nobody was seen leaving",
    [PANEL_WHY_RESTART] =        "the door opened again: once, the time starts afresh",
    [PANEL_WHY_CODE] =           "",
    [PANEL_WHY_WRONG_CODES] =    "too many wrong codes",
    [PANEL_WHY_CROSS] =          "{zone-short} is one of a cross-zone pair",
    [PANEL_WHY_SWINGER] =        "{zone-short} has reached its swinger limit",
    [PANEL_WHY_PULSES] =         "{zone-short} needs several trips",
    [PANEL_WHY_TAMPER] =         "{zone-short}: lid open, or loosened",
    [PANEL_WHY_SUPERVISION] =    "{zone-short} was silent for too long",
    [PANEL_WHY_NO_REPORT] =      "{zone-short} does not report",
    [PANEL_WHY_DURESS] =         "it is a duress code",
    [PANEL_WHY_MEMORY] =         "an earlier alarm is in memory",
    [PANEL_WHY_AUTO_SET] =       "the hour of {auto-set}",
    [PANEL_WHY_FORCED] =         "forced: what stood open is left out",
    [PANEL_WHY_POWER] =          "the power went or came back",
    [PANEL_WHY_SIREN_TIME] =     "the siren time is over",
    [PANEL_WHY_CONFIRM] =        "a second detector tripped",
    [PANEL_WHY_FAULT] =          "a fault stands in the way",
    [PANEL_WHY_USER_MODE] =      "this code or fob may not {set} {in-that-mode}",
    [PANEL_WHY_ACKNOWLEDGED] =   "acknowledged by {person}",
    [PANEL_WHY_HOURS] =          "taken from {hours} only",
    [PANEL_WHY_IGNORED] =        "no fault stands in the way of {setting} here",
};

static const char *const messages[PANEL_MESSAGE_COUNT] = {
    [PANEL_SAYS_NOT_READY] =       "the keypad shows: not ready{with-zone}",
    [PANEL_SAYS_REFUSED] =         "the panel refuses to {set}",
    [PANEL_SAYS_NOTHING_SENT] =    "the keypad shows: nothing was sent",
    [PANEL_SAYS_CANCEL_SENT] =     "the keypad shows: a cancel was sent",
    [PANEL_SAYS_CANCEL_WAITS] =    "the keypad shows: the cancel waits for the path to the station",
    [PANEL_SAYS_ALARM_MEMORY] =    "the keypad shows: there was an alarm{with-zone}",
    [PANEL_SAYS_DROPPED_TO_PART] = "{areas} falls back to part: what is inside stays unwatched",
    [PANEL_SAYS_SET] =             "{areas} is {is-set}{in-mode}",
    [PANEL_SAYS_UNSET] =           "{areas} is {is-unset}",
    [PANEL_SAYS_WRONG_CODE] =      "the keypad shows: wrong code",
    [PANEL_SAYS_LOCKED] =          "the keypad is locked for a while",
    [PANEL_SAYS_NOT_YOURS] =       "the keypad shows: this code is not valid here",
    [PANEL_SAYS_NOT_NOW] =         "the keypad shows: this code is not valid at this hour",
    [PANEL_SAYS_TROUBLE] =         "the keypad shows: trouble{with-zone}",
    [PANEL_SAYS_BYPASSED] =        "{zone} is bypassed",
    [PANEL_SAYS_NO_BYPASS] =       "{zone} may not be bypassed",
    [PANEL_SAYS_READY] =           "the keypad shows: ready",
    [PANEL_SAYS_RESET_NEEDED] =    "the keypad shows: a reset is needed first",
    [PANEL_SAYS_LONE_TRIP] =       "{zone} tripped alone: written to the log only",
    [PANEL_SAYS_SWUNG_OUT] =       "{zone} is left out: it tripped too often",
};

static const char *const signals[EVENT_KIND_COUNT][2] = {
    [EVENT_INTRUSION] =     {"intrusion",            "intrusion is over"},
    [EVENT_CONFIRMED] =     {"confirmed intrusion",  "confirmed intrusion is over"},
    [EVENT_UNVERIFIED] =    {"unverified intrusion", "unverified intrusion is over"},
    [EVENT_EXIT_ERROR] =    {"exit error",           "exit error is over"},
    [EVENT_ENTRY_STARTED] = {"entry started",        "entry ended"},
    [EVENT_CANCEL] =        {"cancel",               "cancel is over"},
    [EVENT_TAMPER] =        {"tamper",               "tamper is over"},
    [EVENT_HOLD_UP] =       {"hold-up",              "hold-up is over"},
    [EVENT_MEDICAL] =       {"medical",              "medical is over"},
    [EVENT_DURESS] =        {"duress",               "duress is over"},
    [EVENT_FIRE] =          {"fire",                 "fire is over"},
    [EVENT_GAS] =           {"gas",                  "gas is over"},
    [EVENT_CO] =            {"carbon monoxide",      "carbon monoxide is over"},
    [EVENT_FLOOD] =         {"water",                "water is over"},
    [EVENT_COLD] =          {"cold",                 "cold is over"},
    [EVENT_SET] =           {"{is-set}",             "{is-set} is over"},
    [EVENT_UNSET] =         {"{is-unset}",           "{is-unset} is over"},
    [EVENT_FORCED_SET] =    {"forced {setting}",     "forced {setting} is over"},
    [EVENT_FAIL_TO_SET] =   {"failed to {set}",      "failed to {set} is over"},
    [EVENT_ZONE_TROUBLE] =  {"trouble",              "trouble is over"},
    [EVENT_MASKED] =        {"detector covered",     "detector free again"},
    [EVENT_SUPERVISION] =   {"device not heard",     "device heard again"},
    [EVENT_LOW_BATTERY] =   {"low battery",          "battery good again"},
    [EVENT_MAINS] =         {"{mains} lost",         "{mains} back"},
    [EVENT_PANEL_BATTERY] = {"panel battery low",    "panel battery good again"},
    [EVENT_PATH] =          {"path to the station lost", "path to the station back"},
    [EVENT_JAMMING] =       {"radio jammed", "radio free again"},
    [EVENT_SIGNALS_LOST] =  {"signals lost",         "signals lost is over"},
    [EVENT_LOCKOUT] =       {"keypad locked",        "keypad free again"},
    [EVENT_BYPASS] =        {"bypass",               "bypass is over"},
};

/* Name, what its end is called, and what its beginning means for the people. */
static const char *const timers[PANEL_TIMER_KIND_COUNT][3] = {
    [PANEL_TIMER_EXIT] =          {"the exit time", "the exit time ends", "{seconds} to leave"},
    [PANEL_TIMER_ENTRY] =         {"the entry time", "the entry time ends", "{seconds} to {unset}"},
    [PANEL_TIMER_ABORT] =         {"the abort window", "the abort window ends", "a code within {seconds} stops the signal"},
    [PANEL_TIMER_CANCEL] =        {"the cancel window", "the cancel window ends", "a code within {seconds} sends a cancel"},
    [PANEL_TIMER_RECENT] =        {"the recent-closing time", "the recent-closing time ends", "an alarm within {seconds} is marked recent closing"},
    [PANEL_TIMER_SIREN] =         {"the siren time", "the siren time ends", "the siren sounds for {seconds}"},
    [PANEL_TIMER_WARNING] =       {"the inside warning", "the inside warning has sounded its time", "the inside warning sounds for {seconds}"},
    [PANEL_TIMER_CONFIRM] =       {"the confirmation window", "the confirmation window ends", "a second detector within {seconds} confirms"},
    [PANEL_TIMER_FINAL_DOOR] =    {"the time after the final door", "the time after the final door ends", "{setting} is complete {seconds} after the final door"},
    [PANEL_TIMER_AUTO_WARN] =     {"the warning before {auto-set}", "the warning before {auto-set} ends", "{auto-set} in {seconds}"},
    [PANEL_TIMER_AUTO_POSTPONE] = {"the postponement", "the postponement ends", "{auto-set} is put off by {seconds}"},
    [PANEL_TIMER_CROSS] =         {"the cross-zone window", "the cross-zone window ends", "the partner zone has {seconds} to trip"},
    [PANEL_TIMER_HOLD] =          {"the follower's hold", "the follower's hold ends", "the follower waits {seconds} for its door"},
    [PANEL_TIMER_SWINGER] =       {"the swinger reset time", "the swinger reset time ends", "the zone counts afresh after {seconds} without a trip"},
    [PANEL_TIMER_SUPERVISION] =   {"the supervision window", "the supervision window ends", "the device must be heard within {seconds}"},
    [PANEL_TIMER_PULSE_1] =       {"the pulse window", "the pulse window ends", "further trips count for {seconds}"},
    [PANEL_TIMER_PULSE_2] =       {"the pulse window", "the pulse window ends", "further trips count for {seconds}"},
    [PANEL_TIMER_PULSE_3] =       {"the pulse window", "the pulse window ends", "further trips count for {seconds}"},
    [PANEL_TIMER_PULSE_4] =       {"the pulse window", "the pulse window ends", "further trips count for {seconds}"},
    [PANEL_TIMER_LOCKOUT] =       {"the keypad lock", "the keypad is free again", "the keypad is locked for {seconds}"},
    [PANEL_TIMER_MAINS] =         {"the wait before the report", "the loss of {mains} is due to be reported", "the loss of {mains} is reported after {seconds}"},
    [PANEL_TIMER_POWER_MASK] =    {"the wait after the power came back", "detectors count again", "detectors are ignored for {seconds}"},
};

static const char *const promises[PROOF_PROMISE_COUNT] = {
    [PROOF_KEPT] =        "all is well",
    [PROOF_SIREN] =       "{person} causes a false alarm",
    [PROOF_ALARM] =       "{person} causes a false alarm at the station",
    [PROOF_HOLD_UP] =     "a hold-up is reported and nobody is threatened",
    [PROOF_DURESS] =      "duress is reported and nobody is forced",
    [PROOF_TROUBLE] =     "a trouble is reported to the station",
    [PROOF_EXIT_ERROR] =  "{door} is still open when the exit time ends",
    [PROOF_REFUSED] =     "the panel refuses to {set}",
    [PROOF_TURNED_AWAY] = "the keypad turns {person} away",
    [PROOF_DROPPED] =     "{areas} falls back to part, the inside is unwatched",
    [PROOF_WARNING] =     "{person} causes an inside warning",
};

static const char *const verdicts[] = {
    [PROOF_GOES_WELL] =   "goes well",
    [PROOF_GOES_WRONG] =  "goes wrong",
    [PROOF_NOT_SETTLED] = "not settled",
    [PROOF_NOT_APPLIED] = "not applied",
};

static const char *const acts[SITE_ACT_COUNT][SITE_USE_COUNT] = {
    [SITE_ACT_WAIT] =       {"{person} waits", "{person} waits"},
    [SITE_ACT_OPEN] =       {"{person} opens {door}", "{person} opens {door}"},
    [SITE_ACT_CLOSE] =      {"{person} closes {door}", "{person} closes {door}"},
    [SITE_ACT_PASS] =       {"{person} passes {zone}", "{person} passes {zone}"},
    [SITE_ACT_COME] =       {"{person} comes in", "{person} comes in"},
    [SITE_ACT_GO] =         {"{person} leaves", "{person} leaves"},
    [SITE_ACT_UNSET] =      {"{person} keys the code to {unset}{at-keypad}", "{person} presses the fob to {unset}"},
    [SITE_ACT_SET] =        {"{person} {sets} {areas}{in-mode}{at-keypad}", "{person} {sets} {areas}{in-mode} by fob"},
    [SITE_ACT_MISTYPE] =    {"{person} keys a wrong code{at-keypad}", "{person} keys a wrong code{at-keypad}"},
    [SITE_ACT_PRESS] =      {"{person} presses the button of {zone}", "{person} presses the button of {zone}"},
    [SITE_ACT_BYPASS] =     {"{person} bypasses {zone}", "{person} bypasses {zone}"},
    [SITE_ACT_POSTPONE] =   {"{person} puts {auto-set} off", "{person} puts {auto-set} off"},
    [SITE_ACT_TAMPER] =     {"{person} opens the lid of {zone}", "{person} opens the lid of {zone}"},
    [SITE_ACT_MAINS_LOST] = {"the {mains} fails", "the {mains} fails"},
    [SITE_ACT_MAINS_BACK] = {"the {mains} comes back", "the {mains} comes back"},
    [SITE_ACT_JAMMED] =     {"the radio is jammed", "the radio is jammed"},
    [SITE_ACT_JAM_OVER] =   {"the radio is free again", "the radio is free again"},
    [SITE_ACT_PATH_LOST] =  {"the path to the station fails", "the path to the station fails"},
    [SITE_ACT_PATH_BACK] =  {"the path to the station comes back", "the path to the station comes back"},
};

static const char *const mishaps[PROOF_MISHAP_COUNT] = {
    [PROOF_MISHAP_NONE] =     "",
    [PROOF_MISHAP_TRIPS] =    "{zone} trips though nobody is there",
    [PROOF_MISHAP_RESTORES] = "{zone} is quiet again",
    [PROOF_MISHAP_SILENT] =   "{zone} has not been heard for the whole supervision window",
    [PROOF_MISHAP_BATTERY] =  "the battery of {zone} runs low",
};

static const char *const signs[SITE_SIGN_COUNT][2] = {
    [SITE_SIGN_NONE] =       {"", ""},
    [SITE_SIGN_SET] =        {"{areas} is {is-set}", "{areas} is not {is-set}"},
    [SITE_SIGN_UNSET] =      {"{areas} is {is-unset}", "{areas} is not {is-unset}"},
    [SITE_SIGN_EXIT_TONE] =  {"the exit tone sounds", "no exit tone sounds"},
    [SITE_SIGN_ENTRY_TONE] = {"the entry tone sounds", "no entry tone sounds"},
    [SITE_SIGN_SIREN] =      {"the siren sounds", "no siren sounds"},
    [SITE_SIGN_READY] =      {"the keypad shows ready", "the keypad does not show ready"},
    [SITE_SIGN_NOT_READY] =  {"the keypad shows not ready", "the keypad does not show not ready"},
    [SITE_SIGN_CHIME] =      {"the chime was heard", "no chime was heard"},
    [SITE_SIGN_WARNING] =    {"the warning sounds", "no warning sounds"},
    [SITE_SIGN_REFUSED] =    {"the panel has refused to {set}", "the panel has not refused to {set}"},
    [SITE_SIGN_DOOR_OPEN] =  {"{door} is open", "{door} is not open"},
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

static const char *const tones[PANEL_TONE_COUNT] = {
    [PANEL_TONE_EXIT] = "exit tone",
    [PANEL_TONE_ENTRY] = "entry tone",
    [PANEL_TONE_WARNING] = "warning tone",
    [PANEL_TONE_TROUBLE] = "trouble tone",
};

static const char *const sounds[PANEL_SOUND_COUNT] = {
    [PANEL_SILENT] = "the siren stops",
    [PANEL_SIREN] = "siren",
    [PANEL_FIRE_SOUND] = "fire sound",
};

/* clang-format on */

const char *words_reason(enum panel_reason why) {
    return reasons[why];
}

const char *words_reason_short(enum panel_reason why) {
    return short_reasons[why];
}

const char *words_message(enum panel_message message) {
    return messages[message];
}

const char *words_signal(enum event_kind kind, bool restore) {
    return signals[kind][restore];
}

const char *words_timer(enum panel_timer_kind kind) {
    return timers[kind][0];
}

const char *words_timer_ends(enum panel_timer_kind kind) {
    return timers[kind][1];
}

const char *words_timer_begins(enum panel_timer_kind kind) {
    return timers[kind][2];
}

const char *words_promise(enum proof_promise promise) {
    return promises[promise];
}

const char *words_verdict(enum proof_verdict verdict) {
    return verdicts[verdict];
}

const char *words_act(enum site_act act, enum site_use use) {
    return acts[act][use];
}

const char *words_mishap(enum proof_mishap mishap) {
    return mishaps[mishap];
}

const char *words_sign(enum site_sign sign, bool holds) {
    return signs[sign][!holds];
}

const char *words_behaviour(enum site_behaviour behaviour) {
    return effects[behaviour];
}

const char *words_tone(enum panel_tone tone) {
    return tones[tone];
}

const char *words_sound(enum panel_sound sound) {
    return sounds[sound];
}

void words_add_instant(struct text_builder *out, int32_t begins_s, int32_t at_s) {
    enum { MINUTE_S = 60, HOUR_S = 3600 };
    if (begins_s >= 0) {
        quantity_add_clock(out, (int64_t)begins_s + at_s);
    } else if (at_s >= HOUR_S) {
        text_add_format(
                out, "%d:%02d:%02d", at_s / HOUR_S, at_s % HOUR_S / MINUTE_S, at_s % MINUTE_S);
    } else {
        text_add_format(out, "%d:%02d", at_s / MINUTE_S, at_s % MINUTE_S);
    }
}

static bool is_proper(struct text name) {
    return name.length == 0 || !(name.start[0] >= 'a' && name.start[0] <= 'z');
}

void words_add_named(struct text_builder *out, struct text name, bool capital) {
    if (!is_proper(name)) {
        text_add_string(out, capital ? "The " : "the ");
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
        words_add_named(out, site->people[about->person].name, false);
    } else {
        text_add_string(out, "somebody");
    }
}

static void add_door(
        struct text_builder *out, const struct site *site, const struct words_about *about) {
    if (is_index(about->door, site->door_count)) {
        words_add_named(out, site->doors[about->door].name, false);
    } else {
        text_add_string(out, "a door");
    }
}

static void add_at_keypad(
        struct text_builder *out, const struct site *site, const struct words_about *about) {
    if (is_index(about->keypad, site->keypad_count)) {
        text_add_string(out, " at ");
        words_add_named(out, site->keypads[about->keypad].name, false);
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

static const struct {
    const char *name;
    adder *add;
} things[] = {
        {"zone", add_zone},
        {"zone-short", add_zone_short},
        {"with-zone", add_with_zone},
        {"person", add_person},
        {"door", add_door},
        {"at-keypad", add_at_keypad},
        {"areas", add_areas},
        {"mode", add_mode},
        {"in-mode", add_in_mode},
        {"in-that-mode", add_in_that_mode},
        {"hours", add_hours},
        {"seconds", add_seconds},
        {"of-seconds", add_of_seconds},
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

static bool is_somebodys(enum event_kind kind) {
    return kind == EVENT_SET || kind == EVENT_UNSET || kind == EVENT_CANCEL ||
            kind == EVENT_DURESS || kind == EVENT_FORCED_SET || kind == EVENT_EXIT_ERROR ||
            kind == EVENT_FAIL_TO_SET;
}

void words_add_signal(struct text_builder *out, const struct site *site, struct event event) {
    struct words_about about = words_about_nothing();
    about.zone = event.zone == EVENT_NO_ZONE ? SITE_NONE : event.zone;
    text_add_char(out, '"');
    words_add(out, site, words_signal((enum event_kind)event.kind, event.restore), NULL);
    if (is_index(about.zone, site->zone_count)) {
        text_add_string(out, ", ");
        add_zone_short(out, site, &about);
    }
    if (is_somebodys((enum event_kind)event.kind) && is_index(event.user, site->person_count)) {
        text_add_format(out, ", %.*s", TEXT_ARGS(site->people[event.user].name));
    }
    if (event.recent) {
        text_add_string(out, ", recent closing");
    }
    text_add_char(out, '"');
}
