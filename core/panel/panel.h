/* The control panel as a timed state machine that is blind to time.
 *
 * One pure function, panel_step. Its inputs include "timer k ended", its outputs "start timer k". How long a timer
 * runs stands in the program. Two drivers give it time: the player (integer deadlines) and the prover (difference
 * bounds). There is no second opinion of what a panel does, except in the tests.
 *
 * What a panel does stands in tables (panel_tables.h); this module walks them. Source of the behaviour: the design
 * page of the panel model; ANSI/SIA CP-01 and EN 50131 where it names them. */
#ifndef LINTEL_PANEL_PANEL_H
#define LINTEL_PANEL_PANEL_H

#include "events/event.h"
#include "site/site.h"

#include <stdbool.h>
#include <stdint.h>

enum {
    PANEL_ZONE_MAX = SITE_ZONE_MAX,
    PANEL_AREA_MAX = SITE_AREA_MAX,
    PANEL_MODE_MAX = SITE_MODE_MAX,
    PANEL_USER_MAX = SITE_PEOPLE_MAX,
    PANEL_OUTPUT_MAX = 512,
    PANEL_QUEUE_MAX =
            32, /* signals that can wait for the path at most; settings.signals_kept of them do */
    PANEL_NO_ZONE = EVENT_NO_ZONE,
    PANEL_NOBODY = EVENT_NOBODY,
};

struct panel_tables;

/** One zone as keyed in. behaviour, delay: by mode (enum site_behaviour; index of a named entry delay or 0xFF). */
struct panel_zone {
    uint8_t behaviour[PANEL_MODE_MAX];
    uint8_t unset_behaviour; /* the one that acts while unset: the zone's own */
    uint8_t delay[PANEL_MODE_MAX];
    uint8_t area;
    uint8_t serves;     /* bit per area in which it starts entry, its own included */
    uint8_t sense;      /* enum site_sense */
    uint8_t device;     /* detectors of one device are not independent */
    uint8_t cross_with; /* PANEL_NO_ZONE: none */
    uint8_t pulse_count;
    uint8_t door;     /* 0xFF: none; zones of one door are one opening */
    uint8_t group;    /* confirmation group, from 1; 0: names none */
    uint16_t follows; /* bit per entry delay */
    int32_t pulse_window_s;
    int32_t hold_s;
    bool chime;
    bool reports;
    bool supervised;
    bool bypassable;
    bool swinger;
};

_Static_assert(PANEL_USER_MAX <= 64, "users fit a word");

/** What is keyed in, ready to walk. tables: borrowed, must outlive the program. */
struct panel_program {
    const struct panel_tables *tables;
    struct site_settings settings;
    struct panel_zone zones[PANEL_ZONE_MAX];
    uint8_t zone_count;
    uint8_t area_count;
    uint8_t common_areas; /* bit per area */
    bool grouped; /* some zone names a confirmation group: only zones of one group confirm each other */
    uint8_t user_count;
    uint8_t user_areas[PANEL_USER_MAX];
    uint8_t user_modes[PANEL_USER_MAX]; /* bit per mode that the code or fob may set */
    bool user_duress[PANEL_USER_MAX];
};

/** A set of zones. */
struct panel_zones {
    uint64_t word[2];
};

enum panel_phase { PANEL_UNSET, PANEL_EXITING, PANEL_SET, PANEL_ENTERING, PANEL_PHASE_COUNT };
enum panel_alarm {
    PANEL_CALM,
    PANEL_HELD,
    PANEL_SENT,
    PANEL_OLD,
    PANEL_QUEUED, /* reported, but the path is down: it has not left */
    PANEL_ALARM_COUNT
};
enum panel_sound { PANEL_SILENT, PANEL_SIREN, PANEL_FIRE_SOUND, PANEL_SOUND_COUNT };

