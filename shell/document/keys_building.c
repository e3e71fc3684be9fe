/* The keys of the building: storeys, rooms, openings and what stands in them. */
#include "document/keys.h"

/* clang-format off */
#define COUNT(array) (sizeof(array) / sizeof((array)[0]))

static const char *side_name(int value) { return site_side_name((enum site_side)value); }
static const char *direction_name(int value) { return site_direction_name((enum site_direction)value); }
static const char *corner_name(int value) { return site_corner_name((enum site_corner)value); }
static const char *opening_name(int value) { return site_opening_kind_name((enum site_opening_kind)value); }
static const char *room_kind_name(int value) { return site_room_kind_name((enum site_room_kind)value); }
static const char *fixture_name(int value) { return site_fixture_name((enum site_fixture)value); }

static const char *const reaches[]     = {"yes", "no"};
static const char *const certainties[] = {"excerpt", "memory", "practice"};

enum { FAR_MM = 10000000, DAY_S = 86400 };

/* ------------------------------------------------------------------------------------------------ materials */

#define AT(field) .at = offsetof(struct site_material, field)
static const struct key material_keys[] = {
    {"name", KEY_NAME, AT(name), 1, 60, NULL, "Its name."},
    {"says", KEY_TEXT, AT(says), 0, 200, "", "One line for people."},
    {"thickness", KEY_LENGTH, AT(thickness_mm), 1, 2000, "", "Of a wall of it, as usual."},
    {"forced", KEY_SPAN, AT(forced), 0, 86400, "(not said)", "How long it holds somebody who means to get through, about.", .flag_at = offsetof(struct site_material, forced_said)},
    {"glass", KEY_YES, AT(glass), .usual = "no", .help = "Whether one looks through it; warmth does not pass, so that no motion detector does."},
    {"source", KEY_TEXT, AT(source), 1, 200, NULL, "Where the figure is from."},
    {"certainty", KEY_CHOICE, AT(certainty), 0, SITE_CERTAINTY_COUNT - 1, NULL, "How sure it is: read in an excerpt; from memory, unverified; common practice.", certainties},
};
#undef AT
static const struct key_table material_table = {
    "materials[] of a table of materials", "What walls, doors and panes are made of, one a line.",
    "{name: brick, thickness: 300 mm, source: house practice, certainty: practice}",
    material_keys, COUNT(material_keys), sizeof(struct site_material), 0,
};

#define AT(field) .at = offsetof(struct site_materials, field)
static const struct key materials_keys[] = {
    {"name", KEY_NAME, AT(name), 1, 60, NULL, "Its name, as sites refer to it."},
    {"says", KEY_TEXT, AT(says), 0, 200, "", "One line for people."},
    {"materials", KEY_LIST, AT(rows), 1, SITE_MATERIAL_MAX, NULL, "The materials.", .table = &material_table, .count_at = offsetof(struct site_materials, row_count)},
};
#undef AT
const struct key_table key_materials_table = {
    "table of materials", "What walls, doors and panes are made of: a file `materials/NAME.yaml`, named under `building.materials`.",
    "{name: our-walls, materials: [{name: brick, thickness: 300 mm, source: house practice, certainty: practice}]}",
    materials_keys, COUNT(materials_keys), sizeof(struct site_materials), 0,
};

/* ------------------------------------------------------------------------------------------------ storeys and rooms */

#define AT(field) .at = offsetof(struct site_storey, field)
static const struct key storey_keys[] = {
    {"name", KEY_NAME, AT(name), 1, 60, NULL, "Its name."},
    {"floor", KEY_LENGTH, AT(floor_mm), -100000, 1000000, "(on top of the one below; the first: 0 m)", "How high its floor lies above the ground before the house; a cellar's is negative.", .flag_at = offsetof(struct site_storey, floor_said)},
    {"ceiling", KEY_LENGTH, AT(ceiling_mm), 1, 100000, "2.4 m", "How high its rooms are inside."},
    {"slab", KEY_LENGTH, AT(slab_mm), 0, 5000, "300 mm", "How thick the floor above it is."},
};
#undef AT
static const struct key_table storey_table = {
    "building.storeys[]", "The storeys, lowest first. Without this list there is one, called ground.", "{name: upper, ceiling: 2.4 m}",
    storey_keys, COUNT(storey_keys), sizeof(struct site_storey), 0,
};

