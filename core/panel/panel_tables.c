#include "panel/panel_tables.h"

/* clang-format off */
const struct panel_tables panel_tables_standard = {
    /* Source: design page "Zones"; 24-hour, hold-up and life safety act alike in every phase. */
    .reaction = {
        /*                      unset                    exit time runs           set                        entry time runs */
        [SITE_OUT]       = {PANEL_DOES_NOTHING, PANEL_DOES_NOTHING,   PANEL_DOES_NOTHING,      PANEL_DOES_NOTHING},
        [SITE_ENTRY]     = {PANEL_DOES_CHIME,   PANEL_DOES_EXIT_DOOR, PANEL_DOES_ENTRY,        PANEL_DOES_SECOND_ENTRY},
        [SITE_PERIMETER] = {PANEL_DOES_CHIME,   PANEL_DOES_EXIT_TRIP, PANEL_DOES_ALARM,        PANEL_DOES_OFF_ROUTE},
        [SITE_FOLLOWER]  = {PANEL_DOES_NOTHING, PANEL_DOES_NOTHING,   PANEL_DOES_FOLLOW_ALONE, PANEL_DOES_FOLLOW},
        [SITE_INTERIOR]  = {PANEL_DOES_NOTHING, PANEL_DOES_NOTHING,   PANEL_DOES_ALARM,        PANEL_DOES_OFF_ROUTE},
        [SITE_ALWAYS]    = {PANEL_DOES_ALARM,   PANEL_DOES_ALARM,     PANEL_DOES_ALARM,        PANEL_DOES_ALARM},
        [SITE_DAY]       = {PANEL_DOES_TROUBLE, PANEL_DOES_EXIT_TRIP, PANEL_DOES_ALARM,        PANEL_DOES_OFF_ROUTE},
        [SITE_HOLD_UP]   = {PANEL_DOES_OWN,     PANEL_DOES_OWN,       PANEL_DOES_OWN,          PANEL_DOES_OWN},
        [SITE_MEDICAL]   = {PANEL_DOES_OWN,     PANEL_DOES_OWN,       PANEL_DOES_OWN,          PANEL_DOES_OWN},
        [SITE_FIRE]      = {PANEL_DOES_OWN,     PANEL_DOES_OWN,       PANEL_DOES_OWN,          PANEL_DOES_OWN},
        [SITE_GAS]       = {PANEL_DOES_OWN,     PANEL_DOES_OWN,       PANEL_DOES_OWN,          PANEL_DOES_OWN},
        [SITE_CO]        = {PANEL_DOES_OWN,     PANEL_DOES_OWN,       PANEL_DOES_OWN,          PANEL_DOES_OWN},
        [SITE_FLOOD]     = {PANEL_DOES_OWN,     PANEL_DOES_OWN,       PANEL_DOES_OWN,          PANEL_DOES_OWN},
        [SITE_COLD]      = {PANEL_DOES_OWN,     PANEL_DOES_OWN,       PANEL_DOES_OWN,          PANEL_DOES_OWN},
    },
    /* Source: design page "Zones" and "Course of an alarm"; exempt: CP-01 4.2.5.1 (fire) and rules dossier 1.3 D3. */
    .classes = {
        /*                   event             sound             exempt never bypassed  always watched */
        [SITE_OUT]       = {EVENT_INTRUSION, PANEL_SIREN,      false, false, false}, /* by tamper alone */
        [SITE_ENTRY]     = {EVENT_INTRUSION, PANEL_SIREN,      false, false, false},
        [SITE_PERIMETER] = {EVENT_INTRUSION, PANEL_SIREN,      false, false, false},
        [SITE_FOLLOWER]  = {EVENT_INTRUSION, PANEL_SIREN,      false, false, false},
        [SITE_INTERIOR]  = {EVENT_INTRUSION, PANEL_SIREN,      false, false, false},
        [SITE_ALWAYS]    = {EVENT_INTRUSION, PANEL_SIREN,      false, false, true},
        [SITE_DAY]       = {EVENT_INTRUSION, PANEL_SIREN,      false, false, false},
        [SITE_HOLD_UP]   = {EVENT_HOLD_UP,   PANEL_SIREN,      true,  true,  true},
        [SITE_MEDICAL]   = {EVENT_MEDICAL,   PANEL_SILENT,     true,  true,  true},
        [SITE_FIRE]      = {EVENT_FIRE,      PANEL_FIRE_SOUND, true,  true,  true},
        [SITE_GAS]       = {EVENT_GAS,       PANEL_FIRE_SOUND, true,  true,  true},
        [SITE_CO]        = {EVENT_CO,        PANEL_FIRE_SOUND, true,  true,  true},
        [SITE_FLOOD]     = {EVENT_FLOOD,     PANEL_SILENT,     true,  true,  true},
        [SITE_COLD]      = {EVENT_COLD,      PANEL_SILENT,     true,  true,  true},
    },
    /* Source: design page "Setting", Request. */
    .blocks = {
        [SITE_CONTACT]   = PANEL_BLOCKS_ALWAYS,
        [SITE_SMOKE]     = PANEL_BLOCKS_ALWAYS,
        [SITE_GAS_SENSE] = PANEL_BLOCKS_ALWAYS,
        [SITE_WATER]     = PANEL_BLOCKS_ALWAYS,
        [SITE_MOTION]    = PANEL_BLOCKS_BY_CHOICE,
        [SITE_SHOCK]     = PANEL_BLOCKS_ALWAYS,
        [SITE_GLASS]     = PANEL_BLOCKS_ALWAYS,
        [SITE_BUTTON]    = PANEL_BLOCKS_ALWAYS,
    },
    /* Source: design page "Setting", End of exit. */
    .exit_end = {
        [SITE_ENTRY]    = PANEL_ENDS_EXIT_ERROR,
        [SITE_FOLLOWER] = PANEL_ENDS_EXIT_ERROR,
        [SITE_INTERIOR] = PANEL_ENDS_ALARM,
    },
    /* Source: design page "Faults", "signals queue in a stated order"; which order: common practice. A cancel stays among
     * the alarms, or it would leave after one that it is not meant for; a restore goes with its kind. */
    .urgency = {
        [EVENT_INTRUSION]     = PANEL_THEN_INTRUSION,
        [EVENT_CONFIRMED]     = PANEL_THEN_INTRUSION,
        [EVENT_UNVERIFIED]    = PANEL_THEN_INTRUSION,
        [EVENT_EXIT_ERROR]    = PANEL_THEN_INTRUSION,
        [EVENT_ENTRY_STARTED] = PANEL_THEN_INTRUSION,
        [EVENT_CANCEL]        = PANEL_THEN_INTRUSION,
        [EVENT_TAMPER]        = PANEL_THEN_TAMPER,
        [EVENT_HOLD_UP]       = PANEL_THEN_HOLD_UP,
        [EVENT_MEDICAL]       = PANEL_FIRST_LIFE,
        [EVENT_DURESS]        = PANEL_THEN_HOLD_UP,
        [EVENT_FIRE]          = PANEL_FIRST_LIFE,
        [EVENT_GAS]           = PANEL_FIRST_LIFE,
        [EVENT_CO]            = PANEL_FIRST_LIFE,
        [EVENT_FLOOD]         = PANEL_THEN_THE_REST,
        [EVENT_COLD]          = PANEL_THEN_THE_REST,
        [EVENT_SET]           = PANEL_THEN_THE_REST,
        [EVENT_UNSET]         = PANEL_THEN_THE_REST,
        [EVENT_FORCED_SET]    = PANEL_THEN_THE_REST,
        [EVENT_FAIL_TO_SET]   = PANEL_THEN_THE_REST,
        [EVENT_ZONE_TROUBLE]  = PANEL_THEN_THE_REST,
        [EVENT_MASKED]        = PANEL_THEN_TAMPER,
        [EVENT_SUPERVISION]   = PANEL_THEN_THE_REST,
        [EVENT_LOW_BATTERY]   = PANEL_THEN_THE_REST,
        [EVENT_MAINS]         = PANEL_THEN_THE_REST,
        [EVENT_PANEL_BATTERY] = PANEL_THEN_THE_REST,
        [EVENT_PATH]          = PANEL_THEN_THE_REST,
        [EVENT_JAMMING]       = PANEL_THEN_THE_REST,
        [EVENT_SIGNALS_LOST]  = PANEL_THEN_THE_REST,
        [EVENT_LOCKOUT]       = PANEL_THEN_THE_REST,
        [EVENT_BYPASS]        = PANEL_THEN_THE_REST,
    },
    /* Source: design page "Setting", "Entry"; CP-01 4.2.2, 4.2.3 as in rules dossier 1.3. */
    .transitions = {
        {PANEL_UNSET,    PANEL_EV_REQUEST_TIMED,   PANEL_EXITING,  {PANEL_ACT_CLEAR_PERIOD, PANEL_ACT_START_EXIT}},
        {PANEL_UNSET,    PANEL_EV_REQUEST_AT_ONCE, PANEL_SET,      {PANEL_ACT_CLEAR_PERIOD, PANEL_ACT_BE_SET, PANEL_ACT_READ_LEVELS}},
        {PANEL_SET,      PANEL_EV_REQUEST_TIMED,   PANEL_EXITING,  {PANEL_ACT_CLEAR_PERIOD, PANEL_ACT_START_EXIT}},
        {PANEL_SET,      PANEL_EV_REQUEST_AT_ONCE, PANEL_SET,      {PANEL_ACT_CLEAR_PERIOD, PANEL_ACT_BE_SET, PANEL_ACT_READ_LEVELS}},
        {PANEL_EXITING,  PANEL_EV_EXIT_OVER,       PANEL_SET,      {PANEL_ACT_STOP_EXIT, PANEL_ACT_BE_SET, PANEL_ACT_READ_LEVELS}},
        {PANEL_EXITING,  PANEL_EV_EXIT_NOBODY,     PANEL_SET,      {PANEL_ACT_STOP_EXIT, PANEL_ACT_TO_PART, PANEL_ACT_BE_SET, PANEL_ACT_READ_LEVELS}},
        {PANEL_EXITING,  PANEL_EV_EXIT_ERROR,      PANEL_ENTERING, {PANEL_ACT_STOP_EXIT, PANEL_ACT_BE_SET, PANEL_ACT_ERROR_SIREN, PANEL_ACT_START_ENTRY}},
        {PANEL_EXITING,  PANEL_EV_EXIT_FAILED,     PANEL_UNSET,    {PANEL_ACT_STOP_EXIT, PANEL_ACT_FAIL_TO_SET, PANEL_ACT_BE_UNSET}},
        {PANEL_EXITING,  PANEL_EV_UNSET,           PANEL_UNSET,    {PANEL_ACT_STOP_EXIT, PANEL_ACT_BE_UNSET}},
        {PANEL_SET,      PANEL_EV_ENTRY_TRIP,      PANEL_ENTERING, {PANEL_ACT_START_ENTRY}},
        {PANEL_SET,      PANEL_EV_UNSET,           PANEL_UNSET,    {PANEL_ACT_BE_UNSET}},
        {PANEL_ENTERING, PANEL_EV_ENTRY_TRIP,      PANEL_ENTERING, {PANEL_ACT_SECOND_ENTRY}},
        {PANEL_ENTERING, PANEL_EV_ENTRY_OVER,      PANEL_SET,      {PANEL_ACT_STOP_ENTRY, PANEL_ACT_ENTRY_ALARM}},
        {PANEL_ENTERING, PANEL_EV_UNSET,           PANEL_UNSET,    {PANEL_ACT_STOP_ENTRY, PANEL_ACT_BE_UNSET}},
        /* A code where nothing is set still silences, shows memory and lets go what a 24-hour zone holds. */
        {PANEL_UNSET,    PANEL_EV_UNSET,           PANEL_UNSET,    {PANEL_ACT_BE_UNSET}},
    },
};

