/* Scenes: small stories told to the panel through the player, and what must be heard of them.
 *
 * A scenario is one function: it changes a usual house where it must, says what happens when, and expects things. The
 * same function runs with expectations (the tests beside it) and without (the mutants compare transcripts). It never
 * looks at what the panel does to decide what happens next. The house is invented. */
#ifndef LINTEL_TESTS_PANEL_SCENE_H
#define LINTEL_TESTS_PANEL_SCENE_H

#include "panel/panel.h"
#include "panel/player.h"
#include "site/site.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

enum { HOME, FLAT, STAIRS, AREAS }; /* STAIRS: common */
enum { ON_HOME = 1 << HOME, ON_FLAT = 1 << FLAT, ON_STAIRS = 1 << STAIRS };
enum { FULL = SITE_MODE_FULL, PART = SITE_MODE_PART, NIGHT = SITE_MODE_NIGHT, STOCKTAKING };
enum { BY_FRONT, BY_BACK, DELAYS };     /* entry delays: 30 s, 45 s */
enum { ANNA, BEN, CARA, DORA, PEOPLE }; /* every area; HOME only; FLAT only; every area, duress */

enum {                      /* zones; one device each */
    FRONT,                  /* entry BY_FRONT, contact of door 0, chime */
    BACK,                   /* entry BY_BACK, contact of door 1, chime */
    HALL,                   /* follower of BY_FRONT, motion */
    PASSAGE,                /* follower of BY_BACK, motion */
    LOUNGE,                 /* interior, motion */
    CUPBOARD,               /* interior, contact */
    WINDOW,                 /* perimeter, contact, chime */
    SKYLIGHT,               /* perimeter, contact */
    PANE,                   /* perimeter, glass-break */
    SAFE,                   /* 24-hour, contact */
    CELLAR,                 /* day zone, contact */
    HOLD_UP,                /* button */
    AID,                    /* medical, button */
    SMOKE,                  /* fire */
    GAS,                    /* gas */
    CO,                     /* CO */
    WATER,                  /* flood */
    FROST,                  /* cold, contact */
    HOME_ZONES,             /* the house alone has those before; with the flat over it also: */
    FLAT_DOOR = HOME_ZONES, /* FLAT: entry BY_FRONT, contact */
    FLAT_ROOM,              /* FLAT: interior, motion */
    FLAT_WINDOW,            /* FLAT: perimeter, contact */
    BETWEEN,                /* HOME, serves FLAT too: entry BY_FRONT, contact, chime */
    STREET_DOOR,            /* STAIRS: entry BY_FRONT, contact */
    METER_BOX,              /* STAIRS: interior, contact */
    ZONES,
    ANY = PANEL_NO_ZONE
};

enum { HEARD_MAX = 4000, STILL = -1 };

struct heard {
    int32_t at_s;
    bool by_input; /* false: panel_begin */
    struct panel_input input;
    struct panel_output output;
};

struct scene {
    const struct panel_tables *tables; /* NULL: the standard ones */
    bool checks;
    const char *name;
    struct site site;
    struct site_settings *settings; /* of the site */
    struct site_area areas[AREAS];
    struct site_door doors[ZONES];
    struct site_device devices[ZONES];
    struct site_device_profile profiles[ZONES];
    struct site_zone zones[ZONES];
    struct site_keypad keypads[1];
    struct site_person people[PEOPLE];
    struct site_start starts[SITE_AREA_MAX];
    struct panel_zones open; /* at the start */
    bool begun;
    struct panel_program program;
    struct player player;
    int32_t percent; /* how long every timer runs, of its nominal time; 100 unless changed */
    int32_t spread; /* -1, 0, 1: how much of what is spread on purpose is drawn; 0 unless changed */
    size_t heard_count;
    struct heard heard[HEARD_MAX];
};

struct scenario {
    const char *name;
    void (*run)(struct scene *s);
};

struct scenario_list {
    const char *subject;
    const struct scenario *list;
    size_t count;
};