#define AT(field) .at = offsetof(struct site_room, field)
static const struct key room_keys[] = {
    {"name", KEY_NAME, AT(name), 1, 60, NULL, "Its name."},
    {"is", KEY_CHOICE, AT(kind), 0, SITE_ROOM_KIND_COUNT - 1, "room", "A room, or ground outside that one can stand on.", .choice_name = room_kind_name},
    {"storey", KEY_REF, AT(storey), .usual = "(that of the room it stands beside; else the first)", .help = "On which storey.", .thing = THING_STOREY},
    {"size", KEY_PAIR, AT(size), 1, FAR_MM, "(outline says it; with above: that of the room below)", "A rectangle, clear inside from wall to wall: to the right x to the back.", .flag_at = offsetof(struct site_room, size_said)},
    {"outline", KEY_PAIRS, AT(outline), 3, SITE_CORNER_MAX, "", "Any other shape: its corners, one after the other, counted from `at`.", .count_at = offsetof(struct site_room, outline_count)},
    {"at", KEY_PAIR, AT(at), -FAR_MM, FAR_MM, "(right-of and the like say it; the first room of a storey: 0 x 0 m)", "Its front left corner, or the point from which the outline counts.", .flag_at = offsetof(struct site_room, at_said)},
    {"right-of", KEY_REF, AT(right_of), .usual = "", .help = "It stands right of this room, a wall between, their front walls in line.", .thing = THING_ROOM},
    {"left-of", KEY_REF, AT(left_of), .usual = "", .help = "... left of it.", .thing = THING_ROOM},
    {"behind", KEY_REF, AT(behind), .usual = "", .help = "... behind it, their left walls in line.", .thing = THING_ROOM},
    {"in-front-of", KEY_REF, AT(in_front_of), .usual = "", .help = "... in front of it.", .thing = THING_ROOM},
    {"above", KEY_REF, AT(above), .usual = "", .help = "It stands above this room, one storey up; without a size it has the same shape.", .thing = THING_ROOM},
    {"shift", KEY_LENGTH, AT(shift_mm), -FAR_MM, FAR_MM, "0 m", "right-of, left-of: so much further back; behind, in-front-of, above: so much further right."},
    {"walls", KEY_REF, AT(walls), .usual = "(as the building's)", .help = "What its walls are made of.", .thing = THING_MATERIAL},
    {"party", KEY_CHOICES, AT(party), SITE_SIDE_FRONT, SITE_SIDE_COUNT - 1, "(none)", "On which sides a neighbour's building stands against it.", .choice_name = side_name},
    {"from", KEY_REF, AT(from), .usual = "(the street)", .help = "Ground outside: from which other ground one gets there.", .thing = THING_ROOM},
    {"apart", KEY_YES, AT(apart), .usual = "no", .help = "No door or stairs indoors lead to it and the rooms behind it: one really goes in from outside alone."},
    {"climb", KEY_SPAN, AT(climb), 0, 86400, "(it is open)", "Ground outside: how long it takes to climb there, or over its gate.", .flag_at = offsetof(struct site_room, climb_said)},
};
#undef AT
static const struct key_table room_table = {
    "building.rooms[]", "Rooms, and ground outside. A room is placed by `at`, or beside one that stands higher up in the list.",
    "{name: kitchen, size: 4.2 x 2.5 m, behind: living room}",
    room_keys, COUNT(room_keys), sizeof(struct site_room), 0,
};

/* ------------------------------------------------------------------------------------------------ openings and stairs */

#define AT(field) .at = offsetof(struct site_opening, field)
static const struct key opening_keys[] = {
    {"name", KEY_TEXT, AT(name), 1, 60, "(the door's name, or made from its rooms)", "Its name."},
    {"door", KEY_REF, AT(door), .usual = "", .help = "Which of `doors` it is.", .thing = THING_DOOR},
    {"is", KEY_CHOICE, AT(kind), 0, SITE_OPENING_KIND_COUNT - 1, "door", "What it is; a gap has no leaf.", .choice_name = opening_name},
    {"room", KEY_REF, AT(room), .usual = NULL, .help = "The room from which it is described.", .thing = THING_ROOM},
    {"to", KEY_REF, AT(to), .usual = "(outside)", .help = "The room, or the ground outside, on its other side.", .thing = THING_ROOM},
    {"wall", KEY_CHOICE, AT(wall), SITE_SIDE_FRONT, SITE_SIDE_COUNT - 1, "(where both meet)", "On which side of the room.", .choice_name = side_name},
    {"from-left", KEY_LENGTH, AT(from_left_mm), 0, FAR_MM, "(in the middle)", "From the left corner of that wall, seen from within the room, to the opening.", .flag_at = offsetof(struct site_opening, from_left_said)},
    {"at", KEY_PAIR, AT(at), -FAR_MM, FAR_MM, "(the middle of the room)", "roof light, hatch: its middle, from the room's front left corner.", .flag_at = offsetof(struct site_opening, at_said)},
    {"width", KEY_LENGTH, AT(width_mm), 1, 100000, "(as usual: a door 900 mm, a window 1.2 m)", "How wide it is, clear."},
    {"height", KEY_LENGTH, AT(height_mm), 1, 100000, "(as usual: a door 2 m, a window 1.2 m)", "How high it is."},
    {"sill", KEY_LENGTH, AT(sill_mm), 0, 100000, "(as usual: a window 900 mm, else 0 m)", "How high above the floor it begins.", .flag_at = offsetof(struct site_opening, sill_said)},
    {"reach", KEY_CHOICE, AT(reach), SITE_REACH_YES, SITE_REACH_NO, "(yes within 2 m above ground that one can stand on)", "Whether one reaches it from outside without a ladder.", reaches},
    {"of", KEY_REF, AT(material), .usual = "(as usual)", .help = "What its leaf or pane is made of.", .thing = THING_MATERIAL},
    {"frame", KEY_LENGTH, AT(frame_mm), 1, 1000, "(not checked)", "How wide its frame is."},
};
#undef AT
static const struct key_table opening_table = {
    "building.openings[]", "Doors, windows and the like, between two rooms or to the outside.",
    "{is: window, room: kitchen, wall: back, width: 1.4 m}",
    opening_keys, COUNT(opening_keys), sizeof(struct site_opening), 0,
};

