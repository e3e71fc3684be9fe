/* The site as plain values: what is there, what is keyed in, who comes and goes. No YAML, no lines: places are paths
 * ("zones[1].behaviour"), which the document maps to lines. References between things are indexes (SITE_NONE: none).
 *
 * Every text and array lives in the arena of the document that read it. The core never changes a site in place: a
 * remedy is tried on a copy (site_copy). */
#ifndef LINTEL_SITE_SITE_H
#define LINTEL_SITE_SITE_H

#include "base/date.h"
#include "base/finding.h"
#include "base/quantity.h"
#include "base/span.h"
#include "base/text.h"
#include "site/break_ins.h"
#include "site/building.h"
#include "site/carried.h"
#include "site/limit.h"
#include "site/pace.h"
#include "site/setting.h"

#include <stdbool.h>
#include <stdint.h>

enum {
    SITE_NONE = -1,
    SITE_ZONE_MAX = 128,   /* zones of a site */
    SITE_NUMBER_MAX = 999, /* the highest number that a zone may have */
    SITE_AREA_MAX = 8,
    SITE_MODE_MAX = 6, /* full, part, night, up to three further ones by name; not unset */
    SITE_DELAY_MAX = 12,
    SITE_PEOPLE_MAX = 64,
    SITE_DOOR_MAX = 256,
    SITE_KEYPAD_MAX = 32,
    SITE_WAY_MAX = 128,
    SITE_LEG_MAX = 24,
    SITE_ROUTINE_MAX = 256,
    SITE_STEP_MAX = 64, /* of one routine as written; ways unfold into more */
    SITE_INPUT_MAX = 4, /* of one device */
    SITE_CODE_DIGITS_MAX = 16,
    SITE_DEVICE_MAX = 256,
    SITE_LINK_MAX = SITE_DEVICE_MAX,
    SITE_CABLE_MAX = 64, /* as core/power sums in one tree */
    SITE_THROUGH_MAX = 32,
};

/** Which words are used in every output. uk: set, unset, mains; us: arm, disarm, AC. */
enum site_words { SITE_WORDS_UK, SITE_WORDS_US, SITE_WORDS_COUNT };

/** What a zone does when it trips. OUT: not watched in that mode. Source: design page "Zones"; the trade's words. */
enum site_behaviour {
    SITE_OUT,
    SITE_ENTRY,
    SITE_PERIMETER,
    SITE_FOLLOWER,
    SITE_INTERIOR,
    SITE_ALWAYS, /* "24-hour" */
    SITE_DAY,
    SITE_HOLD_UP,
    SITE_MEDICAL,
    SITE_FIRE,
    SITE_GAS,
    SITE_CO,
    SITE_FLOOD,
    SITE_COLD,
    SITE_BEHAVIOUR_COUNT
};

/** What a device senses. The first four are open or closed for as long as the thing is; the others trip. */
enum site_sense {
    SITE_CONTACT,
    SITE_SMOKE,
    SITE_GAS_SENSE,
    SITE_WATER,
    SITE_MOTION,
    SITE_SHOCK,
    SITE_GLASS,
    SITE_BUTTON, /* hold-up or medical */
    SITE_SENSE_COUNT
};

/** What a device is. Only sensors and buttons stand behind zones; fobs and keypads may have a button of their own. */
enum site_kind { SITE_SENSOR, SITE_FOB, SITE_KEYPAD_DEVICE, SITE_SIREN, SITE_KIND_COUNT };

/** Which side of a contact's housing the magnet goes to, as the housing is marked. */
enum site_mark {
    SITE_MARK_UNSAID,
    SITE_MARK_LEFT, /* seen from the front, the name upright */
    SITE_MARK_RIGHT,
    SITE_MARK_EITHER, /* marked on both sides */
    SITE_MARK_END,    /* the short side */
    SITE_MARK_FACING, /* let into the leaf, opposite */
    SITE_MARK_COUNT
};

/** What a tamper switch notices: bits. */
enum {
    SITE_TAMPER_COVER = 1 << 0,  /* the lid opened */
    SITE_TAMPER_WALL = 1 << 1,   /* taken off the wall */
    SITE_TAMPER_MAGNET = 1 << 2, /* a foreign magnet held to it */
    SITE_TAMPER_CABLE = 1 << 3,  /* its cable cut or shorted */
};

