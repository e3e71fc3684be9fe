/* The building as it is written in the site file: storeys, rooms, what is in their walls and in them. Lengths are whole
 * millimetres. x runs to the right of the drawing, y to its back; a room's measures are clear inside, wall to wall.
 * Where rooms stand and where openings really are is worked out from this by the plan (plan/house.h); it is kept here
 * as it was written, so that a change to one room moves those that hang on it.
 *
 * Rooms, openings and the rest are one list each for the whole building; a room names its storey. */
#ifndef LINTEL_SITE_BUILDING_H
#define LINTEL_SITE_BUILDING_H

#include "base/span.h"
#include "base/text.h"
#include "site/limit.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

enum {
    SITE_STOREY_MAX = 10,
    SITE_ROOM_MAX = 200,
    SITE_CORNER_MAX = 64, /* of one room */
    SITE_OPENING_MAX = 400,
    SITE_STAIRS_MAX = 32,
    SITE_FURNITURE_MAX = 400,
    SITE_PLACE_MAX = 400,
    SITE_MATERIAL_MAX = 100,
};

/** A point of the drawing, or how far one lies from another. */
struct site_point {
    int32_t x_mm;
    int32_t y_mm;
};

/** Sides of a room as the drawing lies before one: front is the lower edge, back the upper. */
enum site_side {
    SITE_SIDE_UNSAID,
    SITE_SIDE_FRONT,
    SITE_SIDE_RIGHT,
    SITE_SIDE_BACK,
    SITE_SIDE_LEFT,
    SITE_SIDE_COUNT
};

/** Directions, anticlockwise from right in steps of 45 degrees. */
enum site_direction {
    SITE_FACES_UNSAID,
    SITE_FACES_RIGHT,
    SITE_FACES_BACK_RIGHT,
    SITE_FACES_BACK,
    SITE_FACES_BACK_LEFT,
    SITE_FACES_LEFT,
    SITE_FACES_FRONT_LEFT,
    SITE_FACES_FRONT,
    SITE_FACES_FRONT_RIGHT,
    SITE_DIRECTION_COUNT
};

enum site_corner {
    SITE_CORNER_UNSAID,
    SITE_CORNER_FRONT_LEFT,
    SITE_CORNER_FRONT_RIGHT,
    SITE_CORNER_BACK_RIGHT,
    SITE_CORNER_BACK_LEFT,
    SITE_CORNER_COUNT
};

/** One row of the table of materials. thickness_mm: of a wall of it, as usual; 0: no wall is made of it.
 *  forced: how long it holds a determined intruder, about; forced_said. glass: one can look through it. Source and
 *  certainty stand beside the row in the file. */
struct site_material {
    struct text name;
    struct text says;
    int32_t thickness_mm;
    struct span forced;
    bool forced_said;
    bool glass;
    struct text source;
    enum site_certainty certainty;
};

/** The table of materials that the building refers to. */
struct site_materials {
    struct text name;
    struct text says;
    struct site_material *rows;
    size_t row_count;
};

/** floor_mm: above the ground before the house; may be negative. floor_said: else it follows from the storey below.
 *  ceiling_mm: clear height of its rooms. slab_mm: of the floor above it. */
struct site_storey {
    struct text name;
    int32_t floor_mm;
    bool floor_said;
    int32_t ceiling_mm;
    int32_t slab_mm;
};

/** What a polygon of the drawing is: a room, or ground outside that one can stand on. */
enum site_room_kind { SITE_ROOM, SITE_YARD, SITE_FLAT_ROOF, SITE_BALCONY, SITE_ROOM_KIND_COUNT };

/** A room, or ground outside. Its shape: size (a rectangle), outline (corners in either direction, measured from
 *  `at`), or neither, with `above`: that of the room below. Its place: `at` (a point of the drawing), or beside another
 *  room of the same storey with a wall between, moved along that wall by `shift`, or above one of the storey below.
 *  party: bit per site_side of a neighbour's building. from: ground outside: from which other ground one gets
 *  there, SITE_NONE: from the street; climb: how long that takes beside walking; not said: it is open. apart: of a
 *  room: no door indoors leads to it and those behind it, and none is missing. */
struct site_room {
    struct text name;
    enum site_room_kind kind;
    int storey; /* SITE_NONE: that of the room it hangs on, else the first */
    struct site_point size;
    bool size_said;
    const struct site_point *outline;
    size_t outline_count;
    struct site_point at;
    bool at_said;
    int right_of; /* rooms, or SITE_NONE */
    int left_of;
    int behind;
    int in_front_of;
    int above;
    int32_t shift_mm;
    int walls; /* material, or SITE_NONE */
    uint32_t party;
    int from;
    struct span climb;
    bool climb_said;
    bool apart;
};

enum site_opening_kind {
    SITE_OPENING_DOOR,
    SITE_OPENING_WINDOW,
    SITE_OPENING_SLIDING,
    SITE_OPENING_GARAGE,
    SITE_OPENING_ROOF_LIGHT,
    SITE_OPENING_HATCH,
    SITE_OPENING_GAP, /* an opening without a leaf: always open */
    SITE_OPENING_KIND_COUNT
};

