/* What kind of act each is. One table for all that leaves out, joins or judges acts; what an act does in the world is
 * world.c's. Not for use outside this folder. */
#ifndef LINTEL_PROOF_ACTS_H
#define LINTEL_PROOF_ACTS_H

#include "proof/proof.h"

/** What an act moves. */
enum act_place { ACT_ON_NOTHING, ACT_ON_DOOR, ACT_ON_ZONE };

/** What it can cause. OTHER comes first: an act that nobody has described can cause anything. */
enum act_effect {
    ACT_DOES_OTHER,
    ACT_DOES_NOTHING, /* only time passes */
    ACT_DOES_MOVE,    /* what it is on opens, closes or trips */
    ACT_DOES_PRESS,   /* a button trips */
    ACT_DOES_UNSET,
    ACT_DOES_REQUEST, /* asks to set */
};

/** One act. keyed: by somebody's code or fob, so that his hours count. */
struct act_kind {
    enum act_place on;
    enum act_effect does;
    bool keyed;
};

/** The row of the act. */
const struct act_kind *act_kind_of(enum site_act act);

/** Whether the step acts on the door (SITE_NONE: none) or, being on a zone itself, on one of these zones. zone_count:
 *  of the program; a step on a zone beyond it acts on none. */
bool act_is_on(const struct proof_step *step, int door, const struct panel_zones *zones,
        unsigned zone_count);

#endif