enum {                              /* flags of an area */
    PANEL_AREA_LEFT = 1 << 0,       /* somebody left while the exit time ran */
    PANEL_AREA_RESTARTED = 1 << 1,  /* the one exit restart is spent */
    PANEL_AREA_RECENT = 1 << 2,     /* recent-closing time runs */
    PANEL_AREA_EXIT_ERROR = 1 << 3, /* entering because of an exit error */
    PANEL_AREA_AT_KEYPAD = 1 << 4,  /* set at a keypad: restart and "nobody left" apply */
    PANEL_AREA_MEMORY = 1 << 5,
    PANEL_AREA_WARNING = 1 << 6,    /* inside warning sounds */
    PANEL_AREA_WARN_DUE = 1 << 7,   /* en: warning has run its 30 s */
    PANEL_AREA_AUTO_WARN = 1 << 8,  /* auto-set warns */
    PANEL_AREA_NO_CONFIRM = 1 << 9, /* start of entry disabled confirmation */
    PANEL_AREA_STALLED = 1 << 11,   /* exit stalls on a trip off the exit route */
    PANEL_AREA_EARLY = 1 << 12,     /* "entry started" was sent */
    PANEL_AREA_FORCED = 1 << 13,    /* the request was forced */
    PANEL_AREA_ENTRY_OVER =
            1 << 14, /* en: the entry time is over, the report waits for the warning */
    PANEL_AREA_NEEDS_RESET = 1 << 15,
    PANEL_AREA_CONFIRMED =
            1 << 16, /* a second detector confirmed; its signal is held with the others */
    PANEL_AREA_RIDES = 1 << 17,     /* common area: rides on its last member's exit time */
    PANEL_AREA_HELD_BACK = 1 << 18, /* the siren waits */
    PANEL_AREA_INSIDE = 1 << 19,    /* the inside sounder sounds because the siren waits, or did */
};

struct panel_area_state {
    uint32_t flags;
    uint16_t routes;   /* bit per entry delay whose entry runs */
    uint8_t phase;     /* enum panel_phase */
    uint8_t mode;      /* site mode while not unset; 0 while unset */
    uint8_t alarm;     /* enum panel_alarm */
    uint8_t sound;     /* enum panel_sound */
    uint8_t setter;    /* user, PANEL_NOBODY */
    uint8_t postponed; /* how often the auto-set was put off */
    uint8_t from; /* while exiting from a set mode: that mode + 1, whose protection holds; else 0 */
    uint8_t entry_zone; /* that started the entry which runs, PANEL_NO_ZONE */
    uint8_t siren_zone; /* whose siren waits, PANEL_NO_ZONE */
    uint8_t spare;
};

enum { /* flags of the panel */
    PANEL_MAINS_LOST = 1 << 0,
    PANEL_MAINS_SENT = 1 << 1,
    PANEL_BATTERY_LOW = 1 << 2,
    PANEL_PATH_LOST = 1 << 3,
    PANEL_LOCKED = 1 << 4,
    PANEL_DEAD = 1 << 5,      /* no power at all */
    PANEL_MASKED_UP = 1 << 6, /* power is back, inputs are ignored for a while */
    PANEL_REFUSED = 1 << 7,   /* the last request to set was refused */
    PANEL_TAMPERED = 1 << 8,  /* a device of no area: the panel's own lid, a siren */
    PANEL_JAMMED = 1 << 9,
    PANEL_SIGNALS_LOST = 1 << 10, /* of those that waited for the path, some never leave */
};

/** Everything a panel remembers: flat, no pointers, no padding; equal states are equal bytes. */
struct panel_state {
    struct panel_zones open;
    struct panel_zones tampered;
    struct panel_zones masked;
    struct panel_zones lost; /* supervision */
    struct panel_zones battery;
    struct panel_zones bypassed;
    struct panel_zones lasting; /* bypassed beyond the next unset */
    struct panel_zones forced;  /* bypassed by a forced request */
    struct panel_zones swung_out;
    struct panel_zones after_siren; /* out until it closes */
    struct panel_zones alarmed;     /* in this set period's alarm memory */
    struct panel_zones held;        /* report waits for the abort window */
    struct panel_zones recent;     /* of those: the alarm was made within the recent-closing time */
    struct panel_zones sent;       /* alarm reported, restore not yet */
    struct panel_zones cross_lone; /* cross-zone window of this zone's lone trip runs */
    struct panel_zones confirming; /* the confirmation window that this zone's alarm began runs */
    struct panel_zones following;  /* follower hold runs */
    struct panel_zones closed_in_exit; /* has closed since this exit began (or since its opening) */
    struct panel_zones latched;        /* hold-up to be reset before setting */
    struct panel_area_state areas[PANEL_AREA_MAX];
    uint8_t swings[PANEL_ZONE_MAX];
    uint8_t pulses[PANEL_ZONE_MAX];
    uint64_t off_hours;              /* bit per user whose hours are over */
    uint32_t queue[PANEL_QUEUE_MAX]; /* what waits for the path, in the order of leaving; then 0 */
    uint16_t flags;
    uint8_t wrong_codes;
    uint8_t queued; /* how many wait */
    uint8_t spare[4];
};

