/* Seeking: can this be observed in the course of that routine, and at which hours?
 *
 * The same machine as the proof, explored to the end at every timing; but what is looked for is any output of the
 * panel that the caller names (a chime, a siren of one zone while set), or that such an output stays away. For the
 * service call: there is no second opinion of what the panel does. */
#ifndef LINTEL_PROOF_SEEK_H
#define LINTEL_PROOF_SEEK_H

#include "proof/proof.h"

/** What is looked for. context: handed back, may be NULL.
 *  is_met: whether this output is it; after: the panel once it has answered.
 *  is_first: an output that must have come before it or be it itself; NULL: nothing need.
 *  while_unset: it may also come when everything is unset and nobody does anything but walk (a chime).
 *  stays_away: what is looked for is that no output meets the goal within patience_s after the unfolded step
 *  `after_step`, if counts() says so of the panel just before that step (NULL: it always counts). */
struct proof_goal {
    bool (*is_met)(const void *context, const struct panel_output *output,
            const struct panel_state *after);
    bool (*is_first)(const void *context, const struct panel_output *output,
            const struct panel_state *after);
    bool (*counts)(const void *context, const struct panel_state *before);
    const void *context;
    bool while_unset;
    bool stays_away;
    size_t after_step;
    int32_t patience_s;
};

/** What was found. found: at some timing it happens. settled: the search went to its end (else neither is claimed).
 *  in_window: it can happen within the window that was asked for. always: it happens however the times fall.
 *  has_when: `when` holds every instant, in seconds since the routine began, at which it can happen first.
 *  answer: routine, story (within the window if it can be), culprit and promise, as of a routine that goes wrong.
 *  classes: what all of it took. */
struct proof_sought {
    bool found;
    bool settled;
    bool in_window;
    bool always;
    bool has_when;
    struct explore_ranges when;
    struct proof_answer answer;
};

/** Looks for the goal in the routine. window: the instants, since the routine began, in which it must happen; NULL: at
 *  any. Arrays are in the arena; pages serve the searches. Fails as proof_run. */
outcome proof_seek(const struct site *site, const struct proof_routine *routine,
        const struct proof_goal *goal, const struct span *window,
        const struct proof_options *options, struct pages pages, struct arena *arena,
        struct proof_sought *ret_sought, struct problem *ret_problem) MUST_CHECK;

#endif
