/* The layers of the drawing that one can ask for: one line for each in the table. `lintel plan` has an option of its
 * name, the page offers it by itself (docs/serving.md). */
#ifndef LINTEL_PLAN_LAYERS_H
#define LINTEL_PLAN_LAYERS_H

#include "plan/drawing.h"

enum plan_layer_kind { PLAN_LAYER_SIGHT, PLAN_LAYER_WAYS, PLAN_LAYER_COUNT };

/** One layer. option: "sight" of --sight. make: computes it; ret_layer: its context in the arena. Fails as what it
 *  computes. */
struct plan_layer {
    const char *option;
    outcome (*make)(const struct house *house, struct arena *arena, struct drawing_layer *ret_layer,
            struct problem *ret_problem);
};

extern const struct plan_layer plan_layers[PLAN_LAYER_COUNT];

/** The building alone and every layer, those of the table and `more`, with what each draws on every storey, as a JSON
 *  array of {"name", "storeys": [{"under", "over"}]}. only: the one that is wanted, every other one has its name and
 *  draws nothing; empty: all. scale: of the drawing that they lie on. A layer that cannot be computed says why under
 *  "problem" and draws nothing. Fails with PROBLEM_MEMORY alone. */
outcome plan_layers_add_json(const struct house *house, const struct plan_layer *more,
        size_t more_count, struct text only, int32_t scale, struct arena *arena, const char *name,
        struct json_writer *json, struct problem *ret_problem) MUST_CHECK;

#endif
