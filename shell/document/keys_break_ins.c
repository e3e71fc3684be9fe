/* The keys of break-ins: where somebody could come in, what notices him, and what he might be after. */
#include "document/keys.h"

/* clang-format off */
#define COUNT(array) (sizeof(array) / sizeof((array)[0]))

static const char *kind_name(int value) { return site_break_in_kind_name((enum site_break_in_kind)value); }
static const char *heard_name(int value) { return site_heard_by_name((enum site_heard_by)value); }

enum { HOUR_S = 3600, DAY_S = 86400 };

#define AT(field) .at = offsetof(struct site_break_in_start, field)
static const struct key start_keys[] = {
    {"name", KEY_NAME, AT(name), 1, 60, NULL, "What it is called in every output: at night."},
    {"starts", KEY_STARTS, AT(areas), .usual = "(unset)", .help = "How each area stands: {shop: full, flat: night}."},
};
#undef AT
static const struct key_table start_table = {
    "break-ins.when[]", "How the areas stand when somebody comes; looked at one after the other.", "{name: at night, starts: {shop: full, flat: night}}",
    start_keys, COUNT(start_keys), sizeof(struct site_break_in_start), 0,
};

#define AT(field) .at = offsetof(struct site_break_in_room, field)
static const struct key room_keys[] = {
    {"name", KEY_NAME, AT(name), 1, 60, NULL, "Its name."},
    {"across", KEY_SECONDS, AT(across_s), 0, HOUR_S, "1 s", "The least time from any opening of it to any other."},
    {"hides", KEY_YES, AT(hides), .usual = "no", .help = "Whether somebody may have stayed behind in it."},
};
#undef AT
static const struct key_table room_table = {
    "break-ins.rooms[]", "The rooms.", "{name: passage, across: 3 s}",
    room_keys, COUNT(room_keys), sizeof(struct site_break_in_room), 0,
};

#define AT(field) .at = offsetof(struct site_break_in_opening, field)
static const struct key opening_keys[] = {
    {"name", KEY_NAME, AT(name), 1, 60, "(the door's name)", "Its name."},
    {"door", KEY_REF, AT(door), .usual = "", .help = "Which of `doors` it is: what watches that door notices it.", .thing = THING_DOOR},
    {"from", KEY_REF, AT(from), .usual = "(outside)", .help = "The room on its one side.", .thing = THING_BREAK_IN_ROOM},
    {"to", KEY_REF, AT(to), .usual = NULL, .help = "The room on its other side.", .thing = THING_BREAK_IN_ROOM},
    {"of", KEY_REF, AT(material), .usual = "(it just opens)", .help = "What its leaf or pane is made of: that says the least time to force it, and whether the pane can be broken without opening it.", .thing = THING_BREAK_IN_MATERIAL},
    {"force", KEY_SECONDS, AT(force_s), 0, DAY_S, "(of what it is made of; else 0 s)", "The least time to force it, where you know better.", .flag_at = offsetof(struct site_break_in_opening, force_said)},
    {"cross", KEY_SECONDS, AT(cross_s), 0, HOUR_S, "1 s", "The least time to get through once it is open."},
};
#undef AT
static const struct key_table opening_table = {
    "break-ins.openings[]", "Doors, windows and the like that somebody could come through, also between rooms.",
    "{door: side door, to: passage, of: wood}",
    opening_keys, COUNT(opening_keys), sizeof(struct site_break_in_opening), 0,
};

#define AT(field) .at = offsetof(struct site_break_in_notice, field)
static const struct key notice_keys[] = {
    {"zone", KEY_REF, AT(zone), .usual = NULL, .help = "The zone.", .thing = THING_ZONE},
    {"room", KEY_REF, AT(room), .usual = "", .help = "motion: a room in which it is sure to see whoever moves; glass: a room whose panes it hears.", .thing = THING_BREAK_IN_ROOM},
    {"opening", KEY_REF, AT(opening), .usual = "", .help = "Or an opening that it watches.", .thing = THING_BREAK_IN_OPENING},
};
#undef AT
static const struct key_table notice_table = {
    "break-ins.notices[]", "Which zone notices what, beside the doors that devices are on. Only what is sure to be noticed.",
    "{zone: shop floor, room: shop}",
    notice_keys, COUNT(notice_keys), sizeof(struct site_break_in_notice), 0,
};

