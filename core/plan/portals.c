#include "plan/portals.h"

#include "plan/portals_inside.h"

#include <math.h>

static outcome no_memory(struct problem *ret_problem) {
    FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory for the ways into the building");
}

/* ---- openings ---------------------------------------------------------------------------------------------------- */

static bool is_ground(const struct house *house, int room) {
    return room >= 0 && !house->rooms[room].inside;
}

/* A piece of ground that is drawn, else the street. */
static int ground_or_street(const struct house *house, int room) {
    return is_ground(house, room) && house->rooms[room].good ? room : SITE_NONE;
}

/* What it is usually made of where it leads outside and nothing is said: the weakest of its kind. House practice. */
static const struct site_material *usual_material(
        const struct site_materials *materials, enum site_opening_kind kind) {
    static const char *const names[SITE_OPENING_KIND_COUNT] = {
            [SITE_OPENING_DOOR] = "hollow door",
            [SITE_OPENING_WINDOW] = "glass",
            [SITE_OPENING_SLIDING] = "glass",
            [SITE_OPENING_GARAGE] = "roller",
            [SITE_OPENING_ROOF_LIGHT] = "glass",
            [SITE_OPENING_HATCH] = "hollow door",
            [SITE_OPENING_GAP] = "",
    };
    for (size_t i = 0; i < materials->row_count; i++) {
        if (text_is(materials->rows[i].name, names[kind])) {
            return &materials->rows[i];
        }
    }
    return NULL;
}

static void set_material(const struct house *house, const struct site_opening *written, bool outer,
        struct site_break_in_opening *opening) {
    const struct site_materials *materials = &house->site->building.materials;
    const struct site_material *material = written->material >= 0
            ? &materials->rows[written->material]
            : outer ? usual_material(materials, written->kind)
                    : NULL;
    if (material != NULL && written->kind != SITE_OPENING_GAP) {
        opening->force_s = material->forced_said ? material->forced.low_s : 0;
        opening->force_said = true;
        opening->pane = material->glass;
    }
}

static struct site_break_in_opening *add_opening(
        struct portals_maker *maker, struct text name, int from, int to) {
    struct site_break_in_opening *opening = &maker->openings[maker->opening_count];
    *opening = (struct site_break_in_opening){
            .name = name, .door = SITE_NONE, .from = from, .to = to, .material = SITE_NONE};
    maker->opening[maker->opening_count] = SITE_NONE;
    maker->stairs[maker->opening_count] = SITE_NONE;
    maker->opening_count++;
    return opening;
}

/* In from outside, from room to room, or from ground to ground. */
static void take_opening(struct portals_maker *maker, size_t index) {
    const struct house *house = maker->house;
    const struct site_opening *written = &house->site->building.openings[index];
    const struct house_opening *placed = &house->openings[index];
    const bool room_inside = !is_ground(house, placed->room);
    const bool other_inside = placed->other >= 0 && !is_ground(house, placed->other);
    const bool outer = room_inside != other_inside;
    const bool reached =
            room_inside ? placed->reached : written->reach != SITE_REACH_NO; /* seen from outside */
    if (!placed->good || (outer && !reached) ||
            (other_inside && !house->rooms[placed->other].good)) {
        return;
    }
    const bool turned = outer ? room_inside : !room_inside; /* the outer side comes first */
    const int other = other_inside ? placed->other : ground_or_street(house, placed->other);
    struct site_break_in_opening *opening = turned
            ? add_opening(maker, written->name, other, placed->room)
            : add_opening(maker, written->name, placed->room, other);
    maker->opening[maker->opening_count - 1] = (int)index;
    opening->door = written->door;
    opening->bare = written->kind == SITE_OPENING_GAP;
    opening->cross_s = opening->bare ? 0 : 1;
    set_material(house, written, outer, opening);
}

static void take_stairs(struct portals_maker *maker, size_t index) {
    const struct site_stairs *written = &maker->house->site->building.stairs[index];
    const struct house_stairs *placed = &maker->house->stairs[index];
    if (!placed->good) {
        return;
    }
    struct site_break_in_opening *opening =
            add_opening(maker, written->name, written->room, written->to);
    maker->stairs[maker->opening_count - 1] = (int)index;
    opening->bare = true;
    opening->cross_s = (int32_t)(hypot(placed->run_mm, placed->rise_mm) / PORTALS_SPEED_MM_S);
}

