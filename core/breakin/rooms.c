#include "breakin/rooms.h"

enum { OUTSIDE = 0 };

/* The graph being made. inside: the place at an opening's side towards its `from` (0) and its `to` (1). */
struct draft {
    const struct site *site;
    const struct site_break_ins *said;
    struct arena *arena;
    struct text *places;
    int *room;
    size_t place_count;
    struct breakin_portal *portals;
    int *opening;
    size_t portal_count;
    struct breakin_move *moves;
    int *move;
    size_t move_count;
    struct breakin_goal *goals;
    int *begins;
    size_t begin_count;
    int *sides[2];
};

static outcome no_memory(struct problem *ret_problem) {
    FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory for the rooms of break-ins");
}

static int add_place(struct draft *draft, struct text name, int room) {
    draft->places[draft->place_count] = name;
    draft->room[draft->place_count] = room;
    return (int)draft->place_count++;
}

static enum site_sense sense_of(const struct draft *draft, size_t zone) {
    return site_zone_sense(draft->site, &draft->site->zones[zone]);
}

/* ---- what notices what ------------------------------------------------------------------------------------------- */

/* Zones that notice this opening: those on its door, those said to, and glass-break detectors of its rooms. */
static struct panel_zones at_opening(const struct draft *draft, size_t which) {
    const struct site_break_in_opening *opening = &draft->said->openings[which];
    struct panel_zones zones = {{0, 0}};
    for (size_t i = 0; i < draft->site->zone_count; i++) {
        if (opening->door != SITE_NONE &&
                site_zone_door(draft->site, &draft->site->zones[i]) == opening->door) {
            panel_zones_add(&zones, (unsigned)i);
        }
    }
    for (size_t i = 0; i < draft->said->notice_count; i++) {
        const struct site_break_in_notice *notice = &draft->said->notices[i];
        const bool of_room = notice->room != SITE_NONE &&
                sense_of(draft, (size_t)notice->zone) == SITE_GLASS &&
                (notice->room == opening->from || notice->room == opening->to);
        if (notice->opening == (int)which || of_room) {
            panel_zones_add(&zones, (unsigned)notice->zone);
        }
    }
    return zones;
}

static struct panel_zones in_room(const struct draft *draft, int room) {
    struct panel_zones zones = {{0, 0}};
    for (size_t i = 0; room != SITE_NONE && i < draft->said->notice_count; i++) {
        const struct site_break_in_notice *notice = &draft->said->notices[i];
        if (notice->room == room && sense_of(draft, (size_t)notice->zone) == SITE_MOTION) {
            panel_zones_add(&zones, (unsigned)notice->zone);
        }
    }
    return zones;
}

/* Sorts what notices an opening by what is done to it: it opens, it is forced, its pane breaks. */
static void notice(const struct draft *draft, const struct panel_zones *zones, bool forced,
        bool pane, struct breakin_portal *portal) {
    for (unsigned zone = 0; zone < draft->site->zone_count; zone++) {
        const enum site_sense sense = sense_of(draft, zone);
        if (!panel_zones_has(zones, zone)) {
            continue;
        }
        if (sense == SITE_CONTACT) {
            if (!pane) {
                panel_zones_add(&portal->opens, zone);
            }
        } else if (sense == SITE_MOTION || (sense == SITE_SHOCK && forced) ||
                (sense == SITE_GLASS && pane)) {
            panel_zones_add(&portal->trips, zone);
        }
    }
}

/* ---- openings ---------------------------------------------------------------------------------------------------- */

static void join(struct panel_zones *zones, struct panel_zones more) {
    zones->word[0] |= more.word[0];
    zones->word[1] |= more.word[1];
}

static bool is_outside(const struct draft *draft, int room) {
    return room == SITE_NONE || draft->said->rooms[room].ground;
}

static void add_portal(struct draft *draft, size_t which, bool inward, bool pane) {
    const struct site_break_in_opening *opening = &draft->said->openings[which];
    const struct panel_zones zones = at_opening(draft, which);
    struct breakin_portal portal = {.name = opening->name,
            .from = draft->sides[inward ? 0 : 1][which],
            .to = draft->sides[inward ? 1 : 0][which],
            .cross_s = opening->cross_s};
    /* From within one lets oneself out. */
    portal.force_s = inward || !is_outside(draft, opening->from) ? opening->force_s : 0;
    if (portal.force_s > 0) {
        portal.how = text_of(opening->bare ? "makes his way to"
                        : pane             ? "breaks the pane"
                                           : "forces it open");
    }
    notice(draft, &zones, portal.force_s > 0, pane, &portal);
    join(&portal.trips, in_room(draft, inward ? opening->to : opening->from));
    draft->portals[draft->portal_count] = portal;
    draft->opening[draft->portal_count++] = (int)which;
}

