#include "events/event.h"

static const char *const kind_names[EVENT_KIND_COUNT] = {
        [EVENT_INTRUSION] = "intrusion",
        [EVENT_CONFIRMED] = "confirmed intrusion",
        [EVENT_UNVERIFIED] = "unverified intrusion",
        [EVENT_EXIT_ERROR] = "exit error",
        [EVENT_ENTRY_STARTED] = "entry started",
        [EVENT_CANCEL] = "cancel",
        [EVENT_TAMPER] = "tamper",
        [EVENT_HOLD_UP] = "hold-up",
        [EVENT_MEDICAL] = "medical",
        [EVENT_DURESS] = "duress",
        [EVENT_FIRE] = "fire",
        [EVENT_GAS] = "gas",
        [EVENT_CO] = "carbon monoxide",
        [EVENT_FLOOD] = "flood",
        [EVENT_COLD] = "cold",
        [EVENT_SET] = "set",
        [EVENT_UNSET] = "unset",
        [EVENT_FORCED_SET] = "forced set",
        [EVENT_FAIL_TO_SET] = "failed to set",
        [EVENT_ZONE_TROUBLE] = "zone trouble",
        [EVENT_MASKED] = "detector masked",
        [EVENT_SUPERVISION] = "device lost",
        [EVENT_LOW_BATTERY] = "device battery low",
        [EVENT_MAINS] = "mains lost",
        [EVENT_PANEL_BATTERY] = "panel battery low",
        [EVENT_PATH] = "path lost",
        [EVENT_JAMMING] = "radio jammed",
        [EVENT_SIGNALS_LOST] = "signals lost",
        [EVENT_LOCKOUT] = "wrong codes",
        [EVENT_BYPASS] = "zone bypassed",
};

const char *event_kind_name(enum event_kind kind) {
    return kind_names[kind];
}
