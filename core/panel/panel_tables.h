/* What a panel does, as tables. The code walks them; the tests break them row by row; `lintel panel --graph` prints
 * them. Passed with the program, so that a broken copy can be tried without touching the code. */
#ifndef LINTEL_PANEL_PANEL_TABLES_H
#define LINTEL_PANEL_PANEL_TABLES_H

#include "panel/panel.h"

/** What a trip of a zone does, by behaviour and phase. */
enum panel_reaction {
    PANEL_DOES_NOTHING,
    PANEL_DOES_CHIME,
    PANEL_DOES_EXIT_DOOR,    /* allowed; somebody left; the one restart */
    PANEL_DOES_EXIT_TRIP,    /* off the exit route: settings.exit_trip */
    PANEL_DOES_ENTRY,        /* starts its named entry delay */
    PANEL_DOES_SECOND_ENTRY, /* settings.second_entry */
    PANEL_DOES_FOLLOW_ALONE, /* alarm, after its hold */
    PANEL_DOES_FOLLOW,       /* ignored while its route's entry runs, else off-route */
    PANEL_DOES_ALARM,
    PANEL_DOES_OFF_ROUTE, /* settings.off_route */
    PANEL_DOES_TROUBLE,
    PANEL_DOES_OWN, /* own signal and sound, at once */
    PANEL_REACTION_COUNT
};

/** What a behaviour's alarm is. exempt: never behind an abort window. always_watched: whatever the mode says. */
struct panel_class_row {
    uint8_t event; /* enum event_kind */
    uint8_t sound; /* enum panel_sound */
    bool exempt;
    bool never_bypassed;
    bool always_watched;
};

/** Which signals leave first when the path is back. */
enum panel_urgency {
    PANEL_FIRST_LIFE,
    PANEL_THEN_HOLD_UP,
    PANEL_THEN_INTRUSION,
    PANEL_THEN_TAMPER,
    PANEL_THEN_THE_REST,
    PANEL_URGENCY_COUNT
};

/** What an open zone does to a request to set, by what the device senses. */
enum panel_block {
    PANEL_BLOCKS_NEVER,
    PANEL_BLOCKS_ALWAYS,
    PANEL_BLOCKS_BY_CHOICE,
    PANEL_BLOCK_COUNT
};

/** What a contact still open does when the exit time ends. */
enum panel_exit_end {
    PANEL_ENDS_WELL,
    PANEL_ENDS_EXIT_ERROR,
    PANEL_ENDS_ALARM,
    PANEL_EXIT_END_COUNT
};

/** What moves an area from phase to phase. */
enum panel_area_event {
    PANEL_EV_REQUEST_TIMED,
    PANEL_EV_REQUEST_AT_ONCE,
    PANEL_EV_EXIT_OVER,
    PANEL_EV_EXIT_NOBODY,
    PANEL_EV_EXIT_ERROR,
    PANEL_EV_EXIT_FAILED,
    PANEL_EV_ENTRY_TRIP,
    PANEL_EV_ENTRY_OVER,
    PANEL_EV_UNSET,
    PANEL_AREA_EVENT_COUNT
};

enum panel_action {
    PANEL_ACT_NONE,
    PANEL_ACT_CLEAR_PERIOD, /* swinger counts, memory of the exit */
    PANEL_ACT_START_EXIT,
    PANEL_ACT_STOP_EXIT,
    PANEL_ACT_TO_PART,
    PANEL_ACT_BE_SET,
    PANEL_ACT_READ_LEVELS, /* an interior contact open is an alarm */
    PANEL_ACT_ERROR_SIREN,
    PANEL_ACT_START_ENTRY,
    PANEL_ACT_SECOND_ENTRY,
    PANEL_ACT_STOP_ENTRY,
    PANEL_ACT_ENTRY_ALARM,
    PANEL_ACT_FAIL_TO_SET,
    PANEL_ACT_BE_UNSET,
    PANEL_ACTION_COUNT
};

enum { PANEL_ROW_ACTIONS = 5 };

/** A row: in `phase`, on `event`, do the actions in order and be in `next`. */
struct panel_transition {
    uint8_t phase;
    uint8_t event;
    uint8_t next;
    uint8_t actions[PANEL_ROW_ACTIONS];
};

enum { PANEL_TRANSITION_COUNT = 15 };

struct panel_tables {
    uint8_t reaction[SITE_BEHAVIOUR_COUNT][PANEL_PHASE_COUNT];
    struct panel_class_row classes[SITE_BEHAVIOUR_COUNT];
    uint8_t blocks[SITE_SENSE_COUNT];
    uint8_t exit_end[SITE_BEHAVIOUR_COUNT];
    uint8_t urgency[EVENT_KIND_COUNT]; /* enum panel_urgency */
    struct panel_transition transitions[PANEL_TRANSITION_COUNT];
};

/** The tables of the design page. */
extern const struct panel_tables panel_tables_standard;

/** Names for the graph and the tests; static texts. */
const char *panel_area_event_name(enum panel_area_event event);
const char *panel_action_name(enum panel_action action);
const char *panel_reaction_name(enum panel_reaction reaction);

#endif
