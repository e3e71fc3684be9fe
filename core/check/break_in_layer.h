/* The ways of break-ins on the drawing: of everything that is not heard in time the way that is heard the latest; where
 * all is, that with the least time to spare. */
#ifndef LINTEL_CHECK_BREAK_IN_LAYER_H
#define LINTEL_CHECK_BREAK_IN_LAYER_H

#include "check/break_ins.h"
#include "plan/drawing.h"
#include "plan/portals.h"

/** The site with the break-ins of its drawing, whatever it says by hand or asks for. house: of the same site. Fails
 *  PROBLEM_MEMORY, PROBLEM_LIMIT, PROBLEM_SYSTEM. */
outcome break_ins_draw(const struct house *house, struct arena *arena, struct site *ret_site,
        struct portals *ret_portals, struct problem *ret_problem) MUST_CHECK;

/** What the layer draws from; all outlive it. site: with the break-ins of the drawing. */
struct break_in_drawn {
    const struct site *site;
    const struct house *house;
    const struct portals *portals;
    const struct break_ins *all;
};

/** The layer; drawn: borrows. */
struct drawing_layer break_in_layer(const struct break_in_drawn *drawn);

/** Whether the layer draws the way of this one. */
bool break_in_is_drawn(const struct break_ins *all, const struct break_in *it);

#endif
