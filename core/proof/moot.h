/* What cannot matter any more because the routine announces it.
 *
 * A routine that announces siren and alarm lets an alarm take its course. Then a run in which nobody is still to do
 * anything that could break another promise ends well at once. And where, before anybody asks to set again, somebody
 * surely unsets everything, whatever the alarm does until then is wiped out by that code: everything is as good as
 * unset now. Where only the siren is announced, an alarm whose signal waits for its abort window hangs on that window
 * alone: a code ends it, or the signal leaves and breaks the promise; further trips change nothing. */
#ifndef LINTEL_PROOF_MOOT_H
#define LINTEL_PROOF_MOOT_H

#include "proof/unheard.h"

/** Filled by moot_find. */
struct moot {
    bool announced; /* siren and alarm are, and every act is one that can cause nothing else but by a code or request */
    bool sounded; /* the siren is, the alarm signal is not; acts as above */
    bool exits;   /* exit errors and refusals are announced too */
    bool wiped;   /* a code leaves nothing of an alarm, and nobody looks at what the panel shows */
    bool asks[PROOF_ACTOR_MAX]
             [PROOF_STEP_MAX + 1]; /* from here on a code or request can break a promise */
    struct step_set wipes;         /* codes that surely unset everything */
};

/** Finds it for a world that is made but for this and what is unheard. */
void moot_find(const struct world *world, struct moot *ret_moot);

/** Whether no promise can break any more. Only where what nobody hears is left out. */
bool moot_nothing_left(const struct world *world, const struct world_state *state);

/** Whether everything is as good as unset. As above. ret_input: the code that makes it
 *  so. */
bool moot_is_wiped(
        const struct world *world, const struct world_state *state, struct panel_input *ret_input);

/** Whether a code is surely keyed in everywhere before the next request. As above. */
bool moot_is_wiped_next(const struct world *world, const struct world_state *state);

/** Whether the area's alarm waits for its abort window, and nothing else of it matters. As above. */
bool moot_is_held(const struct world *world, const struct world_state *state, unsigned area);

/** Whether the end of the entry time that runs begins such a wait. As above. */
bool moot_expiry_holds(const struct world *world, const struct world_state *state, unsigned area);

#endif