/** How a device is made known to the panel: bits. */
enum {
    SITE_ENROL_SERIAL = 1 << 0, /* its serial number is typed */
    SITE_ENROL_ACTIVATE =
            1 << 1, /* the panel learns it when it is activated, so often as the manual says */
};

/** One input of a device: the switch within, or a terminal for another. */
struct site_input {
    enum site_sense sense;
    struct text says;
};

/** What a device can do, as its profile file says (data/devices/NAME.yaml). What it does not say is 0, empty or not
 *  `said`, and is not checked.
 *  hold: how long a motion detector stays tripped; sleep: how long after a trip it is blind (0: never);
 *  latency: from the thing happening to the panel knowing. sense: of its first input. inputs: every one; none: one.
 *  range_mm: how far it sees, or hears a pane break; angle: how wide it sees, all in all; curtain: it guards an
 *  opening, not a floor; overlooks: animals so heavy, on the floor; mounted: how high above it it is to hang.
 *  Of radio: frequency; radiates, with its antenna (EIRP); receives: the weakest level it still hears, of two-way ones
 *  alone; event_air_ms, check_in_air_ms: on the air for each, repeats counted. Of its own batteries: quiet, sends_at:
 *  what is drawn at rest and on the air; capacity: of all of them as they are joined; battery_years: how long the
 *  manual says they last. needs_volts: of a wired one, between which it works.
 *  Those that are measures: see struct measure. gap: the widest at which it is sure to read closed;
 *  gap_on_steel: the same on steel. check_in_s: it speaks at least so often. serial_format: # stands for a digit, H for
 *  a digit or A to F, A for a letter; any other character for itself. */
struct site_device_profile {
    struct text name;
    struct text says; /* one line for people */
    enum site_kind kind;
    enum site_sense sense;
    struct site_input inputs[SITE_INPUT_MAX];
    size_t input_count;
    bool radio;
    struct text family; /* the radio language it speaks */
    struct span hold;
    struct span sleep;
    struct span latency;
    struct measure width;
    struct measure gap;
    struct measure gap_on_steel;
    enum site_mark marked;
    uint32_t tamper;
    bool tamper_said;
    int32_t check_in_s;
    struct text battery; /* its type */
    int32_t batteries;
    struct measure works_at;
    struct measure current;
    int32_t range_mm;
    struct measure angle;
    bool curtain;
    struct measure overlooks;
    struct measure mounted;
    struct measure frequency;
    struct measure radiates;
    struct measure receives;
    int32_t event_air_ms;
    int32_t check_in_air_ms;
    struct measure quiet;
    struct measure sends_at;
    struct measure capacity;
    int32_t battery_years;
    struct measure needs_volts;
    uint32_t enrols;
    struct text serial_format;
    int32_t activations;
};

struct site_area {
    struct text name;
    bool common; /* sets when its last member has set, unsets with the first; members: every other area */
};

/** An opening that people use. A door may have no zone. stays_open: nobody closes it by habit. */
struct site_door {
    struct text name;
    bool outside; /* leads out of the building */
};

/** behind: unsaid is nothing; on_steel alone counts as steel. trips_day: how often a day it is tripped, 0: not said.
 *  battery_day: when its battery was put in. */
struct site_device {
    struct text name;
    int profile; /* device_profiles index */
    int door;    /* the door it watches, or SITE_NONE (a room) */
    struct text serial;
    struct measure frame_width; /* of what it is fitted to */
    struct measure magnet_gap;  /* as it is fitted, door closed */
    bool on_steel;              /* it or its magnet */
    struct measure place_at;    /* how cold and how warm its place gets */
    enum site_behind behind;
    int32_t trips_day;
    int32_t battery_day;
    int keypad;     /* a keypad: the one of the site that it is, or SITE_NONE */
    int person;     /* a fob: who carries it, or SITE_NONE */
    uint32_t areas; /* a siren: where it sounds, bit per area */
    bool areas_said;
};