/* The way to a piece of ground: over its gate, up the pipe. */
static void take_ground(struct portals_maker *maker, size_t index) {
    const struct site_room *written = &maker->house->site->building.rooms[index];
    if (!maker->house->rooms[index].good || !is_ground(maker->house, (int)index)) {
        return;
    }
    struct site_break_in_opening *opening = add_opening(
            maker, written->name, ground_or_street(maker->house, written->from), (int)index);
    opening->bare = true;
    opening->force_s = written->climb_said ? written->climb.low_s : 0;
    opening->force_said = true;
}

/* ---- what is protected ------------------------------------------------------------------------------------------- */

/* What somebody comes for there; SITE_BREAK_IN_KIND_COUNT: nothing. */
static enum site_break_in_kind kind_of(const struct site_place *place) {
    static const enum site_break_in_kind kinds[SITE_FIXTURE_COUNT] = {
            [SITE_FIXTURE_NONE] = SITE_BREAK_IN_KIND_COUNT,
            [SITE_FIXTURE_PANEL] = SITE_BREAK_IN_PANEL,
            [SITE_FIXTURE_ROUTER] = SITE_BREAK_IN_LINE,
            [SITE_FIXTURE_MAINS] = SITE_BREAK_IN_POWER,
            [SITE_FIXTURE_LINE] = SITE_BREAK_IN_LINE,
    };
    return place->protects.length > 0                             ? SITE_BREAK_IN_THING
            : place->only || place->fixture == SITE_FIXTURE_PANEL ? kinds[place->fixture]
                                                                  : SITE_BREAK_IN_KIND_COUNT;
}

bool portals_is_goal(const struct site_place *place) {
    return kind_of(place) != SITE_BREAK_IN_KIND_COUNT;
}

static outcome take_place(struct portals_maker *maker, size_t index, struct problem *ret_problem) {
    const struct site_place *written = &maker->house->site->building.places[index];
    const struct house_place *placed = &maker->house->places[index];
    const enum site_break_in_kind kind = kind_of(written);
    const bool thing = kind == SITE_BREAK_IN_THING;
    /* A line may well come in outside; nobody is heard there, and that is to be told. */
    if (!placed->good || kind == SITE_BREAK_IN_KIND_COUNT ||
            (thing && !maker->house->rooms[placed->room].inside)) {
        return outcome_good();
    }
    if (maker->goal_count == PORTALS_GOALS_MOST) {
        FAIL(ret_problem, PROBLEM_LIMIT, "building.places",
                "break-ins: more than %d things to protect are drawn", PORTALS_GOALS_MOST);
    }
    maker->goals[maker->goal_count++] = (struct site_break_in_goal){
            .name = thing ? written->protects : text_of(site_fixture_name(written->fixture)),
            .kind = kind,
            .room = placed->room,
            .takes_s = written->takes_s,
            .place = (int)index};
    return outcome_good();
}

/* ---- what hears or sees an opening ------------------------------------------------------------------------------- */

void portals_notice(struct portals_maker *maker, int device, int opening) {
    const struct site *site = maker->house->site;
    for (size_t i = 0; i < site->zone_count; i++) {
        if (site->zones[i].device == device && maker->notice_count < maker->notice_room) {
            maker->notices[maker->notice_count++] = (struct site_break_in_notice){
                    .zone = (int)i, .room = SITE_NONE, .opening = opening};
        }
    }
}

static void take_panes(struct portals_maker *maker) {
    const struct coverage *coverage = maker->coverage;
    for (size_t i = 0; i < coverage->pane_count; i++) {
        const struct coverage_pane *pane = &coverage->panes[i];
        for (size_t k = 0; k < maker->opening_count; k++) {
            if (pane->in_range && pane->in_line && maker->opening[k] == (int)pane->opening) {
                portals_notice(maker, coverage->views[pane->view].device, (int)k);
            }
        }
    }
}

/* ---- all of it --------------------------------------------------------------------------------------------------- */

static bool make_room(struct portals_maker *maker) {
    const struct site_building *building = &maker->house->site->building;
    struct arena *arena = maker->arena;
    const size_t openings = building->opening_count + building->stairs_count + building->room_count;
    maker->rooms = ARENA_ARRAY(arena, struct site_break_in_room, building->room_count);
    maker->openings = ARENA_ARRAY(arena, struct site_break_in_opening, openings);
    maker->opening = ARENA_ARRAY(arena, int, openings);
    maker->stairs = ARENA_ARRAY(arena, int, openings);
    maker->goals = ARENA_ARRAY(arena, struct site_break_in_goal, building->place_count);
    /* Of each opening what sees either side of it, and panes. */
    maker->notice_room = maker->house->site->zone_count * 2 * openings;
    maker->notices = ARENA_ARRAY(arena, struct site_break_in_notice, maker->notice_room);
    maker->moves = ARENA_ARRAY(arena, struct site_break_in_move, PORTALS_MOVES_MOST);
    maker->ways = ARENA_ARRAY(arena, struct way, PORTALS_MOVES_MOST);
    return maker->rooms != NULL && maker->openings != NULL && maker->opening != NULL &&
            maker->stairs != NULL && maker->goals != NULL && maker->notices != NULL &&
            maker->moves != NULL && maker->ways != NULL;
}