enum panel_timer_kind {
    PANEL_TIMER_EXIT, /* per area from here */
    PANEL_TIMER_ENTRY,
    PANEL_TIMER_ABORT,
    PANEL_TIMER_CANCEL,
    PANEL_TIMER_RECENT,
    PANEL_TIMER_HOLD_BACK,
    PANEL_TIMER_SIREN,
    PANEL_TIMER_WARNING,
    PANEL_TIMER_FINAL_DOOR,
    PANEL_TIMER_AUTO_WARN,
    PANEL_TIMER_AUTO_POSTPONE,
    PANEL_TIMER_CROSS, /* per zone from here */
    PANEL_TIMER_CONFIRM,
    PANEL_TIMER_HOLD,
    PANEL_TIMER_SWINGER,
    PANEL_TIMER_SUPERVISION,
    PANEL_TIMER_PULSE_1,
    PANEL_TIMER_PULSE_2,
    PANEL_TIMER_PULSE_3,
    PANEL_TIMER_PULSE_4,
    PANEL_TIMER_LOCKOUT, /* one each from here */
    PANEL_TIMER_MAINS,
    PANEL_TIMER_POWER_MASK,
    PANEL_TIMER_KIND_COUNT
};

/** A timer by its kind and the area or zone it belongs to. */
typedef uint16_t panel_timer;
enum {
    PANEL_TIMER_STRIDE = PANEL_ZONE_MAX,
    PANEL_TIMER_COUNT = PANEL_TIMER_KIND_COUNT * PANEL_TIMER_STRIDE
};
static inline panel_timer panel_timer_of(enum panel_timer_kind kind, unsigned index) {
    return (panel_timer)((unsigned)kind * PANEL_TIMER_STRIDE + index);
}
static inline enum panel_timer_kind panel_timer_kind_of(panel_timer timer) {
    return (enum panel_timer_kind)(timer / PANEL_TIMER_STRIDE);
}
static inline unsigned panel_timer_index_of(panel_timer timer) {
    return timer % PANEL_TIMER_STRIDE;
}

enum panel_input_kind {
    PANEL_IN_OPEN, /* zone level changes */
    PANEL_IN_CLOSE,
    PANEL_IN_GROSS, /* a gross blow: counts as every pulse */
    PANEL_IN_TAMPER,
    PANEL_IN_TAMPER_BACK,
    PANEL_IN_MASKED,
    PANEL_IN_MASKED_BACK,
    PANEL_IN_LOW_BATTERY,
    PANEL_IN_CHECK_IN, /* with the level in `open`: level after silence counts as an edge */
    PANEL_IN_SET,      /* user (PANEL_NOBODY: nobody known), areas, mode, source, force */
    PANEL_IN_UNSET,    /* user, areas (0: what the code acts on), source */
    PANEL_IN_WRONG_CODE,
    PANEL_IN_COMPLETE, /* outside button, lock, fob or station completes the setting */
    PANEL_IN_BYPASS,   /* zone, user; `force`: lasting */
    PANEL_IN_RESET,    /* source says who: user, installer, station */
    PANEL_IN_AUTO_DUE, /* the calendar: areas */
    PANEL_IN_POSTPONE,
    PANEL_IN_MAINS_LOST,
    PANEL_IN_MAINS_BACK,
    PANEL_IN_BATTERY_LOW,
    PANEL_IN_BATTERY_BACK,
    PANEL_IN_PATH_LOST,
    PANEL_IN_PATH_BACK,
    PANEL_IN_JAMMED,
    PANEL_IN_JAM_OVER,
    PANEL_IN_HOURS_BEGIN, /* the calendar: of this user */
    PANEL_IN_HOURS_END,
    PANEL_IN_POWER_LOST, /* everything */
    PANEL_IN_POWER_BACK,
    PANEL_IN_TIMER,
    PANEL_IN_COUNT
};

enum panel_source {
    PANEL_BY_KEYPAD,
    PANEL_BY_FOB,
    PANEL_BY_REMOTE,
    PANEL_BY_CALENDAR,
    PANEL_BY_INSTALLER, /* reset only */
    PANEL_BY_STATION,   /* reset, completion */
    PANEL_SOURCE_COUNT
};

struct panel_input {
    enum panel_input_kind kind;
    uint8_t zone;
    uint8_t user;
    uint8_t areas; /* bit per area; where a keypad is meant: the keypad's areas */
    uint8_t mode;
    uint8_t source; /* enum panel_source */
    bool open;
    bool force;
    bool acknowledged; /* the user has acknowledged faults */
    panel_timer timer;
};

