/* Plain names of the panel's kinds, for graphs, tests and stories. */
#include "panel/panel.h"

static const char *const timer_names[PANEL_TIMER_KIND_COUNT] = {
        [PANEL_TIMER_EXIT] = "exit time",
        [PANEL_TIMER_ENTRY] = "entry time",
        [PANEL_TIMER_ABORT] = "abort window",
        [PANEL_TIMER_CANCEL] = "cancel window",
        [PANEL_TIMER_RECENT] = "recent-closing time",
        [PANEL_TIMER_HOLD_BACK] = "siren hold-back",
        [PANEL_TIMER_SIREN] = "siren time",
        [PANEL_TIMER_WARNING] = "inside warning",
        [PANEL_TIMER_CONFIRM] = "confirmation window",
        [PANEL_TIMER_FINAL_DOOR] = "final door time",
        [PANEL_TIMER_AUTO_WARN] = "auto-set warning",
        [PANEL_TIMER_AUTO_POSTPONE] = "auto-set postponed",
        [PANEL_TIMER_CROSS] = "cross-zone window",
        [PANEL_TIMER_HOLD] = "follower hold",
        [PANEL_TIMER_SWINGER] = "swinger reset",
        [PANEL_TIMER_SUPERVISION] = "supervision window",
        [PANEL_TIMER_PULSE_1] = "first pulse",
        [PANEL_TIMER_PULSE_2] = "second pulse",
        [PANEL_TIMER_PULSE_3] = "third pulse",
        [PANEL_TIMER_PULSE_4] = "fourth pulse",
        [PANEL_TIMER_LOCKOUT] = "keypad lock-out",
        [PANEL_TIMER_MAINS] = "mains report delay",
        [PANEL_TIMER_POWER_MASK] = "power-up time",
};

static const char *const phase_names[PANEL_PHASE_COUNT] = {
        [PANEL_UNSET] = "unset",
        [PANEL_EXITING] = "exit time runs",
        [PANEL_SET] = "set",
        [PANEL_ENTERING] = "entry time runs",
};

static const char *const message_names[PANEL_MESSAGE_COUNT] = {
        [PANEL_SAYS_NOT_READY] = "not ready",
        [PANEL_SAYS_REFUSED] = "refused",
        [PANEL_SAYS_NOTHING_SENT] = "no alarm sent",
        [PANEL_SAYS_CANCEL_SENT] = "cancel sent",
        [PANEL_SAYS_CANCEL_WAITS] = "cancel waits for the path",
        [PANEL_SAYS_ALARM_MEMORY] = "alarm",
        [PANEL_SAYS_DROPPED_TO_PART] = "part set: nobody left",
        [PANEL_SAYS_SET] = "set",
        [PANEL_SAYS_UNSET] = "unset",
        [PANEL_SAYS_WRONG_CODE] = "wrong code",
        [PANEL_SAYS_LOCKED] = "locked out",
        [PANEL_SAYS_NOT_YOURS] = "no access",
        [PANEL_SAYS_NOT_NOW] = "no access at this hour",
        [PANEL_SAYS_TROUBLE] = "trouble",
        [PANEL_SAYS_BYPASSED] = "bypassed",
        [PANEL_SAYS_NO_BYPASS] = "may not be bypassed",
        [PANEL_SAYS_READY] = "ready",
        [PANEL_SAYS_RESET_NEEDED] = "reset needed",
        [PANEL_SAYS_LONE_TRIP] = "one trip of a pair",
        [PANEL_SAYS_SWUNG_OUT] = "tripped too often",
        [PANEL_SAYS_NOTHING_TO_POSTPONE] = "nothing to put off",
        [PANEL_SAYS_NO_MORE_POSTPONING] = "not put off again",
};

static const char *const input_names[PANEL_IN_COUNT] = {
        [PANEL_IN_OPEN] = "opens",
        [PANEL_IN_CLOSE] = "closes",
        [PANEL_IN_GROSS] = "takes a gross blow",
        [PANEL_IN_TAMPER] = "tamper",
        [PANEL_IN_TAMPER_BACK] = "tamper over",
        [PANEL_IN_MASKED] = "masked",
        [PANEL_IN_MASKED_BACK] = "masking over",
        [PANEL_IN_LOW_BATTERY] = "low battery",
        [PANEL_IN_CHECK_IN] = "checks in",
        [PANEL_IN_SET] = "request to set",
        [PANEL_IN_UNSET] = "request to unset",
        [PANEL_IN_WRONG_CODE] = "wrong code",
        [PANEL_IN_COMPLETE] = "setting completed",
        [PANEL_IN_BYPASS] = "bypass",
        [PANEL_IN_RESET] = "reset",
        [PANEL_IN_AUTO_DUE] = "auto-set is due",
        [PANEL_IN_POSTPONE] = "auto-set put off",
        [PANEL_IN_MAINS_LOST] = "mains lost",
        [PANEL_IN_MAINS_BACK] = "mains back",
        [PANEL_IN_BATTERY_LOW] = "panel battery low",
        [PANEL_IN_BATTERY_BACK] = "panel battery good",
        [PANEL_IN_PATH_LOST] = "path lost",
        [PANEL_IN_PATH_BACK] = "path back",
        [PANEL_IN_JAMMED] = "jamming starts",
        [PANEL_IN_JAM_OVER] = "jamming ends",
        [PANEL_IN_HOURS_BEGIN] = "hours begin",
        [PANEL_IN_HOURS_END] = "hours end",
        [PANEL_IN_POWER_LOST] = "all power lost",
        [PANEL_IN_POWER_BACK] = "power back",
        [PANEL_IN_TIMER] = "timer ended",
};

const char *panel_timer_kind_name(enum panel_timer_kind kind) {
    return timer_names[kind];
}

const char *panel_phase_name(enum panel_phase phase) {
    return phase_names[phase];
}

const char *panel_message_name(enum panel_message message) {
    return message_names[message];
}

const char *panel_input_kind_name(enum panel_input_kind kind) {
    return input_names[kind];
}