/** Where the end-of-line resistor of a wired zone's loop sits. UNSAID: nobody has looked. */
enum site_loop_end {
    SITE_LOOP_END_UNSAID,
    SITE_LOOP_END_DEVICE,
    SITE_LOOP_END_PANEL,
    SITE_LOOP_END_NONE,
    SITE_LOOP_END_COUNT
};

struct site_zone {
    int32_t number;
    struct text name; /* its spoken words, joined by blanks */
    int device;
    int32_t input; /* of the device, from 1; 0 counts as 1 */
    int door; /* what a further input (2 and more) watches, or SITE_NONE; of input 1 the device says it */
    int area;
    enum site_behaviour behaviour;
    enum site_behaviour in[SITE_MODE_MAX]; /* by mode; not written: see site_usual_in */
    int delay[SITE_MODE_MAX];              /* entry: named entry delay by mode, else SITE_NONE */
    bool delay_idle;  /* a delay is written, but it is an entry zone in no mode */
    uint32_t follows; /* follower: bit per entry delay whose route it stands on; 0 = every one */
    int32_t hold_s;   /* follower: 0..5, waits so long for its door before it counts */
    bool chime;
    bool reports;
    bool supervised;
    bool bypassable;
    bool swinger;
    int32_t pulse_count; /* 1..5 trips ... */
    int32_t pulse_window_s;
    int32_t loop_response_ms; /* the shortest opening that the input sees */
    enum site_loop_end loop_end;
    enum site_wiring wiring;
    struct measure end_ohm;      /* the end-of-line resistor that is in it */
    struct measure alarm_ohm;    /* double, triple: the one across the contact */
    struct measure mask_ohm;     /* triple: the one across the second contact */
    struct measure measured_ohm; /* at the panel's terminals, loop unplugged, at rest */
    int cross_with;              /* cross-zone partner, or SITE_NONE */
    struct text group; /* confirmation group: zones of one confirm each other; empty: names none */
    uint32_t serves;   /* boundary door: further areas (bit per area) in which it starts entry */
    bool set_aside;    /* out by a temporary change, which says so itself (check/temporary.h) */
};

struct site_keypad {
    struct text name;
    uint32_t areas; /* bit per area; a code here acts on them where codes act by keypad */
};

/** A named entry delay. */
struct site_delay {
    struct text name;
    int32_t seconds_s;
};

struct site_mode {
    struct text name;
    int32_t exit_delay_s;
};

enum { SITE_MODE_FULL, SITE_MODE_PART, SITE_MODE_NIGHT };

/* Choices of the panel. The first of each is the default. Source: design page, each named there. */
enum site_off_route { SITE_OFF_ROUTE_NOW, SITE_OFF_ROUTE_EN, SITE_OFF_ROUTE_COUNT };
enum site_second_entry { SITE_SECOND_SHORTEN, SITE_SECOND_KEEP, SITE_SECOND_COUNT };
enum site_exit_trip { SITE_EXIT_TRIP_ALARM, SITE_EXIT_TRIP_STALLS, SITE_EXIT_TRIP_COUNT };
enum site_fault { SITE_FAULT_REFUSE, SITE_FAULT_ACKNOWLEDGE, SITE_FAULT_IGNORE, SITE_FAULT_COUNT };
enum site_reopened { SITE_STAYS_OUT, SITE_BECOMES_LIVE, SITE_REOPENED_COUNT };
enum site_completion {
    SITE_COMPLETE_TIME,
    SITE_COMPLETE_FINAL_DOOR,
    SITE_COMPLETE_BUTTON,
    SITE_COMPLETE_LOCK,
    SITE_COMPLETE_FOB,
    SITE_COMPLETE_STATION,
    SITE_COMPLETION_COUNT
};
enum site_open_zones { SITE_OPEN_REFUSE, SITE_OPEN_FORCE, SITE_OPEN_COUNT };
enum site_fob_way { SITE_FOB_AT_ONCE, SITE_FOB_TIMED, SITE_FOB_COUNT };
enum site_auto_open { SITE_AUTO_FORCE, SITE_AUTO_FAIL, SITE_AUTO_COUNT };
enum site_restore {
    SITE_RESTORE_CLOSURE,
    SITE_RESTORE_SIREN_END,
    SITE_RESTORE_UNSET,
    SITE_RESTORE_COUNT
};
enum site_lost { SITE_LOST_TROUBLE, SITE_LOST_ALARM, SITE_LOST_COUNT };
enum site_reset { SITE_RESET_USER, SITE_RESET_INSTALLER, SITE_RESET_STATION, SITE_RESET_COUNT };
enum site_code_acts { SITE_CODE_KEYPAD, SITE_CODE_USER, SITE_CODE_ENTRY, SITE_CODE_COUNT };

