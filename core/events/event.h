/* What happened, as a value: what a panel tells the monitoring station, before any code of any format. */
#ifndef LINTEL_EVENTS_EVENT_H
#define LINTEL_EVENTS_EVENT_H

#include <stdbool.h>
#include <stdint.h>

enum event_kind {
    EVENT_INTRUSION,
    EVENT_CONFIRMED,  /* a second, independent detector within the confirmation window */
    EVENT_UNVERIFIED, /* one trip of a cross-zone pair */
    EVENT_EXIT_ERROR,
    EVENT_ENTRY_STARTED, /* early warning; an unset takes it back */
    EVENT_CANCEL,
    EVENT_TAMPER,
    EVENT_HOLD_UP,
    EVENT_MEDICAL,
    EVENT_DURESS,
    EVENT_FIRE,
    EVENT_GAS,
    EVENT_CO,
    EVENT_FLOOD,
    EVENT_COLD,
    EVENT_SET,
    EVENT_UNSET,
    EVENT_FORCED_SET,
    EVENT_FAIL_TO_SET,
    EVENT_ZONE_TROUBLE,
    EVENT_MASKED,
    EVENT_SUPERVISION,
    EVENT_LOW_BATTERY,
    EVENT_MAINS,
    EVENT_PANEL_BATTERY,
    EVENT_PATH,
    EVENT_JAMMING, /* of the radio receiver: SIA DC-05 code 344 (dossier signals 1.5, from memory, sure) */
    EVENT_SIGNALS_LOST, /* more waited for the path than fit, or the power went before they had left */
    EVENT_LOCKOUT,
    EVENT_BYPASS,
    EVENT_KIND_COUNT
};

enum { EVENT_NOBODY = 0xFF, EVENT_NO_ZONE = 0xFF };

/** One event. zone, user, area: indexes of the site, EVENT_NO_ZONE / EVENT_NOBODY where there is none.
 *  restore: the end of the condition. recent: within the recent-closing time after setting. */
struct event {
    uint8_t kind; /* enum event_kind */
    uint8_t zone;
    uint8_t user;
    uint8_t area;
    bool restore;
    bool recent;
};

/** "intrusion", "exit error": as people say it. */
const char *event_kind_name(enum event_kind kind);

#endif
