/* Doors and detectors that nobody hears any more before they are at rest again.
 *
 * A *unit* is a door with all that sits on it, or a detector of no door. While the panel does nothing on its trips
 * (unset; or an entry time runs whose end would break a promise anyway), what matters of it is how it stands when
 * somebody next asks to set. Where every act on it that can come before that request surely comes so early that its
 * messages have arrived and its hold is over, and the last act on a door is a closing, the unit will then be at rest
 * whatever happens meanwhile: so it is at rest now, its acts do nothing, and steps that do nothing are joined with the
 * step after them. Exact: the same courses go wrong; but stories and lengths are told with the whole machine. */
#ifndef LINTEL_PROOF_UNHEARD_H
#define LINTEL_PROOF_UNHEARD_H

#include "panel/panel.h"
#include "proof/proof.h"

enum {
    UNHEARD_UNIT_MAX = 32,   /* further ones are always heard */
    UNHEARD_REQUEST_MAX = 8, /* with more requests to set in a routine everything is heard */
    UNHEARD_NO_UNIT = 0xFF,
};

/** A set of unfolded steps. */
struct step_set {
    uint64_t word[PROOF_STEP_MAX / 64];
};

static inline bool step_set_has(const struct step_set *set, size_t step) {
    return (set->word[step / 64] >> (step % 64) & 1U) != 0;
}
static inline void step_set_add(struct step_set *set, size_t step) {
    set->word[step / 64] |= (uint64_t)1 << (step % 64);
}

struct unheard_unit {
    struct panel_zones zones;
    int door;                /* SITE_NONE: a detector of no door */
    struct step_set touches; /* acts on it */
    uint8_t areas;           /* bit per area that hears it */
    bool still;              /* hears nothing while an exit time runs, nor is it read at its end */
    int32_t fades_s;         /* so long after the last act its messages can be under way */
    int32_t rests_s;         /* and so long it can be tripped or blind */
};

/** A request to set. Sets of steps and seconds are of its routine, tolerance and shortenings within. */
struct unheard_request {
    size_t step;
    uint8_t areas;                 /* bit per area that it may concern */
    int32_t exit_s;                /* surely so long from it until anything is set */
    struct step_set after;         /* steps that, if done, are done after it */
    int32_t lag_s[PROOF_STEP_MAX]; /* surely so long before it; -1: not surely before it */
    struct step_set early[UNHEARD_UNIT_MAX]; /* acts that have come to rest by then */
    struct step_set faded[UNHEARD_UNIT_MAX]; /* acts whose messages have arrived by then */
    bool ends_closed[UNHEARD_UNIT_MAX];      /* whoever acts on it before, closes it last */
};

/** What of a world nobody hears. on: false: everything is heard. */
struct unheard {
    bool on;
    bool calm_acts; /* no step but doors, walking, codes and requests */
    struct unheard_unit units[UNHEARD_UNIT_MAX];
    size_t unit_count;
    struct unheard_request requests[UNHEARD_REQUEST_MAX];
    size_t request_count;
    uint8_t unit_of[PROOF_STEP_MAX]; /* UNHEARD_NO_UNIT: does not act on one */
    struct step_set joins;           /* steps that may be joined with the next if they do nothing */
    struct step_set follows;         /* steps that one may be joined with */
    struct step_set waited_for;
};

struct world;
struct world_state;

/** Finds the units, requests and distances of a world that is made but for this; its options count. */
void unheard_find(const struct world *world, struct unheard *ret_unheard);

/** Whether the unit is unheard in this state. ret_closed: whether it then stands closed (else: as it is). */
bool unheard_is(
        const struct world *world, const struct world_state *state, size_t unit, bool *ret_closed);

/** Whether the step, done in this state or later but before its actor's next step that does something, changes nothing
 *  but time. */
bool unheard_step(const struct world *world, const struct world_state *state, size_t step);

/** Whether all is unset and nothing is remembered of an alarm: a code changes nothing. */
bool unheard_is_blank(const struct world *world, const struct world_state *state);

/** Whether the request is still to come, and none of these areas surely before it: that one would hear first. */
bool unheard_may_be_first(const struct unheard *unheard, const struct world_state *state,
        const struct unheard_request *request, uint8_t areas);

/** Whether the step changes nothing in this state and may be joined with `next`, the one after it in its actor's list
 *  (PROOF_STEP_MAX: it is the last). False where everything is heard. */
bool unheard_joins(
        const struct world *world, const struct world_state *state, size_t step, size_t next);

#endif