/** What is keyed in for the whole panel. Times in whole seconds; 0 of a window: off. */
struct site_settings {
    struct site_mode modes[SITE_MODE_MAX]; /* the first three always stand */
    size_t mode_count;
    struct site_delay delays[SITE_DELAY_MAX];
    size_t delay_count;
    int32_t abort_window_s;
    int32_t cancel_window_s; /* at least: has no upper end */
    int32_t recent_closing_s;
    int32_t siren_time_s;
    int32_t siren_hold_back_s; /* the siren waits so long after its alarm; 0: not at all */
    int32_t swinger_limit;     /* 0: never */
    int32_t swinger_reset_s;
    int32_t cross_window_s;
    int32_t confirm_window_s; /* 0: no confirmation */
    int32_t lockout_tries;    /* 0: never */
    int32_t lockout_s;
    int32_t supervision_window_s;
    int32_t mains_delay_s;
    int32_t mains_jitter_s; /* the report is so much earlier or later, on purpose; at most the delay */
    int32_t power_mask_s; /* at least: has no upper end */
    int32_t final_door_s;
    int32_t auto_set_at_s; /* seconds since midnight, or -1 */
    int auto_set_area;
    int32_t auto_warn_s;
    int32_t auto_postpone_s;
    int32_t auto_postpone_count;
    int32_t signals_kept;     /* so many wait for the path to the station */
    int32_t tolerance_tenths; /* of the panel's own timers; 1 = 10 % */
    bool motion_blocks;
    bool entry_open_allowed;
    bool exit_restart;
    bool drop_to_part; /* nobody left: falls back to part */
    bool lone_cross_signal;
    bool same_cross_counts;
    bool early_warning;
    bool silent_hold_up;
    bool jamming_noticed; /* it is a trouble, signalled, and a fault when setting */
    enum site_off_route off_route;
    enum site_second_entry second_entry;
    enum site_exit_trip exit_trip;
    enum site_fault faults;
    enum site_reopened reopened;
    enum site_completion completion;
    enum site_fob_way fob_way;
    enum site_open_zones fob_open;
    enum site_auto_open auto_open;
    enum site_restore restore;
    enum site_lost lost_while_set;
    enum site_reset reset;
    enum site_code_acts code_acts;
};

/** A set of whole numbers 0 .. SITE_NUMBER_MAX. said: whether it is stated at all. */
struct site_numbers {
    uint64_t bits[SITE_NUMBER_MAX / 64 + 1];
    bool said;
};

/** What is in the panel's own housing: bits. */
enum { SITE_BUILT_IN_KEYPAD = 1 << 0, SITE_BUILT_IN_SIREN = 1 << 1 };

/** How the event log of a panel is written, as its software gives it out: see signals/log.h. No columns: not said. */
struct site_log {
    const struct text *columns;
    size_t column_count;
    struct text time;
    struct text separator;
    int32_t heading; /* lines before the first event */
    const struct text *words;
    size_t word_count;
};

/** What the panel can do, as its profile file says (data/panels/NAME.yaml). Limits are of the model, not of a rule.
 *  What it does not say is 0, empty or not `said`, and is not checked.
 *  numbers: zone numbers there are (unsaid: 1 to zone_most). wired, radio: which of them take a wired, a radio device.
 *  steps: what a setting's value is a multiple of, 0: unsaid. delivered: its value as delivered, where delivered_said.
 *  words: the spoken words there are; word_most: how many make a name. families: the radio languages it hears.
 *  factory_codes: which codes are in it when delivered. keypad_most, siren_most, fob_most: how many can be added.
 *  account_lengths: how many digits its account at the monitoring station has. events: what the alarms of each
 *  behaviour are sent as when it is delivered; empty: its table has no such row, "none": the row is there and empty.
 *  delivered_name: what a zone is called when it is delivered, # for its number.
 *  receives, radiates: of its radio, with its antenna. volts: what its supply gives devices, from the end of its
 *  battery to mains; output: the most they may draw; charges_at: what fills its battery; battery_size: which fit.
 *  wirings: bit per way to wire a zone's loop; resistors: which end-of-line resistors it takes; pull_up, loop_volts:
 *  through and from which it measures a loop; reads: between which volts it takes one for each of its states. log: how
 *  its event log is written. */