enum panel_tone {
    PANEL_TONE_EXIT,
    PANEL_TONE_ENTRY,
    PANEL_TONE_WARNING,
    PANEL_TONE_TROUBLE,
    PANEL_TONE_COUNT
};

enum panel_message {
    PANEL_SAYS_NOT_READY, /* zone: one of those in the way; one output each */
    PANEL_SAYS_REFUSED,
    PANEL_SAYS_NOTHING_SENT, /* unset inside the abort window */
    PANEL_SAYS_CANCEL_SENT,
    PANEL_SAYS_CANCEL_WAITS, /* the same, but the path is down */
    PANEL_SAYS_ALARM_MEMORY, /* zone */
    PANEL_SAYS_DROPPED_TO_PART,
    PANEL_SAYS_SET,
    PANEL_SAYS_UNSET,
    PANEL_SAYS_WRONG_CODE,
    PANEL_SAYS_LOCKED,
    PANEL_SAYS_NOT_YOURS, /* the code is valid, but not for this area */
    PANEL_SAYS_NOT_NOW,   /* the code is valid, but not at this hour */
    PANEL_SAYS_TROUBLE,   /* zone */
    PANEL_SAYS_BYPASSED,  /* zone */
    PANEL_SAYS_NO_BYPASS, /* zone may not be bypassed */
    PANEL_SAYS_READY,
    PANEL_SAYS_RESET_NEEDED,
    PANEL_SAYS_LONE_TRIP, /* logged only */
    PANEL_SAYS_SWUNG_OUT, /* zone: suppressed by its swinger limit */
    PANEL_SAYS_NOTHING_TO_POSTPONE,
    PANEL_SAYS_NO_MORE_POSTPONING, /* as often as the settings allow it was put off */
    PANEL_MESSAGE_COUNT
};

enum panel_output_kind {
    PANEL_OUT_START,   /* timer, seconds_s; at_least, exact as flagged */
    PANEL_OUT_STOP,    /* timer */
    PANEL_OUT_SHORTEN, /* timer, seconds_s: end at min(remaining, this) */
    PANEL_OUT_SAYS,    /* message, zone */
    PANEL_OUT_CHIME,   /* zone */
    PANEL_OUT_TONE,    /* tone, area, on */
    PANEL_OUT_SOUND,   /* sound, area: the siren of that area is now in this pattern */
    PANEL_OUT_INSIDE,  /* inside sounder, area, on */
    PANEL_OUT_SIGNAL,  /* event: leaves the panel now */
    PANEL_OUT_LOG,     /* event: written to the panel's log, sent to nobody */
    PANEL_OUT_QUEUED,  /* event: made now, waits for the path */
    PANEL_OUT_COUNT
};

/** Why: the setting or rule that made an output. Each has a sentence (panel_reason_sentence). */
enum panel_reason {
    PANEL_WHY_NONE,
    PANEL_WHY_BEHAVIOUR, /* the zone's behaviour in this mode */
    PANEL_WHY_OFF_ROUTE,
    PANEL_WHY_FOLLOWER_ALONE, /* a follower whose route's entry does not run */
    PANEL_WHY_ENTRY_OVER,
    PANEL_WHY_EXIT_OPEN, /* entry or follower contact open at the end of the exit time */
    PANEL_WHY_INTERIOR_OPEN,
    PANEL_WHY_EXIT_TRIP,
    PANEL_WHY_NOT_COMPLETED, /* the exit time ended, but what completes setting had not come */
    PANEL_WHY_ABORT,
    PANEL_WHY_ABORT_OVER,
    PANEL_WHY_EXEMPT,
    PANEL_WHY_NOT_READY,
    PANEL_WHY_NOBODY_LEFT,
    PANEL_WHY_RESTART,
    PANEL_WHY_CODE,
    PANEL_WHY_WRONG_CODES,
    PANEL_WHY_CROSS,
    PANEL_WHY_SWINGER,
    PANEL_WHY_PULSES,
    PANEL_WHY_TAMPER,
    PANEL_WHY_SUPERVISION,
    PANEL_WHY_NO_REPORT,
    PANEL_WHY_DURESS,
    PANEL_WHY_MEMORY,
    PANEL_WHY_AUTO_SET,
    PANEL_WHY_FORCED,
    PANEL_WHY_POWER,
    PANEL_WHY_SIREN_TIME,
    PANEL_WHY_CONFIRM,
    PANEL_WHY_FAULT,
    PANEL_WHY_USER_MODE,    /* the code or fob may not set that mode */
    PANEL_WHY_ACKNOWLEDGED, /* set in spite of a fault: the user knows of it */
    PANEL_WHY_HOURS,        /* outside the hours of the code or fob */
    PANEL_WHY_IGNORED,      /* set in spite of a fault: none stands in the way of setting */
    PANEL_WHY_HOLD_BACK,    /* the siren's hold-back is over */
    PANEL_WHY_PATH_DOWN,    /* the siren does not wait while the path is down */
    PANEL_WHY_COUNT
};

