/* The plan of one storey as a picture: walls, openings, stairs, furniture, devices by their zones, measures and a
 * legend. */
#ifndef LINTEL_PLAN_DRAWING_H
#define LINTEL_PLAN_DRAWING_H

#include "plan/house.h"
#include "plan/picture.h"

/** What the legend says of a role of a layer, beside a line or a piece of area drawn in it. */
struct drawing_row {
    enum picture_role role;
    enum picture_form form; /* PICTURE_AREA or PICTURE_LINE */
    const char *says;
};

/** Shapes of a layer (ways, sight, blind floor, break-ins), added by whoever computed them. under: what lies on the
 *  floors, below furniture and walls; over: what lies on top, below the devices. Either may be NULL. rows: of the
 *  legend, where such a role was drawn. note: a line below the drawing, or NULL. context: handed back; only read. */
struct drawing_layer {
    void (*under)(const void *context, struct picture *picture, int storey);
    void (*over)(const void *context, struct picture *picture, int storey);
    const void *context;
    const struct drawing_row *rows;
    size_t row_count;
    const char *note;
};

/** The scale at which every storey of the house fits a sheet of A4 with its legend: 1:20, 25, 50, 100, 200 or 500. */
int32_t drawing_scale(const struct house *house);

/** The picture of a storey. layers: one over the other in their order; none: the building alone. Fails with
 *  PROBLEM_MEMORY alone. */
outcome drawing_make(const struct house *house, int storey, int32_t scale,
        const struct drawing_layer *layers, size_t layer_count, struct arena *arena,
        struct picture *ret_picture, struct problem *ret_problem) MUST_CHECK;

#endif
