/* What the parts of house.c share. Internal to core/plan. */
#ifndef LINTEL_PLAN_HOUSE_INSIDE_H
#define LINTEL_PLAN_HOUSE_INSIDE_H

#include "plan/house.h"

/** The house while it is made; faults: as many as there is room for. */
struct house_maker {
    struct house *house;
    const struct site_building *building;
    size_t fault_room;
};

/** Adds a fault; one more than there is room for is left out. */
void house_tell(struct house_maker *maker, enum house_fault_kind kind, size_t index, int other,
        struct point at, int32_t amount_mm);

/** Which side of its room an edge of an outline (to the left round) is. */
enum site_side house_edge_side(struct segment edge);

/** The front left corner of a room's box, from which points in it are counted, and a point counted so. */
struct point house_in_room(const struct house *house, int room, struct site_point at);

/** The point `along_mm` from the beginning of a segment towards its end, `out_mm` to the right of it. */
struct point house_beside(struct segment edge, double along_mm, double out_mm);

/** The edge of a room on a side, the longest of several; SIZE_MAX: there is none. */
size_t house_wall(const struct house *house, int room, enum site_side side);

/** The corners of a rectangle, to the left round. */
void house_rectangle(struct point low, struct site_point size, struct point ret_corners[4]);

/** Whether a rectangle lies in a room, edges included. */
bool house_holds(const struct house *house, int room, const struct point corners[4]);

void house_openings_make(struct house_maker *maker);
void house_things_make(struct house_maker *maker);

#endif
