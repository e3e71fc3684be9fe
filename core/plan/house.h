/* The building as the plan sees it: every room at its place, every opening in its wall, every device at its point; and
 * what of the drawing cannot be so, with the point where it shows.
 *
 * Made from the site alone, for all that is computed on the drawing: pictures, ways, sight, break-ins. A room or
 * opening that is not good is left out there; a fault says why. Indexes are those of the site's lists. x runs to the
 * right, y to the back; all storeys share one origin. Walls are the gaps between rooms, and a wall's thickness round
 * what stands alone. Not for judging what is watched and what is not. */
#ifndef LINTEL_PLAN_HOUSE_H
#define LINTEL_PLAN_HOUSE_H

#include "base/arena.h"
#include "plan/point.h"
#include "site/site.h"

enum {
    HOUSE_OUTSIDE = -1,
    HOUSE_WALL_MOST_MM = 1000, /* what is further apart has no wall in common */
    HOUSE_SIDE_LEAST_MM = 400, /* narrower is no room: the units are mixed up */
    HOUSE_DOOR_LEAST_MM =
            700, /* where rooms have less wall in common no door is missed; common practice */
    HOUSE_SIDE_MOST_MM = 150000,
    HOUSE_REACH_MM =
            2000, /* one climbs so high without a ladder; source: UK Approved Document Q (from memory) */
};

/** A room, or ground outside. outline: to the left round. good: it can be drawn; low, high: the corners of its box.
 *  part: the first room of all those between which one walks indoors; of ground itself. cut_off: indoors nothing leads
 *  from its part to another that stands wall to wall with it, or above or below, though a door or stairs may have been
 *  forgotten there: what comes of ways to it is good only as far as it is drawn. */
struct house_room {
    struct outline outline;
    bool good;
    bool inside; /* of the building: a room, not ground */
    int storey;
    struct point low;
    struct point high;
    int part;
    bool cut_off;
};

/** An opening in its wall. near: its two jambs on the wall of its room, from left to right seen from within; far: the
 *  same on the other side of the wall; of a roof light or hatch near is its rectangle's front left and back right,
 *  and far the same. other: the room or ground on its other side, or HOUSE_OUTSIDE. reached: from outside without a
 *  ladder. edge: of the room's outline. */
struct house_opening {
    bool good;
    bool flat;
    bool reached;
    int room;
    int other;
    size_t edge;
    struct point near[2];
    struct point far[2];
};

/** A flight: its rectangle, and the middle of its lowest and highest step. run_mm: how long it is on the floor;
 *  rise_mm: how high it climbs. */
struct house_stairs {
    bool good;
    struct point corners[4];
    struct point foot;
    struct point head;
    int32_t run_mm;
    int32_t rise_mm;
};

/** A piece of furniture: its rectangle. */
struct house_block {
    bool good;
    struct point corners[4];
};

/** Where a thing is. into: a step away from the wall or corner it hangs on, {0, 0}: it stands free; faces: the step in
 *  which it looks, {0, 0}: not said. height_mm: above its floor. */
struct house_place {
    bool good;
    int room;
    struct point at;
    struct point into;
    struct point faces;
    int32_t height_mm;
};

/** What cannot be so. */
enum house_fault_kind {
    HOUSE_CROSSING, /* an outline crosses or touches itself */
    HOUSE_UNITS,    /* a room is far too small or too large */
    HOUSE_OVERLAP,  /* two rooms share floor; other: the second */
    HOUSE_UNREACHED, /* no way leads into a part of the house, by its room (where a door may be missing, if there is
                        such a place); other: the room on the other side of it */
    HOUSE_APART, /* indoors no way leads into a part of the house with a door of its own, by its room where one may be
                    missing; other: the room on the other side of it */
    HOUSE_NO_WALL, /* an opening: its rooms have no wall in common, or its room none on that side */
    HOUSE_TOO_WIDE,       /* an opening does not fit its wall; amount: mm that there are */
    HOUSE_TOO_HIGH,       /* an opening ends above the ceiling; amount: by so many mm */
    HOUSE_INTO_ROOM,      /* an opening to the outside leads into a room; other: which */
    HOUSE_OPENINGS_MEET,  /* two openings in one place; other: the second */
    HOUSE_STAIRS_OUT,     /* stairs reach out of the room where they begin */
    HOUSE_STAIRS_NOWHERE, /* stairs end outside the room above, or not one storey up */
    HOUSE_BLOCK_OUT,      /* furniture outside its room */
    HOUSE_PLACE_OUT,      /* a device outside its room */
    HOUSE_DOOR_OUTSIDE,   /* a door says that it leads outside, the drawing not, or the reverse */
    HOUSE_DOOR_TWICE,     /* two openings are one door; other: the second */
    HOUSE_FAULT_KIND_COUNT
};

/** One fault. index: of what it is about, in the list of the site that `house_fault_list` names; other: as said above,
 *  else HOUSE_OUTSIDE; at: where it shows. */
struct house_fault {
    enum house_fault_kind kind;
    size_t index;
    int other;
    struct point at;
    int32_t amount_mm;
};

/** The whole building. Arrays are as long as the site's. outer_mm, inner_mm: how thick walls are. low, high: of all
 *  that is good. */
struct house {
    const struct site *site;
    int32_t outer_mm;
    int32_t inner_mm;
    struct house_room *rooms;
    struct house_opening *openings;
    struct house_stairs *stairs;
    struct house_block *furniture;
    struct house_place *places;
    struct house_fault *faults;
    size_t fault_count;
    struct point low;
    struct point high;
};

/** Makes the house of a site that has a drawing (site->building.said). ret_house: in the arena; keeps the site. Fails
 *  with PROBLEM_MEMORY alone: what is wrong with the drawing is a fault. */
outcome house_make(const struct site *site, struct arena *arena, struct house *ret_house,
        struct problem *ret_problem) MUST_CHECK;

/** The list of the building that a fault's index counts in: "rooms", "openings", ... */
const char *house_fault_list(enum house_fault_kind kind);

/** Where a point lies on a storey: the index of the room or ground that holds it (edges included), or HOUSE_OUTSIDE. */
int house_room_at(const struct house *house, int storey, struct point at);

#endif
