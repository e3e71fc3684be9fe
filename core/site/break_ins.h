/* Where somebody could come in and what he might be after: rooms, openings, what notices them, and the least times
 * between them. Written by hand in the site file, or made from its drawing (plan/portals.h); break-ins are searched on
 * it (breakin/rooms.h). */
#ifndef LINTEL_SITE_BREAK_INS_H
#define LINTEL_SITE_BREAK_INS_H

#include "base/text.h"
#include "site/building.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

enum {
    SITE_BREAK_IN_ROOM_MAX = 200,
    SITE_BREAK_IN_OPENING_MAX = 400,
    SITE_BREAK_IN_NOTICE_MAX = 512,
    SITE_BREAK_IN_WALK_MAX = 1000,
    SITE_BREAK_IN_GOAL_MAX = 32,
    SITE_BREAK_IN_START_MAX = 8,
};

/** A room. across_s: least time between any two of its openings. hides: somebody may have stayed behind in it. Of a
 *  drawing alone: ground: outside the building; drawn: its ways are in the list of moves, across_s means nothing;
 *  cut_off: a way to it may be missing in the drawing. */
struct site_break_in_room {
    struct text name;
    int32_t across_s;
    bool hides;
    bool ground;
    bool drawn;
    bool cut_off;
};

/** An opening between two rooms; from: SITE_NONE is outside. door: the one of the site that it is, whose contacts
 *  then notice it, or SITE_NONE. material: row of the table, or SITE_NONE. force_s: least time to force it, 0: it
 *  just opens; of the material where the file does not say it. pane: it is of glass, and may be broken without being
 *  opened. bare: of a drawing alone: nothing that could be forced or watched: a gap, stairs, the way over a gate. */
struct site_break_in_opening {
    struct text name;
    int door;
    int from;
    int to;
    int material;
    int32_t force_s;
    bool force_said;
    bool pane;
    bool bare;
    int32_t cross_s;
};

/** A zone that notices whoever is in a room, or an opening: one of the two is not SITE_NONE. */
struct site_break_in_notice {
    int zone;
    int room;
    int opening;
};

/** A least time that differs from the room's: from an opening to another, or to what is protected (reaches). */
struct site_break_in_walk {
    int from;
    int to;
    int reaches;
    int32_t takes_s;
};

/** A way within a drawn room, from an opening to another (and back) or to what is protected (reaches). seen: a bit for
 *  each zone, by its index, that is sure to notice whoever takes it. */
struct site_break_in_move {
    int room;
    int from;
    int to;
    int reaches;
    int32_t takes_s;
    uint64_t seen[2];
};

enum site_break_in_kind {
    SITE_BREAK_IN_THING,
    SITE_BREAK_IN_PANEL,
    SITE_BREAK_IN_LINE,
    SITE_BREAK_IN_POWER, /* of a panel without a battery: without it the panel is as good as smashed */
    SITE_BREAK_IN_KIND_COUNT
};

/** What is protected, or the panel, its power, or the line to the station. reach_s: least time from any opening of its
 *  room. takes_s: least time there until it is taken, smashed or cut. place: of a drawing: in its list of places. */
struct site_break_in_goal {
    struct text name;
    enum site_break_in_kind kind;
    int room;
    int32_t reach_s;
    bool reach_said;
    int32_t takes_s;
    int place;
};

struct site_break_in_start; /* site.h */

enum site_heard_by { SITE_HEARD_BY_SIGNAL, SITE_HEARD_BY_SIREN, SITE_HEARD_BY_COUNT };

/** said: the file has it. drawn: made from the drawing; asked: for which the file asks as well. too_large: it has a
 *  drawing, but one with more ways in than are looked at. help_s: from being heard until somebody is there. */
struct site_break_ins {
    bool said;
    bool drawn;
    bool asked;
    bool too_large;
    struct site_materials materials;
    enum site_heard_by heard_by;
    int32_t help_s;
    struct site_break_in_start *starts;
    size_t start_count;
    struct site_break_in_room *rooms;
    size_t room_count;
    struct site_break_in_opening *openings;
    size_t opening_count;
    struct site_break_in_notice *notices;
    size_t notice_count;
    struct site_break_in_walk *walks;
    size_t walk_count;
    struct site_break_in_move *moves;
    size_t move_count;
    struct site_break_in_goal *goals;
    size_t goal_count;
};

/** "thing", "panel", "line", "power"; "signal", "siren". */
const char *site_break_in_kind_name(enum site_break_in_kind kind);
const char *site_heard_by_name(enum site_heard_by by);

#endif
