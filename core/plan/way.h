/* A way through a building as a value: the corners it passes, storey by storey, and what it crosses when. */
#ifndef LINTEL_PLAN_WAY_H
#define LINTEL_PLAN_WAY_H

#include "plan/point.h"

/** A place of a building. into: a step to the side of the wall it is on from which it is used; {0, 0}: from either
 *  side. Does not matter away from walls. */
struct walk_place {
    uint32_t storey;
    struct point at;
    struct point into;
};

/** A corner of a way. after_mm: how far the way has come. */
struct way_stop {
    uint32_t storey;
    struct point at;
    double after_mm;
};

/** A way: straight from stop to stop; two stops on different storeys are a stair's ends. count 0: there is none. */
struct way {
    const struct way_stop *stops;
    size_t count;
    double length_mm;
};

/** Where on the way a walker is who has come this far: a storey and a place, in doubles. at_mm: 0 .. length_mm, taken
 *  to the nearest of these. On a stair: its first end until half way, then the other. The way has a stop. */
void way_place_at(const struct way *way, double at_mm, uint32_t *ret_storey, double *ret_x_mm,
        double *ret_y_mm);

/** How far the way has come each time it passes a line from one side to the other (a doorway, the edge of a garden),
 *  its ends included; touching it and turning back is no passing, running along it counts where it is left on the
 *  other side. ret_at_mm: room for `most`. Answers how many there are, which may be over `most`. */
size_t way_crossings(const struct way *way, uint32_t storey, struct segment line, double *ret_at_mm,
        size_t most);

#endif