/** One output and its cause. zone: the zone whose setting is the cause, or PANEL_NO_ZONE. */
struct panel_output {
    enum panel_output_kind kind;
    enum panel_reason why;
    panel_timer timer;
    int32_t seconds_s;
    int32_t spread_s; /* START: each start ends up to so much earlier or later, on purpose */
    bool at_least;    /* START: the timer has no upper end (cancel window, power-up mask) */
    bool exact;       /* START: true to the second (calendar) */
    bool on;
    uint8_t area;
    uint8_t zone;
    uint8_t message;
    uint8_t tone;
    uint8_t sound;
    struct event event;
};

/** Outputs of one step, in order. overflowed: more than PANEL_OUTPUT_MAX, a bug (asserted in tests). */
struct panel_outputs {
    struct panel_output list[PANEL_OUTPUT_MAX];
    size_t count;
    bool overflowed;
};

/** The program of a site. The site is borrowed for the call; tables NULL = the standard ones. Fails PROBLEM_BAD_VALUE
 *  when a count or an index is outside its bound. */
outcome panel_program_of_site(const struct site *site, const struct panel_tables *tables,
        struct panel_program *ret_program, struct problem *ret_problem) MUST_CHECK;

/** The state of a panel that has been quiet: areas unset or set as `starts` (area_count of them), zones of `open`
 *  open, nothing running but what a quiet panel keeps running (supervision): those STARTs are in *ret_outputs. */
void panel_begin(const struct panel_program *program, const struct site_start *starts,
        const struct panel_zones *open, struct panel_state *ret_state,
        struct panel_outputs *ret_outputs);

/** One input: changes *state, fills *ret_outputs (emptied first). Total: any input in any state is allowed; one that
 *  makes no sense there does nothing. Inputs that name a zone, area, user or timer outside the program do nothing. */
void panel_step(const struct panel_program *program, struct panel_state *state,
        struct panel_input input, struct panel_outputs *ret_outputs);

/** Whether the area could be set in this mode now; ret_blocking: the zones in the way (may be NULL). */
bool panel_is_ready(const struct panel_program *program, const struct panel_state *state,
        unsigned area, int mode, struct panel_zones *ret_blocking);

/** What always holds of a state reached from panel_begin; false names a broken invariant. ret_broken: static text. */
bool panel_invariants_hold(const struct panel_program *program, const struct panel_state *state,
        const char **ret_broken);

/** The areas on which a user's code acts at a keypad of `keypad_areas` (settings.code_acts). */
uint8_t panel_code_areas(const struct panel_program *program, const struct panel_state *state,
        uint8_t user, uint8_t keypad_areas);

/** Whether bit `index` (below 32) of a set of areas, delays or slots is in it. */
static inline bool panel_bit(unsigned bits, unsigned index) {
    return (bits >> index & 1U) != 0;
}
static inline bool panel_zones_has(const struct panel_zones *zones, unsigned zone) {
    return (zones->word[zone / 64] >> (zone % 64) & 1U) != 0;
}
static inline void panel_zones_add(struct panel_zones *zones, unsigned zone) {
    zones->word[zone / 64] |= (uint64_t)1 << (zone % 64);
}
static inline void panel_zones_drop(struct panel_zones *zones, unsigned zone) {
    zones->word[zone / 64] &= ~((uint64_t)1 << (zone % 64));
}
static inline bool panel_zones_any(const struct panel_zones *zones) {
    return (zones->word[0] | zones->word[1]) != 0;
}

/** Names for stories, graphs and tests: "exit time", "zone 3's ..."; static texts. */
const char *panel_timer_kind_name(enum panel_timer_kind kind);
const char *panel_phase_name(enum panel_phase phase);
const char *panel_message_name(enum panel_message message);
const char *panel_input_kind_name(enum panel_input_kind kind);

#endif