static const char *const event_names[PANEL_AREA_EVENT_COUNT] = {
    [PANEL_EV_REQUEST_TIMED] = "asked to set",
    [PANEL_EV_REQUEST_AT_ONCE] = "asked to set at once",
    [PANEL_EV_EXIT_OVER] = "exit time over",
    [PANEL_EV_EXIT_NOBODY] = "exit time over, nobody left",
    [PANEL_EV_EXIT_ERROR] = "exit time over, door open",
    [PANEL_EV_EXIT_FAILED] = "setting fails",
    [PANEL_EV_ENTRY_TRIP] = "entry zone opens",
    [PANEL_EV_ENTRY_OVER] = "entry time over",
    [PANEL_EV_UNSET] = "code",
};

static const char *const action_names[PANEL_ACTION_COUNT] = {
    [PANEL_ACT_NONE] = "",
    [PANEL_ACT_CLEAR_PERIOD] = "begin a set period",
    [PANEL_ACT_START_EXIT] = "start exit time",
    [PANEL_ACT_STOP_EXIT] = "stop exit time",
    [PANEL_ACT_TO_PART] = "fall back to part",
    [PANEL_ACT_BE_SET] = "report set",
    [PANEL_ACT_READ_LEVELS] = "read levels",
    [PANEL_ACT_ERROR_SIREN] = "siren",
    [PANEL_ACT_START_ENTRY] = "start entry time",
    [PANEL_ACT_SECOND_ENTRY] = "shorten or keep entry time",
    [PANEL_ACT_STOP_ENTRY] = "stop entry time",
    [PANEL_ACT_ENTRY_ALARM] = "alarm",
    [PANEL_ACT_FAIL_TO_SET] = "report failed to set",
    [PANEL_ACT_BE_UNSET] = "silence, report unset",
};

static const char *const reaction_names[PANEL_REACTION_COUNT] = {
    [PANEL_DOES_NOTHING] = "nothing",
    [PANEL_DOES_CHIME] = "chime",
    [PANEL_DOES_EXIT_DOOR] = "allowed, somebody left",
    [PANEL_DOES_EXIT_TRIP] = "trip while leaving",
    [PANEL_DOES_ENTRY] = "entry time starts",
    [PANEL_DOES_SECOND_ENTRY] = "second entry",
    [PANEL_DOES_FOLLOW_ALONE] = "alarm after its hold",
    [PANEL_DOES_FOLLOW] = "ignored on its own route",
    [PANEL_DOES_ALARM] = "alarm",
    [PANEL_DOES_OFF_ROUTE] = "off-route trip",
    [PANEL_DOES_TROUBLE] = "trouble",
    [PANEL_DOES_OWN] = "own signal and sound",
};
/* clang-format on */

const char *panel_area_event_name(enum panel_area_event event) {
    return event_names[event];
}

const char *panel_action_name(enum panel_action action) {
    return action_names[action];
}

const char *panel_reaction_name(enum panel_reaction reaction) {
    return reaction_names[reaction];
}