#define AT(field) .at = offsetof(struct site_stairs, field)
static const struct key stairs_keys[] = {
    {"name", KEY_TEXT, AT(name), 1, 60, "(made from its rooms)", "Its name."},
    {"room", KEY_REF, AT(room), .usual = NULL, .help = "Where it begins.", .thing = THING_ROOM},
    {"to", KEY_REF, AT(to), .usual = NULL, .help = "Where it ends, one storey up.", .thing = THING_ROOM},
    {"at", KEY_PAIR, AT(at), -FAR_MM, FAR_MM, "0 x 0 m", "Its front left corner, from the room's."},
    {"size", KEY_PAIR, AT(size), 1, FAR_MM, NULL, "How much floor it takes."},
    {"up", KEY_CHOICE, AT(up), SITE_SIDE_FRONT, SITE_SIDE_COUNT - 1, "back", "Towards which side one climbs.", .choice_name = side_name},
};
#undef AT
static const struct key_table stairs_table = {
    "building.stairs[]", "Straight flights between two storeys; a flight with a turn is two that end in one room.",
    "{room: hall, to: landing, at: 0 x 3 m, size: 0.9 x 3 m, up: back}",
    stairs_keys, COUNT(stairs_keys), sizeof(struct site_stairs), 0,
};

/* ------------------------------------------------------------------------------------------------ what stands inside */

#define AT(field) .at = offsetof(struct site_furniture, field)
static const struct key furniture_keys[] = {
    {"name", KEY_TEXT, AT(name), 1, 60, NULL, "What it is."},
    {"room", KEY_REF, AT(room), .usual = NULL, .help = "Where it stands.", .thing = THING_ROOM},
    {"at", KEY_PAIR, AT(at), -FAR_MM, FAR_MM, NULL, "Its front left corner, from the room's."},
    {"size", KEY_PAIR, AT(size), 1, FAR_MM, NULL, "How much floor it takes."},
    {"height", KEY_LENGTH, AT(height_mm), 1, 100000, "800 mm", "How high it is; what is higher than a detector's lens cuts its sight."},
};
#undef AT
static const struct key_table furniture_table = {
    "building.furniture[]", "What one walks round, or cannot look over.", "{name: counter, room: shop, at: 0.5 x 2 m, size: 2.4 x 0.6 m, height: 1.1 m}",
    furniture_keys, COUNT(furniture_keys), sizeof(struct site_furniture), 0,
};

