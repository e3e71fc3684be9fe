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

/** A point within a simple outline. */
struct point house_point_inside(struct outline outline);

/** Whether two outlines have floor in common, and where. */
bool house_share_floor(struct outline one, struct outline other, struct point *ret_at);

/** The longest stretch of wall between two rooms of a storey: its length, and the middle of it on the wall of `room`.
 *  0: they have none in common. */
double house_common_wall(const struct house *house, int room, int other, struct point *ret_middle);

/** Which rooms one walks between indoors, and which are cut off. False: no memory. */
bool house_parts_make(struct house_maker *maker, struct arena *arena);

void house_openings_make(struct house_maker *maker);
void house_things_make(struct house_maker *maker);

#endif