struct site_panel_profile {
    struct text name;
    struct text says;
    int32_t zone_most;
    int32_t area_most;
    struct site_numbers numbers;
    struct site_numbers wired;
    struct site_numbers radio;
    struct span exit_delay;
    struct span entry_delay;
    struct span abort_window;
    uint32_t behaviours; /* bit per behaviour offered */
    struct site_offer offers[SITE_SETTING_COUNT];
    int32_t steps[SITE_SETTING_COUNT];
    int32_t delivered[SITE_SETTING_COUNT];
    bool delivered_said[SITE_SETTING_COUNT];
    const struct text *words;
    size_t word_count;
    int32_t word_most;
    const struct text *families;
    size_t family_count;
    bool families_said;
    int32_t user_most;
    struct site_numbers code_lengths;
    const struct text *factory_codes;
    size_t factory_code_count;
    struct site_numbers account_lengths;
    struct text events[SITE_BEHAVIOUR_COUNT];
    bool events_said;
    struct text delivered_name;
    int32_t keypad_most;
    int32_t siren_most;
    int32_t fob_most;
    int32_t group_most; /* how many confirmation groups; unsaid where not group_most_said */
    bool group_most_said;
    uint32_t built_in;
    struct measure current;
    struct measure receives;
    struct measure radiates;
    struct measure volts;
    struct measure output;
    struct measure charges_at;
    struct measure battery_size;
    uint32_t wirings;
    struct measure resistors;
    struct measure pull_up;
    struct measure loop_volts;
    struct measure reads[SITE_READS_COUNT];
    struct site_log log;
};

/** How the panel reports to the monitoring station. account: empty, none is said. events: what the alarms of a
 *  behaviour are sent as, where the site says it; see site_event. */
struct site_station {
    struct text account;
    struct text events[SITE_BEHAVIOUR_COUNT];
    bool events_said;
};

/** Whose a code is. */
enum site_code_of { SITE_CODE_OF_PERSON, SITE_CODE_OF_DURESS, SITE_CODE_OF_INSTALLER };

/** A code out of the codes file. It goes nowhere: no message, no listing, no JSON and no finding may hold it. name: as
 *  the file calls its owner; hidden where it could be a code itself (it has a digit). person: SITE_NONE: nobody of the
 *  site is called so, or it is no person's. shared_with: whose code this person uses (index of codes), or SITE_NONE. */
struct site_code {
    enum site_code_of of;
    struct text name;
    bool hidden;
    int person;
    int shared_with;
    struct text digits;
};

/** Whether the site names a codes file, and whether it was there. */
enum site_codes_state { SITE_CODES_NOT_NAMED, SITE_CODES_NOT_THERE, SITE_CODES_READ };

/** A person. walks: how fast; notices: from the tone to the hand at the keypad; codes: keying a code once. left_day:
 *  the last day on which the person came, DATE_NONE: still comes. */
struct site_person {
    struct text name;
    struct site_walking walks;
    struct span notices;
    struct span codes;
    struct span fobs;
    uint32_t areas; /* bit per area in which the code or fob acts */
    uint32_t modes; /* bit per mode that the code or fob may set; 0: every one */
    struct span
            hours; /* has_hours: times of day within which the code or fob is taken; high_s may be past 24 h */
    bool has_hours;
    bool has_code;
    bool has_fob;
    bool animal;           /* a dog: passes zones, opens nothing */
    struct measure weighs; /* an animal */
    bool duress;           /* the code is a duress code */
    bool away;             /* a guest on none of whose days it is, or left (check/temporary.h) */
    bool left;             /* for good: neither a day nor a visit is to come */
    int32_t left_day;
    bool stops_at_faults; /* does not set where a fault has to be acknowledged */
    bool unsets_by_fob;   /* by a remedy: uses the fob where a step unsets with the code */
};

