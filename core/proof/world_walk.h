/* What the parts of the world's machine share while one firing is under way. Of this folder only. */
#ifndef LINTEL_PROOF_WORLD_WALK_H
#define LINTEL_PROOF_WORLD_WALK_H

#include "proof/world.h"

/* One firing under way. */
struct world_happening {
    const struct world *world;
    struct world_state *state;
    struct explore_effects *effects;
    size_t step;    /* that is being done, or PROOF_STEP_MAX */
    unsigned zone;  /* whose level changes or arrives, with no step; else PANEL_NO_ZONE */
    bool lost;      /* radio messages of this act do not arrive */
    bool too_short; /* this act ended an opening that its input had not seen */
    bool moved;     /* this act moved a door or tripped a detector */
};

static inline bool world_bit_has(const uint64_t *bits, size_t index) {
    return (bits[index / 64] >> (index % 64) & 1U) != 0;
}

static inline void world_bit_set(uint64_t *bits, size_t index, bool on) {
    const uint64_t bit = (uint64_t)1 << (index % 64);
    bits[index / 64] = on ? bits[index / 64] | bit : bits[index / 64] & ~bit;
}

/* world.c */

/** The next line of the story that is being told, or NULL where none is. */
struct proof_line *world_tape_line(const struct world_happening *now, enum proof_line_kind kind);
void world_add_effect(struct world_happening *now, enum explore_effect_kind kind, unsigned activity,
        struct span span);
struct span world_scaled(const struct world *world, struct span span);
void world_tell_panel(struct world_happening *now, struct panel_input input);

/* world_device.c */

/** A door, a contact or a detector's relay moves. */
void world_change_level(struct world_happening *now, unsigned zone, bool open);
/** An opening has lasted for its input's loop response. */
void world_opening_is_seen(struct world_happening *now, unsigned zone);
/** A message under way reaches the panel. */
void world_message_arrives(struct world_happening *now, unsigned zone);
/** A motion detector, a shock detector or a button trips. */
void world_trip(struct world_happening *now, unsigned zone);
void world_move_door(struct world_happening *now, int door, bool open);
bool world_is_level(const struct world *world, unsigned zone);

#endif
