/* What detectors see, as a layer of the drawing: floor that is seen hatched, blind floor dotted, the edge of each
 * detector's sight, and a line from each glass-break detector to its panes. */
#ifndef LINTEL_PLAN_COVERAGE_LAYER_H
#define LINTEL_PLAN_COVERAGE_LAYER_H

#include "plan/coverage.h"
#include "plan/drawing.h"

/** What the layer draws from; both outlive it. */
struct coverage_drawn {
    const struct house *house;
    const struct coverage *coverage;
};

/** The layer; drawn: borrows. */
struct drawing_layer coverage_layer(const struct coverage_drawn *drawn);

#endif
