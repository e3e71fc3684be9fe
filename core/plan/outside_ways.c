#include "plan/outside_ways.h"

#include "plan/body.h"
#include "plan/house_inside.h"
#include "plan/house_walls.h"

/* in_a_row: neighbours stand against the house. */
struct outside_ways {
    const struct house *house;
    bool in_a_row;
    struct walk *walk;
};

static outcome no_memory(struct problem *ret_problem) {
    FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory for the ways round the house");
}

/* ---- what stands in the way -------------------------------------------------------------------------------------- */

/* Walls of a storey while they are listed. */
struct lister {
    const struct house *house;
    int storey;
    struct segment *walls;
    size_t count;
};

static void add(struct lister *lister, struct point from, struct point to) {
    lister->walls[lister->count++] = (struct segment){from, to};
}

/* The neighbour's house stands out from a party side. */
static void add_neighbour(struct lister *lister, struct segment edge) {
    const double length_mm = point_distance_mm(edge.from, edge.to);
    const struct point ends[2][2] = {{edge.from, house_beside(edge, 0, OUTSIDE_PARTY_MM)},
            {edge.to, house_beside(edge, length_mm, OUTSIDE_PARTY_MM)}};
    for (size_t i = 0; i < 2; i++) {
        if (point_in_reach(ends[i][1])) {
            add(lister, ends[i][0], ends[i][1]);
        }
    }
}

static void add_room(struct lister *lister, size_t index) {
    const struct house_room *room = &lister->house->rooms[index];
    const uint32_t party = lister->house->site->building.rooms[index].party;
    for (size_t i = 0; i < room->outline.count; i++) {
        const struct segment edge = outline_edge(room->outline, i);
        add(lister, edge.from, edge.to);
        if ((party >> house_edge_side(edge) & 1U) != 0) {
            add_neighbour(lister, edge);
        }
    }
}

static void add_things(struct lister *lister) {
    enum { SIDES = 4 };
    const struct site_building *building = &lister->house->site->building;
    for (size_t i = 0; i < building->furniture_count; i++) {
        const struct house_block *block = &lister->house->furniture[i];
        const struct house_room *ground = &lister->house->rooms[building->furniture[i].room];
        for (size_t k = 0;
                k < SIDES && block->good && !ground->inside && ground->storey == lister->storey;
                k++) {
            add(lister, block->corners[k], block->corners[(k + 1) % SIDES]);
        }
    }
}

static outcome list_storey(const struct house *house, int storey, struct arena *arena,
        struct walk_storey *ret_storey, struct problem *ret_problem) {
    const struct site_building *building = &house->site->building;
    size_t most = 4 * building->furniture_count;
    for (size_t i = 0; i < building->room_count; i++) {
        most += 3 * house->rooms[i].outline.count; /* itself, and two of a neighbour */
    }
    struct lister lister = {
            .house = house, .storey = storey, .walls = ARENA_ARRAY(arena, struct segment, most)};
    if (lister.walls == NULL) {
        return no_memory(ret_problem);
    }
    for (size_t i = 0; i < building->room_count; i++) {
        if (house->rooms[i].good && house->rooms[i].inside && house->rooms[i].storey == storey) {
            add_room(&lister, i);
        }
    }
    add_things(&lister);
    *ret_storey = (struct walk_storey){lister.walls, lister.count};
    return outcome_good();
}

static bool has_neighbours(const struct site_building *building) {
    bool any = false;
    for (size_t i = 0; i < building->room_count; i++) {
        any = any || building->rooms[i].party != 0;
    }
    return any;
}

outcome outside_ways_make(const struct house *house, struct arena *arena,
        struct outside_ways **ret_ways, struct problem *ret_problem) {
    const size_t count = house->site->building.storey_count;
    struct outside_ways *ways = ARENA_NEW(arena, struct outside_ways);
    struct walk_storey *storeys = ARENA_ARRAY(arena, struct walk_storey, count);
    /* Rooms are drawn clear inside: he keeps off them by the outer wall as well. */
    const int32_t body_mm = HOUSE_BODY_MM + 2 * house->outer_mm;
    const struct walk_plan plan = {.storeys = storeys,
            .storey_count = count,
            .body_mm = body_mm < BODY_MOST_MM ? body_mm : BODY_MOST_MM};
    if (ways == NULL || storeys == NULL) {
        return no_memory(ret_problem);
    }
    for (size_t i = 0; i < count; i++) {
        TRY(list_storey(house, (int)i, arena, &storeys[i], ret_problem));
    }
    ways->house = house;
    ways->in_a_row = has_neighbours(&house->site->building);
    TRY(walk_make(&plan, arena, &ways->walk, ret_problem));
    *ret_ways = ways;
    return outcome_good();
}