#define SCENARIO(function)                                                                         \
    { .name = #function, .run = function }
#define SCENARIO_LIST(of, rows)                                                                    \
    const struct scenario_list of = {                                                              \
            .subject = #of, .list = rows, .count = sizeof(rows) / sizeof(rows)[0]}

extern const struct scenario_list vectors, inputs, zones, setting, leaving, entry, alarms, faults,
        areas, paths, fine_print;

enum { SCENARIO_LISTS = 11 };
/** Every list above, in that order. */
const struct scenario_list *scenario_list_of(size_t index);

/** Runs one. scene: any memory, overwritten; afterwards it holds all that was heard. */
void scene_run(struct scene *scene, const struct scenario *scenario,
        const struct panel_tables *tables, bool checks);

/** One line of text for each thing heard, into a buffer of size bytes; gives the length, or size when it is full. */
size_t scene_transcript(const struct scene *scene, char *buffer, size_t size);

/** A number for all that was heard: equal for equal scenes, all but surely another for others (FNV-1a, 64 bit). */
uint64_t scene_digest(const struct scene *scene);

/* ---- what the house is, before the first `at` ---- */
void with_flat(struct scene *s);   /* areas HOME and FLAT */
void with_stairs(struct scene *s); /* and STAIRS, common to both */
void starts_set(struct scene *s, int area, int mode);
void starts_open(struct scene *s, int zone);
void crosses(struct scene *s, int one, int other);
void confirms_in(struct scene *s, int zone, const char *group);

/* ---- what happens ---- */
void at(struct scene *s,
        int32_t instant_s); /* what follows happens then; timers due in this second end after it */
void until(struct scene *s, int32_t instant_s); /* time passes, this second included */
void opens(struct scene *s, int zone);
void closes(struct scene *s, int zone);
void trips(struct scene *s, int zone); /* opens and closes */
void gross_blow(struct scene *s, int zone);
void checks_in(struct scene *s, int zone, bool open);
void happens(struct scene *s, enum panel_input_kind kind, int zone); /* tamper, mains lost, ... */
void sets(struct scene *s, int user, int areas, int mode);           /* at a keypad */
void sets_by(struct scene *s, enum panel_source source, int user, int areas, int mode);
void forces(struct scene *s, int user, int areas, int mode);
void sets_knowing(struct scene *s, int user, int areas, int mode); /* acknowledges faults */
void unsets(struct scene *s, int user, int areas); /* code at a keypad of these areas */
void unsets_by(struct scene *s, enum panel_source source, int user, int areas);
void completes(struct scene *s, enum panel_source source, int areas);
void bypasses(struct scene *s, int user, int zone);
void bypasses_lastingly(struct scene *s, int user, int zone);
void resets(struct scene *s, enum panel_source source);
void calendar(struct scene *s, int areas);
void hours_begin(struct scene *s, int user);
void hours_end(struct scene *s, int user);
void postpones(struct scene *s, int user, int areas);

/* ---- what must have been heard by now ---- */

/** Ends the test: "expected" and these words, then all that was heard. */
void scene_fail(const struct scene *s, const char *format, ...)
        __attribute__((format(printf, 2, 3)));

void expect_siren(struct scene *s, int32_t from_s,
        int32_t to_s);                             /* sounds once, exactly so; to_s STILL: yet */
void expect_sirens(struct scene *s, size_t count); /* so often it began to sound */
void expect_siren_starts(struct scene *s, int32_t at_s); /* one of its beginnings */
void expect_no_siren(struct scene *s);
void expect_siren_near(struct scene *s,
        int32_t at_s); /* first sounds within 10 % of then (CP-01 3.1.2, 2009 draft) */
void expect_sound(struct scene *s, enum panel_sound sound, int area, int32_t at_s);
void expect_inside(struct scene *s, bool on, int32_t at_s);
void expect_no_inside(struct scene *s);
void expect_signal(struct scene *s, enum event_kind kind, int zone,
        int32_t at_s); /* new; zone ANY: whichever */
void expect_signal_of(
        struct scene *s, enum event_kind kind, int zone, int area, int user, int32_t at_s);
void expect_signal_between(struct scene *s, enum event_kind kind, int32_t from_s, int32_t to_s);
void expect_signals(struct scene *s, enum event_kind kind, int zone, size_t count); /* new ones */
void expect_no_signal(struct scene *s, enum event_kind kind); /* neither new nor restore */
void expect_restore(struct scene *s, enum event_kind kind, int zone, int32_t at_s);
void expect_restores(struct scene *s, enum event_kind kind, int zone, size_t count);
void expect_recent(struct scene *s, int zone,
        bool recent); /* of every intrusion signal of that zone, one at least */
void expect_nothing_sent(struct scene *s); /* but set and unset */
void expect_logged(struct scene *s, enum event_kind kind, int zone, int user, enum panel_reason why,
        int32_t at_s);
void expect_nothing_logged(struct scene *s);

/* A signal: kind, zone (ANY: whichever), new or restore. */
struct sent_row {
    enum event_kind kind;
    int zone;
    bool new;
};
/* These and no others left at that instant, in this order. */
void expect_sent_in_order(struct scene *s, int32_t at_s, const struct sent_row *rows, size_t count);
void expect_first_sent(struct scene *s, int32_t at_s, enum event_kind kind); /* of that instant */
void expect_says(struct scene *s, enum panel_message message, int zone, int32_t at_s);
void expect_never_says(struct scene *s, enum panel_message message, int zone);
void expect_never_says_at(struct scene *s, enum panel_message message, int32_t at_s);
void expect_tone(struct scene *s, enum panel_tone tone, bool on, int32_t at_s);
void expect_no_tone(struct scene *s, enum panel_tone tone);
void expect_chimes(struct scene *s, int zone, size_t count);
void expect_only_signals_from(
        struct scene *s, int32_t at_s, int zone); /* what that zone's inputs then made is silent */
void expect_phase(struct scene *s, int area, enum panel_phase phase);
void expect_mode(struct scene *s, int area, int mode); /* set, in that mode */
void expect_not_set(struct scene *s, int area);
void expect_ready(struct scene *s, int area, int mode, bool ready);
void expect_in_the_way(struct scene *s, int area, int mode, int zone);
void expect_bypassed(struct scene *s, int zone, bool bypassed);
void expect_runs(struct scene *s, enum panel_timer_kind kind, unsigned index,
        int32_t left_s); /* -1: does not run */

#endif
