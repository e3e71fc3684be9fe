/* Points, walls and outlines of a drawing, in whole millimetres, with tests that are never wrong by rounding: which way
 * three points turn, whether two walls cross, whether a point is in a room. Knows nothing of sites or buildings.
 *
 * x grows to the right, y upwards; turns and areas are positive to the left (against the clock). Exactness: with
 * coordinates up to PLAN_REACH_MM either way differences stay under 2^20, so that every product of two fits 64 bits
 * with room to sum them. */
#ifndef LINTEL_PLAN_POINT_H
#define LINTEL_PLAN_POINT_H

#include "base/problem.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

enum {
    PLAN_REACH_MM = 1 << 18,     /* a drawing lies within 262 m of its origin, either way */
    OUTLINE_CORNERS_MOST = 4096, /* of one outline */
};

/** A place on a storey, or a step from one to another. */
struct point {
    int32_t x_mm;
    int32_t y_mm;
};

/** A straight piece of wall, without thickness. */
struct segment {
    struct point from;
    struct point to;
};

/** A ring of at least three corners, in either direction; the last is joined to the first. Borrows the corners. */
struct outline {
    const struct point *corners;
    size_t count;
};

enum place { PLACE_OUTSIDE, PLACE_ON_EDGE, PLACE_INSIDE };

/** Same place. */
bool point_equal(struct point a, struct point b);

/** The step from a to b. */
struct point point_step(struct point a, struct point b);

/** Whether both coordinates are within PLAN_REACH_MM. Everything below asks for such points. */
bool point_in_reach(struct point a);

/** The cross product of two steps, mm2: twice the area of the triangle between them, > 0 if b is to the left of a. */
int64_t point_cross(struct point a, struct point b);

/** The dot product of two steps, mm2. */
int64_t point_dot(struct point a, struct point b);

/** 1, -1 or 0: from a over b to c goes left, right or straight on (or back). */
int point_turn(struct point a, struct point b, struct point c);

/** How far apart, mm. */
double point_distance_mm(struct point a, struct point b);

/** A quarter turn to the left about the origin, and a mirror in the y axis: what must change no answer. */
struct point point_quarter_turn(struct point a);
struct point point_mirror(struct point a);

/** Whether the point is on the segment, ends included. */
bool segment_holds(struct segment wall, struct point at);

/** Whether the two cross at one point that is inside of both. */
bool segment_crosses(struct segment a, struct segment b);

/** Whether the two have any point in common: they cross, touch, or lie on each other. */
bool segment_meets(struct segment a, struct segment b);

/** Twice the area in mm2, > 0 if the corners run to the left round it. Exact for an outline that does not cross itself.
 *  Source: the surveyor's formula. */
int64_t outline_twice_area_mm2(struct outline outline);

/** The area in m2, >= 0. */
double outline_area_m2(struct outline outline);

/** Where a point is. Of an outline that crosses itself, inside is where a way out crosses it an odd number of times. */
enum place outline_place(struct outline outline, struct point at);

/** The edge from corner index to the next one. */
struct segment outline_edge(struct outline outline, size_t index);

/** Whether the outline is one that a room can have: 3 to OUTLINE_CORNERS_MOST corners in reach, no two edges that
 *  meet but for neighbours at their corner, no edge of no length, no spike. Otherwise ret_edges holds the first two
 *  edges (by index) that meet, or twice the same corner where it is too near, out of reach or a spike; untouched when
 *  simple. O(count^2). */
bool outline_is_simple(struct outline outline, size_t ret_edges[2]);

#endif
