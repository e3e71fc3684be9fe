/* The player: the panel with integer deadlines.
 *
 * The panel is blind to time; the player gives it one possible course of it, second by second: it keeps the timers
 * that run with the instant at which each ends, and hands every output to a listener with the instant at which it
 * left. Used to tell a routine, to replay a story of the prover, to rehearse, and to read the past. It has no clock:
 * whoever calls says what time it is. It is not the prover: one choice of durations, never all of them.
 *
 * Order on one second (design page, "Same second"): inputs in the order of the calls, then timer ends in table
 * order, which is the order of the timers' numbers. A story that needs another order ends its timers itself
 * (player_end_timer). Timers end at their nominal time unless `choose` says otherwise. */
#ifndef LINTEL_PANEL_PLAYER_H
#define LINTEL_PANEL_PLAYER_H

#include "panel/panel.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

enum {
    /* Every timer that a panel can have at once: so the list below cannot overflow. */
    PLAYER_TIMER_MAX = (PANEL_TIMER_CROSS - PANEL_TIMER_EXIT) * PANEL_AREA_MAX +
            (PANEL_TIMER_LOCKOUT - PANEL_TIMER_CROSS) * PANEL_ZONE_MAX +
            (PANEL_TIMER_KIND_COUNT - PANEL_TIMER_LOCKOUT),
    PLAYER_FOREVER_S = INT32_MAX, /* no instant comes after it */
};

/** A running timer and the instant at which it ends. */
struct player_timer {
    int32_t ends_s;
    panel_timer timer;
};

/** What a caller may hang in; each function may be NULL. context is handed back and may be NULL.
 *  hear: one output of the panel, the instant at which it left, and the input that made it (NULL: panel_begin); all
 *  borrowed for the call. The listener must not call the player.
 *  choose: how long this start or shortening (output->kind PANEL_OUT_START, PANEL_OUT_SHORTEN) takes, in seconds, >= 0;
 *  NULL: output->seconds_s, the nominal time, also for timers marked at_least. */
struct player_hooks {
    void (*hear)(void *context, int32_t now_s, const struct panel_input *input,
            const struct panel_output *output);
    int32_t (*choose)(void *context, int32_t now_s, const struct panel_output *output);
    void *context;
};

/** A panel being played. Filled by player_begin; read freely, changed only by the functions below. */
struct player {
    const struct panel_program *program; /* kept */
    struct player_hooks hooks;
    struct panel_state state;
    int32_t now_s;
    size_t timer_count;
    struct player_timer timers[PLAYER_TIMER_MAX]; /* by the instant of their end, then by number */
    struct panel_outputs outputs;                 /* of the latest step */
};

/** Begins with a quiet panel (see panel_begin for starts and open) at the instant now_s, in seconds since whatever the
 *  caller counts from; may be negative. Keeps the program and what hooks.context points to. */
void player_begin(struct player *player, const struct panel_program *program,
        const struct site_start *starts, const struct panel_zones *open, int32_t now_s,
        struct player_hooks hooks);

/** One input at the present instant. An input PANEL_IN_TIMER is handed on as it is; use player_end_timer to end a
 *  running timer. */
void player_input(struct player *player, struct panel_input input);

/** Time passes: ends every timer due before instant_s, in order, each at its own instant; those due at instant_s wait,
 *  because inputs of that second come first. instant_s: not before now_s, else nothing happens. */
void player_advance_to(struct player *player, int32_t instant_s);

/** Ends what is due at the present instant, in table order: no more inputs come in this second. */
void player_settle(struct player *player);

/** Ends one running timer that is due at the present instant, out of turn (a story says in which order the ends and
 *  inputs of a second came). False, and nothing happens, when it does not run or is due at another instant. */
bool player_end_timer(struct player *player, panel_timer timer);

/** The timer that ends next; false when none runs. ret_timer: untouched then. */
bool player_next_due(const struct player *player, struct player_timer *ret_timer);

/** Seconds until this timer ends, >= 0; -1 when it does not run. */
int32_t player_left_s(const struct player *player, panel_timer timer);

#endif