#define AT(field) .at = offsetof(struct site_place, field)
static const struct key place_keys[] = {
    {"device", KEY_REF, AT(device), .usual = "", .help = "The device that hangs there; one on a door is where its door is.", .thing = THING_DEVICE},
    {"keypad", KEY_REF, AT(keypad), .usual = "", .help = "Or the keypad.", .thing = THING_KEYPAD},
    {"is", KEY_CHOICE, AT(fixture), SITE_FIXTURE_PANEL, SITE_FIXTURE_COUNT - 1, "", "Or what else is fixed there.", .choice_name = fixture_name},
    {"protects", KEY_TEXT, AT(protects), 1, 60, "", "Or what is worth protecting, by its name."},
    {"room", KEY_REF, AT(room), .usual = NULL, .help = "In which room.", .thing = THING_ROOM},
    {"at", KEY_PAIR, AT(at), -FAR_MM, FAR_MM, "(the middle of the room)", "The point, from the room's front left corner; or corner, or wall, instead.", .flag_at = offsetof(struct site_place, at_said)},
    {"corner", KEY_CHOICE, AT(corner), SITE_CORNER_FRONT_LEFT, SITE_CORNER_COUNT - 1, "", "In which corner.", .choice_name = corner_name},
    {"wall", KEY_CHOICE, AT(wall), SITE_SIDE_FRONT, SITE_SIDE_COUNT - 1, "", "On which wall.", .choice_name = side_name},
    {"from-left", KEY_LENGTH, AT(from_left_mm), 0, FAR_MM, "(in the middle)", "wall: from its left corner, seen from within the room.", .flag_at = offsetof(struct site_place, from_left_said)},
    {"height", KEY_LENGTH, AT(height_mm), 1, 100000, "(as usual: a detector 2.3 m, a keypad 1.4 m)", "How high above the floor."},
    {"faces", KEY_CHOICE, AT(faces), SITE_FACES_RIGHT, SITE_DIRECTION_COUNT - 1, "(out of the corner, away from the wall)", "A motion detector: where it looks.", .choice_name = direction_name},
    {"takes", KEY_SECONDS, AT(takes_s), 0, DAY_S, "0 s", "protects, or what is fixed there: the least time until somebody has it, or has cut it."},
    {"only", KEY_YES, AT(only), .usual = "no", .help = "mains: the panel has no battery; router, line: no other path leads to the station. Then a break-in may be for it."},
    {"towards", KEY_PAIR, AT(towards), -FAR_MM, FAR_MM, "", "... or the point it looks at, from the room's front left corner.", .flag_at = offsetof(struct site_place, towards_said)},
};
#undef AT
static const struct key_table place_table = {
    "building.places[]", "Where devices, keypads and the rest are: each line has device, keypad, is or protects.",
    "{device: passage motion, room: passage, corner: back left, height: 2.3 m}",
    place_keys, COUNT(place_keys), sizeof(struct site_place), 0,
};

/* ------------------------------------------------------------------------------------------------ the building */

#define LIST(field, least, most) KEY_LIST, .at = offsetof(struct site_building, field), least, most
#define AT(field) .at = offsetof(struct site_building, field)
static const struct key building_keys[] = {
    {"materials", KEY_MATERIALS, AT(materials), .usual = "common", .help = "The table of materials: a name found in `materials/`, or a path inside the site file's folder."},
    {"storeys", LIST(storeys, 1, SITE_STOREY_MAX), "(one: ground)", "The storeys, lowest first.", .table = &storey_table, .count_at = offsetof(struct site_building, storey_count)},
    {"rooms", LIST(rooms, 1, SITE_ROOM_MAX), NULL, "Rooms, and ground outside.", .table = &room_table, .count_at = offsetof(struct site_building, room_count)},
    {"openings", LIST(openings, 0, SITE_OPENING_MAX), "(none)", "Doors, windows and the like.", .table = &opening_table, .count_at = offsetof(struct site_building, opening_count)},
    {"stairs", LIST(stairs, 0, SITE_STAIRS_MAX), "(none)", "Between storeys.", .table = &stairs_table, .count_at = offsetof(struct site_building, stairs_count)},
    {"furniture", LIST(furniture, 0, SITE_FURNITURE_MAX), "(none)", "What stands in the rooms.", .table = &furniture_table, .count_at = offsetof(struct site_building, furniture_count)},
    {"places", LIST(places, 0, SITE_PLACE_MAX), "(none)", "Where devices, keypads and the rest are.", .table = &place_table, .count_at = offsetof(struct site_building, place_count)},
    {"outer-walls", KEY_REF, AT(outer), .usual = "(brick)", .help = "What the outer walls are made of.", .thing = THING_MATERIAL},
    {"inner-walls", KEY_REF, AT(inner), .usual = "(stud)", .help = "What the inner walls are made of.", .thing = THING_MATERIAL},
    {"outer-thickness", KEY_LENGTH, AT(outer_mm), 1, 2000, "(as usual for the material; 300 mm)", "How thick the outer walls are."},
    {"inner-thickness", KEY_LENGTH, AT(inner_mm), 1, 2000, "(as usual for the material; 120 mm)", "How thick the inner walls are."},
};
#undef AT
#undef LIST
const struct key_table key_building_table = {
    "building", "The drawing, if there is one. x runs to the right, y to the back; measures are clear inside, from wall to wall.",
    "{rooms: [{name: hall, size: 1.8 x 6 m}], openings: [{door: front door, room: hall, wall: front}]}",
    building_keys, COUNT(building_keys), 0, 0,
};
/* clang-format on */