/** A walking time as it was estimated, and as it was measured: the measured one counts. */
struct site_walk {
    struct span estimated;
    struct span measured;
    bool has_estimated;
    bool has_measured;
};

/** One leg of a way: what the walker passes next, and how long that takes since the leg before. */
struct site_leg {
    int zone;       /* a detector passed, or SITE_NONE */
    int door;       /* a further door opened and closed behind, or SITE_NONE */
    struct span in; /* what counts */
    struct site_walk walk;
};

/** How one walks between outside (or a room) and a keypad, inward; outward is the same backward.
 *  The door is opened first, closed after `closes`; then the legs; then `last` to the keypad: these, and `in` of the
 *  legs, are what counts; closing and ending say where the first and the last come from. spread_tenths: how far a walk
 *  that was measured once may be off, in steps of 10 %. */
struct site_way {
    struct text name;
    int door;
    int keypad; /* SITE_NONE: the way ends in a room */
    struct span closes;
    struct site_leg legs[SITE_LEG_MAX];
    size_t leg_count;
    struct span last;
    struct site_walk closing;
    struct site_walk ending;
    int32_t spread_tenths;
    int32_t measured_day; /* DATE_NONE: not said */
    struct text measured_by;
    bool drawn; /* nobody typed legs and last: they are worked out from the drawing */
};

/** What can be seen or heard, of one area or of any (area SITE_NONE). */
enum site_sign {
    SITE_SIGN_NONE,
    SITE_SIGN_SET, /* the area is set, in whatever mode, or its exit time runs */
    SITE_SIGN_UNSET,
    SITE_SIGN_EXIT_TONE, /* exit time runs */
    SITE_SIGN_ENTRY_TONE,
    SITE_SIGN_SIREN,
    SITE_SIGN_READY,
    SITE_SIGN_NOT_READY,
    SITE_SIGN_CHIME,     /* has chimed since this person last acted */
    SITE_SIGN_WARNING,   /* auto-set warns, or the inside sounder sounds before the siren */
    SITE_SIGN_REFUSED,   /* the last request to set was refused */
    SITE_SIGN_DOOR_OPEN, /* of the step's door */
    SITE_SIGN_COUNT
};

enum site_act {
    SITE_ACT_WAIT,
    SITE_ACT_OPEN,
    SITE_ACT_CLOSE,
    SITE_ACT_PASS, /* crosses what a detector watches */
    SITE_ACT_COME, /* a way inward */
    SITE_ACT_GO,   /* a way outward */
    SITE_ACT_WALK, /* through the drawn building to a room */
    SITE_ACT_UNSET,
    SITE_ACT_SET,
    SITE_ACT_MISTYPE, /* a wrong code: costs its seconds */
    SITE_ACT_PRESS,   /* a hold-up or medical button */
    SITE_ACT_BYPASS,
    SITE_ACT_POSTPONE, /* puts the auto-set off */
    SITE_ACT_TAMPER,   /* opens a device's lid, or loosens it */
    SITE_ACT_MAINS_LOST,
    SITE_ACT_MAINS_BACK,
    SITE_ACT_JAMMED, /* the radio is jammed: what is sent meanwhile does not arrive */
    SITE_ACT_JAM_OVER,
    SITE_ACT_PATH_LOST, /* the path to the station */
    SITE_ACT_PATH_BACK,
    SITE_ACT_COUNT
};

/** Whether the radio message of an act reaches the panel. Wired devices are not asked. */
enum site_message {
    SITE_MESSAGE_ARRIVES,
    SITE_MESSAGE_LOST,
    SITE_MESSAGE_MAYBE_LOST,
    SITE_MESSAGE_COUNT
};

enum site_use { SITE_USE_CODE, SITE_USE_FOB, SITE_USE_COUNT };

/** One step. `in`: seconds after the person's step before (or after the trigger); has_in false: the person's own habit
 *  for this act. at_s: clock time of a first step instead (seconds since midnight), has_at. who: person index.
 *  after_step: begins counting when that step of another is done (index into the routine's steps), or SITE_NONE.
 *  when/if: a sign waited for / looked at once when the step is due (not true: the step is left out). if_not inverts.
 *  maybe: may happen or not; both are explored. room: to which one walks; from: where the person is before,
 *  SITE_NONE: where the step before was. route: out of the drawing, of a walk, or of a step of which no time is
 *  written, from where the person's step before was to where this one is; the person's habit comes after it. NULL: none
 *  is known. */
