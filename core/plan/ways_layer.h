/* The ways that people use, as a layer of the drawing: a thick line from the door with an arrow at the keypad, and
 * beside it how long it is and takes. */
#ifndef LINTEL_PLAN_WAYS_LAYER_H
#define LINTEL_PLAN_WAYS_LAYER_H

#include "plan/drawing.h"
#include "plan/used_ways.h"

/** What the layer draws from; both outlive it. */
struct ways_drawn {
    const struct house *house;
    const struct used_ways *ways;
};

/** The layer; drawn: borrows. */
struct drawing_layer ways_layer(const struct ways_drawn *drawn);

/** "8.3 m, 5.9 to 9.2 s": the length to a tenth of a metre, seconds to a tenth. */
struct text used_way_figures(struct arena *arena, const struct used_way *way);

#endif
