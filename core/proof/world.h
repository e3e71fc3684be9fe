/* The world of a routine as one timed machine: people, doors, devices and the panel.
 *
 * Activities are the panel's timers, each person's next act, messages under way from a device, a motion detector's hold
 * and sleep, and the calendar. What a promise reads is watched here; what follows is the explorer's. */
#ifndef LINTEL_PROOF_WORLD_H
#define LINTEL_PROOF_WORLD_H

#include "proof/moot.h"
#include "proof/proof.h"
#include "proof/seek.h"
#include "proof/unheard.h"

/* Activities above the panel's timers (panel_timer values are activities as they are). */
enum {
    WORLD_ACTOR = 4096,    /* + actor: the person's next act */
    WORLD_LATENCY = 4352,  /* + zone: a change of level is on its way to the panel */
    WORLD_HOLD = 4608,     /* + zone: a motion detector stays tripped */
    WORLD_SLEEP = 4864,    /* + zone: and is blind */
    WORLD_RESPONSE = 4992, /* + zone: an opening that the input does not see yet */
    WORLD_CALENDAR = 5120,
    WORLD_HOURS =
            5121, /* + actor: hours begin or end, of all actors with the same ones; keeps nothing going */
    WORLD_NO_HOURS = 0xFF,
    WORLD_UNBOUNDED_S = INT32_MAX,
    WORLD_DAY_S = 86400,
    WORLD_WINDOW = 5200,   /* a goal: the time begins, then ends, in which it counts */
    WORLD_PATIENCE = 5201, /* a goal that is to stay away: it has had time enough */
};

/* Where the search for a goal stands. */
enum world_search { WORLD_SEARCH_BEFORE, WORLD_SEARCH_COUNTS, WORLD_SEARCH_AWAY };

enum world_wait { WORLD_RUNS, WORLD_WAITS, WORLD_DONE };

/** The interval that decided in a story. It runs from the start of a panel timer to the doing of an unfolded step. The
 *  start: the `start`th (from 1) of those that the doing of step `from` made, at once or when the panel heard of it;
 *  of all its starts, where `from` is PROOF_STEP_MAX. */
struct world_probe {
    panel_timer timer;
    uint8_t start;
    size_t from;
    size_t step;
};

/** What an exploration looks for. Beside broken promises: in whom a run that is over leaves waiting (in a probe; the
 *  violation is his step, plus 1), or whether a step is ever begun (a violation, 1). */
enum world_watch { WORLD_WATCHES_PROMISES, WORLD_WATCHES_WAITING, WORLD_WATCHES_STEP };

/** Where a run stands with the probed timer. A promise broken counts in its range only once that start has ENDED:
 *  sooner, or when it was stopped or started anew, something else broke it. */
enum world_interval { WORLD_BEFORE, WORLD_TIMED, WORLD_ENDED, WORLD_PAST };

/** Everything but time. Flat, no padding; equal states are equal bytes. */
struct world_state {
    struct panel_state panel;
    struct panel_zones physical; /* what is truly open or tripped */
    struct panel_zones pending;  /* a message about it is on its way */
    struct panel_zones twice;    /* it has changed back meanwhile */
    struct panel_zones asleep;
    struct panel_zones unseen;          /* open, but the input has not seen it yet */
    uint64_t done[PROOF_STEP_MAX / 64]; /* steps done or left out */
    uint64_t doors[SITE_DOOR_MAX / 64]; /* open ones */
    uint8_t next[PROOF_ACTOR_MAX];      /* position in the actor's own list */
    uint8_t wait[PROOF_ACTOR_MAX];      /* enum world_wait */
    uint16_t chimed;                    /* bit per actor: has chimed since he last acted */
    uint8_t calendar;                   /* the auto-set is still to come */
    uint8_t starts;     /* of the probed timer, up to the one that counts; 0 without marks */
    uint32_t violation; /* the first one; kept in probes */
    uint8_t interval;   /* enum world_interval */
    uint8_t crossed;    /* the panel knows of the probed act */
    uint8_t search;     /* enum world_search */
    uint8_t moved;      /* with marks: what step probed.from acts on was last moved by it */
    uint8_t primed;     /* what the goal must come after has come */
    uint8_t spare[3];
};

/** What a run did, for a story. Lines are in an array of the caller; overflow drops the rest and says so. */
struct world_tape {
    struct proof_line *lines;
    size_t capacity;
    size_t count;
    bool overflowed;
    int32_t now_s;
};

/** Whose waits one event began, for who follows a course (guide.h). from: the first step of the wait, in the actor's
 *  list; those up to the next one to be done were joined with that. */
struct world_joins {
    uint16_t actors; /* bit per actor */
    uint8_t from[PROOF_ACTOR_MAX];
};