struct site_step {
    struct text name;
    int who;
    struct span in;
    bool has_in;
    struct span at;
    bool has_at;
    int after_step;
    enum site_sign when;
    int when_area;
    enum site_sign if_sign;
    int if_area;
    bool if_not;
    bool maybe;
    enum site_act act;
    int door;
    int zone;
    int way;
    int keypad;
    uint32_t areas; /* set, unset: bit per area; 0: what the code acts on at that keypad */
    int mode;
    enum site_use use;
    enum site_message message; /* open, close, pass */
    int room;
    int from;
    const struct site_route *route;
};

/** What a routine announces by itself and is therefore no false alarm. */
enum {
    SITE_EXPECT_SIREN = 1 << 0,
    SITE_EXPECT_ALARM = 1 << 1,
    SITE_EXPECT_DURESS = 1 << 2,
    SITE_EXPECT_TROUBLE = 1 << 3,
    SITE_EXPECT_EXIT_ERROR = 1 << 4,
    SITE_EXPECT_REFUSED = 1 << 5,
    SITE_EXPECT_HOLD_UP = 1 << 6,
};

/** Where an area starts: unset or set in a mode. */
struct site_start {
    bool set;
    int mode;
};

/** How the areas stand when somebody breaks in. */
struct site_break_in_start {
    struct text name;
    struct site_start areas[SITE_AREA_MAX];
};

struct site_routine {
    struct text name;
    struct text says; /* one sentence for the customer */
    struct site_start starts[SITE_AREA_MAX];
    uint32_t doors_open; /* doors that stand open at the start: bit per door index below 32 */
    struct site_step *steps;
    size_t step_count;
    uint32_t expects;
    bool usual; /* one of those that apply to every site by default */
    bool rests; /* somebody in it is not there today: not looked at */
};

/** A usual routine that does not apply here, with the reason of the person who wrote the file. */
struct site_removal {
    struct text routine;
    struct text reason;
};

/** A finding that somebody answers for: listed apart, not counted, until a day. finding, about: which one (its id and
 *  what it concerns, check/about.h). weight: how heavy it was; a heavier one is not covered. routines: those that went
 *  wrong by it; with a further one it is not covered; none: whichever. says: its headline then; empty: not looked at.
 *  until_day: the last day. */
struct site_waiver {
    struct text finding;
    struct text about;
    enum finding_weight weight;
    const struct text *routines;
    size_t routine_count;
    struct text says;
    struct text reason;
    struct text by;
    int32_t until_day;
};

/** Something that is otherwise for a while, both days included. One of the three is not SITE_NONE. bypass: a zone left
 *  out; soak: a zone that only writes the panel's log; guest: a person whose code and fob work in these days alone.
 *  lasting: without a last day (until_day: DATE_NONE). */
struct site_temporary {
    int bypass;
    int soak;
    int guest;
    int32_t from_day;
    int32_t until_day;
    bool lasting;
    struct text by;
    struct text why;
};

/** Days that are keyed into the panel as a holiday: nothing sets by itself on them. Both days belong to it. */
struct site_holiday {
    struct text name;
    int32_t from_day;
    int32_t until_day;
    bool yearly; /* on the same days of every year */
};

/** A value that the site gives although the standard gives another. Both as written. */
struct site_deviation {
    struct text place;
    struct text own;
    struct text standard;
};