static outcome set_start(
        struct portals_maker *maker, struct site_break_ins *said, struct problem *ret_problem) {
    if (said->start_count > 0) {
        return outcome_good();
    }
    said->starts = ARENA_NEW(maker->arena, struct site_break_in_start);
    if (said->starts == NULL) {
        return no_memory(ret_problem);
    }
    said->start_count = 1;
    said->starts[0].name = text_of("everything set");
    for (size_t area = 0; area < maker->house->site->area_count; area++) {
        said->starts[0].areas[area] = (struct site_start){.set = true, .mode = SITE_MODE_FULL};
    }
    return outcome_good();
}

static outcome take_all(struct portals_maker *maker, struct problem *ret_problem) {
    const struct site_building *building = &maker->house->site->building;
    for (size_t i = 0; i < building->room_count; i++) {
        maker->rooms[i] = (struct site_break_in_room){.name = building->rooms[i].name,
                .drawn = true,
                .cut_off = maker->house->rooms[i].cut_off,
                .ground = is_ground(maker->house, (int)i)};
        take_ground(maker, i);
    }
    for (size_t i = 0; i < building->opening_count; i++) {
        take_opening(maker, i);
    }
    for (size_t i = 0; i < building->stairs_count; i++) {
        take_stairs(maker, i);
    }
    for (size_t i = 0; i < building->place_count; i++) {
        TRY(take_place(maker, i, ret_problem));
    }
    take_panes(maker);
    for (size_t i = 0; i < building->room_count && maker->goal_count > 0; i++) {
        TRY(portals_take_room(maker, (int)i, ret_problem));
    }
    return outcome_good();
}

outcome portals_make(const struct house *house, const struct coverage *coverage,
        struct arena *arena, struct portals *ret_portals, struct problem *ret_problem) {
    struct portals_maker maker = {.house = house, .coverage = coverage, .arena = arena};
    struct site_break_ins said = house->site->break_ins;
    if (!make_room(&maker)) {
        return no_memory(ret_problem);
    }
    TRY(set_start(&maker, &said, ret_problem));
    TRY(take_all(&maker, ret_problem));
    said.asked = said.said;
    said.said = true;
    said.drawn = true;
    said.rooms = maker.rooms;
    said.room_count = house->site->building.room_count;
    said.openings = maker.openings;
    said.opening_count = maker.opening_count;
    said.notices = maker.notices;
    said.notice_count = maker.notice_count;
    said.walk_count = 0;
    said.moves = maker.moves;
    said.move_count = maker.move_count;
    said.goals = maker.goals;
    said.goal_count = maker.goal_count;
    *ret_portals = (struct portals){
            .said = said, .opening = maker.opening, .stairs = maker.stairs, .ways = maker.ways};
    return outcome_good();
}

outcome portals_see(const struct house *house, const struct portals *portals,
        const struct sight_view *view, int storey, struct arena *arena,
        struct portals_seen *ret_seen, struct problem *ret_problem) {
    const struct site_break_ins *said = &portals->said;
    struct portals_maker maker = {.house = house,
            .arena = arena,
            .rooms = said->rooms,
            .openings = said->openings,
            .opening = portals->opening,
            .stairs = portals->stairs,
            .opening_count = said->opening_count,
            .goals = said->goals,
            .goal_count = said->goal_count,
            .moves = said->moves,
            .move_count = said->move_count};
    struct portals_seen seen = {.moves = ARENA_ARRAY(arena, bool, said->move_count),
            .openings = ARENA_ARRAY(arena, bool, said->opening_count),
            .rooms = ARENA_ARRAY(arena, bool, said->room_count)};
    if (seen.moves == NULL || seen.openings == NULL || seen.rooms == NULL) {
        return no_memory(ret_problem);
    }
    for (size_t i = 0; i < said->room_count && view->count > 0; i++) {
        const struct house_room *room = &house->rooms[i];
        if (room->good && room->inside && room->storey == storey &&
                coverage_reaches(view, room->outline)) {
            TRY(portals_see_room(&maker, (int)i, view, &seen, ret_problem));
        }
    }
    *ret_seen = seen;
    return outcome_good();
}