/** A routine joined with its panel. Filled by world_make; the pointers are kept. */
struct world {
    struct panel_program program;
    const struct site *site;
    const struct proof_routine *routine;
    struct proof_options options;
    uint8_t actors[PROOF_ACTOR_MAX]; /* person of each actor */
    size_t actor_count;
    uint8_t lists[PROOF_ACTOR_MAX][PROOF_STEP_MAX]; /* each actor's steps in order */
    uint8_t list_counts[PROOF_ACTOR_MAX];
    struct span in[PROOF_STEP_MAX]; /* each step's time, with what was joined into it */
    uint8_t group[PROOF_STEP_MAX];  /* how many following steps of the list are left out with it */
    bool harmless[PROOF_ACTOR_MAX]
                 [PROOF_STEP_MAX + 1]; /* from here on, once everything is unset for good */
    bool quiet_step[PROOF_STEP_MAX];   /* breaks nothing while all is unset */
    uint8_t hours_of[PROOF_ACTOR_MAX]; /* the first actor of the same; WORLD_NO_HOURS: none apply */
    int32_t reach_s[PROOF_ACTOR_MAX]
                   [PROOF_STEP_MAX + 1]; /* at most until the last code or fob; -1: none is left */
    struct panel_zones of_door[SITE_DOOR_MAX];
    struct span hold[PANEL_ZONE_MAX];
    struct span sleep[PANEL_ZONE_MAX];
    struct span latency[PANEL_ZONE_MAX];
    struct span response[PANEL_ZONE_MAX]; /* so long an opening must last to be seen */
    struct panel_zones radio;             /* whose messages can be lost */
    struct panel_zones quiet;             /* whose trip means nothing while unset */
    uint16_t hears_chime; /* bit per actor: has a step that asks whether it has chimed */
    uint32_t expects;
    enum world_watch watch;
    size_t watched_step; /* WORLD_WATCHES_STEP */
    bool probe;          /* looks at every run: leave nothing out */
    bool probe_marks;    /* and at the probed interval, past a broken promise */
    struct world_probe probed;
    const struct proof_goal *goal; /* NULL: broken promises are looked for */
    bool has_window;               /* the goal counts only within `window`, from instant 0 on */
    struct span window;
    struct world_tape *tape;       /* NULL: nobody writes a story */
    struct world_joins *joins;     /* NULL: nobody follows a course */
    struct panel_outputs *outputs; /* room for one step of the panel */
    struct moot moot;
    struct unheard unheard; /* off, unless the search is to leave out what nobody hears */
};

/** Joins a routine with the panel of the site. tables: NULL = the standard ones. outputs: room, kept. Fails
 *  PROBLEM_LIMIT with more than PROOF_ACTOR_MAX people in one routine; whatever panel_program_of_site fails with. */
outcome world_make(const struct site *site, const struct panel_tables *tables,
        const struct proof_routine *routine, const struct proof_options *options,
        struct panel_outputs *outputs, struct world *ret_world, struct problem *ret_problem)
        MUST_CHECK;

/** The machine of a world, for explore_run; keeps the world. */
struct explore_machine world_machine(const struct world *world);

/** A violation's parts: which promise, the zone, area and reason of the output that broke it. */
uint32_t world_violation(enum proof_promise promise, const struct panel_output *output);
enum proof_promise world_violation_promise(uint32_t violation);
uint8_t world_violation_zone(uint32_t violation);
uint8_t world_violation_area(uint32_t violation);
enum panel_reason world_violation_reason(uint32_t violation);

/** Which promise an output of the panel with this program breaks for a routine that announces `expects`;
 *  PROOF_KEPT: none. */
enum proof_promise world_promise_broken(
        const struct panel_program *program, const struct panel_output *output, uint32_t expects);

/** Whether everything is unset and calm, with nothing that sets by itself. */
bool world_all_unset(const struct world *world, const struct world_state *state);

/** Whether no message under way can break a promise of an unset panel. */
bool world_messages_are_harmless(const struct world *world, const struct world_state *state);

/** Calm: unset, and what the people still do cannot break a promise of an unset panel. */
bool world_is_calm(const struct world *world, const struct world_state *state);

/** Whether nobody does anything any more; who waits is not done. */
bool world_all_done(const struct world *world, const struct world_state *state);

/** Whether the sign can be seen or heard by this actor. area, door: SITE_NONE: any, none. "Ready" and "unset" of no
 *  named area mean every area, the other signs any. */
bool world_sign_shows(const struct world *world, const struct world_state *state,
        enum site_sign sign, int area, int door, size_t actor);

/** Whether the step is done or left out. */
static inline bool world_is_done(const struct world_state *state, size_t step) {
    return (state->done[step / 64] >> (step % 64) & 1U) != 0;
}

#endif