/* ---- ways -------------------------------------------------------------------------------------------------------- */

/* Before the door: the middle of its sill, outside. */
static bool stand(const struct house *house, int door, struct walk_place *ret_place) {
    const struct site_building *building = &house->site->building;
    for (size_t i = 0; i < building->opening_count; i++) {
        const struct house_opening *opening = &house->openings[i];
        if (building->openings[i].door != door || !opening->good || opening->flat ||
                !house_leads_outside(house, opening)) {
            continue;
        }
        const int storey = house->rooms[opening->room].storey;
        const int32_t floor_mm = building->storeys[storey].floor_mm;
        const struct point *sill =
                house->rooms[opening->room].inside ? opening->far : opening->near;
        *ret_place = (struct walk_place){(uint32_t)storey,
                {(sill[0].x_mm + sill[1].x_mm) / 2, (sill[0].y_mm + sill[1].y_mm) / 2}, {0, 0}};
        return site_opening_is_walked(building->openings[i].kind) && floor_mm <= OUTSIDE_STEP_MM &&
                floor_mm >= -OUTSIDE_STEP_MM;
    }
    return false;
}

outcome outside_ways_find(struct outside_ways *ways, int from, int to, struct arena *arena,
        struct way *ret_way, struct problem *ret_problem) {
    struct walk_place begins;
    struct walk_place ends;
    *ret_way = (struct way){.count = 0};
    if (!stand(ways->house, from, &begins) || !stand(ways->house, to, &ends)) {
        return outcome_good();
    }
    TRY(walk_find(ways->walk, begins, &ends, 1, arena, ret_way, ret_problem));
    if (ways->in_a_row && ret_way->length_mm > OUTSIDE_PARTY_MM) {
        *ret_way = (struct way){.count = 0}; /* round the end of the neighbour's house */
    }
    return outcome_good();
}

static bool is_used(const struct used_ways *used, int door) {
    bool any = false;
    for (size_t i = 0; i < used->count; i++) {
        any = any || used->ways[i].door == door;
    }
    return any;
}

/* The people who use a door. */
static uint64_t people_of(const struct used_ways *used, int door) {
    uint64_t people = 0;
    for (size_t i = 0; i < used->count; i++) {
        people |= used->ways[i].door == door ? used->ways[i].people : 0;
    }
    return people;
}

outcome outside_ways_between(const struct house *house, const struct used_ways *used,
        struct arena *arena, const struct outside_way **ret_list, size_t *ret_count,
        struct problem *ret_problem) {
    const struct site *site = house->site;
    const int doors = (int)site->door_count;
    struct outside_ways *ways = NULL;
    struct walk_place place;
    size_t count = 0;
    TRY(outside_ways_make(house, arena, &ways, ret_problem));
    struct outside_way *list =
            ARENA_ARRAY(arena, struct outside_way, used->count * (used->count + 1) / 2);
    if (list == NULL) {
        return no_memory(ret_problem);
    }
    for (int from = 0; from < doors; from++) {
        for (int to = from + 1; to < doors; to++) {
            if (!is_used(used, from) || !is_used(used, to) || !stand(house, from, &place) ||
                    !stand(house, to, &place)) {
                continue;
            }
            struct outside_way *way = &list[count++];
            *way = (struct outside_way){
                    .from = from, .to = to, .people = people_of(used, from) | people_of(used, to)};
            way->pace = used_way_pace(site, way->people);
            TRY(outside_ways_find(ways, from, to, arena, &way->way, ret_problem));
        }
    }
    *ret_list = list;
    *ret_count = count;
    return outcome_good();
}

struct house_seconds outside_way_seconds(const struct outside_way *way) {
    const struct house_way walked = {.way = way->way};
    return house_way_seconds(&walked, way->pace, way->way.length_mm);
}
