/* The world of a break-in at one moment: the panel, the devices, the time left of each running timer. Not for use
 * outside this folder, but for its tests. */
#ifndef LINTEL_BREAKIN_MOMENT_H
#define LINTEL_BREAKIN_MOMENT_H

#include "breakin/devices.h"

/** Everything but time and place. Flat, no padding; equal modes are equal bytes. timers: those that run, ascending. */
struct moment_mode {
    struct panel_state panel;
    struct devices_bits bits;
    uint16_t timers[BREAKIN_TIMER_MAX];
    uint16_t timer_count;
    uint16_t spare[3];
};

/** left_s: by the mode's timers. age_s: since he was heard, -1: not yet. overflowed: more timers than there is room
 *  for: whatever follows is not settled. */
struct moment {
    struct moment_mode mode;
    int32_t left_s[BREAKIN_TIMER_MAX];
    int32_t age_s;
    bool overflowed;
};

/** A world with room for one step of the panel. */
struct moments {
    const struct devices_world *world;
    struct panel_outputs *outputs;
};

/** The moment at which the intruder begins. */
void moment_begin(const struct moments *moments, struct moment *ret_moment);

/** Time passes: every timer due before its end ends, in the order of their instants, then of their numbers; those due
 *  at its end wait, with nothing left. seconds_s: >= 0. */
void moment_pass(const struct moments *moments, struct moment *moment, int32_t seconds_s);

/** Ends what is due now. */
void moment_settle(const struct moments *moments, struct moment *moment);

/** What a step trips and opens, contacts first, and whether what opened is closed again. */
void moment_notice(const struct moments *moments, struct moment *moment,
        const struct panel_zones *opens, const struct panel_zones *trips, bool closes);

/** The least that is left of any timer; -1 when none runs. */
int32_t moment_next_s(const struct moment *moment);

/** In how many seconds he is heard if he does nothing more: 0 or more; minus his age when he has been heard;
 *  BREAKIN_NEVER_S: never. moment: is played on. */
int32_t moment_heard_in_s(const struct moments *moments, struct moment *moment);

#endif