struct site {
    struct text name;
    struct text standard; /* name of the firm's standard programming, or empty */
    struct site_deviation *deviations;
    size_t deviation_count;
    bool invented;
    enum site_words words;
    const struct text *rules;
    size_t rule_count;
    const struct site_rule_set
            *rule_sets; /* what stands behind those names; none: nobody has read them */
    size_t rule_set_count;
    struct text codes_file; /* as the site names it, or empty */
    enum site_codes_state codes_state;
    const struct site_code *codes;
    size_t code_count;
    struct site_station station;
    struct site_panel_profile panel;
    struct site_settings settings;
    struct site_device_profile *device_profiles;
    size_t device_profile_count;
    struct site_area *areas;
    size_t area_count;
    struct site_door *doors;
    size_t door_count;
    struct site_device *devices;
    size_t device_count;
    struct site_supply supply;
    struct site_link *links;
    size_t link_count;
    struct site_cable *cables;
    size_t cable_count;
    struct site_zone *zones;
    size_t zone_count;
    const struct site_zone *keyed_zones; /* as keyed in, where zones has temporary changes in it */
    struct site_keypad *keypads;
    size_t keypad_count;
    struct site_person *people;
    size_t person_count;
    struct site_way *ways;
    size_t way_count;
    struct site_routine *routines;
    size_t routine_count;
    struct site_removal *removals;
    size_t removal_count;
    struct site_waiver *waivers;
    size_t waiver_count;
    struct site_building building;
    struct site_break_ins break_ins;
    struct site_temporary *temporaries;
    size_t temporary_count;
    struct site_holiday *holidays;
    size_t holiday_count;
};

/** The settings of a panel as delivered: CP-01 defaults (edition 2019 where editions differ: exit 60 s, abort 30 s,
 *  cancel 300 s, recent closing 120 s, swinger 2, reset 8 h, mask 60 s; dossier rules.md 1.2 says which figures are
 *  from memory) and common practice elsewhere. Has the three standing modes and no entry delay. */
struct site_settings site_settings_usual(void);

/** What a zone of this behaviour usually does in a mode when the file does not say: part and night leave interior and
 *  follower out, every other behaviour is the same in each mode (common practice). mode: 0 .. SITE_MODE_MAX - 1. */
enum site_behaviour site_usual_in(enum site_behaviour behaviour, int mode);

/** A copy whose arrays may be changed; texts and step arrays are shared with the original, which must outlive it. */
outcome site_copy(const struct site *site, struct arena *arena, struct site *ret_copy,
        struct problem *ret_problem) MUST_CHECK;

/** Whether a number is in the set; number: any. */
bool site_numbers_has(const struct site_numbers *numbers, int32_t number);
/** Adds a number of 0 .. SITE_NUMBER_MAX; others are left out. */
void site_numbers_add(struct site_numbers *numbers, int32_t number);

/** Whether the panel has a zone of this number; number: any. */
bool site_number_is_there(const struct site_panel_profile *panel, int32_t number);

/** The lowest number that the panel has, that takes a radio (a wired) device, and that no zone has yet. either:
 *  whatever it takes. SITE_NONE: there is none. */
int32_t site_free_number(const struct site *site, bool either, bool radio);

/** Whether a zone number of this panel takes a radio (a wired) device. Where the profile names neither: true. Where it
 *  names one sort, the other numbers take the other. */
bool site_slot_takes(const struct site_panel_profile *panel, int32_t number, bool radio);

/** What an alarm of this behaviour is sent as: by the site, or else as the panel is delivered. Empty: as nothing, or
 *  the panel's table has no such row. */
struct text site_event(const struct site *site, enum site_behaviour behaviour);

/** The profile of a zone's device, or NULL. */
const struct site_device_profile *site_zone_profile(
        const struct site *site, const struct site_zone *zone);
/** What the zone's input of its device senses; contact where there is no device or no such input. */
enum site_sense site_zone_sense(const struct site *site, const struct site_zone *zone);
/** Whether the profile of this zone's motion detector says that it overlooks an animal so heavy. False of people, and
 *  where either weight is not said. zone, person: indexes, or SITE_NONE. */
bool site_overlooks(const struct site *site, int zone, int person);
/** The door that the zone's input watches, or SITE_NONE. */
int site_zone_door(const struct site *site, const struct site_zone *zone);

/** Names as people write and read them: "perimeter", "24-hour"; "contact"; "siren" (the sign). */
const char *site_behaviour_name(enum site_behaviour behaviour);
const char *site_sense_name(enum site_sense sense);
const char *site_sign_name(enum site_sign sign);
const char *site_act_name(enum site_act act);
const char *site_kind_name(enum site_kind kind);

/** True for zones that any opening of a thing keeps open (contacts), false for those that trip (motion, shock). */
bool site_sense_is_level(enum site_sense sense);

#endif