/** Whether one reaches an opening from outside without a ladder. */
enum site_reach { SITE_REACH_UNSAID, SITE_REACH_YES, SITE_REACH_NO, SITE_REACH_COUNT };

/** An opening in a wall, or in the ceiling (roof light, hatch). room: seen from there; to: the other room or ground,
 *  SITE_NONE: outside. wall: on which side of `room`; needed where `to` does not say it. from_left_mm: from the left
 *  corner of that wall, seen from within `room`, to the opening; not said: in the middle of it, or of the stretch that
 *  both rooms share.
 *  at: of a roof light or hatch, from the room's front left corner. Widths and heights: 0 = as usual for its kind.
 *  door: the one of the site that it is, or SITE_NONE. */
struct site_opening {
    struct text name;
    enum site_opening_kind kind;
    int door;
    int room;
    int to;
    enum site_side wall;
    int32_t from_left_mm;
    bool from_left_said;
    struct site_point at;
    bool at_said;
    int32_t width_mm;
    int32_t height_mm;
    int32_t sill_mm;
    bool sill_said;
    enum site_reach reach;
    int material; /* SITE_NONE: as usual for its kind */
    int32_t frame_mm;
};

/** A flight of stairs: a rectangle in `room` (from its front left corner), climbed in the direction `up`, that ends in
 *  the room `to` of the storey above. */
struct site_stairs {
    struct text name;
    int room;
    int to;
    struct site_point at;
    struct site_point size;
    enum site_side up; /* towards which side one climbs */
};

/** What stands in a room. at: from the room's front left corner. height_mm: what is higher than eyes cuts sight. */
struct site_furniture {
    struct text name;
    int room;
    struct site_point at;
    struct site_point size;
    int32_t height_mm;
};

/** Fixed things that are no devices. */
enum site_fixture {
    SITE_FIXTURE_NONE,
    SITE_FIXTURE_PANEL,
    SITE_FIXTURE_ROUTER,
    SITE_FIXTURE_MAINS,
    SITE_FIXTURE_LINE, /* where the line to the station comes in */
    SITE_FIXTURE_COUNT
};

/** Where something is: exactly one of device, keypad, fixture, protects. protects: what is worth protecting, by its
 *  name; empty: nothing. Its point: `at` from the room's front left corner; or a corner; or a wall, from_left_mm along
 *  it as of an opening; none of them: the middle of the room. faces: of a motion detector; unsaid: out of the corner or
 *  away from the wall; towards: exactly, a point measured as `at`. takes_s: of what is protected and of fixtures: least
 *  time there until somebody has it. only: nothing else feeds the panel, or carries its signals: whoever cuts it has
 *  silenced it. */
struct site_place {
    int device;
    int keypad;
    enum site_fixture fixture;
    struct text protects;
    int room;
    struct site_point at;
    bool at_said;
    enum site_corner corner;
    enum site_side wall;
    int32_t from_left_mm;
    bool from_left_said;
    int32_t height_mm; /* 0: as usual for what it is */
    enum site_direction faces;
    struct site_point towards;
    bool towards_said;
    int32_t takes_s;
    bool only;
};

struct site_leg; /* site.h */

/** How somebody goes through the drawn building: what is passed, and how long each takes; last: to where it ends. */
struct site_route {
    const struct site_leg *legs;
    size_t leg_count;
    struct span last;
};

struct recall; /* plan/recall.h */

/** The whole building; said: the site file has one. outer, inner: what its walls are made of, and how thick. recall: no
 *  part of the file: what was worked out of earlier drawings, of whoever looks again and again, or NULL. */
struct site_building {
    bool said;
    struct recall *recall;
    struct site_materials materials;
    int outer;
    int inner;
    int32_t outer_mm; /* 0: as the material */
    int32_t inner_mm;
    struct site_storey *storeys;
    size_t storey_count;
    struct site_room *rooms;
    size_t room_count;
    struct site_opening *openings;
    size_t opening_count;
    struct site_stairs *stairs;
    size_t stairs_count;
    struct site_furniture *furniture;
    size_t furniture_count;
    struct site_place *places;
    size_t place_count;
};

/** Names as people write and read them: "front"; "back right"; "roof light"; "yard"; "panel". */
const char *site_side_name(enum site_side side);
const char *site_direction_name(enum site_direction direction);
const char *site_corner_name(enum site_corner corner);
const char *site_opening_kind_name(enum site_opening_kind kind);
const char *site_room_kind_name(enum site_room_kind kind);
const char *site_fixture_name(enum site_fixture fixture);

/** What an opening usually is where nothing is said; kind: any but the count. Source: page-spec presets for doors and
 *  windows, the rest common practice. */
int32_t site_opening_width_mm(const struct site_opening *opening);
int32_t site_opening_height_mm(const struct site_opening *opening);
int32_t site_opening_sill_mm(const struct site_opening *opening);

/** The height at which a thing usually hangs, where nothing is said. */
int32_t site_place_height_mm(const struct site_place *place);

/** Whether people go through it in daily life: doors, sliding doors, garage doors and gaps. */
bool site_opening_is_walked(enum site_opening_kind kind);

#endif