static void add_portals(struct draft *draft, size_t which) {
    const bool pane = draft->said->openings[which].pane;
    add_portal(draft, which, true, false);
    add_portal(draft, which, false, false);
    if (pane && draft->said->openings[which].force_s > 0) {
        add_portal(draft, which, true, true);
        if (!is_outside(draft, draft->said->openings[which].from)) {
            add_portal(draft, which, false, true);
        }
    }
}

/* ---- within rooms ------------------------------------------------------------------------------------------------ */

/* The place at an opening within a room, or -1. */
static int side_in(const struct draft *draft, size_t opening, int room) {
    const struct site_break_in_opening *it = &draft->said->openings[opening];
    return it->to == room      ? draft->sides[1][opening]
            : it->from == room ? draft->sides[0][opening]
                               : -1;
}

static int32_t walk_s(
        const struct draft *draft, size_t from, int to, int reaches, int32_t usual_s) {
    for (size_t i = 0; i < draft->said->walk_count; i++) {
        const struct site_break_in_walk *walk = &draft->said->walks[i];
        const bool there = walk->from == (int)from && walk->to == to && walk->reaches == reaches;
        const bool back = to != SITE_NONE && walk->from == to && walk->to == (int)from;
        if (there || back) {
            return walk->takes_s;
        }
    }
    return usual_s;
}

static void add_move(
        struct draft *draft, int from, int to, int32_t least_s, const struct panel_zones *seen) {
    draft->move[draft->move_count] = SITE_NONE;
    draft->moves[draft->move_count++] =
            (struct breakin_move){.from = from, .to = to, .least_s = least_s, .trips = *seen};
}

/* One that a drawing gives, and back. in_room: what sees all of the room. */
static void add_drawn(struct draft *draft, size_t which) {
    const struct site_break_in_move *drawn = &draft->said->moves[which];
    struct panel_zones seen = in_room(draft, drawn->room);
    const int from = side_in(draft, (size_t)drawn->from, drawn->room);
    const bool reaches = drawn->to == SITE_NONE;
    const int to = reaches ? draft->goals[drawn->reaches].place
                           : side_in(draft, (size_t)drawn->to, drawn->room);
    join(&seen, (struct panel_zones){{drawn->seen[0], drawn->seen[1]}});
    add_move(draft, from, to, drawn->takes_s, &seen);
    draft->move[draft->move_count - 1] = (int)which;
    if (!reaches) {
        add_move(draft, to, from, drawn->takes_s, &seen);
        draft->move[draft->move_count - 1] = (int)which;
    }
}

/* From one side of a room to every other, and to what is protected there. */
static void add_moves_from(
        struct draft *draft, size_t opening, int room, const struct panel_zones *seen) {
    const struct site_break_ins *said = draft->said;
    const int from = side_in(draft, opening, room);
    for (size_t other = 0; other < said->opening_count; other++) {
        const int to = side_in(draft, other, room);
        if (other != opening && to >= 0) {
            add_move(draft, from, to,
                    walk_s(draft, opening, (int)other, SITE_NONE, said->rooms[room].across_s),
                    seen);
        }
    }
    for (size_t goal = 0; goal < said->goal_count; goal++) {
        if (said->goals[goal].room == room) {
            add_move(draft, from, draft->goals[goal].place,
                    walk_s(draft, opening, SITE_NONE, (int)goal, said->goals[goal].reach_s), seen);
        }
    }
}

/* Whoever stayed behind is somewhere in the room. */
static void add_moves_of_hidden(struct draft *draft, int room, const struct panel_zones *seen) {
    const struct site_break_ins *said = draft->said;
    const int from = add_place(draft, said->rooms[room].name, room);
    draft->begins[draft->begin_count++] = from;
    for (size_t other = 0; other < said->opening_count; other++) {
        const int to = side_in(draft, other, room);
        if (to >= 0) {
            add_move(draft, from, to, 0, seen);
        }
    }
    for (size_t goal = 0; goal < said->goal_count; goal++) {
        if (said->goals[goal].room == room) {
            add_move(draft, from, draft->goals[goal].place, 0, seen);
        }
    }
}

static void add_rooms(struct draft *draft) {
    const struct site_break_ins *said = draft->said;
    for (int room = 0; room < (int)said->room_count; room++) {
        const struct panel_zones seen = in_room(draft, room);
        for (size_t opening = 0; opening < said->opening_count && !said->rooms[room].drawn;
                opening++) {
            if (side_in(draft, opening, room) >= 0) {
                add_moves_from(draft, opening, room, &seen);
            }
        }
        if (said->rooms[room].hides) {
            add_moves_of_hidden(draft, room, &seen);
        }
    }
    for (size_t i = 0; i < said->move_count; i++) {
        add_drawn(draft, i);
    }
}

/* ---- all of it --------------------------------------------------------------------------------------------------- */

static size_t count_moves(const struct site_break_ins *said) {
    size_t count = 2 * said->move_count;
    for (int room = 0; room < (int)said->room_count; room++) {
        size_t sides = said->rooms[room].hides;
        if (said->rooms[room].drawn) {
            continue;
        }
        size_t ends = 0;
        for (size_t i = 0; i < said->opening_count; i++) {
            sides += said->openings[i].from == room || said->openings[i].to == room;
        }
        for (size_t i = 0; i < said->goal_count; i++) {
            ends += said->goals[i].room == room;
        }
        count += sides * (sides + ends);
    }
    return count;
}