#define AT(field) .at = offsetof(struct site_break_in_walk, field)
static const struct key walk_keys[] = {
    {"from", KEY_REF, AT(from), .usual = NULL, .help = "From this opening ...", .thing = THING_BREAK_IN_OPENING},
    {"to", KEY_REF, AT(to), .usual = "", .help = "... to this one of the same room,", .thing = THING_BREAK_IN_OPENING},
    {"reaches", KEY_REF, AT(reaches), .usual = "", .help = "... or to this line of `protect`.", .thing = THING_BREAK_IN_GOAL},
    {"takes", KEY_SECONDS, AT(takes_s), 0, HOUR_S, NULL, "The least time."},
};
#undef AT
static const struct key_table walk_table = {
    "break-ins.walks[]", "Least times that differ from what the room says; both ways.",
    "{from: yard door, reaches: panel, takes: 2 s}",
    walk_keys, COUNT(walk_keys), sizeof(struct site_break_in_walk), 0,
};

#define AT(field) .at = offsetof(struct site_break_in_goal, field)
static const struct key goal_keys[] = {
    {"name", KEY_NAME, AT(name), 1, 60, NULL, "Its name."},
    {"is", KEY_CHOICE, AT(kind), 0, SITE_BREAK_IN_KIND_COUNT - 1, "thing", "A thing; the panel; the only line to the station; the power of a panel that has no battery.", .choice_name = kind_name},
    {"in", KEY_REF, AT(room), .usual = NULL, .help = "In which room.", .thing = THING_BREAK_IN_ROOM},
    {"reach", KEY_SECONDS, AT(reach_s), 0, HOUR_S, "(across, of the room)", "The least time to it from any opening of the room.", .flag_at = offsetof(struct site_break_in_goal, reach_said)},
    {"takes", KEY_SECONDS, AT(takes_s), 0, DAY_S, "0 s", "The least time there until he has it: a safe to open, a panel to smash."},
};
#undef AT
static const struct key_table goal_table = {
    "break-ins.protect[]", "What is to be protected; the panel and its line as well.",
    "{name: safe, in: office, takes: 10 min}",
    goal_keys, COUNT(goal_keys), sizeof(struct site_break_in_goal), 0,
};

#define LIST(field, least, most) KEY_LIST, .at = offsetof(struct site_break_ins, field), least, most
#define AT(field) .at = offsetof(struct site_break_ins, field)
static const struct key break_ins_keys[] = {
    {"materials", KEY_MATERIALS, AT(materials), .usual = "common", .help = "The table of materials: a name found in `materials/`, or a path inside the site file's folder; the same as the drawing's."},
    {"heard-by", KEY_CHOICE, AT(heard_by), 0, SITE_HEARD_BY_COUNT - 1, "signal", "What counts as heard: a signal that has left for the station, or the siren.", .choice_name = heard_name},
    {"help-after", KEY_SECONDS, AT(help_s), 0, DAY_S, "0 s", "From being heard until somebody is there."},
    {"when", LIST(starts, 1, SITE_BREAK_IN_START_MAX), "(everything set, mode full)", "How the areas stand when somebody comes.", .table = &start_table, .count_at = offsetof(struct site_break_ins, start_count)},
    {"rooms", LIST(rooms, 1, SITE_BREAK_IN_ROOM_MAX), "(those of the drawing)", "The rooms, where there is no drawing or it does not show them all; openings and protect are then by hand as well.", .table = &room_table, .count_at = offsetof(struct site_break_ins, room_count)},
    {"openings", LIST(openings, 1, SITE_BREAK_IN_OPENING_MAX), "(those of the drawing)", "Doors, windows and the like.", .table = &opening_table, .count_at = offsetof(struct site_break_ins, opening_count)},
    {"notices", LIST(notices, 0, SITE_BREAK_IN_NOTICE_MAX), "(none)", "Which zone notices what.", .table = &notice_table, .count_at = offsetof(struct site_break_ins, notice_count)},
    {"walks", LIST(walks, 0, SITE_BREAK_IN_WALK_MAX), "(none)", "Least times that differ from the rooms'.", .table = &walk_table, .count_at = offsetof(struct site_break_ins, walk_count)},
    {"protect", LIST(goals, 1, SITE_BREAK_IN_GOAL_MAX), "(what the drawing protects, and the panel)", "What is to be protected.", .table = &goal_table, .count_at = offsetof(struct site_break_ins, goal_count)},
};
#undef AT
#undef LIST
const struct key_table key_break_ins_table = {
    "break-ins", "Where somebody could come in, and what he might be after: by hand, or only what the drawing does not say. See docs/break-ins.md.",
    "{rooms: [{name: hall}], openings: [{door: front door, to: hall, of: wood}], protect: [{name: safe, in: hall, takes: 5 min}]}",
    break_ins_keys, COUNT(break_ins_keys), 0, 0,
};
/* clang-format on */
