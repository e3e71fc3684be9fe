#include "check/words.h"

#include "base/quantity.h"

/* clang-format off */

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
    [PANEL_WHY_HOLD_BACK] =      "the siren's hold-back{of-seconds} is over and no code was keyed",
    [PANEL_WHY_PATH_DOWN] =      "the path to the station is down, so the siren does not wait",
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
    [PANEL_WHY_HOLD_BACK] =      "no code before the end of the siren's hold-back",
    [PANEL_WHY_PATH_DOWN] =      "the path is down: the siren does not wait",
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
    [PANEL_SAYS_NOTHING_TO_POSTPONE] = "the keypad shows: nothing to put off now",
    [PANEL_SAYS_NO_MORE_POSTPONING] = "the keypad shows: {auto-set} cannot be put off again",
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
    [PANEL_TIMER_HOLD_BACK] =     {"the siren's hold-back", "the siren's hold-back ends", "the siren waits {seconds}"},
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
    [SITE_ACT_WALK] =       {"{person} arrives", "{person} arrives"},
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
    if (about.zone >= 0 && (size_t)about.zone < site->zone_count) {
        words_add(out, site, ", {zone-short}", &about);
    }
    if (is_somebodys((enum event_kind)event.kind) && event.user < site->person_count) {
        text_add_format(out, ", %.*s", TEXT_ARGS(site->people[event.user].name));
    }
    if (event.recent) {
        text_add_string(out, ", recent closing");
    }
    text_add_char(out, '"');
}