static bool make_room(struct draft *draft) {
    const struct site_break_ins *said = draft->said;
    struct arena *arena = draft->arena;
    const size_t places = 1 + 2 * said->opening_count + said->goal_count + said->room_count;
    draft->places = ARENA_ARRAY(arena, struct text, places);
    draft->room = ARENA_ARRAY(arena, int, places);
    draft->portals = ARENA_ARRAY(arena, struct breakin_portal, 4 * said->opening_count + 1);
    draft->opening = ARENA_ARRAY(arena, int, 4 * said->opening_count + 1);
    draft->moves = ARENA_ARRAY(arena, struct breakin_move, count_moves(said) + 1);
    draft->move = ARENA_ARRAY(arena, int, count_moves(said) + 1);
    draft->goals = ARENA_ARRAY(arena, struct breakin_goal, said->goal_count + 1);
    draft->begins = ARENA_ARRAY(arena, int, said->room_count + 1);
    draft->sides[0] = ARENA_ARRAY(arena, int, said->opening_count + 1);
    draft->sides[1] = ARENA_ARRAY(arena, int, said->opening_count + 1);
    return draft->places != NULL && draft->room != NULL && draft->portals != NULL &&
            draft->opening != NULL && draft->moves != NULL && draft->move != NULL &&
            draft->goals != NULL && draft->begins != NULL && draft->sides[0] != NULL &&
            draft->sides[1] != NULL;
}

static void add_places(struct draft *draft) {
    static const enum breakin_goal_kind kinds[SITE_BREAK_IN_KIND_COUNT] = {
            [SITE_BREAK_IN_THING] = BREAKIN_THING,
            [SITE_BREAK_IN_PANEL] = BREAKIN_PANEL,
            [SITE_BREAK_IN_LINE] = BREAKIN_LINE,
            [SITE_BREAK_IN_POWER] = BREAKIN_PANEL,
    };
    const struct site_break_ins *said = draft->said;
    draft->begins[draft->begin_count++] = add_place(draft, text_of("outside"), SITE_NONE);
    for (size_t i = 0; i < said->opening_count; i++) {
        const int rooms[2] = {said->openings[i].from, said->openings[i].to};
        for (int side = 0; side < 2; side++) {
            draft->sides[side][i] = rooms[side] == SITE_NONE
                    ? OUTSIDE
                    : add_place(draft, said->rooms[rooms[side]].name, rooms[side]);
        }
    }
    for (size_t i = 0; i < said->goal_count; i++) {
        const struct site_break_in_goal *goal = &said->goals[i];
        draft->goals[i] = (struct breakin_goal){.name = goal->name,
                .kind = kinds[goal->kind],
                .place = add_place(draft, goal->name, goal->room),
                .takes_s = goal->takes_s};
    }
}

outcome rooms_graph(const struct site *site, struct arena *arena, struct rooms *ret_rooms,
        struct problem *ret_problem) {
    struct draft draft = {.site = site, .said = &site->break_ins, .arena = arena};
    if (count_moves(draft.said) > BREAKIN_STEP_MAX) {
        FAIL(ret_problem, PROBLEM_LIMIT, "break-ins.openings",
                "too many openings in one room: more than %d ways within rooms", BREAKIN_STEP_MAX);
    }
    if (!make_room(&draft)) {
        return no_memory(ret_problem);
    }
    add_places(&draft);
    for (size_t i = 0; i < draft.said->opening_count; i++) {
        add_portals(&draft, i);
    }
    add_rooms(&draft);
    *ret_rooms = (struct rooms){.graph = {.places = draft.places,
                                        .place_count = draft.place_count,
                                        .portals = draft.portals,
                                        .portal_count = draft.portal_count,
                                        .moves = draft.moves,
                                        .move_count = draft.move_count,
                                        .goals = draft.goals,
                                        .goal_count = draft.said->goal_count,
                                        .begins = draft.begins,
                                        .begin_count = draft.begin_count},
            .opening = draft.opening,
            .move = draft.move,
            .room = draft.room};
    return outcome_good();
}

struct breakin_start rooms_start(const struct site *site, size_t which) {
    struct breakin_start start = {.exit_mode = SITE_MODE_FULL};
    for (size_t area = 0; area < SITE_AREA_MAX; area++) {
        start.areas[area] = site->break_ins.starts[which].areas[area];
    }
    return start;
}

struct breakin_options rooms_options(const struct site *site) {
    return (struct breakin_options){.heard_by = site->break_ins.heard_by == SITE_HEARD_BY_SIREN
                    ? BREAKIN_BY_SIREN
                    : BREAKIN_BY_SIGNAL,
            .response_s = site->break_ins.help_s};
}
