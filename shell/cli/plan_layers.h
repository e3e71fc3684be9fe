/* The layers of the drawing that one can ask for: one line for each in the table, and an option of its name. */
#ifndef LINTEL_CLI_PLAN_LAYERS_H
#define LINTEL_CLI_PLAN_LAYERS_H

#include "plan/drawing.h"

enum plan_layer_kind { PLAN_LAYER_SIGHT, PLAN_LAYER_COUNT };

/** One layer. option: "sight" of --sight. make: computes it; ret_layer: its context in the arena. Fails as what it
 *  computes. */
struct plan_layer {
    const char *option;
    outcome (*make)(const struct house *house, struct arena *arena, struct drawing_layer *ret_layer,
            struct problem *ret_problem);
};

extern const struct plan_layer plan_layers[PLAN_LAYER_COUNT];

#endif
